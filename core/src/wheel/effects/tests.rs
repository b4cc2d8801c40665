use super::*;
use crate::Bike;
use crate::demo::PATROL;
use crate::shock::{Shock, ShockParts};
use crate::spring::{Preloaded, Stop, Table};
use crate::units::parse;

/// Step of the central differences, extrapolated once; what truncation and rounding leave as a share of the greatest
/// effect.
const STEP: f64 = 1e-4;
const DIFFERENCE: f64 = 1e-7;

fn patrol() -> RearEnd {
    Bike::from_toml(PATROL).unwrap().rear().unwrap().clone()
}

/// The demo rear end with a progressive spring, gas and a long bump stop: every kind of slope that the axial rate has.
fn progressive() -> RearEnd {
    let end = patrol();
    let (shock, parts) = (end.shock(), end.shock().parts().clone());
    assert!(parts.reservoir.is_some());
    let rows = [("30 mm", "1400 N"), ("80 mm", "4600 N"), ("150 mm", "11 kN")];
    let rows = rows.map(|(x, force)| (parse(x).unwrap(), parse(force).unwrap())).to_vec();
    let stop = [("20 mm", "200 N"), ("40 mm", "900 N")];
    let stop = Table::new(stop.map(|(x, force)| (parse(x).unwrap(), parse(force).unwrap())).to_vec()).unwrap();
    let parts = ShockParts {
        spring: Some(Preloaded::new(Table::new(rows).unwrap(), parse("11 mm").unwrap()).unwrap()),
        bump_stop: Some(Stop::new(stop, parse("40 mm").unwrap()).unwrap()),
        ..parts
    };
    end.with_shock(Shock::new(shock.length().unwrap(), shock.full_stroke(), parts, shock.count()).unwrap()).unwrap()
}

/// The end with one dimension changed.
fn changed(end: &RearEnd, dimension: &Dimension, by: f64) -> RearEnd {
    let by = Length::from_si(by);
    match dimension {
        Dimension::Coordinate { point, axis } => {
            let mechanism = end.linkage().unwrap().mechanism();
            let mut at = mechanism.point(point).unwrap();
            at[axis.index()] += by;
            end.with_mechanism(mechanism.with_point(point, at).unwrap()).unwrap()
        }
        Dimension::LinkLength { body } => {
            let linkage = end.linkage().unwrap();
            let drawn = linkage.length_of(dimension).unwrap();
            RearEnd::from_parts(linkage.with_link_length(body, drawn + by).unwrap(), end.shock().clone()).unwrap()
        }
        Dimension::ShockLength => end.with_longer_shock(by).unwrap(),
    }
}

/// Central differences of what is read from the changed end, extrapolated to a step of nothing (Richardson).
fn differences<const N: usize>(end: &RearEnd, dimension: &Dimension, read: impl Fn(&RearEnd) -> [f64; N]) -> [f64; N] {
    let central = |step: f64| {
        let [more, less] = [step, -step].map(|by| read(&changed(end, dimension, by)));
        core::array::from_fn::<f64, N, _>(|at| (more[at] - less[at]) / (2.0 * step))
    };
    let (fine, coarse) = (central(STEP), central(2.0 * STEP));
    core::array::from_fn(|at| (4.0 * fine[at] - coarse[at]) / 3.0)
}

fn assert_near<const N: usize>(found: &[(Dimension, [f64; N])], expected: impl Fn(&Dimension) -> [f64; N]) {
    let greatest = |at: usize| found.iter().map(|(_, found)| found[at].abs()).fold(0.0, f64::max);
    for (dimension, found) in found {
        let expected = expected(dimension);
        for at in 0..N {
            let error = (found[at] - expected[at]).abs();
            assert!(error < DIFFERENCE * greatest(at), "{at} of {dimension}: {} or {}", found[at], expected[at]);
        }
    }
}

#[test]
fn wheel_rate_and_force_change_as_those_of_changed_ends() {
    for end in [patrol(), progressive()] {
        for share in [0.05, 0.37, 0.93] {
            let travel = end.full_travel() * share;
            let effects = end.effects_at(travel, Length::from_si(1.0)).unwrap();
            assert_eq!(effects.len(), end.linkage().unwrap().dimensions().len());
            let found: Vec<_> = effects
                .into_iter()
                .map(|effect| (effect.dimension, [effect.wheel_force.si(), effect.wheel_rate.si()]))
                .collect();
            assert_near(&found, |dimension| {
                differences(&end, dimension, |end| {
                    let (force, rate) = end.force_and_rate(travel.si());
                    [force, rate]
                })
            });
        }
    }
}

#[test]
fn sag_height_and_rate_under_a_load_change_as_those_of_changed_ends() {
    let load = Force::from_si(1100.0);
    for end in [patrol(), progressive()] {
        let effects = end.effects_under(load, Length::from_si(1.0)).unwrap().unwrap();
        let numbers = |effect: EndEffect| {
            let EndEffect { dimension, sag, wheel_rate_at_sag: rate_at_sag, ride_height, .. } = effect;
            (dimension, [sag.si(), rate_at_sag.si(), ride_height.si()])
        };
        let found: Vec<_> = effects.into_iter().map(numbers).collect();
        assert_near(&found, |dimension| {
            differences(&end, dimension, |end| {
                let settled = end.travel_under(load).unwrap();
                let state = settled.state().unwrap();
                [state.travel.si(), state.wheel_rate.si(), -end.axle(state.travel).unwrap()[1].si()]
            })
        });
    }
    assert_eq!(patrol().effects_under(Force::from_si(1e5), Length::from_si(1.0)).unwrap(), None);
}
