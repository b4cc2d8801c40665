//! What a person fills in at the bike, with what should come out.

use crate::decide::{Decision, Rests, Verdict};
use crate::report::entry::{SheetEntry, SheetTable};
use crate::units::{Length, Quantity, Uncertain, UnitSystem};

/// A form for the next readings: what tape or gauge should show, and room for what it shows.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Form {
    /// When it is to be filled in.
    pub title: String,
    /// The readings expected, with a column to write in.
    pub table: SheetTable,
}

/// What is read next: after the change, or before anything is changed where the decision is to measure first.
pub(super) fn form(advice: &Decision, units: UnitSystem) -> Option<Form> {
    let (title, rests) = match advice.verdict {
        Verdict::MeasureFirst { .. } | Verdict::ServiceFirst => {
            ("Next readings, before anything is changed", advice.rests_today()?)
        }
        Verdict::Keep => ("Next readings, as it stays", advice.rests()?),
        Verdict::ChangePreload { .. } | Verdict::ChangeSpring { .. } | Verdict::NoneSuits { .. } => {
            ("Read it again after the change", advice.rests()?)
        }
    };
    let Rests { rider_low, rider_high, free_low, free_high } = rests;
    let rider = advice.rider_load.to_string();
    let lines = [
        ("bike", "pushed down", free_low),
        ("bike", "lifted", free_high),
        (rider.as_str(), "pushed down", rider_low),
        (rider.as_str(), "lifted", rider_high),
    ];
    let blank = || SheetEntry::words("");
    // A gauge that was zeroed shows no distance.
    let table = match advice.fit.extended {
        None => {
            let rows = lines.map(|(load, side, sag)| {
                [SheetEntry::words(load), SheetEntry::words(side), SheetEntry::sag(sag, units), blank()]
            });
            SheetTable::new(["under", "first", "sag", "found"], rows.to_vec())
        }
        Some(extended) => {
            let off_the_ground = [
                SheetEntry::words("nothing"),
                SheetEntry::words("wheel lifted"),
                SheetEntry::uncertain(extended, units),
                SheetEntry::words("none"),
                blank(),
            ];
            let rows = lines.map(|(load, side, sag)| {
                let distance = Uncertain {
                    value: extended.value - sag.value,
                    standard_uncertainty: Length::from_si(
                        extended.standard_uncertainty.si().hypot(sag.standard_uncertainty.si()),
                    ),
                };
                let tape = SheetEntry::uncertain(distance, units);
                [SheetEntry::words(load), SheetEntry::words(side), tape, SheetEntry::sag(sag, units), blank()]
            });
            let rows = core::iter::once(off_the_ground).chain(rows).collect();
            SheetTable::new(["under", "first", "tape", "or sag", "found"], rows)
        }
    };
    Some(Form { title: title.to_owned(), table })
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use crate::Bike;
    use crate::decide::Rests;
    use crate::demo::PATROL;
    use crate::record::End;
    use crate::units::{Quantity, UnitSystem};

    #[test]
    fn the_form_says_what_the_tape_shows_on_the_bike_as_advised() {
        let bike = Bike::from_toml(PATROL).unwrap();
        for end in End::BOTH {
            let decision = bike.advise_end(end).unwrap();
            let choice = decision.advised().unwrap();
            let outcome = choice.outcome.unwrap();
            let Rests { rider_low, rider_high, free_low, free_high } = outcome.rests;
            let [low, high] = [rider_low, rider_high].map(|sag| sag.value.si());
            // The middle of the friction band is the rider sag, but for the curvature of the force over 20 mm: a tenth of them.
            assert!((0.5 * (low + high) - outcome.rider_sag.value.si()).abs() < 2e-3);
            // The band is that of friction over the wheel rate, either way, along the tape.
            let band = 2.0 * decision.fit.friction.value.si() / outcome.wheel_rate.value.si() / decision.travel_per_sag;
            assert!((low - high - band).abs() < 0.1 * band, "{end}: {low} {high} {band}");
            assert!(free_low.value > free_high.value && free_low.value < rider_high.value);
            assert!(rider_low.standard_uncertainty.si() >= outcome.rider_sag.standard_uncertainty.si());
            let sheet = bike.sheet(UnitSystem::Metric).unwrap();
            let form = sheet.ends.iter().find(|part| part.end == end).unwrap().form.clone().unwrap();
            assert_eq!(form.title, "Read it again after the change");
            let number = |row: usize, column: usize| form.table.rows[row][column].value.unwrap();
            assert_eq!(form.table.rows.len(), 5);
            assert!((number(3, 3) - low * 1e3).abs() < 1e-9);
            let extended = decision.fit.extended.unwrap().value.si() * 1e3;
            assert!((number(0, 2) - extended).abs() < 1e-9);
            assert!((number(3, 2) + number(3, 3) - extended).abs() < 1e-9);
        }
    }

    #[test]
    fn the_form_of_a_bike_left_as_it_is_shows_what_was_read() {
        let wide = PATROL
            .replace("{ value = \"102 mm\", tolerance = \"4 mm\" }", "{ value = \"110 mm\", tolerance = \"20 mm\" }")
            .replace("from = \"25 mm\", to = \"40 mm\"", "from = \"5 mm\", to = \"60 mm\"");
        let bike = Bike::from_toml(&wide).unwrap();
        let decision = bike.advise_end(End::Rear).unwrap();
        assert_eq!(decision.verdict.name(), "keep");
        let set = decision.action().unwrap().act;
        assert_eq!(set, crate::decide::Act::Leave);
        let sheet = bike.sheet(UnitSystem::Metric).unwrap();
        let form = sheet.ends[1].form.clone().unwrap();
        assert_eq!(form.title, "Next readings, as it stays");
        // Each tape within two of its standard uncertainties of the mean of what was read there.
        for (row, read) in [(0, 655.0), (1, 623.0), (2, 638.0), (3, 538.5), (4, 550.0)] {
            let tape = &form.table.rows[row][2];
            let off = (tape.value.unwrap() - read).abs();
            assert!(off < 2.0 * tape.standard_uncertainty.unwrap(), "{row}: {} against {read}", tape.text);
        }
    }

    #[test]
    fn a_zeroed_gauge_has_no_tape_and_what_is_measured_first_is_read_before_any_change() {
        let least = r#"
            format = 1
            [masses]
            bike = "127 kg"
            rider = "88 kg"
            [rear]
            travel = "310 mm"
            [rear.shock]
            stroke = "132 mm"
            spring = { rate = "5.6 kgf/mm" }
            [[reading]]
            end = "rear"
            load = "bike + rider"
            settled = "low"
            sag = "108 mm"
            [[reading]]
            end = "rear"
            load = "bike"
            settled = "middle"
            sag = "13 mm"
        "#;
        let bike = Bike::from_toml(least).unwrap();
        let decision = bike.advise_end(End::Rear).unwrap();
        assert_eq!(decision.verdict.name(), "measure first");
        assert_eq!(decision.fit.extended, None);
        let sheet = bike.sheet(UnitSystem::Metric).unwrap();
        let form = sheet.ends[0].form.clone().unwrap();
        assert_eq!(form.title, "Next readings, before anything is changed");
        assert_eq!(form.table.columns, ["under", "first", "sag", "found"]);
        // What was read is what is expected, within its uncertainty; the best spring would sag 20 mm more under the bike.
        let low = &form.table.rows[2][2];
        assert!((low.value.unwrap() - 108.0).abs() < 2.0 * low.standard_uncertainty.unwrap(), "{}", low.text);
        let [free_low, free_high] = [0, 1].map(|row| form.table.rows[row][2].value.unwrap());
        let middle = 0.5 * (free_low + free_high);
        assert!((middle - decision.today.free_sag.value.si() * 1e3).abs() < 2.0, "{middle}");
    }
}
