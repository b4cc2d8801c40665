//! The geometry as an unknown of the fit, against the fit with the geometry held and moved by hand (JCGM 100:2008, 5.1.3,
//! note 2).

use wheelrate::Bike;
use wheelrate::demo::PATROL;
use wheelrate::record::End;
use wheelrate::setup::Fit;
use wheelrate::units::{Angle, Quantity, to_text};

/// Standard uncertainty of the rake (rad): two degrees, much, so that it shows.
const KNOWN_TO: f64 = 0.035;

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

/// The fit with the rake held at so many standard deviations from what is stated.
fn held(at: f64) -> Fit {
    let stated = demo().front().unwrap().fork().rake();
    let rake = to_text(stated + Angle::from_si(at * KNOWN_TO));
    demo().with_change("front.fork.rake", &rake).unwrap().fit_end(End::Front).unwrap()
}

#[test]
fn the_fit_with_an_uncertain_rake_is_the_best_of_all_fits_with_the_rake_held() {
    let uncertain = to_text(Angle::from_si(KNOWN_TO));
    let free = demo().with_change("front.fork.rake_uncertainty", &uncertain).unwrap().fit_end(End::Front).unwrap();
    // The least of a smooth curve through three points and its curvature; the curve is a parabola to a per cent here.
    let cost = |at: f64| held(at).chi_square.value + at * at;
    let h = 0.5;
    let (below, middle, above) = (cost(-h), cost(0.0), cost(h));
    let bend = (below - 2.0 * middle + above) / (h * h);
    let best = -(above - below) / (2.0 * h) / bend;
    // The rake enters to first order: two degrees bend the ratio by a thousandth of itself.
    assert!((free.chi_square.value - cost(best)).abs() < 5e-3, "{} {}", free.chi_square.value, cost(best));
    let at_best = held(best);
    let u = free.rate.standard_uncertainty.si();
    let (found, expected) = (free.rate.value.si(), at_best.rate.value.si());
    assert!((found - expected).abs() < 0.02 * u, "{found} {expected}");
    assert!((free.preload.value - at_best.preload.value).si().abs() < 0.02 * free.preload.standard_uncertainty.si());
    // What is left of the rake's own variance is 2/bend; the rate moves with it.
    let rate = |at: f64| held(at).rate.value.si();
    let slope = (rate(best + h) - rate(best - h)) / (2.0 * h);
    let expected = at_best.rate.standard_uncertainty.si().hypot(slope * (2.0 / bend).sqrt());
    assert!((u / expected - 1.0).abs() < 0.01, "{u} {expected}");
    assert!(u > 1.02 * at_best.rate.standard_uncertainty.si(), "the rake has a say: {u}");
}

#[test]
fn what_is_known_to_a_hair_changes_nothing() {
    let exact = demo().advise().unwrap();
    let bike = demo().with_change("rear.linkage.point_uncertainty", "0.001 mm").unwrap();
    let bike = bike.with_change("front.fork.rake_uncertainty", "0.0001 deg").unwrap();
    for (one, other) in exact.ends.iter().zip(&bike.advise().unwrap().ends) {
        let near = |a: f64, b: f64| assert!((a - b).abs() <= 1e-4 * a.abs(), "{a} {b}");
        near(one.fit.rate.value.si(), other.fit.rate.value.si());
        near(one.fit.rate.standard_uncertainty.si(), other.fit.rate.standard_uncertainty.si());
        for (left, right) in one.choices.iter().zip(&other.choices) {
            near(left.outcome.unwrap().free_sag.value.si(), right.outcome.unwrap().free_sag.value.si());
            near(left.outcome.unwrap().full_force.value.si(), right.outcome.unwrap().full_force.value.si());
        }
    }
}

#[test]
fn badly_measured_pivots_widen_every_answer_and_make_landing_less_likely() {
    let of = |uncertainty: &str| {
        let bike = demo().with_change("rear.linkage.point_uncertainty", uncertainty).unwrap();
        bike.advise_end(End::Rear).unwrap()
    };
    let (well, badly) = (of("0.3 mm"), of("3 mm"));
    let wider = |a: f64, b: f64| assert!(b > 1.05 * a, "{a} {b}");
    wider(well.fit.rate.standard_uncertainty.si(), badly.fit.rate.standard_uncertainty.si());
    wider(well.wanted.unwrap().rate.standard_uncertainty.si(), badly.wanted.unwrap().rate.standard_uncertainty.si());
    let best = |advice: &wheelrate::setup::EndAdvice| {
        let choice = advice.choices.first().unwrap();
        (choice.outcome.unwrap().free_sag.standard_uncertainty.si(), choice.probability.si())
    };
    wider(best(&well).0, best(&badly).0);
    assert!(best(&badly).1 < best(&well).1);
    // Sags are read, not computed: the linkage has little to say of them.
    let sag = |advice: &wheelrate::setup::EndAdvice| advice.today.rider_sag.standard_uncertainty.si();
    assert!((sag(&badly) / sag(&well) - 1.0).abs() < 0.05, "{} {}", sag(&well), sag(&badly));
}
