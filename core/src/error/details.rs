//! An error as data: which field, what was found, what would do, what was probably meant.

mod parts;

use super::{Address, BikeError, Error, FileError, MassError, SetupError, SweepError, UnitError, a};

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
#[non_exhaustive]
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
            Self::Kind { found, wanted, suggestion } => {
                Details::of(found, wanted).at("kind").perhaps(suggestion.as_deref())
            }
            Self::Scenario { name } => {
                Details::of(format!("`{name}`"), "a name that is not empty and not used twice").at("name")
            }
            Self::Day { found } => Details::of(found, DAY).at("date"),
            Self::Undated { .. } => Details::of("none", DAY).at("date"),
            Self::Order { found, .. } => Details::of(found, "a day with a time").at("date"),
            Self::NotLater { found, other } => Details::of(found, format!("a date after `{other}`")).at("date"),
            Self::Undone { key, faults } => {
                Details { field: Some(super::bike::was(key.as_deref())), ..Details::found(faults) }
            }
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
            Self::NoSquat { reasons } | Self::NoBraking { reasons } => Details::wanted(reasons.join("; ")),
            Self::NotBuilt { feature, .. } => Details::wanted(format!("the feature `{feature}`")),
            Self::NoModes
            | Self::TravelLog { .. }
            | Self::Integration { .. }
            | Self::Restless { .. }
            | Self::Unstable => Details::default(),
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
            Self::Singular | Self::NotConverged { .. } | Self::Stopped(_) => Details::default(),
            Self::NoExtendedReading { .. } => {
                Details::of("none", "a reading with the wheel off the ground").at("reading")
            }
            Self::MisreadPart { readings, row, found, others, .. } => {
                let field = Address::parse(readings).map(|readings| readings.row(*row));
                Details { field, ..Details::of(found, format!("a reading that goes with {others}")) }
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

impl FileError {
    /// What its first fault says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        let Some(first) = self.faults.first() else { return Details::default() };
        Details { field: Some(first.key_path.clone()), ..Details::of(&first.found, &first.wanted) }
            .perhaps(first.suggestion.as_deref())
    }
}

#[cfg(test)]
mod tests;
