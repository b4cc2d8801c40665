//! Springs that can be bought, and what actions cost.

use pyo3::prelude::*;
use wheelrate::record;
use wheelrate::units::{Share, SpringRate};

use crate::errors::run;
use crate::units::{Given, GivenArray, Out, OutArray, read_optional};
use crate::value::{getters, value_class};

value_class! {
    /// The spring rates on sale for each end, sorted, without repeats.
    ///
    /// Parameters
    /// ----------
    /// front : array of spring rate, optional
    ///     Of one fork spring.
    /// rear : array of spring rate, optional
    ///     Of the shock spring.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> print(wr.OnSale(rear=([54, 50, 52], "N/mm")).rear)
    /// [50.0 52.0 54.0] newton / millimeter
    OnSale(record::OnSale)
}

getters! {
    OnSale {
        /// Of one fork spring.
        front: OutArray<SpringRate> = |on_sale| OutArray(on_sale.0.front.clone());
        /// Of the shock spring.
        rear: OutArray<SpringRate> = |on_sale| OutArray(on_sale.0.rear.clone());
    }
}

#[pymethods]
impl OnSale {
    #[new]
    #[pyo3(signature = (*, front=None, rear=None))]
    fn new(front: Option<GivenArray<'_, SpringRate>>, rear: Option<GivenArray<'_, SpringRate>>) -> PyResult<Self> {
        let read = |given: Option<GivenArray<'_, SpringRate>>, name: &str| {
            given.map_or(Ok(Vec::new()), |given| given.read(name))
        };
        Ok(Self(record::OnSale::new(read(front, "front")?, read(rear, "rear")?)))
    }
}

value_class! {
    /// What actions cost, as chance that both sags land: whoever has the spring on the shelf says less.
    ///
    /// Parameters
    /// ----------
    /// collar : share, optional
    ///     Turning the collar; 2 % unless given.
    /// spring : share, optional
    ///     Buying and fitting another spring; 10 % unless given.
    /// measuring : share, optional
    ///     An evening of measuring; 5 % unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.Bike("shed", rear=wr.demo().rear, prices=wr.Prices(spring="1 %"))
    /// >>> print(bike.prices.spring, bike.prices.collar)
    /// 1.0 percent 2.0 percent
    Prices(record::Prices)
}

getters! {
    Prices {
        /// Turning the collar.
        collar: Out<Share> = |prices| Out(prices.0.collar);
        /// Buying and fitting another spring.
        spring: Out<Share> = |prices| Out(prices.0.spring);
        /// An evening of measuring.
        measuring: Out<Share> = |prices| Out(prices.0.measuring);
    }
}

#[pymethods]
impl Prices {
    #[new]
    #[pyo3(signature = (*, collar=None, spring=None, measuring=None))]
    fn new(
        py: Python<'_>,
        collar: Option<Given<'_, Share>>,
        spring: Option<Given<'_, Share>>,
        measuring: Option<Given<'_, Share>>,
    ) -> PyResult<Self> {
        let usual = record::Prices::default();
        let collar = read_optional(collar, "collar")?.unwrap_or(usual.collar);
        let spring = read_optional(spring, "spring")?.unwrap_or(usual.spring);
        let measuring = read_optional(measuring, "measuring")?.unwrap_or(usual.measuring);
        run(py, || record::Prices { collar, spring, measuring }.checked()).map(Self)
    }
}
