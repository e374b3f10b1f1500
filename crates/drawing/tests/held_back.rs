//! A number that a class is asked for stands on no plot, and cannot be read off one.

mod boats;

use boats::{Boat, boats_and_others};
use design::{Shown, View};
use drawing::scene::Item;
use drawing::{Plot, Scene};

fn drawn(boat: &Boat, which: Plot<'_>, wind: f64, heel: bool) -> Scene {
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
    boat.plot(which, &view, 0, (420.0, 320.0))
}

fn words(scene: &Scene) -> Vec<&str> {
    let words = scene.items.iter().filter_map(|item| match item {
        Item::Words(words) => Some(words.words.as_str()),
        Item::Figure(_) => None,
    });
    words.collect()
}

#[test]
fn her_heel_is_not_told_while_it_is_asked_for() {
    let mut held_back = 0;
    for boat in boats_and_others() {
        for wind in [0.0, 4.0, 9.0, 25.0] {
            for which in [Plot::Stern, Plot::Righting] {
                let stern = matches!(which, Plot::Stern);
                let told = drawn(&boat, which, wind, true);
                let which = if stern { Plot::Stern } else { Plot::Righting };
                let asked = drawn(&boat, which, wind, false);
                if boat.account.boat.loadings.iter().all(Option::is_none) {
                    assert_eq!(told, asked);
                    continue;
                }
                assert!(words(&asked).iter().all(|w| words(&told).contains(w)));
                let fewer = words(&told).len() - words(&asked).len();
                assert!(fewer > 0);
                // From astern neither word nor scale; the curve keeps its axes.
                assert!(!stern || !words(&asked).iter().any(|w| w.contains('°')));
                held_back += fewer;
            }
        }
        // Whatever the wind, she is drawn alike.
        let figures = |wind: f64| {
            let mut items = drawn(&boat, Plot::Stern, wind, false).items;
            items.retain(|item| matches!(item, Item::Figure(_)));
            items
        };
        assert_eq!(figures(4.0), figures(9.0));
    }
    assert!(held_back >= 30, "{held_back}");
}
