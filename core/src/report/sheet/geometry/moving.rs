//! What brakes, chain and the bushes of the fork do, on the sheet.

use super::{ANGLE_DECIMALS, sentence};
use crate::Result;
use crate::bike::{Bike, WholeBike};
use crate::report::sheet::{Line, SheetEntry};
use crate::units::{Length, Quantity, Share, UnitSystem};

/// Play of the lower run where the chain is tightest: enough that it is never pulled taut, and little beside any swing of it.
/// Common practice, no source.
const PLAY_SI: f64 = 10e-3;

/// How the numbers of the chain are meant, and why they have no ±.
pub(super) const CHAIN_WORTH: &str = "The play of the chain is how far the middle of its lower run moves, up and down together. \
     The chain has no ±: it follows from the points of the linkage and the teeth, taken as exact; sprockets that run out of \
     true and a chain worn unevenly move it by millimetres, so look for the tightest place with the wheel turned, and go by the \
     bike's own handbook where that says more.";
const BRAKING_WORTH: &str = "Each line speaks of its own brake alone. Below 100 % anti-rise the rear brake lets the rear come up, \
     above it pulls the rear down; anti-dive below zero adds to the dive, as on any telescopic fork, and above 100 %, as it may be \
     on links, the front brake lifts the front. They have no ± for the same reason as squat, and go with the height of the centre of \
     gravity as it does.";

/// Either brake where the bike rests under its rider, and what there is to say of it.
pub(super) fn braking(whole: &WholeBike<'_>, units: UnitSystem) -> (Vec<Line>, String) {
    let load = &whole.bike().parts().rider_load;
    let mut lines = Vec::new();
    let mut notes = Vec::new();
    match whole.anti_rise_at_rest(load) {
        Ok(at) => lines.extend([
            Line::new("brake line above level, forward", SheetEntry::stated(at.brake_angle, units, ANGLE_DECIMALS)),
            Line::new("anti-rise, rear brake", SheetEntry::stated(at.anti_rise, units, 0)),
        ]),
        Err(error) => notes.push(format!("Anti-rise is left out. {}.", sentence(&error.to_string()))),
    }
    match whole.anti_dive_at_rest(load) {
        Ok(at) => lines.push(Line::new("anti-dive, front brake", SheetEntry::stated(at.anti_dive, units, 0))),
        // What a fork lacks is said of anti-rise already.
        Err(error) if whole.bike().front().is_ok_and(|front| front.is_linked()) => {
            notes.push(format!("Anti-dive is left out. {}.", sentence(&error.to_string())));
        }
        Err(_) => {}
    }
    if !lines.is_empty() {
        notes.insert(0, BRAKING_WORTH.to_owned());
    }
    (lines, notes.join(" "))
}

/// The chain with usual play where it is tightest.
pub(super) fn chain(bike: &Bike, units: UnitSystem) -> Result<Vec<Line>> {
    let run = bike.rear()?.chain(&[], Length::from_si(PLAY_SI))?;
    let length = |length: Length| SheetEntry::stated(length, units, units.length_decimals());
    let usual = SheetEntry::stated(Length::from_si(PLAY_SI), units, units.length_decimals());
    Ok(vec![
        Line::new("tightest at wheel travel", length(run.tightest.travel)),
        Line::new("growth to there", length(run.tightest.growth)),
        Line::new(format!("play on the stand, for {} there", usual.text), length(run.extended_play)),
    ])
}

/// Force of a firm braking, as a share of the wheel's load.
const FIRM: f64 = 0.6;

/// What the bushes of the fork rub with where it rests under the rider, and what there is to say of it; nothing where the file does
/// not say where they are.
pub(super) fn bushes(whole: &WholeBike<'_>, units: UnitSystem) -> (Vec<Line>, Option<String>) {
    let fork_has_none =
        whole.bike().front().and_then(|front| front.fork()).map_or(true, |fork| fork.bushes().is_none());
    if fork_has_none {
        return (Vec::new(), None);
    }
    let load = &whole.bike().parts().rider_load;
    let of = |share: f64| whole.fork_friction_at_rest(load, Share::from_si(share));
    let rest = match of(0.0) {
        Ok(rest) => rest,
        Err(error) => return (Vec::new(), Some(format!("The bushes are left out. {}.", sentence(&error.to_string())))),
    };
    let mut lines = vec![
        Line::new("distance of the bushes there", SheetEntry::stated(rest.overlap, units, units.length_decimals())),
        Line::new("their friction at the wheel", SheetEntry::uncertain(rest.friction_at_wheel, units)),
    ];
    let braked = of(FIRM);
    if let Ok(braked) = &braked {
        let share = SheetEntry::stated(Share::from_si(FIRM), units, 0).text;
        let name = format!("the same, braked with {share} of the wheel's load");
        lines.push(Line::new(name, SheetEntry::uncertain(braked.friction_at_wheel, units)));
    }
    let note = "The friction of the bushes is a part of what the readings find, not beside it: the rest is that of the seals. Its ± is \
                that of the coefficient of friction alone. Under the brake the fork is held where it rested.";
    let lacks = braked.err().map(|error| format!(" Braked it is left out. {}.", sentence(&error.to_string())));
    (lines, Some(note.to_owned() + &lacks.unwrap_or_default()))
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::super::geometry;
    use super::*;
    use crate::bike::Bike;
    use crate::demo::PATROL;
    use crate::report::sheet::Geometry;

    fn value(lines: &[Line], name: &str) -> f64 {
        lines.iter().find(|line| line.name.starts_with(name)).unwrap().entry.value.unwrap()
    }

    fn of(text: &str) -> Geometry {
        geometry(&Bike::from_toml(text).unwrap(), UnitSystem::Metric)
    }

    #[test]
    fn brakes_and_chain_are_those_of_the_bike() {
        /// From per cent and millimetres back to SI: a rounding.
        const ROUNDING: f64 = 1e-9;
        let bike = Bike::from_toml(PATROL).unwrap();
        let (found, whole) = (of(PATROL), bike.whole());
        let rise = whole.anti_rise_at_rest(&bike.parts().rider_load).unwrap();
        let dive = whole.anti_dive_at_rest(&bike.parts().rider_load).unwrap();
        assert!((value(&found.braking, "anti-rise") - 100.0 * rise.anti_rise.si()).abs() < ROUNDING);
        assert!((value(&found.braking, "anti-dive") - 100.0 * dive.anti_dive.si()).abs() < ROUNDING);
        let run = bike.rear().unwrap().chain(&[], Length::from_si(PLAY_SI)).unwrap();
        assert!((value(&found.chain, "tightest") - 1e3 * run.tightest.travel.si()).abs() < ROUNDING);
        assert!((value(&found.chain, "play") - 1e3 * run.extended_play.si()).abs() < ROUNDING);
        assert!(found.notes.iter().any(|note| note.contains("its own brake alone")));
        assert!(found.notes.iter().any(|note| note.contains("The chain has no ±")));
    }

    #[test]
    fn bushes_are_on_the_sheet_where_the_file_has_them() {
        let bike = Bike::from_toml(PATROL).unwrap();
        let found = of(PATROL);
        for (name, share) in [("their friction", 0.0), ("the same, braked with 60 %", FIRM)] {
            let rest = bike.whole().fork_friction_at_rest(&bike.parts().rider_load, Share::from_si(share)).unwrap();
            assert_eq!(value(&found.bushes, name), rest.friction_at_wheel.value.si());
        }
        assert!(found.notes.iter().any(|note| note.contains("a part of what the readings find")));
        let none = of(&PATROL.replace("bushes = ", "# bushes = "));
        assert!(none.bushes.is_empty() && !none.notes.iter().any(|note| note.contains("bushes")));
        let binding = PATROL.replace("coefficient = 0.02", "coefficient = 0.5");
        let without = of(&binding.replace("overlap = \"200 mm\"", "overlap = \"20 mm\""));
        assert!(without.bushes.is_empty() && without.notes.iter().any(|note| note.contains("bushes bind at stroke")));
        let alone = of(&PATROL.split("[wheels]").next().unwrap().replace("axle = [\"905", "# axle = [\"905"));
        assert!(alone.bushes.len() == 2 && alone.notes[1].contains("Braked it is left out"), "{:?}", alone.notes);
    }

    #[test]
    fn what_is_not_stated_is_said_or_left_out() {
        let unknown = of(&PATROL.replace("caliper = ", "# caliper = "));
        assert!(
            unknown.notes.iter().any(|note| note.contains("Anti-rise is left out") && note.contains("`rear.caliper`"))
        );
        assert_eq!(unknown.braking.len(), 1);
        let bare = of(PATROL.split("[rear.chain]").next().unwrap());
        assert!(bare.chain.is_empty() && !bare.notes.iter().any(|note| note.contains("The chain has no ±")));
    }
}
