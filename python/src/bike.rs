//! The bike: both ends, masses, readings, targets.

pub(crate) mod effect;
pub(crate) mod landing;
pub(crate) mod practice;
pub(crate) mod ride;
pub(crate) mod settling;
pub(crate) mod steering;
pub(crate) mod whole;

use pyo3::prelude::*;
use pyo3::types::PyDict;
use wheelrate::bike::{self, BikeParts};
use wheelrate::record::{self, Ends};
use wheelrate::units::Length;

use crate::errors::run;
use crate::linkage::pair;
use crate::mass::Masses;
use crate::record::change::Change;
use crate::record::measuring::{Measuring, SpringPrior};
use crate::record::on_sale::{OnSale, Prices};
use crate::record::practice::CommonPractice;
use crate::record::scenario::Scenario;
use crate::record::targets::Targets;
use crate::record::{End, Reading, Wheels, by_end, named_ends};
use crate::sweep::designs::Sweep;
use crate::uncertain::Uncertain;
use crate::units::{GivenArray, OutArray};
use crate::value::{Named, getters};
use crate::wheel::{FrontEnd, RearEnd};

/// A bike: both ends, masses, readings, targets. Any part may be missing; an answer that needs one says so.
///
/// Most bikes come from a file (`load`) or a dict of the same keys (`from_dict`).
///
/// Parameters
/// ----------
/// name : str
///     What it is called.
/// masses : Masses, optional
///     On two scales.
/// front : FrontEnd, optional
///     The fork.
/// rear : RearEnd, optional
///     Linkage and shock.
/// wheels : Wheels, optional
///     What the ends stand on.
/// frame_points : dict of str to pair of lengths, optional
///     Points of the frame whose height matters, fully extended, in the frame axes: seat, skid plate.
/// prior : dict of str to SpringPrior, optional
///     By end, how far the stated springs can be trusted.
/// measuring : dict of str to Measuring, optional
///     By end, how the readings are taken: vertically at the rear unless given; at the front it has to be said.
/// targets : dict of str to Targets, optional
///     By end, the sag that is wanted; comes before common practice.
/// discipline : str, optional
///     What the bike is ridden for: where `targets` has no sag, that of common practice is wanted.
/// practice : CommonPractice, optional
///     The table of common practice; the shipped one unless given.
/// rider_load : str, optional
///     What rider sag is meant under; ``"bike + rider"`` unless given.
/// scenarios : list of Scenario, optional
///     Other loads.
/// on_sale : OnSale, optional
///     Springs that can be bought.
/// prices : Prices, optional
///     What turning the collar, another spring and an evening of measuring cost.
/// readings : list of Reading, optional
///     Sag readings, any number, any load.
/// changes : list of Change, optional
///     What was done to the bike; the rest describes it as it is now.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> bike = wr.demo()
/// >>> print(bike.rear.wheel_rate("102 mm").round(1))
/// 8.4 newton / millimeter
/// >>> longer = bike.what_if({"rear.linkage.points.link_frame": ["-66 mm", "-93 mm"]})
/// >>> longer == bike
/// False
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct Bike(pub(crate) bike::Bike);

getters! {
    Bike {
        /// How far the stated springs of each end can be trusted.
        prior: Named<SpringPrior> = |bike| named_ends(bike.0.parts().prior.map(|prior| Some(SpringPrior(prior))));
        /// How the readings of an end are taken, where stated.
        measuring: Named<Measuring> = |bike| named_ends(bike.0.parts().measuring.map(|stated| stated.map(Measuring)));
        /// The sag that is wanted at each end: as stated, else from common practice.
        targets: Named<Targets> = |bike| {
            let wanted = |end| Some(Targets(*bike.0.targets(end)));
            named_ends(Ends { front: wanted(record::End::Front), rear: wanted(record::End::Rear) })
        };
        /// What rider sag is meant under.
        rider_load: String = |bike| bike.0.rider_load().to_string();
        /// What actions cost.
        prices: Prices = |bike| Prices(bike.0.parts().prices);
        /// Springs that can be bought.
        on_sale: OnSale = |bike| OnSale(bike.0.parts().on_sale.clone());
        /// What it is called.
        name: &str = |bike| &bike.0.parts().name;
        /// Points of the frame by name, fully extended, in the frame axes.
        frame_points: Named<OutArray<Length>> = |bike| {
            let points = bike.0.parts().frame_points.iter();
            Named(points.map(|(name, at)| (name.clone(), OutArray(at.to_vec()))).collect())
        };
        /// Names of the ends that the bike has.
        ends: Vec<&'static str> = |bike| bike.0.ends().into_iter().map(wheelrate::record::End::name).collect();
        /// The readings.
        readings: Vec<Reading> = |bike| bike.0.parts().readings.iter().cloned().map(Reading).collect();
        /// Other loads, in the order stated.
        scenarios: Vec<Scenario> = |bike| bike.0.parts().scenarios.iter().cloned().map(Scenario).collect();
    }
}

#[pymethods]
impl Bike {
    #[new]
    #[pyo3(signature = (
        name, *, masses=None, front=None, rear=None, wheels=None,
        frame_points: "dict[str, wheelrate.typing.ArrayLike] | None"=None, prior: "dict[str, SpringPrior] | None"=None,
        measuring: "dict[str, Measuring] | None"=None, targets: "dict[str, Targets] | None"=None, discipline=None,
        practice=None, rider_load: "str | None"=None, scenarios=Vec::new(), on_sale=None, prices=None, readings=Vec::new(), changes=Vec::new()
    ))]
    #[allow(clippy::too_many_arguments, reason = "the parts of a bike")]
    fn new(
        py: Python<'_>,
        name: String,
        masses: Option<Masses>,
        front: Option<FrontEnd>,
        rear: Option<RearEnd>,
        wheels: Option<Wheels>,
        frame_points: Option<Bound<'_, PyDict>>,
        prior: Option<Bound<'_, PyDict>>,
        measuring: Option<Bound<'_, PyDict>>,
        targets: Option<Bound<'_, PyDict>>,
        discipline: Option<String>,
        practice: Option<CommonPractice>,
        rider_load: Option<&str>,
        scenarios: Vec<Scenario>,
        on_sale: Option<OnSale>,
        prices: Option<Prices>,
        readings: Vec<Reading>,
        changes: Vec<Change>,
    ) -> PyResult<Self> {
        let point = |(name, given): (Bound<'_, PyAny>, Bound<'_, PyAny>)| {
            let name: String = name.extract()?;
            let argument = format!("frame_points[{name:?}]");
            let at = pair(py, given.extract::<GivenArray<'_, Length>>()?.read(&argument)?, &argument)?;
            Ok((name, at))
        };
        let frame_points = frame_points.iter().flatten().map(point).collect::<PyResult<_>>()?;
        let usual = BikeParts::default();
        let parts = BikeParts {
            frame_points,
            prior: by_end::<SpringPrior>(prior)?.map(|prior| prior.map_or_else(Default::default, |prior| prior.0)),
            measuring: by_end::<Measuring>(measuring)?.map(|measuring| measuring.map(|measuring| measuring.0)),
            targets: by_end::<Targets>(targets)?
                .map(|targets| targets.map_or_else(Default::default, |targets| targets.0)),
            discipline,
            practice: practice.map(|practice| practice.0),
            rider_load: rider_load.map_or(Ok(usual.rider_load.clone()), |load| crate::record::load(py, load))?,
            scenarios: scenarios.into_iter().map(|scenario| scenario.0).collect(),
            on_sale: on_sale.map_or_else(Default::default, |on_sale| on_sale.0),
            prices: prices.map_or_else(Default::default, |prices| prices.0),
            changes: changes.into_iter().map(|change| change.0).collect(),
            name,
            masses: masses.map(|masses| masses.0),
            front: front.map(|front| front.0),
            rear: rear.map(|rear| rear.0),
            wheels: wheels.map(|wheels| wheels.0),
            readings: readings.into_iter().map(|reading| reading.0).collect(),
            ..usual
        };
        let with_log = |bike: bike::Bike| bike.log().map(|_| bike);
        run(py, || bike::Bike::new(parts).and_then(with_log)).map(Self)
    }
    /// Read a bike file: JSON where its name ends in ``.json``, else TOML.
    ///
    /// Parameters
    /// ----------
    /// path : str or path
    ///     The file.
    #[staticmethod]
    #[pyo3(signature = (path: "str | os.PathLike[str]"))]
    fn load(path: &Bound<'_, PyAny>) -> PyResult<Self> {
        let py = path.py();
        let (text, json) = crate::file::text_of(path)?;
        if json { Self::from_json(py, &text) } else { Self::from_toml(py, &text) }
    }
    /// Read the text of a bike file.
    #[staticmethod]
    fn from_toml(py: Python<'_>, text: &str) -> PyResult<Self> {
        run(py, || bike::Bike::from_toml(text)).map(Self)
    }
    /// Read the text of a bike file written as JSON.
    #[staticmethod]
    fn from_json(py: Python<'_>, text: &str) -> PyResult<Self> {
        run(py, || bike::Bike::from_json(text)).map(Self)
    }
    /// Make a bike from a dict with the keys of the bike file.
    #[staticmethod]
    #[pyo3(signature = (keys: "dict[str, object]"))]
    fn from_dict(keys: Bound<'_, PyDict>) -> PyResult<Self> {
        let py = keys.py();
        let text: String = py.import("json")?.call_method1("dumps", (keys,))?.extract()?;
        Self::from_json(py, &text)
    }
    /// The bike as the text of a file, which reads back as an equal bike.
    fn to_toml(&self) -> String {
        self.0.to_toml()
    }
    /// The same as JSON.
    fn to_json(&self) -> String {
        self.0.to_json()
    }
    /// The bike as a dict with the keys of the bike file.
    #[pyo3(signature = () -> "dict[str, object]")]
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        py.import("json")?.call_method1("loads", (self.0.to_json(),))
    }
    /// The bike as it would be with some values of its file changed.
    ///
    /// The readings stay with the bike as it is: what they found of springs, preload and friction is carried into the changed
    /// bike, as far as the change leaves it alone, and nothing is fitted on a bike that it was not read on. The change stands in
    /// the log as one that was not made, so that files and pickles keep it. To mend a wrong entry, use `correct`.
    ///
    /// Parameters
    /// ----------
    /// values : dict of str to value
    ///     By key path, as in the file, rows counted from 0: ``{"front.fork.leg[0].spring.rate": "4.6 N/mm"}``.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo()
    /// >>> heavier = bike.what_if({"masses.rider.rear": "76 kg"})
    /// >>> heavier.fit()["rear"].rate == bike.fit()["rear"].rate
    /// True
    #[pyo3(signature = (values: "dict[str, str | float | list[str] | dict[str, str]]"))]
    fn what_if(&self, values: &Bound<'_, PyDict>) -> PyResult<Self> {
        let texts = value_texts(values)?;
        run(values.py(), || self.0.what_if(&pairs(&texts))).map(Self)
    }
    /// The bike with wrong entries of its file mended: what was read is worked out anew on the bike as it now stands.
    ///
    /// For a change to think about use `what_if`, for one that was made `with_logged_change`.
    ///
    /// Parameters
    /// ----------
    /// values : dict of str to value
    ///     By key path, as for `what_if`; into readings and the log too: ``{"reading[5].distance": "655 mm"}``.
    #[pyo3(signature = (values: "dict[str, str | float | list[str] | dict[str, str]]"))]
    fn correct(&self, values: &Bound<'_, PyDict>) -> PyResult<Self> {
        let texts = value_texts(values)?;
        run(values.py(), || self.0.correct(&pairs(&texts))).map(Self)
    }
    /// The bike with values of its file changed on a date, and the change logged: what stood there before is noted by itself.
    ///
    /// Parameters
    /// ----------
    /// date : str
    ///     A day, ``"2026-06-14"``, or a day with a time, ``"2026-06-14 19:30"``.
    /// values : dict of str to value
    ///     By key path, as for `what_if`.
    /// note : str, optional
    ///     Anything worth remembering.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.Bike("shed", rear=wr.demo().rear)
    /// >>> stiffer = bike.with_logged_change("2026-06-14", {"rear.shock.spring.rate": "56 N/mm"})
    /// >>> stiffer.changes[0].was
    /// {'rear.shock.spring.rate': '52 N/mm'}
    /// >>> stiffer.at("2026-06-13") == bike
    /// True
    #[pyo3(signature = (date, values: "dict[str, str | float | list[str] | dict[str, str]]", note=None))]
    fn with_logged_change(&self, date: &str, values: &Bound<'_, PyDict>, note: Option<&str>) -> PyResult<Self> {
        let texts = value_texts(values)?;
        run(values.py(), || self.0.with_logged_change(date, &pairs(&texts), note)).map(Self)
    }
    /// Many designs at once: the bike as it would be with every combination, list or draw of some values.
    ///
    /// Each design is what `what_if` makes of it, with what the readings found carried into it; each end is solved once. Stretches
    /// of designs are worked out on all cores without the interpreter's lock, here or by the workers of a Dask client, with
    /// the same result to the last bit. A design that fails has NaN for what it lacks, and a reason.
    ///
    /// Parameters
    /// ----------
    /// axes : dict of str to values
    ///     By address, as for `what_if`: a list of values, an array with a unit, a dict of ``from``, ``to`` and ``steps``, or, where
    ///     designs are drawn, a pair of both ends.
    /// outputs : list of str
    ///     What is asked, by name; `sweep_outputs` lists them.
    /// scheme : {"grid", "list", "random", "latin_hypercube"}
    ///     Every combination, the values side by side, or drawn.
    /// samples : int, optional
    ///     How many designs are drawn.
    /// seed : int
    ///     Where the draws begin; the same seed gives the same designs.
    /// points : int
    ///     Points of a curve.
    /// chunk : int
    ///     Designs in one stretch: one call of the core, one task of a cluster, one part of what is written.
    /// client : distributed.Client, optional
    ///     Workers to work it out.
    /// progress : bool or callable, optional
    ///     True for a bar of tqdm, or what makes one of the same protocol: called with ``total`` and ``unit``, it gives something with
    ///     ``update`` and ``close``.
    /// to : str or path, optional
    ///     Where the result is written as it comes: a Parquet file, a CSV file, or a folder of Parquet parts. What is there of the
    ///     same sweep already is not worked out again.
    ///
    /// Returns
    /// -------
    /// SweepResult
    ///     Columns by address and output.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> axes = {"rear.linkage.points.link_frame.x": ("-68 mm", "-64 mm"), "rear.shock.spring.rate": ("50 N/mm", "58 N/mm")}
    /// >>> result = wr.demo().sweep(axes, ["rear.rider_sag", "rear.chance"], scheme="latin_hypercube", samples=100)
    /// >>> len(result), result["rear.rider_sag"].units
    /// (100, <Unit('millimeter')>)
    #[pyo3(signature = (
        axes: "dict[str, wheelrate.typing.ArrayLike | list[object] | dict[str, object]]", outputs, *,
        scheme: "wheelrate.typing.Scheme"="grid", samples=None, seed=0, points=60, chunk=10_000,
        client: "object"=None, progress: "object"=None, to: "str | os.PathLike[str] | None"=None
    ) -> "SweepResult")]
    #[allow(clippy::too_many_arguments, reason = "the parts of a sweep, and how it is carried out")]
    fn sweep<'py>(
        &self,
        py: Python<'py>,
        axes: &Bound<'py, PyDict>,
        outputs: Vec<String>,
        scheme: &str,
        samples: Option<u64>,
        seed: u64,
        points: usize,
        chunk: u64,
        client: Option<Bound<'py, PyAny>>,
        progress: Option<Bound<'py, PyAny>>,
        to: Option<Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let sweep = Sweep::new(py, self, axes, outputs, scheme, samples, seed, points)?;
        py.import("wheelrate._sweep")?.call_method1("work_out", (sweep, chunk, client, progress, to))
    }
    /// The front end.
    #[getter]
    fn front(&self, py: Python<'_>) -> PyResult<FrontEnd> {
        run(py, || self.0.front().cloned()).map(FrontEnd)
    }
    /// The rear end.
    #[getter]
    fn rear(&self, py: Python<'_>) -> PyResult<RearEnd> {
        run(py, || self.0.rear().cloned()).map(RearEnd)
    }
    /// Masses of the bike and of what rides on it.
    #[getter]
    fn masses(&self, py: Python<'_>) -> PyResult<Masses> {
        run(py, || self.0.masses().cloned()).map(Masses)
    }
    /// What the ends stand on.
    #[getter]
    fn wheels(&self, py: Python<'_>) -> PyResult<Wheels> {
        run(py, || self.0.wheels().copied()).map(Wheels)
    }
    /// The same bike with these scenarios in place of its own.
    ///
    /// Parameters
    /// ----------
    /// scenarios : list of Scenario
    ///     Other loads.
    fn with_scenarios(&self, py: Python<'_>, scenarios: Vec<Scenario>) -> PyResult<Self> {
        run(py, || self.0.with(|parts| parts.scenarios = scenarios.into_iter().map(|scenario| scenario.0).collect()))
            .map(Self)
    }
    /// The vertical load that the spring of one end carries at the wheel.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which end.
    /// load : str
    ///     Names of masses: ``"bike + rider"``.
    fn sprung_load(&self, py: Python<'_>, end: End, load: &str) -> PyResult<Uncertain> {
        let load = crate::record::load(py, load)?;
        run(py, || self.0.load(end.0, &load)).map(Uncertain::from)
    }
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (String,))> {
        Ok((py.get_type::<Self>().getattr("from_json")?, (self.0.to_json(),)))
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.0)
    }
    fn __repr__(&self) -> String {
        format!("Bike({:?}: {}, {} readings)", self.name(), self.ends().join(" and "), self.0.parts().readings.len())
    }
}

pub(crate) fn value_texts(values: &Bound<'_, PyDict>) -> PyResult<Vec<(String, String)>> {
    values.iter().map(|(path, value)| Ok((path.extract::<String>()?, value_text(&value)?))).collect()
}

pub(crate) fn pairs(texts: &[(String, String)]) -> Vec<(&str, &str)> {
    texts.iter().map(|(path, value)| (path.as_str(), value.as_str())).collect()
}

/// A value as TOML writes it: a JSON string or array is a TOML value too; a table goes key by key.
pub(crate) fn value_text(value: &Bound<'_, PyAny>) -> PyResult<String> {
    let Ok(table) = value.cast::<PyDict>() else { return as_toml(value) };
    let rows = table.iter().map(|(key, value)| Ok(format!("{key} = {}", as_toml(&value)?)));
    Ok(format!("{{ {} }}", rows.collect::<PyResult<Vec<_>>>()?.join(", ")))
}

/// A value as TOML writes it: text, numbers and lists as in JSON.
fn as_toml(value: &Bound<'_, PyAny>) -> PyResult<String> {
    value.py().import("json")?.call_method1("dumps", (value,))?.extract()
}

/// The shipped bike: an invented trail bike of a mountain rescue team, rider with medical pack.
#[pyfunction]
pub(crate) fn demo(py: Python<'_>) -> PyResult<Bike> {
    Bike::from_toml(py, wheelrate::demo::PATROL)
}

/// The file of the shipped bike.
#[pyfunction]
pub(crate) fn demo_file() -> &'static str {
    wheelrate::demo::PATROL
}
