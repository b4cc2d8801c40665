//! Do the intervals cover the truth as often as they say? Simulated garages: a random bike in a random true state, readings
//! taken on it with random errors, the fit, and a look at whether each 95 % interval holds the truth.
//!
//! The truth is not drawn from the priors of the fit: labels err uniformly within their tolerance, friction is anywhere from
//! 5 N to 90 N, the new spring errs as labels do and its preload is set by a tape that errs. Bikes differ in linkage, spring,
//! preload, gas, air, masses, tape, repeats, ballast, and in whether the settling was noted.
//!
//! `make test` runs a few hundred. Thousands, with the table:
//! `WHEELRATE_GARAGES=5000 cargo test --release -p wheelrate-tests --test invariants calibration -- --nocapture`

use crate::linkages::Drawing;
use rand_distr::{Distribution, StandardNormal, Uniform};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;
use wheelrate::Bike;
use wheelrate::bike::{BikeParts, SagConversion};
use wheelrate::decide::{Decision, Way};
use wheelrate::demo::PATROL;
use wheelrate::fork::Fork;
use wheelrate::gas::Reservoir;
use wheelrate::infer::probability::COVERAGE_95;
use wheelrate::linkage::Mechanism;
use wheelrate::mass::{Masses, Weighing};
use wheelrate::record::{End, Ends, Load, Measuring, OnSale, Range, Reading, SagTarget, Settled, SpringPrior, Targets};
use wheelrate::shock::{Shock, ShockParts};
use wheelrate::spring::Preloaded;
use wheelrate::units::{Angle, Force, GaugePressure, Length, Mass, Quantity, SpringRate, Uncertain};
use wheelrate::wheel::{FrontEnd, PivotUncertainty, RearEnd, Settling, Tunable, Wheel};

/// Garages of a run in `make test`.
const GARAGES: usize = 300;
/// What 95 % may come out as over many garages.
const COVERED: [f64; 2] = [0.93, 0.97];
/// Standard deviations of the binomial share that a run may stray besides: one in 15,000.
const STRAY: f64 = 4.0;
/// Mean error in standard uncertainties that is no bias worth the name.
const NO_BIAS: f64 = 0.15;

/// Distance on the tape at full extension (m).
const EXTENDED: f64 = 0.7;

/// Quantities looked at.
const LOOKED_AT: [&str; 7] =
    ["rate", "preload", "friction", "load, rider", "sag, bike", "sag, rider", "free sag on a new spring"];

/// How often each was covered, and the mean error in standard uncertainties.
#[derive(Default, Clone, Copy)]
pub(crate) struct Tally {
    pub(crate) count: f64,
    pub(crate) covered: f64,
    pub(crate) error: f64,
}

impl Tally {
    pub(crate) fn add<Q: Quantity>(&mut self, found: Uncertain<Q>, truth: f64) {
        let error = (found.value.si() - truth) / found.standard_uncertainty.si();
        self.count += 1.0;
        self.covered += f64::from(error.abs() <= COVERAGE_95);
        self.error += error;
    }
}

pub(crate) struct Dice(pub(crate) Xoshiro256PlusPlus);

impl Dice {
    pub(crate) fn normal(&mut self, deviation: f64) -> f64 {
        let number: f64 = StandardNormal.sample(&mut self.0);
        number * deviation
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        Uniform::new(low, high).unwrap().sample(&mut self.0)
    }

    pub(crate) fn chance(&mut self, probability: f64) -> bool {
        self.between(0.0, 1.0) < probability
    }

    pub(crate) fn one_of(&mut self, count: usize) -> usize {
        (self.between(0.0, count as f64) as usize).min(count - 1)
    }
}

/// Rear ends to draw from: the demo bike's linkage with one bolt moved, and every other arrangement on a shock of its own.
pub(crate) fn linkages() -> Vec<RearEnd> {
    let demo = Bike::from_toml(PATROL).unwrap();
    let own = [-110, -104, -98, -95, -92]
        .iter()
        .filter_map(|z| demo.correct(&[("rear.linkage.points.link_frame", &format!("[\"-66 mm\", \"{z} mm\"]"))]).ok())
        .map(|bike| bike.rear().unwrap().clone());
    let others = crate::linkages::all();
    own.chain(others.iter().filter_map(arranged)).collect()
}

/// A drawing as the rear end of a bike; `None` where it has not the travel, or a spring that suits would not carry more the
/// further it is pressed.
fn arranged(drawing: &Drawing) -> Option<RearEnd> {
    const TRAVEL: [f64; 2] = [0.24, 0.3];
    let whole = drawing.with_all_its_stroke(Length::from_si(0.0))?;
    let full = Length::from_si(whole.full_travel().si().min(TRAVEL[1]));
    let stroke = whole.at(full).ok()?.stroke;
    let spring = Preloaded::linear(SpringRate::from_si(55e3), Length::from_si(0.01)).ok()?;
    let end = |spring| {
        let shock = Shock::new(whole.shock_length(), stroke, ShockParts::new().with_spring(spring), 1).ok()?;
        RearEnd::new(drawing.mechanism()?, "axle", drawing.shock, shock).ok()
    };
    let gear = gear(&end(spring)?);
    let suits = Preloaded::linear(SpringRate::from_si(55e3 / gear.powi(2)), Length::from_si(0.01 * gear)).ok()?;
    let end = end(suits)?;
    let rate = |share: f64| Some(end.at(end.full_travel() * share).ok()?.wheel_rate.si());
    let rises = (0..=10).all(|step| rate(f64::from(step) / 10.0).is_some_and(|rate| rate > 3e3));
    (end.full_travel().si() >= TRAVEL[0] && (0.4..3.0).contains(&gear) && rises).then_some(end)
}

/// How much further the shock moves than on the demo bike, a third into the travel: springs that suit are softer by the square
/// of it, and their preloads longer by it.
pub(crate) fn gear(end: &RearEnd) -> f64 {
    /// Motion ratio of the demo bike there.
    const DEMO: f64 = 0.36;
    end.at(end.full_travel() / 3.0).map_or(1.0, |state| state.motion_ratio.si() / DEMO)
}

/// How well a person measured the geometry: standard uncertainties.
pub(crate) struct Geometry {
    coordinate: Length,
    shock_length: Length,
    rake: Angle,
}

impl Geometry {
    /// Two ends as stated, with their uncertainty, and as they are built.
    fn mismeasured(&self, front: FrontEnd, rear: RearEnd, dice: &mut Dice) -> (FrontEnd, RearEnd, FrontEnd, RearEnd) {
        let linkage = rear.linkage().unwrap();
        let (coordinate, shock_length) = (self.coordinate.si(), self.shock_length.si());
        let built_rear = loop {
            // Hardly ever the parts do not meet as drawn: then nobody would have built it.
            let points = linkage
                .mechanism()
                .points()
                .map(|(name, at)| (name.to_owned(), at.map(|part| part + Length::from_si(dice.normal(coordinate)))));
            let points: Vec<_> = points.collect();
            let mechanism = Mechanism::new(points, linkage.mechanism().bodies()).unwrap();
            let longer = Length::from_si(dice.normal(shock_length));
            let built = rear.with_mechanism(mechanism).and_then(|built| built.with_longer_shock(longer));
            if let Ok(built) = built {
                break built;
            }
        };
        let fork = front.fork().unwrap();
        let rake = fork.rake() + Angle::from_si(dice.normal(self.rake.si()));
        let built_front = FrontEnd::new(Fork::new(fork.full_stroke(), rake, fork.legs().clone()).unwrap());
        let stated = FrontEnd::new(fork.clone().with_rake_uncertainty(self.rake).unwrap());
        let known = PivotUncertainty { coordinate: self.coordinate, shock_length: self.shock_length };
        (stated, rear.clone().with_pivots_known_to(known).unwrap(), built_front, built_rear)
    }
}

/// Springs put into the real bike.
pub(crate) enum Fitted {
    /// Its own, the preload changed by this.
    Turned(f64),
    /// Others of this rate at this preload.
    Other(SpringRate, f64),
}

/// What a person wrote down, and how the bike really is.
#[derive(Clone)]
pub(crate) struct Garage {
    pub(crate) bike: Bike,
    /// The bike as it is built: where its pivots really are, and its rake.
    built: Bike,
    pub(crate) front: FrontEnd,
    pub(crate) rear: RearEnd,
    masses: Masses,
    pub(crate) friction: Ends<f64>,
}

impl Garage {
    pub(crate) fn new(linkages: &[RearEnd], known: Option<&Geometry>, dice: &mut Dice) -> Self {
        Self::labelled(linkages, known, 1.0, dice)
    }

    /// With labels of today's springs that err by up to so many times what is stated.
    pub(crate) fn labelled(linkages: &[RearEnd], known: Option<&Geometry>, wrong: f64, dice: &mut Dice) -> Self {
        let demo = Bike::from_toml(PATROL).unwrap();
        let tolerance = SpringPrior::default();
        let front = demo.front().unwrap().with_spring_rate(
            SpringRate::from_si(dice.between(4.2e3, 5.2e3)),
            Length::from_si(dice.between(4e-3, 12e-3)),
        );
        let rear = &linkages[dice.one_of(linkages.len())];
        let gear = gear(rear);
        let spring = Preloaded::linear(
            SpringRate::from_si(dice.between(48e3, 62e3) / gear.powi(2)),
            Length::from_si(dice.between(6e-3, 14e-3) * gear),
        );
        let gas = Reservoir::new(
            GaugePressure::from_si(dice.between(8e5, 13e5)),
            Quantity::from_si(1.8e-4),
            Length::from_si(0.016),
        );
        let parts = rear.shock().parts().clone().with_spring(spring.unwrap()).with_reservoir(gas.unwrap());
        let shock = Shock::new(rear.shock().length().unwrap(), rear.shock().full_stroke(), parts, 1).unwrap();
        let (front, rear) = (front.unwrap(), rear.with_shock(shock).unwrap());
        let (front, rear, built_front, built_rear) = match known {
            None => (front.clone(), rear.clone(), front, rear),
            Some(known) => known.mismeasured(front, rear, dice),
        };
        let mut change = || {
            let factor = 1.0 + dice.between(-1.0, 1.0) * wrong * tolerance.rate_tolerance.si();
            (factor, Length::from_si(dice.normal(tolerance.preload_uncertainty.si())))
        };
        let (front_change, rear_change) = (change(), change());
        let (stated, masses) = masses(dice);
        let measuring = |direction, dice: &mut Dice| {
            Some(Measuring::new(direction, Length::from_si(dice.between(1e-3, 2.5e-3))).unwrap())
        };
        let directions = End::BOTH.map(|end| demo.assumed().measuring(end).unwrap().direction);
        let measuring = Ends { front: measuring(directions[0], dice), rear: measuring(directions[1], dice) };
        let target = |end: End, value: f64| {
            let (value, half) = (Length::from_si(value), Length::from_si(5e-3));
            let range = Range::new(value - half, value + half).unwrap();
            Targets {
                rider_sag: Some(SagTarget { value, range, direction: directions[end as usize] }),
                free_sag: None,
                ..Targets::default()
            }
        };
        let parts = BikeParts {
            front: Some(front.clone()),
            rear: Some(rear.clone()),
            masses: Some(stated),
            prior: Ends { front: tolerance, rear: tolerance },
            targets: Ends { front: target(End::Front, 0.065), rear: target(End::Rear, 0.1) },
            on_sale: OnSale::new(vec![SpringRate::from_si(4.5e3)], vec![SpringRate::from_si(56e3 / gear.powi(2))]),
            measuring,
            readings: Vec::new(),
            discipline: None,
            scenarios: Vec::new(),
            ..demo.parts().clone()
        };
        let front = built_front.with_spring_change(front_change.0, front_change.1).unwrap();
        let rear = built_rear.with_spring_change(rear_change.0, rear_change.1).unwrap();
        let built = BikeParts { front: Some(front.clone()), rear: Some(rear.clone()), ..parts.clone() };
        let mut garage = Self {
            bike: Bike::new(parts.clone()).unwrap(),
            built: Bike::new(built).unwrap(),
            front,
            rear,
            masses,
            friction: Ends { front: dice.between(5.0, 90.0), rear: dice.between(5.0, 90.0) },
        };
        let readings = End::BOTH.into_iter().flat_map(|end| garage.readings(end, dice)).collect();
        garage.bike = Bike::new(BikeParts { readings, ..parts }).unwrap();
        garage
    }

    fn wheel(&self, end: End) -> &dyn Wheel {
        match end {
            End::Front => &self.front,
            End::Rear => &self.rear,
        }
    }

    fn load(&self, end: End, load: &str) -> Force {
        self.masses.sprung_load(end, &Load::parse(load).unwrap()).unwrap().value
    }

    /// Sag along the direction of readings and targets.
    pub(crate) fn sag(&self, end: End, travel: Length) -> f64 {
        let direction = self.bike.assumed().measuring(end).unwrap().direction;
        SagConversion::of(&self.built, end, direction).unwrap().sag(travel).unwrap().si()
    }

    pub(crate) fn readings(&self, end: End, dice: &mut Dice) -> Vec<Reading> {
        let mut rows: Vec<(&str, Option<Settled>)> = vec![("none", None)];
        let (repeats, noted, ballast) = (1 + dice.one_of(3), dice.chance(0.8), dice.chance(0.3));
        let loads =
            if ballast { &["bike", "bike + rider", "bike + rider + sand"][..] } else { &["bike", "bike + rider"] };
        for _ in 0..repeats {
            rows.push(("none", None));
            for load in loads {
                let sides = if noted { [Some(Settled::Low), Some(Settled::High)] } else { [None, None] };
                rows.extend(sides.map(|side| (*load, side)));
            }
        }
        rows.into_iter().map(|(load, settled)| self.read(end, &Load::parse(load).unwrap(), settled, dice)).collect()
    }

    /// One reading; where the settling is not noted, anywhere in the friction band.
    pub(crate) fn read(&self, end: End, load: &Load, settled: Option<Settled>, dice: &mut Dice) -> Reading {
        let deviation = self.bike.assumed().measuring(end).unwrap().uncertainty.si();
        let side = match settled {
            Some(Settled::Low) => 1.0,
            Some(Settled::High) => -1.0,
            Some(Settled::Middle) => 0.0,
            None => dice.between(-1.0, 1.0),
        };
        let sag = if *load == Load::None {
            0.0
        } else {
            let force = self.load(end, &load.to_string()) + Force::from_si(side * self.friction.at(end));
            self.sag(end, travel(self.wheel(end), force))
        };
        let distance = EXTENDED - sag + dice.normal(deviation);
        Reading::new(end, load.clone(), Length::from_si(distance), settled).unwrap()
    }

    /// The real end with other springs, or its own turned.
    fn with(&self, end: End, fitted: &Fitted) -> Box<dyn Wheel> {
        fn of<W: Tunable + 'static>(wheel: &W, fitted: &Fitted) -> Box<dyn Wheel> {
            Box::new(match *fitted {
                Fitted::Turned(by) => wheel.with_spring_change(1.0, Length::from_si(by)).unwrap(),
                Fitted::Other(rate, preload) => wheel.with_spring_rate(rate, Length::from_si(preload)).unwrap(),
            })
        }
        match end {
            End::Front => of(&self.front, fitted),
            End::Rear => of(&self.rear, fitted),
        }
    }

    /// Real sags with the rider and alone.
    pub(crate) fn sags_with(&self, end: End, fitted: &Fitted) -> [f64; 2] {
        let wheel = self.with(end, fitted);
        ["bike + rider", "bike"].map(|load| self.sag(end, travel(wheel.as_ref(), self.load(end, load))))
    }

    /// Free sag of the real bike with a real new spring whose rider sag was set to what a tape took for the target.
    fn free_sag_on(&self, end: End, rate: SpringRate, rider_sag: f64) -> f64 {
        let direction = self.bike.assumed().measuring(end).unwrap().direction;
        let wanted =
            SagConversion::of(&self.built, end, direction).unwrap().travel(Length::from_si(rider_sag)).unwrap();
        let with = |preload: f64| -> Box<dyn Wheel> {
            let preload = Length::from_si(preload);
            match end {
                End::Front => Box::new(self.front.with_spring_rate(rate, preload).unwrap()),
                End::Rear => Box::new(self.rear.with_spring_rate(rate, preload).unwrap()),
            }
        };
        let wide = gear(&self.rear).max(1.0);
        let (mut low, mut high) = (-0.06 * wide, 0.08 * wide);
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            if travel(with(middle).as_ref(), self.load(end, "bike + rider")) > wanted {
                low = middle;
            } else {
                high = middle;
            }
        }
        self.sag(end, travel(with(f64::midpoint(low, high)).as_ref(), self.load(end, "bike")))
    }

    fn tally(&self, end: End, advice: &Decision, dice: &mut Dice, tallies: &mut [Tally; 7]) {
        let fit = &advice.fit;
        let main = self.wheel(end).main_spring().unwrap();
        tallies[0].add(fit.rate, main.rate.si());
        tallies[1].add(fit.preload, main.preload.si());
        tallies[2].add(fit.friction, *self.friction.at(end));
        for (name, load) in [("bike", 4), ("bike + rider", 5)] {
            let fitted = fit.loads.iter().find(|fitted| fitted.load == Load::parse(name).unwrap()).unwrap();
            let force = self.load(end, name);
            if load == 5 {
                tallies[3].add(fitted.fitted, force.si());
            }
            let sag = travel(self.wheel(end), force).si();
            // A topped-out end has no sag to be covered.
            if sag > 0.0 {
                tallies[load].add(fitted.sag, sag);
            }
        }
        let new = advice.choices.iter().find(|choice| !choice.is_fitted);
        if let Some((new, outcome)) = new.and_then(|new| Some((new, new.outcome?))) {
            let rate = new.rate * (1.0 + dice.between(-1.0, 1.0) * SpringPrior::default().rate_tolerance.si());
            // Set by what a tape took for the aim, or by the collar from where it just touches.
            let free = match new.way {
                Way::ReRead => {
                    let aim = outcome.rider_sag;
                    self.free_sag_on(end, rate, aim.value.si() + dice.normal(aim.standard_uncertainty.si()))
                }
                Way::Turned => {
                    let touching = dice.normal(SpringPrior::default().preload_uncertainty.si());
                    let preload = outcome.preload.value.si() + touching;
                    self.sags_with(end, &Fitted::Other(rate, preload))[1]
                }
            };
            if free > 0.0 {
                tallies[6].add(outcome.free_sag, free);
            }
        }
    }
}

/// Masses as the scales show them, and as they are.
fn masses(dice: &mut Dice) -> (Masses, Masses) {
    let real = [
        ("bike", [dice.between(56.0, 66.0), dice.between(60.0, 70.0)]),
        ("rider", [dice.between(24.0, 36.0), dice.between(48.0, 72.0)]),
        ("sand", [dice.between(8.0, 12.0), dice.between(15.0, 25.0)]),
    ];
    let unsprung = [14.2, 17.5];
    let ends = |[front, rear]: [f64; 2]| Ends { front: Mass::from_si(front), rear: Mass::from_si(rear) };
    let build = |error: &mut dyn FnMut() -> f64| {
        let named = real
            .map(|(name, [front, rear])| (name.to_owned(), Weighing::Scales(ends([front + error(), rear + error()]))));
        Masses::new(named.to_vec(), ends([unsprung[0] + error(), unsprung[1] + error()]), None).unwrap()
    };
    let real_masses = build(&mut || 0.0);
    let deviation = Masses::default_scale_uncertainty().si();
    (build(&mut || dice.normal(deviation)), real_masses)
}

pub(crate) fn travel(wheel: &dyn Wheel, force: Force) -> Length {
    match wheel.travel_under(force).unwrap() {
        Settling::Settled { state, .. } => state.travel,
        Settling::ToppedOut { .. } => Length::from_si(0.0),
        Settling::Bottomed { .. } => wheel.full_travel(),
    }
}

#[test]
fn intervals_cover_the_truth_as_often_as_they_say() {
    intervals_hold(None, 7);
}

#[test]
fn they_do_where_pivots_and_rake_are_measured_badly_and_the_file_says_how_badly() {
    let known = Geometry {
        coordinate: Length::from_si(1.5e-3),
        shock_length: Length::from_si(1e-3),
        rake: Angle::from_si(1f64.to_radians()),
    };
    intervals_hold(Some(&known), 8);
}

fn intervals_hold(known: Option<&Geometry>, seed: u64) {
    let garages = std::env::var("WHEELRATE_GARAGES").ok().and_then(|text| text.parse().ok()).unwrap_or(GARAGES);
    let linkages = linkages();
    assert!(linkages.len() > 2);
    let mut dice = Dice(Xoshiro256PlusPlus::seed_from_u64(seed));
    let mut tallies = [[Tally::default(); 7]; 2];
    let mut refused = 0;
    for _ in 0..garages {
        let garage = Garage::new(&linkages, known, &mut dice);
        for (end, tallies) in End::BOTH.into_iter().zip(&mut tallies) {
            match wheelrate::infer::Study::plain(&garage.bike, end).and_then(|study| study.advise()) {
                Ok(advice) => garage.tally(end, &advice, &mut dice, tallies),
                Err(_) => refused += 1,
            }
        }
    }
    println!("{garages} garages, {refused} of {} ends refused as contradictory", 2 * garages);
    println!("{:6} {:26} {:>7} {:>12} {:>8}", "end", "quantity", "garages", "95 % covers", "bias/u");
    for (end, tallies) in End::BOTH.into_iter().zip(&tallies) {
        for (name, tally) in LOOKED_AT.into_iter().zip(tallies) {
            let (covered, bias) = (tally.covered / tally.count, tally.error / tally.count);
            println!("{end:6} {name:26} {:>7} {:>10.1} % {bias:>+8.3}", tally.count, 100.0 * covered);
        }
    }
    assert!(refused as f64 <= 0.005 * garages as f64 + 1.0, "{refused} refused");
    for (end, tallies) in End::BOTH.into_iter().zip(&tallies) {
        for (name, tally) in LOOKED_AT.into_iter().zip(tallies) {
            let (covered, bias) = (tally.covered / tally.count, tally.error / tally.count);
            let stray = STRAY * (0.95 * 0.05 / tally.count).sqrt();
            assert!(covered >= COVERED[0] - stray && covered <= COVERED[1] + stray, "{end} {name}: {covered:.3}");
            assert!(bias.abs() <= NO_BIAS + STRAY / tally.count.sqrt(), "{end} {name}: off by {bias:.3} u");
        }
    }
}
