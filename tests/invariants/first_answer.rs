//! The first answer, from what a person really has: simulated garages of which the file states no more than weights, travels,
//! label rates, the stroke of the shock and sag at both ends. Do the intervals hold, and does what is advised come true?
//!
//! `make test` runs a few dozen. Thousands, with the table:
//! `WHEELRATE_GARAGES=2000 cargo test --release -p wheelrate-tests --test invariants first_answer -- --nocapture`

use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;
use wheelrate::decide::{Act, Decision, Way};
use wheelrate::infer::probability::COVERAGE_95;
use wheelrate::record::{Direction, End, Load};
use wheelrate::units::{Quantity, SpringRate, Uncertain};
use wheelrate::wheel::Wheel;

use crate::calibration::{Dice, travel};
use crate::garage::Garage;

/// Garages of a run in `make test`.
const GARAGES: usize = 40;
/// Least share of 95 % intervals that holds the truth.
const LEAST: f64 = 0.94;
/// Standard deviations of the binomial share that a run may stray besides: one in 15,000.
const STRAY: f64 = 4.0;
/// How much less often than stated an advised spring may land.
const COMES_TRUE: f64 = 0.05;
/// How often an interval holds, its mean half-width and the mean error.
#[derive(Default, Clone, Copy)]
struct Held {
    count: f64,
    held: f64,
    width: f64,
    error: f64,
}

impl Held {
    fn add<Q: Quantity>(&mut self, found: Uncertain<Q>, truth: f64) {
        let (error, deviation) = (found.value.si() - truth, found.standard_uncertainty.si());
        self.count += 1.0;
        self.held += f64::from(error.abs() <= COVERAGE_95 * deviation);
        self.width += deviation;
        self.error += error / deviation;
    }
}

/// What is looked at, and the unit of its width.
const LOOKED_AT: [(&str, f64, &str); 11] = [
    ("rate of today's springs", 1e-3, "N/mm"),
    ("preload today", 1e3, "mm"),
    ("friction", 1.0, "N"),
    ("load, bike", 1.0, "N"),
    ("load, rider", 1.0, "N"),
    ("free sag today", 1e3, "mm"),
    ("rider sag today", 1e3, "mm"),
    ("rate called for", 1e-3, "N/mm"),
    ("free sag on the advised spring", 1e3, "mm"),
    ("preload of the advised spring", 1e3, "mm"),
    ("wheel rate on the advised spring", 1e-3, "N/mm"),
];

impl Garage {
    fn look(&self, end: End, decision: &Decision, dice: &mut Dice, held: &mut [Held; LOOKED_AT.len()]) {
        let (fit, main) = (&decision.fit, self.wheel(end).main_spring().unwrap());
        held[0].add(fit.rate, main.rate.si());
        held[1].add(fit.preload, main.preload.si());
        held[2].add(fit.friction, *self.friction.at(end));
        for (place, load) in [(3, "bike"), (4, "bike + rider")] {
            let fitted = fit.loads.iter().find(|fitted| fitted.load == Load::parse(load).unwrap()).unwrap();
            held[place].add(fitted.fitted, self.load(end, load).si());
        }
        let free = self.sag(end, self.wheel(end), "bike", 0.0);
        if free > 0.0 {
            held[5].add(decision.today.free_sag, free);
        }
        held[6].add(decision.today.rider_sag, self.sag(end, self.wheel(end), "bike + rider", 0.0));
        let aim = decision.rider_sag.value.si();
        if let (Some(wanted), Some(range)) = (decision.wanted, decision.free_sag)
            && let Some(truth) = self.called_for(end, aim, range.middle().si())
        {
            held[7].add(wanted.rate, truth);
        }
        let Some(action) = decision.action() else { return };
        let (Act::Fit { rate }, Some(outcome)) =
            (action.act, decision.choice_of(action.act).and_then(|one| one.outcome))
        else {
            return;
        };
        if action.way == Some(Way::ReRead) {
            let real = rate * (1.0 + 0.05 * dice.between(-1.0, 1.0));
            let deviation = outcome.rider_sag.standard_uncertainty.si();
            let (preload, free) = self.set(end, real, outcome.rider_sag.value.si() + dice.normal(deviation));
            if free > 0.0 {
                held[8].add(outcome.free_sag, free);
            }
            held[9].add(outcome.preload, preload);
            let there = self.with(end, real, preload);
            let at = travel(there.as_ref(), self.load(end, "bike + rider"));
            held[10].add(outcome.wheel_rate, there.wheel_rate(at).unwrap().si());
        }
    }

    /// How often what is advised lands both sags, drawn for real springs and tapes.
    fn lands(&self, end: End, decision: &Decision, dice: &mut Dice) -> Option<(f64, f64)> {
        /// Draws of label and tape.
        const DRAWS: usize = 4;
        let action = decision.action()?;
        let (rider, free) = (decision.rider_sag.range, decision.free_sag);
        let inside = |[rider_sag, free_sag]: [f64; 2]| {
            let within = |range: wheelrate::record::Range, sag: f64| {
                (range.from.si() <= 0.0 || sag >= range.from.si()) && sag <= range.to.si()
            };
            within(rider, rider_sag) && free.is_none_or(|free| within(free, free_sag))
        };
        let sags = |wheel: &dyn Wheel| ["bike + rider", "bike"].map(|load| self.sag(end, wheel, load, 0.0));
        let outcome = decision.choice_of(action.act).and_then(|choice| choice.outcome);
        let now = self.wheel(end).main_spring()?;
        let mut landed = 0.0;
        for _ in 0..DRAWS {
            let there = match (action.act, outcome) {
                (Act::Leave, _) => sags(self.wheel(end)),
                (Act::Turn { by }, Some(outcome)) => match action.way {
                    Some(Way::ReRead) => self.re_read(end, now.each[0].0, &outcome, dice),
                    _ => sags(self.with(end, now.each[0].0, now.preload.si() + by.si()).as_ref()),
                },
                (Act::Fit { rate }, Some(outcome)) => {
                    let real = rate * (1.0 + 0.05 * dice.between(-1.0, 1.0));
                    match action.way {
                        Some(Way::ReRead) => self.re_read(end, real, &outcome, dice),
                        _ => sags(self.with(end, real, outcome.preload.value.si() + dice.normal(1e-3)).as_ref()),
                    }
                }
                _ => return None,
            };
            landed += f64::from(inside(there)) / DRAWS as f64;
        }
        Some((action.probability.si(), landed))
    }

    /// Sags where the rider sag was set by tape.
    fn re_read(&self, end: End, rate: SpringRate, outcome: &wheelrate::decide::Outcome, dice: &mut Dice) -> [f64; 2] {
        let aim = outcome.rider_sag.value.si() + dice.normal(outcome.rider_sag.standard_uncertainty.si());
        let (_, free) = self.set(end, rate, aim);
        [aim, free]
    }
}

#[test]
fn the_first_answer_holds_as_often_as_it_says() {
    let garages = std::env::var("WHEELRATE_GARAGES").ok().and_then(|text| text.parse().ok()).unwrap_or(GARAGES);
    let mut dice = Dice(Xoshiro256PlusPlus::seed_from_u64(13));
    let mut held = [[Held::default(); LOOKED_AT.len()]; 2];
    let (mut refused, mut ends, mut stated, mut came) = (0.0, [0.0; 2], [0.0; 2], [0.0; 2]);
    let mut made = 0;
    while made < garages {
        let Some(garage) = Garage::new(&mut dice) else { continue };
        made += 1;
        for (place, end) in End::BOTH.into_iter().enumerate() {
            let Ok(decision) = garage.stated.advise_end(end) else {
                refused += 1.0;
                continue;
            };
            assert_eq!(decision.direction == Direction::AlongFork, end == End::Front);
            garage.look(end, &decision, &mut dice, &mut held[place]);
            if let Some((chance, landed)) = garage.lands(end, &decision, &mut dice) {
                ends[place] += 1.0;
                stated[place] += chance;
                came[place] += landed;
            }
        }
    }
    println!("{garages} garages, {refused} ends refused");
    println!(
        "{:6} {:34} {:>7} {:>12} {:>20} {:>8}",
        "end", "quantity", "garages", "95 % covers", "mean uncertainty", "bias/u"
    );
    for (end, held) in End::BOTH.into_iter().zip(&held) {
        for ((name, scale, unit), of) in LOOKED_AT.into_iter().zip(held) {
            let mean = |sum: f64| sum / of.count;
            let width = format!("{:.2} {unit}", scale * mean(of.width));
            let covers = 100.0 * mean(of.held);
            println!("{end:6} {name:34} {:>7} {covers:>10.1} % {width:>20} {:>+8.3}", of.count, mean(of.error));
        }
    }
    for (place, end) in End::BOTH.into_iter().enumerate() {
        let [stated, came] = [stated[place], came[place]].map(|sum| 100.0 * sum / ends[place]);
        println!("{end}: what is advised lands with {stated:.1} % as stated, {came:.1} % in truth");
    }
    assert!(refused <= 0.01 * garages as f64 + 1.0, "{refused} refused");
    for (place, end) in End::BOTH.into_iter().enumerate() {
        for ((name, ..), of) in LOOKED_AT.into_iter().zip(&held[place]) {
            let stray = STRAY * (0.95 * 0.05 / of.count).sqrt();
            assert!(of.held / of.count >= LEAST - stray, "{end} {name}: {:.3} of {}", of.held / of.count, of.count);
        }
        let stray = STRAY * 0.35 / ends[place].sqrt();
        let [stated, came] = [stated[place], came[place]].map(|sum| sum / ends[place]);
        assert!(came > stated - COMES_TRUE - stray, "{end}: stated {stated:.3}, came true {came:.3}");
    }
}
