//! The keys of masses.

use super::describe::table;
use super::place::{Place, Stop};
use crate::error::MassError;
use crate::mass::{BIKE, Masses, Weighing};
use crate::record::{End, Ends};
use crate::units::{Acceleration, Length, Mass, MomentOfInertia};

table! {
    "Masses by name: `bike` is the bike as it stands on the scales, ready to ride; any other name (rider, pack) is what comes on \
     top. Loads add them up: `bike + rider`.",
    MassesKeys for Masses,
    {
        unsprung: UnsprungKeys = |masses| UnsprungKeys { front: masses.unsprung().front, rear: masses.unsprung().rear },
            "The part of the bike that the springs do not carry.";
        wheelbase: Option<Length> = |masses| masses.wheelbase(), "Needed by masses that are known by position.";
        scale_uncertainty: Option<Mass> = |masses| Some(masses.scale_uncertainty()), with Masses::with_scale_uncertainty,
            "Standard uncertainty of one scale reading; 0.5 kg unless stated.";
        gravity: Option<Acceleration> = |masses| Some(masses.gravity()).filter(|g| *g != Masses::standard_gravity()),
            with Masses::with_gravity,
            "Standard gravity unless stated.";
    }
    named masses: MassKeys = |masses| masses.named().iter().map(|(name, weighing)| (name.clone(), mass(masses, name, weighing))).collect();
    make |keys, _, at| masses(keys, at)
}

table! {
    "A mass: by two scales, or by its total and position.",
    MassKeys,
    either [&["front", "rear"], &["total", "behind_front_axle"]],
    {
        front: Option<Mass>, "On the front scale, bike level.";
        rear: Option<Mass>, "On the rear scale, bike level.";
        total: Option<Mass>, "The whole of it.";
        behind_front_axle: Option<Length>, "Where it is: horizontal distance behind the front axle.";
        uncertainty: Option<Mass>,
            "Standard uncertainty of what it puts on each wheel; `scale_uncertainty` unless stated.";
        height: Option<Length>, "Height of its centre of gravity above the ground; for braking, driving and modes.";
        pitch_inertia: Option<MomentOfInertia>,
            "About its own centre of gravity; for modes. That of the bike with its wheels.";
    }
}

table! {
    "Unsprung mass at each end: wheel, brake, axle; half of the swingarm and the lower part of the fork.",
    UnsprungKeys,
    {
        front: Mass, "At the front.";
        rear: Mass, "At the rear.";
    }
}

fn mass(masses: &Masses, name: &str, weighing: &Weighing) -> MassKeys {
    let (scales, position) = match weighing {
        Weighing::Scales(shares) => (Some(shares), None),
        Weighing::Position { total, behind_front_axle } => (None, Some((*total, *behind_front_axle))),
    };
    MassKeys {
        front: scales.map(|shares| shares.front),
        rear: scales.map(|shares| shares.rear),
        total: position.map(|(total, _)| total),
        behind_front_axle: position.map(|(_, behind)| behind),
        uncertainty: masses.uncertainty(name),
        height: masses.height(name),
        pitch_inertia: masses.pitch_inertia(name),
    }
}

fn weighing(keys: &MassKeys) -> Result<Weighing, Stop> {
    Ok(match keys {
        MassKeys { front: Some(front), rear: Some(rear), .. } => Weighing::Scales(Ends { front: *front, rear: *rear }),
        MassKeys { total: Some(total), behind_front_axle: Some(behind), .. } => {
            Weighing::Position { total: *total, behind_front_axle: *behind }
        }
        // One of the two is there.
        _ => return Err(Stop),
    })
}

fn masses(keys: MassesKeys, at: &Place<'_>) -> Result<Masses, Stop> {
    let MassesKeys { unsprung, wheelbase, masses: stated, .. } = keys;
    let unsprung = Ends { front: unsprung.front, rear: unsprung.rear };
    let named: Result<Vec<_>, Stop> = stated.iter().map(|(name, mass)| Ok((name.clone(), weighing(mass)?))).collect();
    let named = named?;
    let scales = named.iter().find(|(name, _)| name == BIKE).map(|(_, weighing)| *weighing);
    let mut masses = match Masses::new(named, unsprung, wheelbase) {
        Err(error @ MassError::NegativeSprung { end, .. }) => return Err(too_light(error, end, scales, at)),
        other => at.take(other)?,
    };
    for (name, mass) in &stated {
        let place = at.key(name);
        if let Some(height) = mass.height {
            masses = place.key("height").take(masses.with_height(name, height))?;
        }
        if let Some(uncertainty) = mass.uncertainty {
            masses = place.key("uncertainty").take(masses.with_uncertainty(name, uncertainty))?;
        }
        if let Some(inertia) = mass.pitch_inertia {
            masses = place.key("pitch_inertia").take(masses.with_pitch_inertia(name, inertia))?;
        }
    }
    Ok(masses)
}

/// A bike lighter on one scale than what its spring does not carry there: said at the scale where that is what no bike shows,
/// else at the unsprung mass.
fn too_light(error: MassError, end: End, weighing: Option<Weighing>, at: &Place<'_>) -> Stop {
    /// Least share of its weight that a bike alone, level, has on either wheel (common practice, no source: 40 % is usual).
    const LEAST_SHARE: f64 = 0.25;
    let bike = at.key(BIKE);
    match weighing {
        Some(Weighing::Scales(shares)) if *shares.at(end) < (shares.front + shares.rear) * LEAST_SHARE => {
            bike.key(end.name()).refuse(&error.into())
        }
        _ => at.refuse(&error.into()),
    }
}
