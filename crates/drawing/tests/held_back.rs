//! A number that a class is asked for stands on no plot.

mod boats;

use boats::boats_and_others;
use design::{Shown, View};
use drawing::Plot;
use drawing::scene::Item;

#[test]
fn her_heel_is_not_lettered_while_it_is_asked_for() {
    let mut held_back = 0;
    for boat in boats_and_others() {
        for wind in [0.0, 4.0, 9.0, 25.0] {
            for which in [Plot::Stern, Plot::Righting] {
                let words = |heel: bool| -> Vec<String> {
                    let usual = View::default();
                    let shown = Shown {
                        heel,
                        ..usual.shown
                    };
                    let view = View {
                        wind,
                        shown,
                        ..usual
                    };
                    let scene = boat.plot(which, &view, 0, (420.0, 320.0));
                    let words = scene.items.into_iter().filter_map(|item| match item {
                        Item::Words(words) => Some(words.words),
                        Item::Figure(_) => None,
                    });
                    words.collect()
                };
                let (told, asked) = (words(true), words(false));
                if boat.account.boat.loadings.iter().all(Option::is_none) {
                    assert_eq!(told, asked);
                    continue;
                }
                assert!(asked.iter().all(|word| told.contains(word)));
                // The angle, or that she is knocked down; by its band where one is known.
                let fewer = told.len() - asked.len();
                assert!((1..=2).contains(&fewer), "{told:?} {asked:?}");
                held_back += fewer;
            }
        }
    }
    assert!(held_back >= 30, "{held_back}");
}
