//! Common practice on the sheet: every figure for the discipline stated, and how the user's own targets stand to it.

use crate::Result;
use crate::bike::{Agreement, Bike, FigureOnBike, SagPractice};
use crate::infer::finding::Severity;
use crate::record::{End, Figure};
use crate::report::direction::along;
use crate::report::entry::{SheetEntry, SheetTable};
use crate::report::sheet::SheetFinding;
use crate::report::words::Words;
use crate::units::{Share, UnitSystem, show};

/// What common practice says of the sags of one end.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetPractice {
    /// Of which discipline.
    pub title: String,
    /// One figure a row.
    pub table: SheetTable,
    /// What is taken from it, where it disagrees, and where the user's own targets stand outside it.
    pub notes: Vec<SheetFinding>,
}

pub(crate) fn practice(bike: &Bike, end: End, units: UnitSystem) -> Result<Option<SheetPractice>> {
    let said = bike.practice(end)?;
    let Some(discipline) = bike.parts().discipline.as_deref().filter(|_| !said.is_empty()) else { return Ok(None) };
    let rows = said.iter().flat_map(|said| said.figures.iter().map(|figure| row(said, figure, units)));
    let finding = |(severity, text)| SheetFinding { severity, text };
    let columns = ["sag", "figure", "on this bike", "along", "your aim", "where from"];
    Ok(Some(SheetPractice {
        title: format!("What is common for {discipline}"),
        table: SheetTable::new(columns, rows.collect()),
        notes: said.iter().filter_map(|said| said.note(units)).map(finding).collect(),
    }))
}

fn row(said: &SagPractice, figure: &FigureOnBike, units: UnitSystem) -> [SheetEntry; 6] {
    let words = Words { units };
    let practice = &figure.practice;
    let given = match practice.figure {
        Figure::Length(range) => words.range(&range),
        Figure::Share { from, to } => {
            let percent = |share: Share| show(share, "%", 0).trim_end_matches('%').trim_end().to_owned();
            format!("{} to {} % of travel", percent(from), percent(to))
        }
    };
    let note = practice.note.iter().map(|note| format!(" ({note})"));
    [
        SheetEntry::words(said.sag.name()),
        SheetEntry::words(given),
        SheetEntry::words(words.range(&figure.range)),
        SheetEntry::words(along(practice.direction)),
        SheetEntry::words(match figure.holds_own {
            Some(true) => "inside",
            Some(false) => "outside",
            None => "not stated",
        }),
        SheetEntry::words(note.fold(practice.basis.clone(), |basis, note| basis + &note)),
    ]
}

impl SagPractice {
    /// What is taken, where the figures disagree, or that the user's own target stands outside them, and how much that
    /// matters; nothing where all is well.
    #[must_use]
    pub fn note(&self, units: UnitSystem) -> Option<(Severity, String)> {
        let words = Words { units };
        let (end, sag) = (self.end, self.sag.name());
        let discipline = self.figures.first().map_or("", |figure| figure.practice.discipline.as_str());
        let ranges = |figures: Vec<&FigureOnBike>| {
            let of = |figure: &FigureOnBike| words.range(&figure.range);
            figures.into_iter().map(of).collect::<Vec<_>>().join(" and ")
        };
        let all = || ranges(self.figures.iter().collect());
        let direction = along(self.direction());
        let key = format!("`targets.{end}.{sag}_sag`");
        let (severity, text) = match (self.own, self.agreement) {
            (Some(own), _) => {
                let outside: Vec<_> = self.figures.iter().filter(|figure| figure.holds_own == Some(false)).collect();
                if outside.is_empty() {
                    return None;
                }
                let ranges = ranges(outside);
                let aim = words.length(own.value);
                let text = format!(
                    "Your {sag} sag, aimed at {aim}, lies outside what is common for {discipline}, {ranges} ({direction}). It is \
                     kept as you stated it: common practice has no source."
                );
                (Severity::Note, text)
            }
            (None, Agreement::Overlap(target)) => {
                let text = format!(
                    "No {sag} sag is stated: {} ({direction}) is taken from what is common for {discipline}, which has no \
                     source. State your own under {key}.",
                    words.range(&target.range)
                );
                (Severity::Note, text)
            }
            (None, Agreement::Disagree) => {
                let text = format!(
                    "What is common for {discipline} does not agree on the {sag} sag of this bike: {}. Nothing is taken. \
                     State your own under {key}.",
                    all()
                );
                (Severity::Warning, text)
            }
            (None, Agreement::BeyondTravel(full)) => {
                let text = format!(
                    "What is common for {discipline} asks for a {sag} sag of {} where the whole travel is {} ({direction}). \
                     Nothing is taken. State your own under {key}.",
                    all(),
                    words.length(full)
                );
                (Severity::Warning, text)
            }
        };
        Some((severity, text))
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::demo::PATROL;
    use crate::record::Direction;
    use crate::record::SagKind;
    use crate::units::{Length, Quantity};

    fn demo(discipline: &str) -> Bike {
        Bike::from_toml(PATROL).unwrap().correct(&[("targets.discipline", discipline)]).unwrap()
    }

    /// Without targets of its own.
    fn unstated(discipline: &str) -> Bike {
        let mut parts = demo(discipline).parts().clone();
        parts.targets = crate::record::Ends::default();
        Bike::new(parts).unwrap()
    }

    #[test]
    fn figures_that_overlap_are_wanted() {
        let bike = unstated("motocross");
        let target = bike.targets(End::Rear).rider_sag.unwrap();
        // 95 to 110 mm, and 30 to 35 % of the full travel of this linkage.
        let full = bike.end(End::Rear).unwrap().full_travel().si();
        assert!((target.range.from.si() - 0.095).abs() < 1e-12);
        assert!((target.range.to.si() - 0.35 * full).abs() < 1e-12, "{target:?}");
        // 20 to 28 % of 290 mm along the fork.
        let front = bike.targets(End::Front).rider_sag.unwrap();
        assert!((front.range.from.si() - 0.058).abs() < 1e-12 && (front.range.to.si() - 0.0812).abs() < 1e-12);
        assert_eq!(front.direction, Direction::AlongFork);
        let free = bike.targets(End::Front).free_sag.unwrap();
        assert!((free.range.from.si() - 0.11 * 0.29).abs() < 1e-12 && (free.range.to.si() - 0.17 * 0.29).abs() < 1e-12);
        let sheet = bike.sheet(UnitSystem::Metric).unwrap();
        let text = sheet.to_text(100);
        assert!(text.contains("No rider sag is stated: 95.0 to 104.7 mm (vertical)"), "{text}");
        assert!(sheet.ends.iter().all(|end| end.verdict.is_some()));
        let front = sheet.ends[0].practice.as_ref().unwrap();
        assert_eq!(front.table.rows.len(), 2);
        assert_eq!(front.table.rows[0][1].text, "20 to 28 % of travel");
    }

    #[test]
    fn figures_that_disagree_are_shown_and_none_is_taken() {
        let bike = unstated("road");
        assert!(bike.targets(End::Front).rider_sag.is_none());
        let [rider, free] = &bike.practice(End::Front).unwrap()[..] else { panic!() };
        assert_eq!((rider.sag, rider.agreement), (SagKind::Rider, Agreement::Disagree));
        assert!(matches!(free.agreement, Agreement::Overlap(_)) && bike.targets(End::Front).free_sag.is_some());
        let sheet = bike.sheet(UnitSystem::Metric).unwrap();
        assert!(sheet.ends[0].headline.contains("do not overlap on this bike"), "{}", sheet.ends[0].headline);
        let text = sheet.to_text(100).split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains("does not agree on the rider sag of this bike: 30.0 to 45.0 mm and 81.2 to 110.2 mm"));
        let advice = bike.advise().unwrap();
        assert!(advice.ends.is_empty() && advice.without.len() == 2, "{:?}", advice.without);
    }

    #[test]
    fn a_target_of_ones_own_comes_first_and_its_distance_is_said() {
        let bike = demo("trail");
        let stated = Bike::from_toml(PATROL).unwrap();
        for end in End::BOTH {
            assert_eq!(bike.targets(end), &stated.parts().targets.at(end).clone());
        }
        let text = bike.sheet(UnitSystem::Metric).unwrap().to_text(100);
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            text.contains("Your rider sag, aimed at 55.0 mm, lies outside what is common for trail, 58.0 to 81.2 mm"),
            "{text}"
        );
        assert!(!text.contains("Your rider sag, aimed at 102.0 mm, lies outside"), "102 mm is inside both");
    }

    #[test]
    fn a_sag_beyond_the_travel_is_not_taken() {
        let table = crate::record::CommonPractice::from_toml(
            &crate::record::CommonPractice::SHIPPED
                .replace("\"95 mm\", to = \"110 mm\"", "\"295 mm\", to = \"310 mm\""),
        );
        let mut parts = unstated("trail").parts().clone();
        parts.practice = table.ok();
        parts.practice.as_mut().unwrap().rows.retain(|row| matches!(row.figure, Figure::Length(_)));
        let bike = Bike::new(parts).unwrap();
        assert!(bike.targets(End::Rear).rider_sag.is_none());
        let [rider, _] = &bike.practice(End::Rear).unwrap()[..] else { panic!() };
        assert!(matches!(rider.agreement, Agreement::BeyondTravel(full) if full.si() < 0.31));
        assert!(bike.sheet(UnitSystem::Inch).unwrap().to_text(100).contains("11.61 to 12.20 in"));
    }

    #[test]
    fn directions_are_compared_after_conversion() {
        let bike = unstated("motocross");
        let cosine = bike.front().unwrap().fork().unwrap().rake().si().cos();
        let mut table = bike.parts().common_practice().clone();
        let mut vertical = table.on("motocross", End::Front, SagKind::Rider).next().unwrap().clone();
        vertical.direction = Direction::Vertical;
        let [from, to] = [0.060, 0.070].map(Length::from_si);
        vertical.figure = Figure::Length(crate::record::Range::new(from, to).unwrap());
        table.rows.push(vertical);
        let range =
            bike.with(|parts| parts.practice = Some(table)).unwrap().targets(End::Front).rider_sag.unwrap().range;
        assert!((range.from.si() - 0.060 / cosine).abs() < 1e-12 && (range.to.si() - 0.070 / cosine).abs() < 1e-12);
    }

    #[test]
    fn an_unknown_discipline_is_reported_at_its_place() {
        let text = PATROL.replace("discipline = \"trail\"", "discipline = \"trial\"");
        let faults = crate::file::check(&text);
        let [fault] = &faults[..] else { panic!("{faults:?}") };
        assert_eq!(fault.key_path, "targets.discipline");
        assert!(
            fault.message.contains("found `trial`, wanted motocross, trail, road, track or any; did you mean `trail`?")
        );
    }
}
