//! Outlines: what is cut round what is sewn.

use kurbo::{Point, Vec2};

/// Shorter than this an edge is a corner [m].
const NO_EDGE: f64 = 1e-6;

/// The line to cut along: every edge, counter-clockwise, moved outward by its allowance [m]. Corners run out to where the moved
/// edges meet; where that is further than three allowances off (the tips of a lens) they are cut blunt, an allowance beyond.
pub(crate) fn cut_line(edges: &[(&[Point], f64)]) -> Vec<Point> {
    let mut moved: Vec<(Vec<Point>, f64)> = Vec::new();
    for (points, by) in edges {
        let line = offset(points, *by);
        if line.len() > 1 {
            moved.push((line, *by));
        }
    }
    let mut cut = Vec::new();
    let n = moved.len();
    for i in 0..n {
        let (line, by) = &moved[i];
        let (next, next_by) = &moved[(i + 1) % n];
        // All but the last point, which the corner replaces; the first belongs to the corner before.
        cut.extend(line.iter().skip(1).take(line.len() - 2));
        let (end, start) = (line[line.len() - 1], next[0]);
        let a = way(line[line.len() - 2], end);
        let b = way(start, next[1]);
        let turn = a.cross(b);
        let reach = 3.0 * by.max(*next_by) + NO_EDGE;
        let ahead = (start - end).cross(b) / turn;
        let back = (start - end).cross(a) / turn;
        if turn.abs() > 1e-9 && ahead.abs() <= reach && back.abs() <= reach {
            cut.push(end + a * ahead);
        } else if turn.abs() <= 1e-9 && a.dot(b) > 0.0 {
            cut.push(end);
            cut.push(start);
        } else {
            cut.push(end + a * *by);
            cut.push(start - b * *next_by);
        }
    }
    cut
}

fn way(from: Point, to: Point) -> Vec2 {
    let way = to - from;
    way / way.hypot().max(1e-12)
}

/// A line moved to its right, its corners mitred.
fn offset(points: &[Point], by: f64) -> Vec<Point> {
    let mut line: Vec<Point> = Vec::new();
    for p in points {
        if line.last().is_none_or(|l| l.distance(*p) > NO_EDGE) {
            line.push(*p);
        }
    }
    let n = line.len();
    let right = |w: Vec2| Vec2::new(w.y, -w.x);
    (0..n)
        .map(|i| {
            let before = way(line[i.saturating_sub(1)], line[i.max(1).min(n - 1)]);
            let after = way(line[i.min(n.saturating_sub(2))], line[(i + 1).min(n - 1)]);
            let mean = right(before + after);
            // |before + after|² = 2 (1 + cos): the mitre is by / cos of half the turn.
            let stretch = 2.0 * by / mean.hypot2().max(0.5);
            line[i] + mean * stretch
        })
        .collect()
}

/// Area within a closed outline [m²], counter-clockwise positive (shoelace).
pub fn area(outline: &[Point]) -> f64 {
    let n = outline.len();
    let Some(origin) = outline.first() else {
        return 0.0;
    };
    (0..n)
        .map(|i| 0.5 * (outline[i] - *origin).cross(outline[(i + 1) % n] - *origin))
        .sum()
}
