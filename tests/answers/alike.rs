//! Texts with numbers in them, compared number by number.

/// Numbers are kept to so many digits.
const DIGITS: usize = 9;
/// Elementary functions of two platforms differ in the last bit, and what is computed from them in some more.
const RELATIVE: f64 = 1e-7;
/// What is nought but for rounding, in SI units.
const NOTHING: f64 = 1e-11;

/// A stretch of a text.
#[derive(Debug, PartialEq)]
enum Part<'a> {
    Text(&'a str),
    /// A number with a point or a power of ten.
    Number(f64),
}

/// Splits a text into its numbers and what stands between them. Whole numbers count as text.
fn parts(text: &str) -> Vec<Part<'_>> {
    let bytes = text.as_bytes();
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let (mut found, mut start, mut at) = (Vec::new(), 0, 0);
    while at < bytes.len() {
        let within_word = at > 0 && (bytes[at - 1].is_ascii_alphanumeric() || bytes[at - 1] == b'_');
        if !digit(at) || within_word {
            at += 1;
            continue;
        }
        let first = if at > start && bytes[at - 1] == b'-' { at - 1 } else { at };
        let mut end = at;
        while digit(end) {
            end += 1;
        }
        let whole = end;
        if bytes.get(end) == Some(&b'.') && digit(end + 1) {
            end += 1;
            while digit(end) {
                end += 1;
            }
        }
        if bytes.get(end) == Some(&b'e') {
            let power = if bytes.get(end + 1) == Some(&b'-') { end + 2 } else { end + 1 };
            if digit(power) {
                end = power;
                while digit(end) {
                    end += 1;
                }
            }
        }
        if end > whole {
            found.push(Part::Text(&text[start..first]));
            found.push(Part::Number(text[first..end].parse().unwrap()));
            start = end;
        }
        at = end;
    }
    found.push(Part::Text(&text[start..]));
    found
}

/// The text with its numbers to the digits that are kept.
pub fn shortened(text: &str) -> String {
    let short = |part: Part<'_>| match part {
        Part::Text(text) => text.to_owned(),
        Part::Number(number) => {
            let rounded: f64 = format!("{number:.*e}", DIGITS - 1).parse().unwrap();
            if rounded == 0.0 || (1e-4..1e9).contains(&rounded.abs()) {
                format!("{rounded:?}")
            } else {
                format!("{rounded:e}")
            }
        }
    };
    parts(text).into_iter().map(short).collect()
}

fn same(found: &Part<'_>, kept: &Part<'_>) -> bool {
    match (found, kept) {
        (Part::Number(found), Part::Number(kept)) => (found - kept).abs() <= RELATIVE * kept.abs() + NOTHING,
        _ => found == kept,
    }
}

/// Fails with the first line that differs.
pub fn assert_alike(found: &str, kept: &str) {
    let mut question = "";
    for (number, (found, kept)) in found.lines().zip(kept.lines()).enumerate() {
        if kept.starts_with("## ") {
            question = kept;
        }
        let (these, those) = (parts(found), parts(kept));
        let alike = these.len() == those.len() && these.iter().zip(&those).all(|(one, other)| same(one, other));
        assert!(alike, "line {}, {question}\nfound {found}\nkept  {kept}", number + 1);
    }
    assert_eq!(found.lines().count(), kept.lines().count(), "lines");
}

#[test]
fn numbers_are_compared_as_numbers() {
    assert_alike(&shortened("a 1.23456789012 m, 3 b, -2e-7x"), "a 1.23456790 m, 3 b, -2.00000001e-7x");
    for differs in ["a 1.2345671 m, 3 b, -2e-7x", "a 1.23456789 m, 4 b, -2e-7x", "a 1.23456789 m, 3 b, 2e-7x"] {
        let caught = std::panic::catch_unwind(|| assert_alike("a 1.23456789 m, 3 b, -2e-7x", differs));
        assert!(caught.is_err(), "{differs}");
    }
    assert_eq!(shortened("0.1 12.50 1e300 x1.5 5. 3.e"), "0.1 12.5 1e300 x1.5 5. 3.e");
}
