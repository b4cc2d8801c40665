//! Readings that lie outside the travel, and those of one end under the name of the other.

use crate::bike::{Bike, SagConversion};
use crate::keys::Place;
use crate::log::ReadingSet;
use crate::record::{End, Load, Reading};
use crate::units::{Length, Quantity, show};

/// How many times worse readings agree with their labels than with those of the other end, and by how much at least (m), before
/// they are taken for readings of that.
const SWAPPED: (f64, f64) = (3.0, 40e-3);
/// How far outside the travel a reading may lie (m): a tape read badly, a top-out spring compressed, a bush worn.
const SLACK: f64 = 10e-3;
/// How far further out than extended, as a share of the travel, before a reading is no slip of the tape any more.
const OVER_TOP: f64 = 0.1;

/// The reading that a contradiction names first, by its load.
pub(super) fn meant(bike: &Bike, set: &ReadingSet, message: &str) -> usize {
    let all = &bike.parts().readings;
    let first = set.readings.first().copied().unwrap_or_default();
    let named = |row: &usize| message.find(&format!("`{}`", all.get(*row)?.load));
    set.readings.iter().copied().filter(|row| named(row).is_some()).min_by_key(|row| named(row)).unwrap_or(first)
}

/// A reading under load that lies outside the travel is said by itself; where all do, the extended reading is.
pub(super) fn out_of_travel(now: &Bike, set: &ReadingSet, rows: &Place<'_>) -> bool {
    let (bike, end) = (set.bike(), set.end);
    let direction = match bike.assumed().measuring(end) {
        Ok(measuring) => measuring.direction,
        Err(_) => return false,
    };
    let Ok(full) = bike.end(end).and_then(|wheel| SagConversion::of(bike, end, direction)?.sag(wheel.full_travel()))
    else {
        return false;
    };
    let all = &now.parts().readings;
    let of = |extended: bool| -> Vec<(usize, &Reading)> {
        let readings = set.readings.iter().filter_map(|row| Some((*row, all.get(*row)?)));
        readings.filter(|(_, reading)| (reading.load == Load::None) == extended).collect()
    };
    let (extended, loaded) = (of(true), of(false));
    let outside = |sag: f64| sag > full.si() + SLACK || sag < -SLACK - OVER_TOP * full.si();
    let out_from = |zero: Option<f64>| -> Vec<(usize, &Reading, f64)> {
        let sags = loaded.iter().filter_map(|(row, reading)| {
            let sag = reading.sag().map(|sag| sag.si()).or_else(|| Some(zero? - reading.distance.si()))?;
            Some((*row, *reading, sag))
        });
        sags.filter(|(.., sag)| outside(*sag)).collect()
    };
    let shown = |si: f64| show(Length::from_si(si), "mm", 1);
    let whole = show(full, "mm", 1);
    // The extended reading that leaves fewest readings outside is the one to count from.
    let zeros = extended.iter().map(|(_, reading)| reading.distance.si());
    let zero = zeros.min_by_key(|zero| out_from(Some(*zero)).len());
    let mut found = false;
    for (row, reading) in &extended {
        let distance = reading.distance.si();
        let apart = zero.is_some_and(|zero| (zero - distance).abs() > full.si() / 2.0);
        let counted = loaded.iter().filter(|(_, reading)| reading.sag().is_none()).count();
        let alone = counted > 1 && out_from(Some(distance)).len() == counted;
        if apart || alone {
            found = true;
            let wanted = "the distance with the wheel off the ground";
            let message = format!(
                "found {}: every sag counted from it would lie outside the travel of {whole}",
                reading.distance.display()
            );
            rows.row(*row).key("distance").note(reading.distance.display().to_string(), wanted, None, message);
        }
    }
    if found {
        return true;
    }
    for (row, reading, sag) in out_from(zero) {
        found = true;
        let (key, stated) = match (reading.sag(), reading.share) {
            (Some(_), Some(share)) => ("sag", share.display().to_string()),
            (Some(sag), None) => ("sag", sag.display().to_string()),
            (None, _) => ("distance", reading.distance.display().to_string()),
        };
        let message = if sag < 0.0 {
            format!(
                "found {stated}: the end would stand {} further out than with the wheel off the ground",
                shown(-sag)
            )
        } else if key == "sag" {
            format!("found {stated}: the sag is larger than the whole travel, {whole} along the same direction")
        } else {
            let sag = shown(sag);
            format!("found {stated}: the sag is {sag}, larger than the whole travel, {whole} along the same direction")
        };
        rows.row(row).key(key).note(stated.clone(), format!("a sag of 0 mm to {whole}"), None, message);
    }
    found
}

/// Readings of the front under the name of the rear, and the other way about: said at the first of them.
pub(super) fn swapped(bike: &Bike, root: &Place<'_>) -> bool {
    if !bike.parts().changes.is_empty() || bike.ends().len() < 2 {
        return false;
    }
    let plain = bike.holding(Vec::new(), Vec::new());
    let expected = |end: End, load: &Load| {
        let fit = plain.fit_end(end).ok()?;
        let fitted = fit.loads.iter().find(|fitted| fitted.load == *load)?;
        Some(fitted.sag.value.si())
    };
    let load = &bike.parts().rider_load;
    let read = |end: End| mean_sag(bike, end, load);
    let pairs =
        (|| Some(((read(End::Front)?, read(End::Rear)?), (expected(End::Front, load)?, expected(End::Rear, load)?))))();
    let Some((read, expected)) = pairs else { return false };
    let off = |front: f64, rear: f64| (front - expected.0).abs() + (rear - expected.1).abs();
    let (as_it_is, exchanged) = (off(read.0, read.1), off(read.1, read.0));
    let (times, least) = SWAPPED;
    if as_it_is < times * exchanged || as_it_is < least {
        return false;
    }
    let mm = |si: f64| show(Length::from_si(si), "mm", 0);
    let message = format!(
        "under `{load}` the front reads {} of sag and the rear {}, where weights and springs predict {} and {}: front and rear \
         swapped?",
        mm(read.0),
        mm(read.1),
        mm(expected.0),
        mm(expected.1)
    );
    let first = bike.parts().readings.iter().position(|reading| reading.load == *load).unwrap_or(0);
    let wanted = "each reading under its own end";
    root.key("reading").row(first).key("end").note(bike.parts().readings[first].end.to_string(), wanted, None, message);
    true
}

/// Mean sag of the readings of an end under a load (m); none where nothing says from where it counts.
fn mean_sag(bike: &Bike, end: End, load: &Load) -> Option<f64> {
    let of = |load: &Load| -> Vec<&Reading> {
        let readings = bike.parts().readings.iter();
        readings.filter(|reading| reading.end == end && reading.load == *load).collect()
    };
    let mean = |values: Vec<f64>| (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64);
    let extended = mean(of(&Load::None).into_iter().map(|reading| reading.distance.si()).collect());
    let sags = of(load).into_iter().filter_map(|reading| match reading.sag() {
        Some(sag) => Some(sag.si()),
        None => Some(extended? - reading.distance.si()),
    });
    mean(sags.collect())
}
