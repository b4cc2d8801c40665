//! What findings say.

use super::*;

fn kept(springs: f64, friction: f64, masses: bool) -> Kept {
    Kept { springs: Share::from_si(springs), friction: Share::from_si(friction), masses, way: true }
}

fn said(finding: &Finding) -> String {
    finding.text(UnitSystem::Metric)
}

fn uncertain<Q: Quantity>(value: f64, deviation: f64) -> Uncertain<Q> {
    Uncertain { value: Q::from_si(value), standard_uncertainty: Q::from_si(deviation) }
}

#[test]
fn what_was_kept_is_named_with_its_share_and_what_was_not_is_left_out() {
    let springs = "what rate and preload are off their labels by";
    for (kept, expected) in [
        (kept(0.0, 0.0, false), "every number here comes from labels.".to_owned()),
        (kept(1.0, 0.0, false), format!("{springs} comes from the readings before, all else from labels.")),
        (kept(0.0, 1.0, false), "the friction comes from the readings before, all else from labels.".to_owned()),
        (
            kept(0.0, 0.5, false),
            "50 % of the friction comes from the readings before, all else from labels.".to_owned(),
        ),
        (kept(0.0, 0.0, true), "the loads comes from the readings before, all else from labels.".to_owned()),
        (
            kept(1.0, 0.25, false),
            format!("{springs} and 25 % of the friction come from the readings before, all else from labels."),
        ),
        (
            kept(0.4, 1.0, true),
            format!(
                "40 % of {springs}, the friction and the loads come from the readings before, all else from labels."
            ),
        ),
    ] {
        let text = said(&Finding::Carried { kept });
        assert_eq!(text, format!("Nothing is read at this end since it was changed: {expected}"));
        let read_on = said(&Finding::ReadOn { kept });
        let expected =
            expected.replace("comes from the", "goes on from the").replace("come from the", "go on from the");
        assert!(read_on.ends_with(&format!("too few for an answer of their own: {expected}")), "{read_on}");
    }
}

#[test]
fn a_share_is_written_with_the_digits_that_it_has() {
    for (share, expected) in [
        (0.0, "under 0.1 %"),
        (0.000_9, "under 0.1 %"),
        (0.001, "0.1 %"),
        (0.005, "0.5 %"),
        (0.01, "1 %"),
        (0.42, "42 %"),
        (0.99, "99 %"),
        (0.991, "over 99 %"),
        (0.999_9, "over 99 %"),
        (1.0, "100 %"),
        (1.2, "120 %"),
    ] {
        assert_eq!(percent(share), expected, "{share}");
    }
    assert_eq!([chance(0.0), chance(0.5), chance(1.0)], ["under 0.1 %", "50 %", "over 99 %"]);
}

#[test]
fn a_rate_off_its_label_is_above_or_below_it() {
    let off = |rate: f64| {
        said(&Finding::OffLabel {
            label: SpringRate::from_si(52e3),
            rate: uncertain(rate, 500.0),
            tolerance: Share::from_si(0.03),
        })
    };
    assert!(off(56e3).contains("above their label of 52.00 N/mm (standard uncertainty 3 %)"), "{}", off(56e3));
    assert!(off(48e3).contains("below their label of 52.00 N/mm"), "{}", off(48e3));
}

#[test]
fn a_misread_value_is_told_with_its_side_its_slip_and_what_it_does() {
    let load = Load::parse("bike").unwrap();
    let misread = |settled, slip, others| Finding::Misread {
        reading: 4,
        load: load.clone(),
        settled,
        found: Length::from_si(0.6),
        expected: uncertain(0.65, 2e-3),
        deviations: -20.04,
        others,
        slip,
        rate: [uncertain(48e3, 900.0), uncertain(52e3, 700.0)],
    };
    let tape = said(&misread(Some(Settled::Low), Slip::RoundAmount(Length::from_si(0.05)), 6));
    assert!(tape.starts_with("Reading 5 (`bike`, settled low: 600.0 mm) does not agree with the others"), "{tape}");
    assert!(tape.contains("20.0 standard deviations apart. It looks like a slip of 50.0 mm on the tape."), "{tape}");
    let swapped = said(&misread(Some(Settled::High), Slip::SettledSwapped, 6));
    assert!(swapped.contains("settled high") && swapped.contains("was `settled` swapped?"), "{swapped}");
    let alone = said(&misread(None, Slip::Unknown, 0));
    assert!(alone.starts_with("Reading 5 (`bike`: 600.0 mm) does not agree with labels and weights"), "{alone}");
    assert!(alone.contains("apart. Take it again."), "{alone}");
    assert!(said(&misread(Some(Settled::Middle), Slip::Unknown, 1)).contains("(`bike`, the mean of both sides: "));
}

/// `√(χ²/degrees)`: twice as far apart as stated.
#[test]
fn a_scatter_is_told_as_a_multiple_of_what_was_stated() {
    let scatter = |degrees| said(&Finding::Scatter { chi_square: 36.0, degrees, probability: 0.002 });
    assert!(scatter(9).contains("scatter 2.0 times") && scatter(9).contains("0.2 % by chance"), "{}", scatter(9));
    assert!(scatter(0).contains("scatter 6.0 times"), "{}", scatter(0));
}

#[test]
fn what_may_make_the_answer_wrong_is_a_warning() {
    let load = Load::parse("bike").unwrap();
    let (reading, sag) = (2, Length::from_si(0.1));
    let stop = [
        Finding::ToppedOut { reading, load: load.clone(), sag },
        Finding::BottomedOut { reading, load: load.clone(), sag },
    ];
    assert_eq!(stop.each_ref().map(Finding::severity), [Severity::Note, Severity::Warning]);
    assert!(stop.iter().all(|one| said(one).starts_with("Reading 3 (`bike`, sag 100.0 mm) is on the stop at full ")));
    let wide = Finding::WideBand { load, band: sag, sag };
    let assumed = Finding::FrictionAssumed { friction: uncertain(40.0, 20.0) };
    let sticky = Finding::StickyEnd { band: uncertain(0.03, 1e-3), friction: uncertain(140.0, 9.0) };
    assert_eq!([&wide, &assumed, &sticky].map(Finding::severity), [Severity::Note, Severity::Note, Severity::Warning]);
    assert!(said(&sticky).contains("within 30.0 mm") && said(&sticky).contains("than the 15.0 mm or so"));
}
