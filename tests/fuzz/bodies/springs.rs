//! Springs: end to end, one in another, tables, in any of each other.

use wheelrate::axial::AxialElement;
use wheelrate::spring::{Coil, Nest, Nested, Preloaded, Spring, Stack, Stage, Stop, Table};
use wheelrate::units::{Force, Length, Quantity, SpringRate};

use crate::choices::Choices;

/// Two ways to one number may differ by what their roundings do: some dozen operations.
const ROUNDING: f64 = 1e-9;

fn length(millimetres: f64) -> Length {
    Length::from_si(millimetres / 1e3)
}

fn any(choices: &mut Choices<'_>, deep: usize) -> Option<Spring> {
    let kinds = if deep == 0 { 2 } else { 4 };
    Some(match choices.below(kinds) {
        0 => {
            let rate = choices.within(1e3, 2e5);
            let coil = Coil::new(SpringRate::from_si(choices.near(rate))).ok()?;
            let free = choices.within(100.0, 400.0);
            let solid = choices.within(0.2, 1.02) * free;
            let lengths = (length(choices.near(free)), length(solid));
            if choices.once_in(2) { coil.with_lengths(lengths.0, lengths.1).ok()?.into() } else { coil.into() }
        }
        1 => {
            let (mut at, mut force) = (0.0, 0.0);
            let row = |_| {
                let now = (length(at), Force::from_si(force));
                at += choices.within(0.001, 40.0);
                force += choices.within(-1.0, 900.0);
                now
            };
            Table::new((0..8).map(row).collect()).ok()?.into()
        }
        2 => {
            let stage = |choices: &mut Choices<'_>| {
                let stage = Stage::new(any(choices, deep - 1)?);
                if choices.once_in(2) { stage.with_limit(length(choices.within(0.0, 80.0))).ok() } else { Some(stage) }
            };
            let count = 1 + choices.below(4);
            Stack::new((0..count).map(|_| stage(choices)).collect::<Option<_>>()?).ok()?.into()
        }
        _ => {
            let nested = |choices: &mut Choices<'_>| {
                Nested::new(any(choices, deep - 1)?, length(choices.within(-1.0, 60.0))).ok()
            };
            let count = 1 + choices.below(4);
            Nest::new((0..count).map(|_| nested(choices)).collect::<Option<_>>()?).ok()?.into()
        }
    })
}

/// Force, rate and energy are finite, energy does not fall, force is its slope on the whole, and what is written reads back.
pub fn spring(choices: &mut Choices<'_>) {
    let Some(spring) = any(choices, 2) else { return };
    let text = serde_json::to_string(&spring).unwrap();
    assert_eq!(serde_json::from_str::<Spring>(&text).unwrap(), spring, "{text}");
    let preload = choices.within(-20.0, 40.0);
    if let Ok(preloaded) = Preloaded::new(spring.clone(), length(choices.near(preload))) {
        holds(&preloaded, choices);
    }
    if let Ok(stop) = Stop::new(spring, length(choices.within(0.1, 80.0))) {
        let text = serde_json::to_string(&stop).unwrap();
        assert_eq!(serde_json::from_str::<Stop>(&text).unwrap(), stop, "{text}");
    }
}

fn holds(element: &dyn AxialElement, choices: &mut Choices<'_>) {
    let full = element.full_stroke().map_or(0.1, Quantity::si).min(0.4);
    let mut before: Option<(f64, f64, f64)> = None;
    for step in 0..=8 {
        let stroke = full * (f64::from(step) + choices.within(0.0, 0.5)) / 8.5;
        let Ok(state) = element.at(Length::from_si(stroke)) else { continue };
        let (force, energy) = (state.force.si(), state.energy.si());
        assert!(force.is_finite() && energy.is_finite() && state.rate.si().is_finite(), "{state:?}");
        if let Some((last, force_before, energy_before)) = before {
            // Springs push: between two strokes the energy grows by what lies between the least and the greatest force.
            let (grown, moved) = (energy - energy_before, stroke - last);
            let (least, most) = (force_before.min(force) * moved, force_before.max(force) * moved);
            let slack = ROUNDING * (1.0 + energy.abs() + most.abs());
            assert!(
                grown >= least - slack && grown <= most + slack,
                "{least} to {most}, but {grown}: {}",
                element.describe()
            );
        }
        before = Some((stroke, force, energy));
    }
}
