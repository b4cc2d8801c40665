//! The integration, watched: instants, peaks, bottoming, and where the energy went.

use differential_equations::control::ControlFlag;
use differential_equations::error::Error;
use differential_equations::interpolate::Interpolation;
use differential_equations::ivp::IVP;
use differential_equations::methods::ExplicitRungeKutta;
use differential_equations::solout::Solout;
use differential_equations::solution::Solution;

use super::end_motion::{Bottoming, EndMotion, EnergyAccount};
use super::motion::{BODY, BODY_SPEED, BY_DAMPER, BY_FRICTION, BY_GROUND, Model, State, WHEEL, WHEEL_SPEED};
use crate::error::{BikeError, Result};
use crate::solve::try_turning;
use crate::units::{Energy, Force, Length, Quantity, Time, Velocity};

/// Instants recorded over the duration, besides the start.
pub(super) const SAMPLES: usize = 1000;
/// Relative error allowed in one step. The account of energies then holds to about a millionth.
pub(super) const TOLERANCE: f64 = 1e-9;
/// Steps before giving up: a minute of the stiffest end needs a tenth of this.
pub(super) const MOST_STEPS: usize = 5_000_000;
/// The solver's time adds up to the duration within this share of it.
const TIME_ROUNDING: f64 = 1e-12;
/// Halvings that close in on a peak: from any step to a rounding of it.
const HALVINGS: usize = 50;
/// The end has settled once it stays this close to where it ends, as a share of its largest distance from there (the 5 %
/// band of control engineering; Ogata, *Modern Control Engineering*, 5.3).
const SETTLED: f64 = 0.05;
/// Share of the duration, at its end, that has to lie inside the band for the end to count as settled.
const STAYS: f64 = 0.1;

/// Watches the integration.
struct Recorder<'m, 'a> {
    model: &'m Model<'a>,
    duration: f64,
    samples: Vec<(f64, State)>,
    peak: (f64, f64),
    tyre: f64,
    bottoming: Option<(f64, f64)>,
    metal: f64,
}

pub(super) fn travel(y: &State) -> f64 {
    y[WHEEL] - y[BODY]
}

pub(super) fn speed(y: &State) -> f64 {
    y[WHEEL_SPEED] - y[BODY_SPEED]
}

impl Recorder<'_, '_> {
    fn look(&mut self, time: f64, y: &State) {
        if travel(y) > self.peak.1 {
            self.peak = (time, travel(y));
        }
        self.tyre = self.tyre.max(self.model.forces(time, y)[1]);
        self.metal = self.metal.max(self.model.in_metal(y));
    }

    /// Notes when the end first lies at full travel, between an instant and one at which it does.
    fn bottom(&mut self, interpolator: &mut (impl Interpolation<f64, State> + ?Sized), from: f64, to: f64) {
        let full = self.model.full();
        let at = crossing(interpolator, from, to, |_, y| travel(y) - full);
        self.bottoming = at.map(|(time, y)| (time, speed(&y)));
    }
}

/// The instant in a step at which a quantity that is below zero at its start is above it at its end.
pub(super) fn crossing<const N: usize>(
    interpolator: &mut (impl Interpolation<f64, [f64; N]> + ?Sized),
    from: f64,
    to: f64,
    quantity: impl Fn(f64, &[f64; N]) -> f64,
) -> Option<(f64, [f64; N])> {
    let below = |time| interpolator.interpolate(time).map(|y| quantity(time, &y) < 0.0);
    let [_, to] = try_turning(below, [from, to], HALVINGS).ok()?;
    interpolator.interpolate(to).ok().map(|y| (to, y))
}

/// The instant in a step at which a quantity stops falling below zero, if it does: a peak of what it is the negative rate of.
pub(super) fn turning<const N: usize>(
    interpolator: &mut (impl Interpolation<f64, [f64; N]> + ?Sized),
    [(before, y_before), (now, y)]: [(f64, &[f64; N]); 2],
    stops: impl Fn(f64, &[f64; N]) -> f64,
) -> Option<(f64, [f64; N])> {
    let turns = stops(before, y_before) < 0.0 && stops(now, y) >= 0.0;
    if turns { crossing(interpolator, before, now, stops) } else { None }
}

/// Records the even instants that a step has passed.
pub(super) fn keep_instants<const N: usize>(
    samples: &mut Vec<(f64, [f64; N])>,
    duration: f64,
    now: f64,
    interpolator: &mut (impl Interpolation<f64, [f64; N]> + ?Sized),
) -> ControlFlag<f64, [f64; N]> {
    while samples.len() <= SAMPLES {
        let next = samples.len() as f64 / SAMPLES as f64 * duration;
        if next > now + TIME_ROUNDING * duration {
            break;
        }
        match interpolator.interpolate(next.min(now)) {
            Ok(y) => samples.push((next, y)),
            Err(_) => return ControlFlag::Terminate,
        }
    }
    ControlFlag::Continue
}

impl Solout<f64, State> for &mut Recorder<'_, '_> {
    fn solout<I>(
        &mut self,
        now: f64,
        before: f64,
        y: &State,
        y_before: &State,
        interpolator: &mut I,
        _solution: &mut Solution<f64, State>,
    ) -> ControlFlag<f64, State>
    where
        I: Interpolation<f64, State> + ?Sized,
    {
        if now <= before {
            return ControlFlag::Continue;
        }
        let model = self.model;
        // Where travel and tyre are largest inside the step, if they are: there they stop growing.
        let opening = |_: f64, y: &State| -speed(y);
        let relaxing = |time: f64, y: &State| -model.tyre_closing(time, y);
        let mut top = |stops: &dyn Fn(f64, &State) -> f64| turning(interpolator, [(before, y_before), (now, y)], stops);
        let (longest, hardest) = (top(&opening), top(&relaxing));
        if self.bottoming.is_none() && travel(y_before) < model.full() {
            let reached = longest.iter().copied().chain([(now, *y)]).find(|(_, y)| travel(y) >= model.full());
            if let Some((time, _)) = reached {
                self.bottom(interpolator, before, time);
            }
        }
        for (time, y) in longest.into_iter().chain(hardest) {
            self.look(time, &y);
        }
        self.look(now, y);
        keep_instants(&mut self.samples, self.duration, now, interpolator)
    }
}

pub(super) fn record(model: &Model<'_>, start: State, duration: f64) -> Result<EndMotion> {
    let mut recorder = Recorder {
        model,
        duration,
        samples: vec![(0.0, start)],
        peak: (0.0, travel(&start)),
        tyre: model.forces(0.0, &start)[1],
        bottoming: None,
        metal: 0.0,
    };
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
    let (end_time, end) = *recorder.samples.last().unwrap_or(&(0.0, start));
    let given_up = model.energy(0.0, &start) - model.energy(end_time, &end);
    let column =
        |of: &dyn Fn(f64, &State) -> f64| recorder.samples.iter().map(|(time, y)| of(*time, y)).collect::<Vec<_>>();
    let lengths = |of: &dyn Fn(f64, &State) -> f64| column(of).into_iter().map(Length::from_si).collect();
    let forces = |of: &dyn Fn(f64, &State) -> f64| column(of).into_iter().map(Force::from_si).collect();
    Ok(EndMotion {
        time: column(&|time, _| time).into_iter().map(Time::from_si).collect(),
        travel: lengths(&|_, y| travel(y)),
        body_rise: lengths(&|_, y| y[BODY] - start[BODY]),
        wheel_rise: lengths(&|_, y| y[WHEEL] - start[WHEEL]),
        wheel_force: forces(&|time, y| model.forces(time, y)[0]),
        peak_tyre_force: Force::from_si(recorder.tyre),
        tyre_force: forces(&|time, y| model.forces(time, y)[1]),
        full_travel: Length::from_si(model.full()),
        peak_travel: Length::from_si(recorder.peak.1),
        peak_travel_time: Time::from_si(recorder.peak.0),
        bottoming: recorder.bottoming.map(|(time, speed)| Bottoming {
            time: Time::from_si(time),
            speed: Velocity::from_si(speed),
            energy: Energy::from_si(recorder.metal),
        }),
        rest_travel: Length::from_si(model.rest()),
        settled_after: settled(&recorder.samples),
        energy: EnergyAccount {
            given_up: Energy::from_si(given_up),
            by_ground: Energy::from_si(end[BY_GROUND]),
            by_damper: Energy::from_si(end[BY_DAMPER]),
            by_friction: Energy::from_si(end[BY_FRICTION]),
            missing: Energy::from_si(given_up + end[BY_GROUND] - end[BY_DAMPER] - end[BY_FRICTION]),
        },
    })
}

pub(super) fn reason<const N: usize>(error: &Error<f64, [f64; N]>) -> String {
    match error {
        Error::MaxSteps { t, .. } => format!("{MOST_STEPS} steps led only to {t} s"),
        Error::StepSize { t, .. } => format!("at {t} s no step is small enough"),
        Error::Stiffness { t, .. } => format!("at {t} s the motion is too stiff: check masses, tyre rate and damping"),
        other => format!("{other:?}"),
    }
}

/// The first instant from which on the travel stays in the band about its last value.
fn settled(samples: &[(f64, State)]) -> Option<Time> {
    let last = travel(&samples.last()?.1);
    let far = samples.iter().map(|(_, y)| (travel(y) - last).abs()).fold(0.0, f64::max);
    let outside = samples.iter().rposition(|(_, y)| (travel(y) - last).abs() > SETTLED * far);
    let first = outside.map_or(0, |at| at + 1);
    let stays = samples.len().saturating_sub(first) as f64 >= STAYS * samples.len() as f64;
    if stays { samples.get(first).map(|(time, _)| Time::from_si(*time)) } else { None }
}

#[cfg(test)]
mod tests;
