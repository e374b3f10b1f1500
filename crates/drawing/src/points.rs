//! The points of the line in hand, as places to take hold of: along their spar or the mast; leads, deck
//! blocks and cleats along the boat, in profile up and down as well, from above across her.

use design::HAULING;
use geometry::mast::Place;
use kurbo::{Point, Vec2};
use quantities::{Text, bounds};
use rigging::{Hauls, Laid, Line, Named};

use crate::fit::Frame;
use crate::handles::{Axis, Dragged, Handle};
use crate::moment::Moment;
use crate::plots;
use crate::ropes;

/// Names of the points, in the order of the path.
const NAMES: [&str; 20] = [
    "point-1", "point-2", "point-3", "point-4", "point-5", "point-6", "point-7", "point-8",
    "point-9", "point-10", "point-11", "point-12", "point-13", "point-14", "point-15", "point-16",
    "point-17", "point-18", "point-19", "point-20",
];

/// The line in hand as it lies; none where there is none such.
fn in_hand<'a>(moment: &Moment<'a>) -> Option<&'a Laid> {
    let wanted = moment.view.line?;
    let pose = moment.pose.masts.get(moment.view.mast)?.as_ref()?;
    pose.lines.iter().find(|laid| laid.line == wanted)
}

/// How a point moves.
enum Way {
    /// Wherever its block is put.
    Deck,
    /// Along a line on the page to another place, which is so many document units off.
    Along(Point, f64),
}

/// Handles of the line in hand in profile; none without one: then the sail's own are taken.
pub(crate) fn in_profile(moment: &Moment, frame: &Frame) -> Option<Vec<Handle>> {
    let laid = in_hand(moment)?;
    Some(found(
        moment,
        laid,
        &|place| frame.at(place),
        frame.scale,
        false,
    ))
}

/// Handles of the line in hand in the view from above, on a pane [px]: what stands on deck.
pub fn handles_above(moment: &Moment, (width, height): (f64, f64)) -> Vec<Handle> {
    let frame = plots::above_frame(moment, width, height);
    let at = |place| plots::from_above(&frame, place);
    in_hand(moment).map_or_else(Vec::new, |laid| found(moment, laid, &at, frame.scale, true))
}

/// How near to a rope a tap means it [px].
const MEANT: f64 = 14.0;

/// The line that a tap on the profile means, with its mast: the nearest of those that are seen.
pub fn tapped(moment: &Moment, frame: &Frame, tap: Point) -> Option<(usize, Line)> {
    nearest(moment, &|place| frame.at(place), tap)
}

/// The same in the view from above, on a pane [px].
pub fn tapped_above(
    moment: &Moment,
    (width, height): (f64, f64),
    tap: Point,
) -> Option<(usize, Line)> {
    let frame = plots::above_frame(moment, width, height);
    nearest(moment, &|place| plots::from_above(&frame, place), tap)
}

fn nearest(moment: &Moment, at: &dyn Fn(Place) -> Point, tap: Point) -> Option<(usize, Line)> {
    let (mut found, mut least) = (None, MEANT);
    for (mast, pose) in moment.pose.masts.iter().enumerate() {
        let Some(pose) = pose else { continue };
        for laid in &pose.lines {
            for pair in laid.path.stops.windows(2) {
                if pair[0].parts == 0 {
                    continue;
                }
                let (from, to) = (at(pair[0].at), at(pair[1].at));
                let along = to - from;
                let share = (tap - from).dot(along) / along.hypot2().max(1e-9);
                let off = (from + along * share.max(0.0).min(1.0)).distance(tap);
                if off < least {
                    least = off;
                    found = Some((mast, laid.line));
                }
            }
        }
    }
    found
}

/// What such a handle held at a point [px] asks for.
pub fn dragged_above(
    moment: &Moment,
    (width, height): (f64, f64),
    id: &str,
    pointer: Point,
) -> Option<Dragged> {
    let frame = plots::above_frame(moment, width, height);
    let handle = handles_above(moment, (width, height))
        .into_iter()
        .find(|handle| handle.id == id)?;
    let off = (pointer - handle.at) / frame.scale;
    led(moment, handle, off)
}

/// What a handle asks for that is dragged so far [m on the page]. Of a point that goes both ways, a number
/// that stays the same to its step is left alone.
pub(crate) fn led(moment: &Moment, handle: Handle, off: Vec2) -> Option<Dragged> {
    let x = slid(&handle, off)?;
    let Some((path, up)) = handle.across else {
        return Some(asked(moment, &handle.path, x));
    };
    let row = bounds::row(&path)?;
    let wanted = (up - row.quantity.document_from_si(off.y))
        .max(row.hard_least)
        .min(row.hard_most);
    if !wanted.is_finite() {
        return None;
    }
    let mut numbers = Vec::with_capacity(2);
    for (path, old, new) in [(handle.path, handle.value, x), (path, up, wanted)] {
        if row.rounded(old) != row.rounded(new) {
            numbers.push((path, new));
        }
    }
    Some(Dragged::Edits {
        holds: false,
        numbers,
    })
}

/// The number a handle takes that is dragged so far [m on the page].
pub(crate) fn slid(handle: &Handle, off: Vec2) -> Option<f64> {
    let Axis::Slide {
        direction,
        per_metre,
    } = handle.axis
    else {
        return None;
    };
    let value = handle.value + off.dot(direction) * per_metre;
    value
        .is_finite()
        .then(|| value.max(handle.least).min(handle.most))
}

/// The edits that give a number of the line in hand another value, document units: a list that follows the
/// usual is written out first.
pub fn asked(moment: &Moment, path: &str, value: f64) -> Dragged {
    // Searching in words weighs kilobytes.
    let holds =
        path.ends_with("along_pct") && in_hand(moment).is_some_and(|laid| !typed(moment, laid));
    let mut numbers = Vec::new();
    let account = moment.account.masts.get(moment.view.mast);
    let lines = account.and_then(|account| account.lines.as_ref());
    let catches = lines.and_then(|lines| lines.input.lines.lifts.as_ref());
    let mut known = false;
    for (i, share) in catches.iter().flat_map(|lifts| &lifts.catches).enumerate() {
        let leaf = line_path(moment, &["lifts.catches_pct.", &fixed(i)]);
        let this = leaf == path;
        known |= this;
        numbers.push((leaf, if this { value } else { 100.0 * share }));
    }
    if !known {
        numbers.clear();
        numbers.push((path.to_owned(), value));
    }
    Dragged::Edits { holds, numbers }
}

/// Path of a leaf of the lines of the mast being worked on.
fn line_path(moment: &Moment, leaf: &[&str]) -> String {
    [
        "masts.",
        &fixed(moment.view.mast),
        ".lines.",
        &leaf.concat(),
    ]
    .concat()
}

/// Which of the hauling lines it is.
fn hauls(moment: &Moment, laid: &Laid) -> Option<usize> {
    let Line::Hauling(i) = laid.line else {
        return None;
    };
    let account = moment.account.masts.get(moment.view.mast)?;
    let hauling = account.lines.as_ref()?.input.lines.hauling.get(i)?;
    Hauls::ALL.iter().position(|hauls| *hauls == hauling.hauls)
}

/// Whether its holds are typed.
fn typed(moment: &Moment, laid: &Laid) -> bool {
    let which = hauls(moment, laid);
    let masts = &moment.design.masts;
    let rows = masts.get(moment.view.mast).map(|m| &m.lines.holds);
    rows.is_some_and(|rows| rows.iter().any(|row| Some(row.line) == which))
}

/// Place in the document's list of a hold of a hauling line: where it is, or will be once written out.
fn row_of(moment: &Moment, laid: &Laid, hold: usize) -> Option<usize> {
    let Line::Hauling(line) = laid.line else {
        return None;
    };
    let mast = moment.view.mast;
    let which = hauls(moment, laid)?;
    let hauling = &moment
        .account
        .masts
        .get(mast)?
        .lines
        .as_ref()?
        .input
        .lines
        .hauling;
    if typed(moment, laid) {
        let wanted = hauling.get(line)?.holds.get(hold)?;
        let rows = moment.design.masts.get(mast)?.lines.holds.iter();
        // Rows that hold no spar there is are passed over; those alike are one as good as the other.
        return rows
            .filter(|row| row.line == which && row.hold == *wanted)
            .map(|row| row.at)
            .next();
    }
    let before: usize = hauling.iter().take(line).map(|line| line.holds.len()).sum();
    Some(before + hold)
}

fn found(
    moment: &Moment,
    laid: &Laid,
    at: &dyn Fn(Place) -> Point,
    scale: f64,
    above: bool,
) -> Vec<Handle> {
    let points = ropes::points(&laid.path);
    let mut handles = Vec::with_capacity(points.len());
    let mut spars = 0;
    let mut seen = 0;
    for stop in &laid.path.stops {
        let spar = spars;
        if let Named::Spar(_) = stop.named {
            spars += 1;
        }
        // Each point once; those of spars are counted all the same.
        let Some(number) = points
            .iter()
            .position(|p| p.named == stop.named && p.at == stop.at)
        else {
            continue;
        };
        if number < seen {
            continue;
        }
        seen = number + 1;
        let here = at(stop.at);
        let Some((leaf, way)) = moved(moment, laid, stop.named, spar, at, here) else {
            continue;
        };
        let path = line_path(moment, &[&leaf]);
        let up = if above { "_y_m" } else { "_z_m" };
        let (path, across) = match way {
            Way::Deck => ([&path, "_x_m"].concat(), Some([&path, up].concat())),
            Way::Along(..) if above => continue,
            Way::Along(..) => (path, None),
        };
        let (Some(row), Some(id)) = (bounds::row(&path), NAMES.get(number)) else {
            continue;
        };
        let (direction, per_metre) = match way {
            Way::Deck => (Vec2::new(1.0, 0.0), row.quantity.document_from_si(1.0)),
            Way::Along(there, by) => {
                let way = there - here;
                // Seen end on it cannot be dragged.
                if way.hypot().is_nan() || way.hypot() < 4.0 {
                    continue;
                }
                (way / way.hypot(), by * scale / way.hypot())
            }
        };
        let value = match way {
            Way::Deck => row.quantity.document_from_si(stop.at.x),
            Way::Along(..) => match number_of(moment, laid, stop.named, spar) {
                Some(si) => row.quantity.document_from_si(si),
                None => continue,
            },
        };
        let label = Text::new("handle.point")
            .with("number", number as u32 + 1)
            .with_key("what", row.quantity.label);
        let up = |path: String| {
            let row = bounds::row(&path)?;
            let si = if above { stop.at.y } else { stop.at.z };
            Some((path, row.quantity.document_from_si(si)))
        };
        handles.push(Handle {
            id,
            label,
            at: here,
            axis: Axis::Slide {
                direction,
                per_metre,
            },
            quantity: row.quantity,
            value,
            least: row.hard_least,
            most: row.hard_most,
            step: row.nudge,
            across: across.and_then(up),
            path,
        });
    }
    handles
}

fn fixed(number: usize) -> String {
    quantities::units::fixed(number as f64, 0)
}

/// What a point edits, below `masts[].lines`, and how it moves; nothing where it follows from others.
fn moved(
    moment: &Moment,
    laid: &Laid,
    named: Named,
    spar: usize,
    at: &dyn Fn(Place) -> Point,
    here: Point,
) -> Option<(String, Way)> {
    let account = moment.account.masts.get(moment.view.mast)?;
    let pose = moment.pose.masts.get(moment.view.mast)?.as_ref()?;
    // From one end of a spar to the other, as from here.
    let along = |which: usize, by: f64| {
        let spar = pose.spars.get(which)?;
        let end = |p: Point| at(account.mast.to_ship(p, pose.sheeting));
        Some(Way::Along(here + (end(spar.leech()) - end(spar.luff)), by))
    };
    let line = match laid.line {
        Line::Halyard => "halyard",
        Line::Lifts => "lifts",
        Line::Sheet(_) => "sheet",
        Line::Hauling(_) => HAULING.get(hauls(moment, laid)?).copied()?,
        Line::Parrel(_) => "parrels",
        Line::Span(..) => return None,
    };
    let leaf = |part: &str| [line, ".", part].concat();
    let second = laid.line == Line::Sheet(1);
    Some(match (named, laid.line) {
        (Named::Lead, _) => (leaf("lead"), Way::Deck),
        (Named::Cleat, _) if second => (leaf("cleat_2"), Way::Deck),
        (Named::Cleat, _) => (leaf("cleat"), Way::Deck),
        (Named::DeckBlock(0), _) if second => (leaf("block_2"), Way::Deck),
        (Named::DeckBlock(0), _) => (leaf("block"), Way::Deck),
        (Named::Masthead, Line::Lifts) => {
            let mast = &account.mast;
            let up = at(mast.head()) - at(mast.heel());
            let way = Way::Along(here + up, mast.bury + mast.lap);
            (leaf("height_m"), way)
        }
        (Named::Spar(boom), Line::Lifts) => (
            leaf(&["catches_pct.", &fixed(spar)].concat()),
            along(boom, 100.0)?,
        ),
        (Named::Spar(held), Line::Hauling(_)) => {
            let row = fixed(row_of(moment, laid, spar)?);
            (["holds.", &row, ".along_pct"].concat(), along(held, 100.0)?)
        }
        (Named::Spar(held), Line::Parrel(_)) => {
            let length = pose.spars.get(held)?.length;
            if spar == 0 {
                (leaf("ahead_m"), along(held, -length)?)
            } else {
                (leaf("abaft_m"), along(held, length)?)
            }
        }
        _ => return None,
    })
}

/// The number of a point along mast or spar [SI].
fn number_of(moment: &Moment, laid: &Laid, named: Named, spar: usize) -> Option<f64> {
    let account = moment.account.masts.get(moment.view.mast)?;
    let lines = &account.lines.as_ref()?.input.lines;
    match laid.line {
        Line::Lifts if named == Named::Masthead => Some(lines.lifts.as_ref()?.height),
        Line::Lifts => lines.lifts.as_ref()?.catches.get(spar).copied(),
        Line::Hauling(i) => Some(lines.hauling.get(i)?.holds.get(spar)?.share),
        Line::Parrel(_) => {
            let parrels = lines.parrels?;
            Some(if spar == 0 {
                parrels.ahead
            } else {
                parrels.abaft
            })
        }
        _ => None,
    }
}
