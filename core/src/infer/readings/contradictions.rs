//! Readings that no machine can give, each with its own numbers.

use crate::infer::posterior::Loads;
use crate::infer::readings::{CONTRADICTION, SIDE_WORDS, SagRow};
use crate::units::{Length, Quantity, show};

/// Every contradiction of the end, one sentence each.
pub(super) fn contradictions(rows: &[SagRow], law: &Loads, travel: f64) -> Vec<String> {
    let mut found = Vec::new();
    let mm = |length: Length| show(length, "mm", 1);
    for row in rows {
        for (side, (sag, _)) in SIDE_WORDS.into_iter().zip(row.sides()) {
            let Some(sag) = sag else { continue };
            let margin = CONTRADICTION * sag.standard_uncertainty.si();
            if sag.value.si() < -margin {
                found.push(format!(
                    "under `{}` ({side}) the distance is {} longer than with the wheel off the ground: one of the two is misread",
                    row.load,
                    mm(-sag.value)
                ));
            }
            if sag.value.si() > travel + margin {
                found.push(format!(
                    "under `{}` ({side}) the sag is {}, more than the whole travel of {} along the same direction",
                    row.load,
                    mm(sag.value),
                    mm(Length::from_si(travel))
                ));
            }
        }
        if let Some(band) = row.band.filter(|band| band.value.si() < -CONTRADICTION * band.standard_uncertainty.si()) {
            found.push(format!(
                "under `{}` the sag after lifting is {} larger than after pushing down: low and high swapped?",
                row.load,
                mm(-band.value)
            ));
        }
    }
    for (heavier, row) in rows.iter().enumerate() {
        for (lighter, other) in rows.iter().enumerate().take(heavier) {
            found.extend(less_sag_under_more_load((row, heavier), (other, lighter), law));
        }
    }
    found
}

/// More load, less sag, on the same side.
fn less_sag_under_more_load(heavy: (&SagRow, usize), light: (&SagRow, usize), law: &Loads) -> Option<String> {
    let difference = law.mean[heavy.1] - law.mean[light.1];
    let deviation = (law.root.row(heavy.1) - law.root.row(light.1)).norm();
    if difference < CONTRADICTION * deviation {
        return None;
    }
    let sides = |row: &SagRow| row.sides().map(|(sag, _)| sag);
    let pairs = sides(heavy.0).into_iter().zip(sides(light.0)).zip(SIDE_WORDS);
    pairs.filter_map(|((heavy, light), side)| Some((heavy?, light?, side))).find_map(|(more, less, side)| {
        let fall = less.value - more.value;
        let deviation = more.standard_uncertainty.si().hypot(less.standard_uncertainty.si());
        (fall.si() > CONTRADICTION * deviation).then(|| {
            format!(
                "`{}` loads the wheel more than `{}`, but sags less ({side}: {} against {})",
                heavy.0.load,
                light.0.load,
                show(more.value, "mm", 1),
                show(less.value, "mm", 1)
            )
        })
    })
}
