//! The cloth's drawings by the names the page has for them, without a browser.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used)]

use battenwright_site::bench::Bench;
use quantities::Catalogue;

#[test]
fn a_drawing_of_the_cloth_is_of_the_panel_named() {
    let demos = design::demos();
    let demo = demos
        .iter()
        .find(|demo| demo.key == "marsh-pippin")
        .unwrap();
    let mut bench = Bench::open(&demo.text(), Catalogue::english())
        .unwrap_or_else(|(problem, _)| panic!("{problem:?}"));
    let mut drawn = |name: &str| bench.plot(name, 358.0, 640.0);
    for kind in ["cloth-section", "cloth-surface"] {
        let panels = [1, 6].map(|panel| drawn(&format!("{kind}{panel}")));
        assert!(panels[0] != panels[1]);
        for scene in panels {
            assert!(scene.items.len() > 12, "{kind}");
        }
        // There is none of that number.
        for none in ["0", "99", "", "x"] {
            assert!(
                drawn(&format!("{kind}{none}")).items.len() < 4,
                "{kind}{none}"
            );
        }
    }
    // All five, on both tacks, which are named once.
    let ways = drawn("cloth-ways").description;
    assert_eq!(ways.matches("wind from port").count(), 1, "{ways}");
    for name in [
        "Flat",
        "Cambered panels",
        "Wing",
        "Split panels",
        "Paired curved battens",
    ] {
        assert!(ways.contains(name), "{name}: {ways}");
    }
}
