//! Paths that need more than their row: lists, the target area, the family, the table of spars.

use quantities::bounds::{MOST_MASTS, MOST_PANELS};

/// What stands at a path, where it is something special.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Place<'a> {
    /// The area of a mast's sail: typed, never stored.
    Area(usize),
    /// The plan family of a mast's sail.
    Family(usize),
    /// The number of panels of a mast's sail.
    Panels(usize),
    /// How many of them are in its head.
    HeadPanels(usize),
    /// One number of a list that follows a rule panel by panel: the list, and where in it.
    InList(&'a str, usize),
    /// A number of one spar of a table: the list of spars, and which.
    InTable(&'a str, usize),
    /// Nothing special.
    Plain,
}

impl<'a> Place<'a> {
    pub(crate) fn of(path: &'a str) -> Self {
        Self::special(path).unwrap_or(Self::Plain)
    }

    fn special(path: &'a str) -> Option<Self> {
        let (mast, leaf) = path.strip_prefix("masts.")?.split_once('.')?;
        let leaf = leaf.strip_prefix("sail.")?;
        let mast = index(mast, MOST_MASTS)?;
        match leaf {
            "area" => return Some(Self::Area(mast)),
            "family" => return Some(Self::Family(mast)),
            "panels" => return Some(Self::Panels(mast)),
            "head_panels" => return Some(Self::HeadPanels(mast)),
            _ => {}
        }
        if let Some(rest) = leaf.strip_prefix("spars.") {
            let spar = index(rest.split('.').next()?, MOST_PANELS + 1)?;
            let list = path.get(..path.len() - rest.len() - 1)?;
            return Some(Self::InTable(list, spar));
        }
        let (list, last) = path.rsplit_once('.')?;
        let by_panel = list.ends_with(".head_widths_pct") || list.ends_with(".head_steps");
        by_panel
            .then(|| index(last, MOST_PANELS))
            .flatten()
            .map(|i| Self::InList(list, i))
    }
}

/// A whole number below a limit.
fn index(digits: &str, limit: usize) -> Option<usize> {
    digits.parse().ok().filter(|number| *number < limit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn special_places_are_told_from_plain_ones() {
        assert_eq!(Place::of("masts.1.sail.area"), Place::Area(1));
        assert_eq!(Place::of("masts.0.sail.family"), Place::Family(0));
        assert_eq!(Place::of("masts.2.sail.panels"), Place::Panels(2));
        assert_eq!(Place::of("masts.1.sail.head_panels"), Place::HeadPanels(1));
        assert_eq!(
            Place::of("masts.0.sail.head_steps.2"),
            Place::InList("masts.0.sail.head_steps", 2)
        );
        assert_eq!(
            Place::of("masts.0.sail.spars.12.up_m"),
            Place::InTable("masts.0.sail.spars", 12)
        );
        for plain in [
            "masts.0.sail.chord_m",
            "masts.3.sail.area",
            "masts.0.sail.head_steps.12",
            "masts.0.sail.spars.13.up_m",
            "masts.0.sail.spars",
            "name",
            "",
        ] {
            assert_eq!(Place::of(plain), Place::Plain, "{plain}");
        }
    }
}
