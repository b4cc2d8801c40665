//! Figures of one's own where a bike does not state something, in place of what is usual.

use pyo3::prelude::*;
use wheelrate::record;
use wheelrate::units::{Length, Share, SpringRate};

use crate::uncertain::{Uncertain, read_uncertain};
use crate::units::{Given, Out, read_optional};
use crate::value::{getters, value_class};

value_class! {
    /// What is taken where a bike does not state something, in place of what is usual of its kind. None of it has to be given.
    ///
    /// Parameters
    /// ----------
    /// rake : Uncertain or pair of angle, optional
    ///     Angle of the steering axis from the vertical.
    /// along_fork : share, optional
    ///     Chance that a sag at the front was read along the fork, where nobody noted along what.
    /// bike_on_front : Uncertain or pair of share, optional
    ///     Share of the bike's weight on the front wheel.
    /// rider_on_front : Uncertain or pair of share, optional
    ///     Share of the rider's weight that the front wheel takes, over all usual postures.
    /// bike_weight : share, optional
    ///     Standard uncertainty of a bike's total weight as stated (fuel, oil, what is bolted on), as a share of it.
    /// unsprung_front : Uncertain or pair of share, optional
    ///     Unsprung mass at the front, as a share of the bike's: small wheels are on light bikes.
    /// unsprung_rear : Uncertain or pair of share, optional
    ///     Unsprung mass at the rear, as a share of the bike's.
    /// wheel_front : length, optional
    ///     Radius of the front wheel that goes with that share: a larger wheel is heavier.
    /// wheel_rear : length, optional
    ///     Of the rear wheel.
    /// preload_front : Uncertain or pair of length, optional
    ///     Preload of a fork spring.
    /// preload_rear : Uncertain or pair of length, optional
    ///     Preload of a shock spring.
    /// progression : Uncertain or pair of share, optional
    ///     By how much the motion ratio rises over the travel, as a share of what it is at full extension.
    /// bend : share, optional
    ///     Standard deviation of the bends of the motion ratio about its straight line, as a share of its mean.
    /// ratio : share, optional
    ///     Standard uncertainty of the mean motion ratio that travel and stroke of a data sheet give, as a share of it.
    /// oil_level : length, optional
    ///     Oil level of a fork leg, spring out, fully compressed.
    /// sealing_diameter : length, optional
    ///     Sealing diameter of a fork leg.
    /// bore : length, optional
    ///     Bore of a fork leg.
    /// fork_air : share, optional
    ///     Standard uncertainty of the push of a fork's air, as a share of it.
    /// gas_push : Uncertain or pair of force, optional
    ///     Push of the gas of a shock on its rod, at full extension.
    /// step_front : spring rate, optional
    ///     Step from one spring to the next in a shop: of one fork spring.
    /// step_rear : spring rate, optional
    ///     Of a shock spring.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> usual = wr.OwnUsual(rake=("27 deg", "1 deg"), step_rear="2 N/mm")
    /// >>> print(usual.rake)
    /// 27.0 ± 1.0 deg
    /// >>> wr.Bike("shed", usual=usual).usual == usual
    /// True
    OwnUsual(record::OwnUsual)
}

getters! {
    OwnUsual {
        /// Angle of the steering axis from the vertical.
        rake: Option<Uncertain> = |own| own.0.rake.map(Into::into);
        /// Chance that a sag at the front was read along the fork, where nobody noted along what.
        along_fork: Option<Out<Share>> = |own| own.0.along_fork.map(Out);
        /// Share of the bike's weight on the front wheel.
        bike_on_front: Option<Uncertain> = |own| own.0.bike_on_front.map(Into::into);
        /// Share of the rider's weight that the front wheel takes, over all usual postures.
        rider_on_front: Option<Uncertain> = |own| own.0.rider_on_front.map(Into::into);
        /// Standard uncertainty of a bike's total weight as stated (fuel, oil, what is bolted on), as a share of it.
        bike_weight: Option<Out<Share>> = |own| own.0.bike_weight.map(Out);
        /// Unsprung mass at the front, as a share of the bike's: small wheels are on light bikes.
        unsprung_front: Option<Uncertain> = |own| own.0.unsprung_front.map(Into::into);
        /// Unsprung mass at the rear, as a share of the bike's.
        unsprung_rear: Option<Uncertain> = |own| own.0.unsprung_rear.map(Into::into);
        /// Radius of the front wheel that goes with that share: a larger wheel is heavier.
        wheel_front: Option<Out<Length>> = |own| own.0.wheel_front.map(Out);
        /// Of the rear wheel.
        wheel_rear: Option<Out<Length>> = |own| own.0.wheel_rear.map(Out);
        /// Preload of a fork spring.
        preload_front: Option<Uncertain> = |own| own.0.preload_front.map(Into::into);
        /// Preload of a shock spring.
        preload_rear: Option<Uncertain> = |own| own.0.preload_rear.map(Into::into);
        /// By how much the motion ratio rises over the travel, as a share of what it is at full extension.
        progression: Option<Uncertain> = |own| own.0.progression.map(Into::into);
        /// Standard deviation of the bends of the motion ratio about its straight line, as a share of its mean.
        bend: Option<Out<Share>> = |own| own.0.bend.map(Out);
        /// Standard uncertainty of the mean motion ratio that travel and stroke of a data sheet give, as a share of it.
        ratio: Option<Out<Share>> = |own| own.0.ratio.map(Out);
        /// Oil level of a fork leg, spring out, fully compressed.
        oil_level: Option<Out<Length>> = |own| own.0.oil_level.map(Out);
        /// Sealing diameter of a fork leg.
        sealing_diameter: Option<Out<Length>> = |own| own.0.sealing_diameter.map(Out);
        /// Bore of a fork leg.
        bore: Option<Out<Length>> = |own| own.0.bore.map(Out);
        /// Standard uncertainty of the push of a fork's air, as a share of it.
        fork_air: Option<Out<Share>> = |own| own.0.fork_air.map(Out);
        /// Push of the gas of a shock on its rod, at full extension.
        gas_push: Option<Uncertain> = |own| own.0.gas_push.map(Into::into);
        /// Step from one spring to the next in a shop: of one fork spring.
        step_front: Option<Out<SpringRate>> = |own| own.0.step_front.map(Out);
        /// Of a shock spring.
        step_rear: Option<Out<SpringRate>> = |own| own.0.step_rear.map(Out);
    }
}

fn given<Q: wheelrate::units::Quantity + Send>(
    given: Option<&Bound<'_, PyAny>>,
    argument: &str,
) -> PyResult<Option<wheelrate::units::Uncertain<Q>>> {
    given.map(|given| read_uncertain(given, argument)).transpose()
}

#[pymethods]
impl OwnUsual {
    #[new]
    #[pyo3(signature = (
        *, rake: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None"=None,
        along_fork=None,
        bike_on_front: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None"=None,
        rider_on_front: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None"=None,
        bike_weight=None,
        unsprung_front: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None"=None,
        unsprung_rear: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None"=None,
        wheel_front=None,
        wheel_rear=None,
        preload_front: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None"=None,
        preload_rear: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None"=None,
        progression: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None"=None,
        bend=None,
        ratio=None,
        oil_level=None,
        sealing_diameter=None,
        bore=None,
        fork_air=None,
        gas_push: "Uncertain | tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike] | None"=None,
        step_front=None,
        step_rear=None
    ))]
    #[allow(clippy::too_many_arguments, reason = "every figure that may be assumed")]
    fn new(
        rake: Option<&Bound<'_, PyAny>>,
        along_fork: Option<Given<'_, Share>>,
        bike_on_front: Option<&Bound<'_, PyAny>>,
        rider_on_front: Option<&Bound<'_, PyAny>>,
        bike_weight: Option<Given<'_, Share>>,
        unsprung_front: Option<&Bound<'_, PyAny>>,
        unsprung_rear: Option<&Bound<'_, PyAny>>,
        wheel_front: Option<Given<'_, Length>>,
        wheel_rear: Option<Given<'_, Length>>,
        preload_front: Option<&Bound<'_, PyAny>>,
        preload_rear: Option<&Bound<'_, PyAny>>,
        progression: Option<&Bound<'_, PyAny>>,
        bend: Option<Given<'_, Share>>,
        ratio: Option<Given<'_, Share>>,
        oil_level: Option<Given<'_, Length>>,
        sealing_diameter: Option<Given<'_, Length>>,
        bore: Option<Given<'_, Length>>,
        fork_air: Option<Given<'_, Share>>,
        gas_push: Option<&Bound<'_, PyAny>>,
        step_front: Option<Given<'_, SpringRate>>,
        step_rear: Option<Given<'_, SpringRate>>,
    ) -> PyResult<Self> {
        Ok(Self(record::OwnUsual {
            rake: given(rake, "rake")?,
            along_fork: read_optional(along_fork, "along_fork")?,
            bike_on_front: given(bike_on_front, "bike_on_front")?,
            rider_on_front: given(rider_on_front, "rider_on_front")?,
            bike_weight: read_optional(bike_weight, "bike_weight")?,
            unsprung_front: given(unsprung_front, "unsprung_front")?,
            unsprung_rear: given(unsprung_rear, "unsprung_rear")?,
            wheel_front: read_optional(wheel_front, "wheel_front")?,
            wheel_rear: read_optional(wheel_rear, "wheel_rear")?,
            preload_front: given(preload_front, "preload_front")?,
            preload_rear: given(preload_rear, "preload_rear")?,
            progression: given(progression, "progression")?,
            bend: read_optional(bend, "bend")?,
            ratio: read_optional(ratio, "ratio")?,
            oil_level: read_optional(oil_level, "oil_level")?,
            sealing_diameter: read_optional(sealing_diameter, "sealing_diameter")?,
            bore: read_optional(bore, "bore")?,
            fork_air: read_optional(fork_air, "fork_air")?,
            gas_push: given(gas_push, "gas_push")?,
            step_front: read_optional(step_front, "step_front")?,
            step_rear: read_optional(step_rear, "step_rear")?,
        }))
    }
}
