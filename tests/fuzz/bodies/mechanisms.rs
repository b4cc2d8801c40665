//! Mechanisms: drawn, and measured.

use wheelrate::linkage::{Linkage, MeasuredLinkage, MeasuredParts};
use wheelrate::units::{Length, Quantity};

use crate::choices::Choices;
use crate::linkages;

fn length(millimetres: f64) -> Length {
    Length::from_si(millimetres / 1e3)
}

/// A drawing of any arrangement, moved a little or far.
fn linkage(choices: &mut Choices<'_>) -> Option<Linkage> {
    let mut all = linkages::all();
    let mut drawing = all.swap_remove(choices.below(all.len()));
    let far = if choices.once_in(3) { 300.0 } else { 30.0 };
    for (_, at) in &mut drawing.points {
        *at = at.map(|place| if choices.once_in(60) { choices.near(place) } else { place + choices.within(-far, far) });
    }
    let longer = choices.within(-30.0, 200.0);
    if choices.once_in(2) {
        return drawing.with_all_its_stroke(length(longer));
    }
    drawing.linkage(drawing.drawn_length() + length(longer), length(choices.within(1.0, 300.0)))?.ok()
}

/// A curve is what its travels are one by one, all of it finite; a stroke goes to its travel and back.
pub fn drawn(choices: &mut Choices<'_>) {
    /// One travel of a mechanism that is near a dead point moves by more than its stroke's rounding (m).
    const BACK: f64 = 1e-6;
    let Some(linkage) = linkage(choices) else { return };
    let full = linkage.full_travel();
    assert!(full.si().is_finite() && full.si() > 0.0, "{full:?}");
    let travels: Vec<Length> = (0..40).map(|_| full * choices.share()).chain([Length::from_si(0.0), full]).collect();
    let curve = linkage.curve(&travels).unwrap();
    for (row, travel) in travels.iter().enumerate() {
        let one = linkage.at(*travel).unwrap();
        assert_eq!((curve.motion_ratio[row], curve.stroke[row]), (one.motion_ratio, one.stroke), "at {travel:?}");
        let numbers = [one.motion_ratio.si(), one.stroke.si(), one.motion_ratio_slope.si(), one.axle[0].si()];
        assert!(numbers.iter().all(|number| number.is_finite()), "{one:?}");
        assert!((one.travel - *travel).si().abs() < BACK, "{one:?}");
    }
}

/// A table that is taken is smooth: finite, with its uncertainties, falling as the wheel rises.
pub fn measured(choices: &mut Choices<'_>) {
    let (ratio, curved, noise) = (choices.within(0.2, 0.8), choices.within(-4e-4, 4e-4), choices.within(0.0, 2.0));
    let (count, most) = (2 + choices.below(40), choices.within(20.0, 400.0));
    let mut z = 0.0;
    let readings: Vec<(Length, Length)> = (0..count)
        .map(|_| {
            let row = (z, 468.0 - ratio * z - curved * z * z + noise * choices.within(-1.0, 1.0));
            z += choices.within(0.0, 2.0) * most / count as f64;
            let broken = choices.once_in(200);
            (length(if broken { choices.near(row.0) } else { row.0 }), length(row.1))
        })
        .collect();
    let parts = MeasuredParts {
        travel_uncertainty: length(choices.within(0.0, 2.0)),
        length_uncertainty: length(choices.within(0.0, 2.0)),
        shock_length: length(468.0 + choices.within(-20.0, 5.0)),
        stroke: length(choices.within(5.0, 200.0)),
    };
    let Ok(table) = MeasuredLinkage::new(&readings, parts) else { return };
    let full = table.full_travel();
    for at in 0..20 {
        let travel = full * (f64::from(at) / 19.0);
        let point = table.at(travel).unwrap();
        let (value, spread) = (point.motion_ratio.value.si(), point.motion_ratio.standard_uncertainty.si());
        assert!(value.is_finite() && spread.is_finite() && spread >= 0.0, "{point:?}");
    }
    let _ = table.suspect_readings();
}
