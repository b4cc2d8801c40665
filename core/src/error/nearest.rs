//! The name a person probably meant.

/// Most edits, as a share of the longer name, for a known name to be suggested: a third, so that `travl` finds `travel`
/// and `rider` does not find `front`.
const MOST_EDITS: f64 = 0.34;

/// The known name nearest to the one found, if any is near.
pub(crate) fn nearest<'a>(found: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    /// Longest name compared: longer ones are no slips, and the comparison grows with both lengths.
    const LONGEST: usize = 64;
    if found.len() > LONGEST {
        return None;
    }
    let lower = found.to_lowercase();
    known
        .into_iter()
        .map(|name| (1.0 - strsim::normalized_damerau_levenshtein(&lower, &name.to_lowercase()), name))
        .filter(|(edits, _)| *edits <= MOST_EDITS)
        .min_by(|(a, _), (b, _)| a.total_cmp(b))
        .map(|(_, name)| name)
}

/// `; did you mean …?`, or nothing.
pub(crate) fn did_you_mean(name: Option<&str>) -> String {
    name.map(|name| format!("; did you mean `{name}`?")).unwrap_or_default()
}

/// The nearest known name as a question, or nothing.
pub(crate) fn hint<'a>(found: &str, known: impl IntoIterator<Item = &'a str>) -> String {
    did_you_mean(nearest(found, known))
}

/// Names as a list for a message: `a, b or c`.
pub(crate) fn list<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let names: Vec<&str> = names.into_iter().collect();
    match names.as_slice() {
        [] => "none".to_owned(),
        [one] => (*one).to_owned(),
        [most @ .., last] => format!("{} or {last}", most.join(", ")),
    }
}

/// Names quoted, as a list: `` `a`, `b` and `c` ``.
pub(crate) fn quoted<S: AsRef<str>>(names: &[S]) -> String {
    let names: Vec<String> = names.iter().map(|name| format!("`{}`", name.as_ref())).collect();
    match names.as_slice() {
        [] => "none".to_owned(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}
