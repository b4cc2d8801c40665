//! What a person fills in after the change, with what should come out.

use crate::decide::{Decision, Rests};
use crate::report::entry::{Entry, Table};
use crate::units::{Length, Quantity, Uncertain, UnitSystem};

/// A form for the next readings: what the tape should show once the advice is followed, and room for what it shows.
pub(super) fn form(advice: &Decision, units: UnitSystem) -> Option<Table> {
    let Rests { rider_low, rider_high, free_low, free_high } = advice.rests()?;
    let extended = advice.fit.extended;
    let rider = advice.rider_load.to_string();
    let lines = [
        ("bike", "pushed down", free_low),
        ("bike", "lifted", free_high),
        (rider.as_str(), "pushed down", rider_low),
        (rider.as_str(), "lifted", rider_high),
    ];
    let rows = lines.map(|(load, side, sag)| {
        let distance = extended.map(|extended| Uncertain {
            value: extended.value - sag.value,
            standard_uncertainty: Length::from_si(
                extended.standard_uncertainty.si().hypot(sag.standard_uncertainty.si()),
            ),
        });
        [
            Entry::words(load),
            Entry::words(side),
            Entry::or(distance, "not read", |distance| Entry::uncertain(distance, units)),
            Entry::uncertain(sag, units),
            Entry::words(""),
        ]
    });
    Some(Table::new(["under", "first", "tape", "or sag", "found"], rows.to_vec()))
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
            let number = |row: usize, column: usize| form.rows[row][column].value.unwrap();
            assert_eq!(form.rows.len(), 4);
            assert!((number(2, 3) - low * 1e3).abs() < 1e-9);
            let extended = decision.fit.extended.unwrap().value.si() * 1e3;
            assert!((number(2, 2) + number(2, 3) - extended).abs() < 1e-9);
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
        // Each tape within two of its standard uncertainties of the mean of what was read there.
        for (row, read) in [(0, 623.0), (1, 638.0), (2, 538.5), (3, 550.0)] {
            let tape = &form.rows[row][2];
            let off = (tape.value.unwrap() - read).abs();
            assert!(off < 2.0 * tape.standard_uncertainty.unwrap(), "{row}: {} against {read}", tape.text);
        }
    }
}
