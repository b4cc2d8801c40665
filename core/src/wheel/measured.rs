//! What a measured table leaves uncertain at the wheel.
//!
//! `F_w = F(s(z))·MR(z)` as for any rear end, with `s(z)` the smooth curve through the readings. Force and rate carry the
//! uncertainty of the table, to first order in it: `u(F_w) = F·u(MR)` and
//! `u(k_w)² = (2·k·MR·u(MR))² + (F·u(dMR/dz))²`, the two taken as independent.

use super::{RearEnd, Wheel};
use crate::error::Result;
use crate::units::{Force, Length, Quantity, Uncertain, WheelRate};

impl RearEnd {
    /// Wheel force and wheel rate at one travel with the standard uncertainty that the measured table gives them; `None`
    /// for an end known by its drawing.
    ///
    /// # Errors
    /// As [`Wheel::at`].
    pub fn uncertain(&self, travel: Length) -> Result<Option<(Uncertain<Force>, Uncertain<WheelRate>)>> {
        let state = self.at(travel)?;
        let Some(table) = self.measured() else { return Ok(None) };
        let point = table.at(travel)?;
        let (force, rate) = (state.axial_force.si(), state.axial_rate.si());
        let of_ratio = point.motion_ratio.standard_uncertainty.si();
        let of_slope = point.motion_ratio_slope.standard_uncertainty.si();
        let spread = (2.0 * rate * state.motion_ratio.si() * of_ratio).hypot(force * of_slope);
        Ok(Some((
            Uncertain { value: state.wheel_force, standard_uncertainty: Force::from_si((force * of_ratio).abs()) },
            Uncertain { value: state.wheel_rate, standard_uncertainty: WheelRate::from_si(spread) },
        )))
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::linkage::MeasuredLinkage;
    use crate::wheel::Tunable;

    fn ends() -> (RearEnd, RearEnd) {
        let known = crate::Bike::from_toml(crate::demo::PATROL).unwrap().rear().unwrap().clone();
        let linkage = known.linkage().unwrap().clone();
        let readings: Vec<(Length, Length)> = linkage
            .travels(31)
            .into_iter()
            .map(|travel| (travel, linkage.shock_length() - linkage.at(travel).unwrap().stroke))
            .collect();
        let error = Length::from_si(1e-5);
        let table =
            MeasuredLinkage::new(&readings, error, error, linkage.shock_length(), linkage.full_stroke()).unwrap();
        let end = RearEnd::from_table(table, known.shock().clone()).unwrap();
        (known, end)
    }

    #[test]
    fn a_good_table_gives_the_wheel_rate_of_the_linkage_within_its_uncertainty() {
        let (known, measured) = ends();
        for travel in [20.0, 102.0, 250.0].map(|mm| Length::from_si(mm / 1000.0)) {
            let truth = known.at(travel).unwrap();
            let (force, rate) = measured.uncertain(travel).unwrap().unwrap();
            assert!((force.value - truth.wheel_force).si().abs() < 4.0 * force.standard_uncertainty.si(), "{force:?}");
            assert!((rate.value.si() - truth.wheel_rate.si()).abs() < 4.0 * rate.standard_uncertainty.si(), "{rate:?}");
            assert!(rate.standard_uncertainty.si() < 0.05 * rate.value.si(), "{rate:?}");
        }
        assert_eq!(known.uncertain(Length::from_si(0.1)).unwrap(), None);
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
        let readings = measured.measured().unwrap().readings().to_vec();
        let error = Length::from_si(1e-4);
        let shorter = Length::from_si(0.1);
        let other = MeasuredLinkage::new(&readings, error, error, measured.shock().length(), shorter).unwrap();
        let fault = RearEnd::from_table(other, measured.shock().clone()).unwrap_err();
        let crate::Error::Wheel(crate::error::WheelError::OtherShock { found, wanted }) = fault else {
            panic!("{fault}")
        };
        assert!(found.ends_with("stroke 118 mm") && wanted.ends_with("stroke 100 mm"), "{found}; {wanted}");
    }
}
