//! How well each reading agrees with all the others, and which one is misread.
//!
//! With the normalised residual `r = (d − d̂)/u` and the leverage `h = ∇d̂ᵀ C ∇d̂/u²`, leaving the reading out moves its
//! own prediction to `d − u·r/(1 − h)`, and `t = r/√(1 − h)` is a standard normal number (studentised residual; Cook &
//! Weisberg, *Residuals and Influence in Regression*, ch. 2, with known variance). The largest `|t|` of `n` readings is
//! called misread when as large a one comes by chance once in a hundred fits (Šidák), and without it the others agree and the
//! springs are what their label explains. A misread value stays in the fit.

use crate::infer::finding::{Finding, Slip};
use crate::infer::one_bike::{BY_CHANCE, is_plausible};
use crate::infer::posterior::{Observation, Prediction};
use crate::infer::probability::normal_cdf;
use crate::infer::solved::{Parameter, Solved};
use crate::record::{Load, Settled};
use crate::units::{Length, Quantity, SpringRate, Uncertain};

/// With less than this left of its own variance a reading is not checked by any other.
const UNCHECKED: f64 = 1e-3;
/// A slip explains a misread value when it leaves less than this many standard deviations.
const EXPLAINED: f64 = 2.0;
/// Slips of a tape (m): a centimetre, five, a decimetre either way.
const ROUND_SLIPS: [f64; 6] = [0.01, -0.01, 0.05, -0.05, 0.1, -0.1];

/// One reading against what is predicted.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct ReadingCheck {
    /// Place among all readings of the bike, from 0.
    #[cfg_attr(feature = "serde", serde(with = "crate::record::numbered"))]
    pub reading: usize,
    /// What was read.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub found: Length,
    /// What the fit says, this reading included.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub fitted: Length,
    /// What all other readings and labels predict; `None` where nothing else says anything of it.
    pub expected: Option<Uncertain<Length>>,
    /// Residual over its standard uncertainty.
    pub normalised: f64,
    /// Difference to `expected` in standard deviations, the reading's own error included.
    pub deviations: Option<f64>,
}

/// Every observation with its prediction and deviation, and its place among all readings of the bike.
fn readings(solved: &Solved) -> impl Iterator<Item = (&Observation, (&Prediction, f64), usize)> {
    let predicted = solved.evidence.observations.iter().zip(solved.posterior.predictions.each());
    predicted.zip(&solved.gathered.places).map(|((observation, prediction), &place)| (observation, prediction, place))
}

pub(crate) fn check(solved: &Solved) -> Vec<ReadingCheck> {
    let places = &solved.posterior.predictions.places;
    let variances: Vec<f64> = places.iter().map(|one| solved.covariance(&one.derivatives, &one.derivatives)).collect();
    let of_reading = solved.posterior.predictions.readings.iter().map(|&(place, _)| variances[place]);
    let checks = readings(solved).zip(of_reading).map(|((observation, (prediction, deviation), place), variance)| {
        let uneven = (prediction.shared - observation.gross.shared.powi(2)).max(0.0);
        let own = deviation.powi(2) + uneven;
        let off = observation.distance - prediction.distance;
        let weight = 1.0 / (own + observation.gross.shared.powi(2) + observation.gross.own.powi(2));
        let left = 1.0 - weight * variance;
        let checked = left > UNCHECKED;
        // Var(d̂ without it) = h·u²/(1 − h).
        let without = (variance / left).max(0.0);
        // As it was noted: a sag where a sag was read.
        let as_noted = |distance: f64| {
            Length::from_si(if observation.zeroed { solved.gathered.zero - distance } else { distance })
        };
        let expected = checked.then(|| Uncertain {
            value: as_noted(observation.distance - off / left),
            standard_uncertainty: Length::from_si(without.sqrt()),
        });
        ReadingCheck {
            reading: place,
            found: as_noted(observation.distance),
            fitted: as_noted(prediction.distance),
            expected,
            normalised: off / own.sqrt(),
            deviations: checked.then(|| off / left / (own + without).sqrt()),
        }
    });
    checks.collect()
}

/// The reading that agrees least, when that is more than chance.
pub(crate) fn misread(solved: &Solved, checks: &[ReadingCheck], rate: Uncertain<SpringRate>) -> Option<Finding> {
    let size = |check: &ReadingCheck| check.deviations.map_or(0.0, f64::abs);
    let (index, worst) = checks.iter().enumerate().max_by(|(_, one), (_, other)| size(one).total_cmp(&size(other)))?;
    let (deviations, expected) = (worst.deviations?, worst.expected?);
    let inside = 1.0 - 2.0 * normal_cdf(-deviations.abs());
    if 1.0 - inside.powf(checks.len() as f64) > BY_CHANCE {
        return None;
    }
    let observation = *solved.evidence.observations.get(index)?;
    let mut without = solved.evidence.clone();
    without.observations.remove(index);
    let posterior = without.solve_cut(&solved.posterior.unknowns).ok()?;
    if !is_plausible(&without, &posterior) {
        return None;
    }
    let without = Solved { posterior, evidence: without, ..solved.clone() };
    let rate_without = without.estimate(Parameter::Factor, solved.main.rate.si());
    Some(Finding::Misread {
        reading: worst.reading,
        load: load_of(solved, &observation),
        settled: settled(&observation),
        found: worst.found,
        expected,
        deviations,
        others: solved.evidence.observations.len() - 1,
        slip: slip(&without, &observation, &expected),
        rate: [rate, rate_without],
    })
}

pub(crate) fn settled(observation: &Observation) -> Option<Settled> {
    match observation.side {
        side if side > 0.0 => Some(Settled::Low),
        side if side < 0.0 => Some(Settled::High),
        _ => (observation.load.is_some() && !observation.unnoted).then_some(Settled::Middle),
    }
}

pub(crate) fn load_of(solved: &Solved, observation: &Observation) -> Load {
    observation.load.and_then(|load| solved.gathered.loads.get(load)).cloned().unwrap_or(Load::None)
}

/// What may have happened: the slip that leaves least to explain.
fn slip(without: &Solved, observation: &Observation, expected: &Uncertain<Length>) -> Slip {
    let deviation = expected.standard_uncertainty.si().hypot(observation.deviation);
    let expected = if observation.zeroed { without.gathered.zero - expected.value.si() } else { expected.value.si() };
    let miss = observation.distance - expected;
    let swapped = observation.load.filter(|_| observation.side != 0.0).and_then(|load| {
        let rate = without.wheel_rate(load)?;
        let band = 2.0 * without.friction().value / rate;
        Some((miss - observation.side * band, Slip::SettledSwapped))
    });
    let round = ROUND_SLIPS.map(|amount| (miss - amount, Slip::RoundAmount(Length::from_si(amount.abs()))));
    round
        .into_iter()
        .chain(swapped)
        .filter(|(left, _)| left.abs() < EXPLAINED * deviation)
        .min_by(|(one, _), (other, _)| one.abs().total_cmp(&other.abs()))
        .map_or(Slip::Unknown, |(_, slip)| slip)
}

/// Readings that lie on a stop in the fit.
pub(crate) fn on_stops(solved: &Solved) -> Vec<Finding> {
    let full = solved.evidence.end.full_travel();
    readings(solved)
        .filter(|(observation, ..)| observation.load.is_some())
        .filter_map(|(observation, (prediction, _), reading)| {
            let load = || load_of(solved, observation);
            let sag = Length::from_si(solved.gathered.zero - observation.distance);
            if observation.may_top_out && prediction.travel < 0.0 {
                Some(Finding::ToppedOut { reading, load: load(), sag })
            } else if observation.may_bottom_out && prediction.travel > full {
                Some(Finding::BottomedOut { reading, load: load(), sag })
            } else {
                None
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::infer::fit::tests::{BOTH, LABEL, readings as read, solve};
    use crate::infer::model::tests::Straight;

    #[test]
    fn a_reading_says_from_which_side_it_settled() {
        let end = Straight::usual();
        let solved = solve(&end, &read(&end, &BOTH), LABEL, 1.5e-3);
        let found: Vec<_> = solved.evidence.observations.iter().map(settled).collect();
        let of = |side: f64| if side > 0.0 { Some(Settled::Low) } else { Some(Settled::High) };
        let expected: Vec<_> = BOTH.iter().map(|&(load, side)| if load == "none" { None } else { of(side) }).collect();
        assert_eq!(found, expected);
        let middle = Observation { side: 0.0, ..solved.evidence.observations[1] };
        assert_eq!(settled(&Observation { unnoted: false, ..middle }), Some(Settled::Middle));
        assert_eq!(settled(&Observation { unnoted: true, ..middle }), None);
    }

    /// Every reading is left out in turn, and everything solved again: what is predicted there, how surely, and how far off it is.
    #[test]
    fn what_is_expected_is_what_the_others_predict_with_a_reading_left_out() {
        /// What the bend of the distances over the unknowns makes of the step that leaves a reading out, in standard deviations.
        const BEND: f64 = 0.02;
        let end = Straight::usual();
        let mut solved = solve(&end, &read(&end, &[BOTH, BOTH].concat()), LABEL, 1.5e-3);
        // One is five centimetres off, and found to be; the others are off by what a tape errs.
        for (k, one) in solved.evidence.observations.iter_mut().enumerate() {
            one.distance += 1e-3 * (2.0 * k as f64).sin();
        }
        solved.evidence.observations[8].distance += 0.05;
        solved.evidence.observations[8].gross.own = 5e-3;
        solved.posterior = solved.evidence.solve(&[]).unwrap();
        let checks = check(&solved);
        assert_eq!(checks.len(), 10);
        for (k, found) in checks.iter().enumerate() {
            let mut evidence = solved.evidence.clone();
            let out = evidence.observations.remove(k);
            let posterior = evidence.solve(&[]).unwrap();
            let place = evidence.observations.iter().position(|one| one.is_at_the_place_of(&out)).unwrap();
            let place = &posterior.predictions.places[posterior.predictions.readings[place].0];
            let variance =
                crate::infer::solved::covariance_along(&posterior.covariance, &place.derivatives, &place.derivatives);
            let (expected, deviations) = (found.expected.unwrap(), found.deviations.unwrap());
            assert!((expected.value.si() - place.distance).abs() < BEND * variance.sqrt(), "{k}: {found:?} {place:?}");
            assert!((expected.standard_uncertainty.si() / variance.sqrt() - 1.0).abs() < BEND, "{k}: {found:?}");
            let exact = (out.distance - place.distance) / out.deviation.hypot(variance.sqrt());
            assert!((deviations - exact).abs() < BEND * exact.abs().max(1.0), "{k}: {deviations} {exact}");
        }
    }

    /// Springs so soft that a rider goes through the whole travel, from either side.
    #[test]
    fn readings_on_the_stop_at_full_compression_are_named_with_their_sag() {
        let soft = Straight { spring_rate: 13e3, ..Straight::usual() };
        let mut all = read(&soft, &BOTH);
        let stop = all[0].distance - Length::from_si(soft.travel);
        for reading in all.iter_mut().filter(|one| one.load == Load::parse("bike + rider").unwrap()) {
            assert!(reading.distance < stop, "nothing but the stop holds it");
            reading.distance = stop;
        }
        let solved = solve(&soft, &all, LABEL, 1.5e-3);
        let found: Vec<(usize, Load, f64)> = on_stops(&solved)
            .into_iter()
            .map(|finding| match finding {
                Finding::BottomedOut { reading, load, sag } => (reading, load, sag.si()),
                other => panic!("{other:?}"),
            })
            .collect();
        let [(3, one, sag), (4, other, same)] = &found[..] else { panic!("{found:?}") };
        assert!(*one == all[3].load && *other == all[4].load);
        assert!((sag - soft.travel).abs() < 1e-12 && (same - soft.travel).abs() < 1e-12, "{sag} {same}");
    }
}
