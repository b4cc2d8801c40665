//! What stays of a rear end when one thing of it is changed.

use super::*;
use crate::record::Usual;
use crate::shock::ShockParts;
use crate::spring::Preloaded;
use crate::units::{LeverageRatio, SpringRate, Uncertain};
use crate::wheel::Wheel;

fn mm(length: f64) -> Length {
    Length::from_si(length / 1000.0)
}

fn shock(stroke: f64, rate: f64) -> Shock {
    let spring = Preloaded::linear(SpringRate::from_si(rate), mm(10.0)).unwrap();
    Shock::new(mm(468.7), mm(stroke), ShockParts::new().with_spring(spring), 1).unwrap()
}

/// The drawn end of the shipped bike, with all that can be stated of it.
fn drawn() -> RearEnd {
    let rear = crate::Bike::from_toml(crate::demo::PATROL).unwrap().rear().unwrap().clone();
    assert!(rear.caliper().is_some() && rear.final_drive().is_some());
    let known = PivotUncertainty { coordinate: mm(1.0), shock_length: mm(0.5) };
    let outline = Outline { travel: Some(mm(290.0)), ..Outline::default() };
    rear.with_pivots_known_to(known).unwrap().outlined(outline)
}

fn is_all_but_the_linkage(found: &RearEnd, of: &RearEnd) {
    assert_eq!(found.final_drive(), of.final_drive());
    assert_eq!(found.caliper(), of.caliper());
    assert_eq!(found.pivot_uncertainty(), of.pivot_uncertainty());
    assert_eq!(found.outline(), of.outline());
}

#[test]
fn another_shock_is_in_whether_or_not_the_travel_moves() {
    let outline = Outline { travel: Some(mm(300.0)), ..Outline::default() };
    let known_by_ends = RearEnd::from_outline(outline, shock(118.0, 50e3), Usual::any()).unwrap();
    for other in [shock(118.0, 60e3), shock(100.0, 60e3)] {
        let found = known_by_ends.with_shock(other.clone()).unwrap();
        assert_eq!(found.shock(), &other);
        // The travel ends where the shock does, in proportion.
        let travel = 0.3 * other.full_stroke().si() / 0.118;
        assert!((found.full_travel().si() - travel).abs() < 1e-12, "{:?}", found.full_travel());
        let of_drawing = drawn().with_shock(other.clone()).unwrap();
        assert_eq!(of_drawing.shock(), &other);
        assert!((of_drawing.stroke_at(of_drawing.full_travel()).stroke - other.full_stroke()).si().abs() < 1e-9);
        is_all_but_the_linkage(&of_drawing, &drawn());
    }
}

#[test]
fn a_linkage_that_is_drawn_anew_keeps_everything_else() {
    let rear = drawn();
    let mechanism = rear.linkage().unwrap().mechanism().clone();
    let point = mechanism.points().position(|(name, _)| name == "link_frame").unwrap();
    let moved = [(point, 1, -0.096)];
    let found = rear.redrawn(&moved, shock(118.0, 60e3)).unwrap().unwrap();
    is_all_but_the_linkage(&found, &rear);
    assert_eq!(found.shock(), &shock(118.0, 60e3));
    assert_ne!(found.full_travel(), rear.full_travel());
    let same = rear.with_mechanism(mechanism.moved(&moved).unwrap()).unwrap();
    is_all_but_the_linkage(&same, &rear);
    assert_eq!((same.shock(), same.full_travel()), (rear.shock(), found.full_travel()));
}

/// Travel over stroke is the lever: any two give the third, and all three have to agree to a tenth, or to what is left open.
#[test]
fn any_two_of_travel_stroke_and_lever_say_where_an_end_begins_and_ends() {
    let lever = |value: f64, known: f64| {
        let [value, standard_uncertainty] = [value, known].map(LeverageRatio::from_si);
        Some(Uncertain { value, standard_uncertainty })
    };
    let end = |travel: Option<f64>, lever: Option<Uncertain<LeverageRatio>>| {
        let outline = Outline { travel: travel.map(mm), lever, ..Outline::default() };
        RearEnd::from_outline(outline, shock(118.0, 50e3), Usual::any())
    };
    let full = |end: RearEnd| (end.full_travel().si(), end.stroke_at(end.full_travel()).stroke.si());
    let close = |found: (f64, f64), travel: f64| {
        assert!((found.0 - travel).abs() < 1e-12 && (found.1 - 0.118).abs() < 1e-12, "{found:?}");
    };
    close(full(end(Some(300.0), None).unwrap()), 0.3);
    close(full(end(None, lever(2.5, 0.1)).unwrap()), 2.5 * 0.118);
    // 300 over 118 is 2.542.
    for (stated, known, agrees) in [
        (2.5, 0.01, true),
        (2.32, 0.01, true),
        (2.30, 0.01, false),
        (2.80, 0.01, true),
        (2.83, 0.01, false),
        (2.83, 0.1, true),
        (1.0, 0.01, false),
        (5.0, 0.01, false),
    ] {
        let found = end(Some(300.0), lever(stated, known));
        assert_eq!(found.is_ok(), agrees, "{stated} ± {known}");
        if let Ok(found) = found {
            close(full(found), 0.3);
        }
    }
    for outline in [end(None, None), end(None, lever(0.0, 0.1)), end(None, lever(-2.5, 0.1))] {
        outline.unwrap_err();
    }
}

/// A rear end of which a data sheet said more than its drawing uses keeps that.
#[test]
fn what_a_data_sheet_says_is_kept() {
    let outline = Outline { travel: Some(mm(290.0)), ..Outline::default() };
    assert_eq!(drawn().outline(), &outline);
    let without = Outline::default();
    assert_eq!(drawn().outlined(without).outline(), &without);
}

/// A table taken beside the drawing is of the readings; with another shock it ends where that does.
#[test]
fn a_table_beside_the_drawing_stays_with_another_shock() {
    use crate::linkage::{MeasuredLinkage, MeasuredParts};
    let rear = drawn();
    let (length, stroke) = (rear.shock().length().unwrap(), rear.shock().full_stroke());
    let full = rear.full_travel();
    let reading = |at: i32| {
        let travel = full * (0.05 * f64::from(at));
        (travel, length - rear.stroke_at(travel).stroke)
    };
    let readings: Vec<_> = (0..=20).map(reading).collect();
    let parts =
        MeasuredParts { shock_length: length, stroke, travel_uncertainty: mm(0.5), length_uncertainty: mm(0.5) };
    let beside = rear.with_table(MeasuredLinkage::new(&readings, parts).unwrap()).unwrap();
    let shorter = beside.with_shock(shock(100.0, 60e3)).unwrap();
    let table = shorter.table().unwrap();
    assert_eq!((table.full_stroke(), table.shock_length()), (mm(100.0), length));
    // The readings are of the drawing itself, smoothed: the ends agree to a fraction of what was read to.
    assert!((table.full_travel() - shorter.full_travel()).si().abs() < 1e-3, "{:?}", table.full_travel());
}
