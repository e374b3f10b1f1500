//! Edits that take some working out: a sail fitted to an area, a plan written into its table.

use geometry::plan::{Fault, Held};
use quantities::bounds::TARGET_AREA;
use quantities::quantity as q;
use quantities::{Arg, Problem, Text};
use serde_json::Value;

use crate::design::{Family, SailDesign};
use crate::document::Document;
use crate::tree::{Edit, spar_row};

impl Document {
    /// The edits that give a mast's sail this area [m²], to 1e-9, the held dimension untouched to
    /// the bit: exact numbers, not rounded to steps.
    ///
    /// # Errors
    /// Two dimensions held (both named), or an area out of reach of what is left free.
    pub fn fit_area(&self, mast: usize, target: f64) -> Result<Vec<Edit>, Problem> {
        let path = |leaf: &str| format!("masts.{mast}.sail.{leaf}");
        let Some(sail) = self.design().masts.get(mast).map(|m| &m.sail) else {
            return Err(Problem::refused(path("area"), Text::new("problem.no_plan")));
        };
        if let Some(problem) = TARGET_AREA.check(&path("area"), target)
            && problem.refused
        {
            return Err(problem);
        }
        let held = sail.held();
        let fit = sail
            .plan_rule()
            .fit_to_area(target, &held)
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

    /// The edits that write the present plan of a mast into its table of spars, in millimetres and
    /// hundredths of a degree, and make the table the family.
    pub fn to_table(&self, mast: usize) -> Vec<Edit> {
        let Some(sail) = self.design().masts.get(mast).map(|m| &m.sail) else {
            return Vec::new();
        };
        let path = |leaf: &str| format!("masts.{mast}.sail.{leaf}");
        let family = Edit::value(path("family"), Value::String("table".to_owned()));
        match table_of(sail) {
            Some(spars) if sail.family != Family::Table => {
                vec![Edit::value(path("spars"), spars), family]
            }
            _ => vec![family],
        }
    }
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
    Some(Value::Array(rows.collect()))
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
