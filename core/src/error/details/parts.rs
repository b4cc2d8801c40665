//! What the errors of springs, gas, linkages and ends say, field by field.

use super::Details;
use crate::error::{Address, GasError, LinkageError, SpringError, WheelError};
use crate::units::show;

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
            Self::Table { row, found, wanted } | Self::DamperTable { row, found, wanted } => Details {
                field: Some(Address::default().key("table").row(row.saturating_sub(1))),
                ..Details::of(found, *wanted)
            },
            Self::NoSpring { part } => Details::of("no main spring", "a main spring").at(part),
            Self::NoBushes => Details::of("no bushes", "where the bushes are").at("bushes"),
            Self::Binds { coefficient, most, .. } => {
                Details::of(coefficient, format!("less than {most}")).at("bushes.coefficient")
            }
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

impl LinkageError {
    /// What it says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        let one_of = |known: &[String]| crate::error::nearest::quoted(known);
        // So many digits as in the message.
        let mm = |length| show(length, "mm", 2);
        let (coarse, fine) = (|length| show(length, "mm", 1), |length| show(length, "mm", 3));
        match self {
            Self::Unit(error) => error.details(),
            Self::Several(faults) => faults.first().map(Self::details).unwrap_or_default(),
            Self::PointTwice { point } => Details::of("two places", "one place").named("points", point),
            Self::PointOnNoBody { point } => Details::of(point, "a point that a body carries").named("points", point),
            Self::TooMany { place, found, most } => {
                let field = Some(Address::default().key(place));
                Details { field, ..Details::of(format!("{found} or more"), format!("at most {most}")) }
            }
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
                .perhaps(crate::error::nearest::nearest(point, known.iter().map(String::as_str))),
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
                Details::of(format!("readings to {}", coarse(*nearest)), format!("readings to {}", coarse(*wanted)))
                    .at("readings")
            }
            Self::TooFewReadings { found, needed } => {
                Details::of(format!("{found} travels"), format!("{needed} travels or more")).at("readings")
            }
            Self::TableNotFalling { at } => {
                Details::of(format!("a shock that does not shorten near {}", coarse(*at)), "lengths that fall")
                    .at("readings")
            }
            Self::Column { found, wanted } => Details::of(found.to_string(), format!("{wanted} numbers")),
            Self::Places { found, wanted, .. } => Details::of(found.to_string(), format!("{wanted} places")),
            Self::OutOfTravel { found, full } => {
                Details::of(fine(*found), format!("0 mm to {}", fine(*full))).at("travel")
            }
            Self::UnknownBody { body, known } => Details::of(body, one_of(known))
                .perhaps(crate::error::nearest::nearest(body, known.iter().map(String::as_str))),
            Self::Caliper { body, wanted } => Details::of(body, one_of(wanted)).at("caliper"),
            Self::SteeringBody { body, wanted } => Details::of(body, one_of(wanted)).at("steering_body"),
            Self::Survey { found, wanted, .. } => Details::of(found, wanted).at("pictures"),
            Self::NoLink { body, links } => Details::of(body, one_of(links)),
            Self::Measures { found, wanted } => Details::of(found.to_string(), wanted.to_string()),
            Self::TooFewTeeth { found, fewest } => Details::of(found.to_string(), format!("{fewest} or more")),
            Self::EmptyInterval { from, to } => Details::of(fine(*to), format!("more than {}", fine(*from))),
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

impl WheelError {
    /// What it says, field by field.
    #[must_use]
    pub fn details(&self) -> Details {
        match self {
            Self::OutOfTravel { found, full } => Details::of(found, format!("0 mm to {full}")).at("travel"),
            Self::NoFork { .. } => Details::of("a linkage", "a telescopic fork").at("fork"),
            Self::NoLinkage => Details::of("a fork", "a linkage and a shock").at("linkage"),
            Self::NoCaliper => {
                Details::of("none", "a body of the linkage that carries the axle, or `frame`").at("caliper")
            }
            Self::NoAxle => Details::of("none", "the axle at full extension, in the frame axes").at("axle"),
            Self::NoOutline => Details::of("less than two", "two of `travel`, `shock.stroke` and `lever`").at("travel"),
            Self::Lever { found, follows } => Details::of(found, follows).at("lever"),
            Self::NoShockLength => {
                Details::of("nothing", "the length between the eyes, fully extended").at("shock.length")
            }
            Self::Tyre { field, found } => Details::of(found, "two loads or more that lower the axle").at(field),
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
