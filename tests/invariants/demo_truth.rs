//! The demo bike has a true state, known here only. Its readings were made from that state through the library's own
//! equilibrium, with the errors of scales, tape and eye listed below, and rounded to the millimetre a tape shows.
//!
//! The fit must cover the true state, and the advice must find the spring that it calls for: found here by brute force on the
//! true bike, without the fit.

use wheelrate::bike::{Bike, BikeParts, SagConversion};
use wheelrate::decide::Verdict;
use wheelrate::demo::PATROL;
use wheelrate::infer::probability::COVERAGE_95;
use wheelrate::mass::{Masses, Weighing};
use wheelrate::record::{End, Ends, Load, Reading, Settled};
use wheelrate::units::{Force, Length, Mass, Quantity, SpringRate, Uncertain};
use wheelrate::wheel::{Settling, Tunable, Wheel};

/// What nobody knows of one end: factor on the labelled rates, preload less what is stated (m), friction at the wheel (N),
/// distance at full extension (m).
struct Truth {
    rate_factor: f64,
    preload_change: f64,
    friction: f64,
    extended: f64,
}

const FRONT: Truth = Truth { rate_factor: 1.015, preload_change: 0.8e-3, friction: 38.0, extended: 0.7421 };
const REAR: Truth = Truth { rate_factor: 0.985, preload_change: -1.2e-3, friction: 46.0, extended: 0.6548 };
/// True masses in kilograms, front and rear; the scales show whole ones.
const TRUE_BIKE: [f64; 2] = [61.3, 63.8];
const TRUE_RIDER: [f64; 2] = [29.8, 66.4];
const TRUE_UNSPRUNG: [f64; 2] = [14.5, 17.3];

/// Readings in the order of the file: load, settled, error of tape and eye in millimetres (standard deviation 1.2).
const FRONT_READINGS: [(&str, Option<Settled>, f64); 5] = [
    ("none", None, 0.4),
    ("bike", Some(Settled::Low), -1.3),
    ("bike", Some(Settled::High), 0.6),
    ("bike + rider", Some(Settled::Low), 1.1),
    ("bike + rider", Some(Settled::High), -0.5),
];
const REAR_READINGS: [(&str, Option<Settled>, f64); 10] = [
    ("none", None, -0.7),
    ("none", None, 1.4),
    ("bike", Some(Settled::Low), 0.9),
    ("bike", Some(Settled::Low), -1.6),
    ("bike", Some(Settled::High), -0.2),
    ("bike", Some(Settled::High), 1.8),
    ("bike + rider", Some(Settled::Low), -1.1),
    ("bike + rider", Some(Settled::Low), 0.3),
    ("bike + rider", Some(Settled::High), 1.0),
    ("bike + rider", Some(Settled::High), -0.8),
];

fn truth(end: End) -> &'static Truth {
    match end {
        End::Front => &FRONT,
        End::Rear => &REAR,
    }
}

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

/// The bike as it really is.
fn true_bike() -> Bike {
    let demo = demo();
    let kilograms = |[front, rear]: [f64; 2]| Ends { front: Mass::from_si(front), rear: Mass::from_si(rear) };
    let named = [("bike", TRUE_BIKE), ("rider", TRUE_RIDER)];
    let named = named.map(|(name, masses)| (name.to_owned(), Weighing::Scales(kilograms(masses))));
    let masses = Masses::new(named.to_vec(), kilograms(TRUE_UNSPRUNG), None).unwrap();
    let change = |truth: &Truth| (truth.rate_factor, Length::from_si(truth.preload_change));
    let (front, rear) = (change(&FRONT), change(&REAR));
    Bike::new(BikeParts {
        masses: Some(masses),
        front: Some(demo.front().unwrap().with_spring_change(front.0, front.1).unwrap()),
        rear: Some(demo.rear().unwrap().with_spring_change(rear.0, rear.1).unwrap()),
        scenarios: Vec::new(),
        ..demo.parts().clone()
    })
    .unwrap()
}

fn travel(wheel: &dyn Wheel, force: Force) -> Length {
    match wheel.travel_under(force).unwrap() {
        Settling::Settled { state, .. } => state.travel,
        Settling::ToppedOut { .. } => Length::from_si(0.0),
        Settling::Bottomed { .. } => wheel.full_travel(),
    }
}

/// Sag along the direction of the end's readings.
fn sag(bike: &Bike, end: End, load: &str, side: f64) -> f64 {
    let load = Load::parse(load).unwrap();
    if load == Load::None {
        return 0.0;
    }
    let force =
        bike.masses().unwrap().sprung_load(end, &load).unwrap().value + Force::from_si(side * truth(end).friction);
    let direction = bike.assumed().measuring(end).unwrap().direction;
    SagConversion::of(bike, end, direction).unwrap().sag(travel(bike.end(end).unwrap(), force)).unwrap().si()
}

fn readings() -> Vec<Reading> {
    let bike = true_bike();
    let of = |end: End, rows: &[(&str, Option<Settled>, f64)]| -> Vec<Reading> {
        rows.iter()
            .map(|&(load, settled, error)| {
                let side = settled.map_or(0.0, |side| if side == Settled::Low { 1.0 } else { -1.0 });
                let distance = 1e3 * (truth(end).extended - sag(&bike, end, load, side)) + error;
                Reading::new(end, Load::parse(load).unwrap(), Length::from_si(distance.round() / 1e3), settled).unwrap()
            })
            .collect()
    };
    [of(End::Front, &FRONT_READINGS), of(End::Rear, &REAR_READINGS)].concat()
}

#[test]
fn the_readings_are_those_of_the_true_state() {
    let as_rows = |readings: &[Reading]| -> Vec<String> {
        let row = |reading: &Reading| {
            let settled = reading.settled.map_or(String::new(), |side| format!("{side:?}").to_lowercase());
            format!("{} | {} | {settled} | {:.0} mm", reading.end, reading.load, 1e3 * reading.distance.si())
        };
        readings.iter().map(row).collect()
    };
    assert_eq!(as_rows(&demo().parts().readings), as_rows(&readings()));
}

#[test]
fn the_intervals_cover_the_true_state() {
    fn covered<Q: Quantity>(what: &str, found: Uncertain<Q>, truth: f64) {
        let error = (found.value.si() - truth) / found.standard_uncertainty.si();
        assert!(error.abs() <= COVERAGE_95, "{what}: {} against {truth}, {error:.2} u", found.show(""));
    }
    let (demo, real) = (demo(), true_bike());
    for end in End::BOTH {
        let fit = demo.fit_end(end).unwrap();
        let main = real.end(end).unwrap().main_spring().unwrap();
        covered("rate", fit.rate, main.rate.si());
        covered("preload", fit.preload, main.preload.si());
        covered("friction", fit.friction, truth(end).friction);
        covered("extended", fit.extended.unwrap(), truth(end).extended);
        for load in &fit.loads {
            let force = real.masses().unwrap().sprung_load(end, &load.load).unwrap().value;
            covered(&load.load.to_string(), load.fitted, force.si());
            covered("sag", load.sag, travel(real.end(end).unwrap(), force).si());
        }
        assert!(fit.findings.is_empty(), "nothing is wrong with these readings: {:?}", fit.findings);
    }
}

/// Free sag of the true bike on a spring that is exactly what its label says, set to the wanted rider sag, by halving.
fn true_free_sag(end: End, rate: SpringRate) -> f64 {
    let real = true_bike();
    let target = real.targets(end).rider_sag.unwrap();
    let wanted = SagConversion::of(&real, end, target.direction).unwrap().travel(target.value).unwrap();
    let load = |text: &str| real.masses().unwrap().sprung_load(end, &Load::parse(text).unwrap()).unwrap().value;
    let with = |preload: f64| -> Box<dyn Wheel> {
        let preload = Length::from_si(preload);
        match end {
            End::Front => Box::new(real.front().unwrap().with_spring_rate(rate, preload).unwrap()),
            End::Rear => Box::new(real.rear().unwrap().with_spring_rate(rate, preload).unwrap()),
        }
    };
    let (mut low, mut high) = (-0.05, 0.06);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if travel(with(middle).as_ref(), load("bike + rider")) > wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    let free = travel(with(f64::midpoint(low, high)).as_ref(), load("bike"));
    SagConversion::of(&real, end, target.direction).unwrap().sag(free).unwrap().si()
}

#[test]
fn the_advice_finds_the_spring_that_the_true_state_calls_for() {
    let demo = demo();
    let range = demo.targets(End::Rear).free_sag.unwrap().range;
    let inside = |rate: SpringRate| range.contains(Length::from_si(true_free_sag(End::Rear, rate)));
    let fitted = true_bike().end(End::Rear).unwrap().main_spring().unwrap().rate;
    assert!(!inside(fitted), "the spring in the bike is too soft: {} mm", 1e3 * true_free_sag(End::Rear, fitted));
    let middle = range.middle().si();
    let on_sale = demo.parts().on_sale.rear.iter().copied();
    let called_for = on_sale
        .min_by(|&one, &other| {
            let miss = |rate| (true_free_sag(End::Rear, rate) - middle).abs();
            miss(one).total_cmp(&miss(other))
        })
        .unwrap();
    assert!(inside(called_for));

    let advice = demo.advise().unwrap();
    let [front, rear] = &advice.ends[..] else { panic!("{advice:?}") };
    let Verdict::ChangeSpring { to, stiffer: true, ties } = &rear.verdict else { panic!("{:?}", rear.verdict) };
    assert!(*to == called_for && ties.is_empty(), "{:?}", rear.verdict);
    let outcome = rear.choice(*to).unwrap().outcome.unwrap();
    let error = outcome.free_sag.value.si() - true_free_sag(End::Rear, *to);
    assert!(error.abs() <= COVERAGE_95 * outcome.free_sag.standard_uncertainty.si());
    assert!(matches!(front.verdict, Verdict::ChangePreload { by } if by.si() > 0.0), "{:?}", front.verdict);
}
