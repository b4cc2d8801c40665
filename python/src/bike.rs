//! The bike: both ends, masses, readings, targets.

pub(crate) mod braking;
pub(crate) mod correction;
pub(crate) mod descent;
pub(crate) mod effect;
mod fork_friction;
mod inertia;
pub(crate) mod landing;
pub(crate) mod moving;
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
use crate::plain::Text;
use crate::record::change::Change;
use crate::record::measuring::{Measuring, SpringPrior};
use crate::record::on_sale::{OnSale, Prices};
use crate::record::practice::CommonPractice;
use crate::record::riders::Riders;
use crate::record::scenario::Scenario;
use crate::record::targets::Targets;
use crate::record::usual::OwnUsual;
use crate::record::{Reading, Wheels, by_end, named_ends};
use crate::units::{GivenArray, OutArray};
use crate::value::{Named, getters};
use crate::wheel::{FrontEnd, RearEnd};

/// A bike: both ends, masses, readings, targets. Any part may be missing; an answer that needs one says so.
/// What is asked of every end (`fit`, `advise`) is an empty dict for a bike without ends.
///
/// Most bikes come from a file (`load`) or a dict of the same keys (`from_dict`).
///
/// Parameters
/// ----------
/// name : str
///     What it is called.
/// kind : str, optional
///     What kind of bike it is: motocross, trail, road, track or any. What is not stated is taken as usual of the kind;
///     by its discipline or its travel unless given.
/// usual : OwnUsual, optional
///     Figures of your own for what is not stated, in place of what is usual.
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
///     By end, how the readings are taken: vertically at the rear unless given; at the front along the fork, which is then assumed.
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
/// riders : Riders, optional
///     Who rides it, where it is more than one person.
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
        rider_load: String = |bike| bike.0.parts().rider_load.to_string();
        /// What actions cost.
        prices: Prices = |bike| Prices(bike.0.parts().prices);
        /// Springs that can be bought.
        on_sale: OnSale = |bike| OnSale(bike.0.parts().on_sale.clone());
        /// What it is called.
        name: &str = |bike| &bike.0.parts().name;
        /// What kind of bike it is, where stated.
        kind: Option<&str> = |bike| bike.0.parts().kind.as_deref();
        /// Figures of one's own for what is not stated.
        usual: OwnUsual = |bike| OwnUsual(bike.0.parts().usual);
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
        /// Who rides it, where it is more than one person.
        riders: Option<Riders> = |bike| bike.0.parts().riders.clone().map(Riders);
    }
}

#[pymethods]
impl Bike {
    #[new]
    #[pyo3(signature = (
        name, *, kind=None, usual=None, masses=None, front=None, rear=None, wheels=None,
        frame_points: "dict[str, wheelrate.typing.ArrayLike] | None"=None, prior: "dict[str, SpringPrior] | None"=None,
        measuring: "dict[str, Measuring] | None"=None, targets: "dict[str, Targets] | None"=None, discipline=None,
        practice=None, rider_load: "str | None"=None, scenarios=Vec::new(), riders=None, on_sale=None, prices=None, readings=Vec::new(), changes=Vec::new()
    ))]
    #[allow(clippy::too_many_arguments, reason = "the parts of a bike")]
    fn new(
        py: Python<'_>,
        name: Text,
        kind: Option<Text>,
        usual: Option<OwnUsual>,
        masses: Option<Masses>,
        front: Option<FrontEnd>,
        rear: Option<RearEnd>,
        wheels: Option<Wheels>,
        frame_points: Option<Bound<'_, PyDict>>,
        prior: Option<Bound<'_, PyDict>>,
        measuring: Option<Bound<'_, PyDict>>,
        targets: Option<Bound<'_, PyDict>>,
        discipline: Option<Text>,
        practice: Option<CommonPractice>,
        rider_load: Option<Text>,
        scenarios: Vec<Scenario>,
        riders: Option<Riders>,
        on_sale: Option<OnSale>,
        prices: Option<Prices>,
        readings: Vec<Reading>,
        changes: Vec<Change>,
    ) -> PyResult<Self> {
        let point = |(name, given): (Bound<'_, PyAny>, Bound<'_, PyAny>)| {
            let Text(name) = name.extract()?;
            let argument = format!("frame_points[{name:?}]");
            let at = pair(py, given.extract::<GivenArray<'_, Length>>()?.read(&argument)?, &argument)?;
            Ok((name, at))
        };
        let frame_points = frame_points.iter().flatten().map(point).collect::<PyResult<_>>()?;
        let unsaid = BikeParts::default();
        let parts = BikeParts {
            kind: kind.map(|text| text.0),
            usual: usual.map_or_else(Default::default, |usual| usual.0),
            frame_points,
            prior: by_end::<SpringPrior>(prior)?.map(|prior| prior.map_or_else(Default::default, |prior| prior.0)),
            measuring: by_end::<Measuring>(measuring)?.map(|measuring| measuring.map(|measuring| measuring.0)),
            targets: by_end::<Targets>(targets)?
                .map(|targets| targets.map_or_else(Default::default, |targets| targets.0)),
            discipline: discipline.map(|text| text.0),
            practice: practice.map(|practice| practice.0),
            rider_load: rider_load
                .as_deref()
                .map_or(Ok(unsaid.rider_load.clone()), |load| crate::record::load(py, load))?,
            scenarios: scenarios.into_iter().map(|scenario| scenario.0).collect(),
            riders: riders.map(|riders| riders.0),
            on_sale: on_sale.map_or_else(Default::default, |on_sale| on_sale.0),
            prices: prices.map_or_else(Default::default, |prices| prices.0),
            changes: changes.into_iter().map(|change| change.0).collect(),
            name: name.0,
            masses: masses.map(|masses| masses.0),
            front: front.map(|front| front.0),
            rear: rear.map(|rear| rear.0),
            wheels: wheels.map(|wheels| wheels.0),
            readings: readings.into_iter().map(|reading| reading.0).collect(),
            ..unsaid
        };
        let with_log = |bike: bike::Bike| bike.log().map(|_| bike);
        run(py, || bike::Bike::new(parts).and_then(with_log)).map(Self)
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
        run(py, || self.0.wheels().cloned()).map(Wheels)
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
    /// The same bike with these riders in place of its own; None for one person alone.
    ///
    /// Parameters
    /// ----------
    /// riders : Riders or None
    ///     Who rides it.
    fn with_riders(&self, py: Python<'_>, riders: Option<Riders>) -> PyResult<Self> {
        run(py, || self.0.with(|parts| parts.riders = riders.map(|riders| riders.0))).map(Self)
    }
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (String,))> {
        Ok((py.get_type::<Self>().getattr("from_json")?, (self.0.to_json(),)))
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.0)
    }
    fn __repr__(&self) -> String {
        let (ends, readings) = (self.ends(), self.0.parts().readings.len());
        let ends = if ends.is_empty() { String::from("no end") } else { ends.join(" and ") };
        format!("Bike({:?}: {ends}, {readings} reading{})", self.name(), if readings == 1 { "" } else { "s" })
    }
}

/// The shipped bike: an invented trail bike of a mountain rescue team, rider with medical pack.
#[pyfunction]
pub(crate) fn demo(py: Python<'_>) -> PyResult<Bike> {
    run(py, || wheelrate::Bike::from_toml(wheelrate::demo::PATROL)).map(Bike)
}

/// The file of the shipped bike.
#[pyfunction]
pub(crate) fn demo_file() -> &'static str {
    wheelrate::demo::PATROL
}
