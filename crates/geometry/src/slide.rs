//! The place of a folded stack: a small bounded least-squares problem, solved exactly.
//!
//! Spars 0..=k lie one upon another. Unknown is `x[i]`, how far spar i lies aft of its reference,
//! along the spar. Cloth bounds the differences x[i] - x[i-1], parrels bound each x[i], and the
//! preference is
//!
//!   least  w_top (x[k] - wanted)² + w_boom x[0]².
//!
//! A chain of bounded differences between boxes is a *zone*: once the boxes are tightened by one
//! sweep up and one sweep down, what is left for (x[0], x[k]) is a box cut by one strip, and the
//! optimum of a separable square over it has a closed form. No iteration, no tolerance.

use crate::MOST_PANELS;
use crate::order::{greater, lesser};

/// A closed interval [least, most].
pub type Span = (f64, f64);

/// The problem: boxes for each spar, spans for each difference, and what is preferred.
#[derive(Clone, Copy, Debug)]
pub struct Stack<'a> {
    /// Where each lying spar may be, boom first; k + 1 entries.
    pub boxes: &'a [Span],
    /// Slide of each upper spar on the one below; k entries.
    pub slides: &'a [Span],
    /// Where the topmost lying spar would best be.
    pub wanted: f64,
    /// Weight of that wish.
    pub weight_top: f64,
    /// Weight of the boom staying at 0.
    pub weight_boom: f64,
}

/// The answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Places {
    /// Place of each lying spar; entries past k repeat x[k].
    pub x: [f64; MOST_PANELS + 1],
    /// How far every box had to be widened before any place satisfied the cloth; 0 when none.
    pub excess: f64,
}

/// Solves the stack. Total: an empty list of boxes gives zeros.
pub fn settle(stack: &Stack<'_>) -> Places {
    let n = stack
        .boxes
        .len()
        .min(stack.slides.len() + 1)
        .min(MOST_PANELS + 1);
    let mut places = Places {
        x: [0.0; MOST_PANELS + 1],
        excess: 0.0,
    };
    let (Some(top), Some(slides)) = (n.checked_sub(1), stack.slides.get(..n.saturating_sub(1)))
    else {
        return places;
    };
    let mut boxes = [(0.0, 0.0); MOST_PANELS + 1];
    let boxes = &mut boxes[..n];
    boxes.copy_from_slice(&stack.boxes[..n]);
    places.excess = sweep_up(boxes, slides);
    if places.excess > 0.0 {
        // A hair of room keeps rounding from emptying a box that touches at one point.
        let room = places.excess + 1e-12;
        for (to, from) in boxes.iter_mut().zip(stack.boxes) {
            *to = (from.0 - room, from.1 + room);
        }
        sweep_up(boxes, slides);
    }
    let highest = boxes[top];
    let lowest = boxes[..top]
        .iter()
        .zip(slides)
        .rfold(highest, |above, (own, slide)| under(above, *slide, *own));

    let summed = slides
        .iter()
        .fold((0.0, 0.0), |s, d| (s.0 + d.0, s.1 + d.1));
    let mut first = within(0.0, lowest);
    let mut last = within(stack.wanted, highest);
    let strip = within(last - first, summed);
    if strip != last - first {
        // The strip binds: the optimum lies on its edge x[k] = x[0] + strip.
        let total = stack.weight_top + stack.weight_boom;
        let share = if total > 0.0 {
            stack.weight_top / total
        } else {
            0.0
        };
        let edge = (
            greater(lowest.0, highest.0 - strip),
            lesser(lowest.1, highest.1 - strip),
        );
        first = within(share * (stack.wanted - strip), edge);
        last = first + strip;
    }

    // Between the ends the slides are shared out as evenly as the spans allow: each box shrinks
    // to where its spar may be if the top is to end at `last`.
    let mut above = (last, last);
    boxes[top] = above;
    for (own, slide) in boxes[..top].iter_mut().zip(slides).rev() {
        above = under(above, *slide, *own);
        *own = above;
    }
    let mut below = first;
    let mut left = top as f64;
    places.x = [last; MOST_PANELS + 1];
    places.x[0] = first;
    for ((x, reachable), slide) in places.x[1..].iter_mut().zip(&boxes[1..]).zip(slides) {
        let even = below + (last - below) / left;
        below = within(even, meet(*reachable, (below + slide.0, below + slide.1)));
        *x = below;
        left -= 1.0;
    }
    places
}

/// Tightens every box by the ones below it, and tells the least widening of all boxes that makes
/// the chain possible; 0 when it is.
///
/// A system of differences is possible exactly when no cycle is negative; the chain alone is, so
/// only cycles through two boxes count, and each needs half of what it lacks. Of all boxes below
/// the tightest, carried up, lacks most:
///
///   excess = ½ max over i <= j of low_i + Σ least - high_j and low_j - (high_i + Σ most).
fn sweep_up(boxes: &mut [Span], slides: &[Span]) -> f64 {
    let Some((first, rest)) = boxes.split_first_mut() else {
        return 0.0;
    };
    let mut below = *first;
    let mut lacking = greater(0.0, below.0 - below.1);
    for (own, slide) in rest.iter_mut().zip(slides) {
        let (low, high) = *own;
        below = (
            greater(low, below.0 + slide.0),
            lesser(high, below.1 + slide.1),
        );
        lacking = greater(lacking, greater(below.0 - high, low - below.1));
        *own = below;
    }
    0.5 * lacking
}

/// Where a spar may be under one that is somewhere in `above`.
fn under(above: Span, slide: Span, own: Span) -> Span {
    meet(own, (above.0 - slide.1, above.1 - slide.0))
}

fn meet(a: Span, b: Span) -> Span {
    let (low, high) = (greater(a.0, b.0), lesser(a.1, b.1));
    if low <= high {
        (low, high)
    } else {
        let middle = 0.5 * (low + high);
        (middle, middle)
    }
}

/// `clamp` that never panics, whatever the span.
fn within(x: f64, span: Span) -> f64 {
    lesser(greater(x, span.0), span.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn cost(stack: &Stack<'_>, first: f64, last: f64) -> f64 {
        stack.weight_top * (last - stack.wanted).powi(2) + stack.weight_boom * first.powi(2)
    }

    proptest! {
        /// Against brute force: no point of a fine grid over the allowed zone is better.
        #[test]
        fn no_allowed_place_is_better(
            spans in prop::collection::vec((-0.2..0.2f64, 0.0..0.2f64), 1..5),
            travel in 0.01..0.5f64, wanted in -1.0..1.0f64, weight_boom in 0.01..1.0f64,
        ) {
            let slides: Vec<Span> = spans.iter().map(|(l, w)| (*l, l + w)).collect();
            let boxes = vec![(-travel, travel); slides.len() + 1];
            let stack = Stack { boxes: &boxes, slides: &slides, wanted, weight_top: 1.0, weight_boom };
            let places = settle(&stack);
            let wide = places.excess + 1e-9;
            for (i, x) in places.x[..boxes.len()].iter().enumerate() {
                prop_assert!(*x >= boxes[i].0 - wide && *x <= boxes[i].1 + wide);
                if i > 0 {
                    let s = x - places.x[i - 1];
                    prop_assert!(s >= slides[i - 1].0 - 1e-9 && s <= slides[i - 1].1 + 1e-9);
                }
            }
            if places.excess > 0.0 { return Ok(()); }
            let best = cost(&stack, places.x[0], places.x[boxes.len() - 1]);
            let steps = 200;
            for step in 0..=steps {
                let first = -travel + 2.0 * travel * f64::from(step) / f64::from(steps);
                // Where the top may be, from this boom place, by plain interval arithmetic.
                let mut at = (first, first);
                let mut possible = true;
                for (slide, bound) in slides.iter().zip(&boxes[1..]) {
                    at = ((at.0 + slide.0).max(bound.0), (at.1 + slide.1).min(bound.1));
                    possible &= at.0 <= at.1;
                }
                if possible {
                    let last = wanted.max(at.0).min(at.1);
                    prop_assert!(cost(&stack, first, last) >= best - 1e-9);
                }
            }
        }
    }

    #[test]
    fn forced_slides_bring_the_boom_forward_and_leave_the_sail() {
        let slides = [(0.03, 0.2); 3];
        let boxes = [(-0.2, 0.2); 4];
        let places = settle(&Stack {
            boxes: &boxes,
            slides: &slides,
            wanted: 0.0,
            weight_top: 1.0,
            weight_boom: 0.0,
        });
        assert_eq!(places.excess, 0.0);
        assert!((places.x[3] - 0.0).abs() < 1e-12, "{:?}", places.x);
        assert!((places.x[0] + 0.09).abs() < 1e-12);
    }

    #[test]
    fn travel_too_short_for_the_cloth_is_told() {
        let slides = [(0.1, 0.1); 4];
        let boxes = [(-0.1, 0.1); 5];
        let places = settle(&Stack {
            boxes: &boxes,
            slides: &slides,
            wanted: 0.0,
            weight_top: 1.0,
            weight_boom: 0.1,
        });
        assert!((places.excess - 0.1).abs() < 1e-9);
        assert!((places.x[4] - places.x[0] - 0.4).abs() < 1e-9);
    }
}
