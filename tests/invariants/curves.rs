//! A curve is its points, over all the travel that a linkage of any arrangement has.

use proptest::prelude::*;
use wheelrate::linkage::Linkage;
use wheelrate::units::{Length, Quantity};

use crate::linkages::{all, moving, slow_to_settle};

/// Travels asked for: three full blocks of the kernel and a part.
const TRAVELS: usize = 101;
/// Rounding of lengths of a bike, in metres, with the two digits that a dead point 0.1 mm away takes.
const SAME_LENGTH: f64 = 1e-12;

/// Every column at every travel, to the last bit.
fn assert_curve_is_its_points(name: &str, linkage: &Linkage) {
    let travels = linkage.travels(TRAVELS);
    let curve = linkage.curve(&travels).unwrap();
    for (at, &travel) in travels.iter().enumerate() {
        let point = linkage.at(travel).unwrap();
        let slow = [
            point.stroke.si(),
            point.motion_ratio.si(),
            point.motion_ratio_slope.si(),
            point.axle[0].si(),
            point.axle[1].si(),
            point.axle_slope,
        ];
        let fast = [
            curve.stroke[at].si(),
            curve.motion_ratio[at].si(),
            curve.motion_ratio_slope[at].si(),
            curve.axle_x[at].si(),
            curve.axle_z[at].si(),
            curve.axle_slope[at],
        ];
        assert!(slow.iter().all(|number| number.is_finite()), "{name} at {travel:?}: {slow:?}");
        assert_eq!(fast, slow, "{name} at {travel:?}");
    }
}

#[test]
fn a_crank_that_settles_late_is_solved_like_any_other() {
    let drawing = slow_to_settle();
    let linkage = drawing.linkage(drawing.drawn_length(), Length::from_si(0.044)).unwrap().unwrap();
    for count in 2..400 {
        assert_eq!(linkage.curve(&linkage.travels(count)).unwrap().len(), count);
    }
    assert_curve_is_its_points(drawing.name, &linkage);
}

#[test]
fn the_curve_of_every_drawing_is_its_points() {
    for drawing in all() {
        let linkage = drawing.with_all_its_stroke(Length::from_si(0.0));
        assert_curve_is_its_points(drawing.name, &linkage.unwrap_or_else(|| panic!("{} moves", drawing.name)));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn the_curve_of_any_linkage_is_its_points((drawing, longer) in moving()) {
        assert_curve_is_its_points(drawing.name, &drawing.with_all_its_stroke(longer).unwrap());
    }

    /// The ends of travel are a shock at its length and one with its stroke used up, whatever stands behind them.
    #[test]
    fn all_the_stroke_there_is_can_be_used((drawing, longer) in moving()) {
        let linkage = drawing.with_all_its_stroke(longer).unwrap();
        let [start, end] = [Length::from_si(0.0), linkage.full_travel()].map(|travel| linkage.at(travel).unwrap());
        prop_assert!(start.stroke.si().abs() < SAME_LENGTH, "{:?}", start.stroke);
        let missing = end.stroke - linkage.full_stroke();
        prop_assert!(missing.si().abs() < SAME_LENGTH, "{missing:?}");
    }
}
