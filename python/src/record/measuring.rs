//! How readings are taken, and what is believed before one is.

use pyo3::prelude::*;
use pyo3::types::PyString;
use wheelrate::record::{self, Direction};
use wheelrate::units::{Length, Share, SpringRate};

use crate::errors::{raise, run};
use crate::linkage::pair;
use crate::plain::Text;
use crate::uncertain::read_uncertain;
use crate::units::{Given, GivenArray, Out, OutArray, read_optional};
use crate::value::{getters, value_class};

/// A direction as Python has it: a word, or the mark that a distance goes to.
#[derive(IntoPyObject)]
pub(crate) enum AnyDirection {
    Named(&'static str),
    Mark(OutArray<Length>),
}

impl From<Direction> for AnyDirection {
    fn from(direction: Direction) -> Self {
        match direction {
            Direction::ToMark { x, z } => Self::Mark(OutArray(vec![x, z])),
            named => Self::Named(named.name()),
        }
    }
}

/// A word, or the mark that a distance goes to.
pub(super) fn direction(given: &Bound<'_, PyAny>, argument: &str) -> PyResult<Direction> {
    let py = given.py();
    let Ok(word) = given.cast::<PyString>() else {
        let [x, z] = pair(py, given.extract::<GivenArray<'_, Length>>()?.read(argument)?, argument)?;
        return Ok(Direction::ToMark { x, z });
    };
    let word = word.extract::<Text>()?;
    let named = [Direction::Vertical, Direction::AlongFork];
    named.into_iter().find(|known| known.name() == &*word).ok_or_else(|| {
        let [vertical, along_fork] = named.map(Direction::name);
        let message = format!("{argument}: found `{word}`, wanted `{vertical}`, `{along_fork}` or the mark's place");
        raise(py, "BikeError", (message,))
    })
}

value_class! {
    /// How the readings of one end are taken.
    ///
    /// Parameters
    /// ----------
    /// direction : {"vertical", "along fork"} or pair of lengths
    ///     Along what a distance is read; a pair is the mark it goes to, in the axes of the linkage points.
    /// uncertainty : length, optional
    ///     Standard uncertainty of one reading; 1.5 mm unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> print(wr.Measuring("along fork").uncertainty)
    /// 1.5 millimeter
    Measuring(record::Measuring)
}

getters! {
    Measuring {
        /// Along what a distance is read: a word, or the mark it goes to.
        direction: AnyDirection = |measuring| measuring.0.direction.into();
        /// Standard uncertainty of one reading.
        uncertainty: Out<Length> = |measuring| Out(measuring.0.uncertainty);
    }
}

#[pymethods]
impl Measuring {
    #[new]
    #[pyo3(signature = (direction: "str | wheelrate.typing.ArrayLike", uncertainty=None))]
    fn new(direction: &Bound<'_, PyAny>, uncertainty: Option<Given<'_, Length>>) -> PyResult<Self> {
        let along = self::direction(direction, "direction")?;
        let uncertainty = read_optional(uncertainty, "uncertainty")?;
        let uncertainty = uncertainty.unwrap_or_else(record::Measuring::default_uncertainty);
        run(direction.py(), || record::Measuring::new(along, uncertainty)).map(Self)
    }
}

value_class! {
    /// How far the spring rate and the preload stated for an end can be trusted.
    ///
    /// Parameters
    /// ----------
    /// rate_tolerance : share, optional
    ///     How far the stated rate may be off, either way; 5 % unless given.
    /// preload_uncertainty : length, optional
    ///     Standard uncertainty of the stated preload; 1 mm unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> prior = wr.SpringPrior.of_measured(("50.7 N/mm", "0.7 N/mm"), preload_uncertainty="1 mm")
    /// >>> print(prior.rate_tolerance.round(1))
    /// 2.4 percent
    SpringPrior(record::SpringPrior)
}

getters! {
    SpringPrior {
        /// How far the stated rate may be off, either way.
        rate_tolerance: Out<Share> = |prior| Out(prior.0.rate_tolerance);
        /// Standard uncertainty of the stated preload.
        preload_uncertainty: Out<Length> = |prior| Out(prior.0.preload_uncertainty);
    }
}

#[pymethods]
impl SpringPrior {
    #[new]
    #[pyo3(signature = (*, rate_tolerance=None, preload_uncertainty=None))]
    fn new(
        py: Python<'_>,
        rate_tolerance: Option<Given<'_, Share>>,
        preload_uncertainty: Option<Given<'_, Length>>,
    ) -> PyResult<Self> {
        let usual = record::SpringPrior::default();
        let rate = read_optional(rate_tolerance, "rate_tolerance")?.unwrap_or(usual.rate_tolerance);
        let preload = read_optional(preload_uncertainty, "preload_uncertainty")?.unwrap_or(usual.preload_uncertainty);
        run(py, || record::SpringPrior::new(rate, preload)).map(Self)
    }
    /// The prior of a spring whose rate was measured, and not read off a label.
    ///
    /// Parameters
    /// ----------
    /// rate : Uncertain or pair
    ///     The rate with its standard uncertainty.
    /// preload_uncertainty : length
    ///     Standard uncertainty of the stated preload.
    #[staticmethod]
    #[pyo3(signature = (rate: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike]", *, preload_uncertainty))]
    fn of_measured(rate: &Bound<'_, PyAny>, preload_uncertainty: Given<'_, Length>) -> PyResult<Self> {
        let known = read_uncertain::<SpringRate>(rate, "rate")?;
        let preload = preload_uncertainty.read("preload_uncertainty")?;
        run(rate.py(), || record::SpringPrior::of_measured(known, preload)).map(Self)
    }
}
