//! What Rust shows of a result in one line, in lines that a person and a comparison can follow.

/// Brackets within so many others stay in their line.
const DEPTH: usize = 3;
/// Longer lists are thinned: a motion has thousands of numbers, and there may be eighty rates to look for.
const LONGEST: usize = 12;
/// What is left of them, the first and the last included.
const LEFT: usize = 9;

/// The text in lines, long lists thinned.
pub fn lines(shown: &str) -> String {
    let mut out = String::with_capacity(shown.len());
    let mut depth = 0_usize;
    for (sign, place) in places(&thinned(shown)) {
        match (place, sign) {
            (Place::Text, '\u{1}') => out.push('\n'),
            (Place::Opens, _) => depth += 1,
            (Place::Closes, _) => depth = depth.saturating_sub(1),
            (Place::Splits, _) if depth <= DEPTH => {
                out.push_str(",\n");
                out.extend(std::iter::repeat_n(' ', depth));
                continue;
            }
            (Place::Gap, _) if out.ends_with([' ', '\n']) => continue,
            _ => {}
        }
        if sign != '\u{1}' {
            out.push(sign);
        }
    }
    out
}

/// What a sign of the text does.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Place {
    Text,
    Opens,
    Closes,
    Splits,
    /// The space after a comma.
    Gap,
}

/// Every sign of a text with what it does; a line break within quotes is one sign.
fn places(text: &str) -> Vec<(char, Place)> {
    let (mut found, mut quoted, mut signs) = (Vec::new(), false, text.chars());
    while let Some(sign) = signs.next() {
        let place = match sign {
            '\\' if quoted => {
                match signs.next() {
                    Some('n') => found.push(('\u{1}', Place::Text)),
                    Some(other) => found.extend([(sign, Place::Text), (other, Place::Text)]),
                    None => {}
                }
                continue;
            }
            '"' => {
                quoted = !quoted;
                Place::Text
            }
            _ if quoted => Place::Text,
            '(' | '[' | '{' => Place::Opens,
            ')' | ']' | '}' => Place::Closes,
            ',' => Place::Splits,
            ' ' if found.last() == Some(&(',', Place::Splits)) => Place::Gap,
            _ => Place::Text,
        };
        found.push((sign, place));
    }
    found
}

/// The text with its long lists thinned.
fn thinned(text: &str) -> String {
    let (mut out, mut rest) = (String::with_capacity(text.len()), text);
    while let Some(start) = unquoted(rest, |sign| sign == '[') {
        let (before, list) = rest.split_at(start);
        out.push_str(before);
        let (items, length) = items(list);
        let kept: Vec<usize> = if items.len() <= LONGEST {
            (0..items.len()).collect()
        } else {
            (0..LEFT).map(|place| place * (items.len() - 1) / (LEFT - 1)).collect()
        };
        out.push('[');
        if kept.len() < items.len() {
            out.push_str(&format!("{LEFT} of {}: ", items.len()));
        }
        out.push_str(&kept.iter().map(|&at| thinned(items[at])).collect::<Vec<_>>().join(", "));
        out.push(']');
        rest = &list[length..];
    }
    out.push_str(rest);
    out
}

/// The place of the first sign outside quotes that is wanted.
fn unquoted(text: &str, mut wanted: impl FnMut(char) -> bool) -> Option<usize> {
    let (mut quoted, mut escaped) = (false, false);
    for (at, sign) in text.char_indices() {
        match sign {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            _ if !quoted && wanted(sign) => return Some(at),
            _ => {}
        }
    }
    None
}

/// What the list holds that a text begins with, and its length.
fn items(list: &str) -> (Vec<&str>, usize) {
    let (mut depth, mut found, mut at) = (0_usize, Vec::new(), 1);
    loop {
        let to = at
            + unquoted(&list[at..], |sign| {
                match sign {
                    '(' | '[' | '{' => depth += 1,
                    ')' | ']' | '}' if depth == 0 => return true,
                    ')' | ']' | '}' => depth -= 1,
                    ',' => return depth == 0,
                    _ => {}
                }
                false
            })
            .expect("a list that ends");
        let item = list[at..to].trim_start();
        if !item.is_empty() {
            found.push(item);
        }
        at = to + 1;
        if list[to..].starts_with(']') {
            return (found, at);
        }
    }
}

#[test]
fn lists_are_thinned_and_texts_left() {
    let long = (0..17).map(|number| format!("({number}, 0)")).collect::<Vec<_>>().join(", ");
    let shown = format!("A {{ list: [{long}], text: \"a, [b\\n\\\"\" }}");
    assert_eq!(
        lines(&shown).replace('\n', "|"),
        "A { list: [9 of 17: (0,|   0),|  (2,|   0),|  (4,|   0),|  (6,|   0),|  (8,|   0),|  (10,|   0),|  (12,|   0),|  (14,|   0),|  (16,|   0)],| text: \"a, [b|\\\"\" }"
    );
    assert_eq!(lines("[1, 2]"), "[1,\n 2]");
    assert_eq!(lines("[]"), "[]");
    assert_eq!(lines("((((1, 2), 3), 4), 5)"), "((((1, 2),\n   3),\n  4),\n 5)");
}
