//! Inputs that are each possible but cannot be together: which field to look at, and what would do.

use geometry::Spar;
use geometry::hull::Hull;
use geometry::plan::Fault;
use kurbo::Point;
use quantities::quantity as q;
use quantities::{Arg, Problem, Quantity, Text, bounds};

use crate::account::StateRow;
use crate::design::{Family, MastDesign, SailDesign};
use crate::mast_lengths::MastLengths;

/// How many values of a field are tried to find those that would do.
const TRIALS: u32 = 24;

/// Dimensions of the hull that contradict each other.
pub(crate) fn hull_problems(hull: &Hull) -> Vec<Problem> {
    let mut problems = Vec::new();
    if hull.lwl > hull.loa {
        problems.push(contradiction(
            "boat.lwl_m",
            "problem.waterline_too_long",
            (hull.lwl, &q::LWL),
            (hull.loa, &q::LOA),
        ));
    } else if hull.bow_overhang > hull.loa - hull.lwl + 1e-9 {
        problems.push(contradiction(
            "boat.bow_overhang_m",
            "problem.overhang_too_long",
            (hull.bow_overhang, &q::BOW_OVERHANG),
            (hull.loa - hull.lwl, &q::BOW_OVERHANG),
        ));
    }
    problems
}

/// What is wrong with a plan, each fault at the field that would mend it most easily.
pub(crate) fn plan_problems(m: usize, sail: &SailDesign, faults: &[Fault]) -> Vec<Problem> {
    let mut problems = Vec::new();
    // Panels fold where the yard cannot be reached: one sentence for both.
    let reach = faults.iter().any(|f| matches!(f, Fault::YardOutOfReach(_)));
    for fault in faults {
        match fault {
            Fault::YardOutOfReach(_) => {
                let levers = [Lever::YardLength, Lever::YardAngle, Lever::HeadWidth(0)];
                problems.push(mended_by(m, sail, &levers, "problem.yard_out_of_reach", 0));
            }
            Fault::PanelFolded(panel) if !reach => {
                let levers = levers_of(sail, *panel);
                problems.push(mended_by(m, sail, &levers, "problem.panel_folded", *panel));
                break;
            }
            Fault::SparCount(count) => problems.push(Problem::refused(
                format!("masts.{m}.sail.spars"),
                Text::new("problem.spar_count")
                    .with("count", *count as u32)
                    .with("most", bounds::MOST_PANELS as u32 + 1),
            )),
            Fault::NotANumber => problems.push(Problem::refused(
                format!("masts.{m}.sail"),
                Text::new("problem.no_plan"),
            )),
            // The others belong to fitting an area.
            _ => {}
        }
    }
    problems
}

/// Sail and mast against the boat: sail lower than the deck, yard above the masthead.
pub(crate) fn placing_problems(
    hull: &Hull,
    m: usize,
    design: &MastDesign,
    lengths: &MastLengths,
    rows: &[StateRow],
) -> Vec<Problem> {
    let mut problems = Vec::new();
    if let (Some(lap), true) = (design.lap, lengths.drift < 0.0) {
        problems.push(contradiction(
            format!("masts.{m}.lap_m"),
            "problem.mast_too_short",
            (lap, &q::LAP),
            (lengths.lap_needed, &q::LAP),
        ));
    }
    let over_deck = rows.iter().filter_map(|row| row.over_deck).reduce(f64::min);
    if let Some(least) = over_deck
        && least < 0.0
    {
        let height = design.sail.boom_height;
        problems.push(contradiction(
            format!("masts.{m}.sail.boom_height_m"),
            "problem.boom_below_deck",
            (height, &q::BOOM_HEIGHT),
            (height - least, &q::BOOM_HEIGHT),
        ));
    }
    let (bow, stern) = hull.ends();
    if design.position < bow || design.position > stern {
        problems.push(Problem::new(
            format!("masts.{m}.position_m"),
            Text::new("problem.mast_off_the_boat")
                .with_key("label", q::MAST_POSITION.label)
                .with("value", Arg::Given(design.position, &q::MAST_POSITION))
                .with("least", (bow, &q::MAST_POSITION))
                .with("most", (stern, &q::MAST_POSITION)),
        ));
    }
    problems
}

fn contradiction(
    path: impl Into<String>,
    key: &'static str,
    (value, quantity): (f64, &'static Quantity),
    (limit, limit_quantity): (f64, &'static Quantity),
) -> Problem {
    Problem::new(
        path,
        Text::new(key)
            .with_key("label", quantity.label)
            .with("value", Arg::Given(value, quantity))
            .with("limit", (limit, limit_quantity)),
    )
}

/// A field of the sail that can be turned until the plan is possible.
#[derive(Clone, Copy)]
enum Lever {
    YardLength,
    YardAngle,
    PanelWidth,
    Rise,
    BoomRise,
    LuffRake,
    HeadWidth(usize),
    SparAngle(usize),
    SparUp(usize),
    SparLength(usize),
}

/// Fields that may mend a panel, the likeliest first.
fn levers_of(sail: &SailDesign, panel: usize) -> Vec<Lever> {
    if sail.family == Family::Table {
        return vec![
            Lever::SparUp(panel),
            Lever::SparAngle(panel),
            Lever::SparLength(panel),
            Lever::SparUp(panel - 1),
            Lever::SparAngle(panel - 1),
        ];
    }
    let lower = sail.panels.saturating_sub(sail.turning());
    if panel > lower {
        vec![
            Lever::YardAngle,
            Lever::HeadWidth(panel - lower - 1),
            Lever::YardLength,
            Lever::PanelWidth,
        ]
    } else {
        vec![
            Lever::BoomRise,
            Lever::PanelWidth,
            Lever::Rise,
            Lever::LuffRake,
        ]
    }
}

impl Lever {
    fn path(self, m: usize) -> String {
        match self {
            Self::YardLength => format!("masts.{m}.sail.yard_length_pct"),
            Self::YardAngle => format!("masts.{m}.sail.yard_angle_deg"),
            Self::PanelWidth => format!("masts.{m}.sail.panel_width_m"),
            Self::Rise => format!("masts.{m}.sail.rise_deg"),
            Self::BoomRise => format!("masts.{m}.sail.boom_rise_deg"),
            Self::LuffRake => format!("masts.{m}.sail.luff_rake_deg"),
            Self::HeadWidth(j) => format!("masts.{m}.sail.head_widths_pct.{j}"),
            Self::SparAngle(i) => format!("masts.{m}.sail.spars.{i}.angle_deg"),
            Self::SparUp(i) => format!("masts.{m}.sail.spars.{i}.up_m"),
            Self::SparLength(i) => format!("masts.{m}.sail.spars.{i}.length_m"),
        }
    }

    /// Its value [SI].
    fn get(self, sail: &SailDesign) -> f64 {
        let spar = |i: usize| {
            let none = Spar::new(Point::ORIGIN, 0.0, 0.0);
            sail.table.get(i).copied().unwrap_or(none)
        };
        match self {
            Self::YardLength => sail.yard_length,
            Self::YardAngle => sail.yard_angle,
            Self::PanelWidth => sail.panel_width,
            Self::Rise => sail.rise,
            Self::BoomRise => sail.boom_angle(),
            Self::LuffRake => sail.luff_rake,
            Self::HeadWidth(j) => sail.head_widths.get(j).copied().unwrap_or(1.0),
            Self::SparAngle(i) => spar(i).angle,
            Self::SparUp(i) => spar(i).luff.y,
            Self::SparLength(i) => spar(i).length,
        }
    }

    /// Sets its value [SI].
    fn set(self, sail: &mut SailDesign, value: f64) {
        match self {
            Self::YardLength => sail.yard_length = value,
            Self::YardAngle => sail.yard_angle = value,
            Self::PanelWidth => sail.panel_width = value,
            Self::Rise => sail.rise = value,
            Self::BoomRise => sail.boom_rise = Some(value),
            Self::LuffRake => sail.luff_rake = value,
            Self::HeadWidth(j) => {
                if let Some(width) = sail.head_widths.get_mut(j) {
                    *width = value;
                }
            }
            Self::SparAngle(i) => {
                if let Some(spar) = sail.table.get_mut(i) {
                    *spar = Spar::new(spar.luff, value, spar.length);
                }
            }
            Self::SparUp(i) => {
                if let Some(spar) = sail.table.get_mut(i) {
                    spar.luff.y = value;
                }
            }
            Self::SparLength(i) => {
                if let Some(spar) = sail.table.get_mut(i) {
                    spar.length = value;
                }
            }
        }
    }
}

/// The problem at the first lever of which some usual value gives a plan without fault, with the
/// range of those values; at the first lever and without a range where none alone does.
fn mended_by(
    m: usize,
    sail: &SailDesign,
    levers: &[Lever],
    key: &'static str,
    panel: usize,
) -> Problem {
    let sentence =
        |lever: &Lever, key: &'static str| -> (String, Text, Option<&'static Quantity>) {
            let path = lever.path(m);
            let quantity = bounds::row(&path).map(|row| row.quantity);
            let mut text = Text::new(key).with("number", panel as u32);
            if let Some(quantity) = quantity {
                let value = quantity.document_from_si(lever.get(sail));
                text = text
                    .with_key("label", quantity.label)
                    .with("value", Arg::Given(value, quantity));
            }
            (path, text, quantity)
        };
    for lever in levers {
        if let Some((least, most)) = mending_range(m, sail, *lever) {
            let (path, text, quantity) = sentence(lever, key);
            let text = match quantity {
                Some(quantity) => text
                    .with("least", (least, quantity))
                    .with("most", (most, quantity)),
                None => text,
            };
            return Problem::new(path, text);
        }
    }
    let alone = match key {
        "problem.yard_out_of_reach" => "problem.yard_out_of_reach_at_all",
        _ => "problem.panel_folded_at_all",
    };
    let (path, text, _) = levers.first().map_or_else(
        || (String::new(), Text::new(alone), None),
        |l| sentence(l, alone),
    );
    Problem::new(path, text)
}

/// Least and greatest usual value, document units, of an unbroken run that gives a plan without
/// fault; of several runs the one nearest to the value that fails. Only values tried are named.
fn mending_range(m: usize, sail: &SailDesign, lever: Lever) -> Option<(f64, f64)> {
    let row = bounds::row(&lever.path(m))?;
    let failing = row.quantity.document_from_si(lever.get(sail));
    let mut best: Option<(f64, f64)> = None;
    let mut run: Option<(f64, f64)> = None;
    let mut tried = sail.clone();
    let far = |(least, most): (f64, f64)| (least - failing).max(failing - most);
    for i in 0..=TRIALS {
        let value = row.least + (row.most - row.least) * f64::from(i) / f64::from(TRIALS);
        let value = row.rounded(value);
        lever.set(&mut tried, row.quantity.si_from_document(value));
        let mends = tried.plan_rule().plan().1.is_empty();
        if mends {
            run = Some((run.map_or(value, |r| r.0), value));
        }
        if let (Some(found), true) = (run, !mends || i == TRIALS) {
            if best.is_none_or(|b| far(found) < far(b)) {
                best = Some(found);
            }
            run = None;
        }
    }
    best
}
