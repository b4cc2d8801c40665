//! What is foreseen against the law of total probability.

use super::*;
use crate::bike::{Bike, BikeParts};
use crate::demo::PATROL;
use crate::infer::probability::normal_cdf;
use crate::record::{Direction, End, Measuring, OnSale, Range, SagTarget};
use crate::units::{Length, SpringRate};

/// The rear of the demo read coarsely, with springs about the one that is wanted.
fn unclear(rates: &[f64]) -> Bike {
    let mut parts = Bike::from_toml(PATROL).unwrap().parts().clone();
    let range = Range::new(Length::from_si(0.020), Length::from_si(0.030)).unwrap();
    parts.targets.rear.free_sag = Some(SagTarget::new(range.middle(), range, Direction::Vertical).unwrap());
    parts.measuring.rear = Some(Measuring::new(Direction::Vertical, Length::from_si(2e-3)).unwrap());
    parts.on_sale = OnSale::new(Vec::new(), rates.iter().map(|rate| SpringRate::from_si(*rate)).collect());
    parts.discipline = None;
    Bike::new(BikeParts { ..parts }).unwrap()
}

fn weighed(adviser: &Adviser) -> (Vec<Weighed>, Vec<Action>) {
    let wish = adviser.wish(adviser.places().unwrap()).unwrap();
    let mut weighed = adviser.weigh_all(&wish, &adviser.wanted.aim()).unwrap();
    crate::decide::verdict::rank(&mut weighed, &adviser.prices, None, |weighed| &weighed.choice);
    let choices: Vec<_> = weighed.iter().map(|weighed| weighed.choice.clone()).collect();
    let actions = crate::decide::verdict::actions(&choices, Share::from_si(0.0), &adviser.prices);
    (weighed, actions)
}

#[test]
fn nothing_read_is_nothing_gained() {
    let adviser = unclear(&[54e3, 56e3, 58e3]).study(End::Rear).unwrap().adviser().unwrap();
    let (weighed, actions) = weighed(&adviser);
    let same = adviser.foresee(&adviser.solved().posterior.covariance, &weighed, &actions).unwrap();
    assert!((same.lands.si() - actions[0].probability.si()).abs() < 1e-9 && same.changes.si() == 0.0, "{same:?}");
}

#[test]
fn what_is_kept_is_worth_on_average_what_it_is_worth_now() {
    // P(now) = E[P(then)] for a setting that is carried out whatever the readings say.
    let adviser = unclear(&[54e3, 56e3, 58e3]).study(End::Rear).unwrap().adviser().unwrap();
    let (weighed, actions) = weighed(&adviser);
    let narrowed = &adviser.solved().posterior.covariance * 0.3;
    let gained = &adviser.solved().posterior.covariance - &narrowed;
    let aim = adviser.wanted.aim();
    for weighed in weighed.iter().filter(|weighed| weighed.choice.probability.si() > 0.2) {
        let set = weighed.set.as_ref().unwrap();
        let chances = Chances::new(&narrowed, &set.setting, &set.change);
        let rows = [&set.setting.free_sag.gradient.fit[..], &set.change.gradient.fit[..]];
        let root = semidefinite_root(&DMatrix::from_fn(2, 2, |i, j| shared(&gained, rows[i], rows[j])));
        let mut random = Xoshiro256PlusPlus::seed_from_u64(3);
        let kept = Kept { set: Some(set), chances: Some(chances), way: weighed.choice.way, action: 0 };
        let (mut sum, count) = (0.0, 4000);
        for _ in 0..count {
            let normal: [f64; 2] = core::array::from_fn(|_| StandardNormal.sample(&mut random));
            let moves = [root[(0, 0)] * normal[0], root[(1, 0)] * normal[0] + root[(1, 1)] * normal[1]];
            sum += kept.probability(&[], &aim, &moves);
        }
        let now = set.chances.roughly(weighed.choice.way, set.change.value, set.settable.ends, &aim, Moved::default());
        // Four standard errors of 4,000 draws of a share whose deviation is under 0.35.
        assert!((sum / f64::from(count) - now).abs() < 0.023, "{}: {} {now}", weighed.choice.rate, sum / 4000.0);
    }
    let then = adviser.foresee(&narrowed, &weighed, &actions).unwrap();
    assert!(then.utility >= actions[0].utility, "{then:?}");
}

#[test]
fn with_one_action_there_is_nothing_to_choose_but_its_setting() {
    let adviser = unclear(&[56e3]).study(End::Rear).unwrap().adviser().unwrap();
    let (weighed, actions) = weighed(&adviser);
    let best: Vec<Action> = actions[..1].to_vec();
    let narrowed = &adviser.solved().posterior.covariance * 0.1;
    let alone = adviser.foresee(&narrowed, &weighed, &best).unwrap();
    let all = adviser.foresee(&narrowed, &weighed, &actions).unwrap();
    assert_eq!(alone.changes.si(), 0.0);
    assert!(all.utility >= alone.utility && alone.utility >= best[0].utility, "{all:?} {alone:?}");
}

#[test]
fn what_an_end_that_is_left_may_be_at_most_is_no_less_than_what_it_is() {
    let aims = [(28e-3, 40e-3), (f64::NEG_INFINITY, f64::INFINITY)];
    let aims = aims.map(|free| Aim { rider: (98e-3, 106e-3), free, value: 102e-3 });
    // In the middle of the ranges, at their edges and beside them.
    let sags = [[102e-3, 33e-3], [98e-3, 28e-3], [98e-3, 33e-3], [106e-3, 40e-3], [110e-3, 33e-3], [103e-3, 20e-3]];
    for (aim, sags) in aims.iter().flat_map(|aim| sags.map(|sags| (aim, sags))) {
        for (rider, free) in [(2e-3, 3e-3), (2e-3, 0.0), (0.0, 3e-3), (0.0, 0.0)] {
            for correlation in [-1.0, -0.6, 0.0, 0.6, 1.0] {
                let spread = Pair { rider, free, correlation };
                let seen = Seen::Left { sags, spread, rough: Roughly::new(correlation) };
                for moves in [[0.0, 0.0], [1e-3, -1e-3], [-3e-3, 2e-3]] {
                    let (most, is) = (seen.at_most(aim, moves), seen.probability(aim, moves));
                    assert!(most >= is && most <= 1.001, "{sags:?} {spread:?} {moves:?}: {most} {is}");
                    if rider > 0.0 && free > 0.0 {
                        let within = |mean: f64, deviation: f64, (low, high): (f64, f64)| {
                            normal_cdf((high - mean) / deviation) - normal_cdf((low - mean) / deviation)
                        };
                        let either = within(sags[0] + moves[0], rider, aim.rider).min(within(
                            sags[1] + moves[1],
                            free,
                            aim.free,
                        ));
                        // Either sag by itself, and a little for what a search is off by.
                        assert!(most >= either && most < either + 2e-4, "{sags:?} {spread:?} {moves:?}: {most}");
                    }
                }
            }
        }
    }
}
