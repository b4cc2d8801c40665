//! Keys that stand in comments, to be filled in: `# rake = "26 deg"`, under a header that may stand in one too.

use toml_edit::{DocumentMut, Item, RawString, Value};

use super::document;
use crate::error::{Address, Step};

/// The text with the commented line of a key brought out of its comment, holding a value; `None` where there is none.
///
/// What follows the value on the line (a comment of its own) stays.
pub(super) fn uncommented(text: &str, steps: &[Step], value: &Value) -> Option<String> {
    let mut lines: Vec<String> = text.split_inclusive('\n').map(str::to_owned).collect();
    // The header that a line stands under: where it stands itself, and the keys it leads to.
    let mut header: (Option<usize>, Vec<Step>) = (None, Vec::new());
    for at in 0..lines.len() {
        let line = lines.get(at)?.trim();
        let bare = line.trim_start_matches('#').trim_start();
        if let Some(leads_to) = header_of(bare).or_else(|| bare.starts_with("[[").then(Vec::new)) {
            header = (Some(at), leads_to);
            continue;
        }
        let Some(key) = line.starts_with('#').then(|| key_of(bare)).flatten() else { continue };
        // Rows of a list of tables have headers that lead to no one place.
        if (header.0.is_some() && header.1.is_empty()) || [header.1.as_slice(), &key].concat() != steps {
            continue;
        }
        let Some(filled) = filled(lines.get(at)?, bare, &key, value) else { continue };
        lines[at] = filled;
        if let Some(line) = header.0.and_then(|at| lines.get_mut(at)).filter(|line| line.trim_start().starts_with('#'))
        {
            let bare = line.trim_start().trim_start_matches('#').trim();
            let (text, comment) = bare.find('#').map_or((bare, ""), |at| bare.split_at(at));
            *line = with_comment(line, text, comment);
        }
        return Some(lines.concat());
    }
    None
}

/// The keys of a header, `[rear.shock]`, with nothing after it but a comment.
fn header_of(line: &str) -> Option<Vec<Step>> {
    let (inside, after) = line.strip_prefix('[')?.split_once(']')?;
    let after = after.trim();
    let alone = after.is_empty() || after.starts_with('#');
    (alone && !inside.starts_with('['))
        .then(|| Address::parse(inside.trim()))
        .flatten()
        .map(|keys| keys.steps().to_vec())
}

/// The keys before the equals sign of a line.
fn key_of(line: &str) -> Option<Vec<Step>> {
    let (key, _) = line.split_once('=')?;
    Address::parse(key.trim()).map(|keys| keys.steps().to_vec())
}

/// The line with a value, its own comment where it stood; `None` where it is prose with an equals sign in it.
fn filled(line: &str, bare: &str, key: &[Step], value: &Value) -> Option<String> {
    let mut document: DocumentMut = format!("{bare}\n").parse().ok()?;
    document::put(document.as_item_mut(), key, value.clone()).ok()?;
    let filled = document.to_string();
    let after = key.iter().try_fold(document.as_item(), |item, step| match step {
        Step::Key(key) => item.get(key),
        Step::Row(_) => None,
    });
    let suffix = after.and_then(Item::as_value).and_then(|value| value.decor().suffix());
    let comment = suffix.and_then(RawString::as_str).unwrap_or_default().trim().to_owned();
    Some(with_comment(line, filled.trim_end().strip_suffix(&comment)?, &comment))
}

/// A text with the comment of a line, in the column where it stood.
fn with_comment(line: &str, text: &str, comment: &str) -> String {
    let text = text.trim_end();
    let column = line.trim_end().chars().count() - comment.chars().count();
    let blanks = if comment.is_empty() { 0 } else { column.saturating_sub(text.chars().count()).max(1) };
    format!("{text}{}{comment}\n", " ".repeat(blanks))
}
