//! The oil level to set, in a sentence.

use crate::decide::OilLevel;
use crate::report::words::Words;
use crate::units::{Force, Quantity, show};

/// The oil level to set.
pub(super) fn text(oil: &OilLevel, words: Words) -> String {
    let force = |force: Force| show(force, words.units.symbol(Force::KIND), 0);
    let way = if oil.change.si() < 0.0 { "less air" } else { "more air" };
    let level =
        format!("{} in each leg ({} {way} than today)", words.length(oil.level), words.length(oil.change.abs()));
    let near = (oil.reached - oil.force).si().abs() < OilLevel::EXACT;
    match (oil.stated, near) {
        (false, _) => {
            format!(
                "Oil level to go with it: {level} keeps the force at full travel at the {} of today.",
                force(oil.force)
            )
        }
        (true, true) => format!("Oil level: {level} gives the {} wanted at full travel.", force(oil.force)),
        (true, false) => format!(
            "Oil level: {level} comes nearest to the {} wanted at full travel; it gives {}.",
            force(oil.force),
            force(oil.reached)
        ),
    }
}
