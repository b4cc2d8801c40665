//! What is read at all: no text so long, or of so many pieces, that reading it costs more than an answer is worth.

use crate::error::FileError;
use crate::keys::{Faults, Place};

/// Most bytes of a file: 10,000 readings and as many changes, with notes, are less.
pub const LARGEST: usize = 4_000_000;
/// Most marks of a file: each bracket, comma, point, colon, equals sign and gap outside of lines of comment. Every value takes one,
/// and some hundred bytes of memory; 10,000 readings and as many changes take 800,000.
pub const MOST_MARKS: usize = 1_000_000;

/// The text, if it is short enough to be read.
pub(super) fn within_limits(text: &str) -> Result<&str, FileError> {
    if text.len() > LARGEST {
        let megabytes = |bytes: usize| format!("{:.1} MB of text", bytes as f64 / 1e6);
        return Err(refused(megabytes(text.len()), &format!("at most {}", megabytes(LARGEST))));
    }
    match marks(text) {
        ..=MOST_MARKS => Ok(text),
        count => {
            let wanted = format!("at most {MOST_MARKS} of them");
            Err(refused(format!("{count} brackets, commas, points, equals signs and gaps"), &wanted))
        }
    }
}

fn refused(found: String, wanted: &str) -> FileError {
    let faults = Faults::new();
    Place::root(None, &faults).say(found, wanted);
    FileError { faults: faults.finish(None) }
}

/// Marks outside of lines of comment.
fn marks(text: &str) -> usize {
    text.split('\n').filter(|line| !line.trim_ascii_start().starts_with('#')).map(|line| 1 + in_line(line)).sum()
}

fn in_line(line: &str) -> usize {
    let mut gap = true;
    let mark = |byte: &u8| {
        let before = gap;
        gap = byte.is_ascii_whitespace();
        (gap && !before) || b"[]{}=,.:".contains(byte)
    };
    line.as_bytes().iter().copied().filter(mark).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_take_marks_and_comments_none() {
        assert_eq!(marks("a = [1, 2]"), 1 + 7);
        assert_eq!(marks("# a = [1, 2] and so on\n   # more"), 0);
        assert_eq!(marks("\"a\"\n\n"), 3);
    }

    #[test]
    fn a_text_on_the_limit_is_read() {
        let long = |bytes: usize| "#".repeat(bytes);
        assert!(within_limits(&long(LARGEST)).is_ok());
        let error = within_limits(&long(LARGEST + 100_000)).unwrap_err().to_string();
        assert_eq!(error, "found 4.1 MB of text, wanted at most 4.0 MB of text");
        assert!(within_limits(&"=".repeat(MOST_MARKS - 1)).is_ok());
        let error = within_limits(&"=".repeat(MOST_MARKS)).unwrap_err().to_string();
        assert!(error.starts_with("found 1000001 brackets"), "{error}");
    }

    #[test]
    fn a_lifetime_of_readings_and_changes_is_within() {
        let reading = "[[reading]]\nend = \"rear\"\nload = \"bike + rider\"\nsettled = \"low\"\ndistance = \"551.5 mm\"\n\
                       date = \"2026-06-14 19:30\"\nnote = \"after the ride, warm\"\n\n";
        let change = "[[change]]\ndate = \"2026-06-14 20:00\"\nwas = { \"rear.shock.spring.rate\" = \"52 N/mm\" }\n\
                      note = \"stiffer spring\"\n\n";
        let text = reading.repeat(crate::keys::MOST_ROWS) + &change.repeat(crate::keys::MOST_ROWS);
        assert!(within_limits(&text).is_ok(), "{} bytes, {} marks", text.len(), marks(&text));
    }
}
