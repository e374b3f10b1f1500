//! Stock: spars cut from bars of set lengths, and where those that are longer than a bar are joined.

/// A length that can be bought.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Stock {
    /// Length [m].
    pub length: f64,
    /// Price of one, if told.
    pub price: Option<f64>,
}

/// A bar with what is cut from it.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Bar {
    /// Number of the stock.
    pub stock: usize,
    /// Numbers of the pieces.
    pub pieces: Vec<usize>,
    /// Left over [m].
    pub left: f64,
}

/// How to cut.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Cutting {
    /// Bars to buy.
    pub bars: Vec<Bar>,
    /// All bars together [m].
    pub length: f64,
    /// What is left over [m].
    pub waste: f64,
    /// Price, where every bar has one.
    pub price: Option<f64>,
}

/// Most pieces and most stock lengths.
pub const MOST: (usize, usize) = (200, 64);

/// Cuts pieces [m] from stock with a kerf [m] a cut.
///
/// Longest first, each into the fullest bar that takes it (best fit, decreasing: never more than 11/9 of the least number of
/// bars and a bar); tried with every stock length as the one that is opened first, every bar then taken as short as it may be.
/// The cheapest, else the shortest in all. None where a piece is longer than all stock, or a number is none.
pub fn cut(pieces: &[f64], stock: &[Stock], kerf: f64) -> Option<Cutting> {
    let sound = |n: f64| n > 1e-3 && n < 1e3;
    if pieces.len() > MOST.0
        || stock.len() > MOST.1
        || !pieces.iter().all(|p| sound(*p))
        || !stock.iter().all(|s| sound(s.length))
        || !(0.0..0.1).contains(&kerf)
    {
        return None;
    }
    let mut best: Option<Cutting> = None;
    for first in stock {
        if let Some(found) = fill(pieces, stock, first.length, kerf) {
            let better = best.as_ref().is_none_or(|b| match (found.price, b.price) {
                (Some(new), Some(old)) if new != old => new < old,
                _ => found.length < b.length,
            });
            if better {
                best = Some(found);
            }
        }
    }
    best
}

fn fill(pieces: &[f64], stock: &[Stock], opened: f64, kerf: f64) -> Option<Cutting> {
    // Room includes one kerf: the last piece of a bar needs none.
    let mut bars: Vec<(f64, Vec<usize>)> = Vec::new();
    let mut done = vec![false; pieces.len()];
    for _ in 0..pieces.len() {
        let mut longest: Option<usize> = None;
        for (i, p) in pieces.iter().enumerate() {
            if !done[i] && longest.is_none_or(|l| *p > pieces[l]) {
                longest = Some(i);
            }
        }
        let i = longest?;
        done[i] = true;
        let takes = pieces[i] + kerf;
        let mut fullest: Option<usize> = None;
        for (k, (room, _)) in bars.iter().enumerate() {
            if *room >= takes - 1e-9 && fullest.is_none_or(|f| *room < bars[f].0) {
                fullest = Some(k);
            }
        }
        if let Some(k) = fullest {
            bars[k].0 -= takes;
            bars[k].1.push(i);
        } else {
            let mut length = opened;
            if pieces[i] > opened + 1e-9 {
                // The shortest that is long enough.
                let long = stock.iter().filter(|s| s.length >= pieces[i] - 1e-9);
                length = long.fold(f64::INFINITY, |least, s| least.min(s.length));
            }
            if !length.is_finite() {
                return None;
            }
            bars.push((length + kerf - takes, vec![i]));
        }
    }
    let mut cutting = Cutting {
        price: Some(0.0),
        ..Cutting::default()
    };
    for (_, list) in bars {
        let mut used = -kerf;
        for i in &list {
            used += pieces[*i] + kerf;
        }
        let mut shortest: Option<usize> = None;
        for (k, s) in stock.iter().enumerate() {
            let cheaper = |old: &Stock| match (s.price, old.price) {
                (Some(new), Some(old)) if new != old => new < old,
                _ => s.length < old.length,
            };
            if s.length >= used - 1e-9 && shortest.is_none_or(|o| cheaper(&stock[o])) {
                shortest = Some(k);
            }
        }
        let s = shortest?;
        cutting.length += stock[s].length;
        cutting.waste += stock[s].length - used;
        cutting.price = cutting.price.zip(stock[s].price).map(|(a, b)| a + b);
        cutting.bars.push(Bar {
            stock: s,
            pieces: list,
            left: stock[s].length - used,
        });
    }
    Some(cutting)
}

/// Places for joints in a spar longer than its stock [m from the luff end], fewest that serve; none needed, none given.
///
/// Each as far as may be from the mast, the middle between mast and sheet (where a batten is bent most), the ends and
/// the joint before, within what the stock reaches; `most` [m] is what one length of stock covers, overlap taken off. None where
/// more than seven lengths would be needed, or a number is none.
pub fn joints(length: f64, most: f64, mast: f64, sheet: f64) -> Option<Vec<f64>> {
    if !(length > 0.0 && most > 1e-3 && length / most <= 7.0 && mast.is_finite()) {
        return None;
    }
    if !sheet.is_finite() {
        return None;
    }
    let count = (length / most - 1e-9).ceil();
    let mut places: Vec<f64> = Vec::new();
    let middle = 0.5 * (mast + sheet);
    let mut left = count - 1.0;
    let mut last = 0.0;
    while left >= 1.0 {
        let least = (length - left * most)
            .max(last + 0.05 * most)
            .min(last + most);
        let furthest = (last + most).min(length);
        let mut best = (least, -1.0);
        for i in 0..=100 {
            let x = least + (furthest - least) * 0.01 * f64::from(i);
            // Ends and other joints may come nearer than what is bent most.
            let away = (x - mast).abs().min((x - middle).abs());
            let away = away.min(2.0 * (length - x)).min(2.0 * (x - last));
            if away > best.1 + 1e-9 {
                best = (x, away);
            }
        }
        places.push(best.0);
        last = best.0;
        left -= 1.0;
    }
    Some(places)
}
