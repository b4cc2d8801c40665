//! A rear end whose linkage is known from a measured table.
//!
//! `F_w = F(s(z))·MR(z)` as for any rear end, with `s(z)` the smooth curve through the readings. Force and rate carry the
//! uncertainty of the table, to first order in it: `u(F_w) = F·u(MR)` and
//! `u(k_w)² = (2·k·MR·u(MR))² + (F·u(dMR/dz))²`, the two taken as independent. Where the axle is in the frame is not known.

use super::{AxlePoint, EndKernel, Motion, Settling, Tunable, Wheel, WheelState, axle_at, settle, state_at};
use crate::axial::{Axial, AxialElement};
use crate::error::{Result, WheelError};
use crate::linkage::MeasuredLinkage;
use crate::shock::Shock;
use crate::spring::MainSpring;
use crate::units::{Force, Length, Quantity, SpringRate, Uncertain, WheelRate, to_text};

/// A measured linkage and its shock as the rear wheel feels them.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredEnd {
    linkage: MeasuredLinkage,
    shock: Shock,
}

impl MeasuredEnd {
    /// A measured linkage and the shock that it was made for.
    ///
    /// # Errors
    /// [`WheelError::OtherShock`] when the lengths or strokes differ.
    pub fn new(linkage: MeasuredLinkage, shock: Shock) -> Result<Self> {
        let (made_for, found) = ([linkage.shock_length(), linkage.full_stroke()], [shock.length(), shock.stroke()]);
        if made_for == found {
            return Ok(Self { linkage, shock });
        }
        let text = |[length, stroke]: [Length; 2]| format!("length {}, stroke {}", to_text(length), to_text(stroke));
        Err(WheelError::OtherShock { found: text(found), wanted: text(made_for) }.into())
    }

    /// The linkage.
    #[must_use]
    pub fn linkage(&self) -> &MeasuredLinkage {
        &self.linkage
    }

    /// The shock.
    #[must_use]
    pub fn shock(&self) -> &Shock {
        &self.shock
    }

    /// Wheel force and wheel rate at one travel with the standard uncertainty that the table gives them.
    ///
    /// # Errors
    /// As [`Wheel::at`].
    pub fn uncertain(&self, travel: Length) -> Result<(Uncertain<Force>, Uncertain<WheelRate>)> {
        let state = self.at(travel)?;
        let point = self.linkage.at(travel)?;
        let (force, rate) = (state.axial_force.si(), state.axial_rate.si());
        let of_ratio = point.motion_ratio.standard_uncertainty.si();
        let of_slope = point.motion_ratio_slope.standard_uncertainty.si();
        let spread = (2.0 * rate * state.motion_ratio.si() * of_ratio).hypot(force * of_slope);
        Ok((
            Uncertain { value: state.force, standard_uncertainty: Force::from_si((force * of_ratio).abs()) },
            Uncertain { value: state.rate, standard_uncertainty: WheelRate::from_si(spread) },
        ))
    }
}

impl EndKernel for MeasuredEnd {
    fn full(&self) -> f64 {
        self.linkage.full_travel().si()
    }

    fn motion(&self, travel: f64) -> Motion {
        let [stroke, ratio, slope] = self.linkage.kernel(travel);
        Motion { stroke, ratio, slope }
    }

    fn axle_point(&self, _travel: f64) -> Option<AxlePoint> {
        None
    }

    fn spring_part(&self, x: f64) -> Axial {
        self.shock.spring_part(x)
    }

    fn rest_part(&self, stroke: f64) -> Axial {
        self.shock.rest_part(stroke)
    }

    fn jumps(&self) -> Vec<f64> {
        let strokes = self.shock.kinks().into_iter().map(Quantity::si);
        strokes.map(|stroke| settle::travel_at_stroke(self, stroke)).collect()
    }
}

impl Wheel for MeasuredEnd {
    fn full_travel(&self) -> Length {
        self.linkage.full_travel()
    }

    fn at(&self, travel: Length) -> Result<WheelState> {
        state_at(self, travel)
    }

    fn kinks(&self) -> Vec<Length> {
        self.jumps().into_iter().map(Length::from_si).collect()
    }

    fn travel_under(&self, load: Force) -> Result<Settling> {
        settle::settle(self, load)
    }

    fn axle(&self, travel: Length) -> Result<[Length; 2]> {
        axle_at(self, travel)
    }

    fn main_spring(&self) -> Option<MainSpring> {
        self.shock.main_spring()
    }
}

impl Tunable for MeasuredEnd {
    fn with_spring_change(&self, rate_factor: f64, preload_change: Length) -> Result<Self> {
        Self::new(self.linkage.clone(), self.shock.with_spring_change(rate_factor, preload_change)?)
    }

    fn with_spring_rate(&self, rate: SpringRate, preload: Length) -> Result<Self> {
        Self::new(self.linkage.clone(), self.shock.with_spring_rate(rate, preload)?)
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::wheel::RearEnd;

    fn ends() -> (RearEnd, MeasuredEnd) {
        let known = crate::Bike::from_toml(crate::demo::PATROL).unwrap().rear().unwrap().clone();
        let linkage = known.linkage();
        let readings: Vec<(Length, Length)> = linkage
            .travels(31)
            .into_iter()
            .map(|travel| (travel, linkage.shock_length() - linkage.at(travel).unwrap().stroke))
            .collect();
        let error = Length::from_si(1e-5);
        let table =
            MeasuredLinkage::new(&readings, error, error, linkage.shock_length(), linkage.full_stroke()).unwrap();
        let end = MeasuredEnd::new(table, known.shock().clone()).unwrap();
        (known, end)
    }

    #[test]
    fn a_good_table_gives_the_wheel_rate_of_the_linkage_within_its_uncertainty() {
        let (known, measured) = ends();
        for travel in [20.0, 102.0, 250.0].map(|mm| Length::from_si(mm / 1000.0)) {
            let truth = known.at(travel).unwrap();
            let (force, rate) = measured.uncertain(travel).unwrap();
            assert!((force.value - truth.force).si().abs() < 4.0 * force.standard_uncertainty.si(), "{force:?}");
            assert!((rate.value.si() - truth.rate.si()).abs() < 4.0 * rate.standard_uncertainty.si(), "{rate:?}");
            assert!(rate.standard_uncertainty.si() < 0.05 * rate.value.si(), "{rate:?}");
        }
        let load = Force::from_si(1100.0);
        let sag = |end: &dyn Wheel| end.travel_under(load).unwrap().state().unwrap().travel.si();
        assert!((sag(&known) - sag(&measured)).abs() < 5e-4);
    }

    #[test]
    fn the_axle_is_not_known_and_another_shock_is_refused() {
        let (_, measured) = ends();
        assert!(measured.axle(Length::from_si(0.1)).unwrap_err().to_string().contains("axle"));
        let rate = measured.main_spring().unwrap();
        let stiffer = measured.with_spring_change(1.1, Length::from_si(0.0)).unwrap();
        assert!((stiffer.main_spring().unwrap().rate / rate.rate - 1.1).abs() < 1e-12);
        let readings = measured.linkage().readings().to_vec();
        let error = Length::from_si(1e-4);
        let shorter = Length::from_si(0.1);
        let other = MeasuredLinkage::new(&readings, error, error, measured.shock().length(), shorter).unwrap();
        assert!(MeasuredEnd::new(other, measured.shock().clone()).is_err());
    }
}
