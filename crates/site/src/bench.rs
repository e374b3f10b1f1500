//! One design on the bench: its document, its account, the view of it and the words for it.
//!
//! Everything the page can ask is answered here, without a browser, so that it is tested natively.

use quantities::listed::Listed as _;
use std::f64::consts::TAU;

use design::{Account, Design, Document, Edit, Pose, Shown, StateRow, Step, View};
use drawing::plots::{DeckMap, Plot, plot};
use drawing::{Frame, Medium, Moment, Scene, Scheme, sail_plan, svg};
use geometry::mast::Mast;
use kurbo::Point;
use quantities::units::KNOT;
use quantities::{Catalogue, Problem, Quantity, Text, Units};

use crate::cloth::LOOK;
use crate::fields::Usuals;
use crate::rows::ViewGiven;

/// The room a drawing has on paper at 96 px to the inch [px]: A4 and letter upright, each inside
/// its margins, over the cautions. Letters of 12 px are 9 pt there.
pub(crate) const SHEET: (f64, f64) = (703.0, 860.0);
/// Of it for the view from above, under the profile [px].
const ABOVE: f64 = 290.0;
/// Of it for the ways to make the sail [px].
const WAYS_HIGH: f64 = 460.0;

/// Most wind that is looked at [kn].
const MOST_WIND: f64 = 100.0;

/// A design being worked on.
#[derive(Debug)]
pub struct Bench {
    pub(crate) document: Document,
    pub(crate) account: Account,
    /// The account is that of a design in the hand.
    in_hand: bool,
    pub(crate) view: View,
    pub(crate) pose: Pose,
    pub(crate) words: Catalogue,
    pub(crate) usuals: Usuals,
    fitted: Option<Fitted>,
    /// Where the deck block may stand, for a mast and a line in hand.
    pub(crate) deck: Option<(InHand, Option<DeckMap>)>,
    /// What the finder last found.
    pub(crate) finding: spars::finder::Found,
    /// Patterns of the sails that were asked for.
    pub(crate) sewn: Vec<std::rc::Rc<crate::cloth::Sewn>>,
}

/// A mast and the line of it in hand.
type InHand = (usize, Option<rigging::Line>);

/// How the design fits a pane.
#[derive(Clone, Copy, Debug)]
struct Fitted {
    width: f64,
    height: f64,
    frame: Frame,
}

impl Bench {
    /// Opens a document, to be looked at in metres, all standing.
    ///
    /// # Errors
    /// As [`Document::open`].
    pub fn open(text: &str, words: Catalogue) -> Result<Self, (Problem, Catalogue)> {
        let document = match Document::open(text) {
            Ok(document) => document,
            Err(problem) => return Err((problem, words)),
        };
        let account = design::account(document.design());
        let view = View {
            units: spoken(&words, Units::METRIC),
            ..View::default()
        };
        let pose = design::pose(document.design(), &account, &view);
        Ok(Self {
            document,
            account,
            in_hand: false,
            view,
            pose,
            words,
            usuals: Usuals::default(),
            fitted: None,
            deck: None,
            finding: spars::finder::Found::default(),
            sewn: Vec::new(),
        })
    }

    /// The canonical text.
    pub fn text(&self) -> String {
        self.document.text()
    }

    /// Takes another language.
    pub fn set_words(&mut self, words: Catalogue) {
        self.view.units = spoken(&words, self.view.units);
        self.words = words;
    }

    /// Looks at the design in another way.
    pub fn set_view(&mut self, given: ViewGiven) {
        let let_go = !self.view.active.is_empty() && given.active.is_empty();
        let masts = self.account.masts.len();
        let last = masts.saturating_sub(1);
        let turns = given.sheet_deg / 360.0;
        self.view = View {
            units: spoken(
                &self.words,
                if given.units == "ft" {
                    Units::IMPERIAL
                } else {
                    Units::METRIC
                },
            ),
            // A number that is no mast is the nearest one.
            mast: given.mast.max(0.0).min(last as f64) as usize,
            hoist: given.hoist.into_iter().take(masts).listed(),
            // Not by %: its exact remainder of doubles weighs a kilobyte.
            sheeting: turns.fract() * TAU,
            wind: given.wind_kn.max(0.0).min(MOST_WIND) * KNOT,
            dark: given.dark,
            shown: Shown {
                dimensions: given.shown.dimensions,
                parrels: given.shown.parrels,
                lifts: given.shown.lifts,
                trail: given.shown.trail,
                curves: given.shown.curves,
                heel: given.shown.heel,
            },
            zoom: given.zoom,
            pan_x: given.pan_x,
            pan_y: given.pan_y,
            active: given.active,
            pointed: crate::attention::part_of(&given.pointed),
            named: given.named,
            line: crate::lines::line_of(&given.line),
            lines: given.lines,
            hands: given.hands,
        };
        if let_go {
            self.fitted = None;
            if self.in_hand {
                self.reckon();
            }
        }
        self.strike_pose();
    }

    /// Makes edits as one step and tells what was changed.
    ///
    /// # Errors
    /// As [`Document::edit`]; nothing is then changed.
    pub fn edit(&mut self, edits: &[Edit]) -> Result<Vec<Step>, Problem> {
        let steps = self.document.edit(edits)?;
        self.reckon();
        Ok(steps)
    }

    /// Makes steps again, or undoes them (`back`), to the byte.
    ///
    /// # Errors
    /// As [`Document::apply`]; nothing is then changed.
    pub fn apply(&mut self, steps: &[Step], back: bool) -> Result<(), Problem> {
        self.document.apply(steps, back)?;
        self.reckon();
        Ok(())
    }

    /// Works everything out anew.
    fn reckon(&mut self) {
        // While a handle is held, proofs of the spars stay what they were: they take longer than all the rest.
        self.in_hand = !self.view.active.is_empty();
        self.account = if self.in_hand {
            design::account_in_hand(self.document.design(), &mut self.account)
        } else {
            design::account(self.document.design())
        };
        self.usuals.forget();
        self.deck = None;
        self.finding = spars::finder::Found::default();
        self.sewn.clear();
        let last = self.account.masts.len().saturating_sub(1);
        self.view.mast = self.view.mast.min(last);
        // While a handle is held the drawing must not slip from under the hand.
        if self.view.active.is_empty() {
            self.fitted = None;
        }
        self.strike_pose();
    }

    fn strike_pose(&mut self) {
        self.pose = design::pose(self.document.design(), &self.account, &self.view);
    }

    /// The drawing as the screen shows it.
    pub fn scene(&mut self, width: f64, height: f64) -> Scene {
        let frame = self.frame(width, height);
        sail_plan(&self.moment(Medium::Screen), &frame)
    }

    /// Light or dark.
    pub fn scheme(&self) -> Scheme {
        if self.view.dark {
            Scheme::Dark
        } else {
            Scheme::Light
        }
    }

    /// A drawing for paper, of a mast where it is of one: `plan`, the whole of it with its dimensions, on white; `profile` with all lines,
    /// which leaves room on its page for the view from `above`, close-hauled; `curves` of the mast; `cloth-roll`, `cloth-section3` and
    /// `cloth-ways` of its sail.
    pub fn paper_scene(&mut self, which: &str, mast: usize) -> Scene {
        let seen = self.view.clone();
        let plain = which == "plan";
        self.view.mast = mast.min(self.n_masts().saturating_sub(1));
        self.view.line = None;
        self.view.named.clear();
        self.view.pointed = None;
        self.view.lines = matches!(which, "profile" | "above");
        self.view.shown.dimensions = plain;
        self.view.shown.parrels = plain;
        self.view.shown.curves = which == "curves";
        self.view.sheeting = match self.lines_of(self.view.mast) {
            Some(of) if which == "above" => of.input.close,
            _ => 0.0,
        };
        self.strike_pose();
        let (width, mut height) = SHEET;
        if which == "profile" {
            height -= ABOVE;
        }
        let scene = if which == "cloth-roll" {
            self.roll_scene(mast, LOOK, width, &|_| {})
        } else if which.starts_with("cloth") {
            let known = self.account.masts.get(mast);
            match known.and_then(|known| known.cloth.as_ref()) {
                Some(cloth) => {
                    let ways = design::ways(self.design(), mast, &self.account);
                    let high = if which == "cloth-ways" {
                        WAYS_HIGH
                    } else {
                        ABOVE
                    };
                    let which = Plot::of_cloth(which, &cloth.input, &ways);
                    plot(which, &self.moment(Medium::Paper), 0, width, high)
                }
                None => Scene::default(),
            }
        } else if which == "above" {
            plot(Plot::Above, &self.moment(Medium::Paper), 0, width, ABOVE)
        } else {
            let frame = Frame::fit(self.design(), &self.account, width, height);
            sail_plan(&self.moment(Medium::Paper), &frame)
        };
        self.view = seen;
        self.strike_pose();
        scene
    }

    /// The same as a file.
    pub fn svg(&mut self, which: &str, mast: usize) -> String {
        svg::write(&self.paper_scene(which, mast), Scheme::Print)
    }

    /// How the drawing lies in a pane, as zoomed and panned.
    pub(crate) fn frame(&mut self, width: f64, height: f64) -> Frame {
        let fitted = self
            .fitted
            .filter(|fitted| fitted.width == width && fitted.height == height)
            .unwrap_or_else(|| Fitted {
                width,
                height,
                frame: Frame::fit(self.document.design(), &self.account, width, height),
            });
        self.fitted = Some(fitted);
        fitted.frame.seen(&self.view)
    }

    /// How the drawing lies in a pane: px to the metre, the forward end of the waterline [px], and how
    /// far it is panned [px], as the view asks, but not out of sight.
    pub fn placed(&mut self, width: f64, height: f64) -> [f64; 5] {
        let Frame {
            scale, origin, pan, ..
        } = self.frame(width, height);
        [scale, origin.x, origin.y, pan.x, pan.y]
    }

    /// How the drawing last lay in its pane.
    pub(crate) fn last_frame(&mut self) -> Frame {
        let (width, height) = self
            .fitted
            .map_or(SHEET, |fitted| (fitted.width, fitted.height));
        self.frame(width, height)
    }

    pub(crate) fn moment(&self, medium: Medium) -> Moment<'_> {
        Moment {
            design: self.document.design(),
            account: &self.account,
            pose: &self.pose,
            view: &self.view,
            words: &self.words,
            medium,
        }
    }

    pub(crate) fn design(&self) -> &Design {
        self.document.design()
    }

    pub(crate) fn say(&self, text: &Text) -> String {
        self.words.say(text, self.view.units)
    }

    /// Words that nobody asks for while a handle is held; then none.
    pub(crate) fn at_rest(&self, words: impl FnOnce() -> String) -> String {
        if self.view.active.is_empty() {
            words()
        } else {
            String::new()
        }
    }

    pub(crate) fn word(&self, key: &str) -> String {
        self.words.word(key).to_owned()
    }

    /// A number alone, from SI.
    pub(crate) fn number(&self, si: f64, quantity: &Quantity) -> String {
        quantity.spell(quantity.document_from_si(si), self.view.units)
    }

    /// A number alone, from SI; a dash where there is none.
    pub(crate) fn number_or_dash(&self, si: Option<f64>, quantity: &Quantity) -> String {
        self.number(si.unwrap_or(f64::NAN), quantity)
    }

    /// How many masts there are.
    pub(crate) fn n_masts(&self) -> usize {
        self.account.masts.len()
    }

    /// What a mast is called: by its name, else by its number.
    pub(crate) fn mast_name(&self, mast: usize) -> String {
        self.moment(Medium::Screen).mast_name(mast)
    }

    /// What a spar is called, boom 0 to yard `n`.
    pub(crate) fn spar_name(&self, spar: usize, n: usize) -> String {
        match spar {
            0 => self.word("spar.boom"),
            _ if spar == n => self.word("spar.yard"),
            _ => self.say(&Text::new("spar.batten").with("number", spar as u32)),
        }
    }

    /// The row of a mast with so many panels lowered; with none, before the boom drops.
    pub(crate) fn state(&self, mast: usize, lowered: usize) -> Option<&StateRow> {
        let rows = &self.account.masts.get(mast)?.rows;
        rows.iter()
            .find(|row| row.lowered == lowered && (lowered > 0 || !row.on_lifts))
    }

    /// The row of a mast that holds now.
    pub(crate) fn state_now(&self, mast: usize) -> Option<&StateRow> {
        let pose = self.pose.masts.get(mast)?.as_ref()?;
        self.account.masts.get(mast)?.rows.get(pose.state)
    }

    /// Highest point of the yard above the waterline now, the sail sheeted along the centreline [m].
    pub(crate) fn yard_height_now(&self, mast: usize) -> Option<f64> {
        let pose = self.pose.masts.get(mast)?.as_ref()?;
        let mast = &self.account.masts.get(mast)?.mast;
        let yard = pose.spars.last()?;
        Some(height(mast, yard.luff).max(height(mast, yard.leech())))
    }

    /// Centre of effort of one sail now: aft of the mast axis, above the waterline [m].
    pub(crate) fn centre_now(&self, mast: usize) -> Option<(f64, f64)> {
        let centre = self.pose.masts.get(mast)?.as_ref()?.centre?;
        let mast = &self.account.masts.get(mast)?.mast;
        Some((centre.x, height(mast, centre)))
    }
}

/// Height of a point of a sail above the waterline [m].
fn height(mast: &Mast, at: Point) -> f64 {
    mast.to_ship(at, 0.0).z
}

/// The units with the decimal sign of a language.
pub(crate) fn spoken(words: &Catalogue, units: Units) -> Units {
    Units {
        comma: words.find("unit.decimal") == Some(","),
        ..units
    }
}
