//! Advance widths of our own letters, so that a drawing knows how long its words are.
//!
//! Font: Battenwright, a subset of Barlow (SIL Open Font License, `www/fonts/OFL.txt`). The widths
//! are those of its own `hmtx` table, in thousandths of the type size. Kerning is left out: notes
//! are short, and a box a hair too wide keeps its neighbours off.

use crate::scene::Weight;

/// Lettering is never smaller than this [px].
pub const LEAST_SIZE: f64 = 12.0;

/// Height of capitals and figures above the baseline, share of the type size.
pub const CAP_HEIGHT: f64 = 0.70;

/// Depth of tails below the baseline, share of the type size.
pub const TAIL_DEPTH: f64 = 0.20;

/// Width of a letter the font does not hold: another font stands in, so this is generous.
const UNKNOWN: u16 = 700;

/// Length of words on the line [px], for a type size [px].
pub fn width(words: &str, size: f64, weight: Weight) -> f64 {
    let thousandths: u32 = words
        .chars()
        .map(|letter| u32::from(advance(letter, weight)))
        .sum();
    f64::from(thousandths) * size / 1000.0
}

/// Advance of one letter, thousandths of the type size.
fn advance(letter: char, weight: Weight) -> u16 {
    let column = match weight {
        Weight::Regular => 0,
        Weight::Strong => 1,
    };
    let code = u32::from(letter);
    let plain = code
        .checked_sub(0x20)
        .and_then(|place| ASCII.get(place as usize));
    let widths = plain.copied().or_else(|| {
        let place = OTHERS
            .binary_search_by_key(&letter, |(other, _, _)| *other)
            .ok()?;
        OTHERS
            .get(place)
            .map(|(_, regular, strong)| [*regular, *strong])
    });
    widths.map_or(UNKNOWN, |pair| pair[column])
}

/// Regular and strong advance of U+0020 to U+007E; the font has no `$*@[\]^`, backtick, `{|}~`.
#[rustfmt::skip]
static ASCII: [[u16; 2]; 95] = [
    [200, 200], [319, 335], [263, 325], [659, 677], [700, 700], [848, 833], [658, 688], [132, 155],
    [261, 316], [261, 316], [700, 700], [500, 491], [264, 265], [394, 404], [278, 273], [400, 447],
    [527, 538], [527, 538], [527, 538], [527, 538], [527, 538], [527, 538], [527, 538], [527, 538],
    [527, 538], [527, 538], [339, 355], [311, 314], [500, 491], [500, 491], [500, 491], [461, 500],
    [700, 700], [607, 648], [627, 622], [607, 608], [618, 618], [605, 592], [568, 563], [613, 613],
    [654, 637], [259, 262], [577, 581], [611, 620], [568, 571], [715, 715], [676, 669], [622, 621],
    [592, 595], [576, 587], [612, 613], [584, 591], [569, 579], [648, 636], [589, 610], [878, 878],
    [589, 616], [567, 599], [549, 554], [700, 700], [700, 700], [700, 700], [700, 700], [484, 509],
    [700, 700], [511, 522], [546, 559], [520, 531], [546, 559], [533, 541], [356, 376], [535, 549],
    [539, 544], [255, 255], [245, 251], [501, 522], [230, 239], [827, 829], [539, 544], [545, 556],
    [552, 563], [552, 563], [364, 376], [481, 493], [364, 374], [536, 541], [475, 504], [721, 761],
    [477, 516], [461, 489], [445, 455], [700, 700], [700, 700], [700, 700], [700, 700],
];

/// All other letters of the font, by code point.
#[rustfmt::skip]
static OTHERS: [(char, u16, u16); 55] = [
    ('\u{a0}', 200, 200), ('°', 381, 378), ('±', 500, 491), ('²', 326, 337), ('³', 322, 323),
    ('·', 210, 226), ('¼', 806, 819), ('½', 796, 800), ('¾', 901, 911), ('À', 607, 648),
    ('Â', 607, 648), ('Ä', 607, 648), ('Ç', 607, 608), ('È', 605, 592), ('É', 605, 592),
    ('Ê', 605, 592), ('Î', 259, 262), ('Ô', 622, 621), ('Ö', 622, 621), ('×', 422, 437),
    ('Û', 648, 636), ('Ü', 648, 636), ('ß', 557, 568), ('à', 510, 522), ('â', 510, 522),
    ('ä', 510, 522), ('ç', 520, 531), ('è', 533, 540), ('é', 533, 540), ('ê', 533, 540),
    ('î', 212, 228), ('ô', 536, 545), ('ö', 536, 545), ('ù', 539, 544), ('û', 539, 544),
    ('ü', 539, 544), ('–', 450, 467), ('—', 685, 668), ('‘', 140, 181), ('’', 140, 181),
    ('“', 267, 329), ('”', 267, 329), ('…', 795, 831), ('′', 600, 600), ('″', 324, 373),
    ('⁄', 235, 226), ('⅛', 733, 738), ('⅜', 871, 871), ('⅝', 851, 858), ('⅞', 827, 838),
    ('←', 648, 639), ('→', 648, 639), ('−', 500, 491), ('≤', 500, 491), ('≥', 500, 491),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_tabular_so_a_number_keeps_its_length_while_it_changes() {
        for weight in [Weight::Regular, Weight::Strong] {
            let zero = width("0", 1000.0, weight);
            for figure in '1'..='9' {
                assert_eq!(width(&figure.to_string(), 1000.0, weight), zero);
            }
        }
    }

    /// Read off the font's `hmtx` table: "4.43 m" is 3 figures, point, space and m.
    #[test]
    fn words_are_as_long_as_their_letters_together() {
        let expected = 3.0 * 527.0 + 278.0 + 200.0 + 827.0;
        assert!((width("4.43 m", 1000.0, Weight::Regular) - expected).abs() < 1e-9);
        assert!((width("4.43 m", 12.0, Weight::Regular) - expected * 0.012).abs() < 1e-12);
    }

    #[test]
    fn letters_outside_ascii_are_found_and_strangers_are_given_room() {
        for (letter, regular, strong) in &OTHERS {
            assert_eq!(advance(*letter, Weight::Regular), *regular);
            assert_eq!(advance(*letter, Weight::Strong), *strong);
        }
        assert_eq!(advance('\u{6f22}', Weight::Regular), UNKNOWN);
    }
}
