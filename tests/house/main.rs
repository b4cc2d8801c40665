//! The house, held: a row of the core imports only rows above it, and calls no method that a lower row gives to a type of a
//! higher one (an inherent `impl Bike` in `report` may not be called from `bike`).
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::panic))]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// The rows of DEVELOPERS.md, top to bottom. Modules of one row do not import each other, but for the ground.
const ROWS: &[&[&str]] = &[
    &["units", "error", "value", "record", "parallel", "friction", "solve"],
    &["axial"],
    &["linkage", "spring", "gas"],
    &["strut"],
    &["fork", "shock"],
    &["wheel"],
    &["mass"],
    &["bike"],
    &["compare"],
    &["keys"],
    &["edit"],
    &["log"],
    &["infer"],
    &["decide"],
    &["history"],
    &["sweep"],
    &["report"],
    &["file"],
    &["demo"],
];

/// One source file of the core: its module, its path, its code without comments and tests.
struct Source {
    module: String,
    path: PathBuf,
    code: String,
}

fn rows() -> BTreeMap<&'static str, usize> {
    ROWS.iter().enumerate().flat_map(|(row, modules)| modules.iter().map(move |module| (*module, row))).collect()
}

fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/src");
    let (mut folders, mut found) = (vec![root.clone()], Vec::new());
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            let inside = path.strip_prefix(&root).unwrap();
            if path.is_dir() {
                if path.file_name().is_none_or(|name| name != "tests") {
                    folders.push(path);
                }
            } else if path.file_name().is_some_and(|name| name != "tests.rs" && name != "lib.rs") {
                let module = inside.components().next().unwrap().as_os_str().to_string_lossy().replace(".rs", "");
                let text = fs::read_to_string(&path).unwrap();
                found.push(Source { module, code: code_of(&text), path: inside.to_owned() });
            }
        }
    }
    assert!(found.len() > 100, "the core has more than {} files", found.len());
    found
}

/// The code before the tests, without lines of comment. Tests stand at the end of a file.
fn code_of(text: &str) -> String {
    let before = ["\n#[cfg(test)]\nmod", "\n#[cfg(test)]\npub", "\n#[cfg(all(test"];
    let end = before.into_iter().filter_map(|mark| text.find(mark)).min().unwrap_or(text.len());
    text[..end].lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n")
}

/// The names that follow a mark: `crate::` gives the modules imported.
fn names_after<'a>(code: &'a str, mark: &'a str) -> impl Iterator<Item = &'a str> {
    code.match_indices(mark).flat_map(move |(at, _)| {
        let rest = &code[at + mark.len()..];
        let one =
            |text: &'a str| &text[..text.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(text.len())];
        match rest.strip_prefix('{') {
            // `use crate::{bike::Bike, units::Length};`
            Some(group) => group.split('}').next().unwrap().split(',').map(|part| one(part.trim())).collect(),
            None => vec![one(rest)],
        }
    })
}

/// The methods of inherent `impl` blocks on a type that another module defines.
fn given_methods(code: &str, on: &str) -> BTreeSet<String> {
    let head = format!("\nimpl {on} {{");
    let blocks = code.match_indices(&head).map(|(at, _)| code[at..].split("\n}").next().unwrap());
    blocks.flat_map(|block| names_after(block, " fn ").map(str::to_owned).collect::<Vec<_>>()).collect()
}

#[test]
fn a_row_imports_only_rows_above_it() {
    let rows = rows();
    let mut faults = BTreeSet::new();
    for Source { module, path, code } in sources() {
        let own = *rows.get(module.as_str()).unwrap_or_else(|| panic!("`{module}` has no row in this test"));
        for name in names_after(&code, "crate::") {
            let Some(&row) = rows.get(name) else { continue };
            if name != module && row >= own && row != 0 {
                faults.insert(format!("{} imports `{name}`", path.display()));
            }
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn a_row_calls_no_method_that_a_lower_row_gives_to_the_bike() {
    let (rows, sources) = (rows(), sources());
    // Where each method of `Bike` is defined; a name defined twice (on other types too) could be either and is left out.
    let mut given: BTreeMap<String, usize> = BTreeMap::new();
    for source in &sources {
        let row = rows[source.module.as_str()];
        for method in given_methods(&source.code, "Bike") {
            given.insert(method, row);
        }
    }
    assert!(given.len() > 30, "{given:?}");
    let mut elsewhere: BTreeMap<&str, usize> = BTreeMap::new();
    for source in &sources {
        for name in names_after(&source.code, " fn ") {
            *elsewhere.entry(name).or_default() += 1;
        }
    }
    let mut faults = BTreeSet::new();
    for Source { module, path, code } in &sources {
        let own = rows[module.as_str()];
        for (method, row) in &given {
            if *row > own && elsewhere.get(method.as_str()) == Some(&1) && code.contains(&format!(".{method}(")) {
                faults.insert(format!("{} calls `{method}`", path.display()));
            }
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
}

/// A bike is data: parts, what follows from them at once, and the questions that everybody has. Whatever belongs to the whole
/// bike, to an end that is studied, to the log or to the file is asked there.
#[test]
fn a_bike_has_few_methods() {
    const MOST: usize = 38;
    let sources = sources();
    let count = |code: &str| {
        let blocks = code.match_indices("\nimpl Bike {").map(|(at, _)| code[at..].split("\n}").next().unwrap());
        blocks.map(|block| block.matches("\n    pub fn ").count()).sum::<usize>()
    };
    let found: usize = sources.iter().map(|source| count(&source.code)).sum();
    assert!((MOST / 2..=MOST).contains(&found), "{found} public methods on `Bike`");
}
