use differential_equations::error::Error;
use differential_equations::interpolate::Interpolation;
use nalgebra::{SMatrix, SVector};

use super::super::motion::{Ground, Model, State, WHEEL};
use super::super::{Damper, EndMotion, MovingEnd, MovingParts};
use super::{Recorder, reason, settled, turning};
use crate::bike::ride::natural_frequency;
use crate::fork::{Fork, ForkLeg};
use crate::spring::Preloaded;
use crate::units::kind::STANDARD_GRAVITY_SI as GRAVITY;
use crate::units::{Angle, DampingRate, Force, Length, Mass, Quantity, SpringRate, Time, WheelRate};
use crate::wheel::{FrontEnd, Wheel};

const SPRUNG: f64 = 80.0;
const UNSPRUNG: f64 = 14.0;
const TYRE: f64 = 160e3;
const RATE: f64 = 9000.0;
const PRELOAD: f64 = 0.012;

/// An upright fork, so that it is the wheel: one spring, 300 mm.
fn fork() -> FrontEnd {
    let spring = Preloaded::linear(SpringRate::from_si(RATE), Length::from_si(PRELOAD)).unwrap();
    let legs = [ForkLeg::new().with_spring(spring), ForkLeg::new()];
    FrontEnd::new(Fork::new(Length::from_si(0.3), Angle::from_si(0.0), legs).unwrap())
}

fn parts(damping: f64, friction: f64) -> MovingParts {
    MovingParts {
        sprung: Mass::from_si(SPRUNG),
        unsprung: Mass::from_si(UNSPRUNG),
        tyre: WheelRate::from_si(TYRE),
        friction: Force::from_si(friction),
        damper: Damper::linear(DampingRate::from_si(damping)).unwrap(),
    }
}

fn m(value: f64) -> Length {
    Length::from_si(value)
}

fn s(value: f64) -> Time {
    Time::from_si(value)
}

/// While it stays off its stops and on the ground, an end of straight springs is a linear system; with the half cosine
/// of the ground as two more states its motion is a matrix exponential. Deviations from rest: body, its speed, wheel, its
/// speed; then cosine, sine and one.
struct Linear {
    height: f64,
    rise: f64,
    damping: f64,
}

/// Low enough for the tyre to stay on the ground.
const LOW_STEP: Linear = Linear { height: 0.008, rise: 0.03, damping: 700.0 };

impl Linear {
    fn system(&self, moving: bool) -> SMatrix<f64, 7, 7> {
        let omega = std::f64::consts::PI / self.rise;
        let mut a = SMatrix::<f64, 7, 7>::zeros();
        a[(0, 1)] = 1.0;
        a[(2, 3)] = 1.0;
        for (row, mass, sign) in [(1, SPRUNG, 1.0), (3, UNSPRUNG, -1.0)] {
            for (column, of) in [(0, -RATE), (1, -self.damping), (2, RATE), (3, self.damping)] {
                a[(row, column)] = sign * of / mass;
            }
        }
        a[(3, 2)] -= TYRE / UNSPRUNG;
        a[(3, 6)] = TYRE / UNSPRUNG * self.height * if moving { 0.5 } else { 1.0 };
        if moving {
            a[(3, 4)] = -0.5 * TYRE / UNSPRUNG * self.height;
            a[(4, 5)] = -omega;
            a[(5, 4)] = omega;
        }
        a
    }

    fn at(&self, time: f64) -> SVector<f64, 7> {
        let start = SVector::<f64, 7>::from([0.0, 0.0, 0.0, 0.0, 1.0, 0.0, 1.0]);
        let risen = (self.system(true) * time.min(self.rise)).exp() * start;
        (self.system(false) * (time - self.rise).max(0.0)).exp() * risen
    }

    fn tyre_force(&self, time: f64) -> f64 {
        let phase = std::f64::consts::PI * (time / self.rise).min(1.0);
        let ground = 0.5 * self.height * (1.0 - phase.cos());
        (SPRUNG + UNSPRUNG) * GRAVITY + TYRE * (ground - self.at(time)[2])
    }

    fn travel(&self, time: f64) -> f64 {
        let y = self.at(time);
        SPRUNG * GRAVITY / RATE - PRELOAD + y[2] - y[0]
    }

    fn motion(&self, duration: f64) -> EndMotion {
        let end = fork();
        let moving = MovingEnd::front(&end, parts(self.damping, 0.0)).unwrap();
        moving.step(m(self.height), s(self.rise), s(duration)).unwrap()
    }
}

#[test]
fn a_step_is_followed_as_the_matrix_exponential_says() {
    /// The error allowed per step, over the thousand steps taken.
    const CLOSE: f64 = 1e-7;
    let motion = LOW_STEP.motion(1.0);
    for (at, time) in motion.time.iter().enumerate() {
        let exact = LOW_STEP.at(time.si());
        let (body, wheel) = (motion.body_rise[at].si(), motion.wheel_rise[at].si());
        assert!((body - exact[0]).abs() < CLOSE && (wheel - exact[2]).abs() < CLOSE, "{time:?} {body} {exact}");
    }
    assert!(motion.bottoming.is_none() && motion.settled_after.is_some());
}

/// The largest of a function with one top between two times, by thirds.
fn top(of: impl Fn(f64) -> f64, mut from: f64, mut to: f64) -> f64 {
    for _ in 0..60 {
        let third = (to - from) / 3.0;
        if of(from + third) < of(to - third) {
            from += third;
        } else {
            to -= third;
        }
    }
    of(f64::midpoint(from, to))
}

#[test]
fn peaks_are_those_of_the_matrix_exponential() {
    /// Half a swing of wheel and body holds their first and highest tops.
    const SWINGS: [f64; 2] = [0.04, 0.3];
    /// In metres of tyre and travel: a billionth of the travel in each of the tens of steps up to a peak.
    const CLOSE: f64 = 1e-8;
    let force = top(|time| LOW_STEP.tyre_force(time), 0.0, SWINGS[0]);
    let travel = top(|time| LOW_STEP.travel(time), 0.0, SWINGS[1]);
    for duration in [0.5, 3.0, 20.0, 60.0] {
        let motion = LOW_STEP.motion(duration);
        let off = [(motion.peak_tyre_force.si() - force) / TYRE, motion.peak_travel.si() - travel];
        assert!(off.iter().all(|off| off.abs() < CLOSE), "{duration}: {off:?}");
    }
}

#[test]
fn peaks_of_a_landing_do_not_depend_on_how_long_one_looks() {
    /// The error allowed per step, over the steps up to the peak.
    const CLOSE: f64 = 1e-7;
    let end = fork();
    for (height, friction) in [(0.3, 0.0), (0.3, 60.0), (1.5, 60.0)] {
        let moving = MovingEnd::front(&end, parts(700.0, friction)).unwrap();
        let peaks = |duration: f64| {
            let motion = moving.land(m(height), s(duration)).unwrap();
            let highest = motion.tyre_force.iter().fold(0.0, |most: f64, force| most.max(force.si()));
            assert!(highest <= motion.peak_tyre_force.si() * (1.0 + CLOSE), "{duration}: {highest}");
            let metal = motion
                .bottoming
                .map_or([0.0; 3], |bottoming| [bottoming.time.si(), bottoming.speed.si(), bottoming.energy.si()]);
            let [time, speed, energy] = metal;
            (
                highest,
                [
                    motion.peak_tyre_force.si(),
                    motion.peak_travel.si(),
                    motion.peak_travel_time.si(),
                    time,
                    speed,
                    energy,
                ],
            )
        };
        let (mut below, shortest) = peaks(0.5);
        for duration in [1.0, 5.0, 30.0] {
            let (highest, found) = peaks(duration);
            for (found, shortest) in found.into_iter().zip(shortest) {
                assert!((found - shortest).abs() <= CLOSE * shortest, "{height} m, {duration} s: {found} {shortest}");
            }
            below = below.max(highest);
        }
        // The highest of the instants comes near the peak as they come close together: by the square of half their
        // distance, of the frequency of the wheel on its tyre and halved again.
        let swing = 0.5 * (0.5 * 0.5e-3 * (TYRE / UNSPRUNG).sqrt()).powi(2);
        assert!(1.0 - below / shortest[0] < 2.0 * swing, "{below} {}", shortest[0]);
    }
}

/// Without damper and friction nothing is lost, and the peak is where the energy says.
#[test]
fn a_fall_onto_bare_springs_keeps_its_energy() {
    /// A thousand steps at a billionth each.
    const KEPT: f64 = 1e-6;
    /// Half a kilogram of wheel on a stiff tyre is nearly none.
    const NEARLY: f64 = 0.01;
    let end = fork();
    let drop = 0.2;
    let motion = MovingEnd::front(&end, parts(0.0, 0.0)).unwrap().land(m(drop), s(1.0)).unwrap();
    let brought = (SPRUNG + UNSPRUNG) * GRAVITY * drop;
    assert!(motion.energy.missing.si().abs() < KEPT * brought, "{:?}", motion.energy);
    assert_eq!((motion.energy.by_damper.si(), motion.energy.by_friction.si()), (0.0, 0.0));
    assert!(motion.settled_after.is_none(), "it swings for ever");

    let light = MovingParts { unsprung: Mass::from_si(0.5), tyre: WheelRate::from_si(4e6), ..parts(0.0, 0.0) };
    let peak = MovingEnd::front(&end, light).unwrap().land(m(drop), s(1.0)).unwrap().peak_travel.si();
    let taken = 0.5 * RATE * peak * (peak + 2.0 * PRELOAD);
    assert!((taken / (SPRUNG * GRAVITY * (drop + peak)) - 1.0).abs() < NEARLY, "{taken}");
}

#[test]
fn every_joule_is_accounted_for() {
    /// A thousand steps at a billionth each.
    const KEPT: f64 = 1e-6;
    let end = fork();
    let moving = MovingEnd::front(&end, parts(900.0, 80.0)).unwrap();
    for motion in [moving.land(m(0.5), s(2.0)).unwrap(), moving.step(m(0.08), s(0.02), s(2.0)).unwrap()] {
        let account = motion.energy;
        let through = account.by_damper + account.by_friction;
        assert!(account.missing.si().abs() < KEPT * through.si(), "{account:?}");
        assert!(account.by_friction.si() > 0.0 && account.by_damper > account.by_friction);
    }
}

/// Den Hartog, *Mechanical Vibrations*: dry friction takes `4·F/k` from the swing per cycle.
#[test]
fn dry_friction_takes_the_same_length_off_every_swing() {
    /// Building up over 0.2 mm, wheel and tyre take a little of it away from 26.7 mm.
    const NEARLY: f64 = 0.06;
    let friction = 60.0;
    let end = fork();
    let light = MovingParts { unsprung: Mass::from_si(0.5), tyre: WheelRate::from_si(4e6), ..parts(0.0, friction) };
    let motion = MovingEnd::front(&end, light).unwrap().step(m(0.1), s(0.1), s(4.0)).unwrap();
    let z: Vec<f64> = motion.travel.iter().map(|z| z.si()).collect();
    // A cycle lasts 0.6 s or 148 samples: the highest within a quarter of it either way is a top of the swing.
    let quarter = 37;
    let top = |at: &usize| z[at - quarter..=at + quarter].iter().all(|&other| other <= z[*at]);
    let tops: Vec<f64> = (quarter..z.len() - quarter).filter(top).map(|at| z[at]).collect();
    let lost = tops[0] - tops[1];
    assert!((lost / (4.0 * friction / RATE) - 1.0).abs() < NEARLY, "{lost} {tops:?}");
    // It ends anywhere in the band, and stays there.
    let held = RATE * (z[z.len() - 1] + PRELOAD) - SPRUNG * GRAVITY;
    assert!(held.abs() <= friction * (1.0 + NEARLY), "{held}");
    assert!((z[z.len() - 1] - z[z.len() - 20]).abs() < 1e-4);
}

#[test]
fn a_hard_landing_bottoms_and_says_how_hard() {
    let end = fork();
    let moving = MovingEnd::front(&end, parts(600.0, 40.0)).unwrap();
    let soft = moving.land(m(0.3), s(1.5)).unwrap();
    let hard = moving.land(m(2.0), s(1.5)).unwrap();
    assert!(soft.bottoming.is_none() && soft.peak_travel < end.full_travel());
    let bottoming = hard.bottoming.unwrap();
    assert!(bottoming.speed.si() > 1.0 && bottoming.energy.si() > 10.0 && bottoming.time < hard.peak_travel_time);
    assert!(hard.peak_travel > end.full_travel() && hard.peak_tyre_force > soft.peak_tyre_force);
    assert!(soft.peak_travel > soft.rest_travel && soft.tyre_force[0].si() == 0.0);
    assert_eq!(soft.time.len(), super::SAMPLES + 1);
    assert_eq!(moving.land(m(0.3), s(0.7)).unwrap().time.len(), super::SAMPLES + 1);
}

#[test]
fn faults_name_the_part() {
    let end = fork();
    let say = |parts| MovingEnd::front(&end, parts).unwrap_err().to_string();
    assert!(say(MovingParts { sprung: Mass::from_si(0.0), ..parts(1.0, 0.0) }).starts_with("sprung:"));
    assert!(say(MovingParts { tyre: WheelRate::from_si(160.0), ..parts(1.0, 0.0) }).starts_with("tyre:"));
    let moving = MovingEnd::front(&end, parts(1.0, 0.0)).unwrap();
    assert!(moving.land(m(-0.1), s(1.0)).unwrap_err().to_string().starts_with("height:"));
    assert!(moving.land(m(0.1), s(0.0)).unwrap_err().to_string().starts_with("duration:"));
}

#[test]
fn a_step_in_time_is_an_eighth_of_half_a_swing_or_of_a_rise() {
    let end = fork();
    let hop = natural_frequency(WheelRate::from_si(TYRE), Mass::from_si(UNSPRUNG)).unwrap();
    let half_a_swing = 0.5 / hop.si();
    let grain = |ground| Model::new(&end, &parts(700.0, 0.0), ground).grain();
    let flat = grain(Ground::Flat);
    assert!((8.0 * flat / half_a_swing - 1.0).abs() < 1e-12, "{flat} {half_a_swing}");
    let rise = |rise: f64| grain(Ground::Step { height: 0.01, rise });
    assert!((rise(8e-3) - 1e-3).abs() < 1e-15 && (rise(1.0) - flat).abs() < 1e-15);
}

#[test]
fn the_metal_holds_what_the_deepest_travel_presses_into_it() {
    let end = fork();
    let hard = MovingEnd::front(&end, parts(600.0, 40.0)).unwrap().land(m(2.0), s(1.5)).unwrap();
    let beyond = hard.peak_travel.si() - end.full_travel().si();
    // One millimetre under 5 kN, of a straight rate: 2.5 J, and so on with the square.
    let held = 2.5 * (beyond / 1e-3).powi(2);
    let energy = hard.bottoming.unwrap().energy.si();
    assert!((energy / held - 1.0).abs() < 1e-9, "{energy} {held}");
    // No more than the fall brought.
    assert!(energy < (SPRUNG + UNSPRUNG) * GRAVITY * (2.0 + hard.peak_travel.si()));
}

#[test]
fn an_end_beyond_its_springs_rests_on_its_metal() {
    /// Of the metal (N/m): a force of a kilonewton is found to a billionth of a newton.
    const METAL: f64 = 5e6;
    let end = fork();
    let heavy = MovingParts { sprung: Mass::from_si(400.0), ..parts(700.0, 0.0) };
    let over = 400.0 * GRAVITY - RATE * (0.3 + PRELOAD);
    let moving = MovingEnd::front(&end, heavy).unwrap();
    let motion = moving.step(m(0.0), s(0.1), s(0.3)).unwrap();
    let rest = 0.3 + over / METAL;
    assert!((motion.rest_travel.si() - rest).abs() < 1e-12, "{:?} {rest}", motion.rest_travel);
    assert!(motion.travel.iter().all(|travel| (travel.si() - rest).abs() < 1e-9), "it stays there");
    // Hanging, the preload presses the wheel against the other stop.
    let hangs = moving.land(m(0.1), s(0.1)).unwrap().travel[0].si();
    assert!((hangs + RATE * PRELOAD / METAL).abs() < 1e-12, "{hangs}");
}

/// An end at a travel.
fn at(travel: f64) -> State {
    let mut y = State::default();
    y[WHEEL] = travel;
    y
}

#[test]
fn an_end_has_settled_once_it_stays_in_the_band_for_a_tenth_of_the_time() {
    let of = |travels: &[f64]| {
        let samples: Vec<(f64, State)> = travels.iter().zip(0..).map(|(z, time)| (f64::from(time), at(*z))).collect();
        settled(&samples).map(|time| time.si())
    };
    let swings = |outside: usize| {
        let mut travels = [0.0; 20];
        (travels[0], travels[outside]) = (1.0, 0.5);
        of(&travels)
    };
    assert_eq!(of(&[0.1; 20]), Some(0.0), "it never moved");
    // The very edge of the band, a twentieth of the furthest, is in it.
    assert_eq!(of(&[1.0, 0.2, 0.05, 0.0, 0.0]), Some(2.0));
    assert_eq!(of(&[1.0, 0.2, 0.051, 0.0, 0.0]), Some(3.0));
    assert_eq!(of(&[1.0, -0.2, -0.049, 0.0, 0.0]), Some(2.0));
    assert_eq!((swings(17), swings(18)), (Some(18.0), None));
    assert_eq!(of(&[]), None);
}

#[test]
fn the_first_of_travels_alike_is_the_peak() {
    let end = fork();
    let model = Model::new(&end, &parts(700.0, 0.0), Ground::Flat);
    let (samples, bottoming) = (Vec::new(), None);
    let peak = (0.0, 0.04);
    let mut recorder = Recorder { model: &model, duration: 1.0, samples, peak, tyre: 0.0, bottoming, metal: 0.0 };
    for (time, travel) in [(0.1, 0.05), (0.2, 0.06), (0.3, 0.06), (0.4, 0.05)] {
        recorder.look(time, &at(travel));
    }
    assert_eq!(recorder.peak, (0.2, 0.06));
}

/// A state that is the time.
struct Clock;

impl Interpolation<f64, [f64; 1]> for Clock {
    fn interpolate(&mut self, time: f64) -> Result<[f64; 1], Error<f64, [f64; 1]>> {
        Ok([time])
    }
}

#[test]
fn a_quantity_turns_only_where_it_is_below_zero_before_and_not_after() {
    let turns = |before: f64, now: f64, sign: f64| {
        let ends = [(before, &[before]), (now, &[now])];
        turning(&mut Clock, ends, |_, y: &[f64; 1]| sign * (y[0] - 0.3)).map(|(time, _)| time)
    };
    let found = turns(0.0, 1.0, 1.0).unwrap();
    // Fifty halvings of one.
    assert!((found - 0.3).abs() < 1e-15, "{found}");
    assert!(turns(0.0, 0.3, 1.0).is_some_and(|time| (time - 0.3).abs() < 1e-15), "where it ends at zero");
    assert_eq!(turns(0.3, 1.0, 1.0), None, "where it begins there it has not been below");
    assert_eq!((turns(0.5, 1.0, 1.0), turns(0.0, 0.2, 1.0), turns(0.0, 1.0, -1.0)), (None, None, None));
}

#[test]
fn an_integration_that_fails_says_where_and_why() {
    let (t, y) = (0.125, [0.0; 2]);
    let said = [Error::MaxSteps { t, y }, Error::StepSize { t, y }, Error::Stiffness { t, y }].map(|one| reason(&one));
    for (said, why) in said.iter().zip(["5000000 steps", "no step is small enough", "too stiff"]) {
        assert!(said.contains("0.125 s") && said.contains(why), "{said}");
    }
    assert!(reason(&Error::<f64, [f64; 2]>::BadInput { msg: "a bound".to_owned() }).contains("a bound"));
}
