//! Where the CE goes through the reefs, against the CLR.

use design::checks::{STEERS, lead_band};
use kurbo::{Point, Rect, Vec2};
use quantities::{quantity, units};

use super::{
    AXIS, Look, NOTE, NOW, NUMBER, dot, hair, letter, letter_beside, say, tick, tick_number, trace,
};
use crate::lettering;
use crate::palette::Role;
use crate::sail_plan::board::Board;
use crate::sail_plan::centres::cross;
use crate::scene::{Anchor, Dash, Stroke, Weight, boxed, circle};

/// Along the boat, forward to the left.
struct Axis {
    /// Where the CLR lies, or without one full sail [px].
    middle: f64,
    /// Pixels to the LWL.
    scale: f64,
    /// Ends of what is shown, as shares of LWL.
    low: f64,
    high: f64,
}

impl Axis {
    fn x(&self, lead: f64) -> f64 {
        self.middle - lead * self.scale
    }

    fn reach(&mut self, lead: f64) {
        self.low = self.low.min(lead);
        self.high = self.high.max(lead);
    }
}

pub(super) fn draw(board: &mut Board, step: usize) -> String {
    let moment = board.moment;
    let boat = &moment.account.boat;
    let sequence = &moment.account.rig.sequence;
    let shift = moment.design.wind.shift;
    let nothing = say(board, "plot.no_centre", &[]);
    let Some(full) = boat.steps.first() else {
        return nothing;
    };
    // Without a CLR everything is told from full sail.
    let known = full.lead.is_some();
    let from = full.lead.unwrap_or(0.0);
    let keel = moment.design.boat.particulars.lateral.method == boat::Method::Keel;
    let (least, most) = lead_band(keel, moment.design.masts.len());
    let usual = (0.01 * least, 0.01 * most);

    // Besides the steps: each mast alone at full sail, and the rig she has now.
    let mut alone = Vec::with_capacity(4);
    if full.sails.len() > 1 {
        for (m, sail) in full.sails.iter().enumerate() {
            if let Some(lead) = sail.lead {
                alone.push((lead, moment.mast_name(m), false));
            }
        }
    }
    if let Some(lead) = boat.rig_now.as_ref().and_then(|rig| rig.lead) {
        alone.push((lead, say(board, "drawing.rig_now", &[]), true));
    }
    let mut axis = Axis {
        middle: 0.0,
        scale: 1.0,
        low: from - shift,
        high: from + shift,
    };
    let mut leads = Vec::with_capacity(boat.steps.len());
    for (i, step) in boat.steps.iter().enumerate() {
        if let Some(shift) = step.shift {
            axis.reach(from + shift);
            leads.push((i, from + shift));
        }
    }
    for (lead, ..) in &alone {
        axis.reach(*lead);
    }
    if known {
        for lead in [usual.0, usual.1, 0.0] {
            axis.reach(lead);
        }
    }
    let span = axis.high - axis.low;
    if !(span > 1e-8 && span < 1e4) {
        return nothing;
    }
    // Room for the numbers of the steps at the left.
    let left = 24.0 + 16.0 * full.sails.len().min(4) as f64;
    axis.scale = (board.frame.width - left - 28.0) / span;
    axis.middle = left + axis.high * axis.scale;
    let top = if alone.is_empty() { 58.0 } else { 92.0 };
    let foot = board.frame.height - 40.0;
    let rows = boat.steps.len().saturating_sub(1).max(1);
    let pitch = ((foot - top - 10.0) / rows as f64).max(2.0);

    // What is usual at full sail, and how far the reefs may go from it.
    let thin = Stroke::new(Role::Dimension, board.pens.dimension);
    let bands = [
        (usual, top - 8.0, top + 8.0),
        (
            (from - shift, from + shift),
            top + 0.5 * pitch.min(40.0),
            foot,
        ),
    ];
    for ((low, high), above, under) in bands.into_iter().skip(usize::from(!known)) {
        let field = boxed(Rect::new(axis.x(high), above, axis.x(low), under));
        board.scene.figure(field, Some(Role::Water), Some(thin));
    }
    scale(board, &axis, foot);
    let mut column = axis.x(from + shift);
    if known {
        let [head, heel] = [Point::new(axis.x(0.0), 24.0), Point::new(axis.x(0.0), foot)];
        let line = Stroke::new(Role::Centre, 1.2).dashed(Dash::Chain);
        trace(board, &[head, heel], line);
        let clr = say(board, "drawing.clr", &[]);
        let strong = Look {
            weight: Weight::Strong,
            ..NOTE
        };
        letter(board, &clr, &strong, head, &[(0.0, -10.0, Anchor::Middle)]);
        column = column.min(axis.x(usual.1));
    }

    let mut joined = Vec::with_capacity(leads.len());
    for (i, lead) in &leads {
        let at = Point::new(axis.x(*lead), top + pitch * *i as f64);
        column = column.min(at.x);
        joined.push(at);
    }
    column -= 10.0;
    trace(board, &joined, Stroke::new(Role::Trail, 1.2));
    let mut said = nothing;
    // The present step before all others: where numbers are close, it is told.
    for present in [true, false] {
        for ((i, lead), at) in leads.iter().zip(&joined) {
            if (*i == step) != present {
                continue;
            }
            let mark = Point::new(column, at.y);
            if present {
                let line = Stroke::new(Role::Accent, 1.2);
                board.scene.line(*at, mark + Vec2::new(4.0, 0.0), line);
                dot(board, *at, 6.0, Role::Accent);
                said = if known {
                    say(board, "plot.leads", &[("lead", *lead, &quantity::LEAD)])
                } else {
                    let aft = [("shift", -lead, &quantity::LEAD_SHIFT)];
                    say(board, "plot.shifted", &aft)
                };
            } else {
                // Where bundle and hull decide how she steers, no tolerance is asked for.
                let steers = sequence.get(*i).is_some_and(|step| step.share >= STEERS);
                dot(board, *at, if steers { 4.0 } else { 2.8 }, Role::Trail);
            }
            // Panels lowered, mast by mast.
            let mut label = String::new();
            for lowered in sequence.get(*i).map_or(&[][..], |step| &step.lowered) {
                if !label.is_empty() {
                    label.push_str("\u{a0}+\u{a0}");
                }
                label.push_str(&units::fixed(*lowered as f64, 0));
            }
            let look = if present {
                Look { size: 13.0, ..NOW }
            } else {
                NUMBER
            };
            letter(board, &label, &look, mark, &[(0.0, 0.0, Anchor::End)]);
        }
    }

    // Within its field, or beside one that is too narrow.
    let tolerance = say(
        board,
        "plot.tolerance",
        &[("shift", shift, &quantity::SHIFT_LIMIT)],
    );
    let half = shift * axis.scale;
    let needed = 0.5 * lettering::width(&tolerance, NOTE.size, NOTE.weight) + 5.0;
    let at = Point::new(axis.x(from), foot - 11.0);
    if needed > half
        || !letter(
            board,
            &tolerance,
            &NOTE,
            at,
            &[(0.0, 0.0, Anchor::Middle), (0.0, -15.0, Anchor::Middle)],
        )
    {
        letter_beside(board, &tolerance, &NOTE, at, half + 6.0, &[0.0]);
    }
    if known {
        let said = say(board, "plot.usual", &[]);
        let at = Point::new(axis.x(0.5 * (usual.0 + usual.1)), top - 17.0);
        let spots = [
            (0.0, 0.0, Anchor::Middle),
            (-60.0, 0.0, Anchor::Middle),
            (60.0, 0.0, Anchor::Middle),
        ];
        letter(board, &said, &NOTE, at, &spots);
    }
    for named in [false, true] {
        for (lead, name, now) in &alone {
            let at = Point::new(axis.x(*lead), top - 44.0);
            if named {
                let spots = [(0.0, -14.0, Anchor::Middle), (0.0, 14.0, Anchor::Middle)];
                if !letter(board, name, &NOTE, at, &spots) {
                    letter_beside(board, name, &NOTE, at, 9.0, &[0.0]);
                }
                continue;
            }
            let mark = if *now { cross(at) } else { circle(at, 4.0) };
            board.scene.stroke(mark, Stroke::new(Role::Centre, 1.6));
            board.take_point(at, 5.0);
        }
    }
    said
}

/// Hundredths of LWL, few of them.
fn scale(board: &mut Board, axis: &Axis, foot: f64) {
    let left = Point::new(axis.x(axis.high) - 14.0, foot);
    let right = Point::new(axis.x(axis.low) + 14.0, foot);
    hair(board, left, right);
    board.take_line(left, right, 1.0);
    let step = tick(20.0 * (axis.high - axis.low));
    let first = (100.0 * axis.low / step - 0.2).ceil();
    for i in 0..24 {
        let value = step * (first + f64::from(i));
        let at = Point::new(axis.x(0.01 * value), foot);
        if at.x < left.x {
            break;
        }
        hair(board, at, at + Vec2::new(0.0, 4.0));
        let mut label = tick_number(value, step, board.moment.view.units);
        label.push('%');
        letter(board, &label, &AXIS, at, &[(0.0, 13.0, Anchor::Middle)]);
    }
    let ahead = say(board, "plot.ahead", &[]);
    letter(
        board,
        &ahead,
        &AXIS,
        Point::new(6.0, foot),
        &[(0.0, 29.0, Anchor::Start)],
    );
}
