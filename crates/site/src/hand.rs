//! The hand on the drawing: handles, where they are dragged to, what a key does to them.

use design::Edit;
use drawing::{
    Axis, Dragged, Handle, Medium, asked, dragged, dragged_above, handles, handles_above, tapped,
    tapped_above,
};
use kurbo::Point;
use quantities::listed::{Listed as _, joined};
use quantities::{Text, bounds, units};

use crate::bench::{Bench, SHEET};
use crate::lines::line_key;
use crate::place::Place;
use crate::rows::{Figure, HandleRow};

impl Bench {
    /// Handles of the sail being worked on, for a pane of this size [CSS px].
    pub fn handles(&mut self, width: f64, height: f64) -> Vec<HandleRow> {
        let frame = self.frame(width, height);
        let found = handles(&self.moment(Medium::Screen), &frame);
        found
            .into_iter()
            .map(|handle| self.handle_row(handle))
            .listed()
    }

    fn handle_row(&self, handle: Handle) -> HandleRow {
        let told = self.view.active.is_empty() || self.view.active == handle.id;
        let mut valuetext = if !told {
            String::new()
        } else if handle.path.is_empty() {
            let words = self.view.units.fixed(
                handle.value,
                if handle.value.fract() == 0.0 { 0 } else { 1 },
            );
            self.say(&Text::new("hoist.value").with("lowered", words))
        } else {
            handle.quantity.say(handle.value, self.view.units)
        };
        let across = handle.across.as_ref();
        let across = across.and_then(|(path, y)| Some((bounds::row(path)?.quantity, y)));
        if let (Some((quantity, y)), true) = (across, told) {
            let said = quantity.say(*y, self.view.units);
            valuetext = [
                &valuetext,
                " · ",
                self.words.word(quantity.label),
                " ",
                &said,
            ]
            .concat();
        }
        // What a step cannot reach is the dust of radians and shares.
        let now = match bounds::row(&handle.path) {
            Some(row) => row.rounded(handle.value),
            None => (handle.value * 100.0).round() / 100.0,
        };
        HandleRow {
            id: handle.id.to_owned(),
            label: if told {
                self.say(&handle.label)
            } else {
                String::new()
            },
            valuetext,
            x: handle.at.x,
            y: handle.at.y,
            min: handle.least,
            max: handle.most,
            now,
            step: handle.step,
            axis: match handle.axis {
                Axis::Turn { .. } => "turn",
                Axis::Slide { direction, .. } if direction.x.abs() > direction.y.abs() => "x",
                Axis::Slide { .. } => "y",
            },
        }
    }

    /// What a handle held at a point of the pane [CSS px] asks for: edits not yet made, or
    /// `{"hoist": [..]}`; no edits where it asks for nothing.
    pub fn drag(&mut self, id: &str, x: f64, y: f64, width: f64, height: f64) -> String {
        let frame = self.frame(width, height);
        match dragged(&self.moment(Medium::Screen), &frame, id, Point::new(x, y)) {
            Some(Dragged::Edit { path, value }) => self.edits_of(&path, value),
            Some(Dragged::Hoist(hoist)) => hoist_words(&hoist),
            Some(Dragged::Edits { holds, numbers }) => self.edits_of_line(holds, numbers),
            None => no_edits(),
        }
    }

    /// What so many presses of an arrow key on a handle ask for, as [`Bench::drag`] gives it: of a key up or
    /// down the page, and of a handle in the view from above.
    pub fn nudge(&mut self, id: &str, steps: f64, upright: bool, above: bool) -> String {
        let found = if above {
            handles_above(&self.moment(Medium::Screen), SHEET)
        } else {
            let frame = self.last_frame();
            handles(&self.moment(Medium::Screen), &frame)
        };
        let Some(handle) = found.into_iter().find(|handle| handle.id == id) else {
            return no_edits();
        };
        if !steps.is_finite() || handle.step <= 0.0 {
            return no_edits();
        }
        if let Some((path, value)) = handle.across.filter(|_| upright) {
            let Some(row) = bounds::row(&path) else {
                return no_edits();
            };
            let value = stepped(value, row.nudge, steps)
                .max(row.hard_least)
                .min(row.hard_most);
            return self.edits_of_line(false, vec![(path, value)]);
        }
        if handle.path.is_empty() {
            return self.hoisted(handle.value, steps, handle.most);
        }
        let value = stepped(handle.value, handle.step, steps)
            .max(handle.least)
            .min(handle.most);
        match asked(&self.moment(Medium::Screen), &handle.path, value) {
            Dragged::Edits { holds, numbers } if self.view.line.is_some() => {
                self.edits_of_line(holds, numbers)
            }
            _ => self.edits_of(&handle.path, value),
        }
    }

    /// The line that a tap on a pane [CSS px] means, after the number of its mast and a blank; empty for
    /// none. `above`: on the view from above.
    pub fn line_at(&mut self, above: bool, x: f64, y: f64, width: f64, height: f64) -> String {
        let (frame, tap) = (self.frame(width, height), Point::new(x, y));
        let moment = self.moment(Medium::Screen);
        let found = if above {
            tapped_above(&moment, (width, height), tap)
        } else {
            tapped(&moment, &frame, tap)
        };
        found.map_or_else(String::new, |(mast, line)| {
            [&units::fixed(mast as f64, 0), " ", &line_key(line)].concat()
        })
    }

    /// The number lettered in the drawing where a tap on a pane [CSS px] is, with all that is told of it. `held`: a handle lies there.
    pub fn number_at(
        &mut self,
        x: f64,
        y: f64,
        width: f64,
        height: f64,
        held: bool,
    ) -> Option<Figure> {
        // Half of what a thumb needs; the handle has its place too.
        let reach = if held { 4.0 } else { 18.0 };
        let scene = self.scene(width, height);
        let (said, about) = scene.number_at(Point::new(x, y), reach)?;
        let mut figure = self.figure(about.quantity, None);
        figure.value = said.to_owned();
        if let Some(spar) = about.spar {
            let pose = self.pose.masts.get(self.view.mast)?.as_ref()?;
            let name = self.spar_name(spar, pose.spars.len().saturating_sub(1));
            figure.label = [&figure.label, ", ", &name].concat();
        }
        Some(figure)
    }

    /// Handles of the view from above, for a pane of this size [CSS px].
    pub fn handles_above(&self, width: f64, height: f64) -> Vec<HandleRow> {
        let found = handles_above(&self.moment(Medium::Screen), (width, height));
        found
            .into_iter()
            .map(|handle| self.handle_row(handle))
            .listed()
    }

    /// As [`Bench::drag`], in the view from above.
    pub fn drag_above(&self, id: &str, x: f64, y: f64, width: f64, height: f64) -> String {
        let moment = self.moment(Medium::Screen);
        match dragged_above(&moment, (width, height), id, Point::new(x, y)) {
            Some(Dragged::Edits { holds, numbers }) => self.edits_of_line(holds, numbers),
            _ => no_edits(),
        }
    }

    /// Numbers of the line in hand; a list that follows the usual is written out first.
    fn edits_of_line(&self, holds: bool, numbers: Vec<(String, f64)>) -> String {
        let mut edits = Vec::new();
        if holds {
            edits = self.document.write_holds(self.view.mast, &self.account);
        }
        for (path, value) in numbers {
            if let Some(row) = bounds::row(&path) {
                let value = row.rounded(value);
                edits.push(Edit::exact(path, value));
            }
        }
        Edit::write_list(&edits)
    }

    /// A key press hoists or lowers by whole panels: up is up.
    fn hoisted(&self, lowered: f64, steps: f64, most: f64) -> String {
        let start = if steps > 0.0 {
            lowered.ceil()
        } else {
            lowered.floor()
        };
        let lowered = (start - steps.round()).max(0.0).min(most);
        let hoist = self.pose.masts.iter().enumerate().map(|(mast, pose)| {
            if mast == self.view.mast {
                lowered
            } else {
                pose.as_ref().map_or(0.0, |pose| pose.hoist)
            }
        });
        hoist_words(&hoist.listed())
    }

    fn edits_of(&self, path: &str, value: f64) -> String {
        let edits = match bounds::row(path) {
            Some(row) => self.number_edits(path, Place::of(path), row, row.rounded(value)),
            None => Vec::new(),
        };
        Edit::write_list(&edits)
    }
}

/// So many steps on. From step to step, so that keys give plain numbers: up to the next above, down to
/// the next below.
fn stepped(value: f64, step: f64, steps: f64) -> f64 {
    let at = value / step;
    let near = at.round();
    let start = if (at - near).abs() < 1e-6 {
        near
    } else if steps > 0.0 {
        at.floor()
    } else {
        at.ceil()
    };
    (start + steps.round()) * step
}

fn no_edits() -> String {
    Edit::write_list(&[])
}

fn hoist_words(hoist: &[f64]) -> String {
    let numbers: Vec<String> = hoist
        .iter()
        .map(|lowered| units::fixed(*lowered, 4))
        .listed();
    ["{\"hoist\":[", &joined(&numbers, ","), "]}"].concat()
}
