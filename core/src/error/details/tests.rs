use super::*;
use crate::error::{GasError, LinkageError, SpringError, WheelError};
use crate::record::End;
use crate::units::{Length, Quantity};

/// An error with its field, what was found and what would do; empty where the error knows none.
type Case = (Error, &'static str, &'static str, &'static str);

fn masses() -> Vec<Case> {
    let name = || "pannier".to_owned();
    vec![
        (MassError::Empty.into(), "load", "no mass", "the names of masses"),
        (
            MassError::BadName { name: name(), reason: "it is given twice" }.into(),
            "pannier",
            "`pannier`",
            "another name",
        ),
        (MassError::NoHeight { name: name() }.into(), "pannier.height", "none", "the height, e.g. `620 mm`"),
        (
            MassError::NoPitchInertia { name: name() }.into(),
            "pannier.pitch_inertia",
            "none",
            "the pitch inertia, e.g. `20 kg m2`",
        ),
        (
            MassError::Placed { load: "bike + rider".to_owned() }.into(),
            "load",
            "bike + rider",
            "what comes on top of the bike, e.g. `rider`",
        ),
        (
            MassError::Raise { field: "raised", found: "0 mm".to_owned(), wanted: "more than 0 mm".to_owned() }.into(),
            "raised",
            "0 mm",
            "more than 0 mm",
        ),
    ]
}

fn bikes() -> Vec<Case> {
    let text = str::to_owned;
    vec![
        (
            BikeError::NotLater { found: text("2026-05-30"), other: text("2026-05-31") }.into(),
            "date",
            "2026-05-30",
            "a date after `2026-05-31`",
        ),
        (
            BikeError::Nested { field: "was", outer: text("rear.shock"), inner: text("rear.shock.spring") }.into(),
            "was",
            "rear.shock",
            "that, or `rear.shock.spring`",
        ),
        (BikeError::Sag { found: text("310 mm"), full: text("300 mm") }.into(), "sag", "310 mm", "0 mm to 300 mm"),
        (
            BikeError::Rake { rake: text("72°"), pitch: text("2°"), most: text("60°") }.into(),
            "rake",
            "72°",
            "within 60° of upright",
        ),
        (BikeError::Axles { apart: text("9 mm"), step: text("40 mm") }.into(), "", "9 mm", "more than 40 mm"),
        (
            BikeError::TwoEnds { end: End::Front, part: "a fork" }.into(),
            "front",
            "a fork and one of your own",
            "one of the two",
        ),
        (
            BikeError::Lifts { end: End::Rear, load: text("-12 N"), remedy: "look at the masses" }.into(),
            "",
            "-12 N",
            "look at the masses",
        ),
        (BikeError::OnStop { end: End::Rear, stop: "topped out" }.into(), "", "topped out", ""),
        (
            BikeError::Reaction { found: "a torque", wanted: "state the final drive" }.into(),
            "",
            "a torque",
            "state the final drive",
        ),
        (BikeError::NotBuilt { what: "a landing", feature: "landing" }.into(), "", "", "the feature `landing`"),
    ]
}

fn sweeps_and_setups() -> Vec<Case> {
    let text = str::to_owned;
    vec![
        (SweepError::Empty { field: "axes", wanted: "one axis or more" }.into(), "axes", "none", "one axis or more"),
        (
            SweepError::NoAnswer { output: text("rear.trail"), looked_at: 8, why: text("no trail there") }.into(),
            "outputs",
            "rear.trail",
            "",
        ),
        (SweepError::NoDesign { looked_at: 8, why: text("no bike") }.into(), "", "", ""),
        (SweepError::OnStop { end: End::Front, load: text("bike") }.into(), "", "", ""),
        (
            SetupError::Contradiction { end: End::Rear, contradictions: vec![text("12 mm"), text("15 mm")] }.into(),
            "reading",
            "12 mm; 15 mm",
            "readings that agree",
        ),
        (SetupError::TooManyLoads { end: End::Rear, found: 9, most: 8 }.into(), "", "9", "8 at most"),
    ]
}

fn springs_and_gas() -> Vec<Case> {
    let text = str::to_owned;
    vec![
        (SpringError::NoSpring { part: text("shock") }.into(), "shock", "no main spring", "a main spring"),
        (
            SpringError::OwnElement { part: text("a cone"), stroke: text("20 mm"), found: text("a force of NaN N") }
                .into(),
            "",
            "a force of NaN N at 20 mm",
            "",
        ),
        (SpringError::NoText { part: text("a cone") }.into(), "", "a cone", "a part that has a text form"),
        (
            GasError::BelowVacuum { part: text("reservoir"), gauge: text("-1.2 bar"), surroundings: text("1 bar") }
                .into(),
            "reservoir",
            "-1.2 bar",
            "more than -1 bar",
        ),
        (GasError::TwoPressures.into(), "altitude", "`altitude` and `surroundings`", "one of them"),
    ]
}

fn linkages() -> Vec<Case> {
    let text = str::to_owned;
    let mm = |number| Length::from_si(number / 1000.0);
    let of_rocker = || text("rocker");
    vec![
        (LinkageError::PointTwice { point: text("eye") }.into(), "points.eye", "two places", "one place"),
        (LinkageError::BodyTwice { body: of_rocker() }.into(), "bodies.rocker", "two lists", "one list of its points"),
        (
            LinkageError::PointTwiceOnBody { body: of_rocker(), point: text("eye") }.into(),
            "bodies.rocker",
            "eye",
            "each point once",
        ),
        (
            LinkageError::Coincident { body: of_rocker(), first: text("eye"), second: text("pin") }.into(),
            "bodies.rocker",
            "`eye` and `pin` in one place",
            "two places",
        ),
        (
            LinkageError::Welded { first: of_rocker(), second: text("link"), points: vec![text("eye"), text("pin")] }
                .into(),
            "bodies.rocker",
            "two points shared with `link`",
            "one body of both",
        ),
        (
            LinkageError::Paradox { counted: 1, actual: 2, detail: text("the link floats") }.into(),
            "bodies",
            "2 degrees of freedom as drawn",
            "exactly 1",
        ),
        (LinkageError::Immobile { part: "wheel", point: text("axle") }.into(), "wheel", "axle", "a point that moves"),
        (
            LinkageError::ShockOnOneBody { first: text("eye"), second: text("pin") }.into(),
            "shock",
            "`eye` and `pin`",
            "two points that come closer as the wheel rises",
        ),
        (
            LinkageError::TableNotFalling { at: mm(42.0) }.into(),
            "readings",
            "a shock that does not shorten near 42.0 mm",
            "lengths that fall",
        ),
        (LinkageError::Column { found: 3, wanted: 4 }.into(), "", "3", "4 numbers"),
        (LinkageError::Measures { found: 3, wanted: 4 }.into(), "", "3", "4"),
        (LinkageError::TooFewTeeth { found: 2, fewest: 6 }.into(), "", "2", "6 or more"),
        (
            LinkageError::TableShort { end: "compressed", wanted: mm(280.0), nearest: mm(291.0) }.into(),
            "readings",
            "readings to 291.0 mm",
            "readings to 280.0 mm",
        ),
        (
            LinkageError::OutOfTravel { found: mm(118.004), full: mm(118.0) }.into(),
            "travel",
            "118.004 mm",
            "0 mm to 118.000 mm",
        ),
        (LinkageError::EmptyInterval { from: mm(30.0), to: mm(20.0) }.into(), "", "20.000 mm", "more than 30.000 mm"),
    ]
}

fn wheels() -> Vec<Case> {
    let text = str::to_owned;
    vec![
        (WheelError::NoCaliper.into(), "caliper", "none", "a body of the linkage that carries the axle, or `frame`"),
        (WheelError::NoAxle.into(), "axle", "none", "the axle at full extension, in the frame axes"),
        (WheelError::NoShockLength.into(), "shock.length", "nothing", "the length between the eyes, fully extended"),
        (
            WheelError::OtherShock { found: text("a stroke of 60 mm"), wanted: text("a stroke of 65 mm") }.into(),
            "shock",
            "a stroke of 60 mm",
            "a stroke of 65 mm",
        ),
        (
            WheelError::OwnEnd { end: text("Trailing"), at: text("30 mm"), found: text("a rate of NaN N/mm") }.into(),
            "",
            "a rate of NaN N/mm at 30 mm",
            "",
        ),
    ]
}

fn cases() -> Vec<Case> {
    [masses(), bikes(), sweeps_and_setups(), springs_and_gas(), linkages(), wheels()].into_iter().flatten().collect()
}

/// The names in backticks and the numbers with their units: what a message may word otherwise, but not leave out.
fn marked(text: &str) -> Vec<&str> {
    let names = text.split('`').skip(1).step_by(2);
    let numbers = text.split(' ').filter(|word| word.contains(|symbol: char| symbol.is_ascii_digit()));
    names.chain(numbers).collect()
}

#[test]
fn an_error_says_its_field_what_was_found_and_what_would_do() {
    let or_none = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    for (error, field, found, wanted) in cases() {
        let details = error.details();
        let said = (details.field.map(|field| field.to_string()), details.found, details.wanted);
        assert_eq!(said, (or_none(field), or_none(found), or_none(wanted)), "{error}");
    }
}

#[test]
fn the_message_has_every_name_and_number_that_details_say_was_found() {
    for (error, ..) in cases() {
        let (message, details) = (error.to_string(), error.details());
        let found = details.found.unwrap_or_default();
        for word in marked(&found) {
            assert!(message.contains(word), "{message}: {found}");
        }
    }
}

#[test]
fn of_several_faults_the_first_speaks() {
    let faults =
        vec![LinkageError::PointTwice { point: "eye".to_owned() }, LinkageError::BodyTwice { body: "arm".to_owned() }];
    assert_eq!(LinkageError::Several(faults.clone()).details(), faults[0].details());
    assert_eq!(LinkageError::Several(Vec::new()).details(), Details::default());
}

#[test]
fn a_load_without_the_bike_is_given_back_with_it() {
    let details = MassError::WithoutBike { load: "rider + pannier".to_owned() }.details();
    assert_eq!(details.suggestion.as_deref(), Some("bike + rider + pannier"));
}
