//! The demo bike under other loads.

use super::*;
use crate::bike::BikeParts;
use crate::decide::LimitKind;
use crate::demo::PATROL;
use crate::record::{OnSale, Range, Scenario};
use crate::units::{UnitSystem, to_text};

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

fn under(scenarios: &[(&str, &str)]) -> Bike {
    let scenarios = scenarios.iter().map(|(name, load)| Scenario::new(*name, Load::parse(load).unwrap()));
    demo().with(|parts| parts.scenarios = scenarios.collect()).unwrap()
}

fn rear(bike: &Bike) -> EndScenarios {
    bike.advise_scenarios_end(End::Rear).unwrap()
}

#[test]
fn the_usual_load_is_weighed_as_ever() {
    // One posterior with one more load to it: equal up to the iterations of two fits.
    const SAME: f64 = 1e-6;
    let (bike, found) = (demo(), rear(&demo()));
    let advice = bike.advise_end(End::Rear).unwrap();
    for spring in &found.springs {
        let usual = advice.choice(spring.rate).unwrap();
        assert!((usual.probability.si() - spring.choices[0].probability.si()).abs() < SAME);
        let preloads = [usual, &spring.choices[0]].map(|choice| choice.outcome.unwrap().preload);
        assert!((preloads[0].value - preloads[1].value).si().abs() < SAME);
        assert!((preloads[0].standard_uncertainty - preloads[1].standard_uncertainty).si().abs() < SAME);
        assert!(spring.probability.si() <= spring.weakest().unwrap().1.si());
    }
    assert_eq!(found.decision, advice);
    assert_eq!(found.advised(), advice.advised().map(|choice| choice.rate));
    assert!((found.loads[0].sag_today.value - advice.today.rider_sag.value).si().abs() < SAME);
}

#[test]
fn what_is_in_both_settings_cancels() {
    let found = rear(&under(&[("twin", "bike + rider"), ("loaded", "bike + rider + stretcher")]));
    for spring in &found.springs {
        let twin = spring.change(0, 1).unwrap();
        assert!(twin.preload.value.si().abs() < 1e-9 && twin.preload.standard_uncertainty.si() < 1e-9, "{twin:?}");
        let (there, back) = (spring.change(0, 2).unwrap(), spring.change(2, 0).unwrap());
        assert!((there.preload.value + back.preload.value).si().abs() < 1e-12);
        assert!((there.preload.standard_uncertainty - back.preload.standard_uncertainty).si().abs() < 1e-12);
        let single = spring.choices[2].outcome.unwrap().preload;
        let apart = single.value - spring.choices[0].outcome.unwrap().preload.value;
        assert!((there.preload.value - apart).si().abs() < 1e-12);
        assert!(3.0 * there.preload.standard_uncertainty.si() < single.standard_uncertainty.si(), "{spring:?}");
        let turns = there.turns.unwrap();
        assert!((turns.value * 1.5e-3 - there.preload.value.si()).abs() < 1e-12, "a pitch of 1.5 mm");
        assert!(spring.change(0, 3).is_none());
    }
}

#[test]
fn targets_of_its_own_are_a_scenarios() {
    let found = rear(&demo());
    assert!((found.loads[1].rider_sag.range.to.si() - 0.114).abs() < 1e-12);
    assert!((found.loads[1].free_sag.unwrap().from.si() - 0.015).abs() < 1e-12);
    let usual = rear(&under(&[("with stretcher", "bike + rider + stretcher")]));
    assert_eq!(usual.loads[1].rider_sag, usual.loads[0].rider_sag);
    let turned = |found: &EndScenarios| found.fitted().unwrap().change(0, 1).unwrap().preload.value.si();
    assert!(turned(&usual) > 1e-3, "more load, more preload");
    assert!(turned(&found) < turned(&usual), "lower wanted, less preload needed");
}

#[test]
fn what_cannot_be_set_is_said() {
    let text = PATROL.replace("max_preload = \"22 mm\"", "max_preload = \"10.5 mm\"");
    let text = text.replace("rear = { rider_sag", "front = { rider_sag");
    let text = text.replace("value = \"108 mm\", tolerance = \"6 mm\"", "value = \"60 mm\", tolerance = \"5 mm\"");
    // Without a wanted free sag only the adjuster stands in the way.
    let text =
        text.replace("free_sag  = { from = \"25 mm\", to = \"40 mm\" }", "").replace("discipline = \"trail\"", "");
    let found = rear(&Bike::from_toml(&text).unwrap());
    let sixty = found.spring(SpringRate::from_si(60e3)).unwrap();
    assert!(sixty.choices[0].limits.iter().all(|limit| !matches!(limit.kind, LimitKind::AdjusterEnds { .. })));
    assert!(matches!(sixty.choices[1].limits[0].kind, LimitKind::AdjusterEnds { .. }), "{sixty:?}");
    let reported = found.sentences(UnitSystem::Metric).join(" ");
    assert!(reported.contains("No spring on the list is likely to give both sags under every load"), "{reported}");
    assert!(reported.contains("What keeps it from more there: adjuster ends at 10.5 mm (costs "), "{reported}");
    // Where nothing is stated as on sale there is no list to speak of; a tenth of a millimetre is luck on any spring.
    let narrow = |parts: &mut BikeParts| {
        parts.on_sale = OnSale::default();
        let wanted = parts.targets.rear.rider_sag.as_mut().unwrap();
        wanted.range = Range::new(wanted.value, wanted.value + Length::from_si(1e-4)).unwrap();
    };
    let unlisted = rear(&Bike::from_toml(&text).unwrap().with(narrow).unwrap());
    let reported = unlisted.sentences(UnitSystem::Metric).join(" ");
    assert!(unlisted.decision.to_look_for && !unlisted.one_does(), "{reported}");
    assert!(reported.contains("No spring rate is likely to give both sags under every load"), "{reported}");
}

#[test]
fn one_spring_for_all_is_named_and_ties_are_said() {
    let found = demo().advise_scenarios().unwrap();
    let [front, rear] = &found.ends[..] else { panic!() };
    assert!(rear.one_does() && rear.ties().len() == 1 && rear.springs[0].rate == SpringRate::from_si(60e3));
    assert!(rear.sentences(UnitSystem::Metric)[0].starts_with("60 N/mm serves all loads best"));
    // Today's springs do as well as any, and cost nothing.
    assert!(front.springs[0].is_fitted && front.ties().len() == 1);
    let none = Share::from_si(0.0);
    let free = Prices { collar: none, spring: none, measuring: Share::from_si(0.05) };
    let front = demo().with(|parts| parts.prices = free).unwrap().advise_scenarios_end(End::Front).unwrap();
    assert!(front.ties().len() > 1);
    assert!(
        front.sentences(UnitSystem::Metric)[0].contains("A tie with "),
        "{:?}",
        front.sentences(UnitSystem::Metric)
    );
    assert!(found.without.is_empty());
}

#[test]
fn scenarios_are_checked_and_written() {
    let bike = demo();
    assert_eq!(Bike::from_toml(&bike.to_toml()).unwrap(), bike);
    assert_eq!(Bike::from_json(&bike.to_json()).unwrap(), bike);
    let refused = |name: &str, load: &str| {
        let scenarios = vec![
            Scenario::new("a", Load::parse("bike + rider").unwrap()),
            Scenario::new(name, Load::parse(load).unwrap()),
        ];
        bike.with(|parts| parts.scenarios = scenarios).unwrap_err().to_string()
    };
    assert!(refused("a", "bike + rider").contains("not used twice"));
    assert!(refused(" ", "bike + rider").contains("not empty"));
    assert!(refused("b", "bike + passenger").contains("passenger"));
    assert!(refused("b", "none").contains("none"));
    assert!(refused("b", "rider").contains("rider"));
    let faults = crate::file::check(&PATROL.replace("\"bike + rider + stretcher\"", "\"bike + rider + strecher\""));
    let [fault] = &faults[..] else { panic!("{faults:?}") };
    assert_eq!(fault.key_path, "scenario[0].load");
    assert!(fault.message.contains("did you mean `stretcher`?"), "{fault}");
}

#[test]
fn the_spring_that_does_for_all_stands_among_the_settings() {
    // Less sag under the stretcher than alone: the usual load alone would not ask for so stiff a spring.
    let text = PATROL.replace(
        "rider_sag = { value = \"108 mm\", tolerance = \"6 mm\" }",
        "rider_sag = { value = \"100 mm\", tolerance = \"3 mm\" }",
    );
    let found = rear(&Bike::from_toml(&text).unwrap());
    assert!(found.one_does());
    let best: Vec<String> = found.ties().into_iter().map(|spring| to_text(spring.rate)).collect();
    let sheet = found.to_sheet(UnitSystem::Metric);
    let set: Vec<&str> = sheet.settings.rows.iter().map(|row| row[1].text.trim_end_matches(" now")).collect();
    assert!(best.iter().any(|best| set.contains(&best.as_str())), "{best:?} {set:?}");
}

/// A spring at its best setting on the demo bike.
fn a_set() -> (Adviser, Set) {
    let adviser = demo().study(End::Rear).unwrap().adviser().unwrap();
    let wish = adviser.wish(adviser.places().unwrap()).unwrap();
    let set = adviser.weigh_all(&wish, &adviser.wanted.aim()).unwrap().into_iter().find_map(|weighed| weighed.set);
    (adviser, set.unwrap())
}

#[test]
fn a_draw_lands_where_its_collar_comes_to_stand() {
    const NARROW: f64 = 1e-6;
    let (_, set) = a_set();
    let (rider, free, off) = (0.102, 0.033, 2.0 * NARROW);
    let aim = Aim { rider: (rider - NARROW, rider + NARROW), free: (free - NARROW, free + NARROW), value: rider };
    let lands = |way: Way, numbers: &[f64]| Drawn(numbers).lands(&set, way, &aim);
    assert!(lands(Way::Turned, &[rider, free]));
    for apart in [[off, 0.0], [-off, 0.0], [0.0, off], [0.0, -off]] {
        let [rider, free] = [rider + apart[0], free + apart[1]];
        assert!(!lands(Way::Turned, &[rider, free]));
        assert!(!lands(Way::ReRead, &[rider, free, set.change.value, 0.102, 0.033]));
    }
    // Read again, it matters not what a collar that was left would have made.
    assert!(lands(Way::ReRead, &[rider, free, set.change.value, 0.0, 0.0]));
    // Beyond an end of the adjuster the collar stays there, on from where it was turned to.
    let ends = set.settable.ends;
    assert!(ends.0.is_finite() && ends.1.is_finite() && ends.0 < ends.1, "{ends:?}");
    for (end, wanted) in [(ends.0, ends.0 - 1e-3), (ends.1, ends.1 + 1e-3)] {
        let left = |sag: f64, slope: f64| sag - slope * (end - set.change.value);
        let [of_rider, of_free] = set.setting.per_preload;
        let (rider, free) = (left(rider, of_rider), left(free, of_free));
        assert!(lands(Way::ReRead, &[0.0, 0.0, wanted, rider, free]), "{end}");
        assert!(!lands(Way::ReRead, &[0.102, 0.033, wanted, rider + off, free]), "{end}");
        assert!(!lands(Way::ReRead, &[0.102, 0.033, wanted, rider, free - off]), "{end}");
    }
}

#[test]
fn draws_of_one_setting_land_as_often_as_its_chance_says() {
    let (adviser, set) = a_set();
    let aim = adviser.wanted.aim();
    for way in [Way::Turned, Way::ReRead] {
        let chance = set.chances.by(way, set.change.value, set.settable.ends, &aim, Default::default());
        let drawn = adviser.probability_in_all(&[aim], &[(&set, way)]);
        // Four deviations of a count; the draws come in mirrored pairs, which does not widen it here.
        let deviation = (chance * (1.0 - chance) / (2 * DRAWS) as f64).sqrt();
        assert!((drawn - chance).abs() < 4.0 * deviation + 1e-3, "{way:?}: {drawn} and {chance}");
    }
}
