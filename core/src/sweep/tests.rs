use super::*;
use crate::Bike;
use crate::demo::PATROL;
use crate::error::{Error, SweepError};
use crate::record::{End, Load};
use crate::units::Quantity;
use proptest::prelude::*;

/// Rounding of the short way against the long one: the same kernels on the same numbers, but that a drawn value goes through its
/// text once on the long way.
const ROUNDING: f64 = 1e-12;

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

fn x_of_link() -> SweepAxis {
    SweepAxis::between("rear.linkage.points.link_frame.x", "-68 mm", "-63 mm").unwrap()
}

/// Every output of a design, asked of the bike that `what_if` makes, one by one.
fn plainly(sweep: &Sweep, index: u64, output: &str) -> crate::Result<Vec<f64>> {
    let bike = sweep.design(index)?;
    let (end, asks) = match output.split_once('.') {
        Some(("front", asks)) => (End::Front, asks),
        Some(("rear", asks)) => (End::Rear, asks),
        _ => (End::Rear, output),
    };
    let kernel = bike.end(end)?;
    let found = |load: &crate::record::Load| -> crate::Result<f64> {
        let fit = bike.fit_end(end)?;
        Ok(fit.loads.iter().find(|fitted| fitted.load == *load).unwrap().sag.value.si())
    };
    let stated = |load| kernel.travel_under(bike.masses()?.sprung_load(end, load)?.value);
    let stance = || bike.whole().settle(&bike.parts().rider_load).map(|settled| settled.stance);
    let curve = || kernel.curve(&kernel.travels(sweep.points()));
    let decision = || bike.advise_end(end);
    let set = || bike.study(end)?.adviser()?.left_alone();
    let one = match asks {
        "full_travel" => kernel.full_travel().si(),
        "progression" => {
            let ratio = |travel| kernel.at(travel).unwrap().motion_ratio.si();
            ratio(kernel.full_travel()) / ratio(Quantity::from_si(0.0)) - 1.0
        }
        "least_motion_ratio" => curve()?.motion_ratio.iter().map(|ratio| ratio.si()).fold(f64::MAX, f64::min),
        "greatest_motion_ratio" => curve()?.motion_ratio.iter().map(|ratio| ratio.si()).fold(f64::MIN, f64::max),
        "least_wheel_rate" => curve()?.wheel_rate.iter().map(|rate| rate.si()).fold(f64::MAX, f64::min),
        "rider_travel" => found(&bike.parts().rider_load)?,
        "free_travel" => found(&Load::bike_alone())?,
        "motion_ratio_at_sag" => kernel.at(Quantity::from_si(found(&bike.parts().rider_load)?))?.motion_ratio.si(),
        "wheel_rate_at_sag" => set()?.unwrap().wheel_rate.value,
        "rider_sag" => decision()?.today.rider_sag.value.si(),
        "free_sag" => decision()?.today.free_sag.value.si(),
        "rider_sag_uncertainty" => decision()?.today.rider_sag.standard_uncertainty.si(),
        "free_sag_uncertainty" => decision()?.today.free_sag.standard_uncertainty.si(),
        "chance" => decision()?.today.probability.si(),
        "best_chance" => decision()?.action().unwrap().probability.si(),
        "best_rate" => {
            let decision = decision()?;
            decision.choice_of(decision.action().unwrap().act).unwrap().rate.si()
        }
        "best_preload_change" => {
            let decision = decision()?;
            match decision.action().unwrap().act {
                crate::decide::Act::Leave => 0.0,
                act => decision.choice_of(act).unwrap().outcome.unwrap().preload_change.value.si(),
            }
        }
        "ride_frequency" => set()?.unwrap().frequency.value,
        "full_force" => set()?.unwrap().full_force.value,
        "energy_left" => set()?.unwrap().energy_left.value,
        "drop_height" => set()?.unwrap().drop_height.value,
        "stated_rider_travel" => stated(&bike.parts().rider_load)?.state().unwrap().travel.si(),
        "stated_free_travel" => stated(&Load::bike_alone())?.state().unwrap().travel.si(),
        "curve.travel" => return Ok(curve()?.travel.iter().map(|value| value.si()).collect()),
        "curve.motion_ratio" => return Ok(curve()?.motion_ratio.iter().map(|value| value.si()).collect()),
        "curve.wheel_force" => return Ok(curve()?.wheel_force.iter().map(|value| value.si()).collect()),
        "curve.wheel_rate" => return Ok(curve()?.wheel_rate.iter().map(|value| value.si()).collect()),
        "curve.energy" => return Ok(curve()?.energy.iter().map(|value| value.si()).collect()),
        "trail" => stance()?.trail.si(),
        "rake" => stance()?.rake.si(),
        "wheelbase" => stance()?.wheelbase.si(),
        "pitch" => stance()?.pitch.si(),
        "swingarm_angle" => stance()?.swingarm_angle.unwrap().si(),
        "anti_squat" => bike.whole().squat_at_rest(&bike.parts().rider_load)?.anti_squat.si(),
        other => panic!("no plain way to `{other}`"),
    };
    Ok(vec![one])
}

/// Every output of every design against the plain way.
fn assert_plain(sweep: &Sweep) {
    let chunk = sweep.chunk(0..sweep.len());
    let answered = |index: u64| !chunk.reasons.iter().any(|(at, _)| *at == index);
    assert!((0..sweep.len()).any(answered), "{:?}", chunk.reasons.first());
    for output in sweep.outputs() {
        let column = chunk.column(&output.name()).unwrap();
        let values = column.numbers().unwrap();
        for index in (0..sweep.len()).filter(|&index| answered(index)) {
            let own = &values[index as usize * column.width..][..column.width];
            let plain = plainly(sweep, index, &output.name()).unwrap();
            assert_eq!(own.len(), plain.len());
            for (own, plain) in own.iter().zip(plain) {
                let scale = plain.abs().max(f64::MIN_POSITIVE);
                assert!((own - plain).abs() <= ROUNDING * scale, "{} of {index}: {own} {plain}", output.name());
            }
        }
    }
}

#[test]
fn every_output_is_that_of_the_bike_that_what_if_makes() {
    let names: Vec<String> = Output::all().map(Output::name).collect();
    let axes = vec![
        x_of_link(),
        SweepAxis::between("rear.shock.spring.rate", "50 N/mm", "56 N/mm").unwrap(),
        SweepAxis::new("front.fork.leg[0].spring.preload", ["4 mm", "7 mm"]).unwrap(),
    ];
    let sweep = Sweep::with_points(&demo(), axes, Scheme::LatinHypercube { samples: 4, seed: 3 }, &names, 7).unwrap();
    assert_plain(&sweep);
}

#[test]
fn whatever_is_varied_the_short_way_is_the_long_one() {
    let outputs = ["rear.rider_sag", "rear.chance", "front.rider_sag", "front.free_travel", "rear.full_force", "trail"];
    for axes in [
        vec![("rear.linkage.points.axle[1]", ["-167 mm", "-163 mm"]), ("rear.shock.length", ["468.7 mm", "470 mm"])],
        vec![("rear.shock.spring.preload", ["10 mm", "15 mm"]), ("rear.shock.reservoir.pressure", ["9 bar", "11 bar"])],
        vec![("masses.rider.rear", ["64 kg", "70 kg"]), ("masses.unsprung.front", ["14 kg", "15 kg"])],
        vec![("front.fork.rake", ["26 deg", "27 deg"]), ("front.axle[0]", ["903 mm", "907 mm"])],
        // What no short way is for: targets, springs on sale, priors, wheels, a mass that was not there.
        vec![("targets.rear.rider_sag.value", ["100 mm", "104 mm"]), ("on_sale.rear[5]", ["60 N/mm", "62 N/mm"])],
        vec![("prior.rear.rate_tolerance", ["3 %", "6 %"]), ("wheels.fork_offset", ["54 mm", "56 mm"])],
        vec![
            ("rear.linkage.points.axle[0]", ["-575 mm", "-577 mm"]),
            ("targets.rear.free_sag.tolerance", ["7 mm", "8 mm"]),
        ],
        // The value that is there: a spring of the same label is the same spring.
        vec![("rear.shock.spring.rate", ["52 N/mm", "53 N/mm"]), ("front.fork.leg[1].friction", ["9 N", "14 N"])],
    ] {
        let axes = axes.iter().map(|(address, values)| SweepAxis::new(address, *values).unwrap()).collect();
        assert_plain(&Sweep::new(&demo(), axes, Scheme::Grid, &outputs).unwrap());
    }
}

#[test]
fn whole_parts_and_plain_numbers_are_varied_too() {
    let table = |rate: &str| -> crate::keys::Value {
        [("rate", crate::keys::Value::from(rate)), ("acts_over", "14 mm".into())].into_iter().collect()
    };
    let axes = vec![
        SweepAxis::new("rear.shock.bump_stop", [table("100 N/mm"), table("140 N/mm")]).unwrap(),
        SweepAxis::new("rear.chain.front_teeth", [12.0, 13.0]).unwrap(),
        SweepAxis::new("masses.rider.height", ["950 mm"]).unwrap(),
    ];
    let sweep = Sweep::new(&demo(), axes, Scheme::Grid, &["rear.full_force", "anti_squat"]).unwrap();
    assert_plain(&sweep);
    let chunk = sweep.chunk(0..4);
    assert!(matches!(&chunk.columns[0].values, Values::Words(words) if words[0].contains("100 N/mm")), "{chunk:?}");
    assert_eq!(chunk.column("rear.chain.front_teeth").unwrap().numbers().unwrap(), [12.0, 13.0, 12.0, 13.0]);
}

#[test]
fn an_earlier_change_and_an_end_without_readings_are_carried_as_what_if_does() {
    let changed = demo().what_if(&[("rear.shock.spring.rate", "54 N/mm")]).unwrap();
    let unread = Bike::from_toml(PATROL.split("[[reading]]").next().unwrap()).unwrap();
    for bike in [changed, unread] {
        let axes = vec![x_of_link(), SweepAxis::between("rear.shock.spring.preload", "8 mm", "15 mm").unwrap()];
        let outputs = ["rear.rider_sag", "rear.rider_sag_uncertainty", "rear.best_chance", "front.rider_sag"];
        assert_plain(&Sweep::new(&bike, axes, Scheme::Random { samples: 4, seed: 1 }, &outputs).unwrap());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn stretches_and_order_do_not_matter(seed: u64, cuts in prop::collection::vec(1..9_u64, 1..6)) {
        let axes = vec![x_of_link(), SweepAxis::between("rear.shock.spring.rate", "48 N/mm", "60 N/mm").unwrap()];
        let outputs = ["rear.rider_sag", "rear.curve.motion_ratio", "front.rider_sag"];
        let sweep = Sweep::with_points(&demo(), axes, Scheme::Random { samples: 24, seed }, &outputs, 5).unwrap();
        let whole = sweep.chunk(0..24);
        let mut from = 0;
        let mut parts = Vec::new();
        for cut in cuts.iter().chain(&[24]) {
            parts.push(sweep.chunk(from..from + cut));
            from = (from + cut).min(24);
        }
        parts.reverse();
        let again = sweep.clone();
        for part in parts {
            prop_assert_eq!(&again.chunk(part.designs.clone()), &part);
            for (all, own) in whole.columns.iter().zip(&part.columns) {
                let stretch = part.designs.start as usize * own.width..part.designs.end as usize * own.width;
                prop_assert_eq!(own.numbers().unwrap(), &all.numbers().unwrap()[stretch]);
            }
        }
    }
}

#[test]
#[cfg(feature = "rayon")]
fn the_number_of_cores_does_not_matter() {
    let axes = vec![x_of_link()];
    let sweep =
        Sweep::new(&demo(), axes, Scheme::Random { samples: 64, seed: 5 }, &["rear.rider_sag", "rear.chance"]).unwrap();
    let on = |cores| rayon::ThreadPoolBuilder::new().num_threads(cores).build().unwrap().install(|| sweep.chunk(0..64));
    assert_eq!(on(1), on(2));
    assert_eq!(on(1), on(7));
}

#[test]
fn a_design_that_fails_has_its_reason_and_stops_nothing() {
    let axes = vec![SweepAxis::new("rear.shock.length", ["468.7 mm", "900 mm", "470 mm"]).unwrap()];
    let sweep = Sweep::new(&demo(), axes, Scheme::List, &["rear.rider_sag", "front.rider_sag"]).unwrap();
    let chunk = sweep.chunk(0..3);
    let sags = chunk.column("rear.rider_sag").unwrap().numbers().unwrap();
    assert!(sags[0].is_finite() && sags[1].is_nan() && sags[2].is_finite());
    let [(1, reason)] = chunk.reasons.as_slice() else { panic!("{:?}", chunk.reasons) };
    // The words are those in which the plain way refuses it.
    assert_eq!(*reason, sweep.design(1).unwrap_err().to_string());
    assert!(reason.starts_with("rear.shock.length"), "{reason}");
    // A design that lacks one answer has the others.
    let axes = vec![SweepAxis::new("masses.rider.rear", ["66 kg", "400 kg"]).unwrap()];
    let outputs = ["rear.stated_rider_travel", "rear.stated_free_travel"];
    let chunk = Sweep::new(&demo(), axes, Scheme::Grid, &outputs).unwrap().chunk(0..2);
    assert_eq!(
        chunk.reasons,
        [(1, "rear.stated_rider_travel: the rear end rests on its stop under `bike + rider`".to_owned())]
    );
    let free = chunk.column("rear.stated_free_travel").unwrap().numbers().unwrap();
    assert!(free[0] == free[1] && free[0].is_finite());
}

#[test]
fn what_cannot_be_swept_is_refused_with_its_address() {
    let bike = demo();
    let sweep = |axes: Vec<SweepAxis>, scheme, output: &str| Sweep::new(&bike, axes, scheme, &[output]).unwrap_err();
    let rate = "rear.shock.spring.rate";
    for (address, values, says) in [
        ("rear.shock.spring.rat", ["52 N/mm", "54 N/mm"], "an address that leads nowhere"),
        (rate, ["52 mm", "54 mm"], "`52 mm` is a length, not a spring rate"),
        (rate, ["52", "54"], "`52` has no unit"),
        (rate, ["-52 N/mm", "-54 N/mm"], "zero or more"),
        ("front.fork.leg[2].friction", ["5 N", "6 N"], "nowhere"),
        ("rear.linkage.points.link_fram[0]", ["5 mm", "6 mm"], "link_fram"),
        ("reading[0].distance", ["650 mm", "651 mm"], "readings and the log are not varied"),
    ] {
        let error = sweep(vec![SweepAxis::new(address, values).unwrap()], Scheme::Grid, "rear.rider_sag").to_string();
        let named = address.split('[').next().unwrap();
        assert!(error.contains(named) && error.contains(says), "{address}: {error}");
    }
    let between = || SweepAxis::between(rate, "52 N/mm", "54 N/mm").unwrap();
    assert!(
        matches!(sweep(vec![between()], Scheme::Grid, "trail"), Error::Sweep(SweepError::Levels { address, .. }) if address == rate)
    );
    let twice = vec![between(), SweepAxis::between("rear.shock.spring", "1 N/mm", "2 N/mm").unwrap()];
    let random = Scheme::Random { samples: 3, seed: 0 };
    assert!(sweep(twice, random, "trail").to_string().starts_with("rear.shock.spring: "));
    let lists =
        vec![SweepAxis::new(rate, ["52 N/mm"]).unwrap(), SweepAxis::new("rear.shock.length", ["1 m", "2 m"]).unwrap()];
    assert!(
        matches!(sweep(lists, Scheme::List, "trail"), Error::Sweep(SweepError::Levels { address, .. }) if address == "rear.shock.length")
    );
    assert!(matches!(sweep(vec![], Scheme::Grid, "trail"), Error::Sweep(SweepError::Empty { field: "axes", .. })));
    assert!(matches!(sweep(vec![between()], random, "trial"), Error::Sweep(SweepError::Output { .. })));
    let shaftless = Bike::from_toml(PATROL.split("[rear.chain]").next().unwrap()).unwrap();
    let error = Sweep::new(&shaftless, vec![x_of_link()], random, &["anti_squat"]).unwrap_err();
    assert!(error.to_string().contains("`rear.chain` is missing"), "{error}");
}

#[test]
fn a_sweep_comes_back_from_its_text() {
    let axes = vec![x_of_link(), SweepAxis::new("rear.shock.spring.rate", ["50 N/mm", "52.1 N/mm"]).unwrap()];
    let scheme = Scheme::LatinHypercube { samples: 6, seed: u64::MAX };
    let sweep = Sweep::with_points(&demo(), axes, scheme, &["rear.curve.energy", "rear.chance"], 3).unwrap();
    let again: Sweep = serde_json::from_str(&serde_json::to_string(&sweep).unwrap()).unwrap();
    assert_eq!(again, sweep);
    assert_eq!(again.chunk(0..6), sweep.chunk(0..6));
}

#[test]
fn steps_hold_both_ends_and_draws_stay_between_them() {
    let axis = SweepAxis::steps("rear.shock.spring.rate", "50 N/mm", "56 N/mm", 4).unwrap();
    let Levels::Values(values) = axis.levels() else { panic!("values") };
    assert_eq!(values, &["50 N/mm", "52 N/mm", "54 N/mm", "56 N/mm"].map(crate::keys::Value::from));
    let axes = vec![x_of_link(), SweepAxis::new("rear.shock.spring.rate", ["50 N/mm", "52 N/mm"]).unwrap()];
    for scheme in [Scheme::Random { samples: 40, seed: 9 }, Scheme::LatinHypercube { samples: 40, seed: 9 }] {
        let chunk = Sweep::new(&demo(), axes.clone(), scheme, &["rear.progression"]).unwrap().chunk(0..40);
        let at = |column: usize| chunk.columns[column].numbers().unwrap();
        assert!(at(0).iter().all(|x| (-0.068..-0.063).contains(x)));
        let soft = at(1).iter().filter(|rate| **rate == 50e3).count();
        assert!(at(1).iter().all(|rate| [50e3, 52e3].contains(rate)) && (8..33).contains(&soft), "{soft}");
    }
    assert!(matches!(SweepAxis::steps("rear.shock.length", "1 m", "2 m", 1), Err(SweepError::Count { .. })));
}

#[test]
fn quantities_and_their_texts_make_the_same_axis() {
    let rates = [50.0, 52.1].map(|rate| crate::units::SpringRate::of(rate, "N/mm").unwrap());
    let axis = SweepAxis::of("rear.shock.spring.rate", &rates).unwrap();
    assert_eq!(axis, SweepAxis::new("rear.shock.spring.rate", ["50 N/mm", "52.1 N/mm"]).unwrap());
    assert_eq!(*axis.address(), "rear.shock.spring.rate");
    let teeth = SweepAxis::steps("rear.chain.front_teeth", 12.0, 14.0, 3).unwrap();
    assert_eq!(teeth, SweepAxis::new("rear.chain.front_teeth", [12.0, 13.0, 14.0]).unwrap());
}

#[test]
fn an_exponent_is_varied_as_a_number_or_as_a_whole() {
    use crate::keys::Value;
    let both =
        |fast: f64| -> Value { [("slow", 1.0), ("fast", fast)].map(|(key, n)| (key, n.into())).into_iter().collect() };
    let legs = |values: [Value; 2]| {
        let axis = |leg: usize| SweepAxis::new(&format!("front.fork.leg[{leg}].air.exponent"), values.clone()).unwrap();
        Sweep::new(&demo(), vec![axis(0), axis(1)], Scheme::List, &["front.full_force", "front.rider_sag"]).unwrap()
    };
    for values in [[both(1.2), both(1.35)], [1.1.into(), 1.2.into()]] {
        let sweep = legs(values);
        assert_plain(&sweep);
        let forces = sweep.chunk(0..2).column("front.full_force").unwrap().numbers().unwrap().to_vec();
        assert!(forces[0] < forces[1], "{forces:?}");
    }
}

#[test]
fn an_end_that_no_axis_touches_answers_the_same_in_every_design() {
    let sweep = Sweep::new(&demo(), vec![x_of_link()], Scheme::Random { samples: 3, seed: 2 }, &["front.rider_sag"]);
    let sweep = sweep.unwrap();
    assert_plain(&sweep);
    let chunk = sweep.chunk(0..9);
    let sags = chunk.column("front.rider_sag").unwrap().numbers().unwrap();
    assert_eq!(sags.len(), 3, "what lies beyond the last design is left out");
    assert!(sags.iter().all(|sag| *sag == demo().advise_end(End::Front).unwrap().today.rider_sag.value.si()));
    assert!(!sweep.is_empty());
}

#[test]
fn a_sweep_of_nothing_or_of_the_same_twice_is_refused_with_what_would_do() {
    let rate = || SweepAxis::new("rear.shock.spring.rate", ["50 N/mm", "52 N/mm"]).unwrap();
    let refused = |axes, outputs: &[&str], points| {
        Sweep::with_points(&demo(), axes, Scheme::Grid, outputs, points).unwrap_err().to_string()
    };
    assert_eq!(refused(vec![rate()], &[], 60), "outputs: found none, wanted the name of one output, or more");
    let points = refused(vec![rate()], &["trail"], 1);
    assert!(points.starts_with("points: found 1, wanted 2 to "), "{points}");
    assert_eq!(
        refused(vec![rate(), rate()], &["trail"], 60),
        "rear.shock.spring.rate: found it beside rear.shock.spring.rate, wanted addresses of which none is another, or holds it"
    );
    let beyond = Sweep::new(&demo(), vec![rate()], Scheme::Grid, &["trail"]).unwrap().design(2).unwrap_err();
    assert_eq!(beyond.to_string(), "index: found 2, wanted 0 to 1");
    let nowhere = SweepAxis::new("rear..rate", ["50 N/mm"]).unwrap_err().to_string();
    assert_eq!(nowhere, "rear..rate: found no address, wanted a path of keys, e.g. `rear.shock.spring.rate`");
    let flags = SweepAxis::steps("rear.chain.front_teeth", crate::keys::Value::Flag(true), 14.0, 3).unwrap_err();
    assert_eq!(flags.to_string(), "rear.chain.front_teeth: found `true`, where a number is needed");
}
