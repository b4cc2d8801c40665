//! What somebody wrote, as far as it may stand in a message: nothing in it moves the cursor, turns the direction of writing or
//! begins a line of its own, and none of it is longer than a person reads.
//!
//! Names and values come from files that others send. A line break in one could forge a line of faults, an escape could wipe
//! a terminal, an override of direction could make a number read backwards. Such signs are written as their escapes, `\n` and
//! `\u{202e}`; the list is that of the Unicode Standard, Annex 9 (explicit formatting), with the separators of Annex 14 and what
//! is a control by its general category, Cc.

use core::fmt::{self, Write as _};

/// Most characters of what was found that are shown.
pub(crate) const SHOWN: usize = 40;
/// Most characters of a message. The longest of ours lists the keys of a table.
pub(crate) const LONGEST: usize = 1_000;

/// Is it a sign that does something rather than stands for something?
pub(crate) fn is_active(symbol: char) -> bool {
    let turns =
        matches!(symbol, '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    symbol.is_control() || turns || matches!(symbol, '\u{2028}' | '\u{2029}' | '\u{feff}')
}

/// A writer that lets plain text through, active signs as their escapes, and no more than so many characters.
pub(crate) struct Plain<'w, W> {
    inner: &'w mut W,
    left: usize,
}

impl<'w, W: fmt::Write> Plain<'w, W> {
    pub(crate) fn new(inner: &'w mut W, most: usize) -> Self {
        Self { inner, left: most }
    }
}

impl<W: fmt::Write> fmt::Write for Plain<'_, W> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for symbol in text.chars() {
            match self.left {
                // All that follows is left out without an error, which would end the message of whoever writes.
                0 => return Ok(()),
                1 => self.inner.write_char('…')?,
                _ if is_active(symbol) => write!(self.inner, "{}", symbol.escape_default())?,
                _ => self.inner.write_char(symbol)?,
            }
            self.left -= 1;
        }
        Ok(())
    }
}

/// A text as it may stand in a message, in no more than so many of its characters.
pub(crate) fn plain(text: &str, most: usize) -> String {
    let mut out = String::new();
    // Writing to a String does not fail.
    let _ = Plain::new(&mut out, most.saturating_add(1)).write_str(text);
    out
}

/// A text as far as it is shown of what was found.
pub(crate) fn shortened(text: &str) -> String {
    plain(text, SHOWN)
}

/// A text on one line of a terminal: what moves the cursor or turns the direction of writing stands there as its escape.
///
/// ```
/// assert_eq!(wheelrate::error::on_one_line("left\nbike.toml:1:1: fine"), "left\\nbike.toml:1:1: fine");
/// assert_eq!(wheelrate::error::on_one_line("\u{1b}[2J µ 𝄞"), "\\u{1b}[2J µ 𝄞");
/// ```
#[must_use]
pub fn on_one_line(text: &str) -> String {
    plain(text, usize::MAX - 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_acts_is_written_as_its_escape() {
        for (found, shown) in [
            ("a\nb.toml:1:1: fine", "a\\nb.toml:1:1: fine"),
            ("\u{1b}[31mred", "\\u{1b}[31mred"),
            ("\u{202e}mm 05", "\\u{202e}mm 05"),
            ("\u{2066}\u{2069}\u{200f}", "\\u{2066}\\u{2069}\\u{200f}"),
            ("\u{85}\u{2028}\u{7f}", "\\u{85}\\u{2028}\\u{7f}"),
            ("Öl 5,6 kg/mm – ½″ 𝄞", "Öl 5,6 kg/mm – ½″ 𝄞"),
        ] {
            assert_eq!(plain(found, LONGEST), shown);
        }
    }

    #[test]
    fn long_texts_are_cut() {
        assert_eq!(shortened(&"a".repeat(40)), "a".repeat(40));
        assert_eq!(shortened(&"µ".repeat(41)), format!("{}…", "µ".repeat(40)));
        assert_eq!(shortened(&"a".repeat(4_000_000)).chars().count(), 41);
    }

    proptest! {
        #[test]
        fn nothing_active_comes_out(text in "\\PC{0,20}[\\x00-\\x1f\u{202a}-\u{202e}\u{2066}-\u{2069}]{0,9}\\PC{0,60}", most in 0..90_usize) {
            let shown = plain(&text, most);
            prop_assert!(!shown.chars().any(is_active), "{shown:?}");
            // Each character is at most ten of an escape.
            prop_assert!(shown.chars().count() <= 10 * most + 1);
        }
    }
}
