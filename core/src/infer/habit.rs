//! Where in the friction band a wheel was settled by a person who did not note it, as far as the readings show.
//!
//! Either that person pushed down every time, but for a slip now and then, or did anything. With the half band `h = f/k` and the
//! middle `c` of a place, its readings `x` of standard deviation `s` are then
//!
//! `p(x | pushed) = (1 − e)·N(x; c − h, s²) + e·p(x | anything)`, `p(x | anything) = [Φ((x − c + h)/s) − Φ((x − c − h)/s)]/2h`.
//!
//! Who pushed down reads the same again and again; who did anything scatters over the band. By Bayes' rule, with any `c` and
//! with the friction of the prior, `P(pushed | x) ∝ P(pushed)·Σ_f P(f)·Π_places ∫ Π_x p(x | pushed) dc`. Mean and variance of
//! the place in the band follow from that chance, and every reading of that person takes them.
//!
//! Both sums are over even steps. A lone reading says nothing, nor does one on a stop; friction that other readings measure
//! is not looked at, and what one place says of the middle of another neither.

use crate::infer::doubts::Habit;
use crate::infer::model::Expansion;
use crate::infer::posterior::{Evidence, Observation};
use crate::infer::probability::{normal_density, roughly_within};

/// Frictions looked at, evenly up to this many standard deviations above the mean.
const FRICTIONS: usize = 6;
const MOST_FRICTION: f64 = 2.0;
/// Steps over the middle of a place, in standard deviations of a reading: several for the width of the cliff that pushing down makes.
const STEP: f64 = 0.7;
/// Standard deviations of a reading beyond which it lies outside of the band.
const BEYOND: f64 = 4.0;
/// Most steps; a band so much wider than the tape is decided long before.
const MOST_STEPS: f64 = 100.0;

/// Readings of one place: what the band measures per force there, and distances with their standard deviations.
struct Repeats {
    per_force: f64,
    like: Observation,
    readings: Vec<(f64, f64)>,
}

impl Repeats {
    /// Likelihoods of anything and of pushing down, in units of what both have in common.
    fn likelihoods(&self, friction: f64, slip: f64) -> [f64; 2] {
        let half = self.per_force * friction;
        let over = |of: fn(f64, f64) -> f64, from: f64| self.readings.iter().map(|one| one.0).fold(from, of);
        let (least, most) = (over(f64::min, f64::INFINITY), over(f64::max, f64::NEG_INFINITY));
        let finest = self.readings.iter().map(|one| one.1).fold(f64::INFINITY, f64::min);
        let (from, to) = (most - half, least + half);
        let (from, to) =
            (from.min(f64::midpoint(from, to)) - BEYOND * finest, to.max(f64::midpoint(from, to)) + BEYOND * finest);
        let steps = ((to - from) / (STEP * finest)).ceil().clamp(1.0, MOST_STEPS);
        let step = (to - from) / steps;
        let mut sums = [0.0; 2];
        for k in 0..=(steps as usize) {
            let middle = from + k as f64 * step;
            let mut both = [step; 2];
            for &(distance, deviation) in &self.readings {
                let anywhere =
                    roughly_within((distance, deviation), (middle - half, middle + half)) * finest / (2.0 * half);
                let low = normal_density((distance - middle + half) / deviation) * finest / deviation;
                both = [both[0] * anywhere, both[1] * ((1.0 - slip) * low + slip * anywhere)];
            }
            sums = [sums[0] + both[0], sums[1] + both[1]];
        }
        sums
    }
}

impl Evidence {
    /// Mean and variance of the place in the friction band of a reading whose settling nobody noted.
    pub(crate) fn habit(&self) -> (f64, f64) {
        let Habit { pushed, slip } = self.doubts.habit;
        if pushed <= 0.0 {
            return Habit::moments(0.0, slip);
        }
        let mut places: Vec<Repeats> = Vec::new();
        for one in self.observations.iter().filter(|one| one.unnoted && !one.may_top_out && !one.may_bottom_out) {
            let reading = (one.distance, one.deviation);
            if let Some(place) = places.iter_mut().find(|place| place.like.is_at_the_place_of(one)) {
                place.readings.push(reading);
            } else if let Some(per_force) = self.band_per_force(one) {
                places.push(Repeats { per_force, like: *one, readings: vec![reading] });
            }
        }
        places.retain(|place| place.readings.len() > 1);
        let (mean, deviation) = self.priors.friction;
        let most = mean + MOST_FRICTION * deviation;
        let mut sums = [0.0; 2];
        for k in 0..FRICTIONS {
            let friction = most * (k as f64 + 0.5) / FRICTIONS as f64;
            let before = normal_density((friction - mean) / deviation);
            let each = places.iter().map(|place| place.likelihoods(friction, slip));
            let both = each.fold([before; 2], |all, one| [all[0] * one[0], all[1] * one[1]]);
            sums = [sums[0] + both[0], sums[1] + both[1]];
        }
        let [anything, down] = sums;
        let chance = pushed * down / (pushed * down + (1.0 - pushed) * anything);
        // Readings that neither explains leave it where it was.
        Habit::moments(if chance.is_finite() { chance } else { pushed }, slip)
    }

    /// Half the friction band on the tape, per friction, where a reading was taken.
    fn band_per_force(&self, one: &Observation) -> Option<f64> {
        let [factor, preload, _, zero] = self.physical(&vec![0.0; self.unknowns()]);
        let extended = self.end.kinematics(0.0)?;
        let travel = (zero - one.distance - extended.tape) / extended.tape_slope;
        let there = Expansion::about(self.end.as_ref(), travel)?;
        let per_force = there.tape(travel).1 / there.wheel_force(self.end.as_ref(), travel, factor, preload).rate;
        (per_force.is_finite() && per_force > 0.0).then_some(per_force)
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::Bike;
    use crate::demo::PATROL;
    use crate::infer::Study;
    use crate::infer::doubts::Doubts;
    use crate::infer::fit::tests::{BOTH, LABEL, readings, solve};
    use crate::infer::model::SprungEnd;
    use crate::infer::model::tests::{OnTape, Straight};
    use crate::infer::probability::normal_cdf;
    use crate::record::{End, Load};
    use crate::units::{Length, Quantity};

    /// The rear of the demo bike with nothing noted, and these distances from the middle of what was read under every load (mm).
    fn place_in_the_band(off: &[f64]) -> (f64, f64) {
        let demo = Bike::from_toml(PATROL).unwrap();
        let rear =
            |load: &Load| -> Vec<_> { demo.readings_of(End::Rear).filter(|one| one.load == *load).cloned().collect() };
        let mut readings = rear(&Load::None);
        for load in ["bike", "bike + rider"].map(|load| Load::parse(load).unwrap()) {
            let read = rear(&load);
            let middle = read.iter().map(|one| one.distance.si()).sum::<f64>() / read.len() as f64;
            readings.extend(off.iter().map(|off| {
                let mut one = read[0].clone();
                (one.settled, one.distance) = (None, Length::from_si(middle + 1e-3 * off));
                one
            }));
        }
        let bike = demo.with(|parts| parts.readings = readings).unwrap();
        Study::new(&bike, End::Rear, &[]).unwrap().solved.evidence.unnoted
    }

    #[test]
    fn repeats_that_agree_were_pushed_down_and_those_that_scatter_were_not() {
        let (nothing_known, _) = place_in_the_band(&[0.0]);
        let (agree, _) = place_in_the_band(&[-0.5, 0.5, 0.0, 0.3]);
        let (scatter, spread) = place_in_the_band(&[-9.0, 9.0, 3.0, -4.0]);
        // Half of the people, four times out of five.
        assert!((nothing_known - 0.4).abs() < 1e-12, "{nothing_known}");
        assert!(agree > nothing_known + 0.05, "{agree}");
        assert!(scatter < 0.1, "{scatter}");
        // Then anywhere in the band: a uniform place has the variance 1/3.
        assert!((spread - 1.0 / 3.0).abs() < 0.05, "{spread}");
    }

    #[test]
    fn readings_that_nothing_explains_leave_it_where_it_was() {
        let (lost, _) = place_in_the_band(&[-150.0, 150.0]);
        assert!((0.0..=0.4).contains(&lost), "{lost}");
    }

    const HABIT: Habit = Habit { pushed: 0.5, slip: 0.2 };
    const TAPE: f64 = 1.5e-3;
    const FRICTION: (f64, f64) = (60.0, 20.0);

    /// Sags of which nobody noted how they were settled, by their loads, counted from a zero, on an end.
    fn unnoted(end: &Straight, zero: f64, sags: &[(usize, f64)]) -> Evidence {
        let mut evidence = solve(end, &readings(end, &BOTH), LABEL, TAPE).evidence;
        let like = Observation { side: 0.0, unnoted: true, may_top_out: false, ..evidence.observations[1] };
        let one = |&(load, sag): &(usize, f64)| Observation { load: Some(load), distance: zero - sag, ..like };
        evidence.observations = sags.iter().map(one).collect();
        evidence.zero = zero;
        evidence.priors.friction = FRICTION;
        evidence.doubts = Doubts { habit: HABIT, ..Doubts::AS_STATED };
        evidence
    }

    /// `MR²·k + F·dMR/dz`.
    fn wheel_rate(end: &Straight, z: f64) -> f64 {
        let (ratio, stroke) = (end.ratio + end.slope * z, end.ratio * z + 0.5 * end.slope * z * z);
        ratio * ratio * end.spring_rate + end.slope * (end.spring_rate * (stroke + end.preload) + end.gas)
    }

    /// The chance of pushing down by plain sums, a hundred times as fine.
    fn pushed(end: &Straight, sags: &[(usize, f64)]) -> f64 {
        let Habit { pushed, slip } = HABIT;
        let mut places: Vec<Vec<f64>> = Vec::new();
        for load in 0..2 {
            places.push(sags.iter().filter(|(of, _)| *of == load).map(|(_, sag)| *sag).collect());
        }
        let (mut anything, mut down) = (0.0, 0.0);
        for k in 0..FINE {
            let friction = (FRICTION.0 + MOST_FRICTION * FRICTION.1) * (k as f64 + 0.5) / FINE as f64;
            let chance = normal_density((friction - FRICTION.0) / FRICTION.1);
            let (mut all_anything, mut all_down) = (chance, chance);
            for sags in places.iter().filter(|sags| sags.len() > 1) {
                let half = friction / wheel_rate(end, sags[0]);
                let (least, most) = sags.iter().fold((1.0_f64, 0.0_f64), |(a, b), sag| (a.min(*sag), b.max(*sag)));
                let (mut place_anything, mut place_down) = (0.0, 0.0);
                let (from, to) = (least - half - 8.0 * TAPE, most + half + 8.0 * TAPE);
                for k in 0..=FINE {
                    let middle = from + (to - from) * k as f64 / FINE as f64;
                    let (mut each_anything, mut each_down) = (1.0, 1.0);
                    for sag in sags {
                        let off = (sag - middle) / TAPE;
                        let anywhere = normal_cdf(off + half / TAPE) - normal_cdf(off - half / TAPE);
                        let anywhere = anywhere * TAPE / (2.0 * half);
                        // Pushed down, the sag is half a band more than in the middle.
                        each_anything *= anywhere;
                        each_down *= (1.0 - slip) * normal_density(off - half / TAPE) + slip * anywhere;
                    }
                    place_anything += (to - from) * each_anything;
                    place_down += (to - from) * each_down;
                }
                all_anything *= place_anything;
                all_down *= place_down;
            }
            anything += all_anything;
            down += all_down;
        }
        pushed * down / (pushed * down + (1.0 - pushed) * anything)
    }

    /// Steps of the plain sums.
    const FINE: usize = 400;

    #[test]
    fn the_chance_of_pushing_down_is_that_of_finer_sums_wherever_distances_count_from() {
        /// Six frictions stand for all there may be, and steps of 0.7 deviations for every middle.
        const COARSE: f64 = 0.02;
        let end = Straight::usual();
        let mut found = Vec::new();
        for sags in [
            &[(0, 0.031), (0, 0.032), (1, 0.104), (1, 0.103), (1, 0.1035)][..],
            &[(0, 0.031), (0, 0.036), (1, 0.104), (1, 0.1005)],
            &[(0, 0.031), (1, 0.104), (1, 0.110)],
            &[(0, 0.028), (0, 0.040), (0, 0.035), (1, 0.104), (1, 0.096)],
            // Further apart than a usual friction holds them: only the highest that are looked at explain it.
            &[(0, 0.020), (0, 0.045)],
            &[(0, 0.020), (0, 0.021), (0, 0.045)],
        ] {
            let chance = pushed(&end, sags);
            let (mean, variance) = Habit::moments(chance, HABIT.slip);
            for zero in [0.655, 0.0] {
                let habit = unnoted(&end, zero, sags).habit();
                assert!((habit.0 - mean).abs() < COARSE, "{sags:?} from {zero}: {habit:?}, {mean}");
                assert!((habit.1 - variance).abs() < COARSE, "{sags:?} from {zero}: {habit:?}, {variance}");
            }
            found.push(chance);
        }
        assert!(found[0] > 0.6 && found[3] < 0.2, "from pushed down to anything: {found:?}");
    }

    #[test]
    fn the_band_on_the_tape_is_the_force_over_the_wheel_rate_along_the_tape() {
        let straight = Straight::usual();
        for (from, slope) in [(0.0, 1.0), (0.01, 0.8), (-0.02, 1.25)] {
            let end: Arc<dyn SprungEnd> = Arc::new(OnTape(straight, move |travel| [from + slope * travel, slope]));
            for travel in [0.03, 0.11, 0.22] {
                let sags = [(0, from + slope * travel)];
                let evidence = Evidence { end: Arc::clone(&end), ..unnoted(&straight, 0.655, &sags) };
                let found = evidence.band_per_force(&evidence.observations[0]).unwrap();
                let exact = slope / wheel_rate(&straight, travel);
                assert!((found / exact - 1.0).abs() < 1e-9, "{from} {slope} {travel}: {found} {exact}");
            }
        }
    }

    #[test]
    fn a_tape_that_does_not_shorten_with_the_travel_says_nothing_of_who_held_it() {
        let sags = [(0, 0.2), (0, 0.2), (0, 0.2)];
        let straight = unnoted(&Straight::usual(), 0.655, &sags);
        let before = straight.habit();
        let back = OnTape(Straight::usual(), |travel: f64| [travel - 4.0 * travel * travel, 1.0 - 8.0 * travel]);
        let aslant = Evidence { end: Arc::new(back), ..straight };
        let nothing = Habit::moments(HABIT.pushed, HABIT.slip);
        assert_eq!(aslant.habit(), nothing);
        assert!(before.0 > nothing.0 + 0.1, "{before:?}");
    }
}
