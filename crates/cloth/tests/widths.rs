//! Widths of a piece against the roll as it is laid.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

mod sails;

use cloth::outline::area;
use cloth::widths::{across, strip};
use cloth::{For, Pockets, Warp};

#[test]
fn widths_are_those_that_lie_on_the_roll_and_their_seams_are_as_long() {
    let mut seen = 0;
    for (roll, warp) in [(1.37, Warp::Fitting), (0.9, Warp::Leech)] {
        for mut input in sails::all(&sails::marsh_pippin()) {
            (input.cloth.roll, input.cloth.warp) = (roll, warp);
            input.sewing.pockets = Pockets::Strips;
            let patterns = input.patterns();
            let cutting = input.cutting(&patterns, 0);
            let layout = cutting.layout.clone().unwrap();
            let seams = input.width_seams(&cutting);
            assert!((seams - layout.seams).abs() < 1e-6, "{seams}");
            // Sewing is the same with a roll laid out and without.
            let bare = input.blanks(&patterns);
            let sewing = |cutting| input.bill(&patterns, cutting).sewing;
            assert!((sewing(&cutting) - sewing(&bare)).abs() < 1e-9);
            for (i, blank) in cutting.blanks.iter().enumerate() {
                let widths = input.widths(blank);
                for laid in layout.laid.iter().filter(|laid| laid.blank == i) {
                    assert_eq!(laid.widths, widths.len());
                    let part = strip(&blank.outline, across(blank.warp), widths[laid.width]);
                    let (cut, lies) = (area(&part), area(&laid.outline));
                    assert!((cut - lies).abs() < 1e-5, "{cut} {lies}");
                }
                if let For::Piece(n) = cutting.of[i] {
                    let laps = input.laps(&patterns.pieces[n]);
                    assert_eq!(laps.len() + 1, widths.len());
                    seen += laps.len();
                    for lap in laps {
                        // A seam apart, and about as long as what is sewn.
                        let [a, b] = lap.selvages;
                        let way = across(blank.warp);
                        let apart = way.dot(b[0] - a[0]);
                        assert!((apart - input.sewing.seam).abs() < 1e-9, "{apart}");
                        let long = lap.sewn[0].distance(lap.sewn[1]);
                        assert!(long > 0.0 && long <= a[0].distance(a[1]) + 0.1);
                    }
                }
            }
        }
    }
    assert!(seen > 20, "{seen}");
}
