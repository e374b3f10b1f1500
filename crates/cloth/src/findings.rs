//! Results worth a look.

use geometry::mast::Side;

use crate::part::{How, Seam};
use crate::pattern::Patterns;
use crate::{Construction, Input, MOST_LAYERS};

/// A result worth a look: common practice all of them, but for what the mast leaves no room for.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Finding {
    /// What it is about.
    pub what: What,
    /// Panel (1 = lowest) or spar (boom 0) it is found at.
    pub at: usize,
    /// What was found.
    pub value: f64,
    /// What it is held against.
    pub limit: f64,
}

/// What a finding is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum What {
    /// Greatest strain of a panel's cloth against its pattern, share; positive to be stretched, negative to be eased.
    Strain,
    /// Greatest gather of a panel's edges on spars, luff or leech, share.
    Gather,
    /// Sagitta over width of a panel's barrel.
    BarrelDeep,
    /// Room at the mast within a forked batten or a pair of bows of a spar [m].
    Room,
    /// Slot at a spar against twice the mast's diameter [m].
    Slot,
    /// Depth by which the mast presses in the cloth on the tack that puts it to leeward [m]: the panel where it is most.
    Pressed,
    /// Cloth of a panel would have to be longer to go round the mast [m].
    Short,
    /// Pull on a panel's corner [N] against what the most layers carry.
    Patch,
}

/// Everything to be said about a sail's patterns.
pub(crate) fn of(input: &Input, patterns: &mut Patterns) {
    let mut found = Vec::new();
    let mut say = |what, at, value: f64, limit: f64| {
        found.push(Finding {
            what,
            at,
            value,
            limit,
        });
    };
    let limits = &input.limits;
    let mut pressed = (0, 0.0);
    for panel in 1..=input.panels() {
        let (mut strain, mut gather) = (0.0_f64, 0.0_f64);
        let mut cut = false;
        for piece in patterns.pieces.iter().filter(|p| p.panel == panel) {
            cut = true;
            if let Some(map) = &piece.strain
                && map.worst.abs() > strain.abs()
            {
                strain = map.worst;
            }
            for edge in &piece.edges {
                let free = matches!(edge.seam, Seam::Slot);
                if !free && edge.gather().abs() > gather.abs() {
                    gather = edge.gather();
                }
            }
        }
        if strain.abs() > limits.strain {
            say(What::Strain, panel, strain, limits.strain);
        }
        if gather.abs() > limits.gather {
            say(What::Gather, panel, gather, limits.gather);
        }
        for part in input.parts(panel) {
            if cut && matches!(part.how, How::Barrel(..)) {
                let depth = 0.5 * part.fills();
                if depth > limits.barrel {
                    say(What::BarrelDeep, panel, depth, limits.barrel);
                }
            }
        }
        let other = match input.mast.side {
            Side::Port => Side::Starboard,
            Side::Starboard => Side::Port,
        };
        if let Some(touch) = input.section(panel, 0.5, other).and_then(|s| s.touch) {
            if touch.depth > pressed.1 {
                pressed = (panel, touch.depth);
            }
            if touch.short > 0.0 {
                say(What::Short, panel, touch.short, 0.0);
            }
        }
    }
    if pressed.1 > 0.0 {
        say(What::Pressed, pressed.0, pressed.1, 0.0);
    }
    for (i, spar) in input.spars.iter().enumerate() {
        if let Some(room) = input.mast_room(i)
            && room < input.room_wanted()
        {
            say(What::Room, i, room, input.room_wanted());
        }
        if let (Construction::Split(split), Some(height)) =
            (input.construction, spar.height_on_mast())
        {
            let least = 2.0 * input.mast.diameter_at(height);
            let slot = split.slot * spar.length;
            if slot < least - 1e-9 {
                say(What::Slot, i, slot, least);
            }
        }
    }
    for patch in &patterns.patches {
        let most = MOST_LAYERS as f64 * input.sewing.patches.strength * patch.size;
        if patch.pull > most {
            say(What::Patch, patch.panel, patch.pull, most);
        }
    }
    patterns.findings = found;
}
