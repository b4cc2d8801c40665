//! From readings to decisions: fit, advice, sheet.

pub(crate) mod scenarios;

pub(crate) mod monte_carlo;
pub(crate) mod plan;
pub(crate) mod rehearsal;

use numpy::ndarray::arr2;
use numpy::{PyArray2, ToPyArray};
use pyo3::prelude::*;
use wheelrate::bike;
use wheelrate::setup;
use wheelrate::units::{Length, Quantity, Share, SpringRate, Uncertain as Core, UnitSystem};

use crate::bike::Bike;
use crate::errors::run;
use crate::record::End;
use crate::setup::monte_carlo::MonteCarlo;
use crate::setup::rehearsal::Rehearsal;
use crate::uncertain::Uncertain;
use crate::units::Out;
use crate::value::{Named, result_class, to_json};

pub(crate) fn system(py: Python<'_>, name: &str) -> PyResult<UnitSystem> {
    run(py, || UnitSystem::from_name(name))
}

fn maybe<Q: Quantity>(value: Option<Core<Q>>) -> Option<Uncertain> {
    value.map(Uncertain::from)
}

result_class! {
    /// A load with the sag that follows.
    FittedLoad(setup::FittedLoad) {
        /// What stands on the wheels.
        load: String = |load| load.load.to_string();
        /// Sprung load at the wheel, from the scales.
        stated: Uncertain = |load| load.stated.into();
        /// The same with what the readings say of it.
        fitted: Uncertain = |load| load.fitted.into();
        /// Vertical sag where the spring force equals the load; below zero the end is topped out by that much.
        sag: Uncertain = |load| load.sag.into();
    }
}

/// What the readings of one end say: spring rate, preload, friction.
#[pyclass(module = "wheelrate", frozen, eq)]
#[derive(Clone, PartialEq)]
pub(crate) struct Fit {
    bike: bike::Bike,
    fit: setup::Fit,
}

#[pymethods]
impl Fit {
    /// Which end.
    #[getter]
    fn end(&self) -> &'static str {
        self.fit.end.name()
    }
    /// Rate of all main springs together.
    #[getter]
    fn rate(&self) -> Uncertain {
        self.fit.rate.into()
    }
    /// Common factor on the rates as labelled.
    #[getter]
    fn rate_factor(&self) -> Uncertain {
        self.fit.rate_factor.into()
    }
    /// Rate of each main spring, twins repeated.
    #[getter]
    fn springs(&self) -> Vec<Uncertain> {
        self.fit.springs.iter().copied().map(Uncertain::from).collect()
    }
    /// Preload of the first main spring.
    #[getter]
    fn preload(&self) -> Uncertain {
        self.fit.preload.into()
    }
    /// Friction force at the wheel, either way.
    #[getter]
    fn friction(&self) -> Uncertain {
        self.fit.friction.into()
    }
    /// Distance at full extension; None without readings.
    #[getter]
    fn extended(&self) -> Option<Uncertain> {
        maybe(self.fit.extended)
    }
    /// Correlation of rate, preload and friction, in this order.
    #[getter]
    fn correlation<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray2<f64>> {
        arr2(&self.fit.correlation).to_pyarray(py)
    }
    /// How far the readings, and not the labels, decide each number.
    #[getter(from_readings)]
    fn shares(&self) -> Named<Out<Share>> {
        let of = self.fit.from_readings;
        let named = [("rate", of.rate), ("preload", of.preload), ("friction", of.friction)];
        Named(named.into_iter().map(|(name, share)| (name.to_owned(), Out(share))).collect())
    }
    /// Loads, lightest first, with their sags.
    #[getter]
    fn loads(&self) -> Vec<FittedLoad> {
        self.fit.loads.iter().cloned().map(FittedLoad).collect()
    }
    /// Agreement of readings and labels: χ², its degrees of freedom, and the probability of as much or more by chance.
    #[getter]
    fn chi_square(&self) -> (f64, usize, f64) {
        (self.fit.chi_square.value, self.fit.chi_square.degrees, self.fit.chi_square.probability)
    }
    /// What was noticed about the readings, as sentences.
    ///
    /// Parameters
    /// ----------
    /// units : {"metric", "kilogram-force", "inch"}
    ///     Units of the sentences.
    #[pyo3(signature = (units="metric"))]
    fn findings(&self, py: Python<'_>, units: &str) -> PyResult<Vec<String>> {
        let units = system(py, units)?;
        Ok(self.fit.findings.iter().map(|finding| finding.text(units)).collect())
    }
    /// The fit as JSON text, quantities as text with units.
    fn to_json(&self) -> PyResult<String> {
        to_json(&self.fit)
    }
    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<(Bound<'py, PyAny>, (&'static str,))> {
        let bike = Bike(slf.get().bike.clone()).into_pyobject(slf.py())?;
        Ok((bike.getattr("fit_end")?, (slf.get().end(),)))
    }
    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        slf.py().import("wheelrate._display")?.call_method1("fit", (slf,))?.extract()
    }
    fn __repr__(&self) -> String {
        let (rate, preload, friction) = (self.rate(), self.preload(), self.friction());
        let text = |number: Uncertain| number.__str__();
        format!("Fit({}: rate {}, preload {}, friction {})", self.end(), text(rate), text(preload), text(friction))
    }
}

/// Sag of one spring choice.
type Outcome = setup::Outcome;

fn of(choice: &setup::SpringChoice, read: fn(&Outcome) -> Uncertain) -> Option<Uncertain> {
    choice.outcome.as_ref().map(read)
}

result_class! {
    /// One spring weighed: the preload it needs for the wanted rider sag, and what follows.
    ///
    /// What follows is None where no preload gives the wanted rider sag.
    SpringChoice(setup::SpringChoice) {
        /// Rate as labelled, per spring.
        rate: Out<SpringRate> = |choice| Out(choice.rate);
        /// Is it the one that is in now?
        is_fitted: bool = |choice| choice.is_fitted;
        /// Can its preload be set?
        can_be_set: bool = |choice| choice.reach.can_be_set();
        /// What stands against it, in a few words; empty when nothing does.
        remark: String = |choice| choice.remark(UnitSystem::Metric);
        /// Probability that both sags land in their ranges and the preload can be set.
        probability: Out<Share> = |choice| Out(choice.probability);
        /// Damping for the same damping ratio, against today.
        damping_factor: f64 = |choice| choice.damping_factor;
        /// Preload to set.
        preload: Option<Uncertain> = |choice| of(choice, |outcome| outcome.preload.into());
        /// Change from today's preload.
        preload_change: Option<Uncertain> = |choice| of(choice, |outcome| outcome.preload_change.into());
        /// The change in turns of the adjuster with its standard uncertainty; None where its pitch is not known.
        turns: Option<(f64, f64)> = |choice| {
            choice.outcome.and_then(|outcome| outcome.turns).map(|turns| (turns.value, turns.standard_uncertainty))
        };
        /// Free sag that follows; below zero the bike is topped out.
        free_sag: Option<Uncertain> = |choice| of(choice, |outcome| outcome.free_sag.into());
        /// Compression left before the spring goes solid at full travel; None where its lengths are not known.
        bind_clearance: Option<Out<Length>> = |choice| choice.outcome.and_then(|outcome| outcome.bind_clearance).map(Out);
        /// Wheel rate at the wanted rider sag.
        wheel_rate: Option<Uncertain> = |choice| of(choice, |outcome| outcome.wheel_rate.into());
        /// Natural frequency of the rider's sprung load on that rate.
        ride_frequency: Option<Uncertain> = |choice| of(choice, |outcome| outcome.ride_frequency.into());
        /// Force at the wheel at full travel.
        full_force: Option<Uncertain> = |choice| of(choice, |outcome| outcome.full_force.into());
        /// Energy left from the wanted rider sag to full travel, damping not in it.
        energy_left: Option<Uncertain> = |choice| of(choice, |outcome| outcome.energy_left.into());
        /// That energy as a height that the sprung load falls.
        drop_height: Option<Uncertain> = |choice| of(choice, |outcome| outcome.drop_height.into());
    }
}

/// Advice for one end: what to do, why, and every spring on sale weighed.
#[pyclass(module = "wheelrate", frozen, eq)]
#[derive(Clone, PartialEq)]
pub(crate) struct EndAdvice {
    bike: bike::Bike,
    advice: setup::EndAdvice,
}

#[pymethods]
impl EndAdvice {
    /// Which end.
    #[getter]
    fn end(&self) -> &'static str {
        self.advice.end.name()
    }
    /// ``keep``, ``change preload``, ``change spring``, ``cannot tell`` or ``none suits``.
    #[getter]
    fn verdict(&self) -> &'static str {
        self.advice.verdict.name()
    }
    /// The choice that the verdict is on: the spring to fit, or the one to keep; None where it is on none.
    #[getter]
    fn advised(&self) -> Option<SpringChoice> {
        self.advice.advised().cloned().map(SpringChoice)
    }
    /// Every spring, best first; the one fitted now is among them.
    #[getter]
    fn choices(&self) -> Vec<SpringChoice> {
        self.advice.choices.iter().cloned().map(SpringChoice).collect()
    }
    /// The rate per spring that puts the free sag in the middle of its range; None without such a target.
    #[getter]
    fn wanted_rate(&self) -> Option<Uncertain> {
        maybe(self.advice.wanted.map(|wanted| wanted.rate))
    }
    /// Sag with the rider today.
    #[getter]
    fn rider_sag(&self) -> Uncertain {
        self.advice.today.rider_sag.into()
    }
    /// Sag of the bike alone today; below zero it is topped out.
    #[getter]
    fn free_sag(&self) -> Uncertain {
        self.advice.today.free_sag.into()
    }
    /// Probability that both sags lie in their ranges today.
    #[getter]
    fn probability(&self) -> Out<Share> {
        Out(self.advice.today.probability)
    }
    /// What the readings say.
    #[getter]
    fn fit(&self) -> Fit {
        Fit { bike: self.bike.clone(), fit: self.advice.fit.clone() }
    }
    /// What to do, in one sentence.
    #[pyo3(signature = (units="metric"))]
    fn headline(&self, py: Python<'_>, units: &str) -> PyResult<String> {
        Ok(self.advice.headline(system(py, units)?))
    }
    /// Why, in sentences.
    #[pyo3(signature = (units="metric"))]
    fn reasons(&self, py: Python<'_>, units: &str) -> PyResult<Vec<String>> {
        Ok(self.advice.reasons(system(py, units)?))
    }
    /// Which further readings would help most, in sentences.
    #[pyo3(signature = (units="metric"))]
    fn next_readings(&self, py: Python<'_>, units: &str) -> PyResult<Vec<String>> {
        let units = system(py, units)?;
        Ok(self.advice.next.iter().map(|next| next.text(units)).collect())
    }
    /// The advice as JSON text, quantities as text with units.
    fn to_json(&self) -> PyResult<String> {
        to_json(&self.advice)
    }
    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<(Bound<'py, PyAny>, (&'static str,))> {
        let bike = Bike(slf.get().bike.clone()).into_pyobject(slf.py())?;
        Ok((bike.getattr("advise_end")?, (slf.get().end(),)))
    }
    fn __repr__(&self) -> String {
        format!("EndAdvice({}: {})", self.end(), self.advice.headline(UnitSystem::Metric))
    }
    fn _repr_html_(&self, py: Python<'_>) -> PyResult<String> {
        let sheet = Sheet::of(py, &self.bike, UnitSystem::Metric)?;
        let arguments = (to_json(&sheet.sheet)?, self.end());
        py.import("wheelrate._display")?.call_method1("advice", arguments)?.extract()
    }
}

/// Setup sheet: everything a person hangs on the garage wall.
#[pyclass(module = "wheelrate", frozen, eq)]
#[derive(Clone, PartialEq)]
pub(crate) struct Sheet {
    bike: bike::Bike,
    sheet: setup::Sheet,
}

impl Sheet {
    fn of(py: Python<'_>, bike: &bike::Bike, units: UnitSystem) -> PyResult<Self> {
        Ok(Self { bike: bike.clone(), sheet: run(py, || bike.sheet(units))? })
    }
    fn units(&self) -> &'static str {
        UnitSystem::ALL.iter().find(|(_, system)| *system == self.sheet.units).map_or("metric", |(name, _)| name)
    }
}

#[pymethods]
impl Sheet {
    /// The sheet as plain text, sentences wrapped to so many characters.
    #[pyo3(signature = (width=100))]
    fn to_text(&self, width: usize) -> String {
        self.sheet.to_text(width)
    }
    /// The sheet as JSON text.
    fn to_json(&self) -> PyResult<String> {
        to_json(&self.sheet)
    }
    /// The sheet as one self-contained HTML page.
    fn to_html(&self, py: Python<'_>) -> PyResult<String> {
        py.import("wheelrate._display")?.call_method1("page", (self.to_json()?,))?.extract()
    }
    /// Write the HTML page to a file.
    ///
    /// Parameters
    /// ----------
    /// path : str or path
    ///     The file; what it held is replaced.
    #[pyo3(signature = (path: "str | os.PathLike[str]"))]
    fn save(&self, path: &Bound<'_, PyAny>) -> PyResult<()> {
        let py = path.py();
        let page = self.to_html(py)?;
        py.import("pathlib")?.getattr("Path")?.call1((path,))?.call_method1("write_text", (page, "utf-8")).map(drop)
    }
    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<(Bound<'py, PyAny>, (&'static str,))> {
        let bike = Bike(slf.get().bike.clone()).into_pyobject(slf.py())?;
        Ok((bike.getattr("sheet")?, (slf.get().units(),)))
    }
    fn __str__(&self) -> String {
        /// A terminal of the usual width.
        const WIDTH: usize = 100;
        self.sheet.to_text(WIDTH)
    }
    fn __repr__(&self) -> String {
        format!("Sheet({:?}, {})", self.sheet.bike, self.units())
    }
    fn _repr_html_(&self, py: Python<'_>) -> PyResult<String> {
        py.import("wheelrate._display")?.call_method1("embedded", (self.to_json()?,))?.extract()
    }
}

#[pymethods]
impl Bike {
    /// What the readings say of each end that the bike has: rate, preload and friction, with uncertainty.
    ///
    /// Returns
    /// -------
    /// dict of str to Fit
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> fit = wr.demo().fit()
    /// >>> print(fit["rear"].rate)
    /// 50.7 ± 0.7 N/mm
    #[pyo3(signature = () -> "dict[str, Fit]")]
    fn fit<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let fits = run(py, || self.0.fit())?;
        let named = fits.into_iter().map(|fit| (fit.end.name().to_owned(), Fit { bike: self.0.clone(), fit }));
        per_end(py, Named(named.collect()))
    }
    /// What the readings of one end say.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which end.
    fn fit_end(&self, py: Python<'_>, end: End) -> PyResult<Fit> {
        run(py, || self.0.fit_end(end.0)).map(|fit| Fit { bike: self.0.clone(), fit })
    }
    /// The fit of one end by Monte Carlo, to check its standard uncertainties where they are large. The same seed gives
    /// the same draws.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which end.
    /// draws : int
    ///     From 200 to 5,000,000.
    /// seed : int
    ///     Start of the random numbers.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> found = wr.demo().monte_carlo("rear", draws=2000)
    /// >>> low, high = found.rate.interval_95
    /// >>> print(low.round(0), high.round(0))
    /// 49.0 newton / millimeter 52.0 newton / millimeter
    #[pyo3(signature = (end, draws=10_000, seed=0))]
    fn monte_carlo(&self, py: Python<'_>, end: End, draws: usize, seed: u64) -> PyResult<MonteCarlo> {
        run(py, || self.0.monte_carlo(end.0, draws, seed)).map(MonteCarlo)
    }
    /// How well the readings of one end would tell, over simulated garages.
    ///
    /// The loads, sides, repeats and tape are those of the bike's own readings; the true springs, loads and friction, and
    /// what the readings then show, are drawn anew in each garage. The same seed gives the same garages.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which end.
    /// garages : int
    ///     From 100 to 10,000,000.
    /// seed : int
    ///     Start of the random numbers.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> found = wr.demo().rehearse("rear", garages=20_000)
    /// >>> print(found.rate.standard_uncertainty.round(1))
    /// 0.7 newton / millimeter
    /// >>> print(found.preload.covered_95.round())
    /// 95.0 percent
    #[pyo3(signature = (end, garages=10_000, seed=0))]
    fn rehearse(&self, py: Python<'_>, end: End, garages: usize, seed: u64) -> PyResult<Rehearsal> {
        run(py, || self.0.rehearse(end.0, garages, seed)).map(Rehearsal)
    }
    /// Advice for every end that has a rider sag target: what to do, and every spring on sale weighed.
    ///
    /// Returns
    /// -------
    /// dict of str to EndAdvice
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> advice = wr.demo().advise()
    /// >>> advice["rear"].verdict
    /// 'change spring'
    #[pyo3(signature = () -> "dict[str, EndAdvice]")]
    fn advise<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let advice = run(py, || self.0.advise())?;
        let named = advice
            .ends
            .into_iter()
            .map(|advice| (advice.end.name().to_owned(), EndAdvice { bike: self.0.clone(), advice }));
        per_end(py, Named(named.collect()))
    }
    /// Advice for one end.
    fn advise_end(&self, py: Python<'_>, end: End) -> PyResult<EndAdvice> {
        run(py, || self.0.advise_end(end.0)).map(|advice| EndAdvice { bike: self.0.clone(), advice })
    }
    /// The setup sheet.
    ///
    /// Parameters
    /// ----------
    /// units : {"metric", "kilogram-force", "inch"}
    ///     Units of its numbers and sentences.
    #[pyo3(signature = (units="metric"))]
    fn sheet(&self, py: Python<'_>, units: &str) -> PyResult<Sheet> {
        let units = system(py, units)?;
        Sheet::of(py, &self.0, units)
    }
}

/// A dict by the names of ends that shows itself in a notebook.
pub(crate) fn per_end<'py, T: IntoPyObject<'py>>(py: Python<'py>, named: Named<T>) -> PyResult<Bound<'py, PyAny>> {
    py.import("wheelrate._display")?.call_method1("PerEnd", (named,))
}

/// The unit symbol that a unit system uses for each kind of quantity.
///
/// Parameters
/// ----------
/// units : {"metric", "kilogram-force", "inch"}
///     The system.
///
/// Returns
/// -------
/// dict of str to str
///     Kind to symbol.
#[pyfunction]
pub(crate) fn unit_symbols(py: Python<'_>, units: &str) -> PyResult<Named<&'static str>> {
    let system = system(py, units)?;
    let kinds = wheelrate::units::kind::ALL.iter();
    Ok(Named(kinds.map(|kind| (kind.name.to_owned(), system.symbol(kind))).collect()))
}
