//! The page of keys for a person, in Markdown, made from the same tables as the reader.

use super::bike::BikeKeys;
use super::shape::{Key, Shape, Table, in_words};
use super::table::Keys;
use crate::record::Change;

/// Every key of the bike file in Markdown: one section a table, one row a key.
#[must_use]
pub fn page() -> String {
    let mut page = Page::default();
    page.section("The whole file", BikeKeys::table());
    let head = "# Keys of the bike file\n\n\
                Every quantity is text with its unit. A key in **bold** must be there; any other may be left out. Rows in double \
                brackets may stand several times.\n";
    format!("{head}{}", page.text)
}

/// Sections written so far.
#[derive(Default)]
struct Page {
    text: String,
    /// Tables that have a section, with its title.
    written: Vec<(&'static Table, String)>,
}

impl Page {
    fn section(&mut self, title: &str, table: &'static Table) {
        self.written.push((table, title.to_owned()));
        self.text.push_str(&format!("\n## {title}\n\n{}\n", table.doc));
        if !table.sets().is_empty() {
            let sets: Vec<String> = table.sets().iter().map(|set| format!("`{}`", in_words(set))).collect();
            self.text.push_str(&format!("\nExactly one of: {}.\n", sets.join("; ")));
        }
        self.text.push_str("\n| key | holds | meaning |\n|---|---|---|\n");
        let path = if self.written.len() == 1 { "" } else { title.trim_matches(['[', ']', '`']) };
        let inner = |name: &str| if path.is_empty() { name.to_owned() } else { format!("{path}.{name}") };
        let mut sections = Vec::new();
        if let Some(named) = table.named {
            let holds = self.holds(&named, &inner("NAME"), &mut sections);
            self.text.push_str(&format!("| *a name of yours* | {holds} | |\n"));
        }
        for Key { name, doc, shape, required } in table.keys() {
            let holds = self.holds(shape, &inner(name), &mut sections);
            let key = if *required { format!("**`{name}`**") } else { format!("`{name}`") };
            self.text.push_str(&format!("| {key} | {holds} | {} |\n", doc.replace('|', "\\|")));
        }
        for (title, table) in sections {
            if !self.has(table) {
                self.section(&title, table);
            }
        }
    }

    fn has(&self, table: &'static Table) -> bool {
        self.written.iter().any(|(other, _)| core::ptr::eq(*other, table))
    }

    /// What a key holds, in few words; tables get a section of their own.
    fn holds(&self, shape: &Shape, path: &str, sections: &mut Vec<(String, &'static Table)>) -> String {
        match shape {
            Shape::Quantity(kind) => format!("{}: {}", kind.name, kind.unit_list()),
            Shape::Uncertain(kind) => format!("{} ± its standard uncertainty: {}", kind.name, kind.unit_list()),
            Shape::Number => "a plain number".to_owned(),
            Shape::Count => "a whole number".to_owned(),
            Shape::Version => "`1`".to_owned(),
            Shape::Text => "text".to_owned(),
            Shape::Any => "any value of the file".to_owned(),
            Shape::Date => "a day, with or without a time".to_owned(),
            Shape::DateOfChange => format!("a day, with or without a time, or `{}`", Change::SUPPOSED),
            Shape::Choice(words) => words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(" or "),
            Shape::Row(kinds) => {
                format!("a row of {}", kinds.iter().map(|kind| kind.name).collect::<Vec<_>>().join(" and "))
            }
            Shape::Point(_) => "a point, `[x, z]`".to_owned(),
            Shape::Table(table) => self.section_of(table(), format!("`[{path}]`"), sections),
            Shape::List(Shape::Table(table)) => {
                format!("rows of {}", self.section_of(table(), format!("`[[{path}]]`"), sections))
            }
            Shape::List(of) => format!("a list, each {}", self.holds(of, path, sections)),
            Shape::OneOf(forms) => {
                forms.iter().map(|form| self.holds(form, path, sections)).collect::<Vec<_>>().join(", or ")
            }
        }
    }

    /// The section of a table, written once; what is in several places refers to it.
    fn section_of(&self, table: &'static Table, title: String, sections: &mut Vec<(String, &'static Table)>) -> String {
        let known = self.written.iter().map(|(other, title)| (*other, title));
        let known = known.chain(sections.iter().map(|(title, other)| (*other, title)));
        let before = known.into_iter().find(|(other, _)| core::ptr::eq(*other, table)).map(|(_, title)| title.clone());
        match before {
            Some(title) => format!("as {title}"),
            None => {
                sections.push((title.clone(), table));
                title
            }
        }
    }
}
