//! Sound files with one thing broken, by the thousand: is the fault said where it was made, and does `check` find what the next
//! command would fail on?
//!
//! Every key of every shipped file is broken in turn: left out, misspelt, given twice; its value of another kind, without a unit,
//! with another's or an unknown one, with a comma, negative, zero, not a number, and off by factors from a hundredth of a
//! percent to a million. A broken file that is still a bike is none of these; every other has its fault at the key that was
//! broken, or at one that a contradiction names as well.
//!
//! `make test` takes every fourth of them. All, with what is said elsewhere:
//! `WHEELRATE_MUTATIONS=all cargo test --release -p wheelrate-tests --test mutations -- --nocapture`

use core::fmt::Write as _;
use core::ops::Range;

use toml_edit::{Document, Item, Value};
use wheelrate::Bike;
use wheelrate::error::{Address, Fault};
use wheelrate::file::check;
use wheelrate::record::End;

/// Least share of faults that is said at the key that was broken.
const AT_THE_KEY: f64 = 0.99;
/// Least share of broken files with no more than one fault.
const ONCE: f64 = 0.97;

/// Of so many broken files `make test` takes one.
const SOME: usize = 4;

/// The files that are broken: name and text.
fn files() -> Vec<(&'static str, String)> {
    vec![
        ("patrol", wheelrate::demo::PATROL.to_owned()),
        ("least", wheelrate::demo::LEAST.to_owned()),
        ("imperial", include_str!("../files/least_imperial.toml").to_owned()),
        ("much", include_str!("../files/much.toml").to_owned()),
        ("workshop", include_str!("../files/workshop.toml").to_owned()),
        ("links", include_str!("../files/links.toml").to_owned()),
    ]
}

/// A value or a table that stands in a file.
struct Leaf {
    path: String,
    /// The key, for whoever changes or doubles it; none in a row of a list.
    key: Option<(String, Range<usize>)>,
    value: Range<usize>,
    kind: Kind,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Kind {
    Text,
    Number,
    List,
    Table,
    Header,
}

fn leaves(text: &str) -> Vec<Leaf> {
    let document = Document::parse(text).unwrap();
    let mut all = Vec::new();
    let root = document.as_table();
    for (name, item) in root.iter() {
        let key = root.key(name).and_then(toml_edit::Key::span);
        walk(name, key.map(|span| (name.to_owned(), span)), item, &mut all);
    }
    all
}

fn walk(path: &str, key: Option<(String, Range<usize>)>, item: &Item, all: &mut Vec<Leaf>) {
    match item {
        Item::Value(value) => of_value(path, key, value, all),
        Item::Table(table) => {
            if let Some(span) = table.span() {
                all.push(Leaf { path: path.to_owned(), key: None, value: span, kind: Kind::Header });
            }
            for (name, inner) in table.iter() {
                let key = table.key(name).and_then(toml_edit::Key::span).map(|span| (name.to_owned(), span));
                walk(&format!("{path}.{}", quoted(name)), key, inner, all);
            }
        }
        Item::ArrayOfTables(rows) => {
            for (row, table) in rows.iter().enumerate() {
                for (name, inner) in table.iter() {
                    let key = table.key(name).and_then(toml_edit::Key::span).map(|span| (name.to_owned(), span));
                    walk(&format!("{path}[{row}].{}", quoted(name)), key, inner, all);
                }
            }
        }
        Item::None => {}
    }
}

fn quoted(name: &str) -> String {
    if name.contains(['.', '[', ' ']) { format!("\"{name}\"") } else { name.to_owned() }
}

fn of_value(path: &str, key: Option<(String, Range<usize>)>, value: &Value, all: &mut Vec<Leaf>) {
    let Some(span) = value.span() else { return };
    let mut leaf = |kind| all.push(Leaf { path: path.to_owned(), key: key.clone(), value: span.clone(), kind });
    match value {
        Value::String(_) => leaf(Kind::Text),
        Value::Integer(_) | Value::Float(_) => leaf(Kind::Number),
        Value::Array(array) => {
            leaf(Kind::List);
            for (row, inner) in array.iter().enumerate() {
                of_value(&format!("{path}[{row}]"), None, inner, all);
            }
        }
        Value::InlineTable(table) => {
            leaf(Kind::Table);
            for (name, inner) in table.iter() {
                let key = table.key(name).and_then(toml_edit::Key::span).map(|span| (name.to_owned(), span));
                of_value(&format!("{path}.{}", quoted(name)), key, inner, all);
            }
        }
        _ => {}
    }
}

/// A file with one thing broken.
struct Broken {
    what: String,
    text: String,
    path: String,
    /// Line of what was broken.
    line: usize,
}

fn line_of(text: &str, byte: usize) -> usize {
    text[..byte].matches('\n').count() + 1
}

fn broken(text: &str) -> Vec<Broken> {
    let mut all = Vec::new();
    for leaf in leaves(text) {
        let was = &text[leaf.value.clone()];
        let mut put = |what: &str, span: Range<usize>, with: &str, path: &str| {
            let line = line_of(text, span.start);
            let text = format!("{}{with}{}", &text[..span.start], &text[span.end..]);
            all.push(Broken { what: what.to_owned(), text, path: path.to_owned(), line });
        };
        let mut values: Vec<(String, String)> = Vec::new();
        let mut value = |what: &str, with: String| values.push((what.to_owned(), with));
        match leaf.kind {
            Kind::Text => of_text(was.trim_matches('"'), &mut value),
            Kind::Number => {
                for with in ["true", "\"word\"", "[]", "{}", "nan", "inf", "1e9", "-7", "0.5", "0"] {
                    value(with, with.to_owned());
                }
                value("negative", format!("-{was}"));
            }
            Kind::List => {
                for with in ["3", "\"word\"", "{}", "[]", "[[]]", "true"] {
                    value(with, with.to_owned());
                }
            }
            Kind::Table => {
                for with in ["3", "\"word\"", "[]", "{}", "true"] {
                    value(with, with.to_owned());
                }
            }
            Kind::Header => {}
        }
        for (what, with) in values {
            put(&what, leaf.value.clone(), &with, &leaf.path);
        }
        if let Some((name, span)) = &leaf.key {
            let outer = leaf.path.strip_suffix(quoted(name).as_str()).unwrap_or_default().to_owned();
            let misspelt = format!("{}x{}", &name[..1], &name[1..]);
            put("misspelt", span.clone(), &misspelt, &format!("{outer}{misspelt}"));
            let pair = span.start..leaf.value.end;
            let entry = &text[pair.clone()];
            let own_line = text[..span.start].ends_with('\n');
            let (twice, gone) = match own_line {
                true => (format!("{entry}\n{entry}"), String::new()),
                false => (format!("{entry}, {entry}"), String::new()),
            };
            put("twice", pair.clone(), &twice, &leaf.path);
            // In an inline table the comma goes with it.
            let rest = &text[pair.end..];
            let comma = rest.trim_start().starts_with(',').then(|| rest.find(',').unwrap_or(0) + 1);
            let end = pair.end + if own_line { 0 } else { comma.unwrap_or(0) };
            let gap = text[..pair.start].trim_end().ends_with(',') && comma.is_none() && !own_line;
            let start = if gap { text[..pair.start].rfind(',').unwrap_or(pair.start) } else { pair.start };
            put("missing", start..end, &gone, &leaf.path);
        }
    }
    all
}

/// Ways to break a text, most of which hold a quantity.
fn of_text(was: &str, value: &mut impl FnMut(&str, String)) {
    for (what, with) in [
        ("bare true", "true"),
        ("bare number", "7.5"),
        ("list", "[\"1 mm\"]"),
        ("table", "{ a = 1 }"),
        ("empty", "\"\""),
        ("word", "\"banana\""),
        ("nan", "nan"),
    ] {
        value(what, with.to_owned());
    }
    let digits = was.find(|symbol: char| !(symbol.is_ascii_digit() || "+-./".contains(symbol))).unwrap_or(was.len());
    let (number, unit) = (&was[..digits], was[digits..].trim());
    let Ok(number) = number.parse::<f64>() else { return };
    let unit = unit.split('±').next().unwrap_or(unit).trim();
    value("no unit", format!("\"{number}\""));
    value("unknown unit", format!("\"{number} zz\""));
    for other in ["mm", "kg", "N", "N/mm", "deg", "bar", "%"].into_iter().filter(|other| *other != unit) {
        value(&format!("in {other}"), format!("\"{number} {other}\""));
    }
    value("comma", format!("\"{number:.1} {unit}\"").replacen('.', ",", 1));
    value("nan unit", format!("\"nan {unit}\""));
    value("inf unit", format!("\"inf {unit}\""));
    value("negative", format!("\"-{number} {unit}\""));
    value("zero", format!("\"0 {unit}\""));
    for factor in [1e-6, 1e-4, 1e-2, 0.03937, 0.1, 0.5, 1.5, 2.0, 10.0, 25.4, 100.0, 1e3, 1e6] {
        value(&format!("times {factor}"), format!("\"{} {unit}\"", number * factor));
    }
}

/// Is this fault said at the key that was broken, or within it?
fn at_the_key(fault: &Fault, broken: &Broken) -> bool {
    let inside = Address::parse(&broken.path).is_some_and(|path| fault.key_path.starts_with(&path));
    // What is missing has no line of its own: its table has. Grammar has no keys.
    let of_grammar = fault.key_path.is_empty() && fault.line == Some(broken.line);
    let gone = broken.what == "missing"
        && Address::parse(&broken.path).is_some_and(|path| {
            path.steps().len() == fault.key_path.steps().len() + 1 && path.starts_with(&fault.key_path)
        });
    if of_grammar || gone {
        return true;
    }
    inside && (fault.line == Some(broken.line) || broken.what == "missing" || broken.what == "twice")
}

/// Does the message say the key, where the fault stands at another that contradicts it?
fn names_it(fault: &Fault, broken: &Broken) -> bool {
    let last = broken.path.rsplit('.').next().unwrap_or(&broken.path);
    let words = last.trim_end_matches(|symbol: char| symbol == '[' || symbol == ']' || symbol.is_ascii_digit());
    let said = fault.message.to_lowercase();
    !words.is_empty() && (said.contains(words) || said.contains(&words.replace('_', " ")))
}

#[test]
fn faults_are_said_where_they_are() {
    let loud = std::env::var("WHEELRATE_MUTATIONS").is_ok();
    let (mut count, mut right, mut once, mut listed, mut silent) = (0, 0, 0, String::new(), String::new());
    let (mut failing, mut panics) = (0, Vec::new());
    for (file, text) in files() {
        assert_eq!(check(&text), Vec::new(), "{file}");
        for broken in broken(&text).into_iter().step_by(if loud { 1 } else { SOME }) {
            let Ok(faults) = std::panic::catch_unwind(|| check(&broken.text)) else {
                panics.push(format!("{file} {} {}", broken.path, broken.what));
                continue;
            };
            if faults.is_empty() {
                let Ok(refused) = std::panic::catch_unwind(|| unanswered(&broken.text)) else {
                    panics.push(format!("{file} {} {}, asked for advice", broken.path, broken.what));
                    continue;
                };
                if let Some(error) = refused {
                    failing += 1;
                    let _ = writeln!(silent, "{file} {} {}: {error}", broken.path, broken.what);
                }
                continue;
            }
            count += 1;
            once += usize::from(faults.len() == 1);
            let said = faults.iter().any(|fault| at_the_key(fault, &broken))
                || faults.iter().any(|fault| names_it(fault, &broken) && !at_the_key(fault, &broken));
            right += usize::from(said);
            if !said || faults.len() > 1 {
                let _ = writeln!(
                    listed,
                    "{}{file} {} {} (line {}):",
                    if said { "" } else { "WRONG " },
                    broken.path,
                    broken.what,
                    broken.line
                );
                for fault in &faults {
                    let _ = writeln!(listed, "    {fault}");
                }
            }
        }
    }
    println!("PANICS {panics:#?}");
    println!("{count} broken files, {right} said at the key, {once} once, {failing} silent and unanswered");
    if loud {
        println!("{listed}\nSILENT\n{silent}");
    }
    assert!(panics.is_empty(), "no input panics: {panics:#?}");
    let share = |part: usize| part as f64 / count as f64;
    assert!(share(right) >= AT_THE_KEY, "{right} of {count}:\n{listed}");
    assert!(share(once) >= ONCE, "{once} of {count}:\n{listed}");
}

/// What a sound file cannot be asked, though the file it was made of could.
fn unanswered(text: &str) -> Option<String> {
    let bike = Bike::from_toml(text).unwrap();
    let both = End::BOTH.into_iter().filter(|end| bike.ends().contains(end));
    let refused: Vec<String> =
        both.filter_map(|end| bike.advise_end(end).err().map(|error| format!("{end}: {error}"))).collect();
    (!refused.is_empty()).then(|| refused.join("; "))
}
