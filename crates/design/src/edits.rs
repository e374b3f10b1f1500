//! Edits that take some working out: a sail fitted to an area, another plan family, a plan written
//! into its table, a head that keeps its widths.

use geometry::SailPlan;
use geometry::plan::{Fault, Held};
use quantities::bounds::{self, TARGET_AREA};
use quantities::listed::Listed as _;
use quantities::quantity as q;
use quantities::{Arg, Problem, Text};
use rigging::{End, Knot, System};
use serde_json::Value;

use crate::account::Account;
use crate::design::{Family, HAULING, SailDesign};
use crate::document::Document;
use crate::mast_lengths::MastLengths;
use crate::sewn::open_slot;
use crate::tree::{Edit, list_row, spar_row};

/// Leaves of a sail whose rule is its family's.
const OF_FAMILY: [&str; 5] = [
    "yard_angle_deg",
    "yard_length_pct",
    "head_panels",
    HEAD_LISTS[0],
    HEAD_LISTS[1],
];

/// Lists with one number per turning panel, upward.
const HEAD_LISTS: [&str; 2] = ["head_widths_pct", "head_steps"];

impl Document {
    /// The edits that give a mast's sail this area [m²], to 1e-9, the held dimension untouched to
    /// the bit: exact numbers, not rounded to steps.
    ///
    /// # Errors
    /// Two dimensions held (both named), or an area out of reach of what is left free.
    pub fn fit_area(&self, mast: usize, target: f64) -> Result<Vec<Edit>, Problem> {
        let path = |leaf: &str| sail_path(mast, leaf);
        let Some(typed) = self.design().masts.get(mast) else {
            return Err(Problem::refused(path("area"), Text::new("problem.no_plan")));
        };
        let sail = &typed.sail;
        if let Some(problem) = TARGET_AREA.check(&path("area"), target)
            && problem.refused
        {
            return Err(problem);
        }
        let held = sail.held();
        let cloth = |plan: &SailPlan| {
            let lengths = MastLengths::new(&self.design().boat.hull, typed, Some(plan));
            let mut plan = plan.clone();
            open_slot(typed, &lengths.mast, &mut plan);
            plan.area()
        };
        let fit = sail
            .plan_rule()
            .fit_to(target, &held, &cloth)
            .map_err(|fault| area_problem(&path("area"), target, fault))?;
        let mut edits = Vec::new();
        if sail.family == Family::Table {
            for (i, spar) in sail.table.iter().enumerate() {
                let leaf = |leaf: &str| path(&format!("spars.{i}.{leaf}"));
                if fit.chord != 1.0 {
                    edits.push(Edit::exact(leaf("aft_m"), spar.luff.x * fit.chord));
                    edits.push(Edit::exact(leaf("length_m"), spar.length * fit.chord));
                }
                if fit.luff != 1.0 {
                    edits.push(Edit::exact(leaf("up_m"), spar.luff.y * fit.luff));
                }
            }
            return Ok(edits);
        }
        if fit.chord != 1.0 {
            edits.push(Edit::exact(path("chord_m"), sail.chord * fit.chord));
        }
        // A luff by rule follows the chord: it is written out as soon as it must not.
        let by_rule = self.value(&path("panel_width_m")).is_none();
        if by_rule && fit.chord != fit.luff || !by_rule && fit.luff != 1.0 {
            edits.push(Edit::exact(
                path("panel_width_m"),
                sail.panel_width * fit.luff,
            ));
        }
        Ok(edits)
    }

    /// A centre that misses by less lies where it was wanted [m].
    pub const CENTRE_FITS: f64 = 0.001;

    /// The edit that moves a mast so that the common centre of effort falls on that of the rig she has,
    /// within where the mast may stand, and how far aft of it the centre then falls [m]. `None` where
    /// either rig has no centre.
    ///
    /// The centre follows its mast in the share of area times efficiency that its sail has.
    pub fn fit_centre(&self, mast: usize, account: &Account) -> Option<(Vec<Edit>, f64)> {
        let boat = &account.boat;
        let wanted = boat.rig_now.as_ref()?.together.x;
        let full = boat.steps.first()?;
        let off = full.centre?.x - wanted;
        let mut whole = 0.0;
        for (typed, sail) in self.design().masts.iter().zip(&account.masts) {
            whole += typed.sail.efficiency * sail.rows.first().map_or(0.0, |row| row.area);
        }
        let typed = self.design().masts.get(mast)?;
        let area = account.masts.get(mast)?.rows.first()?.area;
        let share = typed.sail.efficiency * area / whole;
        let mut place = typed.position - off / share;
        if !place.is_finite() {
            return None;
        }
        // What the range leaves of it.
        place = place.max(typed.from.unwrap_or(place));
        place = place.min(typed.to.unwrap_or(place));
        let path = ["masts.", &mast.to_string(), ".position_m"].concat();
        let row = bounds::row(&path)?;
        place = row.rounded(place.max(row.hard_least).min(row.hard_most));
        let miss = off + share * (place - typed.position);
        Some((vec![Edit::number(path, place)], miss))
    }

    /// The edits that give a mast's sail another plan family. What the old one had of its own (yard,
    /// head) goes back to its rule, so that the new one has its own shape; a table takes the spars
    /// that stand. The family that is there already keeps what is typed.
    pub fn to_family(&self, mast: usize, word: &str) -> Vec<Edit> {
        if word == Family::Table.word() {
            return self.to_table(mast);
        }
        let path = |leaf: &str| sail_path(mast, leaf);
        let mut edits = vec![Edit::value(path("family"), Value::String(word.to_owned()))];
        let Some(sail) = self.design().masts.get(mast).map(|m| &m.sail) else {
            return edits;
        };
        if sail.family.word() == word {
            return edits;
        }
        edits.extend(OF_FAMILY.map(|leaf| Edit::remove(path(leaf))));
        // A table needs no chord; whatever follows does.
        if self.value(&path("chord_m")).is_none() && sail.family == Family::Table {
            edits.push(Edit::number(path("chord_m"), sail.boom_length()));
        }
        edits
    }

    /// The edits, and those that keep typed widths and steps with their panels, counted from the
    /// top: another number of panels turning makes or takes some below them.
    pub fn with_head_kept(&self, mast: usize, mut edits: Vec<Edit>) -> Vec<Edit> {
        let turning = |document: &Self| {
            let mast = document.design().masts.get(mast);
            mast.map_or(0, |mast| mast.sail.turning())
        };
        let Ok((other, _)) = self.edited(&edits) else {
            return edits;
        };
        let (before, after) = (turning(self), turning(&other));
        if before == after {
            return edits;
        }
        for leaf in HEAD_LISTS {
            let path = sail_path(mast, leaf);
            let Some(Value::Array(typed)) = self.value(&path) else {
                continue;
            };
            let mut kept = vec![Value::Null; after.saturating_sub(before)];
            for value in typed.iter().skip(before.saturating_sub(after)) {
                kept.push(value.clone());
            }
            let nothing = kept.iter().all(Value::is_null);
            let value = (!nothing).then_some(Value::Array(kept));
            edits.push(Edit {
                path,
                value,
                exact: true,
            });
        }
        edits
    }

    /// The edits that write the present plan of a mast into its table of spars, in millimetres and
    /// hundredths of a degree, and make the table the family.
    pub fn to_table(&self, mast: usize) -> Vec<Edit> {
        let Some(sail) = self.design().masts.get(mast).map(|m| &m.sail) else {
            return Vec::new();
        };
        let path = |leaf: &str| sail_path(mast, leaf);
        let family = Edit::value(path("family"), Value::String("table".to_owned()));
        match table_of(sail) {
            Some(spars) if sail.family != Family::Table => {
                vec![Edit::value(path("spars"), spars), family]
            }
            _ => vec![family],
        }
    }
}

impl Document {
    /// The edit that writes the spans there are out as rows, to be changed. A pair's second sheet goes
    /// with the first.
    pub fn write_spans(&self, mast: usize, account: &Account) -> Vec<Edit> {
        let Some(lines) = lines_of(mast, account) else {
            return Vec::new();
        };
        let system = self.design().masts.get(mast);
        let pair = system.is_some_and(|m| m.lines.choices.system == Some(System::Pair));
        let sheets = lines.sheets.iter().take(if pair { 1 } else { 2 });
        let mut rows = Vec::new();
        for (i, sheet) in sheets.enumerate() {
            for span in &sheet.spans {
                let (
                    Some(End {
                        at: Knot::Spar(top),
                        ..
                    }),
                    Some(fall),
                ) = (span.ends.first(), span.falls.first())
                else {
                    continue;
                };
                rows.push(Value::Object(list_row(&[
                    ("masts[].lines.spans[].sheet", (i + 1) as f64),
                    ("masts[].lines.spans[].top", *top as f64),
                    ("masts[].lines.spans[].ends", span.ends.len() as f64),
                    ("masts[].lines.spans[].length_m", span.length),
                    ("masts[].lines.spans[].parts", fall.parts as f64),
                ])));
            }
        }
        vec![Edit::value(
            format!("masts.{mast}.lines.spans"),
            Value::Array(rows),
        )]
    }

    /// The edit that writes the holds of the hauling lines there are out as rows, to be changed.
    pub fn write_holds(&self, mast: usize, account: &Account) -> Vec<Edit> {
        let Some(lines) = lines_of(mast, account) else {
            return Vec::new();
        };
        let mut rows = Vec::new();
        for line in &lines.hauling {
            let word = HAULING[line.hauls as usize];
            for hold in &line.holds {
                let mut row = list_row(&[
                    ("masts[].lines.holds[].spar", hold.spar as f64),
                    ("masts[].lines.holds[].along_pct", 100.0 * hold.share),
                ]);
                row.insert("line".to_owned(), Value::String(word.to_owned()));
                rows.push(Value::Object(row));
            }
        }
        vec![Edit::value(
            format!("masts.{mast}.lines.holds"),
            Value::Array(rows),
        )]
    }
}

fn lines_of(mast: usize, account: &Account) -> Option<&rigging::Lines> {
    Some(&account.masts.get(mast)?.lines.as_ref()?.input.lines)
}

/// Path of a leaf of a mast's sail.
pub(crate) fn sail_path(mast: usize, leaf: &str) -> String {
    format!("masts.{mast}.sail.{leaf}")
}

/// Path of a leaf of a mast.
pub(crate) fn mast_path(mast: usize, leaf: &str) -> String {
    format!("masts.{mast}.{leaf}")
}

/// The spars of a sail as the document's list, luff ends from the tack.
fn table_of(sail: &SailDesign) -> Option<Value> {
    let plan = sail.plan_rule().plan().0?;
    let tack = plan.boom()?.luff;
    let rows = plan.spars.iter().map(|spar| {
        spar_row([
            spar.luff.x - tack.x,
            spar.luff.y - tack.y,
            spar.angle.to_degrees(),
            spar.length,
        ])
    });
    Some(Value::Array(rows.listed()))
}

fn area_problem(path: &str, target: f64, fault: Fault) -> Problem {
    let field = |held: Held| match held {
        Held::Chord => q::CHORD.label,
        Held::Luff => q::PANEL_WIDTH.label,
        Held::Mast => q::LAP.label,
    };
    let text = match fault {
        Fault::AllHeld(first, second) => Text::new("problem.all_held")
            .with_key("first", field(first))
            .with_key("second", field(second)),
        _ => Text::new("problem.area_out_of_reach")
            .with_key("label", q::AREA.label)
            .with("value", Arg::Given(target, &q::AREA)),
    };
    Problem::refused(path, text)
}
