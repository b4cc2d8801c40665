//! A study against the same question asked another way.

use super::*;
use crate::demo::PATROL;
use crate::infer::kept::Kept;
use crate::infer::{Finding, FittedLoad};
use crate::units::{Quantity, Share, Uncertain};

fn bike(change: impl Fn(String) -> String) -> Bike {
    Bike::from_toml(&change(PATROL.to_owned())).unwrap()
}

fn demo() -> Bike {
    bike(|text| text)
}

/// The demo bike with pivots that are known to two millimetres, so that the way to the shock is an unknown too.
fn pivots() -> Bike {
    demo().correct(&[("rear.linkage.point_uncertainty", "2 mm")]).unwrap()
}

fn close<Q: Quantity>(one: Uncertain<Q>, other: Uncertain<Q>, share: f64) -> bool {
    let scale = one.standard_uncertainty.si();
    (one.value.si() - other.value.si()).abs() < share * scale
        && (other.standard_uncertainty.si() / scale - 1.0).abs() < share
}

#[test]
fn a_load_asked_about_later_is_one_asked_about_at_once() {
    // Equal up to where two searches stop: a ten-thousandth of a standard deviation each.
    const SAME: f64 = 1e-3;
    let stretcher = [Load::parse("bike + rider + stretcher").unwrap()];
    for (bike, end) in [(demo(), End::Front), (demo(), End::Rear), (pivots(), End::Rear)] {
        let later = bike.study(end).unwrap().with_loads(&stretcher).unwrap();
        let at_once = Study::new(&bike, end, &stretcher).unwrap();
        let (later, at_once) = (later.fit(), at_once.fit());
        assert!(close(later.rate, at_once.rate, SAME) && close(later.preload, at_once.preload, SAME));
        assert_eq!(later.loads.len(), at_once.loads.len());
        for one in &at_once.loads {
            let other = later.loads.iter().find(|other| other.load == one.load).unwrap();
            assert!(close(one.sag, other.sag, SAME) && close(one.fitted, other.fitted, SAME), "{one:?} {other:?}");
        }
    }
    let study = demo().study(End::Rear).unwrap();
    let unknown = study.with_loads(&[Load::parse("bike + passenger").unwrap()]).unwrap_err().to_string();
    assert!(unknown.contains("`passenger`"), "{unknown}");
    assert_eq!(study.with_loads(&[Load::bike_alone()]).unwrap(), study, "known already");
}

#[test]
fn carried_into_the_same_bike_it_is_the_same() {
    for bike in [demo(), pivots()] {
        let study = bike.study(End::Rear).unwrap();
        let (read, carried) = (study.fit(), study.carried(&bike).unwrap().fit());
        // Only rounding: a linear map and back.
        const ROUNDING: f64 = 1e-9;
        assert!(close(read.rate, carried.rate, ROUNDING) && close(read.preload, carried.preload, ROUNDING));
        assert!(close(read.friction, carried.friction, ROUNDING));
        let pairs: Vec<(&FittedLoad, &FittedLoad)> = read.loads.iter().zip(&carried.loads).collect();
        assert!(pairs.len() == 2 && pairs.iter().all(|(one, other)| close(one.sag, other.sag, ROUNDING)), "{pairs:?}");
        let [Finding::Carried { kept }] = carried.findings[..] else { panic!("{:?}", carried.findings) };
        let all = Share::from_si(1.0);
        assert_eq!(kept, Kept { springs: all, friction: all, masses: true, way: true });
        assert!(carried.readings.is_empty() && carried.chi_square.degrees == 0);
    }
}

#[test]
fn what_a_change_touches_is_drawn_anew() {
    let study = pivots().study(End::Rear).unwrap();
    let carried = |key: &str, value: &str| study.carried(&pivots().correct(&[(key, value)]).unwrap()).unwrap();
    let label = |fit: &Fit| fit.rate.standard_uncertainty.si() / fit.rate.value.si();
    let before = study.fit();

    let other = carried("rear.shock.spring.rate", "56 N/mm").fit();
    let prior = pivots().assumed().prior(End::Rear);
    assert!((label(&other) / prior.rate_standard_uncertainty().si() - 1.0).abs() < 1e-9);
    assert!((other.rate.value.si() - 56e3).abs() < 1e-6);
    assert!((other.preload.standard_uncertainty.si() / prior.preload_uncertainty.si() - 1.0).abs() < 1e-9);
    assert!(close(before.friction, other.friction, 1e-9) && close(before.loads[1].fitted, other.loads[1].fitted, 1e-9));

    // A collar turned: five millimetres more, what it was off by stays, and the spring.
    let turned = carried("rear.shock.spring.preload", "19 mm").fit();
    assert!((turned.preload.value.si() - before.preload.value.si() - 5e-3).abs() < 1e-12);
    assert!(close(before.rate, turned.rate, 1e-9));

    let heavier = carried("masses.rider.rear", "70 kg").fit();
    assert!(close(before.rate, heavier.rate, 1e-9));

    let longer = carried("rear.linkage.points.link_frame", "[\"-66 mm\", \"-93 mm\"]");
    assert!(!Kept::between(&pivots(), longer.bike(), End::Rear).way);
    assert!(close(before.rate, longer.fit().rate, 1e-9));
    assert!(longer.fit().loads[1].sag.value.si() != before.loads[1].sag.value.si());
    // Seals hold along the shock: at the wheel their force grows as the motion ratio, a third of the travel down.
    let ratio = |study: &Study| {
        let end = &study.solved.evidence.end;
        end.kinematics(end.full_travel() / 3.0).unwrap().ratio
    };
    let grows = ratio(&longer) / ratio(&study);
    assert!((grows - 1.0).abs() > 1e-3, "{grows}");
    let [was, is] = [before.friction, longer.fit().friction].map(|friction| friction.value.si());
    assert!((is / was / grows - 1.0).abs() < 1e-9, "{was} {is} {grows}");
}

#[test]
fn a_sag_carried_over_a_turned_collar_is_surer_than_one_from_labels() {
    let study = demo().study(End::Rear).unwrap();
    let turned = demo().correct(&[("rear.shock.spring.preload", "18 mm")]).unwrap();
    let mut parts = turned.parts().clone();
    parts.readings.clear();
    let labels = Bike::new(parts).unwrap().study(End::Rear).unwrap().fit();
    let carried = study.carried(&turned).unwrap().fit();
    let spread = |fit: &Fit| fit.loads[1].sag.standard_uncertainty.si();
    assert!(spread(&carried) < 0.5 * spread(&labels), "{} {}", spread(&carried), spread(&labels));
}

/// One stiffer spring in one of two legs: half of the rate is that of a spring that was read, to the share of its label.
#[test]
fn a_spring_in_one_leg_is_half_of_the_springs() {
    let study = demo().study(End::Front).unwrap();
    let before = study.fit();
    let one_leg = bike(|text| text.replacen("rate = \"4.4 N/mm\", preload", "rate = \"4.8 N/mm\", preload", 1));
    let carried = study.carried(&one_leg).unwrap();
    let fit = carried.fit();
    let Some(kept) = carried.solved.carried else { panic!("carried") };
    let share = 4.4 / (4.4 + 4.8);
    assert!((kept.springs.si() - share).abs() < 1e-12 && kept.friction.si() == 1.0, "{kept:?}");
    // Sums by hand, in N/m: the old leg as found, the new one as labelled.
    let [label, old] = [4.8e3, 0.5 * before.rate.value.si()];
    let spread = demo().assumed().prior(End::Front).rate_standard_uncertainty().si() * label;
    let both = spread.hypot(0.5 * before.rate.standard_uncertainty.si());
    assert!((fit.rate.value.si() / (old + label) - 1.0).abs() < 1e-9, "{:?}", fit.rate);
    // The factor is carried to first order, and the new label's spread is that about the sum.
    assert!((fit.rate.standard_uncertainty.si() / both - 1.0).abs() < 1e-2, "{:?} {both}", fit.rate);
}

/// Friction that is stated anew for one leg: that leg's part comes from what is stated, the other's from the readings.
#[test]
fn friction_of_one_leg_is_half_of_the_friction() {
    let stated = |left: &str, right: &str| {
        let legs = [left, right].map(|force| format!("friction = \"{force}\"\nspring = {{ rate = \"4.4 N/mm\""));
        bike(|text| {
            let [first, second] = legs.clone();
            text.replacen("spring = { rate = \"4.4 N/mm\"", "\u{0}", 1)
                .replacen("spring = { rate = \"4.4 N/mm\"", &second, 1)
                .replacen('\u{0}', &first, 1)
        })
    };
    let study = stated("20 N", "20 N").study(End::Front).unwrap();
    let carried = study.carried(&stated("20 N", "5 N")).unwrap();
    let Some(kept) = carried.solved.carried else { panic!("carried") };
    assert!((kept.friction.si() - 0.5).abs() < 1e-12, "{kept:?}");
    let (before, after) = (study.fit().friction, carried.fit().friction);
    // At the wheel a force along the fork counts by 1/cos 26.5°.
    let new = 5.0 / 26.5f64.to_radians().cos();
    assert!((after.value.si() - (0.5 * before.value.si() + new)).abs() < 1e-9, "{before:?} {after:?}");
    assert!(after.standard_uncertainty > before.standard_uncertainty);
}

/// The rider weighed anew, the bike as it was: what the readings said of the bike's load stays, and is in the new sum too.
#[test]
fn a_load_is_carried_by_the_masses_that_stayed() {
    let study = demo().study(End::Rear).unwrap();
    let heavier = bike(|text| text.replace("rear = \"66 kg\"", "rear = \"76 kg\""));
    let (before, after) = (study.fit(), study.carried(&heavier).unwrap().fit());
    let [alone, rider] = &after.loads[..] else { panic!("{:?}", after.loads) };
    assert!(close(before.loads[0].fitted, alone.fitted, 1e-9), "{alone:?}");
    // By hand: ten kilograms more; the bike's own error is in both loads, and what the rider is off by on the scale
    // (half a kilogram) and on the day (one in a hundred) is independent of it.
    let newton = |kilogram: f64| 9.80665 * kilogram;
    assert!((rider.stated.value.si() - before.loads[1].stated.value.si() - newton(10.0)).abs() < 1e-9);
    let moved = |load: &FittedLoad| load.fitted.value.si() - load.stated.value.si();
    assert!((moved(rider) - moved(&before.loads[0])).abs() < 1e-9, "{rider:?} {:?}", before.loads);
    let spread = before.loads[0].fitted.standard_uncertainty.si().hypot(newton(0.5)).hypot(newton(0.76));
    assert!((rider.fitted.standard_uncertainty.si() / spread - 1.0).abs() < 1e-9, "{rider:?} {spread}");
}

/// The demo bike with its shock spring read off a press, 12 mm apart: loads of 52 N/mm and these, uncertain by these.
fn pressed(more: &[f64; 12], one: &str, shared: &str) -> Bike {
    let rows = more.iter().zip(1..).map(|(more, k)| {
        let x = 12.0 * f64::from(k);
        format!("[\"{x} mm\", \"{} N\"]", 52.0 * x + more)
    });
    let rows: Vec<String> = rows.collect();
    let measured = format!(
        "measured = {{ readings = [{}], force_uncertainty = \"{one}\", compression_uncertainty = \"0 mm\", scale_uncertainty = \"{shared}\" }}",
        rows.join(", ")
    );
    bike(|text| {
        let without_lengths = text.replace("free_length = \"260 mm\", solid_length = \"118 mm\", ", "");
        without_lengths.replace("rate = \"52 N/mm\"", &measured)
    })
}

#[test]
fn a_spring_read_without_error_is_one_by_its_label() {
    let label = demo().assumed().prior(End::Rear).rate_standard_uncertainty().si();
    let exact = pressed(&[0.0; 12], "0.01 N", &format!("{} %", 100.0 * label)).study(End::Rear).unwrap().fit();
    let known = demo().study(End::Rear).unwrap().fit();
    // Readings good to 0.01 N on a spring of 52 N/mm leave a micrometre, far below a reading of sag.
    assert!(close(exact.rate, known.rate, 1e-2) && close(exact.preload, known.preload, 1e-2), "{exact:?}");
    let sure = pressed(&[0.0; 12], "0.01 N", "0.2 %");
    assert!((sure.assumed().prior(End::Rear).rate_standard_uncertainty().si() - 2e-3).abs() < 1e-12);
    let sure = sure.study(End::Rear).unwrap().fit();
    let (sure, label) = (sure.rate.standard_uncertainty.si(), known.rate.standard_uncertainty.si());
    // What is left beside 0.2 % is the doubt that it is another spring altogether.
    assert!(sure < 0.5 * label, "better scales than labels: {sure} {label}");
}

#[test]
fn sags_spread_as_with_springs_pressed_anew() {
    use rand_distr::{Distribution, StandardNormal};
    use rand_xoshiro::rand_core::SeedableRng;
    /// Draws, and what they leave of a standard deviation: three times 1/√(2N).
    const DRAWS: usize = 60;
    const SCATTER: f64 = 0.28;
    let sag = |bike: Bike| {
        let unread = bike.holding(Vec::new(), Vec::new());
        let fit = Study::new(&unread, End::Rear, &[]).unwrap().fit();
        fit.loads.iter().find(|one| one.load != Load::bike_alone()).unwrap().sag
    };
    let spread = |one: &str| sag(pressed(&[0.0; 12], one, "0.1 %")).standard_uncertainty.si();
    let stated = (spread("80 N").powi(2) - spread("0.01 N").powi(2)).sqrt();
    let mut random = rand_xoshiro::Xoshiro256PlusPlus::seed_from_u64(17);
    let mut draw = || {
        let off: [f64; 12] = core::array::from_fn(|_| {
            let normal: f64 = StandardNormal.sample(&mut random);
            80.0 * normal
        });
        sag(pressed(&off, "80 N", "0.1 %")).value.si()
    };
    let drawn: Vec<f64> = (0..DRAWS).map(|_| draw()).collect();
    let mean = drawn.iter().sum::<f64>() / DRAWS as f64;
    let found = (drawn.iter().map(|one| (one - mean).powi(2)).sum::<f64>() / (DRAWS - 1) as f64).sqrt();
    assert!((found / stated - 1.0).abs() < SCATTER, "drawn {found}, stated {stated}");
}

#[test]
fn what_was_read_off_a_spring_goes_when_it_goes() {
    let unknowns = |study: &Study| study.solved.evidence.all_unknowns();
    let read = pressed(&[0.0; 12], "60 N", "1 %");
    let [study, label] = [&read, &demo()].map(|bike| bike.study(End::Rear).unwrap());
    assert!(unknowns(&study) > unknowns(&label), "the spring is an unknown");
    let out = study.carried(&demo()).unwrap();
    assert_eq!(unknowns(&out), unknowns(&label));
    let other = out.fit().rate.standard_uncertainty.si() / out.fit().rate.value.si();
    assert!((other / demo().assumed().prior(End::Rear).rate_standard_uncertainty().si() - 1.0).abs() < 1e-9);
    assert_eq!(unknowns(&label.carried(&read).unwrap()), unknowns(&study), "put in, it is one");
    let collar = study.carried(&read.correct(&[("rear.shock.spring.preload", "17 mm")]).unwrap()).unwrap();
    assert_eq!(unknowns(&collar), unknowns(&study));
    let [before, after] = [study.fit(), collar.fit()];
    assert!(close(before.rate, after.rate, 1e-9), "{before:?} {after:?}");
}

#[test]
fn a_spring_on_sale_is_not_the_one_on_the_press() {
    let spread = |one: &str| {
        let unread = pressed(&[0.0; 12], one, "1 %").holding(Vec::new(), Vec::new());
        let advice = Study::new(&unread, End::Rear, &[]).unwrap().advise().unwrap();
        let of = |fitted: bool| {
            let spring = advice.choices.iter().find(|spring| spring.is_fitted == fitted && spring.outcome.is_some());
            spring.unwrap().outcome.as_ref().unwrap().free_sag.standard_uncertainty.si()
        };
        [of(true), of(false)]
    };
    let ([sure, other], [unsure, still]) = (spread("0.01 N"), spread("120 N"));
    assert!(unsure > 1.05 * sure, "{unsure} {sure}");
    // Each is set where it lands most likely, to a step of the collar.
    assert!((still / other - 1.0).abs() < 1e-2, "{still} {other}");
}

#[test]
fn what_a_bike_keeps_of_its_readings_is_not_taken_for_others() {
    let bike = demo();
    let plain = |bike: &Bike| Study::plain(bike, End::Rear).unwrap().fit();
    let (first, doubted) = (plain(&bike), bike.fit_end(End::Rear).unwrap());
    assert_eq!(plain(&bike), first);
    assert_eq!(bike.fit_end(End::Rear).unwrap(), doubted);
    assert_ne!(first.rate, doubted.rate);
    // The same bike with one reading less, by both ways.
    let mut fewer = bike.parts().readings.clone();
    fewer.pop();
    let held = bike.holding(fewer.clone(), Vec::new());
    let anew = bike.with(|parts| parts.readings = fewer).unwrap();
    assert_eq!(plain(&held), plain(&anew));
    assert_eq!(held.fit_end(End::Front).unwrap(), anew.fit_end(End::Front).unwrap());
    let counts = |bike: &Bike| End::BOTH.map(|end| bike.fit_end(end).unwrap().readings.len());
    assert_eq!(counts(&bike).iter().sum::<usize>(), counts(&held).iter().sum::<usize>() + 1);
    assert_eq!(plain(&bike), first);
}

#[test]
fn studies_are_alike_where_bike_end_and_answer_are() {
    let study = |bike: &Bike, end: End| bike.study(end).unwrap();
    let (rear, front) = (study(&demo(), End::Rear), study(&demo(), End::Front));
    assert_eq!(rear, study(&demo(), End::Rear));
    assert_ne!(rear, front);
    assert_ne!(rear, study(&demo().correct(&[("masses.rider", "97 kg")]).unwrap(), End::Rear));
    // The same bike and end, another answer: nothing doubted.
    let stated = rear.as_stated().unwrap();
    assert_ne!(rear, stated);
    assert_eq!([rear.is_as_stated(), stated.is_as_stated()], [false, true]);
}

#[test]
fn a_bike_of_another_name_is_another_bike_though_everything_found_is_the_same() {
    let (one, other) = (demo(), demo().with(|parts| parts.name = "another".to_owned()).unwrap());
    let [one, other] = [one, other].map(|bike| bike.study(End::Rear).unwrap());
    assert_eq!(one.fit(), other.fit());
    assert_ne!(one, other);
}

#[test]
fn what_is_asked_beside_is_not_asked_the_next_time() {
    let stretcher = [Load::parse("bike + rider + stretcher").unwrap()];
    for (bike, end) in [(demo(), End::Front), (demo(), End::Rear), (pivots(), End::Rear)] {
        assert_eq!(Study::new(&bike, end, &stretcher).unwrap().fit().loads.len(), 3);
        let again = bike.study(end).unwrap().fit();
        assert_eq!(again.loads.len(), 2);
        assert_eq!(Study::new(&bike, end, &stretcher).unwrap().fit().loads.len(), 3, "nor forgotten");
        assert_eq!(bike.study(end).unwrap().fit(), again);
    }
}

#[test]
fn what_an_end_is_solved_from_is_kept_for_the_same_readings_and_doubts() {
    let bike = demo();
    let all = bike.parts().readings.iter().enumerate();
    let places: Vec<usize> = all.filter(|(_, one)| one.end == End::Rear).map(|(place, _)| place).collect();
    let is_kept = |places: &[usize], doubts| Given::recalled(&bike, End::Rear, places, doubts).is_some();
    assert!(!is_kept(&places, Doubts::USUAL), "nothing was asked");
    bike.study(End::Rear).unwrap();
    assert!(is_kept(&places, Doubts::USUAL));
    assert!(!is_kept(&places, Doubts::AS_STATED) && !is_kept(&places[1..], Doubts::USUAL));
    assert!(!is_kept(&places, Doubts { rider: 0.02, ..Doubts::USUAL }), "other doubts");
    Study::plain(&bike, End::Rear).unwrap();
    assert!(is_kept(&places, Doubts::USUAL) && is_kept(&places, Doubts::AS_STATED), "side by side");
}
