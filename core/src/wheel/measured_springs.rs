//! What the readings of measured springs leave open, as pushes along the axis.
//!
//! `δF_k(s) = N·Σ δF_k(s + p)` for a main spring, `δF_k(s − (S − c))` for a bump stop, `−δF_k(c − s)` for a top-out spring
//!
//! over the stroke `s`, each `k` an independent deviation of unit variance ([`MeasuredSpring`]). Legs with one and the same
//! spring have one and the same error, since one spring was read for both. The readings are many and their errors look alike, so that they are turned into
//! the principal components of force and rate. What all loads of a main spring share is the factor on its rate, and not in here;
//! of a stop it is one deviation more. The energy counts from full extension.
//!
//! To first order: a deviation stays where it is while the fit moves the preload by its millimetre or two.

use super::deviation::{Deviation, NODES, Origin};
use super::{FrontEnd, RearEnd};
use crate::record::SpringPrior;
use crate::spring::{MeasuredSpring, Preloaded, Spring, Stop};
use crate::units::{Quantity, Share};

/// Points and weights of Gauss and Legendre on 0 to 1, exact for a quintic.
const GAUSS: [(f64, f64); 3] =
    [(0.112_701_665_379_258_3, 5.0 / 18.0), (0.5, 8.0 / 18.0), (0.887_298_334_620_741_7, 5.0 / 18.0)];

/// How the compression of a spring follows the stroke, and which way it pushes.
struct Course {
    start: f64,
    /// +1 compressed by the stroke, −1 let go by it; it pushes that way too.
    sign: f64,
    times: f64,
}

/// Energy, force and rate over the stroke, of every independent deviation of a spring that acts along some courses.
fn pushes(spring: &MeasuredSpring, courses: &[Course], full: f64) -> Vec<Vec<[f64; 3]>> {
    let step = full / (NODES - 1) as f64;
    // Every node, and three places from each to the next.
    let places = (0..NODES).flat_map(|node| {
        let within = GAUSS.iter().map(move |(part, _)| (node as f64 + part) * step);
        core::iter::once(node as f64 * step).chain(within)
    });
    let places: Vec<f64> = places.collect();
    let each: Vec<Vec<Vec<[f64; 2]>>> = courses
        .iter()
        .map(|course| {
            let at: Vec<f64> = places.iter().map(|s| course.start + course.sign * s).collect();
            spring.deviations(&at)
        })
        .collect();
    let count = each.first().map_or(0, Vec::len);
    let felt = |k: usize, place: usize| -> [f64; 2] {
        let parts = each.iter().zip(courses).filter_map(|(of, course)| {
            let [force, rate] = *of.get(k)?.get(place)?;
            Some([course.times * course.sign * force, course.times * rate])
        });
        parts.fold([0.0; 2], |sum, part| [sum[0] + part[0], sum[1] + part[1]])
    };
    let one = |k: usize| {
        let mut energy = 0.0;
        let at_node = |node: usize| {
            let first = node * (1 + GAUSS.len());
            let [force, rate] = felt(k, first);
            let here = [energy, force, rate];
            energy += step * GAUSS.iter().enumerate().map(|(j, (_, by))| by * felt(k, first + 1 + j)[0]).sum::<f64>();
            here
        };
        (0..NODES).map(at_node).collect()
    };
    (0..count).map(one).collect()
}

/// The principal ones of them.
fn principal(spring: &MeasuredSpring, courses: &[Course], full: f64, more: Option<Vec<[f64; 3]>>) -> Vec<Deviation> {
    let all: Vec<Vec<[f64; 3]>> = pushes(spring, courses, full).into_iter().chain(more).collect();
    Deviation::principal(all, &[1.0; NODES], full)
}

/// Of the main springs side by side, each `count` times.
fn of_main<'a>(places: impl Iterator<Item = &'a Preloaded>, count: u8, full: f64) -> Vec<(Origin, Deviation)> {
    let mut springs: Vec<(&MeasuredSpring, Vec<Course>)> = Vec::new();
    for place in places {
        let Some(spring) = place.spring().measured() else { continue };
        let course = Course { start: place.preload().si(), sign: 1.0, times: f64::from(count) };
        match springs.iter_mut().find(|(known, _)| *known == spring) {
            Some((_, courses)) => courses.push(course),
            None => springs.push((spring, vec![course])),
        }
    }
    let all = springs.iter().flat_map(|(spring, courses)| principal(spring, courses, full, None));
    all.map(|one| (Origin::Spring, one)).collect()
}

/// Of stops, `true` at full compression, each `count` times.
fn of_stops<'a>(stops: impl Iterator<Item = (&'a Stop, bool)>, count: u8, full: f64) -> Vec<(Origin, Deviation)> {
    let of = |(stop, bump): (&'a Stop, bool)| {
        let spring = stop.spring().measured()?;
        let (acts, times) = (stop.acts_over().si(), f64::from(count));
        let course = if bump {
            Course { start: acts - full, sign: 1.0, times }
        } else {
            Course { start: acts, sign: -1.0, times }
        };
        let share = spring.parts().scale_uncertainty.si();
        let node = |node: usize| {
            let s = full * (node as f64 / (NODES - 1) as f64);
            let state = if bump { stop.eval_bump(s, full) } else { stop.eval_top_out(s) };
            [state.energy, state.force, state.rate].map(|part| share * times * part)
        };
        Some(principal(spring, &[course], full, Some((0..NODES).map(node).collect())))
    };
    stops.filter_map(of).flatten().map(|one| (Origin::Stop, one)).collect()
}

/// How far springs can be trusted whose labels are: a measured one by what its loads share, each for its share of the rate.
fn prior_of<'a>(springs: impl Iterator<Item = &'a Spring>, labels: SpringPrior) -> SpringPrior {
    let springs: Vec<&Spring> = springs.collect();
    let all: f64 = springs.iter().map(|spring| spring.named_rate().si()).sum();
    if springs.iter().all(|spring| spring.measured().is_none()) || all <= 0.0 {
        return labels;
    }
    let label = labels.rate_standard_uncertainty().si();
    let of = |spring: &&Spring| {
        let known = spring.measured().map_or(label, |measured| measured.parts().scale_uncertainty.si());
        known * spring.named_rate().si() / all
    };
    // The half-width that has the same standard uncertainty.
    let half_width = 3f64.sqrt() * springs.iter().map(of).sum::<f64>();
    SpringPrior { rate_tolerance: Share::from_si(half_width.min(1.0)), ..labels }
}

impl FrontEnd {
    /// Independent deviations of the push of springs and stops that were measured.
    pub(crate) fn measured_pushes(&self) -> Vec<(Origin, Deviation)> {
        let Ok(fork) = self.fork() else { return self.sprung().map(RearEnd::measured_pushes).unwrap_or_default() };
        let (legs, full) = (fork.legs(), fork.full_stroke().si());
        let mut all = of_main(legs.iter().filter_map(|leg| leg.spring()), 1, full);
        let bump = legs.iter().filter_map(|leg| Some((leg.bump_stop()?, true)));
        let top = legs.iter().filter_map(|leg| Some((leg.top_out()?, false)));
        all.splice(0..0, of_stops(bump.chain(top), 1, full));
        all
    }

    /// How far its springs can be trusted, given how far labels can.
    pub(crate) fn spring_prior(&self, labels: SpringPrior) -> SpringPrior {
        prior_of(self.main_springs().map(Preloaded::spring), labels)
    }
}

impl RearEnd {
    /// Independent deviations of the push of springs and stops that were measured.
    pub(crate) fn measured_pushes(&self) -> Vec<(Origin, Deviation)> {
        let (shock, full) = (self.shock(), self.shock().full_stroke().si());
        let parts = shock.parts();
        let mut all = of_main(parts.spring.iter(), shock.count(), full);
        let bump = parts.bump_stop.iter().map(|stop| (stop, true));
        let top = parts.top_out.iter().map(|stop| (stop, false));
        all.splice(0..0, of_stops(bump.chain(top), shock.count(), full));
        all
    }

    /// How far its springs can be trusted, given how far labels can.
    pub(crate) fn spring_prior(&self, labels: SpringPrior) -> SpringPrior {
        prior_of(self.shock().parts().spring.iter().map(Preloaded::spring), labels)
    }
}

#[cfg(test)]
mod tests;
