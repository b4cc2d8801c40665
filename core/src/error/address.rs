//! Where something stands in a bike: keys and rows, one step after the other.

use core::fmt::{self, Write as _};

use super::plain::is_active;

/// One step of an address.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Step {
    /// Into a table, by key.
    Key(String),
    /// Into a list, by row, counted from 0.
    Row(usize),
}

/// A path of steps from the whole bike to one of its values: `front.fork.leg[0].spring.rate`.
///
/// A key that holds a point, a bracket, a blank or a quote, or that is a number, stands in double quotes:
/// `masses."medical pack".rear`. A row may also be written `leg.0`. What would move the cursor of a terminal or turn the
/// direction of writing stands there as its escape, `"a\u{a}b"`.
///
/// Readings, changes and scenarios are counted from 1, as a person counts them and as every sentence and table does:
/// `reading 2.sag`. In brackets rows are counted from 0, as in code: `reading[1].sag` is the same place.
///
/// ```
/// use wheelrate::error::{Address, Step};
/// let address: Address = "front.fork.leg[0]".parse()?;
/// assert_eq!(address.steps()[3], Step::Row(0));
/// assert_eq!(address.key("spring"), "front.fork.leg[0].spring");
/// let address: Address = "reading[1].sag".parse()?;
/// assert_eq!(address.to_string(), "reading 2.sag");
/// assert_eq!(address, "reading 2.sag".parse::<Address>()?);
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Address(Vec<Step>);

impl Address {
    /// Most steps of an address; a bike has seven, and springs may be in springs.
    pub(crate) const DEEPEST: usize = 64;

    /// Reads an address; `None` for what is none.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let mut steps = Vec::new();
        let mut rest = text;
        while !rest.is_empty() {
            if steps.len() > Self::DEEPEST {
                return None;
            }
            if let Some(row) = rest.strip_prefix('[') {
                let (number, after) = row.split_once(']')?;
                steps.push(Step::Row(number.parse().ok()?));
                rest = after;
            } else if let Some(quoted) = rest.strip_prefix('"') {
                let (key, after) = unquoted(quoted)?;
                steps.push(Step::Key(key));
                rest = after;
            } else {
                let end = rest.find(['.', '[']).unwrap_or(rest.len());
                let (key, after) = rest.split_at(end);
                match counted(key).filter(|_| steps.is_empty()) {
                    Some((list, row)) => steps.extend([Step::Key(list.to_owned()), Step::Row(row)]),
                    None => steps.push(key.parse().map_or_else(|_| Step::Key(key.to_owned()), Step::Row)),
                }
                rest = after;
            }
            if let Some(after) = rest.strip_prefix('.') {
                if after.is_empty() {
                    return None;
                }
                rest = after;
            }
        }
        let empty = steps.iter().any(|step| matches!(step, Step::Key(key) if key.is_empty()));
        (!steps.is_empty() && !empty).then_some(Self(steps))
    }

    /// The address of a key in the table here.
    #[must_use]
    pub fn key(mut self, key: impl Into<String>) -> Self {
        self.0.push(Step::Key(key.into()));
        self
    }

    /// The address of a row in the list here.
    #[must_use]
    pub fn row(mut self, row: usize) -> Self {
        self.0.push(Step::Row(row));
        self
    }

    /// The steps, from the outside in.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.0
    }

    /// The address as far as it is shown: no key of it longer than a person writes, and no more steps than a bike has.
    pub(crate) fn shortened(mut self) -> Self {
        /// Longest key shown; the longest of ours has 20 characters.
        const LONGEST_KEY: usize = 60;
        /// Most steps shown; a bike has seven.
        const DEEPEST: usize = 16;
        self.0.truncate(DEEPEST);
        for step in &mut self.0 {
            if let Step::Key(key) = step
                && let Some((end, _)) = key.char_indices().nth(LONGEST_KEY)
            {
                key.truncate(end);
                key.push('…');
            }
        }
        self
    }

    /// Is it the whole bike?
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Does it lead to this place, or to something in it?
    #[must_use]
    pub fn starts_with(&self, outer: &Self) -> bool {
        self.0.starts_with(&outer.0)
    }
}

impl From<Vec<Step>> for Address {
    fn from(steps: Vec<Step>) -> Self {
        Self(steps)
    }
}

/// The key up to its closing quote, and what follows.
fn unquoted(text: &str) -> Option<(String, &str)> {
    let mut key = String::new();
    let mut symbols = text.char_indices();
    while let Some((_, symbol)) = symbols.next() {
        match symbol {
            '"' => return Some((key, symbols.as_str())),
            '\\' => match symbols.next()?.1 {
                'u' => {
                    let digits: String =
                        symbols.by_ref().skip(1).map(|(_, digit)| digit).take_while(|digit| *digit != '}').collect();
                    key.push(char::from_u32(u32::from_str_radix(&digits, 16).ok()?)?);
                }
                other => key.push(other),
            },
            other => key.push(other),
        }
    }
    None
}

/// Lists of the file whose rows a person counts, from 1.
const COUNTED: [&str; 3] = ["reading", "change", "scenario"];

/// The list and the row of `reading 2`.
fn counted(text: &str) -> Option<(&str, usize)> {
    let (list, number) = text.split_once(' ')?;
    let number: usize = number.trim().parse().ok()?;
    COUNTED.contains(&list).then_some(())?;
    Some((list, number.checked_sub(1)?))
}

/// Can a key stand without quotes?
fn is_plain(key: &str) -> bool {
    let sign = |symbol| matches!(symbol, '.' | '[' | '"' | ' ' | '\\') || is_active(symbol);
    !key.is_empty() && !key.contains(sign) && key.parse::<usize>().is_err()
}

impl fmt::Display for Step {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Row(row) => write!(formatter, "[{row}]"),
            Self::Key(key) if is_plain(key) => formatter.write_str(key),
            Self::Key(key) => {
                formatter.write_char('"')?;
                for symbol in key.chars() {
                    match symbol {
                        '"' | '\\' => write!(formatter, "\\{symbol}")?,
                        _ if is_active(symbol) => write!(formatter, "{}", symbol.escape_unicode())?,
                        _ => formatter.write_char(symbol)?,
                    }
                }
                formatter.write_char('"')
            }
        }
    }
}

impl fmt::Display for Address {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (place, step) in self.0.iter().enumerate() {
            match (step, self.0.first()) {
                (Step::Row(row), Some(Step::Key(list))) if place == 1 && COUNTED.contains(&list.as_str()) => {
                    write!(formatter, " {}", row + 1)?;
                }
                (Step::Key(_), _) if place > 0 => write!(formatter, ".{step}")?,
                _ => write!(formatter, "{step}")?,
            }
        }
        Ok(())
    }
}

/// Text that what is written has to follow, and what of it is left.
struct Expected<'a>(&'a str);

impl fmt::Write for Expected<'_> {
    fn write_str(&mut self, part: &str) -> fmt::Result {
        self.0 = self.0.strip_prefix(part).ok_or(fmt::Error)?;
        Ok(())
    }
}

impl PartialEq<str> for Address {
    fn eq(&self, text: &str) -> bool {
        let mut expected = Expected(text);
        let is_written_so = write!(expected, "{self}").is_ok() && expected.0.is_empty();
        is_written_so || Self::parse(text).as_ref() == Some(self)
    }
}

impl PartialEq<&str> for Address {
    fn eq(&self, text: &&str) -> bool {
        self == *text
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Address {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Address {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        if text.is_empty() {
            return Ok(Self::default());
        }
        Self::parse(&text).ok_or_else(|| serde::de::Error::custom(format!("`{text}` is no address")))
    }
}

/// The address of a key in a part; that of the whole is empty.
pub(crate) fn inside(part: &str, key: &str) -> String {
    if part.is_empty() { key.to_owned() } else { format!("{part}.{key}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn addresses_are_read() {
        let key = |key: &str| Step::Key(key.to_owned());
        let steps = |text: &str| Address::parse(text).map(|address| address.0);
        assert_eq!(
            steps("front.fork.leg[1].air"),
            Some(vec![key("front"), key("fork"), key("leg"), Step::Row(1), key("air")])
        );
        assert_eq!(steps("reading.3"), Some(vec![key("reading"), Step::Row(3)]));
        assert_eq!(
            steps("masses.\"medical pack\".front"),
            Some(vec![key("masses"), key("medical pack"), key("front")])
        );
        assert_eq!(steps("reading 2.sag"), Some(vec![key("reading"), Step::Row(1), key("sag")]));
        assert_eq!(steps("masses.reading 2"), Some(vec![key("masses"), key("reading 2")]));
        assert_eq!(steps("reading 0"), Some(vec![key("reading 0")]));
        let endless = "a.".repeat(Address::DEEPEST + 1) + "a";
        for wrong in ["", ".", "a..b", "a.", "a[x]", "a[1", "\"a", endless.as_str()] {
            assert_eq!(steps(wrong), None, "{wrong}");
        }
    }

    #[cfg(feature = "serde")]
    #[test]
    fn an_address_is_one_text_to_serde_and_that_of_the_whole_bike_is_empty() {
        for (address, text) in [
            (Address::default(), "\"\""),
            (Address::default().key("reading").row(1).key("sag"), "\"reading 2.sag\""),
            (Address::default().key("masses").key("medical pack"), r#""masses.\"medical pack\"""#),
        ] {
            assert_eq!(serde_json::to_string(&address).unwrap(), text);
            assert_eq!(serde_json::from_str::<Address>(text).unwrap(), address);
        }
        let refused = serde_json::from_str::<Address>("\"rear..shock\"").unwrap_err().to_string();
        assert!(refused.starts_with("`rear..shock` is no address"), "{refused}");
        assert!(serde_json::from_str::<Address>("7").is_err());
    }

    proptest! {
        /// Whatever the keys are called, what is written reads back.
        #[test]
        fn what_is_written_reads_back(steps in prop::collection::vec(
            prop_oneof!["\\PC{1,8}".prop_map(Step::Key), "[a\n\u{1b}\u{202e}\u{85}\"]{1,4}".prop_map(Step::Key), "[0-9a.\"\\\\\\[]{1,4}".prop_map(Step::Key), (0..99_usize).prop_map(Step::Row)], 1..6,
        )) {
            let address = Address::from(steps);
            prop_assert_eq!(Address::parse(&address.to_string()), Some(address));
        }
    }
}
