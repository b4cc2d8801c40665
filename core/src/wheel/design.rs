//! Which linkage to make for a shock whose springs are known: [`Linkage::design`](crate::linkage::Linkage::design) with
//! the wheel rate among the targets.

use super::RearEnd;
use crate::error::Result;
use crate::linkage::{Design, Freedom, Linkage, Target};
use crate::shock::Shock;

impl RearEnd {
    /// The dimensions inside their bounds that meet the targets best, springs and preload as they are. Put its linkage in
    /// with [`with_linkage`](Self::with_linkage).
    ///
    /// # Errors
    /// As [`Linkage::design`], a wheel rate excepted; [`crate::error::WheelError::NotDrawn`] for an end known from a
    /// table.
    pub fn design(&self, free: &[Freedom], targets: &[Target]) -> Result<Design> {
        Ok(self.linkage()?.design_with(free, targets, &|stroke| self.axial_with_slope(stroke))?)
    }

    /// The same springs, gas and stops in another linkage, the shock as long as that wants it. The caliper
    /// of the brake stays on its body where that linkage has one of the name under its axle.
    ///
    /// # Errors
    /// As [`Shock::new`]; [`crate::error::WheelError::OtherShock`] when the stroke differs.
    pub fn with_linkage(&self, linkage: Linkage) -> Result<Self> {
        let shock = self.shock();
        let shock = Shock::new(linkage.shock_length(), shock.full_stroke(), shock.parts().clone(), shock.count())?;
        let end = Self::from_parts(linkage, shock)?.with_caliper_of(self);
        Ok(match self.final_drive() {
            Some(drive) => end.with_final_drive(*drive),
            None => end,
        })
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::linkage::{Axis, Dimension};
    use crate::units::{Length, Quantity, WheelRate};
    use crate::wheel::Wheel;

    fn mm(length: f64) -> Length {
        Length::from_si(length * 1e-3)
    }

    fn within(dimension: Dimension, from: f64, to: f64) -> Freedom {
        Freedom { dimension, from: mm(from), to: mm(to) }
    }

    fn coordinate(point: &str, axis: Axis) -> Dimension {
        Dimension::Coordinate { point: point.to_owned(), axis }
    }

    fn patrol() -> RearEnd {
        crate::Bike::from_toml(crate::demo::PATROL).unwrap().rear().unwrap().clone()
    }

    fn rate_at(end: &RearEnd, travel: f64, tolerance: f64) -> Target {
        let value = end.wheel_rate(mm(travel)).unwrap();
        Target::WheelRate { travel: mm(travel), value, tolerance: WheelRate::from_si(tolerance) }
    }

    #[test]
    fn a_hidden_change_is_found_from_its_wheel_rate() {
        let end = patrol();
        let mechanism = end.linkage().unwrap().mechanism();
        let hidden = end.with_mechanism(mechanism.with_point("link_frame", [mm(-62.0), mm(-103.0)]).unwrap()).unwrap();
        let targets: Vec<Target> = [10.0, 60.0, 120.0, 180.0, 240.0].map(|z| rate_at(&hidden, z, 0.1)).to_vec();
        let free = [
            within(coordinate("link_frame", Axis::X), -76.0, -56.0),
            within(coordinate("link_frame", Axis::Z), -108.0, -88.0),
        ];
        let design = end.design(&free, &targets).unwrap();
        assert!(design.is_reached() && design.in_the_way.is_empty(), "{:?}", design.misses);
        for (changed, truth) in design.changes.iter().zip([-62.0, -103.0]) {
            assert!((changed.now - mm(truth)).si().abs() < 1e-6, "{changed:?}");
        }
    }

    #[test]
    fn a_hidden_length_of_a_link_and_of_the_shock_are_found_from_their_wheel_rate() {
        let end = patrol();
        let hidden = end.with_longer_shock(mm(-2.7)).unwrap();
        let hidden = hidden.linkage().unwrap().with_link_length("link", mm(175.0)).unwrap();
        let hidden = end.with_linkage(hidden).unwrap();
        let targets = [30.0, 120.0, 220.0].map(|travel| rate_at(&hidden, travel, 0.1));
        let free = [
            within(Dimension::LinkLength { body: "link".to_owned() }, 165.0, 182.0),
            within(Dimension::ShockLength, 462.0, 475.0),
        ];
        let design = end.design(&free, &targets).unwrap();
        let made = end.with_linkage(design.linkage.clone()).unwrap();
        for miss in &design.misses {
            let Target::WheelRate { travel, value, tolerance } = miss.target else { unreachable!() };
            let off = (made.wheel_rate(travel).unwrap().si() - value.si()) / tolerance.si();
            assert!((off - miss.tolerances).abs() < 1e-9, "{off} or {}", miss.tolerances);
        }
        assert!(design.is_reached(), "{:?} {:?}", design.misses, design.changes);
        for (changed, truth) in design.changes.iter().zip([175.0, 466.0]) {
            assert!((changed.now - mm(truth)).si().abs() < 1e-6, "{changed:?}");
        }
    }

    #[test]
    fn a_rate_out_of_reach_is_missed_and_its_bound_named() {
        let end = patrol();
        let value = end.wheel_rate(mm(150.0)).unwrap() * 1.3;
        let targets = [Target::WheelRate { travel: mm(150.0), value, tolerance: WheelRate::from_si(10.0) }];
        let design = end.design(&[within(coordinate("link_frame", Axis::Z), -99.0, -97.0)], &targets).unwrap();
        assert!(!design.is_reached() && design.misses[0].tolerances < -1.0);
        assert_eq!(design.in_the_way, [coordinate("link_frame", Axis::Z)]);
    }
}
