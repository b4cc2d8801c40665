//! The geometry as an unknown of the fit, against the fit with the geometry held and moved by hand (JCGM 100:2008, 5.1.3,
//! note 2).

use wheelrate::Bike;
use wheelrate::bike::BikeParts;
use wheelrate::demo::PATROL;
use wheelrate::infer::Fit;
use wheelrate::linkage::{MeasuredLinkage, MeasuredParts, Mechanism};
use wheelrate::record::End;
use wheelrate::shock::Shock;
use wheelrate::units::{Angle, Length, Quantity, SpringRate, Uncertain, to_text};
use wheelrate::wheel::{PivotUncertainty, RearEnd, Wheel};

/// Standard uncertainty of the rake (rad): two degrees, much, so that it shows.
const KNOWN_TO: f64 = 0.035;

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

/// The fit with the rake held at so many standard deviations from what is stated.
fn held(at: f64) -> Fit {
    let stated = demo().front().unwrap().fork().unwrap().rake();
    let rake = to_text(stated + Angle::from_si(at * KNOWN_TO));
    demo().correct(&[("front.fork.rake", &rake)]).unwrap().fit_end(End::Front).unwrap()
}

#[test]
fn the_fit_with_an_uncertain_rake_is_the_best_of_all_fits_with_the_rake_held() {
    let uncertain = to_text(Angle::from_si(KNOWN_TO));
    let free = demo().correct(&[("front.fork.rake_uncertainty", &uncertain)]).unwrap().fit_end(End::Front).unwrap();
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
    let bike = demo().correct(&[("rear.linkage.point_uncertainty", "0.001 mm")]).unwrap();
    let bike = bike.correct(&[("front.fork.rake_uncertainty", "0.0001 deg")]).unwrap();
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
        let bike = demo().correct(&[("rear.linkage.point_uncertainty", uncertainty)]).unwrap();
        bike.advise_end(End::Rear).unwrap()
    };
    let (well, badly) = (of("0.3 mm"), of("3 mm"));
    let wider = |a: f64, b: f64| assert!(b > 1.05 * a, "{a} {b}");
    wider(well.fit.rate.standard_uncertainty.si(), badly.fit.rate.standard_uncertainty.si());
    wider(well.wanted.unwrap().rate.standard_uncertainty.si(), badly.wanted.unwrap().rate.standard_uncertainty.si());
    let best = |advice: &wheelrate::decide::Decision| {
        let choice = advice.choices.first().unwrap();
        (choice.outcome.unwrap().free_sag.standard_uncertainty.si(), choice.probability.si())
    };
    wider(best(&well).0, best(&badly).0);
    assert!(best(&badly).1 < best(&well).1);
    // Sags are read, not computed: the linkage has little to say of them.
    let sag = |advice: &wheelrate::decide::Decision| advice.today.rider_sag.standard_uncertainty.si();
    assert!((sag(&badly) / sag(&well) - 1.0).abs() < 0.05, "{} {}", sag(&well), sag(&badly));
}

/// The demo's rear end as it might be built: every bolt off by a few millimetres.
fn built_otherwise() -> RearEnd {
    let rear = demo().rear().unwrap().clone();
    let mechanism = rear.linkage().unwrap().mechanism().clone();
    let off = [0.0, 1.5, -2.0, 2.5, -1.5, 2.0, -2.5];
    let points = mechanism.points().zip(off).map(|((name, [x, z]), by)| {
        let by = Length::from_si(by * 1e-3);
        (name.to_owned(), [x + by, z - by])
    });
    let points: Vec<_> = points.collect();
    rear.with_mechanism(Mechanism::new(points, mechanism.bodies()).unwrap()).unwrap()
}

/// Lengths read on a rear end with the spring off, travels counted from a mark on the wall.
fn table_of(rear: &RearEnd) -> MeasuredLinkage {
    let shock = rear.shock();
    let rows = rear.curve(&rear.travels(13)).unwrap();
    let mark = Length::from_si(0.31);
    let readings: Vec<_> =
        rows.travel.iter().zip(&rows.stroke).map(|(z, s)| (*z + mark, shock.length().unwrap() - *s)).collect();
    let tape = Length::from_si(0.5e-3);
    MeasuredLinkage::new(&readings, read_to([tape, tape], shock)).unwrap()
}

fn read_to([travel_uncertainty, length_uncertainty]: [Length; 2], shock: &Shock) -> MeasuredParts {
    let (shock_length, stroke) = (shock.length().unwrap(), shock.full_stroke());
    MeasuredParts { travel_uncertainty, length_uncertainty, shock_length, stroke }
}

#[test]
fn a_table_beside_a_drawing_moves_the_fit_to_the_linkage_as_it_is_built() {
    let built = built_otherwise();
    let rate_on = |rear: RearEnd| {
        let parts = BikeParts { rear: Some(rear), ..demo().parts().clone() };
        Bike::new(parts).unwrap().fit_end(End::Rear).unwrap().rate
    };
    let known = PivotUncertainty { coordinate: Length::from_si(3e-3), shock_length: Length::from_si(0.0) };
    let drawn = demo().rear().unwrap().clone().with_pivots_known_to(known).unwrap();
    let truth = rate_on(built.clone());
    let without = rate_on(drawn.clone());
    let with = rate_on(drawn.clone().with_table(table_of(&built)).unwrap());
    let off = |rate: Uncertain<SpringRate>| (rate.value.si() - truth.value.si()).abs();
    let (u_with, u_without) = (with.standard_uncertainty.si(), without.standard_uncertainty.si());
    assert!(u_with < 0.8 * u_without, "{u_with} {u_without}");
    // Bolts off by a fiftieth of a link: what the first order leaves is a part of the uncertainty.
    assert!(off(with) < u_with && off(with) < 0.3 * off(without), "{} {} {u_with}", off(with), off(without));
    // The drawing says where the bolts are, which the table alone does not.
    let both = drawn.with_table(table_of(&built)).unwrap();
    let drawn_axle = demo().rear().unwrap().axle(Length::from_si(0.1)).unwrap();
    assert_eq!(both.axle(Length::from_si(0.1)).unwrap(), drawn_axle);
    assert_eq!(both.table(), Some(&table_of(&built)));
}

#[test]
fn a_table_of_another_linkage_is_refused_and_so_is_one_beside_exact_pivots() {
    let exact = demo().rear().unwrap().clone();
    // A tape that stretches by a twentieth.
    let read = table_of(&exact);
    let readings: Vec<_> = read.readings().iter().map(|(travel, length)| (*travel * 1.05, *length)).collect();
    let table = MeasuredLinkage::new(&readings, read_to(read.uncertainties(), exact.shock())).unwrap();
    assert!(exact.clone().with_table(table.clone()).unwrap_err().to_string().contains("point_uncertainty"));
    let known = PivotUncertainty { coordinate: Length::from_si(1e-4), shock_length: Length::from_si(0.0) };
    let error = exact.with_pivots_known_to(known).unwrap().with_table(table).unwrap_err().to_string();
    assert!(error.contains("13 readings"), "{error}");
}
