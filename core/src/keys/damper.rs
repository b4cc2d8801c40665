//! The keys of a damper.

use super::describe::{serde_by_keys, table};
use super::place::Stop;
use crate::damper::{Damper, DamperSide, Knee};
use crate::units::{DampingRate, Force, Quantity, Share, Velocity};

table! {
    "A damper along its shaft: force over shaft speed, each way.",
    DamperKeys for Damper,
    defined "damper",
    {
        compression: DamperSide = |damper| damper.compression().clone(), "While the end compresses.";
        rebound: DamperSide = |damper| damper.rebound().clone(), "While it extends.";
        uncertainty: Option<Share> = |damper| Some(damper.uncertainty()).filter(|share| *share != Share::from_si(0.0)),
            with Damper::with_uncertainty,
            "Standard uncertainty of the forces, as a share of them; exact unless stated.";
    }
    make |keys, _, _| Ok(Damper::new(keys.compression, keys.rebound))
}

table! {
    "One direction of a damper.",
    DamperSideKeys for DamperSide,
    either [&["rate"], &["rate", "knee"], &["table"]],
    defined "damper_side",
    {
        rate: Option<DampingRate> = |side| side.rate(), "Force per shaft speed, from rest.";
        knee: Option<Knee> = |side| side.knee(), "Where another rate begins; beside `rate`.";
        table: Option<Vec<(Velocity, Force)>> = |side| side.table().map(<[_]>::to_vec),
            "Shaft speeds and forces, straight lines between them; beyond the last row its slope goes on.";
    }
    make |keys, _, at| match (keys.rate, keys.knee, keys.table) {
        (Some(rate), None, _) => at.take(DamperSide::of_rate(rate)),
        (Some(rate), Some(knee), _) => at.take(DamperSide::with_knee(rate, knee)),
        (_, _, Some(rows)) => at.take(DamperSide::of_table(rows)),
        // One of the sets is there.
        _ => Err(Stop),
    }
}

table! {
    "Where the second rate of a damper begins.",
    KneeKeys for Knee,
    {
        velocity: Velocity = |knee| knee.velocity, "Shaft speed.";
        rate: DampingRate = |knee| knee.rate, "Force per shaft speed beyond it.";
    }
    make |keys, _, _| Ok(Knee { velocity: keys.velocity, rate: keys.rate })
}

serde_by_keys! { Damper, DamperSide }
