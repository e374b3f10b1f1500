//! Where numbers come from, for the dossier's last sheet. DEVELOPERS.md has the same keys, and says more of each.

use quantities::Basis;

/// One source.
#[derive(Clone, Copy, Debug)]
pub struct Source {
    /// Its key in DEVELOPERS.md; the words of `source.` and the key name it.
    pub word: &'static str,
    /// What kind of source it is.
    pub kind: Basis,
    /// Letters of the parts whose numbers come from it: `i` particulars, `p` plan, `r` reefs, `l` lines, `s` spars, `c` cloth, `b` balance.
    pub parts: &'static str,
}

const PRINTED: Basis = Basis::Published("");

macro_rules! sources {
    ($($key:literal $kind:expr, $parts:literal;)*) => {
        /// Every source that a number of the dossier rests on.
        pub static SOURCES: &[Source] = &[$(Source {
            word: concat!("source.", $key),
            kind: $kind,
            parts: $parts,
        }),*];
    };
}

sources! {
    "textbook" PRINTED, "prslcb";
    "abramowitz-stegun" PRINTED, "prc";
    "nist-811" PRINTED, "iprlscb";
    "iso-2533" PRINTED, "lscb";
    "wmo" PRINTED, "sb";
    "cfr-46" PRINTED, "lsb";
    "derrett-barrass" PRINTED, "b";
    "iso-12217" PRINTED, "ib";
    "mca-pyc" PRINTED, "b";
    "fritsch-carlson" PRINTED, "cb";
    "student" PRINTED, "b";
    "denny-mumford" PRINTED, "b";
    "engineering-tables" PRINTED, "l";
    "rope-makers" PRINTED, "l";
    "boyd-vandenberghe" PRINTED, "l";
    "wood-handbook" PRINTED, "s";
    "en-338" PRINTED, "s";
    "en-1990" PRINTED, "s";
    "en-1999" PRINTED, "s";
    "astm-b221" PRINTED, "s";
    "ply-lists" PRINTED, "s";
    "nasa-sp-8007" PRINTED, "s";
    "timoshenko" PRINTED, "s";
    "zick" PRINTED, "s";
    "nasa-4741" PRINTED, "c";
    "sailmakers-ounce" PRINTED, "c";
    "derived" Basis::Derived, "prlscb";
    "common-practice" Basis::CommonPractice, "iprlscb";
}
