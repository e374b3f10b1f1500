//! The hand on the drawing: handles, where they are dragged to, what a key does to them.

use design::Edit;
use drawing::{Axis, Dragged, Handle, Medium, dragged, handles};
use kurbo::Point;
use quantities::listed::Listed as _;
use quantities::{Text, bounds, units};

use crate::bench::Bench;
use crate::place::Place;
use crate::rows::HandleRow;

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
        let valuetext = if !told {
            String::new()
        } else if handle.path.is_empty() {
            let words = units::fixed(
                handle.value,
                if handle.value.fract() == 0.0 { 0 } else { 1 },
            );
            self.say(&Text::new("hoist.value").with("lowered", words))
        } else {
            handle.quantity.say(handle.value, self.view.units)
        };
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
            None => no_edits(),
        }
    }

    /// What so many presses of an arrow key on a handle ask for, as [`Bench::drag`] gives it.
    pub fn nudge(&mut self, id: &str, steps: f64) -> String {
        let frame = self.last_frame();
        let found = handles(&self.moment(Medium::Screen), &frame);
        let Some(handle) = found.into_iter().find(|handle| handle.id == id) else {
            return no_edits();
        };
        if !steps.is_finite() || handle.step <= 0.0 {
            return no_edits();
        }
        if handle.path.is_empty() {
            return self.hoisted(handle.value, steps, handle.most);
        }
        // From step to step, so that keys give plain numbers: up to the next above, down to the
        // next below.
        let at = handle.value / handle.step;
        let near = at.round();
        let start = if (at - near).abs() < 1e-6 {
            near
        } else if steps > 0.0 {
            at.floor()
        } else {
            at.ceil()
        };
        let value = ((start + steps.round()) * handle.step)
            .max(handle.least)
            .min(handle.most);
        self.edits_of(&handle.path, value)
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

fn no_edits() -> String {
    Edit::write_list(&[])
}

fn hoist_words(hoist: &[f64]) -> String {
    let numbers: Vec<String> = hoist
        .iter()
        .map(|lowered| units::fixed(*lowered, 4))
        .listed();
    ["{\"hoist\":[", &numbers.join(","), "]}"].concat()
}
