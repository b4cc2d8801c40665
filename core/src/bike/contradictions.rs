//! Parts of a bike against each other, and open fields against what their constructors demand: a bike that exists can be
//! written down and read back.

use std::collections::HashSet;

use super::{Bike, BikeParts, SagConversion};
use crate::error::{Address, BikeError, Error, Result, WheelError};
use crate::record::{
    Direction, End, Load, Measuring, Reading, Riders, SagKind, SagTarget, Scenario, SpringPrior, Targets, Wheels,
};
use crate::units::{Length, Quantity, check, show};

/// Furthest that a point of the frame lies from the origin of its axes.
const FAR_SI: f64 = 10.0;
/// The key beside the points that says their unit.
const UNIT: &str = "unit";

/// Where a contradiction is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum BikePart {
    OwnEnd(End),
    Masses,
    Kind,
    Wheels,
    FramePoints,
    Prior(End),
    Measuring(End),
    /// Both targets of an end.
    Targets(End),
    Target(End, SagKind),
    RiderLoad,
    Discipline,
    Practice(usize),
    Scenario(usize),
    ScenarioTarget(usize, End, SagKind),
    Riders,
    OnSale(End, usize),
    Reading(usize),
    Change(usize),
}

/// All contradictions of a bike; there is at least one.
#[derive(Debug)]
pub(crate) struct Contradictions {
    pub(crate) place: BikePart,
    pub(crate) first: Error,
    pub(crate) others: Vec<(BikePart, Error)>,
}

impl Contradictions {
    /// None of these, or all of them.
    pub(crate) fn none_of(found: Vec<(BikePart, Error)>) -> core::result::Result<(), Self> {
        let mut found = found.into_iter();
        match found.next() {
            None => Ok(()),
            Some((place, first)) => Err(Self { place, first, others: found.collect() }),
        }
    }

    /// All of them, each with its place.
    pub(crate) fn all(self) -> impl Iterator<Item = (BikePart, Error)> {
        core::iter::once((self.place, self.first)).chain(self.others)
    }
}

impl From<Contradictions> for Error {
    fn from(found: Contradictions) -> Self {
        found.first
    }
}

impl Bike {
    /// Every contradiction, each with its place.
    pub(super) fn contradictions(&self) -> Vec<(BikePart, Error)> {
        let mut found = Vec::new();
        let mut note = |place, result: Result<()>| found.extend(result.err().map(|error| (place, error)));
        for end in End::BOTH {
            note(BikePart::OwnEnd(end), self.check_own(end));
            let SpringPrior { rate_tolerance, preload_uncertainty } = self.assumed().prior(end);
            note(
                BikePart::Prior(end),
                SpringPrior::new(rate_tolerance, preload_uncertainty).map(drop).map_err(Error::from),
            );
            if let Some(measuring) = self.parts.measuring.at(end) {
                note(BikePart::Measuring(end), self.check_measuring(end, measuring));
            }
            for sag in SagKind::BOTH {
                if let Some(target) = self.parts.targets.at(end).of(sag) {
                    note(BikePart::Target(end, sag), self.check_target(end, &target));
                }
            }
            note(BikePart::Targets(end), self.check_full_travel(end));
            note(BikePart::Targets(end), self.check_sags(end, self.parts.targets.at(end), ""));
            let sale = match end {
                End::Front => &self.parts.on_sale.front,
                End::Rear => &self.parts.on_sale.rear,
            };
            for (row, rate) in sale.iter().enumerate() {
                note(BikePart::OnSale(end, row), check::positive("rate", *rate).map(drop).map_err(Error::from));
            }
        }
        if let Some(Wheels { fork_offset, ends }) = &self.parts.wheels {
            note(BikePart::Wheels, Wheels::new(*fork_offset, ends.clone()).map(drop).map_err(Error::from));
        }
        let mut names = HashSet::new();
        for (name, at) in &self.parts.frame_points {
            note(BikePart::FramePoints, check_frame_point(name, *at, !names.insert(name)));
        }
        note(BikePart::RiderLoad, self.check_rider_load());
        note(BikePart::Discipline, self.check_discipline());
        note(BikePart::Kind, self.check_kind());
        for (row, practice) in self.parts.practice.iter().flat_map(|table| &table.rows).enumerate() {
            note(BikePart::Practice(row), practice.checked().map_err(Error::from));
        }
        let mut names = HashSet::new();
        for (row, scenario) in self.parts.scenarios.iter().enumerate() {
            let used = !names.insert(&scenario.name);
            for (place, result) in self.check_scenario(row, scenario, used) {
                note(place, result);
            }
        }
        if let Some(riders) = &self.parts.riders {
            note(BikePart::Riders, self.check_riders(riders));
        }
        for (row, reading) in self.parts.readings.iter().enumerate() {
            note(BikePart::Reading(row), self.check_reading(reading));
        }
        found
    }

    fn check_scenario(&self, row: usize, scenario: &Scenario, used: bool) -> Vec<(BikePart, Result<()>)> {
        let Scenario { name, load, targets } = scenario;
        let here = |result| (BikePart::Scenario(row), result);
        let named = if used || name.trim().is_empty() {
            Err(BikeError::Scenario { name: name.clone() }.into())
        } else {
            Ok(())
        };
        let loaded = self.check_loaded("load", load);
        let both = End::BOTH.into_iter().flat_map(|end| SagKind::BOTH.map(|sag| (end, sag)));
        let wanted = both.filter_map(|(end, sag)| Some((end, sag, targets.at(end).of(sag)?)));
        let wanted =
            wanted.map(|(end, sag, target)| (BikePart::ScenarioTarget(row, end, sag), self.check_target(end, &target)));
        let together = End::BOTH.into_iter().map(|end| {
            let (own, usual) = (targets.at(end), self.parts.targets.at(end));
            // What is wrong with the usual targets alone is said of them.
            if *own == Targets::default() || self.check_sags(end, usual, "").is_err() {
                return Ok(());
            }
            let rider_sag = own.rider_sag.or(usual.rider_sag);
            let free_sag = own.free_sag.or(usual.free_sag);
            self.check_sags(end, &Targets { rider_sag, free_sag, ..Targets::default() }, &format!("{end}."))
        });
        [named, loaded].into_iter().map(here).chain(wanted).chain(together.map(here)).collect()
    }

    /// Every load has the rider in it, and what is beside the rider can be worked out.
    fn check_riders(&self, riders: &Riders) -> Result<()> {
        for (row, (load, _)) in riders.loads().iter().enumerate() {
            let field = format!("loads[{row}].load");
            let Some(beside) = riders.beside(load) else {
                let wanted = format!("`{}` in it once, and the bike", riders.stands_for());
                return Err(BikeError::Target { field, found: load.to_string(), wanted }.into());
            };
            self.check_loaded("load", &beside)?;
        }
        Ok(())
    }

    /// Both sags are aimed at within the travel, and the bike alone sinks less than with its rider. Said of what stands
    /// under `at`.
    fn check_sags(&self, end: End, Targets { rider_sag, free_sag, .. }: &Targets, at: &str) -> Result<()> {
        let shown = |target: &SagTarget| show(target.value, "mm", 1);
        let refuse = |sag: &str, found: &SagTarget, wanted: String| {
            Err(BikeError::Target { field: format!("{at}{sag}.value"), found: shown(found), wanted }.into())
        };
        let mut travels = Vec::new();
        for (sag, target) in [("rider_sag", rider_sag), ("free_sag", free_sag)] {
            let Some(target) = target else { continue };
            // A direction that the end does not have is reported on its own.
            let Ok(conversion) = SagConversion::of(self, end, target.direction) else { return Ok(()) };
            match conversion.travel(target.value) {
                Ok(travel) => travels.push(travel),
                Err(Error::Bike(BikeError::Sag { full, .. })) => {
                    return refuse(sag, target, format!("0 mm to {full}, which is full travel along that direction"));
                }
                Err(error) => return Err(error),
            }
        }
        match (travels.as_slice(), rider_sag, free_sag) {
            ([with_rider, alone], Some(rider), Some(free)) if alone >= with_rider => {
                refuse("free_sag", free, format!("less than the rider sag aimed at, {}", shown(rider)))
            }
            _ => Ok(()),
        }
    }

    /// A force at full travel is wanted of a fork only, whose oil level sets it.
    fn check_full_travel(&self, end: End) -> Result<()> {
        let targets = self.parts.targets.at(end).checked()?;
        let Some(force) = targets.full_travel_force.filter(|_| end == End::Rear) else { return Ok(()) };
        let (field, found) = ("full_travel_force".to_owned(), force.display().to_string());
        let wanted = "it at the front only, where the oil level of the fork sets it".to_owned();
        Err(BikeError::Target { field, found, wanted }.into())
    }

    /// A reading by itself, and on this bike where no change says that it may have been taken on another.
    fn check_reading(&self, reading: &Reading) -> Result<()> {
        reading.checked()?;
        if self.parts.changes.is_empty() { self.check_taken(reading) } else { Ok(()) }
    }

    /// Can the reading have been taken on this bike?
    pub(crate) fn check_taken(&self, reading: &Reading) -> Result<()> {
        self.check_load("load", &reading.load)?;
        self.assumed().measuring(reading.end)?;
        Ok(())
    }

    /// A load must say the same when written down, and name masses that there are.
    fn check_load(&self, field: &'static str, load: &Load) -> Result<()> {
        if Load::parse(&load.to_string()).as_ref() != Ok(load) {
            return Err(BikeError::Load { field, found: load.names().join(", ") }.into());
        }
        match &self.parts.masses {
            Some(masses) => {
                End::BOTH.into_iter().try_for_each(|end| masses.sprung_mass(end, load).map(drop).map_err(Error::from))
            }
            None => Ok(()),
        }
    }

    /// A load that a sag is meant under, and a scenario's: not none, under which there is no sag.
    fn check_loaded(&self, field: &'static str, load: &Load) -> Result<()> {
        match load {
            Load::None => Err(BikeError::Load { field, found: load.to_string() }.into()),
            Load::Masses(_) => self.check_load(field, load),
        }
    }

    /// The usual rider load need not exist on a bike without a rider; one that was stated must.
    fn check_rider_load(&self) -> Result<()> {
        let usual = BikeParts::default().rider_load;
        if self.parts.rider_load == usual { Ok(()) } else { self.check_loaded("rider_load", &self.parts.rider_load) }
    }

    /// An end is a fork or linkage, or one of somebody's own.
    fn check_own(&self, end: End) -> Result<()> {
        let (usual, part) = match end {
            End::Front => (self.parts.front.is_some(), "a fork or a linkage"),
            End::Rear => (self.parts.rear.is_some(), "a linkage"),
        };
        match (usual, self.own_end(end)) {
            (true, Some(_)) => Err(BikeError::TwoEnds { end, part }.into()),
            _ => Ok(()),
        }
    }

    fn check_measuring(&self, end: End, measuring: &Measuring) -> Result<()> {
        Measuring::new(measuring.direction, measuring.uncertainty)?;
        self.check_direction(end, measuring.direction)
    }

    fn check_target(&self, end: End, target: &SagTarget) -> Result<()> {
        SagTarget::new(target.value, target.range, target.direction)?;
        match self.parts.measuring.at(end) {
            Some(measuring) if measuring.direction == target.direction => Ok(()),
            _ => self.check_direction(end, target.direction),
        }
    }

    /// A direction must be one that the end has; whether its mark does is known where the end is.
    fn check_direction(&self, end: End, direction: Direction) -> Result<()> {
        if end == End::Rear && direction == Direction::AlongFork {
            return Err(super::sag::not_along_fork("at the rear"));
        }
        match SagConversion::of(self, end, direction) {
            Err(Error::Bike(BikeError::Missing { .. }) | Error::Wheel(WheelError::NoAxle)) => Ok(()),
            other => other.map(drop),
        }
    }
}

fn check_frame_point(name: &str, at: [Length; 2], used: bool) -> Result<()> {
    if name.is_empty() || name == UNIT || used {
        return Err(BikeError::FramePoint { name: name.to_owned() }.into());
    }
    let far = Length::from_si(FAR_SI);
    for (axis, coordinate) in at.into_iter().enumerate() {
        let field = || Address::default().key("frame_points").key(name).row(axis).to_string();
        check::plausible("coordinate", coordinate, -far, far).map_err(|error| error.of_field(field()))?;
    }
    Ok(())
}

#[cfg(test)]
mod frame_points {
    use super::check_frame_point;
    use crate::units::{Length, Quantity};

    #[test]
    fn a_point_of_the_frame_has_a_name_of_its_own_and_a_place_on_the_bike() {
        let at = |x: f64, z: f64| [Length::from_si(x), Length::from_si(z)];
        assert!(check_frame_point("footpeg", at(0.1, -0.2), false).is_ok());
        assert!(check_frame_point("footpeg", at(0.1, -0.2), true).is_err(), "there are two of that name");
        assert!(check_frame_point("", at(0.1, -0.2), false).is_err());
        for (place, field) in [(at(11.0, 0.0), "frame_points.footpeg[0]"), (at(0.0, -11.0), "frame_points.footpeg[1]")]
        {
            let said = check_frame_point("footpeg", place, false).unwrap_err().to_string();
            assert!(said.contains(field), "{said}");
        }
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
