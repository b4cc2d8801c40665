//! Springs that can be bought.

use pyo3::prelude::*;
use wheelrate::record;
use wheelrate::units::SpringRate;

use crate::units::{GivenArray, OutArray};
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
