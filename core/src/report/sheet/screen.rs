//! The first screen of a terminal: both decisions, and nothing that pushes them off it.

use crate::report::sheet::text::{Page, unbroken};
use crate::report::sheet::{Glance, Sheet};

/// Rows of the smallest terminal in use, less one for the prompt and one for what the command says of its files.
const ROWS: usize = 22;
/// Columns of the names at the left.
const NAMES: usize = 8;
/// Narrowest screen that is wrapped to: that of a phone's terminal.
const NARROWEST: usize = 40;
/// A sentence is not begun for fewer words than this.
const TORN_OFF: usize = 5;
/// Most rows of what is not the decision, where the screen is short of rows, from generous to spare.
const MOST_ROWS: [usize; 3] = [4, 2, 1];

impl Sheet {
    /// The sheet as the first screen of a terminal, wrapped to `width` characters (40 at least): for each end what to do, the
    /// number to set, the chance, the next reading where one is worth it; and what to mind. On 80 characters two ends need no
    /// more than 22 rows. All the rest is in [`to_text`](Self::to_text).
    #[must_use]
    pub fn to_screen(&self, width: usize) -> String {
        let width = width.max(NARROWEST);
        let screens = MOST_ROWS.map(|most| self.screen(width, most));
        let [.., spare] = &screens;
        screens.iter().find(|screen| screen.lines().count() <= ROWS).unwrap_or(spare).clone()
    }

    fn screen(&self, width: usize, most: usize) -> String {
        let mut page = Page::new(width);
        page.line(if self.bike.is_empty() { "SETUP SHEET" } else { &self.bike });
        for end in &self.ends {
            glance(&mut page, &end.end.name().to_uppercase(), &end.glance, most);
        }
        for reason in &self.without {
            hang(&mut page, "--", reason, usize::MAX);
        }
        hang(&mut page, "CAUTION", &self.caution, usize::MAX);
        page.text
    }
}

fn glance(page: &mut Page, name: &str, glance: &Glance, most: usize) {
    page.line("");
    hang(page, name, &glance.decision, usize::MAX);
    let nothing = glance.chance.as_ref().map(|_| "no more readings: none is worth an evening".to_owned());
    let rows = [
        ("  set", &glance.set),
        ("  aim", &glance.aim),
        ("  chance", &glance.chance),
        ("  next", if glance.next.is_some() { &glance.next } else { &nothing }),
        (" assumed", &glance.assumed),
        ("  mind", &glance.mind),
    ];
    for (name, row) in rows {
        if let Some(row) = row {
            // The number to set is never cut.
            hang(page, name, row, if name == "  set" { usize::MAX } else { most });
        }
    }
}

/// A sentence beside its name, wrapped; what goes beyond so many rows is cut, and shown to be.
fn hang(page: &mut Page, name: &str, text: &str, most: usize) {
    let room = page.width - NAMES - 1;
    let mut rows: Vec<String> = Vec::new();
    for word in unbroken(text) {
        match rows.last_mut().filter(|row| row.chars().count() + 1 + word.chars().count() <= room) {
            Some(row) => {
                row.push(' ');
                row.push_str(&word);
            }
            None => rows.push(word),
        }
    }
    let cut = rows.len() > most;
    rows.truncate(most);
    if let Some(last) = rows.last_mut().filter(|_| cut) {
        while last.chars().count() + 2 > room && last.contains(' ') {
            last.truncate(last.rfind(' ').unwrap_or(0));
        }
        // The first words of a sentence that is cut say nothing.
        let torn = last.rsplit_once(". ").filter(|(_, tail)| tail.split_whitespace().count() < TORN_OFF);
        if let Some(end) = torn.map(|(whole, _)| whole.len()) {
            last.truncate(end + 1);
        }
        last.push_str(" …");
    }
    for (at, row) in rows.iter().enumerate() {
        page.line(&format!("{:NAMES$} {row}", if at == 0 { name } else { "" }));
    }
}
