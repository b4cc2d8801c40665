use crate::bike::{Bike, BikeParts};
use crate::record::{Direction, End, Ends, Targets};
use crate::units::{Quantity, UnitSystem};

fn demo() -> Bike {
    Bike::from_toml(crate::demo::PATROL).unwrap()
}

#[test]
fn the_page_says_what_to_do_and_keeps_its_width() {
    const WIDTH: usize = 80;
    let text = demo().sheet(UnitSystem::Metric).unwrap().to_text(WIDTH);
    for part in [
        "SETUP SHEET  Ridge patrol 300",
        ">> If the extended reading is right: keep the 4.4 N/mm springs",
        ">> Fit a stiffer spring: 60 N/mm instead of 52 N/mm",
        "too little free sag means the spring is too soft",
        "Never open or heat a charged reservoir",
        "damping",
    ] {
        // Sentences are wrapped: look across the line ends.
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(&part.split_whitespace().collect::<Vec<_>>().join(" ")), "{part}\n{text}");
    }
    let sentences =
        text.lines().filter(|line| line.starts_with("- ") || line.starts_with(">> ") || line.starts_with("[ ]"));
    assert!(sentences.clone().count() > 10 && sentences.clone().all(|line| line.chars().count() <= WIDTH));
    assert!(text.lines().all(|line| line.trim_end() == line));
}

#[test]
fn units_go_through_every_sentence() {
    let text = demo().sheet(UnitSystem::Inch).unwrap().to_text(100);
    assert!(text.contains("342.6 lbf/in") && !text.contains(" mm") && !text.contains("N/mm"), "{text}");
    let text = demo().sheet(UnitSystem::KilogramForce).unwrap().to_text(100);
    assert!(text.contains("kgf/mm") && !text.contains("N/mm"), "{text}");
}

#[test]
#[cfg(feature = "serde")]
fn the_data_carry_number_uncertainty_and_unit() {
    let sheet = serde_json::to_value(demo().sheet(UnitSystem::Metric).unwrap()).unwrap();
    let rear = &sheet["ends"][1];
    let best = &rear["springs"]["rows"][0];
    assert_eq!(best[0]["value"], 60.0);
    assert_eq!(best[0]["unit"], "N/mm");
    assert!(best[5]["standard_uncertainty"].as_f64().unwrap() > 0.5);
    assert_eq!(rear["end"], "rear");
    let curves = rear["curves"].as_array().unwrap();
    assert_eq!(curves.len(), 2, "as it stands and as advised");
    for curve in curves {
        let force: Vec<f64> = curve["force"].as_array().unwrap().iter().map(|f| f.as_f64().unwrap()).collect();
        assert!(force.len() > 50 && force.windows(2).all(|pair| pair[0] < pair[1]));
    }
    assert_eq!(rear["marks"].as_array().unwrap().len(), 2);
    assert!(sheet["cautions"].as_array().unwrap().len() > 5);
}

#[test]
fn an_end_without_target_or_spring_says_so() {
    let demo = demo();
    let without_target = Bike::new(BikeParts {
        practice: Some(crate::record::CommonPractice::default()),
        targets: demo.parts().targets.with(End::Front, Targets::default()),
        discipline: None,
        rear: None,
        readings: demo.readings_of(End::Front).cloned().collect(),
        measuring: Ends { front: demo.assumed().measuring(End::Front).ok(), rear: None },
        ..demo.parts().clone()
    })
    .unwrap();
    let sheet = without_target.sheet(UnitSystem::Metric).unwrap();
    assert!(sheet.ends[0].headline.starts_with("No advice") && sheet.ends[0].springs.is_none());
    assert!(!sheet.ends[0].fit.is_empty());
    assert!(sheet.without[0].starts_with("rear"));
    assert_eq!(demo.assumed().measuring(End::Front).unwrap().direction, Direction::AlongFork);
}

/// The fork of the demo is read along itself: the sag in the text, in the table, on the mark and in the shaded range of the
/// chart is that, and the vertical travel stands beside the chart's own.
#[test]
fn text_table_and_chart_speak_along_one_direction() {
    let demo = demo();
    let decision = demo.advise_end(End::Front).unwrap();
    let sheet = demo.sheet(UnitSystem::Metric).unwrap();
    let front = &sheet.ends[0];
    let ridden = front.marks.iter().find(|mark| mark.name == "bike + rider").unwrap();
    assert!(
        (ridden.travel - 1e3 * decision.today.rider_sag.value.si()).abs() < 0.05,
        "{ridden:?} {:?}",
        decision.today
    );
    assert!(ridden.label.contains("along the fork"), "{}", ridden.label);
    let wanted = front.wanted.iter().find(|wanted| wanted.name.starts_with("rider")).unwrap();
    let range = &decision.rider_sag.range;
    assert!((wanted.from - 1e3 * range.from.si()).abs() < 1e-9 && (wanted.to - 1e3 * range.to.si()).abs() < 1e-9);
    let cosine = demo.front().unwrap().fork().unwrap().rake().si().cos();
    for curve in &front.curves {
        assert_eq!(curve.along, "along the fork");
        let vertical = curve.vertical.as_ref().unwrap();
        // The way of the axle is straight: z = u·cos ε to rounding.
        assert!(curve.travel.iter().zip(vertical).all(|(along, plumb)| (along * cosine - plumb).abs() < 1e-9));
    }
}

/// The first screen on one line, so that wrapped sentences can be looked for.
fn flat(screen: &str) -> String {
    screen.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Bikes of every verdict, with warnings and without, and with an end that is refused.
fn bikes() -> Vec<Bike> {
    let changed = |from: &str, to: &str| Bike::from_toml(&crate::demo::PATROL.replace(from, to)).unwrap();
    let unread = Bike::new(BikeParts { readings: Vec::new(), ..demo().parts().clone() }).unwrap();
    let mut nothing_sold = demo().parts().clone();
    nothing_sold.on_sale = crate::record::OnSale::default();
    vec![
        demo(),
        unread,
        Bike::new(nothing_sold).unwrap(),
        changed("\"624 mm\"", "\"604 mm\""),
        changed("\"637 mm\"", "\"660 mm\""),
        changed(
            "rider_sag = { value = \"102 mm\", tolerance = \"4 mm\" }",
            "rider_sag = { value = \"102 mm\", tolerance = \"1 mm\" }",
        ),
        changed("from = \"25 mm\", to = \"40 mm\"", "from = \"34 mm\", to = \"35 mm\""),
        // Lifted reads lower than pushed down: no front end gives that.
        changed("\"711 mm\"", "\"640 mm\""),
    ]
}

#[test]
fn no_number_stands_in_place_of_itself() {
    let much = Bike::from_toml(include_str!("../../../../tests/files/much.toml")).unwrap();
    for bike in bikes().into_iter().chain([much]) {
        let text = flat(&bike.sheet(UnitSystem::Metric).unwrap().to_text(80));
        let parts: Vec<&str> = text.split(" in place of ").collect();
        for pair in parts.windows(2) {
            // `84 %` or `± 1.0 mm`.
            for words in [2, 3] {
                let after: Vec<&str> = pair[1].split(' ').take(words).collect();
                let after = after.join(" ").trim_end_matches([',', ';', '.']).to_owned();
                assert!(!pair[0].ends_with(&format!(" {after}")), "{after} in place of itself");
            }
        }
    }
}

#[test]
fn both_decisions_fit_the_first_screen() {
    const SCREEN: [usize; 2] = [24, 80];
    for bike in bikes() {
        let sheet = bike.sheet(UnitSystem::Metric).unwrap();
        let screen = sheet.to_screen(SCREEN[1]);
        // One row is the prompt's, and one that of what the command says of its files.
        assert!(screen.lines().count() <= SCREEN[0] - 2, "{screen}");
        assert!(screen.lines().all(|line| line.chars().count() <= SCREEN[1] && line.trim_end() == line), "{screen}");
        let flat = flat(&screen);
        for end in &sheet.ends {
            assert!(flat.contains(&end.glance.decision) && !end.glance.decision.is_empty(), "{screen}");
            assert_eq!(end.verdict.is_some(), end.glance.chance.is_some());
        }
        assert!(sheet.without.iter().all(|reason| flat.contains(reason)), "{screen}");
        assert!(flat.ends_with(&sheet.caution));
    }
}

#[test]
fn the_first_screen_holds_the_number_to_set_and_its_chance() {
    let screen = flat(&demo().sheet(UnitSystem::Metric).unwrap().to_screen(80));
    let decision = demo().advise_end(End::Rear).unwrap();
    let outcome = decision.advised().unwrap().outcome.unwrap();
    let preload = crate::units::show(outcome.preload.value, "mm", 1);
    let chance = crate::infer::finding::percent(decision.action().unwrap().probability.si());
    assert!(screen.contains(&format!("set 60 N/mm, preload {preload}")), "{screen}");
    assert!(screen.contains(&format!("chance {chance} chance that both sags")) || screen.contains(&chance), "{screen}");
}

#[test]
fn the_first_screen_follows_the_width() {
    let sheet = demo().sheet(UnitSystem::Metric).unwrap();
    let rows = |width: usize| sheet.to_screen(width).lines().count();
    assert!(rows(40) > rows(120), "{} {}", rows(40), rows(120));
    for width in 40..130 {
        let screen = sheet.to_screen(width);
        assert!(screen.lines().all(|line| line.chars().count() <= width), "{width}\n{screen}");
    }
}

#[test]
fn one_bad_end_never_hides_the_other() {
    let bad = bikes().pop().unwrap();
    let said = bad.advise_end(End::Front).unwrap_err().to_string();
    assert!(said.contains("front"), "{said}");
    let screen = bad.sheet(UnitSystem::Metric).unwrap().to_screen(80);
    assert!(screen.contains("REAR") && flat(&screen).contains("-- front"), "{screen}");
}

/// Fit, advice, plan, scenarios, table and first screen of a sheet are of one solution of each end.
#[test]
fn a_sheet_solves_each_end_once() {
    let solved = |bike: &Bike| {
        let before = crate::infer::study::READ.get();
        bike.sheet(UnitSystem::Metric).unwrap();
        crate::infer::study::READ.get() - before
    };
    assert_eq!(solved(&demo()), 2);
    // Nothing more is solved for readings that carry the date of one day.
    let dated = demo().with(|parts| parts.readings.iter_mut().for_each(|one| one.date = Some("2026-05-31".to_owned())));
    assert_eq!(solved(&dated.unwrap()), 2);
    // Nor is an end that was changed since solved again: what was found is carried over.
    let turned = demo().what_if(&[("rear.shock.spring.preload", "15 mm")]).unwrap();
    assert_eq!(turned.advise_end(End::Rear).unwrap().fit.readings.len(), 0);
    let before = crate::infer::study::READ.get();
    turned.advise_scenarios_end(End::Rear).unwrap();
    assert_eq!(crate::infer::study::READ.get() - before, 1);
}

#[test]
fn the_whole_sheet_is_no_wider_than_asked() {
    for bike in bikes() {
        let sheet = bike.sheet(UnitSystem::Metric).unwrap();
        for width in [60, 80, 100, 240] {
            let text = sheet.to_text(width);
            let wide: Vec<&str> = text.lines().filter(|line| line.chars().count() > width).collect();
            assert!(wide.is_empty(), "{width}: {wide:#?}");
        }
        // Narrower, nothing is lost: every word of the widest is there.
        let (narrow, wide) = (sheet.to_text(80), sheet.to_text(240));
        let lost: Vec<&str> =
            wide.split_whitespace().filter(|word| !word.starts_with(['=', '-']) && !narrow.contains(word)).collect();
        assert!(lost.is_empty(), "{lost:?}");
    }
}

/// The shipped rear end as two shocks of half the rate and half the gas each.
#[test]
fn twin_shocks_are_no_legs() {
    let text = crate::demo::PATROL
        .replacen("stroke = \"118 mm\"", "stroke = \"118 mm\"\ncount = 2", 1)
        .replacen("rate = \"52 N/mm\"", "rate = \"26 N/mm\"", 1)
        .replacen(
            "volume = \"180 cm3\", rod_diameter = \"16 mm\"",
            "volume = \"90 cm3\", rod_diameter = \"11.3 mm\"",
            1,
        )
        .replacen("rear  = [\"50 N/mm\"", "rear  = [\"30 N/mm\"", 1);
    let bike = Bike::from_toml(&text).unwrap();
    let said = bike.advise_end(End::Rear).unwrap().headline(UnitSystem::Metric);
    assert!(said.contains(" in each shock") && !said.contains("leg"), "{said}");
}

#[test]
fn a_force_wanted_at_full_travel_without_oil_in_the_fork_says_why_no_level_is_given() {
    let dry: String = crate::demo::PATROL.split_inclusive('\n').filter(|line| !line.starts_with("air ")).collect();
    assert_eq!(crate::demo::PATROL.lines().count() - dry.lines().count(), 2, "one line of each leg");
    let wanted = dry.replacen("[targets.front]", "[targets.front]\nfull_travel_force = \"3800 N\"", 1);
    let said = "No oil level is given for the 3800 N wanted at full travel: it is counted from that of today. State it under \
                `air`.";
    let reasons =
        |text: &str| Bike::from_toml(text).unwrap().sheet(UnitSystem::Metric).unwrap().ends[0].reasons.clone();
    assert!(reasons(&wanted).iter().any(|reason| reason == said), "{:?}", reasons(&wanted));
    assert!(!reasons(&dry).iter().any(|reason| reason.contains("oil level")));
}

#[test]
fn an_end_of_ones_own_stands_on_the_sheet_like_any_other_but_for_what_nobody_knows_of_it() {
    let demo = demo();
    let own = crate::wheel::OwnEnd::new(demo.rear().unwrap().clone()).unwrap();
    let parts = BikeParts { rear: None, own: Ends { front: None, rear: Some(own) }, ..demo.parts().clone() };
    let rear = |bike: &Bike| bike.sheet(UnitSystem::Metric).unwrap().ends.pop().unwrap();
    let (usual, own) = (rear(&demo), rear(&Bike::new(parts).unwrap()));
    assert_eq!(own.headline, usual.headline);
    assert_eq!(own.sags, usual.sags);
    let names = |end: &super::SheetEnd| end.inputs.iter().map(|line| line.name.clone()).collect::<Vec<_>>();
    let line = own.inputs.iter().find(|line| line.name == "mechanism").unwrap();
    assert_eq!(line.entry.text, "an end of its own, taken as exact");
    assert!(names(&usual).contains(&"gas, polytropic exponent".to_owned()));
    assert!(!names(&own).contains(&"gas, polytropic exponent".to_owned()));
    assert!(!own.findings.iter().any(|finding| finding.text.starts_with("No gas is stated")));
}
