//! A file to start from: every key that a person may know, with what it means, behind a `#` until it is known.
//!
//! Three of them, each with more blanks than the one before: what a data sheet, a label and bathroom scales give; a table of
//! shock lengths and two scales, one more evening; the pivots of the linkage. [`amend::set_keys`](super::amend::set_keys) fills
//! one in.

/// The text of all templates: a line of a fuller one has its name in front.
const ALL: &str = include_str!("../../data/start.txt");

/// How much a file has room for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Template {
    /// Data sheet, labels, bathroom scales.
    Little,
    /// A table of shock lengths, two scales, oil level and charge too.
    Table,
    /// The pivots of the linkage and the wheels too.
    Pivots,
}

impl Template {
    /// All of them by name, the least first.
    pub const ALL: [(&str, Self); 3] = [("little", Self::Little), ("table", Self::Table), ("pivots", Self::Pivots)];

    /// The text.
    ///
    /// ```
    /// use wheelrate::{Bike, file::start::Template};
    /// assert!(Bike::from_toml(&Template::Little.text()).is_ok());
    /// ```
    #[must_use]
    pub fn text(self) -> String {
        let line = |line: &str| {
            let (name, rest) = match line.strip_prefix('@') {
                Some(marked) => marked.split_once(' ').unwrap_or((marked, "")),
                None => return Some(format!("{line}\n")),
            };
            Self::ALL.iter().any(|(own, template)| *own == name && *template <= self).then(|| format!("{rest}\n"))
        };
        ALL.lines().filter_map(line).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::amend::set_keys;
    use crate::file::{check, toml_text};

    /// The template with every comment made a line: what a person would get who knew everything.
    fn filled(template: Template) -> String {
        let bare = |line: &str| {
            let inside = line.strip_prefix("# ").filter(|inside| inside.starts_with('[') || inside.contains(" = "));
            inside.unwrap_or(line).to_owned() + "\n"
        };
        template.text().lines().map(bare).collect()
    }

    #[test]
    fn every_template_is_sound_as_it_stands_and_blank() {
        for (name, template) in Template::ALL {
            let text = template.text();
            assert_eq!(check(&text), [], "{name}");
            assert!(
                !text.contains('@') && text.lines().all(|line| line.trim_end() == line && line.chars().count() < 150),
                "{name}"
            );
            assert!(
                text.lines().all(|line| line.is_empty() || line.starts_with('#') || line == "format = 1"),
                "{name}"
            );
        }
        let length = |template: Template| template.text().lines().count();
        assert!(
            length(Template::Little) < length(Template::Table) && length(Template::Table) < length(Template::Pivots)
        );
    }

    #[test]
    fn every_blank_is_a_key_that_can_be_filled_in() {
        // Whole weights and weights by wheel exclude each other, so each is tried alone: no fault may be about a name.
        for (name, template) in Template::ALL {
            let mut text = String::new();
            for line in filled(template).lines() {
                let instead = ["bike = \"127", "rider = \"88"].iter().any(|whole| line.starts_with(whole));
                if !(instead && template > Template::Little) {
                    text += &format!("{line}\n");
                }
            }
            let (_, syntax) = toml_text::read(&text);
            assert!(syntax.is_empty(), "{name}: {syntax:?}");
            assert_eq!(
                check(&text).iter().map(ToString::to_string).collect::<Vec<_>>(),
                Vec::<String>::new(),
                "{name}"
            );
        }
    }

    #[test]
    fn a_blank_filled_in_leaves_the_other_lines_alone() {
        let text = Template::Little.text();
        let filled = set_keys(&text, &[("rear.shock.spring.rate", "5.4 kgf/mm"), ("masses.rider", "90 kg")]).unwrap();
        let changed: Vec<&str> =
            text.lines().zip(filled.lines()).filter(|(from, to)| from != to).map(|(_, to)| to).collect();
        assert_eq!(changed.len(), 4, "{changed:?}");
        assert!(changed[0].starts_with("[masses] ") && changed[1].starts_with("rider = \"90 kg\"   "));
        assert_eq!(changed[2], "[rear.shock]");
        assert!(
            changed[3].starts_with("spring.rate = \"5.4 kgf/mm\"   ")
                && changed[3].ends_with("# as marked on the spring")
        );
        assert_eq!(text.lines().count(), filled.lines().count());
        // Comments of lines filled in stand under those of the others.
        let columns: Vec<usize> = changed.iter().filter_map(|line| line.find('#')).collect();
        assert_eq!(columns, [43, 43, 43]);
    }
}
