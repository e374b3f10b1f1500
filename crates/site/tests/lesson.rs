//! Lessons as the page is told of them, without a browser.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use battenwright_site::bench::Bench;
use battenwright_site::rows::{FieldRow, LessonRow, ViewGiven};
use design::Edit;
use quantities::{Catalogue, Kind, bounds};

fn open(text: &str) -> Bench {
    let opened = Bench::open(text, Catalogue::english());
    opened.map_err(|(problem, _)| problem).unwrap()
}

fn demo(key: &str) -> Bench {
    let demo = design::demos().iter().find(|demo| demo.key == key).unwrap();
    open(&demo.text())
}

/// Looks at a step as the page does.
fn look(bench: &mut Bench, lesson: &LessonRow, at: usize) {
    let step = &lesson.steps[at];
    bench.set_view(ViewGiven {
        mast: f64::from(step.mast),
        hoist: step.hoist.clone(),
        sheet_deg: step.sheet_deg,
        wind_kn: step.wind_kn,
        line: step.line.clone(),
        lines: !step.line.is_empty(),
        named: step.part.to_owned(),
        hands: false,
        ..ViewGiven::default()
    });
}

fn figure(bench: &Bench, key: &str) -> String {
    let list = bench.lesson_figures();
    let found = list.iter().find(|figure| figure.key == key);
    found.map_or_else(String::new, |figure| figure.value.clone())
}

#[test]
fn both_ready_lessons_run_over_every_demo_in_words_of_the_catalogue() {
    for known in design::demos() {
        let mut bench = demo(known.key);
        let lessons = bench.lessons();
        assert_eq!(lessons.len(), 2);
        // Whatever is looked at meanwhile.
        bench.set_view(ViewGiven {
            hoist: vec![12.0; 3],
            ..ViewGiven::default()
        });
        assert_eq!(bench.lessons(), lessons);
        for lesson in &lessons {
            let n = lesson.steps.len();
            assert!((8..=14).contains(&n), "{} {} {n}", known.key, lesson.title);
            for (at, step) in lesson.steps.iter().enumerate() {
                for said in [&lesson.title, &step.title, &step.words] {
                    assert!(
                        !said.is_empty() && !said.contains('{') && !said.starts_with("lesson."),
                        "{said}"
                    );
                }
                assert!(
                    step.words.split_whitespace().count() <= 30,
                    "{}",
                    step.words
                );
                look(&mut bench, lesson, at);
                for (key, _) in step.told.iter().map(|[key, how]| (key, how)) {
                    let told = *key == "amount" && step.handled.is_some();
                    assert!(
                        told || !figure(&bench, key).is_empty(),
                        "{}: {key}",
                        step.title
                    );
                }
                if step.plot.is_empty() {
                    assert!(!bench.scene(900.0, 700.0).items.is_empty());
                } else {
                    assert!(!bench.plot(step.plot, 900.0, 700.0).items.is_empty());
                }
            }
        }
    }
}

#[test]
fn amounts_are_those_of_the_drill_and_areas_those_of_the_reef_table() {
    let mut bench = demo("marsh-pippin");
    let lesson = bench.lessons().remove(0);
    let drill = bench.drill(0, 1);
    let mut seen = Vec::new();
    for (at, step) in lesson.steps.iter().enumerate() {
        if let Some(handled) = &step.handled {
            let row = drill.iter().find(|row| {
                row[0] == step.line
                    && [&row[2], &row[3]].contains(&&handled.value)
                    && handled.label.starts_with(&row[1])
            });
            assert!(row.is_some(), "{}: {handled:?}", step.title);
            seen.push(step.line.clone());
        }
        look(&mut bench, &lesson, at);
        let now = bench
            .reef_table()
            .rows
            .into_iter()
            .find(|row| row.now)
            .unwrap();
        assert_eq!(now.hoist, step.hoist);
        assert_eq!(figure(&bench, "area"), now.cells[0], "{}", step.title);
    }
    // Before the halyard she stands as she was, after it she is reefed.
    assert_eq!(
        seen,
        [
            "sheet-0",
            "lifts",
            "hauling-1",
            "halyard",
            "sheet-0",
            "hauling-0",
            "hauling-1"
        ]
    );
    let stands: Vec<f64> = lesson.steps.iter().map(|step| step.hoist[0]).collect();
    assert_eq!(
        stands,
        [
            0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0, 1.0, 2.0, 7.0, 1.0
        ]
    );
}

#[test]
fn in_the_wind_shown_a_reef_is_advised() {
    for known in design::demos() {
        let mut bench = demo(known.key);
        let lesson = bench.lessons().remove(0);
        let at = lesson
            .steps
            .iter()
            .position(|step| step.plot == "stern")
            .unwrap();
        look(&mut bench, &lesson, 0);
        assert_eq!(figure(&bench, "advice"), "All standing", "{}", known.key);
        look(&mut bench, &lesson, at);
        assert!(figure(&bench, "advice").contains("down"), "{}", known.key);
    }
}

#[test]
fn a_ready_lesson_made_ones_own_shows_the_same() {
    for (at, known) in design::demos().iter().enumerate() {
        let mut bench = demo(known.key);
        let which = at % 2;
        let ready = bench.lessons().remove(which);
        for n in 0..8 {
            let edits =
                Edit::read_list(&bench.lesson_copy(if n == 0 { which } else { 2 })).unwrap();
            bench.edit(&edits).unwrap();
        }
        for own in &bench.lessons()[2..] {
            assert_eq!(own.title, ready.title);
            for (own, ready) in own.steps.iter().zip(&ready.steps) {
                // Winds and angles are rounded to their steps.
                assert!(
                    (own.wind_kn - ready.wind_kn).abs() < 0.06
                        && (own.sheet_deg - ready.sheet_deg).abs() < 0.06
                );
                let mut own = own.clone();
                (own.wind_kn, own.sheet_deg) = (ready.wind_kn, ready.sheet_deg);
                assert_eq!(&own, ready);
            }
        }
        // No more than eight.
        let edits = Edit::read_list(&bench.lesson_copy(0)).unwrap();
        let problem = bench.edit(&edits).unwrap_err();
        assert_eq!(problem.path, "lesson");
        assert!(open(&bench.text()).lessons().len() == 10);
    }
}

/// A bench with one lesson of one's own.
fn taught(key: &str, steps: &str) -> Bench {
    let mut bench = demo(key);
    let edits = format!(r#"[["lesson",[{{"steps":{steps}}}]]]"#);
    bench.edit(&Edit::read_list(&edits).unwrap()).unwrap();
    bench
}

fn step_field(bench: &mut Bench, leaf: &str) -> Option<FieldRow> {
    bench
        .fields(&[format!("lesson.0.steps.0.{leaf}")])
        .into_iter()
        .next()
}

#[test]
fn numbers_of_a_step_go_as_far_as_she_does_and_past_it_the_step_stops_and_is_told() {
    let mut bench = taught("marsh-pippin", r#"[{"reef":12,"from":9},{"reef":7}]"#);
    let steps = bench.lessons().remove(2).steps;
    assert_eq!([&*steps[0].hoist, &*steps[1].hoist], [[7.0], [7.0]]);
    assert!(steps[0].past && !steps[1].past);
    let reef = step_field(&mut bench, "reef").unwrap();
    assert_eq!([&*reef.least, &*reef.most], ["0", "7"]);
    assert_eq!(
        reef.problem,
        "12; possible here is 0 to 7, so the step stops at 7."
    );
    assert_eq!(step_field(&mut bench, "mast").unwrap().most, "1");
    let sails = step_field(&mut bench, "sail").unwrap().options;
    assert_eq!(sails.len(), 2);
    for (leaf, typed, most) in [("reef", "8", "7"), ("from", "36", "7"), ("mast", "2", "1")] {
        let typed = bench.type_in(&format!("lesson.0.steps.0.{leaf}"), typed);
        let problem = typed.problem.unwrap();
        assert!(problem.contains(&format!("to {most}")), "{problem}");
    }
    assert!(bench.type_in("lesson.0.steps.0.reef", "7").edits.is_some());
    // A number that no design could have is not used at all.
    let mut bench = taught("marsh-pippin", r#"[{"reef":99}]"#);
    let reef = step_field(&mut bench, "reef").unwrap();
    assert_eq!(reef.problem, "99 is not used; possible is 0 to 7.");
}

#[test]
fn of_several_sails_one_alone_is_reefed_and_its_lines_are_handled() {
    let two = design::demos()
        .iter()
        .find(|demo| open(&demo.text()).lessons()[0].steps[0].hoist.len() == 2);
    let key = two.unwrap().key;
    let steps = r#"[{"sail":"second","reef":2,"from":1,"line":"halyard"},{"reef":2},{"sail":"first","reef":12},{"sail":"third","reef":2}]"#;
    let mut bench = taught(key, steps);
    let shown = bench.lessons().remove(2).steps;
    assert_eq!(shown[0].hoist, [0.0, 2.0]);
    assert_eq!(shown[0].mast, 1);
    let drill = bench.drill(1, 2);
    let handled = shown[0].handled.as_ref().unwrap();
    assert!(!handled.value.is_empty() && !drill.is_empty());
    // All: as ever, and so where she has no such sail.
    assert_eq!(shown[1].hoist.iter().sum::<f64>(), 2.0);
    assert_eq!(shown[3].hoist, shown[1].hoist);
    assert!(shown[2].past && shown[3].past && !shown[1].past);
    let all = bench.reef_table().rows.pop().unwrap().hoist;
    assert_eq!(shown[2].hoist, [all[0], 0.0]);

    let sail = step_field(&mut bench, "sail").unwrap();
    let names: Vec<_> = sail.options.iter().map(|option| &*option.label).collect();
    assert_eq!(names.len(), 3, "{names:?}");
    assert!(!names.contains(&"Second sail") && !names.contains(&"Third sail"));
    let reef = step_field(&mut bench, "reef").unwrap();
    assert_eq!(reef.most, all[1].to_string());
    let fourth = bench
        .fields(&["lesson.0.steps.3.sail".to_owned()])
        .remove(0);
    assert!(fourth.problem.contains("no such sail"), "{fourth:?}");
    // Made anew from its own copy it is the same.
    let copy = Edit::read_list(&bench.lesson_copy(2)).unwrap();
    bench.edit(&copy).unwrap();
    assert_eq!(bench.lessons()[3].steps, shown);
}

#[test]
fn without_a_sail_ready_lessons_are_empty() {
    let mut bench = demo("marsh-pippin");
    bench
        .edit(&Edit::read_list(r#"[["masts",null]]"#).unwrap())
        .unwrap();
    assert!(bench.lessons().iter().all(|lesson| lesson.steps.is_empty()));
}

#[test]
fn hostile_designs_have_lessons_or_no_sail() {
    // Knuth's numbers: the same designs every time.
    let mut seed = 7_u64;
    let mut dice = move |sides: usize| {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % sides
    };
    let mut stood = 0;
    for _ in 0..30 {
        let mut bench = demo(design::demos()[dice(3)].key);
        bench
            .edit(&Edit::read_list(&bench.lesson_copy(0)).unwrap())
            .unwrap();
        for _ in 0..dice(12) {
            let row = &bounds::ROWS[dice(bounds::ROWS.len())];
            let share = dice(1000) as f64 / 999.0;
            let number = row.hard_least + share * (row.hard_most - row.hard_least);
            let value = match row.kind {
                Kind::Number => number.into(),
                Kind::Whole => (number.round() as i64).into(),
                Kind::Flag => (dice(2) > 0).into(),
                Kind::Choice(words) => words[dice(words.len())].into(),
                Kind::Words => "é\n".repeat(300).into(),
            };
            // What makes no document changes none.
            let _ = bench.edit(&[Edit::value(row.path.replace("[]", ".0"), value)]);
        }
        let lessons = bench.lessons();
        let stands = bench.headline()[0].value != "–";
        stood += usize::from(stands);
        for (which, lesson) in lessons.iter().enumerate() {
            assert!(
                which > 1 || !stands || !lesson.steps.is_empty(),
                "{}",
                bench.text()
            );
            for at in 0..lesson.steps.len() {
                look(&mut bench, lesson, at);
                assert!(bench.lesson_figures().len() > 2);
                assert!(!bench.scene(300.0, 200.0).items.is_empty());
            }
            assert!(bench.lesson_copy(which).contains("steps"));
        }
    }
    assert!(stood > 10, "{stood}");
}
