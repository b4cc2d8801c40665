//! One reading of a measured part that is misread: said at its cell where no scatter explains it, warned of in the fit where some might.

use wheelrate::Bike;
use wheelrate::file::check;
use wheelrate::infer::{Finding, Severity};
use wheelrate::record::{End, PartReading};
use wheelrate::units::UnitSystem;

use crate::sound::{place, reported};

/// A bike with a spring, stops, a tyre and the way from wheel to shock measured.
const WORKSHOP: &str = include_str!("../files/workshop.toml");

fn misread(from: &str, to: &str) -> String {
    assert_eq!(WORKSHOP.matches(from).count(), 1, "{from}");
    WORKSHOP.replace(from, to)
}

/// What the fit of an end says of measured parts.
fn found(text: &str, end: End) -> Vec<(String, PartReading)> {
    let fit = Bike::from_toml(text).unwrap().fit_end(end).unwrap();
    let part = |finding: &Finding| match finding {
        Finding::PartMisread { readings, misread } => Some((readings.to_string(), *misread)),
        _ => None,
    };
    fit.findings.iter().filter_map(part).collect()
}

#[test]
fn a_sound_bike_has_no_misread_part() {
    assert!(check(WORKSHOP).is_empty());
    assert!(End::BOTH.into_iter().all(|end| found(WORKSHOP, end).is_empty()));
}

#[test]
fn a_misread_cell_is_named_by_check_and_fit() {
    let (spring, mut settled) = ("rear.shock.spring.measured.readings", 0);
    for (from, to, cell, end, list, row, says) in [
        // A digit not typed, two digits exchanged, a load a hundred off.
        ("\"2999 N\"", "\"299 N\"", "\"299 N\"", End::Rear, spring, 2, "299 N at 203.0 mm"),
        ("\"5490 N\"", "\"4590 N\"", "\"4590 N\"", End::Rear, spring, 5, "4590 N at 158.0 mm"),
        // Axle heights are good to half a millimetre: a centimetre off.
        (
            "\"340.9 mm\"",
            "\"330.9 mm\"",
            "\"330.9 mm\"",
            End::Front,
            "wheels.front.tyre_readings",
            2,
            "330.9 mm at 900 N",
        ),
    ] {
        let text = misread(from, to);
        let faults = check(&text);
        let [fault] = faults.as_slice() else { panic!("{to}: {faults:#?}") };
        let path = format!("{list}[{row}][1]");
        reported(
            fault,
            Some(place(&text, cell)),
            &path,
            &["found ", says, "where the other readings say", "read it again"],
        );
        // With a spring that goes soft on the way no fit settles: what keeps it from that is said in its place.
        if let Err(error) = Bike::from_toml(&text).unwrap().fit_end(end) {
            let said = error.to_string();
            assert!(
                said.starts_with(&format!("{end}: {list}[{row}]: {says}")) && said.contains("no fit settles with it"),
                "{said}"
            );
            assert_eq!(error.details().field.unwrap(), format!("{list}[{row}]").as_str());
            continue;
        }
        let found = found(&text, end);
        let [(readings, misread)] = &found[..] else { panic!("{to}: {found:?}") };
        settled += 1;
        assert!(readings == list && misread.index() == row && misread.deviations().abs() > 10.0, "{found:?}");
    }
    assert!(settled >= 2, "{settled}");
}

/// A table beside a drawing is held against that; alone it is held against itself.
#[test]
fn a_misread_length_is_named_where_the_table_stands_alone() {
    let drawn = WORKSHOP.find("[rear.linkage.points]").unwrap()..WORKSHOP.find("[rear.measured]").unwrap();
    let mut alone = WORKSHOP.to_owned();
    alone.replace_range(drawn, "");
    let alone = alone.replace("caliper = \"swingarm\"", "");
    let without_chain = alone.find("[rear.chain]").unwrap()..alone.find("[wheels]").unwrap();
    let mut alone = alone;
    alone.replace_range(without_chain, "");
    assert!(check(&alone).is_empty(), "{:#?}", check(&alone));
    let text = alone.replace("\"417.1 mm\"", "\"471.1 mm\"");
    let faults = check(&text);
    assert!(faults.iter().all(|fault| fault.key_path.to_string().starts_with("rear.measured.readings")), "{faults:#?}");
    let text = alone.replace("\"417.1 mm\"", "\"407.1 mm\"");
    let faults = check(&text);
    let [fault] = faults.as_slice() else { panic!("{faults:#?}") };
    reported(fault, Some(place(&text, "\"407.1 mm\"")), "rear.measured.readings[3][1]", &["407.1 mm at 140.0 mm"]);
}

/// 120 N off is six times what one load is good to, by 20 N and by half a millimetre of 52 N each: the scales may be worse than that.
#[test]
fn a_reading_that_scatter_may_explain_is_a_warning_and_no_fault() {
    let text = misread("\"3801 N\"", "\"3951 N\"");
    assert!(check(&text).is_empty());
    let bike = Bike::from_toml(&text).unwrap();
    let plan = bike.plan_end(End::Rear).unwrap();
    assert!(!plan.text(UnitSystem::Metric).iter().any(|line| line.contains("in your notes")), "{plan:?}");
    let fit = bike.fit_end(End::Rear).unwrap();
    let warning = fit.findings.iter().find(|finding| matches!(finding, Finding::PartMisread { .. })).unwrap();
    assert_eq!(warning.severity(), Severity::Warning);
    let said = warning.text(UnitSystem::Metric);
    assert!(
        said.starts_with("Reading 4 of `rear.shock.spring.measured.readings` (3951 N at 188.0 mm) does not agree"),
        "{said}"
    );
    assert!(said.ends_with("Read it again, or leave it out. It is still in the curve."), "{said}");
    let sheet = bike.sheet(UnitSystem::Metric).unwrap().to_text(400);
    assert!(sheet.contains(&said) && sheet.contains("All this only if the warning below proves harmless."), "{sheet}");
    let json = serde_json::to_value(warning).unwrap();
    assert_eq!(json["finding"], "part_misread");
    assert_eq!((&json["reading"], &json["found"]), (&4.into(), &"3951 N".into()));
    assert_eq!(json["readings"], "rear.shock.spring.measured.readings");
}

#[test]
fn a_misread_part_is_said_in_the_units_asked_for() {
    let text = misread("\"2999 N\"", "\"299 N\"");
    let fit = Bike::from_toml(&text).unwrap().fit_end(End::Rear).unwrap();
    let warning = fit.findings.first().unwrap();
    // 299/9.80665 = 30.49 kgf; 299/4.4482216 = 67.2 lbf; 203/25.4 = 7.99 in.
    assert!(
        warning.text(UnitSystem::KilogramForce).contains("(30.5 kgf at 203.0 mm)"),
        "{}",
        warning.text(UnitSystem::KilogramForce)
    );
    assert!(warning.text(UnitSystem::Inch).contains("(67 lbf at 7.99 in)"), "{}", warning.text(UnitSystem::Inch));
}

/// A load a digit short makes a spring of half the rate, which neither sags nor scales agree with.
#[test]
fn where_file_and_readings_are_not_of_one_bike_the_misread_part_is_looked_at_first() {
    let text = misread("\"2999 N\"", "\"299 N\"");
    let bike = Bike::from_toml(&text).unwrap();
    let fit = bike.fit_end(End::Rear).unwrap();
    let first = "Look first at the reading of a measured part that does not go with its others";
    let of_one = |finding: &&Finding| matches!(finding, Finding::NotOneBike { .. });
    let said = fit.findings.iter().find(of_one).unwrap().text(UnitSystem::Metric);
    assert!(said.contains(first), "{said}");
    assert!(fit.conditions.iter().any(|condition| condition.text().contains(first)), "{:?}", fit.conditions);
    let advice = bike.advise_end(End::Rear).unwrap();
    let headline = advice.headline(UnitSystem::Metric);
    assert!(headline.contains("look first at the reading of a measured part"), "{headline}");
    // On the sheet it stands before what comes of it.
    let sheet = bike.sheet(UnitSystem::Metric).unwrap();
    let rear = sheet.ends.iter().find(|one| one.end == End::Rear).unwrap();
    assert!(rear.findings[0].text.starts_with("Reading 3 of `rear.shock.spring"), "{:?}", rear.findings[0]);
    assert!(rear.glance.mind.as_ref().unwrap().starts_with("Reading 3 of `rear.shock.spring"));
    // Nothing else is planned before it.
    let plan = advice.plan.text(UnitSystem::Metric);
    let [head, step] = &plan[..] else { panic!("{plan:?}") };
    assert!(head.contains("take it again before planning anything"), "{head}");
    assert_eq!(
        step,
        "1. Look up reading 3 of `rear.shock.spring.measured.readings` in your notes; if it stands there as it is, take it again."
    );
    let next = serde_json::to_value(&advice.plan.steps[0].task).unwrap();
    assert_eq!(
        (&next["reading"], &next["readings"]),
        (&3.into(), &"rear.shock.spring.measured.readings".into()),
        "{next}"
    );
}
