//! The whole bike on the sheet: how it stands fully extended, alone, under its rider, and in every scenario.
//!
//! The springs are taken as the file states them and friction is left out, so that the travels are near the sags of the
//! fit, not equal to them.

mod moving;

use crate::Result;
use crate::bike::settling::Stance;
use crate::bike::steering::{Steering, SteeringUncertainty};
use crate::bike::{Adjustment, Bike, SagConversion, WholeBike};
use crate::record::{Direction, End, Load};
use crate::report::direction::along;
use crate::report::entry::{Line, SheetEntry, SheetTable};
use crate::units::{Angle, Length, Quantity, UnitSystem, show};
use crate::wheel::FrontEnd;

/// Tenths of a degree.
const ANGLE_DECIMALS: usize = 1;
/// What the notes let rake and fork offset be off by: half a degree, a millimetre.
const RAKE_STEP_SI: f64 = 0.5 * core::f64::consts::PI / 180.0;
const OFFSET_STEP_SI: f64 = 1e-3;

/// Why squat has no ±, and what its numbers mean.
const SQUAT_WORTH: &str = "Above 100 % anti-squat, drive lifts the rear; below, it squats. Squat has no ± either: the bike \
                           file states none for the heights of the masses and the sprocket's centre. It goes inversely with \
                           the height of the centre of gravity: 5 % more height is 5 % less anti-squat.";

/// How the whole bike stands.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Geometry {
    /// One row per measure, one column per state; `None` when the bike cannot be stood on its wheels.
    pub table: Option<SheetTable>,
    /// What drive does to the rear at rider sag; empty where it cannot be computed.
    pub drive: Vec<Line>,
    /// What either brake does at rider sag; empty where neither can be computed.
    pub braking: Vec<Line>,
    /// Where the chain is tightest, and what to set it to; empty where there is none.
    pub chain: Vec<Line>,
    /// What the bushes of the fork rub with under the rider; empty where the file says nothing of them.
    pub bushes: Vec<Line>,
    /// What is missing and why, how the numbers are meant, what they are worth.
    pub notes: Vec<String>,
}

impl Geometry {
    /// What drive, brakes and chain do, each under its title.
    pub(super) fn of_motion(&self) -> [(&'static str, &[Line]); 4] {
        [
            ("Under drive, rider on", &self.drive),
            ("Under the brakes, rider on", &self.braking),
            ("The chain, wheel lifted", &self.chain),
            ("The bushes of the fork, rider on", &self.bushes),
        ]
    }
}

/// A measure of a stance, with its entry.
type Row<'a> = (String, Box<dyn Fn(&Stance) -> SheetEntry + 'a>);

pub(crate) fn geometry(bike: &Bike, units: UnitSystem) -> Geometry {
    let whole = bike.whole();
    let extended = match whole.chassis().and_then(|chassis| chassis.extended()) {
        Ok(extended) => extended,
        Err(error) => {
            let missing = format!("Rake, trail and wheelbase are left out. {}.", sentence(&error.to_string()));
            let chain = moving::chain(bike, units).unwrap_or_default();
            let (bushes, note) = moving::bushes(&whole, units);
            let notes = core::iter::once(missing).chain(note).collect();
            return Geometry { table: None, drive: Vec::new(), braking: Vec::new(), chain, bushes, notes };
        }
    };
    let mut notes = vec![
        "The springs are taken as the bike file states them, without friction; both ends settle together.".to_owned(),
        worth(&extended, bike, units),
    ];
    let settle = |load: &Load| whole.settle(load).map(|settled| settled.stance);
    let mut states: Vec<(&str, Load, Result<Stance>)> = vec![
        ("fully extended", Load::bike_alone(), Ok(extended)),
        ("bike alone", Load::bike_alone(), settle(&Load::bike_alone())),
        ("rider on", bike.parts().rider_load.clone(), settle(&bike.parts().rider_load)),
    ];
    let others = bike.parts().scenarios.iter();
    states.extend(others.map(|other| (other.name.as_str(), other.load.clone(), settle(&other.load))));
    for (name, _, state) in &states {
        notes.extend(state.as_ref().err().map(|error| format!("{}: {error}.", sentence(name))));
    }
    if bike.parts().frame_points.is_empty() {
        notes.push(
            "Seat height and ground clearance are left out: name the seat and the lowest point of the frame in \
             `frame_points`."
                .to_owned(),
        );
    }
    let mut rows: Vec<Vec<SheetEntry>> = rows(bike, units)
        .into_iter()
        .map(|(name, read)| {
            let of = |(_, _, state): &(&str, Load, Result<Stance>)| {
                state.as_ref().map_or_else(|_| SheetEntry::words("not known"), &read)
            };
            core::iter::once(SheetEntry::words(name)).chain(states.iter().map(of)).collect()
        })
        .collect();
    let mass_centre =
        |(_, load, state): &(&str, Load, Result<Stance>)| whole.centre_of_gravity(load, state.as_ref().ok()?).ok();
    let mass_centres: Vec<_> = states.iter().map(mass_centre).collect();
    if mass_centres.first().is_some_and(Option::is_some) {
        let coordinate = |name: &str, axis: usize| {
            let of = |place: &Option<[Length; 2]>| {
                let at = place.map(|place| place[axis]);
                SheetEntry::or(at, "not known", |length| SheetEntry::stated(length, units, units.length_decimals()))
            };
            core::iter::once(SheetEntry::words(name)).chain(mass_centres.iter().map(of)).collect()
        };
        rows.push(coordinate("centre of gravity ahead of rear contact", 0));
        rows.push(coordinate("centre of gravity over ground", 1));
    } else {
        notes.push(
            "The centre of gravity is left out: state the `height` of each mass (raise one axle to find it)."
                .to_owned(),
        );
    }
    notes.extend(clamps(bike, units));
    let (drive, note) = match drive(&whole, units) {
        Ok(lines) => (lines, SQUAT_WORTH.to_owned()),
        Err(error) => (Vec::new(), format!("Squat is left out. {}.", sentence(&error.to_string()))),
    };
    notes.push(note);
    let (braking, note) = moving::braking(&whole, units);
    notes.push(note);
    let chain = moving::chain(bike, units).unwrap_or_default();
    if !chain.is_empty() {
        notes.push(moving::CHAIN_WORTH.to_owned());
    }
    let (bushes, note) = moving::bushes(&whole, units);
    notes.extend(note);
    let columns = core::iter::once("").chain(states.iter().map(|(name, ..)| *name)).map(str::to_owned).collect();
    Geometry { table: Some(SheetTable { columns, rows }), drive, braking, chain, bushes, notes }
}

fn rows(bike: &Bike, units: UnitSystem) -> Vec<Row<'_>> {
    let length = move |length: Length| SheetEntry::stated(length, units, units.length_decimals());
    let angle = move |angle: Angle| SheetEntry::stated(angle, units, ANGLE_DECIMALS);
    let mut rows: Vec<Row<'_>> = vec![
        ("rake".to_owned(), Box::new(move |stance| angle(stance.rake))),
        ("trail".to_owned(), Box::new(move |stance| length(stance.trail))),
        ("trail, square to the axis".to_owned(), Box::new(move |stance| length(stance.normal_trail))),
        ("wheelbase".to_owned(), Box::new(move |stance| length(stance.wheelbase))),
        (
            "swingarm below level".to_owned(),
            Box::new(move |stance| SheetEntry::or(stance.swingarm_angle, "no fixed pivot", angle)),
        ),
        ("frame pitch, nose down".to_owned(), Box::new(move |stance| angle(stance.pitch))),
    ];
    for end in End::BOTH {
        let direction = bike.measuring_or_vertical(end).direction;
        let is_other = direction != Direction::Vertical;
        if let Some(tape) = SagConversion::of(bike, end, direction).ok().filter(|_| is_other) {
            let read =
                move |stance: &Stance| SheetEntry::or(tape.sag(*stance.travel.at(end)).ok(), "not known", length);
            rows.push((format!("{end} travel used, {}", along(direction)), Box::new(read)));
        }
        let vertical = if is_other { ", vertical" } else { "" };
        rows.push((format!("{end} travel used{vertical}"), Box::new(move |stance| length(*stance.travel.at(end)))));
    }
    for (name, at) in &bike.parts().frame_points {
        let height = move |stance: &Stance| length(stance.place(*at)[1]);
        rows.push((format!("{} over ground", name.replace('_', " ")), Box::new(height)));
    }
    rows
}

/// Chain line and squat where the bike rests under its rider.
fn drive(whole: &WholeBike<'_>, units: UnitSystem) -> Result<Vec<Line>> {
    let at = whole.squat_at_rest(&whole.bike().parts().rider_load)?;
    Ok(vec![
        Line::new("chain above level, forward", SheetEntry::stated(at.chain_angle, units, ANGLE_DECIMALS)),
        Line::new("squat line above level, forward", SheetEntry::stated(at.squat_angle, units, ANGLE_DECIMALS)),
        Line::new("squat ratio", SheetEntry::number(at.squat_ratio, format!("{:.2}", at.squat_ratio))),
        Line::new("anti-squat", SheetEntry::stated(at.anti_squat, units, 0)),
    ])
}

/// What sliding the fork in its clamps does to the bike at rest under its rider; nothing where that cannot be said.
fn clamps(bike: &Bike, units: UnitSystem) -> Option<String> {
    /// How far the fork is slid (m).
    const STEP: f64 = 5e-3;
    let by = Length::from_si(STEP);
    let change = Adjustment { fork_raised: Some(by), ..Adjustment::default() };
    let effect = bike.whole().effect_of(&change, &bike.parts().rider_load).ok()?;
    let length = |length: Length| show(length.abs(), units.symbol(Length::KIND), units.length_decimals());
    let way = |si: f64| if si < 0.0 { "less" } else { "more" };
    let raised = bike.parts().front.as_ref().map(FrontEnd::raised).filter(|raised| *raised != Length::default());
    let now = raised.map(|raised| {
        let side = if raised.si() < 0.0 { "lowered" } else { "raised" };
        format!(
            "The fork tubes are {side} by {} in their clamps, counted from where `axle` was measured. ",
            length(raised)
        )
    });
    let (trail, rake) = (effect.trail(), effect.rake());
    let total = raised.unwrap_or_default() + by;
    Some(format!(
        "{}Raising the fork tubes by {} in their clamps: {} {} trail, {} {} rake. Try it with `--what-if \"front.raised={}\"`.",
        now.unwrap_or_default(),
        length(by),
        length(trail),
        way(trail.si()),
        show(rake.abs(), units.symbol(Angle::KIND), ANGLE_DECIMALS),
        way(rake.si()),
        show(total, units.symbol(Length::KIND), units.length_decimals()),
    ))
}

/// Why there is no ±, and what it would come from.
fn worth(extended: &Stance, bike: &Bike, units: UnitSystem) -> String {
    let none = "No number here has a ±: rake, fork offset, wheel radii and points are taken as exact here, whatever the file \
                states of their uncertainty.";
    let Ok(wheels) = bike.wheels() else { return none.to_owned() };
    let steering =
        Steering { rake: extended.rake, fork_offset: wheels.fork_offset, radius: extended.axle_height.front };
    let by = |rake: f64, offset: f64| {
        let of = SteeringUncertainty {
            rake: Angle::from_si(rake),
            fork_offset: Length::from_si(offset),
            radius: Length::from_si(0.0),
        };
        let trail = steering.trail_with_uncertainty(&of).ok()?.standard_uncertainty;
        Some(show(trail, units.symbol(Length::KIND), units.length_decimals()))
    };
    let decimals = if units == UnitSystem::Inch { 2 } else { 0 };
    let step = show(Length::from_si(OFFSET_STEP_SI), units.symbol(Length::KIND), decimals);
    match (by(RAKE_STEP_SI, 0.0), by(0.0, OFFSET_STEP_SI)) {
        (Some(rake), Some(offset)) => format!(
            "{none} Half a degree of rake is worth {rake} of trail, {step} of fork offset {offset}. Changes from state to \
             state are surer than the numbers themselves."
        ),
        _ => none.to_owned(),
    }
}

/// With a capital at its head, and no stop at its end.
fn sentence(text: &str) -> String {
    let mut letters = text.trim_end_matches('.').chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::bike::BikeParts;
    use crate::demo::PATROL;

    fn demo() -> Bike {
        Bike::from_toml(PATROL).unwrap()
    }

    fn value(geometry: &Geometry, name: &str, column: usize) -> f64 {
        let table = geometry.table.as_ref().unwrap();
        let row = table.rows.iter().find(|row| row[0].text == name).unwrap_or_else(|| panic!("{name}: {table:?}"));
        row[column].value.unwrap()
    }

    #[test]
    fn the_table_says_what_the_stances_say() {
        let bike = demo();
        let (geometry, stances) = (geometry(&bike, UnitSystem::Metric), bike.whole().stances().unwrap());
        let [extended, free, rider] = [&stances.extended, &stances.free.stance, &stances.rider.stance];
        for (column, stance) in [(1, extended), (2, free), (3, rider)] {
            // From degrees and millimetres back to SI: a rounding.
            let same = |name: &str, si: f64| (value(&geometry, name, column) - si).abs() < 1e-9;
            assert!(same("trail", stance.trail.si() * 1e3) && same("wheelbase", stance.wheelbase.si() * 1e3));
            assert!(same("rake", stance.rake.si().to_degrees()));
            assert!(same("swingarm below level", stance.swingarm_angle.unwrap().si().to_degrees()));
            let seat = bike.parts().frame_points[0].1;
            assert!(same("seat over ground", stance.place(seat)[1].si() * 1e3));
        }
        assert!(value(&geometry, "skid plate over ground", 3) < value(&geometry, "skid plate over ground", 1));
    }

    #[test]
    fn the_note_puts_numbers_to_what_has_no_uncertainty() {
        let bike = demo();
        let note = &geometry(&bike, UnitSystem::Metric).notes[1];
        // ∂c/∂d = −1/cos 26.5° = 1.117; ∂c/∂ε = (350 − 55·sin 26.5°)/cos² 26.5° = 406 mm a radian, 3.5 mm for half a degree.
        assert!(note.contains("3.5 mm of trail, 1 mm of fork offset 1.1 mm"), "{note}");
        let inches = &geometry(&bike, UnitSystem::Inch).notes[1];
        assert!(inches.contains("0.14 in of trail, 0.04 in of fork offset 0.04 in"), "{inches}");
    }

    #[test]
    fn sliding_the_fork_is_said_with_what_it_does_to_trail() {
        let bike = demo();
        let said = |bike: &Bike| {
            let notes = geometry(bike, UnitSystem::Metric).notes;
            notes.into_iter().find(|note| note.contains("clamps")).unwrap()
        };
        let change = Adjustment { fork_raised: Some(Length::from_si(5e-3)), ..Adjustment::default() };
        let trail = bike.whole().effect_of(&change, &bike.parts().rider_load).unwrap().trail();
        assert!(trail.si() < 0.0);
        let note = said(&bike);
        assert!(note.contains(&format!("{:.1} mm less trail", -1e3 * trail.si())), "{note}");
        // Slid in the file, the bike stands as the note says, and the readings of sag mean what they did.
        let slid = bike.what_if(&[("front.raised", "5 mm")]).unwrap();
        let before = value(&geometry(&bike, UnitSystem::Metric), "trail", 3);
        let after = value(&geometry(&slid, UnitSystem::Metric), "trail", 3);
        // The masses follow the pitch in the note only: tenths of a millimetre.
        assert!((after - before - 1e3 * trail.si()).abs() < 0.5, "{before} {after} {trail:?}");
        // From there the next step is named as the file would have it: counted from where the axle was measured.
        let again = said(&slid);
        assert!(
            again.contains("raised by 5.0 mm in their clamps, counted from") && again.contains("front.raised=10.0 mm")
        );
    }

    #[test]
    fn squat_is_shown_where_the_bike_rests() {
        let bike = demo();
        let found = geometry(&bike, UnitSystem::Metric);
        let squat = bike.whole().squat_at_rest(&bike.parts().rider_load).unwrap();
        let value = |name: &str| found.drive.iter().find(|line| line.name == name).unwrap().entry.value.unwrap();
        assert!((value("anti-squat") - squat.anti_squat.si() * 100.0).abs() < 1e-9);
        assert_eq!(value("squat ratio"), squat.squat_ratio);
        assert!(found.notes.iter().any(|note| note.contains("Squat has no ±")));
        let shaft = geometry(
            &Bike::new({
                let mut parts = bike.parts().clone();
                parts.rear = parts.rear.map(|rear| rear.with_final_drive(crate::wheel::FinalDrive::Shaft));
                parts
            })
            .unwrap(),
            UnitSystem::Metric,
        );
        assert!(shaft.drive.is_empty() && shaft.table == found.table);
        assert!(shaft.notes.iter().any(|note| note.contains("chain squat does not apply")), "{:?}", shaft.notes);
    }

    #[test]
    fn what_is_missing_is_said() {
        let with = |change: fn(&mut BikeParts)| {
            let mut parts = demo().parts().clone();
            change(&mut parts);
            geometry(&Bike::new(parts).unwrap(), UnitSystem::Metric)
        };
        let no_wheels = with(|parts| parts.wheels = None);
        assert!(no_wheels.table.is_none() && no_wheels.notes[0].contains("`wheels` is missing"), "{no_wheels:?}");
        let no_points = with(|parts| parts.frame_points.clear());
        assert!(no_points.notes.iter().any(|note| note.contains("`frame_points`")));
        let text = PATROL.replace("rider = { front", "passenger = { front").replace("bike + rider", "bike + passenger");
        let text = text.replace("[targets]\n", "[targets]\nrider_load = \"bike + passenger\"\n");
        let other = geometry(&Bike::from_toml(&text).unwrap(), UnitSystem::Metric);
        assert_eq!(other.table, geometry(&demo(), UnitSystem::Metric).table);
        let mut parts = demo().parts().clone();
        parts.readings.clear();
        parts.scenarios.clear();
        parts.masses = Some(
            crate::mass::Masses::new(
                vec![parts.masses.as_ref().unwrap().named()[0].clone()],
                parts.masses.as_ref().unwrap().unsprung(),
                None,
            )
            .unwrap(),
        );
        let alone = geometry(&Bike::new(parts).unwrap(), UnitSystem::Metric);
        assert!(alone.notes.iter().any(|note| note.starts_with("Rider on:") && note.contains("rider")), "{alone:?}");
        assert_eq!(alone.table.unwrap().rows[0][3].text, "not known");
    }
}
