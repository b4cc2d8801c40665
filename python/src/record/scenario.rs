//! The same bike under other loads.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use wheelrate::record::{self, Direction, Range, SagTarget, Targets};
use wheelrate::units::{Length, to_text};

use crate::errors::run;
use crate::record::End;
use crate::units::{Given, Out};
use crate::value::{Named, core_class, getters};

/// The same bike under another load: with a pack, with a passenger.
///
/// Parameters
/// ----------
/// name : str
///     What it is called.
/// load : str
///     Masses added up, the rider included: ``"bike + rider + pack"``.
/// rider_sag, free_sag : dict of str to pair of lengths, optional
///     Least and most of the sag that is wanted under this load, by end, where it differs from that of the bike; along the
///     fork in front and vertical at the rear.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> light = wr.Scenario("without kit", "bike + rider", rider_sag={"rear": ("95 mm", "103 mm")})
/// >>> bike = wr.demo().with_scenarios([light])
/// >>> [scenario.name for scenario in bike.scenarios]
/// ['without kit']
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct Scenario(pub(crate) record::Scenario);

type Lengths = (Out<Length>, Out<Length>);

impl Scenario {
    fn wanted(&self, sag: fn(&Targets) -> Option<SagTarget>) -> Vec<(&'static str, Range)> {
        let at = |end: record::End| Some((end.name(), sag(self.0.targets.at(end))?.range));
        record::End::BOTH.into_iter().filter_map(at).collect()
    }
    fn pairs(&self, sag: fn(&Targets) -> Option<SagTarget>) -> Named<Lengths> {
        let pair = |(end, range): (&str, Range)| (end.to_owned(), (Out(range.from), Out(range.to)));
        Named(self.wanted(sag).into_iter().map(pair).collect())
    }
    fn texts(&self, sag: fn(&Targets) -> Option<SagTarget>) -> Vec<(&'static str, (String, String))> {
        self.wanted(sag).into_iter().map(|(end, range)| (end, (to_text(range.from), to_text(range.to)))).collect()
    }
}

/// Targets by end from a dict of pairs.
fn targets(py: Python<'_>, given: Option<Bound<'_, PyDict>>, what: &str) -> PyResult<Vec<(record::End, SagTarget)>> {
    let mut found = Vec::new();
    for (end, pair) in given.iter().flatten() {
        let end = end.extract::<End>()?.0;
        let (from, to) = pair.extract::<(Given<'_, Length>, Given<'_, Length>)>()?;
        let argument = |bound: usize| format!("{what}[\"{end}\"][{bound}]");
        let (from, to) = (from.read(&argument(0))?, to.read(&argument(1))?);
        let direction = match end {
            record::End::Front => Direction::AlongFork,
            record::End::Rear => Direction::Vertical,
        };
        let target = run(py, || {
            let range = Range::new(from, to)?;
            SagTarget::new(range.middle(), range, direction)
        });
        found.push((end, target?));
    }
    Ok(found)
}

getters! {
    Scenario {
        /// What it is called.
        name: &str = |scenario| &scenario.0.name;
        /// What stands on the wheels.
        load: String = |scenario| scenario.0.load.to_string();
        /// Least and most of the rider sag wanted under it, by end, where it has its own.
        rider_sag: Named<Lengths> = |scenario| scenario.pairs(|targets| targets.rider_sag);
        /// Least and most of the free sag wanted under it, by end, where it has its own.
        free_sag: Named<Lengths> = |scenario| scenario.pairs(|targets| targets.free_sag);
    }
}

core_class!(Scenario(record::Scenario));

#[pymethods]
impl Scenario {
    #[new]
    #[pyo3(signature = (
        name, load, *,
        rider_sag: "dict[str, tuple[QuantityLike, QuantityLike]] | None" = None,
        free_sag: "dict[str, tuple[QuantityLike, QuantityLike]] | None" = None
    ))]
    fn new(
        py: Python<'_>,
        name: String,
        load: &str,
        rider_sag: Option<Bound<'_, PyDict>>,
        free_sag: Option<Bound<'_, PyDict>>,
    ) -> PyResult<Self> {
        let mut scenario = record::Scenario::new(name, crate::record::load(py, load)?);
        for (end, target) in targets(py, rider_sag, "rider_sag")? {
            let all = Targets { rider_sag: Some(target), ..*scenario.targets.at(end) };
            scenario.targets = scenario.targets.with(end, all);
        }
        for (end, target) in targets(py, free_sag, "free_sag")? {
            let all = Targets { free_sag: Some(target), ..*scenario.targets.at(end) };
            scenario.targets = scenario.targets.with(end, all);
        }
        Ok(Self(scenario))
    }
    fn __repr__(&self) -> String {
        let wanted = |what: &str, pairs: Vec<(&'static str, (String, String))>| {
            let pairs: Vec<String> =
                pairs.into_iter().map(|(end, (from, to))| format!("'{end}': ('{from}', '{to}')")).collect();
            if pairs.is_empty() { String::new() } else { format!(", {what}={{{}}}", pairs.join(", ")) }
        };
        let rider = wanted("rider_sag", self.texts(|targets| targets.rider_sag));
        let free = wanted("free_sag", self.texts(|targets| targets.free_sag));
        format!("Scenario('{}', '{}'{rider}{free})", self.name(), self.load())
    }
}
