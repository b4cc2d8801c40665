//! One end studied: solved once, and asked as often as one likes.
//!
//! A study holds its bike, the end, how it was read, the way from wheel to shock where readings and labels put it, and the
//! posterior. Fit, Monte Carlo and rehearsal hang on it; so do advice, plan and scenarios, which
//! [`decide`](crate::decide) adds. A clone shares everything.
//!
//! # Asked under other loads
//!
//! A load that nothing was read under is a sum of masses of which some stood on the wheels and some did not. What is new in
//! it is independent of every reading, so the posterior grows by one standard normal unknown and nothing is solved again.
//!
//! # Carried into a changed bike
//!
//! [`Study::carried`] takes what was found into a bike on which nothing was read: rate factor, preload offset, friction,
//! loads and the way from wheel to shock, each with its place in the covariance, as far as the change has left it alone
//! ([`Kept`]); whatever the change touched is as uncertain as its label. No reading is fitted on a bike that it was not
//! taken on.

mod carried;
#[cfg(feature = "serde")]
mod carrier;
mod given;
mod read_on;

use std::sync::Arc;

#[cfg(feature = "serde")]
pub(crate) use carrier::Carrier;
use given::Given;

use crate::bike::Bike;
use crate::error::{BikeError, SetupError};
use crate::infer::condition::Condition;
use crate::infer::doubts::Doubts;
use crate::infer::end::EndModel;
use crate::infer::finding::{Finding, Suspect};
use crate::infer::fit::Fit;
use crate::infer::monte_carlo::MonteCarlo;
use crate::infer::readings::Gathered;
use crate::infer::solved::Solved;
use crate::log::Recent;
use crate::record::{Direction, End, Load, Measuring, PartReading, Reading};
use crate::units::UnitSystem;
use crate::{Error, Result};

/// One end of a bike, solved.
#[derive(Debug, Clone)]
pub struct Study {
    pub(crate) bike: Bike,
    pub(crate) measuring: Measuring,
    pub(crate) model: EndModel,
    pub(crate) solved: Arc<Solved>,
    source: Option<Arc<Self>>,
}

/// The fits of a bike.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Fits {
    /// One per end, front first.
    pub ends: Vec<Fit>,
    /// Ends without one, and why.
    pub without: Vec<(End, String)>,
}

impl PartialEq for Study {
    fn eq(&self, other: &Self) -> bool {
        self.bike == other.bike
            && self.end() == other.end()
            && self.solved.gathered.loads == other.solved.gathered.loads
            && self.solved.posterior == other.solved.posterior
    }
}

impl Bike {
    /// One end studied: what its newest readings and its labels say, solved once. Where the end was changed since, what was
    /// found is [carried](Study::carried) over.
    ///
    /// What is stated is doubted, as garages are: gross errors of a reading, a place or a label, uneven friction, a guessed
    /// unsprung mass, a rider on the day. On what the answers hang besides is in [`Fit::conditions`].
    ///
    /// ```
    /// use wheelrate::{Bike, demo::PATROL, record::End};
    /// let study = Bike::from_toml(PATROL)?.study(End::Rear)?;
    /// let (fit, advice) = (study.fit(), study.advise()?);
    /// assert_eq!(fit, advice.fit);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`SetupError`] when the end has no spring, the extended reading is missing, or readings contradict each other;
    /// [`BikeError::Missing`] without masses or without the end.
    pub fn study(&self, end: End) -> Result<Study> {
        Study::new(self, end, &[])
    }

    /// What the readings of one end say of its spring rate, preload and friction. Without readings: what the labels say.
    ///
    /// # Errors
    /// As [`study`](Self::study).
    pub fn fit_end(&self, end: End) -> Result<Fit> {
        Ok(self.study(end)?.fit())
    }

    /// [`fit_end`](Self::fit_end) of every end that has an answer; what is refused at one end does not silence the other.
    ///
    /// # Errors
    /// As [`study`](Self::study), where no end has an answer.
    pub fn fit(&self) -> Result<Fits> {
        let (ends, without) = End::each(self.ends(), |end| self.fit_end(end))?;
        Ok(Fits { ends, without })
    }
}

impl Study {
    /// The study of an end with everything taken as stated: readings and label without gross errors, friction alike under every
    /// load and from both sides, masses as weighed. For a look at what the doubts of [`Bike::study`] make of the answer, and for
    /// checks against other programs.
    ///
    /// # Errors
    /// As [`Bike::study`].
    pub fn plain(bike: &Bike, end: End) -> Result<Self> {
        Self::of(bike, end, &[], Doubts::AS_STATED)
    }

    /// Solves an end, with loads that are asked about though nothing was read under them. Where nothing was read since the end
    /// was changed, what was found before is carried over.
    pub(crate) fn new(bike: &Bike, end: End, more: &[Load]) -> Result<Self> {
        Self::of(bike, end, more, Doubts::USUAL)
    }

    fn of(bike: &Bike, end: End, more: &[Load], doubts: Doubts) -> Result<Self> {
        Self::of_newest(bike, end, more, doubts).map_err(|error| or_misread_part(bike, end, error))
    }

    fn of_newest(bike: &Bike, end: End, more: &[Load], doubts: Doubts) -> Result<Self> {
        let recent = Recent::new(bike, end)?;
        let before = recent.before.as_ref();
        let read =
            |bike: &Bike, places: &[usize], more: &[Load]| Self::read_newest(before, bike, end, places, more, doubts);
        let Some((then, since)) = &recent.then else { return read(bike, &recent.readings, more) };
        let places: Vec<usize> = (0..then.parts().readings.len()).collect();
        match read(then, &places, &[]) {
            Ok(before) => before.carried_over(bike, since, more),
            // What the end had too little of then to be worked out, nothing was found of.
            Err(Error::Bike(BikeError::Missing { .. }) | Error::Setup(SetupError::NoSpring { .. })) => {
                Self::read(bike, end, &[], more, doubts)
            }
            Err(error) => Err(error),
        }
    }

    /// Solves an end from some of the readings of its bike.
    fn read(bike: &Bike, end: End, places: &[usize], more: &[Load], doubts: Doubts) -> Result<Self> {
        #[cfg(test)]
        READ.with(|read| read.set(read.get() + 1));
        if more.is_empty()
            && let Some(given) = Given::recalled(bike, end, places, doubts)
        {
            return Self::of_given(bike, &given);
        }
        let measuring =
            if places.is_empty() { bike.measuring_or_vertical(end) } else { bike.assumed().measuring(end)? };
        let stated = bike.end_model(end, measuring.direction)?;
        let given = |path| Given::new(bike, end, Arc::new(stated.on(path)), measuring, (places, more), doubts);
        let moved = |path| {
            /// Standard deviations beyond which an unknown of the path is nonsense, and the path no longer one.
            const FAR: f64 = 30.0;
            let solved = given(Some(path))?.solved()?;
            let at = solved.posterior.unknowns[solved.evidence.unknowns()..].to_vec();
            match at.iter().all(|by| by.abs() < FAR) {
                true => Ok::<_, Error>(at),
                false => Err(SetupError::NotConverged { steps: 1, sum_of_squares: solved.posterior.cost }.into()),
            }
        };
        let path = bike.stated_path(end)?.map(|path| path.settled(moved)).transpose()?;
        let given = given(path)?;
        // A path that stands where the readings put it is an answer, and not what answers are worked out from.
        let lasts = more.is_empty() && given.model.path.is_none();
        let given = Arc::new(given);
        if lasts {
            given.keep(bike);
        }
        Self::of_given(bike, &given)
    }

    fn of_given(bike: &Bike, given: &Given) -> Result<Self> {
        let solved = Arc::new(given.solved()?);
        let model = given.model.as_ref().clone();
        Ok(Self { bike: bike.clone(), measuring: given.measuring, model, solved, source: None })
    }

    /// The bike that is studied.
    #[must_use]
    pub fn bike(&self) -> &Bike {
        &self.bike
    }

    /// Which end of it.
    #[must_use]
    pub fn end(&self) -> End {
        self.solved.end
    }

    /// The study that this one was [carried](Self::carried) from; `None` where it was solved from its own readings and labels.
    #[must_use]
    pub fn source(&self) -> Option<&Self> {
        self.source.as_deref()
    }

    /// How the end was read.
    #[must_use]
    pub fn measuring(&self) -> Measuring {
        self.measuring
    }

    /// What the readings say of spring rate, preload and friction. Without readings: what the labels say.
    #[must_use]
    pub fn fit(&self) -> Fit {
        self.with_misread_parts(self.solved.fit())
    }

    /// A fit of this end with what its measured parts leave to be read again: said first, for the rest may come of it.
    pub(crate) fn with_misread_parts(&self, mut fit: Fit) -> Fit {
        let misread = self.bike.misread_parts(self.end());
        if misread.is_empty() {
            return fit;
        }
        let findings = fit.findings.iter_mut().filter_map(|finding| match finding {
            Finding::NotOneBike { suspects, .. } => Some(suspects),
            _ => None,
        });
        let conditions = fit.conditions.iter_mut().filter_map(|condition| match condition {
            Condition::NotOneBike { suspects } => Some(suspects),
            _ => None,
        });
        findings.chain(conditions).for_each(|suspects| suspects.insert(0, Suspect::MeasuredPart));
        let misread = misread.into_iter().map(|(readings, misread)| Finding::PartMisread { readings, misread });
        fit.findings.splice(0..0, misread);
        fit
    }

    /// An answer on this end. Where it does not settle, a misread part is named as the reason.
    pub(crate) fn answer<T>(&self, found: impl FnOnce() -> Result<T>) -> Result<T> {
        found().map_err(|error| or_misread_part(&self.bike, self.end(), error))
    }

    /// Is everything taken as stated?
    #[must_use]
    pub fn is_as_stated(&self) -> bool {
        self.solved.evidence.doubts == Doubts::AS_STATED
    }

    /// The same end with everything taken as stated: readings and label without gross errors, friction alike under every
    /// load and from both sides, masses as weighed. [`monte_carlo`](Self::monte_carlo) and [`rehearse`](Self::rehearse) work
    /// on it.
    ///
    /// # Errors
    /// As [`Bike::study`].
    pub fn as_stated(&self) -> Result<Self> {
        if self.is_as_stated() {
            return Ok(self.clone());
        }
        match &self.source {
            Some(source) if self.solved.gathered.observations.is_empty() => source.as_stated()?.carried(&self.bike),
            _ => Self::of(&self.bike, self.end(), &self.solved.gathered.loads, Doubts::AS_STATED),
        }
    }

    /// The fit by Monte Carlo (JCGM 101:2008), to check its standard uncertainties where they are large. The same seed gives
    /// the same draws.
    ///
    /// # Errors
    /// [`SetupError::Request`] outside 200 to 5,000,000 draws.
    pub fn monte_carlo(&self, draws: usize, seed: u64) -> Result<MonteCarlo> {
        Ok(self.as_stated()?.solved.monte_carlo(draws, seed)?)
    }

    /// The same study with another solution.
    pub(crate) fn with_solved(&self, solved: Solved) -> Self {
        Self { solved: Arc::new(solved), ..self.clone() }
    }

    /// The end as it is, with a tape along another direction.
    pub(crate) fn model_along(&self, direction: Direction) -> Result<EndModel> {
        Ok(self.bike.end_model(self.end(), direction)?.on(self.model.path.clone()))
    }

    /// The same study, asked about these loads too.
    ///
    /// # Errors
    /// [`MassError`](crate::error::MassError) for a load that the bike does not know, [`SetupError::TooManyLoads`].
    pub(crate) fn with_loads(&self, more: &[Load]) -> Result<Self> {
        let solved = self.solved.with_loads(self.bike.masses()?, more)?;
        Ok(self.with_solved(solved))
    }
}

/// Why an end cannot be solved: where the solution does not settle, the reading of a measured part that is furthest off its others,
/// if there is one.
fn or_misread_part(bike: &Bike, end: End, error: Error) -> Error {
    if !matches!(error, Error::Setup(SetupError::NotConverged { .. })) {
        return error;
    }
    let off = |one: &(_, PartReading)| one.1.deviations().abs();
    let furthest = bike.misread_parts(end).into_iter().max_by(|one, other| off(one).total_cmp(&off(other)));
    furthest.map_or(error, |(readings, misread)| {
        let [at, found, others] = misread.texts(UnitSystem::Metric);
        let readings = readings.to_string();
        SetupError::MisreadPart { end, readings, row: misread.index(), at, found, others }.into()
    })
}

/// Some of the readings of a bike, brought together.
fn gathered(
    bike: &Bike,
    end: End,
    model: &EndModel,
    measuring: &Measuring,
    places: &[usize],
    more: &[Load],
    doubts: &Doubts,
) -> Result<Gathered> {
    let more = asked(bike, end, more)?;
    let masses = bike.masses()?;
    let readings: Vec<&Reading> = places.iter().filter_map(|&place| bike.parts().readings.get(place)).collect();
    let mut gathered = Gathered::new(end, model, &readings, measuring, masses, &more, doubts)?;
    gathered.places = gathered.places.iter().filter_map(|&place| places.get(place).copied()).collect();
    Ok(gathered)
}

/// The loads asked about: free and rider sag, and more.
fn asked(bike: &Bike, end: End, more: &[Load]) -> Result<Vec<Load>> {
    let masses = bike.masses()?;
    let usual = [Load::bike_alone(), bike.parts().rider_load.clone()];
    let asked = usual.into_iter().chain(more.iter().cloned());
    Ok(asked.filter(|load| masses.sprung_load(end, load).is_ok()).collect())
}

#[cfg(test)]
std::thread_local! {
    /// Ends solved from readings on this thread, to be counted by tests.
    pub(crate) static READ: core::cell::Cell<usize> = const { core::cell::Cell::new(0) };
}

#[cfg(all(test, feature = "serde"))]
mod tests;
