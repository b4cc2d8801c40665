//! Files that are not of the bike that was read.

use crate::Bike;
use crate::demo::PATROL;
use crate::infer::{Condition, Finding, Study, Suspect};
use crate::record::{End, Reading, Settled};
use crate::units::UnitSystem;

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

fn suspects(bike: &Bike) -> Vec<Suspect> {
    let fit = bike.study(End::Rear).unwrap().fit();
    let blamed = fit.findings.iter().any(|finding| matches!(finding, Finding::Misread { .. }));
    assert!(!blamed, "{:?}", fit.findings);
    let found = fit.findings.iter().find_map(|finding| match finding {
        Finding::NotOneBike { suspects, .. } => Some(suspects.clone()),
        _ => None,
    });
    assert!(matches!(fit.conditions[..], [Condition::NotOneBike { .. }]), "{:?}", fit.conditions);
    let text = fit.findings[0].text(UnitSystem::Metric);
    assert!(text.starts_with("The file and the readings do not belong to one bike"), "{text}");
    found.unwrap()
}

#[test]
fn a_scale_typed_wrong_blames_no_reading() {
    // A rider of 96 kg on the rear wheel where 66 stood.
    let found = suspects(&demo().correct(&[("masses.rider.rear", "96 kg")]).unwrap());
    assert!(found[..2].contains(&Suspect::Scales), "{found:?}");
}

#[test]
fn a_label_in_another_unit_blames_no_reading() {
    let found = suspects(&demo().correct(&[("rear.shock.spring.rate", "95 N/mm")]).unwrap());
    assert!(found[..3].contains(&Suspect::LabelUnits), "{found:?}");
}

/// A rocker or a link drawn on the other side of the pivot, or above where it is below: where the parts still meet, no reading is
/// called misread and the pivots are suspected.
#[test]
fn a_pivot_with_the_wrong_sign_blames_no_reading() {
    let points = ["link_frame", "link_rocker", "shock_rocker", "shock_frame", "rocker_pivot"];
    let demo = demo();
    let linkage = demo.rear().unwrap().linkage().unwrap();
    let mut meet = 0;
    for (name, at) in linkage.mechanism().points().filter(|(name, _)| points.contains(name)) {
        for axis in 0..2 {
            let mut at = at.map(|part| 1e3 * crate::units::Quantity::si(part));
            at[axis] = -at[axis];
            let text = format!("[\"{} mm\", \"{} mm\"]", at[0], at[1]);
            let Ok(bike) = demo.correct(&[(&format!("rear.linkage.points.{name}"), &text)]) else { continue };
            let Ok(study) = bike.study(End::Rear) else { continue };
            let fit = study.fit();
            let blamed = fit.findings.iter().any(|finding| matches!(finding, Finding::Misread { .. }));
            assert!(!blamed, "{name} {text}: {:?}", fit.findings);
            meet += 1;
        }
    }
    assert!(meet > 0, "no such bike can be built");
}

#[test]
fn low_and_high_swapped_everywhere_is_a_contradiction_or_a_suspect() {
    let mut parts = demo().parts().clone();
    parts.readings = parts
        .readings
        .into_iter()
        .map(|reading| {
            let settled = reading.settled.map(|settled| match settled {
                Settled::Low => Settled::High,
                Settled::High => Settled::Low,
                Settled::Middle => Settled::Middle,
            });
            Reading { settled, ..reading }
        })
        .collect();
    match Bike::new(parts).unwrap().fit_end(End::Rear) {
        Err(error) => assert!(error.to_string().contains("swapped"), "{error}"),
        Ok(fit) => assert!(!fit.findings.iter().any(|finding| matches!(finding, Finding::Misread { .. })), "{fit:?}"),
    }
}

#[test]
fn one_misread_value_is_still_a_misread_value() {
    let mut parts = demo().parts().clone();
    let wrong = parts.readings.iter_mut().rfind(|reading| reading.end == End::Rear).unwrap();
    wrong.distance += crate::units::Quantity::from_si(0.05);
    let fit = Bike::new(parts).unwrap().study(End::Rear).unwrap().fit();
    assert!(matches!(fit.findings.first(), Some(Finding::Misread { .. })), "{:?}", fit.findings);
}

#[test]
fn taken_as_stated_it_is_found_all_the_same_but_nothing_is_said_on_condition() {
    let wrong = demo().correct(&[("masses.rider.rear", "96 kg")]).unwrap();
    let fit = Study::plain(&wrong, End::Rear).unwrap().fit();
    assert!(fit.findings.iter().any(|one| matches!(one, Finding::NotOneBike { .. })), "{:?}", fit.findings);
    assert_eq!(fit.conditions, []);
}
