//! Riders: who rides a bike that is not one person's, and with what on it.

use super::Load;
use crate::error::{Result, UnitError};
use crate::units::{Mass, Quantity, Share, Uncertain, check};

/// Lightest and heaviest rider with kit that is no slip of unit (kg).
const MASS_SI: [f64; 2] = [15.0, 250.0];
/// Largest deviation as a share of the mean: beyond it a normal distribution has riders that there are not.
const MOST_SPREAD: f64 = 0.3;
/// Most rows of a list.
const MOST_ROWS: usize = 1_000;
/// Largest weight of a row: beyond it the others are rounding.
const MOST_WEIGHT: f64 = 1e9;

/// The masses of the riders, with their kit.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum RiderMasses {
    /// Normally distributed.
    Normal {
        /// Mean mass.
        mean: Mass,
        /// Standard deviation from rider to rider.
        deviation: Mass,
    },
    /// One by one, each with how often it rides.
    Each(Vec<(Mass, f64)>),
}

/// Riders of one bike: their masses, what share of each the front wheel takes, and what is on the bike with them.
///
/// ```
/// use wheelrate::record::{Load, Riders};
/// use wheelrate::units::parse;
/// let patrol = Riders::normal(parse("92 kg")?, parse("12 kg")?)?;
/// let patrol = patrol.with_loads(vec![
///     (Load::parse("bike + rider")?, 4.0),
///     (Load::parse("bike + rider + stretcher")?, 1.0),
/// ])?;
/// assert_eq!(patrol.stands_for(), "rider");
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Riders {
    // In a box, so that a bike of one person stays small.
    stated: Box<Stated>,
}

/// What was said of them.
#[derive(Debug, Clone, PartialEq)]
struct Stated {
    masses: RiderMasses,
    on_front: Option<Uncertain<Share>>,
    stands_for: String,
    loads: Vec<(Load, f64)>,
}

impl Riders {
    /// The mass of a load that riders stand in the place of, unless said otherwise.
    pub const RIDER: &'static str = "rider";

    /// Riders whose masses are normally distributed.
    ///
    /// # Errors
    /// [`UnitError`] for a mean outside 15 to 250 kg, and a deviation below zero or over 30 % of it.
    pub fn normal(mean: Mass, deviation: Mass) -> Result<Self> {
        let mean = mass("mean", mean)?;
        check::not_negative("deviation", deviation)?;
        check::plausible("deviation", deviation, Mass::from_si(0.0), mean * MOST_SPREAD)?;
        Ok(Self::of(RiderMasses::Normal { mean, deviation }))
    }

    /// Riders one by one, each with how often it rides beside the others.
    ///
    /// # Errors
    /// [`UnitError`] for a mass outside 15 to 250 kg, a weight that is not above zero, no riders or more than 1,000.
    pub fn each(riders: Vec<(Mass, f64)>) -> Result<Self> {
        check::number_within("each", riders.len() as f64, 1.0, MOST_ROWS as f64)?;
        for (row, (rider, often)) in riders.iter().enumerate() {
            mass(&format!("each[{row}].mass"), *rider)?;
            weight(&format!("each[{row}].weight"), *often)?;
        }
        Ok(Self::of(RiderMasses::Each(riders)))
    }

    fn of(masses: RiderMasses) -> Self {
        let stands_for = Self::RIDER.to_owned();
        Self { stated: Box::new(Stated { masses, on_front: None, stands_for, loads: Vec::new() }) }
    }

    /// With this share of a rider's mass on the front wheel; its uncertainty is from one rider to the next.
    ///
    /// # Errors
    /// [`UnitError`] for a share outside 0 to 100 %, or an uncertainty over 25 %.
    pub fn with_on_front(mut self, share: Uncertain<Share>) -> Result<Self> {
        let [none, quarter, all] = [0.0, 0.25, 1.0].map(Share::from_si);
        check::plausible("on_front", share.value, none, all)?;
        check::plausible("on_front", share.standard_uncertainty, none, quarter)?;
        self.stated.on_front = Some(share);
        Ok(self)
    }

    /// With another mass of the loads in whose place the riders stand.
    #[must_use]
    pub fn standing_for(mut self, name: impl Into<String>) -> Self {
        self.stated.stands_for = name.into();
        self
    }

    /// With the loads that are ridden, the rider in each of them, and how often; the load of the rider sag alone unless stated.
    ///
    /// # Errors
    /// [`UnitError`] for a weight that is not above zero, or more than 1,000 loads.
    pub fn with_loads(mut self, loads: Vec<(Load, f64)>) -> Result<Self> {
        check::number_within("loads", loads.len() as f64, 0.0, MOST_ROWS as f64)?;
        for (row, (_, often)) in loads.iter().enumerate() {
            weight(&format!("loads[{row}].weight"), *often)?;
        }
        self.stated.loads = loads;
        Ok(self)
    }

    /// Their masses.
    #[must_use]
    pub fn masses(&self) -> &RiderMasses {
        &self.stated.masses
    }

    /// The share of a rider's mass on the front wheel, where stated.
    #[must_use]
    pub fn on_front(&self) -> Option<Uncertain<Share>> {
        self.stated.on_front
    }

    /// The mass of the loads in whose place they stand.
    #[must_use]
    pub fn stands_for(&self) -> &str {
        &self.stated.stands_for
    }

    /// The loads that are ridden and how often; none where nothing was said.
    #[must_use]
    pub fn loads(&self) -> &[(Load, f64)] {
        &self.stated.loads
    }

    /// What a load has beside the rider; `None` where the rider is not in it, or nothing else is.
    #[must_use]
    pub fn beside(&self, load: &Load) -> Option<Load> {
        let names = load.names();
        let others: Vec<String> = names.iter().filter(|name| **name != self.stated.stands_for).cloned().collect();
        (others.len() + 1 == names.len() && !others.is_empty()).then(|| Load::Masses(others.into()))
    }
}

fn mass(field: &str, rider: Mass) -> Result<Mass, UnitError> {
    let [least, most] = MASS_SI.map(Mass::from_si);
    check::plausible(field, rider, least, most)
}

fn weight(field: &str, often: f64) -> Result<f64, UnitError> {
    check::number_within(field, often, f64::MIN_POSITIVE, MOST_WEIGHT)
}
