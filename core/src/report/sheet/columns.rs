//! Tables of the sheet as text no wider than the page: what has no room beside the first column stands in a second block below,
//! a remark under its row, what every row says alike once below all of them, and words too long for their column are wrapped.

use crate::report::sheet::text::Page;
use crate::report::sheet::{Line, SheetTable};

/// Between two columns.
const GAP: &str = "  ";
/// Before a table.
const INDENT: &str = "  ";
/// Before what stands under its row.
const UNDER: &str = "      ";
/// A name that takes more than this share of the width has its value on the next line.
const WIDEST_NAME: f64 = 0.6;

impl Page {
    pub(super) fn lines(&mut self, name: &str, lines: &[Line]) {
        if lines.is_empty() {
            return;
        }
        self.heading(name);
        let widest = lines.iter().map(|line| line.name.chars().count()).max().unwrap_or(0);
        for line in lines {
            let named = format!("{INDENT}{}{}{GAP}", line.name, pad(&line.name, widest));
            self.hanging(&named, &line.entry.text);
        }
    }

    /// A text after a name, wrapped beside it where there is room.
    fn hanging(&mut self, named: &str, text: &str) {
        if named.chars().count() as f64 <= WIDEST_NAME * self.width as f64 {
            self.items([text], named);
        } else if named.chars().count() + text.chars().count() <= self.width {
            self.line(&format!("{named}{text}"));
        } else {
            self.line(named);
            self.items([text], UNDER);
        }
    }

    pub(super) fn table(&mut self, name: &str, table: &SheetTable) {
        if table.rows.is_empty() {
            return;
        }
        self.heading(name);
        let kept: Vec<usize> = (0..table.columns.len())
            .filter(|&column| table.rows.iter().any(|row| row.get(column).is_some_and(|entry| !entry.text.is_empty())))
            .collect();
        let columns: Vec<Column> = kept.into_iter().map(|column| Column::of(table, column)).collect();
        // What is said of every row alike is said once, below.
        let (alike, columns): (Vec<_>, Vec<_>) =
            columns.into_iter().enumerate().partition(|(at, column)| *at > 0 && column.is_alike());
        let mut columns: Vec<Column> = columns.into_iter().map(|(_, column)| column).collect();
        let room = self.width - INDENT.len();
        let mut remarks = None;
        if wide(&columns) > room && columns.last().is_some_and(Column::is_remark) {
            remarks = columns.pop();
        }
        for block in blocks(&columns, room) {
            self.block(&block, room, remarks.take().as_ref());
        }
        let mut said: Vec<(&str, Vec<&str>)> = Vec::new();
        for (_, column) in &alike {
            let [head, .., text] = &column.cells[..] else { continue };
            match said.iter_mut().find(|(other, _)| other == text) {
                Some((_, heads)) => heads.push(head),
                None => said.push((text, vec![head])),
            }
        }
        let said: Vec<String> =
            said.iter().map(|(text, heads)| format!("{}, in every row: {text}", heads.join(", "))).collect();
        self.items(said.iter().map(String::as_str), INDENT);
    }

    /// Columns side by side, the first of them the names; remarks under their rows.
    fn block(&mut self, columns: &[&Column], room: usize, remarks: Option<&Column>) {
        let rows = columns.first().map_or(0, |column| column.cells.len());
        for row in 0..rows {
            let cells: Vec<String> = columns.iter().map(|column| column.cell(row)).collect();
            let line = cells.join(GAP);
            // The row of units is left out where there are none.
            if row == 1 && line.trim().is_empty() {
                continue;
            }
            match &cells[..] {
                [name, text] if line.trim_end().chars().count() > room => {
                    self.hanging(&format!("{INDENT}{name}{GAP}"), text.trim());
                }
                _ => self.line(&format!("{INDENT}{line}")),
            }
            let remark = remarks.and_then(|remarks| remarks.cells.get(row)).filter(|remark| !remark.is_empty());
            self.items(remark.map(String::as_str), UNDER);
        }
    }
}

/// The columns in as few blocks as the width allows, each beside the first column.
fn blocks(columns: &[Column], room: usize) -> Vec<Vec<&Column>> {
    let Some((names, others)) = columns.split_first() else { return Vec::new() };
    let mut blocks = vec![vec![names]];
    let mut taken = names.width;
    for column in others {
        let more = GAP.len() + column.width;
        match blocks.last_mut() {
            Some(block) if block.len() == 1 || taken + more <= room => block.push(column),
            _ => {
                blocks.push(vec![names, column]);
                taken = names.width;
            }
        }
        taken += more;
    }
    blocks
}

fn wide(columns: &[Column]) -> usize {
    columns.iter().map(|column| column.width).sum::<usize>() + GAP.len() * columns.len().saturating_sub(1)
}

/// A column ready to print: head, unit, cells; the unit stands in the head when all numbers share it.
struct Column {
    cells: Vec<String>,
    width: usize,
    words: bool,
}

impl Column {
    fn of(table: &SheetTable, column: usize) -> Self {
        let entries = || table.rows.iter().filter_map(|row| row.get(column));
        let numbers = || entries().filter(|entry| entry.value.is_some());
        let unit = numbers().next().and_then(|entry| entry.unit.as_deref()).filter(|unit| {
            numbers().all(|entry| entry.unit.as_deref() == Some(unit) && entry.text.ends_with(&format!(" {unit}")))
        });
        let head = table.columns.get(column).cloned().unwrap_or_default();
        let stripped = entries().map(|entry| match unit {
            Some(unit) => entry.text.trim_end_matches(unit).trim_end().to_owned(),
            None => entry.text.clone(),
        });
        let cells: Vec<String> = [head, unit.unwrap_or_default().to_owned()].into_iter().chain(stripped).collect();
        let width = cells.iter().map(|cell| cell.chars().count()).max().unwrap_or(0);
        Self { width, words: numbers().next().is_none(), cells }
    }

    /// Words without a head, one under each row where there is no room beside it.
    fn is_remark(&self) -> bool {
        self.words && self.cells.first().is_some_and(String::is_empty)
    }

    /// Do several rows say the same words?
    fn is_alike(&self) -> bool {
        match &self.cells[..] {
            [head, _, first, others @ ..] => {
                self.words && !head.is_empty() && !others.is_empty() && others.iter().all(|other| other == first)
            }
            _ => false,
        }
    }

    /// Words stand left, numbers right.
    fn cell(&self, row: usize) -> String {
        let text = self.cells.get(row).cloned().unwrap_or_default();
        let space = pad(&text, self.width);
        if self.words { text + &space } else { space + &text }
    }
}

fn pad(text: &str, width: usize) -> String {
    " ".repeat(width.saturating_sub(text.chars().count()))
}
