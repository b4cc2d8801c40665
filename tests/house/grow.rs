//! What may grow: a result with a field more, a choice with a case more, breaks nobody's build.

use super::{Source, sources};
use std::collections::BTreeSet;

/// Structs with public fields that users make themselves, field by field: a field more is meant to stop their build.
const MADE_BY_USERS: &[&str] = &[
    "AdjusterParts",
    "Adjustment",
    "Arm",
    "AssumedParts",
    "AxialState",
    "AxleAt",
    "AxleRaise",
    "BikeParts",
    "BodyMass",
    "BrakeStance",
    "Centres",
    "ChainDrive",
    "ChamberParts",
    "Braking",
    "Change",
    "ClosingCoilParts",
    "CoilParts",
    "CommonPractice",
    "Ends",
    "FastState",
    "ForkAirParts",
    "Freedom",
    "GeometryWish",
    "HalfBike",
    "HalfBikeEnd",
    "Idler",
    "Kind",
    "Knee",
    "Legs",
    "LogSensor",
    "MaterialParts",
    "MeasuredSpringParts",
    "MeasuredParts",
    "Measuring",
    "MovingParts",
    "NegativeChamber",
    "OnSale",
    "Outline",
    "PathAt",
    "Picture",
    "PivotUncertainty",
    "Practice",
    "Prices",
    "Progress",
    "QuarterBike",
    "Range",
    "Reading",
    "Room",
    "Running",
    "SagTarget",
    "Scenario",
    "SpacerParts",
    "SpringDuty",
    "SpringPrior",
    "SpringSetting",
    "Steering",
    "SteeringUncertainty",
    "Stopping",
    "StrokeAt",
    "SurveyParts",
    "Targets",
    "Uncertain",
    "Unit",
    "UnmarkedParts",
    "WheelAndTyre",
    "Wheels",
    "FrontBrake",
    "SecondChamber",
    "Spacers",
];

/// Enums with every case there is: whoever matches one is meant to think of each.
const WHOLE: &[&str] = &[
    "Agreement",
    "Axis",
    "Direction",
    "End",
    "Figure",
    "FinalDrive",
    "Gauge",
    "Holds",
    "Load",
    "ModeKind",
    "Passes",
    "RoadClass",
    "SagKind",
    "Settled",
    "Settling",
    "Side",
    "SpringVerdict",
    "Stability",
    "Target",
    "UnitSystem",
    "Values",
    "Way",
    "Weighing",
];

/// Public structs with public fields and public enums of a source, with the attributes above them.
fn open_types(code: &str) -> impl Iterator<Item = (&str, &str)> {
    ["\npub struct ", "\npub enum "].into_iter().flat_map(move |mark| {
        code.match_indices(mark).filter_map(move |(at, head)| {
            let rest = &code[at + head.len()..];
            let name = &rest[..rest.find(|c: char| !(c.is_alphanumeric() || c == '_'))?];
            let body = &rest[..rest.find("\n}").unwrap_or(rest.len())];
            let attributes = &code[code[..at].rfind(['}', ';']).map_or(0, |end| end + 1)..at];
            let open = mark == "\npub enum " || body.lines().any(|line| line.starts_with("    pub "));
            (open && body.lines().next()?.ends_with('{')).then_some((name, attributes))
        })
    })
}

#[test]
fn what_may_grow_can_grow_without_breaking_a_user() {
    let (mut faults, mut seen) = (BTreeSet::new(), BTreeSet::new());
    for Source { path, code, .. } in sources() {
        for (name, attributes) in open_types(&code) {
            let exempt = MADE_BY_USERS.contains(&name) || WHOLE.contains(&name);
            seen.extend(exempt.then_some(name.to_owned()));
            if exempt == attributes.contains("#[non_exhaustive]") {
                faults.insert(format!("{}: {name}", path.display()));
            }
        }
    }
    assert!(faults.is_empty(), "either `non_exhaustive` or in a list with its reason: {faults:#?}");
    let gone: Vec<_> = MADE_BY_USERS.iter().chain(WHOLE).filter(|name| !seen.contains(**name)).collect();
    assert!(gone.is_empty(), "no such type: {gone:?}");
}
