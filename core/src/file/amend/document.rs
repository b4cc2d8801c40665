//! Values and rows put into a document that keeps its layout.

use toml_edit::{InlineTable, Item, Table, TableLike};

use crate::error::Step;
use crate::keys::Value;

/// Tables missing this deep or deeper are written in braces, as a person writes a spring or a target; above it they get headers.
const BRACES_FROM: usize = 2;

/// Puts a value where some steps lead, with tables made on the way where there are none. The error is the step that leads
/// nowhere.
pub(super) fn put(root: &mut Item, steps: &[Step], value: toml_edit::Value) -> Result<(), String> {
    let mut here = root;
    let Some((last, way)) = steps.split_last() else { return Err(String::new()) };
    for (depth, step) in way.iter().enumerate() {
        here = inner(here, step, depth).ok_or_else(|| word(step))?;
    }
    match last {
        Step::Key(key) => {
            let table = here.as_table_like_mut().ok_or_else(|| word(last))?;
            match table.get_mut(key) {
                Some(found) => replace(found, value),
                None => {
                    table.insert(key, Item::Value(value));
                }
            }
        }
        Step::Row(row) => {
            let list = here.as_array_mut().ok_or_else(|| word(last))?;
            let found = list.get_mut(*row).ok_or_else(|| word(last))?;
            let decor = found.decor().clone();
            *found = value;
            *found.decor_mut() = decor;
        }
    }
    Ok(())
}

/// What stands one step further, made where it is a key of a table that has it not.
fn inner<'i>(here: &'i mut Item, step: &Step, depth: usize) -> Option<&'i mut Item> {
    match step {
        Step::Key(key) => {
            let braces = here.is_inline_table() || depth >= BRACES_FROM;
            let table: &mut dyn TableLike = here.as_table_like_mut()?;
            if !table.contains_key(key) {
                table.insert(key, if braces { Item::Value(InlineTable::new().into()) } else { Item::Table(headed()) });
            }
            table.get_mut(key)
        }
        Step::Row(row) => here.get_mut(*row),
    }
}

/// A table under a header of its own, which is not written while only tables stand in it.
fn headed() -> Table {
    let mut table = Table::new();
    table.set_implicit(true);
    table.decor_mut().set_prefix("\n");
    table
}

/// Puts a value in place of another, between the same blanks and comments.
fn replace(found: &mut Item, value: toml_edit::Value) {
    let decor = found.as_value().map(|old| old.decor().clone());
    *found = Item::Value(value);
    if let (Some(decor), Some(new)) = (decor, found.as_value_mut()) {
        *new.decor_mut() = decor;
    }
}

/// A row of a list of tables; `None` for what is no table of TOML.
pub(super) fn table(row: &Value) -> Option<Table> {
    let Value::Table(entries) = row else { return None };
    let mut table = Table::new();
    table.decor_mut().set_prefix("\n");
    for entry in entries {
        table.insert(&entry.key, Item::Value(entry.value().to_string().parse().ok()?));
    }
    Some(table)
}

fn word(step: &Step) -> String {
    match step {
        Step::Key(key) => key.clone(),
        Step::Row(row) => format!("[{row}]"),
    }
}
