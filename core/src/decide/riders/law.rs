//! Riders at equally likely places of their distribution, times the loads that are ridden.

use statrs::function::erf;

use crate::Result;
use crate::decide::adviser::Adviser;
use crate::record::{End, Load, RiderMasses, Riders, Targets};
use crate::units::{Force, Quantity, Share, Uncertain};

/// Places of all riders together: a count of riders then has the grain of a hundredth, before it is averaged over draws.
const PLACES: usize = 96;

/// A rider on a bike, one of many that are as likely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Place {
    /// Which load.
    pub(crate) under: usize,
    /// What the rider puts on the wheel (N).
    pub(crate) on_top: f64,
    pub(crate) weight: f64,
}

/// A load that is ridden, the rider taken off.
#[derive(Debug, Clone)]
pub(super) struct Under {
    pub(super) load: Load,
    /// Share of rides.
    pub(super) weight: f64,
    /// What is wanted under it, of the posterior that knows all loads.
    pub(super) adviser: Adviser,
    /// Place of the bike alone, and of the load without its rider.
    pub(super) places: [usize; 2],
}

/// All riders under all loads.
#[derive(Debug, Clone)]
pub(super) struct Law {
    pub(super) under: Vec<Under>,
    /// By load, lightest rider first within each.
    pub(super) places: Vec<Place>,
    pub(super) rider_weight: Uncertain<Force>,
}

/// `Φ⁻¹(p) = −√2·erfc⁻¹(2p)`.
fn normal_quantile(p: f64) -> f64 {
    -core::f64::consts::SQRT_2 * erf::erfc_inv(2.0 * p)
}

pub(super) fn of(adviser: &Adviser, riders: &Riders) -> Result<Law> {
    let bike = adviser.bike();
    let usual = vec![(bike.parts().rider_load.clone(), 1.0)];
    let stated = if riders.loads().is_empty() { &usual } else { riders.loads() };
    let beside = |load: &Load| riders.beside(load).unwrap_or_else(|| load.clone());
    let mut more: Vec<Load> = Vec::new();
    for (load, _) in stated {
        let beside = beside(load);
        if adviser.solved().gathered.place(&beside).is_none() && !more.contains(&beside) {
            more.push(beside);
        }
    }
    let adviser = match more.is_empty() {
        true => adviser.clone(),
        false => Adviser { study: adviser.study.with_loads(&more)?, ..adviser.clone() },
    };
    let all: f64 = stated.iter().map(|(_, weight)| weight).sum();
    let mut under = Vec::with_capacity(stated.len());
    for (load, weight) in stated {
        let places = [adviser.place(&Load::bike_alone())?, adviser.place(&beside(load))?];
        under.push(Under { load: load.clone(), weight: weight / all, adviser: adviser.wanting(load)?, places });
    }
    let on_wheel = on_wheel(&adviser, riders);
    let each = quantiles(&on_wheel);
    let places = under.iter().enumerate().flat_map(|(place, under)| {
        each.iter().map(move |(on_top, weight)| Place { under: place, on_top: *on_top, weight: weight * under.weight })
    });
    let mean: f64 = on_wheel.iter().map(|one| one.weight * one.mean).sum();
    let square: f64 = on_wheel.iter().map(|one| one.weight * (one.deviation.powi(2) + (one.mean - mean).powi(2))).sum();
    let rider_weight =
        Uncertain { value: Force::from_si(mean), standard_uncertainty: Force::from_si(square.max(0.0).sqrt()) };
    Ok(Law { places: places.collect(), under, rider_weight })
}

impl Adviser {
    /// The same, asked for what is wanted under a load: that of the scenario with this load, else that of the bike.
    fn wanting(&self, load: &Load) -> Result<Self> {
        let (bike, end) = (self.bike(), self.end());
        let own = bike.targets(end);
        let scenario = bike.parts().scenarios.iter().find(|scenario| scenario.load == *load);
        let mut targets: Targets = scenario.map_or(*own, |scenario| *scenario.targets.at(end));
        targets.free_sag = targets.free_sag.or(own.free_sag);
        let rider_sag = targets.rider_sag.unwrap_or(self.wanted.rider_sag);
        let wanted = bike.wanted_along(end, &targets, &rider_sag, self.direction)?;
        Ok(Self { wanted, ..self.clone() })
    }
}

/// What one rider, or all of a normal distribution, put on the wheel (N).
#[derive(Debug, Clone, Copy)]
struct OnWheel {
    weight: f64,
    mean: f64,
    deviation: f64,
}

/// `W = m·s·g`, `σ_W² = g²·(s²·σ_m² + m²·σ_s²) + (share of the day·W)²`.
fn on_wheel(adviser: &Adviser, riders: &Riders) -> Vec<OnWheel> {
    let bike = adviser.bike();
    let usual = bike.assumed().usual().rider_on_front;
    let stands = bike.masses().ok().and_then(|masses| masses.share(riders.stands_for()).ok());
    // Posture differs from rider to rider, however well one of them was weighed.
    let of_one = stands.map(|on| Uncertain { value: Share::from_si((on.front / (on.front + on.rear)).value), ..usual });
    let front = riders.on_front().or(of_one).unwrap_or(usual);
    let share = match adviser.end() {
        End::Front => front.value.si(),
        End::Rear => 1.0 - front.value.si(),
    };
    let gravity = bike.masses().map_or(crate::units::kind::STANDARD_GRAVITY_SI, |masses| masses.gravity().si());
    let day = adviser.solved().evidence.doubts.rider;
    let on = |mass: f64, deviation: f64, weight: f64| {
        let mean = mass * share * gravity;
        let posture = mass * front.standard_uncertainty.si() * gravity;
        let deviation = (deviation * share * gravity).hypot(posture).hypot(day * mean);
        OnWheel { weight, mean, deviation }
    };
    match riders.masses() {
        RiderMasses::Normal { mean, deviation } => vec![on(mean.si(), deviation.si(), 1.0)],
        RiderMasses::Each(each) => {
            let all: f64 = each.iter().map(|(_, weight)| weight).sum();
            let mut riders: Vec<OnWheel> = each.iter().map(|(mass, weight)| on(mass.si(), 0.0, weight / all)).collect();
            riders.sort_by(|one, other| one.mean.total_cmp(&other.mean));
            riders
        }
    }
}

/// The level of the middle of one of so many equally likely stretches.
fn level(at: usize, count: usize) -> f64 {
    (at as f64 + 0.5) / count as f64
}

/// The middles of equally likely stretches of every rider's distribution, lightest first, with their weights.
fn quantiles(riders: &[OnWheel]) -> Vec<(f64, f64)> {
    /// Fewest places of one rider: a spread of postures has a middle and two sides.
    const FEWEST: usize = 5;
    let count = PLACES.div_ceil(riders.len()).max(FEWEST);
    let mut found: Vec<(f64, f64)> = riders
        .iter()
        .flat_map(|rider| {
            (0..count).map(move |at| {
                let quantile = normal_quantile(level(at, count));
                (rider.mean + quantile * rider.deviation, rider.weight / count as f64)
            })
        })
        .collect();
    found.sort_by(|one, other| one.0.total_cmp(&other.0));
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::infer::probability::normal_cdf;

    /// Digits of the inverse error function.
    const DIGITS: f64 = 1e-9;

    #[test]
    fn places_lie_in_the_middle_of_stretches_that_are_equally_likely() {
        let found = quantiles(&[OnWheel { weight: 1.0, mean: 600.0, deviation: 50.0 }]);
        assert_eq!(found.len(), 96);
        for (at, (place, weight)) in (0..).zip(&found) {
            let level = normal_cdf((place - 600.0) / 50.0);
            assert!((level * 96.0 - 0.5 - f64::from(at)).abs() < 96.0 * DIGITS, "{at}: {place}");
            assert!((weight * 96.0 - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn every_rider_of_a_list_has_as_many_places_and_five_at_least() {
        let listed = |count: usize| {
            let rider = |at: usize| OnWheel {
                weight: 1.0 / count as f64,
                mean: 500.0 + 10.0 * at as f64,
                deviation: if at == 0 { 40.0 } else { 5.0 },
            };
            quantiles(&(0..count).map(rider).collect::<Vec<_>>())
        };
        assert_eq!([1, 2, 5, 40].map(|count| listed(count).len()), [96, 96, 100, 200]);
        for count in [2, 5, 40] {
            let found = listed(count);
            assert!(found.windows(2).all(|pair| pair[0].0 <= pair[1].0), "lightest first");
            let of = |of: &dyn Fn(f64) -> f64| found.iter().map(|(place, weight)| weight * of(*place)).sum::<f64>();
            assert!((of(&|_| 1.0) - 1.0).abs() < 1e-12);
            // Stretches are alike to either side of a rider's mean.
            let mean = 500.0 + 10.0 * (count - 1) as f64 / 2.0;
            assert!((of(&|place| place) - mean).abs() < 1e-6, "{count}");
        }
    }
}
