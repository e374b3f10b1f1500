//! Inputs that are each possible but cannot be together: which field to look at, and what would do.

use geometry::Spar;
use geometry::hull::Hull;
use geometry::plan::Fault;
use kurbo::Point;
use quantities::listed::Listed as _;
use quantities::quantity as q;
use quantities::{Arg, Problem, Quantity, Text, bounds};

use crate::account::StateRow;
use crate::design::{Design, Family, MastDesign, SailDesign};
use crate::edits::sail_path;
use crate::mast_lengths::MastLengths;

/// How many values of a field are tried to find those that would do.
const TRIALS: u32 = 24;
/// How often the end of their run is halved: a metre comes down to millimetres.
const HALVINGS: u32 = 9;

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
                sail_path(m, "spars"),
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
            sail_path(m, "boom_height_m"),
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
    SparAft(usize),
    SparUp(usize),
    SparLength(usize),
}

/// Fields that may mend a panel, the likeliest first.
fn levers_of(sail: &SailDesign, panel: usize) -> Vec<Lever> {
    if sail.family == Family::Table {
        return spar_levers(sail, panel);
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

/// The numbers of both spars of a panel of the table, those furthest out of line first.
fn spar_levers(sail: &SailDesign, panel: usize) -> Vec<Lever> {
    let of_spar: [fn(usize) -> Lever; 4] = [
        Lever::SparUp,
        Lever::SparAngle,
        Lever::SparLength,
        Lever::SparAft,
    ];
    let both = [panel, panel.saturating_sub(1)];
    let mut left: Vec<Lever> = both
        .iter()
        .flat_map(|spar| of_spar.map(|lever| lever(*spar)))
        .listed();
    let mut sorted = Vec::with_capacity(left.len());
    while let Some((_, furthest)) = left
        .iter()
        .enumerate()
        .map(|(place, lever)| (lever.out_of_line(sail), place))
        .reduce(|a, b| if b.0 > a.0 { b } else { a })
    {
        sorted.push(left.remove(furthest));
    }
    sorted
}

impl Lever {
    fn path(self, m: usize) -> String {
        let of_list = |list: &str, i: usize, leaf: &str| format!("{list}.{i}{leaf}");
        let leaf = match self {
            Self::YardLength => "yard_length_pct",
            Self::YardAngle => "yard_angle_deg",
            Self::PanelWidth => "panel_width_m",
            Self::Rise => "rise_deg",
            Self::BoomRise => "boom_rise_deg",
            Self::LuffRake => "luff_rake_deg",
            Self::HeadWidth(j) => &of_list("head_widths_pct", j, ""),
            Self::SparAngle(i) => &of_list("spars", i, ".angle_deg"),
            Self::SparAft(i) => &of_list("spars", i, ".aft_m"),
            Self::SparUp(i) => &of_list("spars", i, ".up_m"),
            Self::SparLength(i) => &of_list("spars", i, ".length_m"),
        };
        sail_path(m, leaf)
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
            Self::SparAft(i) => spar(i).luff.x,
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
            Self::SparAft(i) => {
                if let Some(spar) = sail.table.get_mut(i) {
                    spar.luff.x = value;
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

    /// The same number of another spar.
    fn of_spar(self, i: usize) -> Self {
        match self {
            Self::SparAngle(_) => Self::SparAngle(i),
            Self::SparAft(_) => Self::SparAft(i),
            Self::SparUp(_) => Self::SparUp(i),
            Self::SparLength(_) => Self::SparLength(i),
            other => other,
        }
    }

    /// What a number of the table would be in line with its neighbours [SI], and how much a number
    /// out of line counts: boom and yard a little less than half, since theirs is drawn from one
    /// side, twice as far out if the neighbour is to blame.
    fn in_line(self, sail: &SailDesign) -> Option<(f64, f64)> {
        let (Self::SparAngle(i) | Self::SparAft(i) | Self::SparUp(i) | Self::SparLength(i)) = self
        else {
            return None;
        };
        let last = sail.table.len().checked_sub(1).filter(|last| *last > 1)?;
        let at = |i: usize| self.of_spar(i).get(sail);
        Some(match i {
            0 => (2.0 * at(1) - at(2), 0.45),
            _ if i >= last => (2.0 * at(last - 1) - at(last - 2), 0.45),
            _ => (0.5 * (at(i - 1) + at(i + 1)), 1.0),
        })
    }

    /// How far a number of the table lies off the line of its neighbours, as a share of the chord;
    /// a radian counts as a chord.
    fn out_of_line(self, sail: &SailDesign) -> f64 {
        let Some((line, weight)) = self.in_line(sail) else {
            return 0.0;
        };
        let off = weight * (self.get(sail) - line).abs();
        match self {
            Self::SparAngle(_) => off,
            _ => off / sail.boom_length(),
        }
    }

    /// Least and greatest value to try, document units: about the line of the neighbours; the usual
    /// ones where there is none.
    fn tried_between(self, sail: &SailDesign, row: &bounds::Row) -> (f64, f64) {
        let usual = (row.least, row.most);
        let (Some((line, _)), false) = (self.in_line(sail), matches!(self, Self::SparAngle(_)))
        else {
            return usual;
        };
        let chord = sail.boom_length();
        let least = (line - chord).max(row.least);
        (least, (line + chord).min(row.most).max(least))
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
/// fault; of several runs the one nearest to the value that fails. Both ends have been tried, and
/// lie on a nudge of the field; a run too short for two is none.
fn mending_range(m: usize, sail: &SailDesign, lever: Lever) -> Option<(f64, f64)> {
    let row = bounds::row(&lever.path(m))?;
    let failing = row.quantity.document_from_si(lever.get(sail));
    let mut tried = sail.clone();
    let mut mends = |value: f64| {
        lever.set(&mut tried, row.quantity.si_from_document(value));
        tried.plan_rule().plan().1.is_empty()
    };
    let far = |(least, most): (f64, f64)| (least - failing).max(failing - most);
    let (from, to) = lever.tried_between(sail, row);
    let trial = |i: u32| from + (to - from) * f64::from(i) / f64::from(TRIALS);
    // First and last trial of a run.
    let mut best: Option<(u32, u32)> = None;
    let mut run: Option<(u32, u32)> = None;
    for i in 0..=TRIALS {
        let good = mends(trial(i));
        if good {
            run = Some((run.map_or(i, |r| r.0), i));
        }
        if let (Some(found), true) = (run, !good || i == TRIALS) {
            let of = |(a, b): (u32, u32)| far((trial(a), trial(b)));
            if best.is_none_or(|b| of(found) < of(b)) {
                best = Some(found);
            }
            run = None;
        }
    }
    let (first, last) = best?;
    // The end of the run between the last trial that mends and the next that does not.
    let mut end = |good: u32, bad: Option<u32>| {
        let mut good = trial(good);
        let Some(mut bad) = bad.filter(|bad| *bad <= TRIALS).map(trial) else {
            return good;
        };
        for _ in 0..HALVINGS {
            let middle = 0.5 * (good + bad);
            if mends(middle) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        good
    };
    let least = end(first, first.checked_sub(1));
    let most = end(last, last.checked_add(1));
    let least = row.rounded((least / row.nudge - 1e-6).ceil() * row.nudge);
    let most = row.rounded((most / row.nudge + 1e-6).floor() * row.nudge);
    (most > least && mends(least) && mends(most)).then_some((least, most))
}

/// What the boat's account could not use: what is merely not there is handed back as needed, what is
/// there and cannot be is a problem.
pub(crate) fn needs(
    design: &Design,
    account: &boat::Account,
    problems: &mut Vec<Problem>,
) -> Vec<&'static str> {
    let sails = &design.boat.particulars.sails_now;
    use boat::Fault;
    let mut needed = Vec::new();
    let lateral = &design.boat.particulars.lateral;
    for fault in &account.faults {
        let missing = match fault {
            Fault::Displacement => Some("boat.displacement_kg"),
            Fault::NoReadings => Some("boat.test.readings"),
            Fault::NoTable => Some("boat.gz"),
            Fault::NoProfile if lateral.profile.is_empty() => Some("boat.profile"),
            Fault::NoFin => Some("boat.fin.root_from_m"),
            _ => None,
        };
        if let Some(path) = missing {
            needed.push(path);
            continue;
        }
        let (path, key) = match fault {
            Fault::ReadingsAgainst => ("boat.test.readings".to_owned(), "problem.test_against"),
            Fault::ReadingOff(i) => {
                // Rows half typed are not among the readings.
                let i = design.boat.readings_at.get(*i).unwrap_or(i);
                let text = Text::new("problem.reading_off").with("number", *i as u32 + 1);
                problems.push(Problem::new(format!("boat.test.readings.{i}.arm_m"), text));
                continue;
            }
            Fault::OneSided => ("boat.test.readings".to_owned(), "problem.test_one_sided"),
            Fault::FewReadings => ("boat.test.readings".to_owned(), "problem.test_few"),
            Fault::Table => ("boat.gz".to_owned(), "problem.table_order"),
            Fault::NoProfile => ("boat.profile".to_owned(), "problem.outline_dry"),
            Fault::Number => ("boat.displacement_kg".to_owned(), "problem.no_boat"),
            Fault::ProfileCrosses => ("boat.profile".to_owned(), "problem.outline_crosses"),
            Fault::SailCrosses(i) => (format!("boat.sails.{i}.points"), "problem.outline_crosses"),
            // A sail just added has no points yet.
            Fault::SailEmpty(i) if sails.get(*i).is_none_or(Vec::is_empty) => continue,
            Fault::SailEmpty(i) => (format!("boat.sails.{i}.points"), "problem.outline_empty"),
            // The hull's own fields tell of hers, a check of GM below nought.
            _ => continue,
        };
        problems.push(Problem::new(path, Text::new(key)));
    }
    needed
}
