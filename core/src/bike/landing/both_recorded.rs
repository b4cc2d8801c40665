//! The integration of the whole bike, watched.

use differential_equations::control::ControlFlag;
use differential_equations::interpolate::Interpolation;
use differential_equations::ivp::IVP;
use differential_equations::methods::ExplicitRungeKutta;
use differential_equations::solout::Solout;
use differential_equations::solution::Solution;

use super::bike_motion::{BikeEnergy, BikeMotion, BikeMotionEnd};
use super::both::{BY_BRAKES, BY_LEGS, Both, PITCH, RIDER, RISE, Whole};
use super::end_motion::Bottoming;
use super::motion::{BY_DAMPER, BY_FRICTION, BY_GROUND};
use super::recorded::{MOST_STEPS, SAMPLES, TOLERANCE, crossing, keep_instants, reason, speed, travel, turning};
use crate::error::{BikeError, Result};
use crate::record::Ends;
use crate::units::{Acceleration, Angle, Energy, Force, Length, Quantity, Time, Velocity};

/// Peaks of one end.
#[derive(Debug, Clone, Copy)]
struct Peaks {
    travel: (f64, f64),
    tyre: f64,
    bottoming: Option<(f64, f64)>,
    metal: f64,
}

struct Recorder<'m, 'a> {
    model: &'m Both<'a>,
    duration: f64,
    samples: Vec<(f64, Whole)>,
    peaks: [Peaks; 2],
    /// Least and most pitch.
    pitch: [f64; 2],
}

impl Recorder<'_, '_> {
    fn look(&mut self, end: usize, time: f64, y: &Whole) {
        let own = self.model.end(end, y);
        let peaks = &mut self.peaks[end];
        if travel(&own) > peaks.travel.1 {
            peaks.travel = (time, travel(&own));
        }
        peaks.tyre = peaks.tyre.max(self.model.ends[end].forces(time, &own)[1]);
        peaks.metal = peaks.metal.max(self.model.ends[end].in_metal(&own));
        self.pitch = [self.pitch[0].min(y[PITCH]), self.pitch[1].max(y[PITCH])];
    }
}

impl Solout<f64, Whole> for &mut Recorder<'_, '_> {
    fn solout<I>(
        &mut self,
        now: f64,
        before: f64,
        y: &Whole,
        y_before: &Whole,
        interpolator: &mut I,
        _solution: &mut Solution<f64, Whole>,
    ) -> ControlFlag<f64, Whole>
    where
        I: Interpolation<f64, Whole> + ?Sized,
    {
        if now <= before {
            return ControlFlag::Continue;
        }
        let model = self.model;
        for end in [0, 1] {
            let full = model.ends[end].full();
            let opening = |_: f64, y: &Whole| -speed(&model.end(end, y));
            let relaxing = |time: f64, y: &Whole| -model.ends[end].tyre_closing(time, &model.end(end, y));
            let mut top =
                |stops: &dyn Fn(f64, &Whole) -> f64| turning(interpolator, [(before, y_before), (now, y)], stops);
            let (longest, hardest) = (top(&opening), top(&relaxing));
            let travelled = |y: &Whole| travel(&model.end(end, y));
            if self.peaks[end].bottoming.is_none() && travelled(y_before) < full {
                let reached = longest.iter().copied().chain([(now, *y)]).find(|(_, y)| travelled(y) >= full);
                let at = reached.and_then(|(time, _)| crossing(interpolator, before, time, |_, y| travelled(y) - full));
                self.peaks[end].bottoming = at.map(|(time, y)| (time, speed(&model.end(end, &y))));
            }
            for (time, y) in longest.into_iter().chain(hardest) {
                self.look(end, time, &y);
            }
            self.look(end, now, y);
        }
        keep_instants(&mut self.samples, self.duration, now, interpolator)
    }
}

pub(super) fn record(model: &Both<'_>, start: Whole, duration: f64) -> Result<BikeMotion> {
    let first = [0, 1].map(|end| Peaks {
        travel: (0.0, travel(&model.end(end, &start))),
        tyre: model.forces(end, 0.0, &start)[1],
        bottoming: None,
        metal: 0.0,
    });
    let pitch = [start[PITCH]; 2];
    let mut recorder = Recorder { model, duration, samples: vec![(0.0, start)], peaks: first, pitch };
    let method = ExplicitRungeKutta::dopri5()
        .rtol(TOLERANCE)
        .atol(model.scale().map(|scale| scale * TOLERANCE))
        .h_max(model.grain())
        .max_steps(MOST_STEPS);
    let solved = IVP::ode(model, 0.0, duration, start).method(method).solout(&mut recorder).solve();
    solved.map_err(|error| BikeError::Integration { reason: reason(&error) })?;
    if recorder.samples.len() <= SAMPLES {
        let reason = format!("no motion is known after {} of {SAMPLES} instants", recorder.samples.len());
        return Err(BikeError::Integration { reason }.into());
    }
    let samples = &recorder.samples;
    let (end_time, last) = *samples.last().unwrap_or(&(0.0, start));
    let column = |of: &dyn Fn(f64, &Whole) -> f64| samples.iter().map(|(time, y)| of(*time, y)).collect::<Vec<_>>();
    let lengths = |of: &dyn Fn(f64, &Whole) -> f64| column(of).into_iter().map(Length::from_si).collect::<Vec<_>>();
    let forces = |of: &dyn Fn(f64, &Whole) -> f64| column(of).into_iter().map(Force::from_si).collect();
    let end = |end: usize| {
        let peaks = recorder.peaks[end];
        BikeMotionEnd {
            travel: lengths(&|_, y| travel(&model.end(end, y))),
            wheel_force: forces(&|time, y| model.forces(end, time, y)[0]),
            tyre_force: forces(&|time, y| model.forces(end, time, y)[1]),
            full_travel: Length::from_si(model.ends[end].full()),
            rest_travel: Length::from_si(model.ends[end].rest()),
            peak_travel: Length::from_si(peaks.travel.1),
            peak_travel_time: Time::from_si(peaks.travel.0),
            peak_tyre_force: Force::from_si(peaks.tyre),
            bottoming: peaks.bottoming.map(|(time, speed)| Bottoming {
                time: Time::from_si(time),
                speed: Velocity::from_si(speed),
                energy: Energy::from_si(peaks.metal),
            }),
        }
    };
    let taken = |place: usize| [0, 1].map(|end| model.end(end, &last)[place]).iter().sum::<f64>();
    let given_up = model.energy(0.0, &start) - model.energy(end_time, &last);
    let (ground, damper, friction) = (taken(BY_GROUND), taken(BY_DAMPER), taken(BY_FRICTION));
    let missing = given_up + ground + last[BY_BRAKES] - damper - friction - last[BY_LEGS];
    Ok(BikeMotion {
        time: column(&|time, _| time).into_iter().map(Time::from_si).collect(),
        body_rise: lengths(&|_, y| y[RISE] - start[RISE]),
        rider_rise: lengths(&|_, y| y[RIDER] - start[RIDER]),
        pitch: column(&|_, y| y[PITCH] - start[PITCH]).into_iter().map(Angle::from_si).collect(),
        deceleration: column(&|time, y| model.deceleration(time, y)).into_iter().map(Acceleration::from_si).collect(),
        ends: Ends { front: end(0), rear: end(1) },
        peak_pitch: Angle::from_si(recorder.pitch[1] - start[PITCH]),
        least_pitch: Angle::from_si(recorder.pitch[0] - start[PITCH]),
        energy: BikeEnergy {
            given_up: Energy::from_si(given_up),
            by_ground: Energy::from_si(ground),
            by_brakes: Energy::from_si(last[BY_BRAKES]),
            by_damper: Energy::from_si(damper),
            by_friction: Energy::from_si(friction),
            by_legs: Energy::from_si(last[BY_LEGS]),
            missing: Energy::from_si(missing),
        },
    })
}
