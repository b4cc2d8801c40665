//! With little known there is still an answer, as wide as it deserves.

use wheelrate::Bike;
use wheelrate::bike::BikeParts;
use wheelrate::decide::Decision;
use wheelrate::demo::PATROL;
use wheelrate::infer::Finding;
use wheelrate::mass::{Masses, Weighing};
use wheelrate::record::{End, Ends, Load, Reading, Settled, SpringPrior};
use wheelrate::spring::{Material, UnmarkedParts, UnmarkedSpring};
use wheelrate::units::{Length, Mass, Quantity, Share, SpringRate, Uncertain};

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

fn with(change: impl FnOnce(&mut BikeParts)) -> Bike {
    let mut parts = demo().parts().clone();
    parts.scenarios.clear();
    change(&mut parts);
    Bike::new(parts).unwrap()
}

fn rear(bike: &Bike) -> Decision {
    let advice = bike.advise_end(End::Rear).unwrap();
    for outcome in advice.choices.iter().filter_map(|choice| choice.outcome) {
        assert!(outcome.free_sag.standard_uncertainty.si() > 0.0);
    }
    // Whatever is known, there is something to say of what to do next.
    assert!(!bike.plan_end(End::Rear).unwrap().text(wheelrate::units::UnitSystem::Metric).is_empty());
    advice
}

fn relative(rate: Uncertain<SpringRate>) -> f64 {
    rate.standard_uncertainty.si() / rate.value.si()
}

/// Standard uncertainty of a label, 5 % either way and evenly.
const LABEL: f64 = 0.05 / 1.732_050_8;

#[test]
fn one_loaded_reading_beside_the_extended_one() {
    let keep = |reading: &Reading| {
        reading.load == Load::None
            || (reading.load == Load::parse("bike + rider").unwrap() && reading.settled == Some(Settled::Low))
    };
    let bike = with(|parts| {
        let mut kept: Vec<Reading> = parts.readings.iter().filter(|reading| keep(reading)).cloned().collect();
        // Of the rear one of each, the settling not noted.
        kept.retain(|reading| reading.end == End::Rear);
        kept.truncate(3);
        kept.remove(0);
        kept[1].settled = None;
        parts.readings = kept;
    });
    let advice = rear(&bike);
    assert!((0.7 * LABEL..=LABEL).contains(&relative(advice.fit.rate)), "{}", relative(advice.fit.rate));
    assert!(advice.fit.findings.iter().any(|finding| matches!(finding, Finding::FrictionAssumed { .. })));
    assert!(advice.today.rider_sag.standard_uncertainty.si() > 1.5e-3);
}

#[test]
fn no_reading_at_all() {
    let advice = rear(&with(|parts| parts.readings.clear()));
    assert!((relative(advice.fit.rate) / LABEL - 1.0).abs() < 1e-6);
    assert_eq!(advice.fit.findings, [Finding::NoReadings]);
    assert!(advice.today.rider_sag.standard_uncertainty.si() > 2e-3);
}

#[test]
fn a_label_that_nobody_can_read() {
    let known = relative(demo().fit_end(End::Rear).unwrap().rate);
    let wide = SpringPrior::new(Share::from_si(1.0), Length::from_si(20e-3)).unwrap();
    let guessed = |guess: &str| {
        let bike = with(|parts| parts.prior = Ends { rear: wide, ..parts.prior });
        rear(&bike.correct(&[("rear.shock.spring.rate", guess)]).unwrap()).fit
    };
    let (low, high) = (guessed("40 N/mm"), guessed("65 N/mm"));
    // The readings say it; the guess has next to no say.
    let u = low.rate.standard_uncertainty.si();
    assert!((low.rate.value.si() - high.rate.value.si()).abs() < 0.3 * u, "{:?} {:?}", low.rate, high.rate);
    assert!(relative(low.rate) > 1.05 * known && low.from_readings.rate.si() > 0.9, "{:?}", low.rate);
    let stated = demo().fit_end(End::Rear).unwrap().rate;
    assert!((low.rate.value.si() - stated.value.si()).abs() < 2.0 * u.hypot(stated.standard_uncertainty.si()));
}

#[test]
fn a_spring_that_a_caliper_was_put_to() {
    let length = |mm: f64, u: f64| Uncertain::new(Length::from_si(mm * 1e-3), Length::from_si(u * 1e-3)).unwrap();
    let steel = Material::named("EN 10270-2").unwrap();
    let spring = UnmarkedSpring::new(UnmarkedParts {
        wire: length(12.0, 0.05),
        outside_diameter: length(77.0, 0.1),
        active_coils: 8.0,
        active_coils_uncertainty: 0.25,
        material: steel,
        shear_modulus_uncertainty: 0.01,
    })
    .unwrap();
    let rate = spring.rate().unwrap();
    let prior = SpringPrior::of_measured(rate, Length::from_si(1e-3)).unwrap();
    assert!((prior.rate_standard_uncertainty().si() / relative(rate) - 1.0).abs() < 1e-12);
    let unknown = Uncertain::new(SpringRate::from_si(5e4), SpringRate::from_si(4e4)).unwrap();
    let fault = SpringPrior::of_measured(unknown, Length::from_si(1e-3)).unwrap_err().to_string();
    assert!(fault.contains("rate_tolerance"), "{fault}");
}

#[test]
fn a_rider_that_nobody_weighed() {
    let weighed = demo();
    let masses = |uncertainty: Option<f64>| {
        let kg = Mass::from_si;
        let bike = Weighing::Scales(Ends { front: kg(61.0), rear: kg(64.0) });
        let rider = Weighing::Position { total: kg(96.0), behind_front_axle: Length::from_si(1.02) };
        let unsprung = Ends { front: kg(14.2), rear: kg(17.5) };
        let named = vec![("bike".to_owned(), bike), ("rider".to_owned(), rider)];
        let masses = Masses::new(named, unsprung, Some(Length::from_si(1.48))).unwrap();
        uncertainty.map_or(masses.clone(), |known| masses.with_uncertainty("rider", kg(known)).unwrap())
    };
    let reported = with(|parts| parts.masses = Some(masses(Some(5.0))));
    let load = reported.masses().unwrap().sprung_load(End::Rear, &Load::parse("bike + rider").unwrap()).unwrap();
    // Bike and unsprung mass on a scale of 0.5 kg, the rider to 5 kg.
    assert!((load.standard_uncertainty.si() / 9.80665 - (25.0 + 2.0 * 0.25_f64).sqrt()).abs() < 1e-9);
    let advice = rear(&reported);
    assert!(relative(advice.fit.rate) > relative(weighed.fit_end(End::Rear).unwrap().rate));
    assert_eq!(Bike::from_toml(&reported.to_toml()).unwrap(), reported);
    // The rate that is called for hangs on the load, and so does every sag stated for a new spring; which spring is best does
    // not, for the sags under the same rider read both.
    let known = rear(&weighed);
    let called = |advice: &Decision| relative(advice.wanted.unwrap().rate);
    assert!(called(&advice) > called(&known), "{} {}", called(&advice), called(&known));
    assert_eq!(advice.choices[0].rate, known.choices[0].rate);
    assert!(advice.choices[0].probability <= known.choices[0].probability);
    let unknown = masses(None).with_uncertainty("pillion", Mass::from_si(1.0)).unwrap_err().to_string();
    assert!(unknown.starts_with("no mass is called `pillion`: the masses stated are"), "{unknown}");
    let exact = masses(None).with_uncertainty("rider", Mass::from_si(0.0)).unwrap_err().to_string();
    assert!(exact.contains("rider") && exact.contains("found 0 kg"), "{exact}");
}
