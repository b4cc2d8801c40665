//! The same bike under other loads.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use wheelrate::record;

use super::targets::Targets;
use super::{by_end, named_ends};
use crate::plain::Text;
use crate::value::{Named, getters, value_class};

value_class! {
    /// The same bike under another load: with a pack, with a passenger.
    ///
    /// Parameters
    /// ----------
    /// name : str
    ///     What it is called.
    /// load : str
    ///     Masses added up, the rider included: ``"bike + rider + pack"``.
    /// targets : dict of str to Targets, optional
    ///     By end, the sags that are wanted under this load, where they differ from those of the bike.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> targets = wr.Targets(rider_sag=wr.SagTarget(range=("95 mm", "103 mm")))
    /// >>> light = wr.Scenario("without kit", "bike + rider", targets={"rear": targets})
    /// >>> bike = wr.demo().with_scenarios([light])
    /// >>> [scenario.name for scenario in bike.scenarios]
    /// ['without kit']
    Scenario(record::Scenario)
}

getters! {
    Scenario {
        /// What it is called.
        name: &str = |scenario| &scenario.0.name;
        /// What stands on the wheels.
        load: String = |scenario| scenario.0.load.to_string();
        /// The sags that are wanted under it at each end; of a sag that is None, what the bike wants.
        targets: Named<Targets> = |scenario| named_ends(scenario.0.targets.map(|targets| Some(Targets(targets))));
    }
}

#[pymethods]
impl Scenario {
    #[new]
    #[pyo3(signature = (name, load, *, targets: "dict[str, Targets] | None" = None))]
    fn new(py: Python<'_>, name: Text, load: Text, targets: Option<Bound<'_, PyDict>>) -> PyResult<Self> {
        let scenario = record::Scenario::new(name.0, super::load(py, &load)?);
        let targets = by_end::<Targets>(targets)?.map(|targets| targets.map_or_else(Default::default, |known| known.0));
        Ok(Self(record::Scenario { targets, ..scenario }))
    }
}
