//! Lessons: the ready ones, made of the design at hand, the teacher's own, and the numbers of the moment.

use design::{Edit, HAULING, Leaves, LessonStep};
use quantities::bounds::{self, MOST_LESSONS};
use quantities::listed::Listed as _;
use quantities::quantity as q;
use quantities::units::KNOT;
use quantities::{Text, Usual, units};
use rigging::Line;
use serde_json::{Map, Value};

use crate::bench::Bench;
use crate::lines::line_key;
use crate::rows::{Figure, LessonRow, LessonStepRow};

/// A step of a ready lesson.
struct Ready {
    /// Its words: `lesson.`, this, `.title` and `.words`.
    key: &'static str,
    /// What it cannot be shown without.
    needs: Needs,
    /// Panels lowered, or steps of the reef order.
    reef: usize,
    /// Words of the step as the document has them.
    words: &'static [(&'static str, &'static str)],
}

#[derive(Clone, Copy, PartialEq)]
enum Needs {
    Nothing,
    /// A line of the first reef handled so: after this word of the catalogue, or anyhow.
    Handled(&'static str),
    /// Winds to reef at.
    Winds,
    /// None of them.
    NoWinds,
    /// Centre of lateral resistance.
    Resistance,
    /// Cloth cut some way.
    Cloth,
    /// Boom squared off.
    Squared,
}
use Needs::{Cloth, Handled, NoWinds, Nothing, Resistance, Squared, Winds};

/// Half the sail down, or all of it.
const HALF: usize = 1000;
const ALL: usize = 2000;

const fn step(
    key: &'static str,
    needs: Needs,
    reef: usize,
    words: &'static [(&'static str, &'static str)],
) -> Ready {
    Ready {
        key,
        needs,
        reef,
        words,
    }
}

const SHOWN: &str = "shown";
const ASKED: &str = "asked";

/// Leaves of the numbers that may be told, and their keys.
const TOLD: [(&str, &str); 7] = [
    ("amount_told", "amount"),
    ("area_told", "area"),
    ("centre_told", "centre"),
    ("balance_told", "balance"),
    ("lead_told", "lead"),
    ("heel_told", "heel"),
    ("advice_told", "advice"),
];

/// How a reef goes in.
static REEF: &[Ready] = &[
    step(
        "full",
        Nothing,
        0,
        &[
            ("part", "sail"),
            ("area_told", SHOWN),
            ("centre_told", SHOWN),
        ],
    ),
    step(
        "wind",
        Winds,
        1,
        &[
            ("drawing", "stern"),
            ("heel_told", SHOWN),
            ("advice_told", ASKED),
        ],
    ),
    step("early", NoWinds, 0, &[]),
    step(
        "luff",
        Handled("line.luff_her"),
        1,
        &[("line", "sheet"), ("stage", "before")],
    ),
    step(
        "lifts",
        Handled(""),
        1,
        &[
            ("line", "lifts"),
            ("stage", "before"),
            ("amount_told", SHOWN),
        ],
    ),
    step(
        "free",
        Handled(""),
        1,
        &[
            ("line", "luff"),
            ("stage", "before"),
            ("amount_told", SHOWN),
        ],
    ),
    step(
        "halyard",
        Handled("line.ease"),
        1,
        &[
            ("line", "halyard"),
            ("amount_told", ASKED),
            ("area_told", SHOWN),
        ],
    ),
    step(
        "sheet",
        Handled("line.haul"),
        1,
        &[("line", "sheet"), ("amount_told", ASKED)],
    ),
    step(
        "yard",
        Handled("line.haul"),
        1,
        &[("line", "yard"), ("amount_told", SHOWN)],
    ),
    step(
        "crease",
        Handled("line.haul"),
        1,
        &[("line", "luff"), ("amount_told", SHOWN)],
    ),
    step(
        "one",
        Nothing,
        1,
        &[
            ("part", "bundle"),
            ("area_told", ASKED),
            ("centre_told", ASKED),
        ],
    ),
    step(
        "next",
        Nothing,
        2,
        &[("area_told", ASKED), ("advice_told", SHOWN)],
    ),
    step("down", Nothing, ALL, &[("part", "bundle")]),
    step(
        "running",
        Squared,
        1,
        &[
            ("drawing", "above"),
            ("line", "sheet"),
            ("advice_told", SHOWN),
        ],
    ),
];

/// Why she keeps her balance.
static BALANCE: &[Ready] = &[
    step(
        "across",
        Nothing,
        0,
        &[("part", "balance"), ("balance_told", ASKED)],
    ),
    step(
        "light",
        Handled(""),
        0,
        &[("line", "sheet"), ("balance_told", SHOWN)],
    ),
    step("ce", Nothing, 0, &[("part", "ce"), ("centre_told", SHOWN)]),
    step("over", Nothing, 0, &[("part", "attached")]),
    step("clr", Resistance, 0, &[("part", "clr")]),
    step(
        "lead",
        Resistance,
        0,
        &[("part", "lead"), ("lead_told", ASKED)],
    ),
    step(
        "heel",
        Winds,
        1,
        &[("drawing", "stern"), ("heel_told", SHOWN)],
    ),
    step(
        "trail",
        Nothing,
        HALF,
        &[("part", "ce"), ("centre_told", ASKED), ("area_told", SHOWN)],
    ),
    step(
        "travel",
        Resistance,
        HALF,
        &[("drawing", "travel"), ("lead_told", SHOWN)],
    ),
    step(
        "moved",
        Resistance,
        0,
        &[("part", "mast"), ("lead_told", SHOWN)],
    ),
    step("squared", Squared, 0, &[("drawing", "above")]),
    step("ways", Cloth, 0, &[("drawing", "sections")]),
];

static LESSONS: [(&str, &[Ready]); 2] = [("reef", REEF), ("balance", BALANCE)];

impl Bench {
    /// The ready lessons, then the teacher's own.
    pub fn lessons(&self) -> Vec<LessonRow> {
        let mut rows = Vec::with_capacity(LESSONS.len() + MOST_LESSONS);
        for (key, steps) in LESSONS {
            rows.push(LessonRow {
                title: self.word(&["lesson.", key].concat()),
                path: String::new(),
                steps: self.shown(&self.ready(key, steps)),
            });
        }
        for (i, own) in self.design().lessons.iter().enumerate() {
            let title = if own.title.is_empty() {
                self.say(&Text::new("lesson.own").with("number", i as u32 + 1))
            } else {
                own.title.clone()
            };
            rows.push(LessonRow {
                title,
                path: ["lesson.", &units::fixed(i as f64, 0)].concat(),
                steps: self.shown(&own.steps),
            });
        }
        rows
    }

    /// The edit that lays a lesson down as the last of the teacher's own; empty where there is no such lesson.
    pub fn lesson_copy(&self, at: usize) -> String {
        let own = &self.design().lessons;
        let (title, steps) = match LESSONS.get(at) {
            Some((key, steps)) => (
                self.word(&["lesson.", key].concat()),
                &self.ready(key, steps),
            ),
            None => match own.get(at - LESSONS.len()) {
                Some(lesson) => (lesson.title.clone(), &lesson.steps),
                None => (String::new(), &Vec::new()),
            },
        };
        let mut lesson = Map::new();
        put(&mut lesson, "title", title);
        let steps = steps.iter().map(document_of).listed();
        lesson.insert("steps".to_owned(), Value::Array(steps));
        let path = ["lesson.", &units::fixed(own.len() as f64, 0)].concat();
        Edit::write_list(&[Edit::value(path, Value::Object(lesson))])
    }

    /// The numbers of the moment that a lesson may tell, each with the key it is told by.
    pub fn lesson_figures(&self) -> Vec<Figure> {
        let boat = &self.account.boat;
        let now = self.step_now();
        let up = self.pose.standing.map(|standing| standing.z);
        let lead = boat.steps.get(now).and_then(|step| step.lead);
        let mut list = Vec::with_capacity(8);
        for (figure, key) in self
            .headline()
            .into_iter()
            .zip(["area", "centre", "balance"])
        {
            list.push(Figure { key, ..figure });
        }
        for (key, quantity, value) in [("centre", &q::CE_UP, up), ("lead", &q::LEAD, lead)] {
            if value.is_some() {
                let figure = self.figure(quantity, value);
                list.push(Figure { key, ..figure });
            }
        }
        let advised = boat.advice(self.view.wind, false);
        let (heel, felt) = (
            self.word("balance.heel_now"),
            self.word(q::APPARENT_WIND.label),
        );
        for row in self.advice(advised) {
            let mut words = row.into_iter();
            let label = words.next().unwrap_or_default();
            if label != felt {
                let key = if label == heel { "heel" } else { "advice" };
                list.push(plain(key, label, words.next().unwrap_or_default()));
            }
        }
        let wind = self.say(&self.wind_text(self.view.wind));
        list.push(plain("wind", self.word(q::TRUE_WIND.label), wind));
        list
    }

    /// The steps of a ready lesson that can be shown of her.
    fn ready(&self, lesson: &str, steps: &'static [Ready]) -> Vec<LessonStep> {
        let mut list = Vec::with_capacity(steps.len());
        // Without a sail there is nothing to show.
        if !self.pose.masts.iter().any(Option::is_some) {
            return list;
        }
        let last = self.account.rig.sequence.len().saturating_sub(1);
        let winds = self.due(1).is_some();
        for plan in steps {
            let reef = match plan.reef {
                HALF => last / 2,
                ALL => last,
                reef => reef,
            };
            if reef > last {
                continue;
            }
            // Where the wind is first felt the sail still stands.
            let stands = if plan.needs == Winds { 0 } else { reef };
            let mut shown = Leaves {
                at: 0,
                numbers: vec![("reef", stands as f64)],
                words: plan.words.to_vec(),
            };
            let line = shown.word("line");
            if matches!(plan.needs, Handled(_)) && reef > 0 {
                shown.numbers.push(("from", reef as f64 - 1.0));
            }
            // A reef is shown in the wind in which it is due, full sail in less.
            if let Some(wind) = self.due(reef.max(1)) {
                let wind = if reef > 0 { wind } else { (0.6 * wind).floor() };
                shown.numbers.push(("wind_kn", wind * KNOT));
            }
            let mast = self.mast_of(&shown);
            let squared = self
                .design()
                .masts
                .get(mast)
                .map(|mast| mast.sail.squared_off);
            match plan.needs {
                Winds if !winds => continue,
                NoWinds if winds => continue,
                Resistance if self.account.boat.resistance.is_none() => continue,
                Cloth
                    if self
                        .account
                        .masts
                        .get(mast)
                        .is_none_or(|mast| mast.cloth.is_none()) =>
                {
                    continue;
                }
                Handled(_) if reef == 0 && self.line_named(mast, line).is_none() => continue,
                Handled(how) if reef > 0 && !self.is_handled(&shown, mast, how) => continue,
                Squared => match squared {
                    Some(squared) => shown.numbers.push(("sheet_deg", squared)),
                    None => continue,
                },
                _ => {}
            }
            let said = |what: &str| self.word(&["lesson.", lesson, ".", plan.key, what].concat());
            list.push(LessonStep {
                title: said(".title"),
                words: said(".words"),
                shown,
            });
        }
        list
    }

    /// The wind in which a step of the reef order is due, in whole knots: just past what the step before it bears.
    fn due(&self, reef: usize) -> Option<f64> {
        let before = self.account.boat.steps.get(reef.checked_sub(1)?)?;
        let limit = before.on?.forecast.value;
        (limit > 0.0).then(|| ((limit / KNOT).floor() + 1.0).min(99.0))
    }

    fn shown(&self, steps: &[LessonStep]) -> Vec<LessonStepRow> {
        let mut rows = Vec::with_capacity(steps.len());
        for step in steps {
            rows.push(self.step_row(step));
        }
        rows
    }

    fn step_row(&self, step: &LessonStep) -> LessonStepRow {
        let shown = &step.shown;
        let mast = self.mast_of(shown);
        let mut reef = shown.usual("reef");
        let mut row = LessonStepRow {
            title: step.title.clone(),
            words: step.words.clone(),
            plot: match shown.word("drawing") {
                "above" => "above",
                "sections" => "cloth-ways",
                "stern" => "stern",
                "travel" => "travel",
                _ => "",
            },
            mast: mast as u32,
            hoist: Vec::new(),
            sheet_deg: shown.usual("sheet_deg").to_degrees(),
            wind_kn: shown.usual("wind_kn") / KNOT,
            part: shown.word("part"),
            line: String::new(),
            handled: None,
            told: Vec::new(),
            past: self.is_past(shown),
        };
        if let Some(line) = self.line_named(mast, shown.word("line")) {
            row.line = line_key(line);
            if let Some(mut handled) = self.handled(shown, mast) {
                let mut amount = handled.pop().unwrap_or_default();
                let does = handled.pop().unwrap_or_default();
                let mut label = handled.pop().unwrap_or_default();
                if amount.is_empty() {
                    amount = does;
                } else {
                    label = [&label, ": ", &does].concat();
                }
                row.handled = Some(plain("amount", label, amount));
            }
            // What comes before the halyard is done under the sail as it was.
            if line != Line::Halyard && shown.word("stage") == "before" {
                reef = shown.number("from").unwrap_or(reef);
            }
        }
        row.hoist = self
            .lowered_at(shown, reef)
            .iter()
            .map(|lowered| *lowered as f64)
            .listed();
        for (leaf, key) in TOLD {
            match shown.word(leaf) {
                SHOWN => row.told.push([key, SHOWN]),
                ASKED => row.told.push([key, ASKED]),
                _ => {}
            }
        }
        row
    }

    /// Panels lowered per mast at a step of the reef order, or of the one sail a step asks for; past the last all of them.
    fn lowered_at(&self, shown: &Leaves, reef: f64) -> Vec<usize> {
        let steps = &self.account.rig.sequence;
        let last = steps.len().saturating_sub(1);
        let one = self.one_sail_of(shown);
        let at = if one.is_some() {
            last
        } else {
            last.min(reef as usize)
        };
        let mut lowered = steps
            .get(at)
            .map_or_else(Vec::new, |step| step.lowered.clone());
        if let Some(one) = one {
            for (mast, panels) in lowered.iter_mut().enumerate() {
                let most = if mast == one { reef as usize } else { 0 };
                *panels = most.min(*panels);
            }
        }
        lowered
    }

    /// The mast whose sail alone a step reefs, where she has it.
    fn one_sail_of(&self, shown: &Leaves) -> Option<usize> {
        sail_number(shown.word("sail")).filter(|mast| *mast < self.n_masts())
    }

    /// The most that a number of a step can be with this design.
    fn most_of_step(&self, shown: &Leaves, leaf: &str) -> Option<f64> {
        match leaf {
            "mast" => Some(self.n_masts().max(1) as f64),
            "reef" | "from" => {
                let last = self.account.rig.sequence.last()?;
                let most = match self.one_sail_of(shown) {
                    Some(mast) => *last.lowered.get(mast)?,
                    None => self.account.rig.sequence.len() - 1,
                };
                Some(most as f64)
            }
            _ => None,
        }
    }

    /// The same at a path of the document.
    pub(crate) fn most_at(&self, path: &str) -> Option<f64> {
        let mut parts = path.strip_prefix("lesson.")?.split('.');
        let lesson = parts.next()?.parse::<usize>().ok()?;
        let step = parts.nth(1)?.parse::<usize>().ok()?;
        let lesson = self.design().lessons.get(lesson)?;
        self.most_of_step(&lesson.steps.get(step)?.shown, parts.next()?)
    }

    /// Whether a step asks for more than she has: it stops there.
    fn is_past(&self, shown: &Leaves) -> bool {
        let past = |leaf: &str| {
            let most = self.most_of_step(shown, leaf);
            most.is_some_and(|most| shown.number(leaf).is_some_and(|number| number > most))
        };
        let sail = sail_number(shown.word("sail"));
        past("reef")
            || past("from")
            || past("mast")
            || sail.is_some_and(|mast| mast >= self.n_masts())
    }

    fn ends(&self, shown: &Leaves) -> [Vec<usize>; 2] {
        let reef = shown.usual("reef");
        [shown.number("from").unwrap_or(reef), reef].map(|reef| self.lowered_at(shown, reef))
    }

    /// The mast a step is about: the one it says, whose sail it reefs, or whose sail moves.
    fn mast_of(&self, shown: &Leaves) -> usize {
        let [from, to] = self.ends(shown);
        let moves = from.iter().zip(&to).position(|(from, to)| from != to);
        let said = shown.number("mast").map(|mast| mast as usize - 1);
        said.or(self.one_sail_of(shown))
            .or(moves)
            .unwrap_or(0)
            .min(self.n_masts().saturating_sub(1))
    }

    fn line_named(&self, mast: usize, word: &str) -> Option<Line> {
        let of = self.lines_of(mast)?;
        let line = match word {
            "halyard" => Line::Halyard,
            "lifts" => Line::Lifts,
            "sheet" => Line::Sheet(0),
            "second-sheet" => Line::Sheet(1),
            _ => {
                let hauls = HAULING.iter().position(|known| *known == word)?;
                let hauling = of.input.lines.hauling.iter();
                Line::Hauling(
                    hauling
                        .map(|line| line.hauls as usize)
                        .position(|line| line == hauls)?,
                )
            }
        };
        let known = of.account.lines.iter();
        known.map(|known| known.line).find(|known| *known == line)
    }

    /// Name, what is done and how much of the line of a step, on its way from one reef to the other.
    fn handled(&self, shown: &Leaves, mast: usize) -> Option<Vec<String>> {
        shown.number("from")?;
        let line = line_key(self.line_named(mast, shown.word("line"))?);
        let [from, to] = self.ends(shown).map(|lowered| lowered.get(mast).copied());
        let before = shown.word("stage") == "before";
        let mut eased = false;
        for mut row in self.drill_of(mast, from?, to?) {
            let of = row.first()?;
            let halyard = of == "halyard";
            if *of == line && (halyard || before != eased) {
                row.remove(0);
                return Some(row);
            }
            eased |= halyard;
        }
        None
    }

    fn is_handled(&self, shown: &Leaves, mast: usize, how: &str) -> bool {
        let Some(handled) = self.handled(shown, mast) else {
            return false;
        };
        how.is_empty() || handled.get(1).is_some_and(|does| *does == self.word(how))
    }
}

/// Place of the mast whose sail a word means; none of `all`.
pub(crate) fn sail_number(word: &str) -> Option<usize> {
    ["first", "second", "third"]
        .iter()
        .position(|known| *known == word)
}

/// A number that is words already.
fn plain(key: &'static str, label: String, value: String) -> Figure {
    Figure {
        key,
        label,
        value,
        unit: String::new(),
        help: String::new(),
        basis: String::new(),
    }
}

fn put(entries: &mut Map<String, Value>, key: &str, words: String) {
    if !words.is_empty() {
        entries.insert(key.to_owned(), Value::String(words));
    }
}

/// A step as the document has it: what is usual is left out.
fn document_of(step: &LessonStep) -> Value {
    let mut entries = Map::new();
    put(&mut entries, "title", step.title.clone());
    put(&mut entries, "words", step.words.clone());
    for (key, number) in &step.shown.numbers {
        if let Some(row) = bounds::row(&["lesson[].steps[].", key].concat()) {
            let number = row.rounded(row.quantity.document_from_si(*number));
            if row.usual != Usual::Value(number) {
                entries.insert((*key).to_owned(), design::tree::number(number));
            }
        }
    }
    for (key, word) in &step.shown.words {
        if !matches!(*word, "" | "none" | "profile" | "after" | "all") {
            entries.insert((*key).to_owned(), Value::from(*word));
        }
    }
    Value::Object(entries)
}
