//! Words a user reads: a key and arguments until shown, one flat catalogue per language.

use crate::units::{self, Units};
use crate::{Problem, Quantity};

/// One sentence to be said: a catalogue key and what goes into its places.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Text {
    /// Key in the catalogue. Where the argument `n` is a number the catalogue may hold
    /// `key.one` and `key.many` instead.
    pub key: &'static str,
    /// What goes into the places `{name}` of the sentence.
    pub args: Vec<(&'static str, Arg)>,
}

/// What goes into one place of a sentence.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Arg {
    /// A result in document units: spelled with the decimals of its quantity and its unit.
    Measure(f64, &'static Quantity),
    /// A value someone typed, in document units: spelled with every digit it holds, and its unit.
    Given(f64, &'static Quantity),
    /// A count.
    Number(u32),
    /// Words that are not ours to translate: a name, what was typed, a source.
    Plain(String),
    /// Another word of the catalogue.
    Key(&'static str),
    /// A sentence within the sentence.
    Text(Box<Text>),
    /// A sentence within the sentence that depends on the units it is read in: metric, imperial.
    /// None = nothing is said.
    ByUnits(Box<[Option<Text>; 2]>),
}

impl From<String> for Arg {
    fn from(words: String) -> Arg {
        Arg::Plain(words)
    }
}

impl From<u32> for Arg {
    fn from(count: u32) -> Arg {
        Arg::Number(count)
    }
}

impl From<Text> for Arg {
    fn from(text: Text) -> Arg {
        Arg::Text(Box::new(text))
    }
}

impl From<(f64, &'static Quantity)> for Arg {
    fn from((value, quantity): (f64, &'static Quantity)) -> Arg {
        Arg::Measure(value, quantity)
    }
}

impl Text {
    /// A sentence without arguments.
    pub const fn new(key: &'static str) -> Text {
        Text {
            key,
            args: Vec::new(),
        }
    }

    /// The same sentence with one more place filled.
    #[must_use]
    pub fn with(mut self, name: &'static str, arg: impl Into<Arg>) -> Text {
        self.args.push((name, arg.into()));
        self
    }

    /// The same sentence with one more place filled by another word of the catalogue.
    #[must_use]
    pub fn with_key(self, name: &'static str, key: &'static str) -> Text {
        self.with(name, Arg::Key(key))
    }

    fn count(&self) -> Option<u32> {
        self.args.iter().find_map(|(name, arg)| match arg {
            Arg::Number(count) if *name == "n" => Some(*count),
            _ => None,
        })
    }
}

/// The words of one language.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Catalogue {
    /// Sorted by key.
    words: Vec<(String, String)>,
}

impl Catalogue {
    /// English, compiled in: for native programs and tests. The site hands every language over,
    /// English too, since the page has it already and the download should not hold it twice.
    #[cfg(not(all(target_arch = "wasm32", target_os = "unknown")))]
    pub fn english() -> Catalogue {
        // A test reads this file too, so it cannot be unreadable here; no words is no reason to stop.
        Catalogue::read(include_str!("../../../www/texts/en.json")).unwrap_or_default()
    }

    /// Reads a catalogue: one JSON object whose values are all strings. Of a key that stands
    /// twice the last counts.
    ///
    /// # Errors
    /// A [`Problem`] whose path is the last key that could be read.
    pub fn read(json: &str) -> Result<Catalogue, Problem> {
        let mut words: Vec<(String, String)> = Vec::new();
        let mut reader = Reader { rest: json };
        let mut last = String::new();
        if read_entries(&mut reader, &mut words, &mut last).is_none() {
            let text = Text::new("problem.catalogue").with("key", last.clone());
            return Err(Problem::refused(last, text));
        }
        Ok(Catalogue { words })
    }

    /// The sentence of a key as it stands in the catalogue, places unfilled.
    pub fn find(&self, key: &str) -> Option<&str> {
        let place = self
            .words
            .binary_search_by(|(k, _)| k.as_str().cmp(key))
            .ok()?;
        self.words.get(place).map(|(_, sentence)| sentence.as_str())
    }

    /// The word of a key; a missing key is its own word, so that it is seen and mended.
    pub fn word<'a>(&'a self, key: &'a str) -> &'a str {
        self.find(key).unwrap_or(key)
    }

    /// Key and sentence of every entry, sorted by key.
    pub fn entries(&self) -> impl Iterator<Item = (&str, &str)> {
        self.words
            .iter()
            .map(|(key, sentence)| (key.as_str(), sentence.as_str()))
    }

    /// The sentence in words, numbers in the user's units.
    pub fn say(&self, text: &Text, units: Units) -> String {
        let plural = text.count().and_then(|n| {
            self.find(&format!(
                "{}.{}",
                text.key,
                if n == 1 { "one" } else { "many" }
            ))
        });
        let mut rest = plural.unwrap_or_else(|| self.word(text.key));
        let mut said = String::with_capacity(rest.len() + 32);
        // By pieces: cutting at an index brings the words of a panic over a letter cut in two.
        while let Some((before, from_open)) = rest.split_once('{') {
            let Some((name, after)) = from_open.split_once('}') else {
                break;
            };
            said.push_str(before);
            match text.args.iter().find(|(n, _)| *n == name) {
                Some((_, arg)) => self.say_arg(arg, units, &mut said),
                // An unfilled place stays visible.
                None => said.extend(["{", name, "}"]),
            }
            rest = after;
        }
        said.push_str(rest);
        said
    }

    fn say_arg(&self, arg: &Arg, units: Units, said: &mut String) {
        match arg {
            Arg::Measure(value, quantity) => said.push_str(&quantity.say(*value, units)),
            Arg::Given(value, quantity) => said.push_str(&quantity.say_given(*value, units)),
            Arg::Number(count) => said.push_str(&units::fixed(f64::from(*count), 0)),
            Arg::Plain(words) => said.push_str(words),
            Arg::Key(key) => said.push_str(self.word(key)),
            // Sentences are built by our code alone, two deep at most.
            Arg::Text(text) => said.push_str(&self.say(text, units)),
            Arg::ByUnits(texts) => {
                let [metric, imperial] = texts.as_ref();
                let text = if units.imperial() { imperial } else { metric };
                if let Some(text) = text {
                    said.push_str(&self.say(text, units));
                }
            }
        }
    }
}

/// Reads every entry into its sorted place; none where the text is not a flat list of words.
fn read_entries(
    reader: &mut Reader<'_>,
    words: &mut Vec<(String, String)>,
    last: &mut String,
) -> Option<()> {
    reader.mark('{')?;
    if reader.mark('}').is_some() {
        return reader.end();
    }
    loop {
        let key = reader.string()?;
        last.clone_from(&key);
        reader.mark(':')?;
        let sentence = reader.string()?;
        // Our files are sorted, so this puts each entry at the end.
        match words.binary_search_by(|(other, _)| other.cmp(&key)) {
            Ok(place) => words.get_mut(place)?.1 = sentence,
            Err(place) => words.insert(place, (key, sentence)),
        }
        if reader.mark(',').is_none() {
            break;
        }
    }
    reader.mark('}')?;
    reader.end()
}

/// The little JSON that a flat list of strings needs. The reader of documents is a library's; a
/// second copy of it for this would be ten times as large in the wasm.
struct Reader<'a> {
    rest: &'a str,
}

impl Reader<'_> {
    fn skip_blanks(&mut self) {
        self.rest = self.rest.trim_start_matches([' ', '\n', '\r', '\t']);
    }

    fn mark(&mut self, mark: char) -> Option<()> {
        self.skip_blanks();
        self.rest = self.rest.strip_prefix(mark)?;
        Some(())
    }

    fn end(&mut self) -> Option<()> {
        self.skip_blanks();
        self.rest.is_empty().then_some(())
    }

    fn string(&mut self) -> Option<String> {
        self.mark('"')?;
        let mut out = String::new();
        let mut letters = self.rest.chars();
        loop {
            match letters.next()? {
                '"' => break,
                '\\' => out.push(match letters.next()? {
                    letter @ ('"' | '\\' | '/') => letter,
                    'n' => '\n',
                    't' => '\t',
                    'r' => '\r',
                    'b' => '\u{8}',
                    'f' => '\u{c}',
                    'u' => escaped(&mut letters)?,
                    _ => return None,
                }),
                letter if letter < ' ' => return None,
                letter => out.push(letter),
            }
        }
        self.rest = letters.as_str();
        Some(out)
    }
}

/// The letter of `\uXXXX`, or of two of them that make one letter.
fn escaped(letters: &mut std::str::Chars<'_>) -> Option<char> {
    let first = four_digits(letters)?;
    if !(0xd800..0xdc00).contains(&first) {
        return char::from_u32(first);
    }
    if (letters.next()?, letters.next()?) != ('\\', 'u') {
        return None;
    }
    let second = four_digits(letters)?
        .checked_sub(0xdc00)
        .filter(|low| *low < 0x400)?;
    char::from_u32(0x10000 + ((first - 0xd800) << 10) + second)
}

fn four_digits(letters: &mut std::str::Chars<'_>) -> Option<u32> {
    let mut number = 0;
    for _ in 0..4 {
        number = number * 16 + letters.next()?.to_digit(16)?;
    }
    Some(number)
}
