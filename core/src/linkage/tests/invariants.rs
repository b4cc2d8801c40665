//! What the choice of axes and of scale must not change.

use proptest::prelude::*;

use super::*;

/// Coordinates that differ by rounding alone, amplified by the second derivative.
const SAME: f64 = 1e-10;

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME * a.abs().max(1.0)
}

fn any_drawing() -> impl Strategy<Value = Drawing> {
    (0..all().len()).prop_map(|at| all().swap_remove(at).1)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn moving_the_origin_changes_nothing(
        drawing in any_drawing(), x in -2000.0..2000.0_f64, z in -2000.0..2000.0_f64, share in 0.0..1.0_f64,
    ) {
        let here = drawing.linkage().unwrap();
        let there = drawing.mapped(|[px, pz]| [px + x, pz + z]).linkage().unwrap();
        prop_assert!(same(here.full_travel().si(), there.full_travel().si()));
        let travel = share * here.full_travel().si().min(there.full_travel().si());
        let (a, b) = (here.kernel(travel), there.kernel(travel));
        prop_assert!(same(a.stroke, b.stroke) && same(a.motion_ratio, b.motion_ratio) && same(a.slope, b.slope));
        prop_assert!(same(a.axle[0] + x / 1000.0, b.axle[0]) && same(a.axle[1] + z / 1000.0, b.axle[1]));
        prop_assert!(same(a.axle_slope, b.axle_slope));
    }

    #[test]
    fn a_bike_facing_the_other_way_moves_the_same(drawing in any_drawing(), share in 0.0..1.0_f64) {
        let here = drawing.linkage().unwrap();
        let there = drawing.mapped(|[x, z]| [-x, z]).linkage().unwrap();
        prop_assert!(same(here.full_travel().si(), there.full_travel().si()));
        let travel = share * here.full_travel().si().min(there.full_travel().si());
        let (a, b) = (here.kernel(travel), there.kernel(travel));
        prop_assert!(same(a.stroke, b.stroke) && same(a.motion_ratio, b.motion_ratio) && same(a.slope, b.slope));
        prop_assert!(same(a.axle[0], -b.axle[0]) && same(a.axle_slope, -b.axle_slope));
    }

    #[test]
    fn a_model_to_scale_moves_to_scale(drawing in any_drawing(), scale in 0.5..1.5_f64, share in 0.0..1.0_f64) {
        let here = drawing.linkage().unwrap();
        let mut model = drawing.mapped(|at| at.map(|part| scale * part));
        (model.length, model.stroke) = (scale * drawing.length, scale * drawing.stroke);
        let there = model.linkage().unwrap();
        prop_assert!(same(scale * here.full_travel().si(), there.full_travel().si()));
        let travel = share * here.full_travel().si();
        let (a, b) = (here.kernel(travel), there.kernel(scale * travel));
        prop_assert!(same(scale * a.stroke, b.stroke) && same(a.motion_ratio, b.motion_ratio));
        prop_assert!(same(a.slope, scale * b.slope));
    }

    #[test]
    fn the_position_drawn_does_not_matter(drawing in any_drawing(), drawn in 0.0..1.0_f64, share in 0.0..1.0_f64) {
        let here = drawing.linkage().unwrap();
        let pose = here.pose(drawn * here.full_travel()).unwrap();
        let redrawn = Mechanism::new(pose, here.mechanism().bodies()).unwrap();
        let there = Linkage::new(redrawn, here.wheel(), here.shock(), here.shock_length(), here.full_stroke()).unwrap();
        prop_assert!(same(here.full_travel().si(), there.full_travel().si()));
        let travel = share * here.full_travel().si();
        let (a, b) = (here.kernel(travel), there.kernel(travel));
        prop_assert!(same(a.stroke, b.stroke) && same(a.motion_ratio, b.motion_ratio) && same(a.slope, b.slope));
    }

    #[test]
    fn any_drawing_is_taken_or_refused_without_panic(
        at in prop::collection::vec((-700.0..300.0_f64, -400.0..400.0_f64), 7), length in 50.0..900.0_f64, stroke in 1.0..300.0_f64,
    ) {
        let mut drawing = rocker_on_swingarm();
        drawing.points.iter_mut().zip(at).for_each(|(point, (x, z))| point.1 = [x, z]);
        (drawing.length, drawing.stroke) = (length, stroke);
        if let Ok(linkage) = drawing.linkage() {
            for travel in linkage.travels(9) {
                let point = linkage.at(travel).unwrap();
                prop_assert!(point.motion_ratio.si() > 0.0 && point.stroke.si() >= -LENGTH_ROUNDING, "{point:?}");
            }
        }
    }
}
