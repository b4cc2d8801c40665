//! An error as data: which field, what was found, what would do, what was probably meant.

use super::{
    Address, BikeError, Error, FileError, GasError, LinkageError, MassError, SetupError, SpringError, SweepError,
    UnitError, WheelError, a,
};
use crate::units::show;

/// What an error says, field by field; what a case does not know is `None`.
///
/// ```
/// use wheelrate::Error;
/// use wheelrate::spring::Preloaded;
/// use wheelrate::units::parse;
/// let error = Preloaded::linear("52 N/mm".parse()?, parse("14 m")?).unwrap_err();
/// let details = error.details();
/// assert_eq!(details.field.unwrap(), "preload");
/// assert_eq!(details.found.as_deref(), Some("14000 mm"));
/// assert_eq!(details.wanted.as_deref(), Some("-200 mm to 300 mm"));
/// assert_eq!(details.suggestion.as_deref(), Some("14 mm"));
/// # Ok::<(), Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Details {
    /// The field at fault, seen from what was asked or built: `preload`, `leg[0].air.oil_level`.
    pub field: Option<Address>,
    /// What was found.
    pub found: Option<String>,
    /// What would do.
    pub wanted: Option<String>,
    /// What was probably meant.
    pub suggestion: Option<String>,
}

impl Details {
    fn of(found: impl Into<String>, wanted: impl Into<String>) -> Self {
        Self { found: Some(found.into()), wanted: Some(wanted.into()), ..Self::default() }
    }

    fn found(found: impl Into<String>) -> Self {
        Self { found: Some(found.into()), ..Self::default() }
    }

    fn wanted(wanted: impl Into<String>) -> Self {
        Self { wanted: Some(wanted.into()), ..Self::default() }
    }

    /// At a field, given as the text of its address.
    fn at(self, field: &str) -> Self {
        Self { field: Address::parse(field), ..self }
    }

    /// At a name in a table.
    fn named(self, table: &str, name: &str) -> Self {
        Self { field: Some(Address::default().key(table).key(name)), ..self }
    }

    fn perhaps(self, suggestion: Option<&str>) -> Self {
        Self { suggestion: suggestion.map(str::to_owned), ..self }
    }
}

impl Error {
    /// What it says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        match self {
            Self::Unit(error) => error.details(),
            Self::Setup(error) => error.details(),
            Self::Mass(error) => error.details(),
            Self::Spring(error) => error.details(),
            Self::Gas(error) => error.details(),
            Self::Linkage(error) => error.details(),
            Self::Wheel(error) => error.details(),
            Self::Bike(error) => error.details(),
            Self::File(error) => error.details(),
            Self::Sweep(error) => error.details(),
        }
    }
}

impl UnitError {
    /// What it says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        let with_unit = |kind: &str, units: &str| format!("{} with its unit: {units}", a(kind));
        match self {
            Self::BareNumber { kind, found, units, example } => {
                Details::of(found, with_unit(kind, units)).perhaps(Some(example))
            }
            Self::NoUncertainty { kind, found } => {
                Details::of(found, format!("{} as a value ± its standard uncertainty", a(kind)))
            }
            Self::NotANumber { kind, found, example } => {
                Details::of(found, format!("{} as a number and a unit, e.g. `{example}`", a(kind)))
            }
            Self::DecimalComma { found, wanted } => Details::of(found, "a decimal point").perhaps(Some(wanted)),
            Self::NotFinite { kind, found } => Details::of(found, format!("a finite {kind}")),
            Self::WrongKind { kind, found, units, .. } => Details::of(found, with_unit(kind, units)),
            Self::UnknownUnit { kind, found, units, suggestion, .. } => {
                Details::of(found, with_unit(kind, units)).perhaps(suggestion.as_deref())
            }
            Self::NotFiniteField { field, kind, found } => Details::of(found, format!("a finite {kind}")).at(field),
            Self::Sign { field, found, wanted, .. } => Details::of(found, *wanted).at(field),
            Self::Implausible { field, found, low, high, suggestion, .. } => {
                Details::of(found, format!("{low} to {high}")).at(field).perhaps(suggestion.as_deref())
            }
            Self::NumberRange { field, found, low, high } => Details::of(found, format!("{low} to {high}")).at(field),
            Self::Order { field, found, wanted, other, than } => {
                Details::of(found, format!("{wanted} than the {other} of {than}")).at(field)
            }
            Self::UnknownSystem { found } => Details::of(found, "metric, kilogram-force or inch"),
        }
    }
}

impl SpringError {
    /// What it says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        match self {
            Self::OutOfStroke { part, found, full } => Details::of(found, format!("0 mm to {full}")).at(part),
            Self::EndsEarly { part, end, needed, .. } => {
                Details::of(format!("{end} of compression"), format!("{needed} of compression")).at(part)
            }
            Self::Order { field, found, wanted, other, than } => {
                Details::of(found, format!("{wanted} than the {other} of {than}")).at(field)
            }
            Self::Description { part, found, wanted } => Details::of(found, wanted).at(part),
            Self::Table { row, found, wanted } => Details {
                field: Some(Address::default().key("table").row(row.saturating_sub(1))),
                ..Details::of(found, *wanted)
            },
            Self::NoSpring { part } => Details::of("no main spring", "a main spring").at(part),
            Self::OwnElement { stroke, found, .. } => Details::found(format!("{found} at {stroke}")),
            Self::NoText { part } => Details::of(part, "a part that has a text form"),
        }
    }
}

impl GasError {
    /// What it says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        match self {
            Self::AirGapCloses { part, level, least_level, .. } => {
                Details::of(level, format!("more than {least_level}")).at(part)
            }
            Self::ChamberCloses { part, volume, least_volume, .. } => {
                Details::of(volume, format!("more than {least_volume}")).at(part)
            }
            Self::BelowVacuum { part, gauge, surroundings } => {
                Details::of(gauge, format!("more than -{surroundings}")).at(part)
            }
            Self::TwoPressures => Details::of("`altitude` and `surroundings`", "one of them").at("altitude"),
            Self::LevelOutOfReach { wanted, at_least_air, at_most_air, .. } => {
                Details::of(wanted, format!("{at_most_air} to {at_least_air}"))
            }
            Self::NoAir { part } => Details::of("no air over oil", "air over oil").at(part),
            Self::Altitude { found, low, high } => Details::of(found, format!("{low} to {high}")).at("altitude"),
        }
    }
}

impl MassError {
    /// What it says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        match self {
            Self::Unit(error) => error.details(),
            Self::UnknownMass { found, known, suggestion } => {
                Details::of(found, known).at("load").perhaps(suggestion.as_deref())
            }
            Self::LoadText { found } => {
                Details::of(found, "names of masses joined by `+`, e.g. `bike + rider`").at("load")
            }
            Self::Empty => Details::of("no mass", "the names of masses").at("load"),
            Self::Twice { load, .. } => Details::of(load, "every mass once").at("load"),
            Self::WithoutBike { load } => {
                Details::of(load, "a load with the bike").at("load").perhaps(Some(&format!("bike + {load}")))
            }
            Self::BadName { name, .. } => Details {
                field: Some(Address::default().key(name)),
                ..Details::of(format!("`{name}`"), "another name")
            },
            Self::NoBike => Details::of("no mass called `bike`", "a mass called `bike`"),
            Self::NegativeSprung { end, unsprung, scale, .. } => {
                Details::of(unsprung, format!("less than {scale}")).named("unsprung", end.name())
            }
            Self::NoWheelbase { .. } => Details::of("none", "the wheelbase, e.g. `1480 mm`").at("wheelbase"),
            Self::NoHeight { name } => Details::of("none", "the height, e.g. `620 mm`").named(name, "height"),
            Self::NoPitchInertia { name } => {
                Details::of("none", "the pitch inertia, e.g. `20 kg m2`").named(name, "pitch_inertia")
            }
            Self::Placed { load } => Details::of(load, "what comes on top of the bike, e.g. `rider`").at("load"),
            Self::Places { first, second, at, .. } => {
                Details::of(format!("{first} and {second}"), format!("one place ahead of {at} and one behind"))
            }
            Self::Raise { field, found, wanted } => Details::of(found, wanted).at(field),
        }
    }
}

impl WheelError {
    /// What it says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        match self {
            Self::OutOfTravel { found, full } => Details::of(found, format!("0 mm to {full}")).at("travel"),
            Self::NoAxle => Details::of("none", "the axle at full extension, in the frame axes").at("axle"),
            Self::NoOutline => Details::of("less than two", "two of `travel`, `shock.stroke` and `lever`").at("travel"),
            Self::Lever { found, follows } => Details::of(found, follows).at("lever"),
            Self::NoShockLength => {
                Details::of("nothing", "the length between the eyes, fully extended").at("shock.length")
            }
            Self::NotDrawn => Details::of("a measured table", "a drawn linkage").at("linkage"),
            Self::TableAlone => Details::of("none", "the uncertainty of the points, or one of drawing and table")
                .at("linkage.point_uncertainty"),
            Self::TableDisagrees { off, .. } => {
                Details::of(format!("{off} times the uncertainties off the drawing"), "a table of this drawing")
                    .at("measured")
            }
            Self::OtherShock { found, wanted } => Details::of(found, wanted).at("shock"),
            Self::OwnEnd { at, found, .. } => Details::found(format!("{found} at {at}")),
        }
    }
}

impl BikeError {
    /// What it says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        const DAY: &str = "a day, e.g. `2026-05-31`, or a day with a time, `2026-05-31 19:30`";
        match self {
            Self::Missing { part, purpose } => Details::of("none", purpose).at(part),
            Self::Direction { field, found, wanted } | Self::Target { field, found, wanted } => {
                Details::of(found, wanted).at(field)
            }
            Self::Load { field, found } => {
                Details::of(found, "names of masses joined by `+`, e.g. `bike + rider`").at(field)
            }
            Self::Discipline { found, wanted, suggestion } => {
                Details::of(found, wanted).at("discipline").perhaps(suggestion.as_deref())
            }
            Self::Scenario { name } => {
                Details::of(format!("`{name}`"), "a name that is not empty and not used twice").at("name")
            }
            Self::Day { found } => Details::of(found, DAY).at("date"),
            Self::Undated { .. } => Details::of("none", DAY).at("date"),
            Self::Order { found, .. } => Details::of(found, "a day with a time").at("date"),
            Self::NotLater { found, other } => Details::of(found, format!("a date after `{other}`")).at("date"),
            Self::Undone { faults } => Details::found(faults).at("was"),
            Self::Logged { field, found } => {
                Details::of(found, "a key of the bike itself, e.g. `rear.shock.spring.rate`").at(field)
            }
            Self::Repeated { field, found } => Details::of(found, "each key once in a change").at(field),
            Self::Nested { field, outer, inner } => Details::of(outer, format!("that, or `{inner}`")).at(field),
            Self::Mark { travel } => {
                Details::of(format!("a distance that stops shrinking at {travel}"), "a mark above the axle").at("mark")
            }
            Self::Sag { found, full } => Details::of(found, format!("0 mm to {full}")).at("sag"),
            Self::FramePoint { name } => Details {
                field: Some(Address::default().key("frame_points").key(name)),
                ..Details::of(format!("`{name}`"), "a name that is not empty, not `unit` and not used twice")
            },
            Self::Unit(error) => error.details(),
            Self::Rake { rake, most, .. } => Details::of(rake, format!("within {most} of upright")).at("rake"),
            Self::Axles { apart, step } => Details::of(apart, format!("more than {step}")),
            Self::TwoEnds { end, part } => {
                Details::of(format!("{part} and one of your own"), "one of the two").at(end.name())
            }
            Self::Lifts { load, remedy, .. } => Details::of(load, *remedy),
            Self::OnStop { stop, .. } => Details::found(*stop),
            Self::Reaction { found, wanted } => Details::of(*found, *wanted),
            Self::ShaftDrive => Details::of("shaft", "chain").at("final_drive"),
            Self::NoSquat { reasons } => Details::wanted(reasons.join("; ")),
            Self::NotBuilt { feature, .. } => Details::wanted(format!("the feature `{feature}`")),
            Self::NoModes | Self::Integration { .. } | Self::Restless { .. } | Self::Unstable => Details::default(),
        }
    }
}

impl SweepError {
    /// What it says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        match self {
            Self::Empty { field, wanted } => Details::of("none", *wanted).at(field),
            Self::Address { address, found, wanted } | Self::Levels { address, found, wanted, .. } => {
                Details::of(found, wanted).at(address)
            }
            Self::Value { address, found, .. } => Details::found(found).at(address),
            Self::Count { field, found, wanted } => Details::of(found, wanted).at(field),
            Self::Output { found, wanted, suggestion } => {
                Details::of(found, wanted).at("outputs").perhaps(suggestion.as_deref())
            }
            Self::Scheme { found, wanted } => Details::of(found, wanted).at("scheme"),
            Self::NoAnswer { output, .. } => Details::found(output).at("outputs"),
            Self::NoDesign { .. } | Self::OnStop { .. } => Details::default(),
        }
    }
}

impl SetupError {
    /// What it says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        match self {
            Self::Singular | Self::NotConverged { .. } => Details::default(),
            Self::NoExtendedReading { .. } => {
                Details::of("none", "a reading with the wheel off the ground").at("reading")
            }
            Self::Contradiction { contradictions, .. } => {
                Details::of(contradictions.join("; "), "readings that agree").at("reading")
            }
            Self::NoSpring { .. } => Details::of("none", "a coil spring").at("spring"),
            Self::TooManyLoads { found, most, .. } => Details::of(found.to_string(), format!("{most} at most")),
            Self::Request { field, found, wanted } => Details::of(found, wanted).at(field),
            Self::Missing { wanted, .. } => Details::of("none", *wanted),
        }
    }
}

impl LinkageError {
    /// What it says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        let one_of = |known: &[String]| super::nearest::quoted(known);
        let mm = |length| show(length, "mm", 2);
        match self {
            Self::Unit(error) => error.details(),
            Self::Several(faults) => faults.first().map(Self::details).unwrap_or_default(),
            Self::PointTwice { point } => Details::of("two places", "one place").named("points", point),
            Self::PointOnNoBody { point } => Details::of(point, "a point that a body carries").named("points", point),
            Self::BodyTwice { body } => Details::of("two lists", "one list of its points").named("bodies", body),
            Self::PointTwiceOnBody { body, point } => Details::of(point, "each point once").named("bodies", body),
            Self::TooFewPoints { body, found } => Details::of(*found, "two points or more").named("bodies", body),
            Self::Coincident { body, first, second } => {
                Details::of(format!("`{first}` and `{second}` in one place"), "two places").named("bodies", body)
            }
            Self::Welded { first, second, .. } => {
                Details::of(format!("two points shared with `{second}`"), "one body of both").named("bodies", first)
            }
            Self::NoFrame { found } => Details::of(one_of(found), "a body called `frame`").at("bodies"),
            Self::UnknownPoint { by, point, known } => Details::of(point, one_of(known))
                .at(by)
                .perhaps(super::nearest::nearest(point, known.iter().map(String::as_str))),
            Self::Mobility { found, .. } => {
                Details::of(format!("{found} degrees of freedom"), "exactly 1").at("bodies")
            }
            Self::Paradox { actual, .. } => {
                Details::of(format!("{actual} degrees of freedom as drawn"), "exactly 1").at("bodies")
            }
            Self::Immobile { part, point } => Details::of(point, "a point that moves").at(part),
            Self::ShockOnOneBody { first, second } => {
                Details::of(format!("`{first}` and `{second}`"), "two points that come closer as the wheel rises")
                    .at("shock")
            }
            Self::ShockLength { end, wanted, nearest, .. } => Details::of(
                format!("{} {end}", mm(*wanted)),
                format!("a length that can be reached; the nearest is {}", mm(*nearest)),
            )
            .at(if *end == "compressed" { "stroke" } else { "shock_length" }),
            Self::TableShort { wanted, nearest, .. } => {
                Details::of(format!("readings to {}", mm(*nearest)), format!("readings to {}", mm(*wanted)))
                    .at("readings")
            }
            Self::TooFewReadings { found, needed } => {
                Details::of(format!("{found} travels"), format!("{needed} travels or more")).at("readings")
            }
            Self::TableNotFalling { at } => {
                Details::of(format!("a shock that does not shorten near {}", mm(*at)), "lengths that fall")
                    .at("readings")
            }
            Self::Column { found, wanted } => Details::of(found.to_string(), format!("{wanted} numbers")),
            Self::OutOfTravel { found, full } => Details::of(mm(*found), format!("0 mm to {}", mm(*full))).at("travel"),
            Self::UnknownBody { body, known } => Details::of(body, one_of(known))
                .perhaps(super::nearest::nearest(body, known.iter().map(String::as_str))),
            Self::NoLink { body, links } => Details::of(body, one_of(links)),
            Self::Measures { found, wanted } => Details::of(found.to_string(), wanted.to_string()),
            Self::TooFewTeeth { found, fewest } => Details::of(found.to_string(), format!("{fewest} or more")),
            Self::EmptyInterval { from, to } => Details::of(mm(*to), format!("more than {}", mm(*from))),
            Self::WheelMovesDown { .. } => Details::of("a wheel that moves down", "z up").at("points"),
            Self::DeadPoint { .. }
            | Self::BranchPoint { .. }
            | Self::WheelTurnsBack { .. }
            | Self::MotionRatioZero { .. }
            | Self::ArmRise { .. }
            | Self::CentresDoNotMeet { .. }
            | Self::Photograph { .. }
            | Self::SprocketsTouch { .. }
            | Self::EmptyDesign { .. }
            | Self::NotFree { .. }
            | Self::NoSprings
            | Self::NoDesign { .. }
            | Self::LinkTooLong { .. } => Details::default(),
        }
    }
}

impl FileError {
    /// What its first fault says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        let Some(first) = self.faults.first() else { return Details::default() };
        Details { field: Some(first.key_path.clone()), ..Details::of(&first.found, &first.wanted) }
            .perhaps(first.suggestion.as_deref())
    }
}
