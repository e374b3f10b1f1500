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

    /// Cells with words in them: those that a spreadsheet would take for a formula are made plain.
    pub fn push_words(&mut self, cells: &mut [String]) {
        self.push_named(cells, &[]);
    }

    /// The same with numbers after them, as they are.
    pub fn push_named(&mut self, words: &mut [String], numbers: &[String]) {
        for cell in &mut *words {
            if cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) {
                cell.insert(0, '\'');
            }
        }
        self.cells(words, false);
        self.cells(numbers, true);
        self.text.push_str("\r\n");
    }

    /// Cells as they are: numbers, whose minus sign is none of a formula.
    pub fn push(&mut self, cells: &[String]) {
        self.cells(cells, false);
        self.text.push_str("\r\n");
    }

    fn cells(&mut self, cells: &[String], more: bool) {
        for (i, cell) in cells.iter().enumerate() {
            if more || i > 0 {
                self.text.push(self.mark);
            }
            let quoted = cell.contains(['"', self.mark, '\r']);
            if quoted {
                self.text.push('"');
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
    }
}
