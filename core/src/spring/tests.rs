//! Stacks, nests and tables, alone and inside each other.

use super::*;
use crate::axial::testing::{assert_consistent, assert_consistent_within, assert_slope};
use crate::units::Force;
use proptest::prelude::*;

/// A few roundings of sums and products, and the convergence of one Newton solve.
const ROUNDING: f64 = 1e-12;

fn mm(length: f64) -> Length {
    Length::from_si(length * 1e-3)
}

fn coil(n_per_mm: f64) -> Coil {
    Coil::new(SpringRate::from_si(n_per_mm * 1e3)).unwrap()
}

fn near(found: f64, expected: f64) -> bool {
    (found - expected).abs() <= ROUNDING * (1.0 + expected.abs())
}

#[test]
fn a_stack_changes_over_where_its_soft_spring_meets_the_spacer() {
    // By hand: 4 N/mm stopped at 30 mm, on 8 N/mm. Together 8/3 N/mm until the soft one carries 120 N, at 30 + 15 mm;
    // then 8 N/mm alone. At 60 mm: 120 + 8·15 = 240 N; 4·30²/2 + 8·30²/2 = 5400 N mm.
    let soft = Stage::new(coil(4.0)).with_limit(mm(30.0)).unwrap();
    let spring = Spring::from(Stack::new(vec![soft, Stage::new(coil(8.0))]).unwrap());
    assert_eq!(spring.kinks().len(), 1);
    assert!(near(spring.kinks()[0].si(), 0.045));
    let Spring::Stack(stack) = &spring else { panic!("a stack") };
    assert!(near(stack.changeovers()[0].force.si(), 120.0));
    let state = spring.at(mm(60.0)).unwrap();
    assert!(near(state.force.si(), 240.0) && near(state.rate.si(), 8e3) && near(state.energy.si(), 5.4), "{state:?}");
    assert!(near(spring.at(spring.kinks()[0]).unwrap().rate.si(), 8e3 / 3.0), "the softer rate at the changeover");
    assert_consistent(&spring, 0.1);
}

#[test]
fn a_coil_in_a_stack_stops_when_it_is_solid() {
    let soft = coil(4.0).with_lengths(mm(60.0), mm(30.0)).unwrap();
    let limited = Stack::new(vec![Stage::new(soft), Stage::new(coil(8.0))]).unwrap();
    assert!(near(limited.changeovers()[0].compression.si(), 0.045));
    let hard = coil(8.0).with_lengths(mm(100.0), mm(50.0)).unwrap();
    let spring = Spring::from(Stack::new(vec![Stage::new(soft), Stage::new(hard)]).unwrap());
    assert!(near(spring.most_compression().unwrap().si(), 0.08));
    let beyond = spring.at(mm(80.1)).unwrap_err().to_string();
    assert!(beyond.starts_with("spring: stroke 80.1 mm lies outside 0 mm to 80"), "{beyond}");
    assert!(near(spring.at(mm(80.0)).unwrap().force.si(), 400.0));
    assert_consistent(&spring, 0.08);
}

#[test]
fn an_inner_spring_joins_when_its_gap_is_closed() {
    let inner = Nested::new(coil(4.0), mm(10.0)).unwrap();
    let spring = Spring::from(Nest::new(vec![Nested::new(coil(3.0), mm(0.0)).unwrap(), inner.clone()]).unwrap());
    assert!(near(spring.at(mm(10.0)).unwrap().rate.si(), 3e3), "the softer rate where it touches");
    assert!(near(spring.at(mm(20.0)).unwrap().force.si(), 100.0));
    assert_consistent(&spring, 0.05);
    assert!(Nest::new(vec![inner]).unwrap_err().to_string().contains("a gap on every spring"));
}

#[test]
fn the_slope_of_the_rate_goes_through_stacks_and_nests() {
    let table = |last: f64| {
        let rows = [(10.0, 60.0), (22.0, 190.0), (40.0, last)];
        Table::new(rows.map(|(x, force)| (mm(x), Force::from_si(force))).to_vec()).unwrap()
    };
    let nest =
        Nest::new(vec![Nested::new(table(480.0), mm(0.0)).unwrap(), Nested::new(table(700.0), mm(6.0)).unwrap()]);
    let short = Stage::new(table(700.0)).with_limit(mm(18.0)).unwrap();
    let stack = Stack::new(vec![Stage::new(nest.unwrap()), short, Stage::new(coil(30.0))]).unwrap();
    let strokes = [0.003, 0.0094, 0.0207, 0.0268, 0.0391, 0.0473, 0.0552];
    assert!(strokes.iter().any(|&x| stack.eval(x).slope.abs() > 1e3), "a slope to test");
    assert_slope(|x| stack.eval(x), strokes);
}

#[test]
fn refuses_tables_that_do_not_rise() {
    let rows = |rows: &[(f64, f64)]| Table::new(rows.iter().map(|&(x, f)| (mm(x), Force::from_si(f))).collect());
    assert!(near(rows(&[(0.0, 0.0), (10.0, 40.0), (20.0, 90.0)]).unwrap().eval(0.02).force, 90.0));
    assert!(rows(&[(10.0, 40.0), (20.0, 40.0)]).unwrap_err().to_string().starts_with("table[1]: "));
    assert!(rows(&[(0.0, 5.0), (20.0, 40.0)]).unwrap_err().to_string().starts_with("table[0]: "));
    assert!(rows(&[(20.0, 40.0)]).unwrap_err().to_string().contains("two rows"));
    let fault = rows(&[(20.0, f64::NAN), (30.0, 40.0)]).unwrap_err().to_string();
    assert!(fault.contains("NaN is not a finite force"), "{fault}");
}

#[test]
fn text_of_every_kind_round_trips() {
    let text = r#"{"stack": [{"rate": "4 N/mm", "limit": "30 mm"},
        {"nest": [{"rate": "8 N/mm", "free_length": "200 mm", "solid_length": "90 mm"}, {"rate": "2 N/mm", "gap": "12 mm"}]},
        {"table": [["10 mm", "60 N"], ["20 mm", "140 N"], ["30 mm", "250 N"]]}]}"#;
    let spring: Spring = serde_json::from_str(text).unwrap();
    let again: Spring = serde_json::from_str(&serde_json::to_string(&spring).unwrap()).unwrap();
    assert_eq!(again, spring);
    assert!(spring.describe().contains("nest of coil spring 8.00 N/mm"), "{}", spring.describe());
    let fault = |text: &str| serde_json::from_str::<Spring>(text).unwrap_err().to_string();
    assert!(fault(r#"{"rate": "4 N/mm", "limit": "30 mm"}"#).contains("`limit`"));
    assert!(
        fault(r#"{"rate": "4 N/mm", "stack": []}"#).contains("found rate + stack, wanted rate, rate + free_length")
    );
    assert!(fault(r#"{"stack": []}"#).starts_with("stack: found no spring"));
    assert!(fault(r#"{"stack": [{"rate": "4 N/mm", "gap": "1 mm"}]}"#).starts_with("stack[0].gap: unknown key `gap`"));
}

/// Any spring, three levels deep.
fn springs() -> impl Strategy<Value = Spring> {
    let coils = (1.0..60.0_f64).prop_map(|rate| Spring::from(coil(rate)));
    let tables = prop::collection::vec((2.0..20.0_f64, 10.0..200.0_f64), 2..6).prop_map(|steps| {
        let rows = steps.iter().scan((0.0, 0.0), |sum, step| {
            *sum = (sum.0 + step.0, sum.1 + step.1);
            Some((mm(sum.0), Force::from_si(sum.1)))
        });
        Spring::from(Table::new(rows.collect()).unwrap())
    });
    prop_oneof![3 => coils, 1 => tables].prop_recursive(2, 8, 3, |inner| {
        let stage = (inner.clone(), prop::option::of(0.05..1.0_f64)).prop_map(|(spring, share)| {
            let end = spring.most_compression().unwrap_or(mm(80.0));
            let stage = Stage::new(spring);
            share.map_or(stage.clone(), |share| stage.with_limit(end * share).unwrap())
        });
        let nested = (inner, 0.0..30.0_f64);
        prop_oneof![
            prop::collection::vec(stage, 1..4).prop_map(|stages| Spring::from(Stack::new(stages).unwrap())),
            prop::collection::vec(nested, 1..4).prop_map(|nested| {
                let gap = |(i, (spring, gap)): (usize, (Spring, f64))| {
                    Nested::new(spring, mm(if i == 0 { 0.0 } else { gap })).unwrap()
                };
                Spring::from(Nest::new(nested.into_iter().enumerate().map(gap).collect()).unwrap())
            }),
        ]
    })
}

proptest! {
    #[test]
    fn energy_force_and_rate_agree(spring in springs()) {
        let full = spring.end().unwrap_or(0.15);
        assert_consistent_within(&spring, full, 1e-5, 1e-3);
    }

    #[test]
    fn both_views_agree_and_a_spring_only_pushes(spring in springs(), share in 0.0..1.0_f64) {
        let x = share * spring.end().unwrap_or(0.15);
        let state = spring.eval(x);
        prop_assert!(state.force >= 0.0 && state.rate >= 0.0 && state.energy >= 0.0);
        prop_assert_eq!(spring.eval(-x - 1e-9), Axial::default());
        let by_force = spring.by_force(state.force);
        prop_assert!((by_force.compression - x).abs() <= 1e-10 * (x + 1e-3), "{} {}", by_force.compression, x);
        let sum = state.energy + by_force.complementary_energy;
        prop_assert!((sum - state.force * x).abs() <= 1e-9 * (state.force * x + 1e-6));
    }

    #[test]
    fn stacks_of_coils_follow_the_closed_form(rates in prop::collection::vec(1.0..60.0_f64, 1..6), x in 1.0..100.0_f64) {
        let stack = Spring::from(Stack::new(rates.iter().map(|&rate| Stage::new(coil(rate))).collect()).unwrap());
        let rate = 1e3 / rates.iter().map(|rate| 1.0 / rate).sum::<f64>();
        let state = stack.at(mm(x)).unwrap();
        prop_assert!((state.rate.si() / rate - 1.0).abs() < ROUNDING);
        prop_assert!((state.force.si() / (rate * x * 1e-3) - 1.0).abs() < ROUNDING);
    }

    #[test]
    fn coils_with_limits_and_gaps_only_stiffen(
        stages in prop::collection::vec((1.0..60.0_f64, 5.0..50.0_f64), 1..5), gaps in prop::collection::vec((1.0..60.0_f64, 0.0..50.0_f64), 1..5),
    ) {
        let limited = stages.iter().map(|&(rate, limit)| Stage::new(coil(rate)).with_limit(mm(limit)).unwrap());
        let stack = Spring::from(Stack::new(limited.chain([Stage::new(coil(20.0))]).collect()).unwrap());
        let nested = gaps.iter().map(|&(rate, gap)| Nested::new(coil(rate), mm(gap)).unwrap());
        let nest = Spring::from(Nest::new(nested.chain([Nested::new(coil(5.0), mm(0.0)).unwrap()]).collect()).unwrap());
        for spring in [stack, nest] {
            let rates: Vec<f64> = (1..200).map(|i| spring.eval(f64::from(i) * 1e-3).rate).collect();
            prop_assert!(rates.windows(2).all(|pair| pair[1] >= pair[0] * (1.0 - ROUNDING)), "{rates:?}");
        }
    }

    #[test]
    fn a_stiffening_table_gives_a_stiffening_spring_through_its_rows(
        first in 1.0..10.0_f64, steps in prop::collection::vec((2.0..20.0_f64, 1.02..2.0_f64), 2..7),
    ) {
        let rows: Vec<(Length, Force)> = steps.iter().scan((0.0, 0.0, first), |(x, f, rate), &(width, growth)| {
            *x += width;
            *f += width * *rate;
            *rate *= growth;
            Some((mm(*x), Force::from_si(*f)))
        }).collect();
        let spring = Spring::from(Table::new(rows.clone()).unwrap());
        for (x, force) in rows {
            prop_assert!((spring.at(x).unwrap().force.si() / force.si() - 1.0).abs() < ROUNDING);
        }
        let end = spring.end().unwrap();
        let rates: Vec<f64> = (0..=300).map(|i| spring.eval(end * f64::from(i) / 300.0).rate).collect();
        prop_assert!(rates.windows(2).all(|pair| pair[1] >= pair[0] * (1.0 - ROUNDING)), "{rates:?}");
    }

    #[test]
    fn a_scaled_spring_is_the_scaled_force(spring in springs(), factor in 0.5..2.0_f64, share in 0.0..1.0_f64) {
        let scaled = spring.scaled(factor).unwrap();
        let x = share * spring.end().unwrap_or(0.15);
        prop_assert!((scaled.eval(x).force - factor * spring.eval(x).force).abs() <= 1e-9 * (1.0 + spring.eval(x).force));
        prop_assert_eq!(scaled.end(), spring.end());
    }

    #[test]
    fn text_round_trips(spring in springs()) {
        let text = serde_json::to_string(&spring).unwrap();
        prop_assert_eq!(serde_json::from_str::<Spring>(&text).unwrap(), spring);
    }
}

#[test]
fn a_preloaded_stack_changes_over_earlier_by_its_preload() {
    let soft = Stage::new(coil(4.0)).with_limit(mm(30.0)).unwrap();
    let stack = Stack::new(vec![soft, Stage::new(coil(8.0))]).unwrap();
    let place = Preloaded::new(stack, mm(5.0)).unwrap();
    assert!(near(place.kinks()[0].si(), 0.040));
}

#[test]
fn a_stack_that_is_used_up_stays_there() {
    let soft = coil(4.0).with_lengths(mm(60.0), mm(30.0)).unwrap();
    let hard = coil(8.0).with_lengths(mm(100.0), mm(50.0)).unwrap();
    let stack = Stack::new(vec![Stage::new(soft), Stage::new(hard)]).unwrap();
    // A stroke that rounding has put just beyond the end.
    let beyond = stack.eval(stack.end().unwrap() * (1.0 + 1e-12));
    assert!(near(beyond.force, 400.0) && near(beyond.rate, 8e3), "{beyond:?}");
}

#[test]
fn a_spacer_may_stop_a_spring_where_it_ends_and_no_later() {
    let coil = coil(4.0).with_lengths(mm(60.0), mm(30.0)).unwrap();
    let end = Spring::from(coil).most_compression().unwrap();
    assert!(Stage::new(coil).with_limit(end).is_ok());
    assert!(Stage::new(coil).with_limit(end * (1.0 - 1e-9)).is_ok());
    let beyond = Stage::new(coil).with_limit(end * (1.0 + 1e-9)).unwrap_err().to_string();
    assert!(beyond.contains("limit"), "{beyond}");
}

/// `F = c·(x + 20 m⁻¹·x²)`: a spring by a law of somebody's own.
#[derive(Debug)]
struct Rising;

impl AxialElement for Rising {
    fn at(&self, stroke: Length) -> Result<crate::axial::AxialState> {
        let x = crate::axial::stroke_within("rising", stroke, Some(0.06))?;
        Ok(crate::axial::AxialState {
            force: Force::from_si(5e3 * (x + 20.0 * x * x)),
            rate: SpringRate::from_si(5e3 * (1.0 + 40.0 * x)),
            energy: crate::units::Energy::from_si(5e3 * (0.5 * x * x + 20.0 / 3.0 * x.powi(3))),
        })
    }

    fn full_stroke(&self) -> Option<Length> {
        Some(mm(60.0))
    }

    fn kinks(&self) -> Vec<Length> {
        Vec::new()
    }

    fn describe(&self) -> String {
        "rising coil".to_owned()
    }
}

/// Coils of two pitches, of which the narrow ones close first, and a law of somebody's own.
fn progressive() -> [Spring; 2] {
    let zones = [(6.0, 13.0), (8.0, 18.0)].map(|(coils, pitch)| CoilZone::new(coils, mm(pitch)).unwrap());
    let parts = ClosingCoilParts::oil_tempered(mm(10.0), mm(70.0), zones.to_vec());
    [ClosingCoil::new(parts).unwrap().into(), OwnSpring::new(Rising).unwrap().into()]
}

/// End to end every spring carries the same force, so that compressions add up.
#[test]
fn on_top_of_another_a_progressive_spring_gives_as_much_as_alone_under_the_same_force() {
    for spring in progressive() {
        let stack = Spring::from(Stack::new(vec![Stage::new(spring.clone()), Stage::new(coil(30.0))]).unwrap());
        let end = spring.most_compression().unwrap().si();
        for x in [0.1, 0.5, 0.9].map(|share| share * end) {
            let alone = spring.at(Length::from_si(x)).unwrap();
            let both = stack.at(Length::from_si(x + alone.force.si() / 30e3)).unwrap();
            // The force is found by iteration, to a billionth of the compression.
            assert!((both.force.si() / alone.force.si() - 1.0).abs() < 1e-8, "{x}: {both:?} {alone:?}");
            let in_series = 1.0 / (1.0 / alone.rate.si() + 1.0 / 30e3);
            assert!((both.rate.si() / in_series - 1.0).abs() < 1e-7, "{x}: {both:?}");
        }
    }
}

#[test]
fn a_spring_with_its_rates_doubled_carries_twice_as_much_wherever_it_is() {
    for spring in progressive() {
        let twice = spring.scaled(2.0).unwrap();
        assert_eq!(twice.most_compression(), spring.most_compression());
        assert_eq!(twice.kinks(), spring.kinks());
        for x in [5.0, 25.0, 45.0].map(mm) {
            let [one, two] = [&spring, &twice].map(|spring| spring.at(x).unwrap());
            assert!(near(two.force.si(), 2.0 * one.force.si()) && near(two.energy.si(), 2.0 * one.energy.si()));
        }
    }
    assert_eq!(progressive()[1].describe(), "rising coil");
    assert_eq!(progressive()[1].scaled(1.5).unwrap().describe(), "rising coil, its force × 1.5000");
}

#[cfg(feature = "serde")]
#[test]
fn a_law_of_ones_own_is_refused_a_text() {
    let refused = serde_json::to_string(&OwnSpring::new(Rising).unwrap()).unwrap_err().to_string();
    assert!(refused.starts_with("rising coil is of your own and has no text form"), "{refused}");
}

#[test]
fn springs_side_by_side_are_one_main_spring_of_the_sum_of_their_rates() {
    let springs = [4.4, 4.0].map(|rate| Preloaded::linear(SpringRate::from_si(rate * 1e3), mm(rate)).unwrap());
    let all = MainSpring::of_each(&springs).unwrap();
    assert!(near(all.rate.si(), 8.4e3));
    assert_eq!(all.preload, mm(4.4), "that of the first");
    assert_eq!(all.each, springs.each_ref().map(|spring| (spring.spring().initial_rate(), spring.preload())));
    assert_eq!(MainSpring::of_each(&[]), None);
}
