use crate::bike::{Bike, BikeParts};
use crate::record::{Direction, End, Ends, Targets};
use crate::units::UnitSystem;

fn demo() -> Bike {
    Bike::from_toml(crate::demo::PATROL).unwrap()
}

#[test]
fn the_page_says_what_to_do_and_keeps_its_width() {
    const WIDTH: usize = 80;
    let text = demo().sheet(UnitSystem::Metric).unwrap().to_text(WIDTH);
    for part in [
        "SETUP SHEET  Ridge patrol 300",
        ">> Keep the 4.4 N/mm springs",
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
    assert!(best[3]["standard_uncertainty"].as_f64().unwrap() > 0.5);
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
        measuring: Ends { front: demo.measuring(End::Front).ok(), rear: None },
        ..demo.parts().clone()
    })
    .unwrap();
    let sheet = without_target.sheet(UnitSystem::Metric).unwrap();
    assert!(sheet.ends[0].headline.starts_with("No advice") && sheet.ends[0].springs.is_none());
    assert!(!sheet.ends[0].fit.is_empty());
    assert!(sheet.without[0].starts_with("rear"));
    assert_eq!(demo.measuring(End::Front).unwrap().direction, Direction::AlongFork);
}
