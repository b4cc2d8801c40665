//! The bike: both ends, masses, readings, targets. Any part may be missing; what an answer needs and lacks is said when
//! the answer is asked for.
//!
//! The two ends are one bike: changing one sag moves the other, the rake and the trail. The parts of this module are
//! functions of typed quantities that can be asked without a bike file:
//!
//! | module | answers |
//! |---|---|
//! | [`Bike::whole`] | how the bike of a file stands, what a change of setting does to it, its modes, what drive does to its rear |
//! | [`landing`] | a drop and a step in time, with friction, damper, tyre and stops |
//! | [`ride`] | natural frequencies, modes, critical damping, reserve of travel |
//! | [`settling`] | rest of both ends together, rake, trail and every height; braking, driving, slopes; the exact modes |
//! | [`steering`] | rake, trail and wheel flop of a steered wheel |

mod assumed;
mod braking;
mod contradictions;
mod correction;
mod descent;
mod effect;
mod fork_friction;
mod inertia;
pub mod landing;
mod memory;
mod misread_parts;
mod practice;
pub mod ride;
mod sag;
pub mod settling;
mod squat;
pub mod steering;
mod whole;
mod whole_motion;

pub use assumed::Assumed;
pub use braking::AntiDive;
pub(crate) use contradictions::{BikePart, Contradictions};
pub use correction::{Correction, GeometryWish, Lever, Move, Room};
pub use descent::DescentState;
pub use effect::{Adjustment, Effect, SpringSetting};
pub use practice::{Agreement, FigureOnBike, SagPractice};
pub(crate) use sag::Along;
pub use sag::SagConversion;
pub(crate) use whole::lacks_damper;
pub use whole::{Stances, WholeBike};

use memory::Memory;
use settling::EndTables;
use std::sync::Arc;

use crate::error::{BikeError, Error, Result};
use crate::mass::Masses;
use crate::record::{
    Change, CommonPractice, End, Ends, Load, Measuring, OnSale, OwnUsual, Prices, Reading, Riders, Scenario,
    SpringPrior, Targets, Wheels,
};
use crate::units::{Length, SpringRate};
use crate::wheel::{FrontEnd, OwnEnd, RearEnd, Tunable, Wheel};

/// Everything stated of a bike, to be put together by [`Bike::new`]. It may grow: end a literal with
/// `..BikeParts::default()`.
#[derive(Debug, Clone, PartialEq)]
pub struct BikeParts {
    /// What it is called.
    pub name: String,
    /// What kind of bike it is, in a word: what nobody stated is then taken as usual of that kind. By its travel
    /// unless stated.
    pub kind: Option<String>,
    /// Figures in place of what is usual.
    pub usual: OwnUsual,
    /// What the scales show.
    pub masses: Option<Masses>,
    /// The front end.
    pub front: Option<FrontEnd>,
    /// The rear end.
    pub rear: Option<RearEnd>,
    /// Ends of your own, each in the place of the fork or the linkage.
    pub own: Ends<Option<OwnEnd>>,
    /// What the ends stand on.
    pub wheels: Option<Wheels>,
    /// Points of the frame by name, in the frame axes: the seat, the lowest point of the frame.
    pub frame_points: Vec<(String, [Length; 2])>,
    /// How far the stated springs can be trusted.
    pub prior: Ends<SpringPrior>,
    /// How the readings are taken: vertically at the rear unless stated; at the front along the fork, which is then assumed.
    pub measuring: Ends<Option<Measuring>>,
    /// The sag that is wanted; comes before common practice.
    pub targets: Ends<Targets>,
    /// What the bike is ridden for: where `targets` has no sag, that of common practice is wanted.
    pub discipline: Option<String>,
    /// The table of common practice; the shipped one unless given.
    pub practice: Option<CommonPractice>,
    /// The load that rider sag is meant under.
    pub rider_load: Load,
    /// Other loads that the same setting has to be found for.
    pub scenarios: Vec<Scenario>,
    /// Who rides it, where it is more than one person.
    pub riders: Option<Riders>,
    /// Springs that can be bought.
    pub on_sale: OnSale,
    /// What turning the collar, another spring and an evening of measuring cost, in chance.
    pub prices: Prices,
    /// The readings.
    pub readings: Vec<Reading>,
    /// What was done to the bike. The rest describes it as it is now.
    pub changes: Vec<Change>,
}

impl Default for BikeParts {
    /// A bike of which nothing is known; rider sag is meant under `bike + rider`.
    fn default() -> Self {
        Self {
            name: String::new(),
            kind: None,
            usual: OwnUsual::default(),
            masses: None,
            front: None,
            rear: None,
            own: Ends::default(),
            wheels: None,
            frame_points: Vec::new(),
            prior: Ends::default(),
            measuring: Ends::default(),
            targets: Ends::default(),
            discipline: None,
            practice: None,
            rider_load: Load::Masses([Load::BIKE.to_owned(), "rider".to_owned()].into()),
            scenarios: Vec::new(),
            riders: None,
            on_sale: OnSale::default(),
            prices: Prices::default(),
            readings: Vec::new(),
            changes: Vec::new(),
        }
    }
}

/// A bike. Immutable: a changed bike is a new bike.
///
/// ```
/// use wheelrate::bike::{Bike, BikeParts};
/// use wheelrate::fork::{Fork, ForkLeg};
/// use wheelrate::record::{End, Load};
/// use wheelrate::spring::Preloaded;
/// use wheelrate::units::{Quantity, parse};
/// use wheelrate::wheel::{FrontEnd, Wheel};
/// let leg = ForkLeg::new().with_spring(Preloaded::linear("4.8 N/mm".parse()?, parse("6 mm")?)?);
/// let fork = Fork::new(parse("290 mm")?, parse("26.5 deg")?, [leg.clone(), leg])?;
/// let bike = Bike::new(BikeParts { front: Some(FrontEnd::new(fork)), ..BikeParts::default() })?;
/// assert!((bike.front()?.wheel_rate(parse("60 mm")?)?.in_unit("N/mm")? - 9.6 / 0.8949 / 0.8949).abs() < 1e-2);
/// // What an answer lacks is said when it is asked for.
/// let error = bike.masses().unwrap_err();
/// assert!(error.to_string().starts_with("`masses` is missing"));
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Bike {
    /// Shared, so that whoever keeps a bike (a fit, a sheet) keeps no copy.
    parts: Arc<BikeParts>,
    /// Targets as stated, or from common practice.
    wanted: Ends<Targets>,
    tables: Arc<EndTables>,
    memory: Arc<Memory>,
}

impl Bike {
    /// Puts a bike together.
    ///
    /// # Errors
    /// The first contradiction between the parts: a load that names a mass nobody stated, a direction that an end does
    /// not have, front readings without their direction.
    pub fn new(parts: BikeParts) -> Result<Self> {
        Self::assemble(parts).map_err(|error| error.first)
    }

    /// As [`Bike::new`], with every contradiction and the part it is in.
    pub(crate) fn assemble(mut parts: BikeParts) -> core::result::Result<Self, Contradictions> {
        parts.on_sale = OnSale::new(parts.on_sale.front, parts.on_sale.rear);
        #[cfg(feature = "serde")]
        {
            parts.changes = parts.changes.into_iter().map(Change::in_plain_words).collect();
        }
        let unfilled = assumed::fill(&mut parts);
        Contradictions::none_of(unfilled)?;
        let bike = Self::unchecked(parts);
        Contradictions::none_of(bike.contradictions())?;
        Ok(Self { wanted: bike.all_wanted(), ..bike })
    }

    /// The bike with some of its parts varied and its readings as they are, which were taken on this bike: everything but them
    /// is checked.
    #[cfg(feature = "serde")]
    pub(crate) fn varied(&self, vary: impl FnOnce(&mut BikeParts)) -> core::result::Result<Self, Contradictions> {
        let mut parts = self.parts().clone();
        let readings = core::mem::take(&mut parts.readings);
        vary(&mut parts);
        let checked = Self::unchecked(parts);
        Contradictions::none_of(checked.contradictions())?;
        let wanted = checked.all_wanted();
        let parts = match Arc::try_unwrap(checked.parts) {
            Ok(parts) => BikeParts { readings, ..parts },
            Err(shared) => BikeParts { readings, ..shared.as_ref().clone() },
        };
        Ok(Self { parts: Arc::new(parts), wanted, tables: checked.tables, memory: Arc::default() })
    }

    /// The same bike with other readings, and another log.
    pub(crate) fn holding(&self, readings: Vec<Reading>, changes: Vec<Change>) -> Self {
        let parts = BikeParts { readings, changes, ..self.parts().clone() };
        let tables = Arc::clone(&self.tables);
        Self { parts: Arc::new(parts), wanted: self.wanted, tables, memory: Arc::default() }
    }

    fn unchecked(parts: BikeParts) -> Self {
        Self { wanted: parts.targets, parts: Arc::new(parts), tables: Arc::default(), memory: Arc::default() }
    }

    /// What was worked out of its ends.
    pub(crate) fn memory(&self) -> &Memory {
        &self.memory
    }

    /// What it was put together from: clone, change, and put together again for a changed bike.
    #[must_use]
    pub fn parts(&self) -> &BikeParts {
        &self.parts
    }

    /// The masses.
    ///
    /// # Errors
    /// [`BikeError::Missing`].
    pub fn masses(&self) -> Result<&Masses> {
        self.parts.masses.as_ref().ok_or_else(|| missing("masses", "the loads on the springs come from them"))
    }

    /// The front end, where it is a fork or a linkage and a shock.
    ///
    /// # Errors
    /// [`BikeError::Missing`].
    pub fn front(&self) -> Result<&FrontEnd> {
        let purpose = match self.own_end(End::Front) {
            None => "the front end is a fork, or else links: `front.linkage`",
            Some(_) => "the front end is one of your own, and what is asked needs a fork or a linkage",
        };
        self.parts.front.as_ref().ok_or_else(|| missing("front.fork", purpose))
    }

    /// The rear end, where it is a linkage and a shock.
    ///
    /// # Errors
    /// [`BikeError::Missing`].
    pub fn rear(&self) -> Result<&RearEnd> {
        let purpose = match self.own_end(End::Rear) {
            None => "the rear end is a linkage and a shock",
            Some(_) => "the rear end is one of your own, and what is asked needs a linkage and a shock",
        };
        self.parts.rear.as_ref().ok_or_else(|| missing("rear.linkage", purpose))
    }

    /// An end of the user's own, where the bike has one there.
    pub(crate) fn own_end(&self, end: End) -> Option<&OwnEnd> {
        self.parts.own.at(end).as_ref()
    }

    /// The linkage and shock of an end that has them: at the rear, and of a front end on links.
    pub(crate) fn sprung(&self, end: End) -> Option<&RearEnd> {
        match end {
            End::Front => self.parts.front.as_ref()?.sprung(),
            End::Rear => self.parts.rear.as_ref(),
        }
    }

    /// What the ends stand on.
    ///
    /// # Errors
    /// [`BikeError::Missing`].
    pub fn wheels(&self) -> Result<&Wheels> {
        let purpose = "rake, trail and the rest of the whole bike need both radii and the fork offset";
        self.parts.wheels.as_ref().ok_or_else(|| missing("wheels", purpose))
    }

    /// One end as its wheel feels it.
    ///
    /// # Errors
    /// [`BikeError::Missing`].
    pub fn end(&self, end: End) -> Result<&dyn Wheel> {
        Ok(match (self.own_end(end), end) {
            (Some(own), _) => own,
            (None, End::Front) => self.front()?,
            (None, End::Rear) => self.rear()?,
        })
    }

    /// As [`end`](Self::end), for whoever keeps it; the mechanism is shared.
    pub(crate) fn shared_end(&self, end: End) -> Result<Arc<dyn Wheel>> {
        Ok(match (self.own_end(end), end) {
            (Some(own), _) => Arc::new(own.clone()),
            (None, End::Front) => Arc::new(self.front()?.clone()),
            (None, End::Rear) => Arc::new(self.rear()?.clone()),
        })
    }

    /// One end with other springs in it.
    ///
    /// # Errors
    /// [`BikeError::Missing`], and as [`Tunable::with_spring_rate`].
    pub(crate) fn end_with_spring_rate(&self, end: End, rate: SpringRate, preload: Length) -> Result<Arc<dyn Wheel>> {
        Ok(match (self.own_end(end), end) {
            (Some(own), _) => Arc::new(own.with_spring_rate(rate, preload)?),
            (None, End::Front) => Arc::new(self.front()?.with_spring_rate(rate, preload)?),
            (None, End::Rear) => Arc::new(self.rear()?.with_spring_rate(rate, preload)?),
        })
    }

    /// One end with its springs' rates times a factor and more preload.
    ///
    /// # Errors
    /// [`BikeError::Missing`], and as [`Tunable::with_spring_change`].
    pub(crate) fn end_with_spring_change(&self, end: End, factor: f64, preload: Length) -> Result<Arc<dyn Wheel>> {
        Ok(match (self.own_end(end), end) {
            (Some(own), _) => Arc::new(own.with_spring_change(factor, preload)?),
            (None, End::Front) => Arc::new(self.front()?.with_spring_change(factor, preload)?),
            (None, End::Rear) => Arc::new(self.rear()?.with_spring_change(factor, preload)?),
        })
    }

    /// The ends that the bike has.
    #[must_use]
    pub fn ends(&self) -> Vec<End> {
        End::BOTH.into_iter().filter(|&end| self.end(end).is_ok()).collect()
    }

    /// The targets of one end: as stated, else from [common practice](Self::practice).
    #[must_use]
    pub fn targets(&self, end: End) -> &Targets {
        self.wanted.at(end)
    }

    /// The readings of one end, of every day.
    pub(crate) fn readings_of(&self, end: End) -> impl Iterator<Item = &Reading> {
        self.parts.readings.iter().filter(move |reading| reading.end == end)
    }
}

fn missing(part: &str, purpose: &str) -> Error {
    BikeError::Missing { part: part.to_owned(), purpose: purpose.to_owned() }.into()
}
