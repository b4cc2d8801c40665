//! The sheet as text for a terminal.

use crate::error::on_one_line;
use crate::infer::finding::Severity;
use crate::report::assumptions::HEADING;
use crate::report::sheet::{Sheet, SheetEnd};
#[cfg(feature = "serde")]
use crate::report::words::of_end;
#[cfg(feature = "serde")]
use crate::units::UnitSystem;
use crate::units::kind;
#[cfg(feature = "serde")]
use {
    crate::history::{EndHistory, History},
    crate::report::HistoryPage,
};

/// Narrowest page; below it tables would be torn anyway.
const NARROWEST: usize = 60;

impl Sheet {
    /// The sheet as a page of plain text, no line longer than `width` characters (60 at least): sentences are wrapped,
    /// and a table is cut into blocks.
    #[must_use]
    pub fn to_text(&self, width: usize) -> String {
        let mut page = Page::new(width.max(NARROWEST));
        page.title(&format!("SETUP SHEET  {}", self.bike), '=');
        for end in &self.ends {
            page.end(end);
        }
        page.title("THE WHOLE BIKE", '=');
        if let Some(table) = &self.geometry.table {
            page.table("How it stands", table);
            for (title, lines) in self.geometry.of_motion() {
                page.lines(title, lines);
            }
            page.line("");
        }
        page.items(self.geometry.notes.iter().map(String::as_str), "- ");
        if let Some(damping) = &self.damping {
            page.title("DAMPING", '=');
            page.table("At the wheels", &damping.ends);
            if let Some(modes) = &damping.modes {
                page.table("Of the modes", modes);
            }
            page.items(damping.notes.iter().map(String::as_str), "- ");
        }
        if !self.without.is_empty() {
            page.title("LEFT OUT", '-');
            page.items(self.without.iter().map(String::as_str), "- ");
        }
        page.title("HOW TO READ IT", '-');
        page.items(self.notes.iter().map(String::as_str), "- ");
        page.title("BEFORE YOU TOUCH ANYTHING", '-');
        page.items(self.cautions.iter().map(String::as_str), "[ ] ");
        page.text
    }
}

#[cfg(feature = "serde")]
impl History {
    /// The history as plain text, sentences wrapped to `width` characters (60 at least); empty where every end has one set
    /// of readings and no change.
    #[must_use]
    pub fn to_text(&self, units: UnitSystem, width: usize) -> String {
        let mut page = Page::new(width.max(NARROWEST));
        for end in &self.ends {
            page.history_of(end, units);
        }
        let without: Vec<String> = self.without.iter().map(|(end, why)| of_end(*end, why)).collect();
        page.items(without.iter().map(String::as_str), "-- ");
        page.text
    }
}

#[cfg(feature = "serde")]
impl EndHistory {
    /// The history of the end as plain text, sentences wrapped to `width` characters (60 at least); empty where it has one
    /// set of readings and no change.
    #[must_use]
    pub fn to_text(&self, units: UnitSystem, width: usize) -> String {
        let mut page = Page::new(width.max(NARROWEST));
        page.history_of(self, units);
        page.text
    }
}

/// A page of plain text under construction.
pub(super) struct Page {
    pub(super) width: usize,
    pub(super) text: String,
}

impl Page {
    pub(super) fn new(width: usize) -> Self {
        Self { width, text: String::new() }
    }

    pub(super) fn line(&mut self, line: &str) {
        // A name with a line break in it begins no line of its own.
        self.text.push_str(&on_one_line(line.trim_end()));
        self.text.push('\n');
    }

    fn title(&mut self, title: &str, rule: char) {
        if !self.text.is_empty() {
            self.line("");
        }
        self.line(title);
        self.line(&rule.to_string().repeat(self.width));
    }

    fn end(&mut self, end: &SheetEnd) {
        self.title(&end.end.name().to_uppercase(), '=');
        self.items([end.headline.as_str()], ">> ");
        self.line("");
        self.items(end.reasons.iter().map(String::as_str), "- ");
        let said = end.practice.iter().flat_map(|practice| &practice.notes);
        let found: Vec<_> = said.chain(&end.findings).collect();
        for (severity, mark) in [(Severity::Warning, "!! "), (Severity::Note, "i  ")] {
            let found = found.iter().filter(|finding| finding.severity == severity);
            self.items(found.map(|finding| finding.text.as_str()), mark);
        }
        let tables = [
            ("Springs, best first", end.springs.as_ref()),
            ("What follows from each", end.consequences.as_ref()),
            ("What if something stated is wrong", end.doubts.as_ref()),
        ];
        for (name, table) in tables {
            if let Some(table) = table {
                self.table(name, table);
            }
        }
        if let Some(form) = &end.form {
            self.table(&form.title, &form.table);
        }
        if let Some(scenarios) = &end.scenarios {
            self.heading("Other loads");
            self.items(scenarios.sentences.iter().map(String::as_str), "- ");
            self.table("How they stand today", &scenarios.today);
            self.table("What to set for each", &scenarios.settings);
            self.table("What follows under each", &scenarios.consequences);
            self.table("Both sags land, by spring and load", &scenarios.springs);
        }
        if let Some(riders) = &end.riders {
            self.heading("All riders");
            self.items(riders.sentences.iter().map(String::as_str), "- ");
            self.table("One preload for all", &riders.common);
            self.table("A preload for each", &riders.own);
        }
        if let Some(practice) = &end.practice {
            self.table(&practice.title, &practice.table);
        }
        if let Some(table) = &end.assumed {
            self.table(HEADING, table);
            self.items(end.assumed_says.as_deref(), "- ");
        }
        self.lines("What the readings say", &end.fit);
        self.table("Sag as read", &end.sags);
        self.table("Readings against the fit", &end.readings);
        if !end.next.is_empty() {
            self.heading("What to measure next");
            self.items(end.next.iter().map(String::as_str), "- ");
        }
        self.lines("Worked out from", &end.inputs);
        #[cfg(feature = "serde")]
        if let Some(history) = &end.history {
            self.history(history);
        }
    }

    #[cfg(feature = "serde")]
    fn history_of(&mut self, end: &EndHistory, units: UnitSystem) {
        if end.is_shown() {
            self.title(&end.end.name().to_uppercase(), '=');
            self.history(&end.page(units));
        }
    }

    #[cfg(feature = "serde")]
    fn history(&mut self, history: &HistoryPage) {
        self.table("Readings in time", &history.sets);
        self.items([history.basis.as_str()], "- ");
        self.items(history.drifts.iter().map(String::as_str), "- ");
        if !history.changes.is_empty() {
            self.heading("What was changed");
            self.items(history.changes.iter().map(String::as_str), "- ");
        }
        for check in &history.checks {
            self.table(&check.title, &check.sags);
            self.items(check.sentences.iter().map(String::as_str), "- ");
        }
    }

    pub(super) fn heading(&mut self, name: &str) {
        self.line("");
        self.line(name);
    }

    /// Sentences, wrapped, hanging from a mark.
    pub(super) fn items<'a>(&mut self, items: impl IntoIterator<Item = &'a str>, mark: &str) {
        let indent = " ".repeat(mark.chars().count());
        for item in items {
            let mut line = mark.to_owned();
            let mut fresh = true;
            for word in unbroken(item) {
                if !fresh && line.chars().count() + 1 + word.chars().count() > self.width {
                    self.line(&line);
                    line.clone_from(&indent);
                    fresh = true;
                }
                if !fresh {
                    line.push(' ');
                }
                line.push_str(&word);
                fresh = false;
            }
            self.line(&line);
        }
    }
}

/// The words of a sentence, a number in one piece with its ± and its unit.
pub(super) fn unbroken(sentence: &str) -> Vec<String> {
    let mut pieces: Vec<String> = Vec::new();
    for word in sentence.split_whitespace() {
        match pieces.last_mut().filter(|piece| belongs(piece, word)) {
            Some(piece) => {
                piece.push(' ');
                piece.push_str(word);
            }
            None => pieces.push(word.to_owned()),
        }
    }
    pieces
}

/// Does a word belong to the number before it?
fn belongs(before: &str, word: &str) -> bool {
    let bare = word.trim_end_matches([',', '.', ';', ':', ')']);
    let unit = || word.starts_with('±') || kind::ALL.iter().any(|kind| kind.unit(bare).is_some());
    before.ends_with('±') || (before.ends_with(|last: char| last.is_ascii_digit()) && unit())
}

#[cfg(test)]
mod tests {
    use super::unbroken;

    #[test]
    fn a_number_stays_with_its_uncertainty_and_unit() {
        let pieces = unbroken("at 24.2 ± 1.2 mm (25.0 to 40.0 mm wanted), 84 % of 4 legs");
        assert_eq!(pieces, ["at", "24.2 ± 1.2 mm", "(25.0", "to", "40.0 mm", "wanted),", "84 %", "of", "4", "legs"]);
    }
}
