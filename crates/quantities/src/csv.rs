//! Comma-separated values (RFC 4180). Where decimals stand behind a comma a semicolon parts the cells: so
//! spreadsheets of that language write such files, and read them without asking.

use crate::Units;

/// Rows of cells, a line each.
pub struct Lines {
    /// The file so far.
    pub text: String,
    mark: char,
}

impl Lines {
    /// An empty file whose numbers are spelled in these units.
    pub const fn new(units: Units) -> Lines {
        Lines {
            text: String::new(),
            mark: if units.comma { ';' } else { ',' },
        }
    }

    /// A line. What a spreadsheet would take for a formula is made plain; a number keeps its sign.
    pub fn push(&mut self, cells: &[String]) {
        self.push_named(cells, &[]);
    }

    /// The same of two lists, one after the other.
    pub fn push_named(&mut self, words: &[String], numbers: &[String]) {
        for (i, cell) in words.iter().chain(numbers).enumerate() {
            if i > 0 {
                self.text.push(self.mark);
            }
            let quoted = cell.contains(['"', self.mark, '\r']);
            if quoted {
                self.text.push('"');
            }
            if is_formula(cell) {
                self.text.push('\'');
            }
            for letter in cell.chars() {
                match letter {
                    // What stands in two lines on paper.
                    '\n' => self.text.push(' '),
                    '"' => self.text.push_str("\"\""),
                    _ => self.text.push(letter),
                }
            }
            if quoted {
                self.text.push('"');
            }
        }
        self.text.push_str("\r\n");
    }
}

/// Whether a spreadsheet would work it out: it begins as a formula does and is more than a number with its sign.
fn is_formula(cell: &str) -> bool {
    let mut letters = cell.chars();
    match letters.next() {
        // A measure with its unit is none: nothing is reckoned in it.
        Some('-') => {
            !letters.next().is_some_and(|first| first.is_ascii_digit())
                || letters.any(|letter| {
                    matches!(
                        letter,
                        '+' | '-'
                            | '*'
                            | '/'
                            | '^'
                            | '&'
                            | '='
                            | '<'
                            | '>'
                            | '('
                            | '|'
                            | '!'
                            | '\''
                            | '"'
                    )
                })
        }
        Some(first) => matches!(first, '=' | '+' | '@' | '\t' | '\r' | '\n'),
        None => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The signs that OWASP's page on injection into comma-separated values names.
    #[test]
    fn what_would_be_a_formula_is_plain_and_a_number_keeps_its_sign() {
        let mut lines = Lines::new(Units::METRIC);
        let cells = [
            "=1+1",
            "@sum",
            "-1+cmd|' /C calc'!A0",
            "+1+1",
            "-0.35",
            "-3' 4\"",
            "-0.35 m",
            "-A1",
            "\t=1",
            "a=b",
        ];
        lines.push(&cells.map(str::to_owned));
        assert_eq!(
            lines.text,
            "'=1+1,'@sum,'-1+cmd|' /C calc'!A0,'+1+1,-0.35,\"'-3' 4\"\"\",-0.35 m,'-A1,'\t=1,a=b\r\n"
        );
    }
}
