//! The house, held: a row of the core imports only rows above it, and calls no method that a lower row gives to a type of a
//! higher one (an inherent `impl Bike` in `report` may not be called from `bike`).
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::panic))]

mod grow;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// The rows of DEVELOPERS.md, top to bottom. Modules of one row do not import each other, but for the ground.
const ROWS: &[&[&str]] = &[
    &["units", "error", "value", "record", "work", "parallel", "friction", "damper", "smooth", "solve"],
    &["axial"],
    &["linkage", "spring", "gas"],
    &["strut"],
    &["fork", "shock"],
    &["wheel"],
    &["mass"],
    &["bike"],
    &["damping"],
    &["road", "travel_log"],
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
    const MOST: usize = 34;
    let sources = sources();
    let count = |code: &str| {
        let blocks = code.match_indices("\nimpl Bike {").map(|(at, _)| code[at..].split("\n}").next().unwrap());
        blocks.map(|block| block.matches("\n    pub fn ").count()).sum::<usize>()
    };
    let found: usize = sources.iter().map(|source| count(&source.code)).sum();
    assert!((MOST / 2..=MOST).contains(&found), "{found} public methods on `Bike`");
}

/// One name means one thing: no two public types share theirs, wherever they stand.
#[test]
fn a_public_name_stands_once() {
    let mut places: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for Source { path, code, .. } in &sources() {
        for word in ["struct", "enum", "trait"] {
            for name in names_after(code, &format!("\npub {word} ")) {
                places.entry(name.to_owned()).or_default().push(path.display().to_string());
            }
        }
    }
    assert!(places.len() > 200, "only {} public types found", places.len());
    let twice: Vec<_> = places.iter().filter(|(_, places)| places.len() > 1).collect();
    assert!(twice.is_empty(), "{twice:#?}");
}

/// The paths of a `use` with its braces taken apart.
fn paths(tree: &str) -> Vec<Vec<String>> {
    let Some((head, inner)) = tree.split_once('{') else {
        let plain = tree.split(" as ").next().unwrap_or_default();
        return vec![plain.split("::").map(|step| step.trim().to_owned()).collect()];
    };
    let head: Vec<String> =
        head.split("::").map(|step| step.trim().to_owned()).filter(|step| !step.is_empty()).collect();
    let inner = inner.rsplit_once('}').map_or(inner, |(inner, _)| inner);
    let (mut parts, mut depth) = (vec![String::new()], 0);
    for sign in inner.chars() {
        depth += i32::from(sign == '{') - i32::from(sign == '}');
        match sign {
            ',' if depth == 0 => parts.push(String::new()),
            _ => parts.last_mut().unwrap().push(sign),
        }
    }
    let full = parts.iter().map(|part| part.trim()).filter(|part| !part.is_empty()).flat_map(paths);
    full.map(|rest| [head.clone(), rest].concat()).collect()
}

/// The files of the core by module path, and where each name that a file gives on comes from.
struct Files {
    modules: BTreeSet<Vec<String>>,
    given_on: BTreeMap<(Vec<String>, String), Vec<String>>,
}

impl Files {
    fn new(sources: &[(Vec<String>, String)]) -> Self {
        let modules = sources.iter().map(|(module, _)| module.clone()).collect();
        let mut files = Self { modules, given_on: BTreeMap::new() };
        let mut given_on = BTreeMap::new();
        for (module, code) in sources {
            for tree in uses(code, true) {
                for path in paths(tree) {
                    let full = match path[0].as_str() {
                        "crate" => path[1..].to_vec(),
                        "self" => [module, &path[1..]].concat(),
                        _ => [module, &path[..]].concat(),
                    };
                    if let Some(file) = files.deepest(&full).filter(|file| file != module) {
                        given_on.insert((module.clone(), path.last().unwrap().clone()), file);
                    }
                }
            }
        }
        files.given_on = given_on;
        files
    }

    fn deepest(&self, path: &[String]) -> Option<Vec<String>> {
        (1..=path.len()).rev().map(|steps| path[..steps].to_vec()).find(|module| self.modules.contains(module))
    }

    /// The file that a path in `module` leads to, by way of whoever gives the name on.
    fn file(&self, module: &[String], path: &[String]) -> Option<Vec<String>> {
        let ups = path.iter().take_while(|step| *step == "super").count();
        let (base, rest) = match path[0].as_str() {
            "crate" => (Vec::new(), &path[1..]),
            "self" => (module.to_vec(), &path[1..]),
            "super" => (module[..module.len().saturating_sub(ups)].to_vec(), &path[ups..]),
            first => {
                let own = [module, &[first.to_owned()]].concat();
                (self.modules.contains(&own).then(|| module.to_vec())?, path)
            }
        };
        let full = [base, rest.to_vec()].concat();
        let mut file = self.deepest(&full)?;
        let mut name = full.get(file.len()).cloned();
        while let Some(next) =
            name.take().and_then(|name| Some((self.given_on.get(&(file.clone(), name.clone()))?, name)))
        {
            (file, name) = (next.0.clone(), Some(next.1));
        }
        Some(file)
    }
}

/// The trees of `use` lines: those that give names on, or the others.
fn uses(code: &str, on: bool) -> impl Iterator<Item = &str> {
    code.match_indices("use ").filter_map(move |(at, _)| {
        let line = code[..at].rsplit('\n').next().unwrap_or_default();
        let is_use = line.trim().is_empty() || line.trim_start().starts_with("pub");
        (is_use && line.trim_start().starts_with("pub") == on).then(|| code[at + 4..].split(';').next())?
    })
}

/// Who imports whom, among the files and folders of each folder of the core: a file and the folder of its own name are one thing.
fn imports_by_folder() -> BTreeMap<Vec<String>, BTreeMap<String, BTreeSet<String>>> {
    let sources: Vec<(Vec<String>, String)> = sources()
        .into_iter()
        .map(|source| {
            let steps = source.path.iter().map(|step| step.to_string_lossy().replace(".rs", ""));
            (steps.collect(), source.code)
        })
        .collect();
    let files = Files::new(&sources);
    let (mut found, mut seen) = (BTreeMap::<_, BTreeMap<_, BTreeSet<_>>>::new(), 0);
    for (module, code) in &sources {
        for file in uses(code, false).flat_map(paths).filter_map(|path| files.file(module, &path)) {
            seen += 1;
            let shared = module.iter().zip(&file).take_while(|(one, other)| one == other).count();
            if let (Some(one), Some(other)) = (module.get(shared), file.get(shared)) {
                let within = found.entry(module[..shared].to_vec()).or_default();
                within.entry(one.clone()).or_default().insert(other.clone());
            }
        }
    }
    assert!(seen > 1_000, "{seen} imports were seen");
    found
}

/// Whoever can be reached from a start by imports.
fn reached(from: &str, imports: &BTreeMap<String, BTreeSet<String>>) -> BTreeSet<String> {
    let (mut found, mut open) = (BTreeSet::new(), vec![from.to_owned()]);
    while let Some(next) = open.pop() {
        for other in imports.get(&next).into_iter().flatten() {
            if found.insert(other.clone()) {
                open.push(other.clone());
            }
        }
    }
    found
}

/// Files that import each other, straight or in a circle of any length, are one file, or have something in them that belongs in
/// another.
#[test]
fn no_circle_of_imports_in_any_folder() {
    /// An error holds the quantities and ends that it is about, and these refuse with an error.
    const GROUND: [[&str; 2]; 2] = [["error", "units"], ["error", "record"]];
    let mut circles = BTreeSet::new();
    for (folder, mut imports) in imports_by_folder() {
        if folder.is_empty() {
            for [error, other] in GROUND {
                assert!(imports[error].contains(other) && imports[other].contains(error), "{other} needs no exception");
                imports.get_mut(error).unwrap().remove(other);
            }
        }
        let back = |one: &String| {
            let there = reached(one, &imports);
            there.iter().filter(|other| reached(other, &imports).contains(one)).cloned().collect::<Vec<_>>()
        };
        circles.extend(imports.keys().map(back).filter(|circle| !circle.is_empty()).map(|circle| {
            let inside = folder.join("/");
            format!("in `{inside}`: {}", circle.join(", "))
        }));
    }
    assert!(circles.is_empty(), "{circles:#?}");
}

/// Whoever links the crate is owed a reason for each thing that comes with it.
#[test]
fn every_dependency_has_its_reason() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let developers = fs::read_to_string(root.join("DEVELOPERS.md")).unwrap();
    let reasons = developers.split("## What is linked, and why").nth(1).unwrap().split("\n## ").next().unwrap();
    let read = |path: &str| fs::read_to_string(root.join(path)).unwrap();
    let [workspace, python] = [read("Cargo.toml"), read("python/Cargo.toml")];
    let named = |text: &str, head: &str| -> Vec<String> {
        let section = text.split(head).nth(1).unwrap().split("\n[").next().unwrap().to_owned();
        section.lines().filter_map(|line| Some(line.split_once(" = ")?.0.to_owned())).collect()
    };
    let mut all = named(&workspace, "[workspace.dependencies]\n");
    all.extend(named(&python, "\n[dependencies]\n"));
    assert!(all.len() > 18, "{all:?}");
    let lacks: Vec<&String> =
        all.iter().filter(|name| *name != "wheelrate" && !reasons.contains(&format!("`{name}`"))).collect();
    assert!(lacks.is_empty(), "without a reason in DEVELOPERS.md: {lacks:?}");
}

/// A defect that was mended keeps the test that saw it.
#[test]
fn every_defect_named_has_its_test() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let developers = fs::read_to_string(root.join("DEVELOPERS.md")).unwrap();
    let table = developers.split("## Defects and the tests").nth(1).unwrap().split("\n## ").next().unwrap();
    let rows: Vec<&str> = table.lines().filter(|line| line.starts_with("| ") && line.contains("::")).collect();
    assert!(rows.len() > 15, "{rows:#?}");
    let lacks: Vec<&str> = rows
        .iter()
        .flat_map(|row| row.split('`').filter(|part| part.contains("::")))
        .filter(|test| {
            let (file, name) = test.split_once("::").unwrap();
            let text = fs::read_to_string(root.join(file)).unwrap_or_default();
            !["fn ", "def "].iter().any(|word| text.contains(&format!("{word}{name}(")))
        })
        .collect();
    assert!(lacks.is_empty(), "named in DEVELOPERS.md and not there: {lacks:#?}");
}
