//! Who rides a bike that is not one person's.

use pyo3::prelude::*;
use wheelrate::record;
use wheelrate::units::{Mass, Share};

use crate::errors::run;
use crate::plain::text;
use crate::uncertain::{Uncertain, read_uncertain};
use crate::units::{Given, Out};
use crate::value::{getters, value_class};

value_class! {
    /// Riders of one bike: their masses, the share of each on the front wheel, and what is on the bike with them.
    ///
    /// Parameters
    /// ----------
    /// mean, deviation : quantity, optional
    ///     Mean mass with kit, and its standard deviation from rider to rider.
    /// each : list of (quantity, float), optional
    ///     In their place: riders one by one, each with how often it rides beside the others.
    /// on_front : Uncertain or pair of share, optional
    ///     Share of a rider's mass on the front wheel, ``("32 %", "3 %")``, its uncertainty from rider to rider; that of the mass
    ///     they stand for, or what is usual, unless given.
    /// stands_for : str, optional
    ///     The mass of the loads in whose place they stand.
    /// loads : list of (str, float), optional
    ///     Loads that are ridden, the rider in each, and how often; that of the rider sag unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> riders = wr.Riders("92 kg", "10 kg", loads=[("bike + rider", 4), ("bike + rider + stretcher", 1)])
    /// >>> rear = wr.demo().with_riders(riders).study("rear").advise_riders()
    /// >>> rear.springs[0].own.share.value > rear.springs[0].common.share.value
    /// True
    Riders(record::Riders)
}

getters! {
    Riders {
        /// Mean mass, where riders are normally distributed.
        mean: Option<Out<Mass>> = |riders| normal(riders).map(|(mean, _)| Out(mean));
        /// Standard deviation of that mass.
        deviation: Option<Out<Mass>> = |riders| normal(riders).map(|(_, deviation)| Out(deviation));
        /// Riders one by one with how often each rides; empty where they are normally distributed.
        each: Vec<(Out<Mass>, f64)> = |riders| match riders.0.masses() {
            record::RiderMasses::Each(each) => each.iter().map(|(mass, weight)| (Out(*mass), *weight)).collect(),
            _ => Vec::new(),
        };
        /// The mass of the loads in whose place they stand.
        stands_for: &str = |riders| riders.0.stands_for();
        /// The loads that are ridden and how often; empty where nothing was said.
        loads: Vec<(String, f64)> = |riders| {
            riders.0.loads().iter().map(|(load, weight)| (load.to_string(), *weight)).collect()
        };
    }
}

fn normal(riders: &Riders) -> Option<(Mass, Mass)> {
    match riders.0.masses() {
        record::RiderMasses::Normal { mean, deviation } => Some((*mean, *deviation)),
        _ => None,
    }
}

#[pymethods]
impl Riders {
    #[new]
    #[pyo3(signature = (
        mean=None, deviation=None, *, each: "list[tuple[wheelrate.typing.QuantityLike, float]] | None"=None,
        on_front: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None"=None,
        stands_for: "str"="rider", loads: "list[tuple[str, float]]"=Vec::new()
    ))]
    fn new(
        py: Python<'_>,
        mean: Option<Given<'_, Mass>>,
        deviation: Option<Given<'_, Mass>>,
        each: Option<Vec<(Given<'_, Mass>, f64)>>,
        on_front: Option<&Bound<'_, PyAny>>,
        #[pyo3(from_py_with = text)] stands_for: &str,
        loads: Vec<(String, f64)>,
    ) -> PyResult<Self> {
        let riders = match (mean, deviation, each) {
            (Some(mean), Some(deviation), None) => {
                let (mean, deviation) = (mean.read("mean")?, deviation.read("deviation")?);
                run(py, || record::Riders::normal(mean, deviation))?
            }
            (None, None, Some(each)) => {
                let row = |(at, (mass, weight)): (usize, (Given<'_, Mass>, f64))| {
                    Ok((mass.read(&format!("each[{at}]"))?, weight))
                };
                let each = each.into_iter().enumerate().map(row).collect::<PyResult<Vec<_>>>()?;
                run(py, || record::Riders::each(each))?
            }
            _ => {
                let wanted = "wanted `mean` and `deviation`, or `each` in their place";
                return Err(pyo3::exceptions::PyTypeError::new_err(wanted));
            }
        };
        let on_front = on_front.map(|share| read_uncertain::<Share>(share, "on_front")).transpose()?;
        let load = |(load, weight): (String, f64)| Ok((super::load(py, &load)?, weight));
        let loads = loads.into_iter().map(load).collect::<PyResult<Vec<_>>>()?;
        run(py, || {
            let riders = riders.standing_for(stands_for).with_loads(loads)?;
            on_front.map_or_else(|| Ok(riders.clone()), |share| riders.clone().with_on_front(share))
        })
        .map(Self)
    }
    /// Share of a rider's mass on the front wheel with its standard deviation from rider to rider, where stated.
    #[getter]
    fn on_front(&self) -> Option<Uncertain> {
        self.0.on_front().map(Into::into)
    }
}
