//! Readings that make no spring: which of them is at fault.

use super::curve::{Fitted, Smoothed, fitted};
use super::{LEAST_READINGS, MeasuredSpringParts, description};
use crate::error::Result;
use crate::units::{Force, Length, Quantity, show};

/// Refuses readings at too few compressions.
pub(super) fn refuse_too_few(points: &[(f64, f64)], rows: &[usize]) -> Result<()> {
    let (mut places, mut no_other) = (Vec::new(), None);
    for (&(x, _), row) in points[1..].iter().zip(rows) {
        if x > 0.0 && !places.contains(&x) {
            places.push(x);
        } else if no_other.is_none() {
            no_other = Some(row);
        }
        if places.len() >= LEAST_READINGS {
            return Ok(());
        }
    }
    let repeats = no_other.map(|row| format!(", `readings[{row}]` at no new one")).unwrap_or_default();
    Err(description(
        "readings",
        format!("loads at {} compressions{repeats}", places.len()),
        &format!("{LEAST_READINGS} or more, spread over what it is compressed to; for one rate, give the rate"),
    ))
}

/// Of more readings none is sought that is at fault: each costs a curve of its own.
pub(super) const MOST_SOUGHT: usize = 30;

/// The reading without which the others make a spring, and the load that they say in its place; of several, the one furthest off.
pub(super) fn odd_one(points: &[(f64, f64)], parts: &MeasuredSpringParts) -> Option<(usize, f64)> {
    if points.len() > MOST_SOUGHT {
        return None;
    }
    let without = |out: usize| {
        let others = [&points[..out], &points[out + 1..]].concat();
        let Fitted { smoothed: Smoothed { smooth, mean_rate, touch }, end, .. } = fitted(&others, parts).ok()?;
        let (inside, beyond) = (points[out].0.clamp(touch, touch + end), (points[out].0 - touch - end).max(0.0));
        let load = mean_rate * (smooth.value(inside, 0) + smooth.value(inside, 1) * beyond);
        Some((out - 1, load, (points[out].1 - load).abs()))
    };
    let found = (1..points.len()).filter_map(without).max_by(|one, other| one.2.total_cmp(&other.2))?;
    Some((found.0, found.1))
}

pub(super) fn odd(row: usize, (x, force): (f64, f64), others: f64) -> crate::Error {
    let [force, others] = [force, others].map(|force| show(Force::from_si(force), "N", 0));
    let found = format!("{force} at {}, where the other readings say {others}", show(Length::from_si(x), "mm", 1));
    description(&format!("readings[{row}]"), found, "a load that goes with the others: read it again")
}
