//! The chain over travel.

use pyo3::prelude::*;
use wheelrate::units::{Angle, Length};
use wheelrate::wheel::{self, Wheel as _};

use super::RearEnd;
use crate::errors::run;
use crate::linkage::EVEN_TRAVELS;
use crate::units::{Given, GivenArray, Out, OutArray, read_optional};
use crate::value::{result_class, rows};

result_class! {
    /// The chain over travel, as arrays of one length.
    ChainRun(wheel::ChainRun) {
        /// Wheel travel from full extension, vertical.
        travel: OutArray<Length> = |run| OutArray(run.points.iter().map(|at| at.travel).collect());
        /// How much longer the loop of the chain is than at full extension.
        growth: OutArray<Length> = |run| OutArray(run.points.iter().map(|at| at.growth).collect());
        /// Length to spare.
        slack: OutArray<Length> = |run| OutArray(run.points.iter().map(|at| at.slack).collect());
        /// Movement of the middle of the lower run, up and down together.
        play: OutArray<Length> = |run| OutArray(run.points.iter().map(|at| at.play).collect());
        /// How far the wheel has turned forward against the frame since full extension, engine held and upper run taut.
        wheel_turn: OutArray<Angle> = |run| OutArray(run.points.iter().map(|at| at.wheel_turn).collect());
        /// Travel at which the chain is tightest.
        tightest_travel: Out<Length> = |run| Out(run.tightest_travel());
        /// Growth of the chain from full extension to where it is tightest.
        tightest_growth: Out<Length> = |run| Out(run.tightest_growth());
        /// Play to set at full extension, so that the play asked for is left where the chain is tightest.
        extended_play: Out<Length> = |run| Out(run.extended_play);
    }
}

rows! { ChainRun: travel, growth, slack, play, wheel_turn }

#[pymethods]
impl RearEnd {
    /// The chain over travel: growth, slack, play, and how it turns the wheel.
    ///
    /// Parameters
    /// ----------
    /// travels : array of length, optional
    ///     From full extension; evenly over the whole range unless given.
    /// play : length, optional
    ///     Movement of the middle of the lower run, up and down together, where the chain is tightest; none unless given.
    ///
    /// Returns
    /// -------
    /// ChainRun
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> chain = wr.demo().rear.chain(play="15 mm")
    /// >>> print(chain.tightest_travel.round(0), chain.extended_play.round(0))
    /// 138.0 millimeter 77.0 millimeter
    #[pyo3(signature = (travels=None, *, play=None))]
    fn chain(
        &self,
        py: Python<'_>,
        travels: Option<GivenArray<'_, Length>>,
        play: Option<Given<'_, Length>>,
    ) -> PyResult<ChainRun> {
        let travels = travels.map(|travels| travels.read("travels")).transpose()?;
        let travels = travels.unwrap_or_else(|| self.0.travels(EVEN_TRAVELS));
        let play = read_optional(play, "play")?.unwrap_or_default();
        run(py, || self.0.chain(&travels, play)).map(ChainRun)
    }
}
