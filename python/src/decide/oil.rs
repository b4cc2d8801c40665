//! The oil level that goes with what is advised.

use pyo3::prelude::*;
use wheelrate::decide;
use wheelrate::units::{Force, Length};

use crate::decide::advice::Decision;
use crate::units::Out;
use crate::value::result_class;

result_class! {
    /// The oil level of a fork that goes with what is advised.
    OilLevel(decide::OilLevel) {
        /// Of the first leg with air, spring out, fully compressed.
        level: Out<Length> = |oil| Out(oil.level);
        /// Change of the level of each leg; above zero, more air.
        change: Out<Length> = |oil| Out(oil.change);
        /// Force of the fork at full travel that is aimed at: as stated among the targets, else today's.
        force: Out<Force> = |oil| Out(oil.force);
        /// The force with this level: that aimed at, or what comes nearest to one that no level gives.
        reached: Out<Force> = |oil| Out(oil.reached);
        /// Is it stated among the targets?
        stated: bool = |oil| oil.stated;
    }
}

#[pymethods]
impl Decision {
    /// The oil level that goes with what is advised at the front: for the force at full travel that is wanted, or, with another
    /// spring, for that of today; None where the oil level of today is not stated.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo().correct({"targets.front.full_travel_force": "4.3 kN"})
    /// >>> print(bike.advise_end("front").oil_level.reached.round(0))
    /// 4300.0 newton
    #[getter]
    fn oil_level(&self) -> Option<OilLevel> {
        self.advice.oil_level.map(OilLevel)
    }
}
