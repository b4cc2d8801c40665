//! The keys of masses.

use super::describe::table;
use super::place::{Place, Stop};
use crate::error::{MassError, nearest};
use crate::mass::{Masses, Weighing};
use crate::record::{End, Ends, Load, Usual};
use crate::units::{Acceleration, Length, Mass, MomentOfInertia, Quantity, Share, Uncertain};

table! {
    "Masses by name: `bike` is the bike as it stands on the scales, ready to ride; any other name (rider, pack) is what comes on \
     top. Loads add them up: `bike + rider`.",
    MassesKeys for Masses,
    {
        unsprung: Option<UnsprungKeys> = |masses| {
            let Ends { front, rear } = masses.unsprung();
            masses.assumed_unsprung().is_none().then_some(UnsprungKeys { front, rear })
        }, "The part of the bike that the springs do not carry; assumed unless stated.";
        wheelbase: Option<Length> = |masses| masses.wheelbase(), "Needed by masses that are known by position.";
        scale_uncertainty: Option<Mass> = |masses| Some(masses.scale_uncertainty()), with Masses::with_scale_uncertainty,
            "Standard uncertainty of one scale reading; 0.5 kg unless stated.";
        gravity: Option<Acceleration> = |masses| Some(masses.gravity()).filter(|g| *g != Masses::standard_gravity()),
            with Masses::with_gravity,
            "Standard gravity unless stated.";
    }
    named masses: MassForm = |masses| masses.named().iter().map(|(name, weighing)| (name.clone(), mass(masses, name, weighing))).collect();
    make |keys, _, at| masses(keys, at)
}

super::item::forms! {
    /// A mass by its total alone, or in full.
    MassForm: Total(Mass), Full(MassKeys)
}

table! {
    "A mass: by two scales; by its total and position; or by its total and the share of it on the front wheel, which is assumed \
     unless stated. The total alone may stand without a table: `rider = \"88 kg\"`.",
    MassKeys,
    either [&["front", "rear"], &["total", "behind_front_axle"], &["total"], &["total", "on_front"]],
    {
        front: Option<Mass>, "On the front scale, bike level.";
        rear: Option<Mass>, "On the rear scale, bike level.";
        total: Option<Mass>, "The whole of it.";
        behind_front_axle: Option<Length>, "Where it is: horizontal distance behind the front axle.";
        on_front: Option<Uncertain<Share>>, "The share of it that the front wheel takes.";
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

fn mass(masses: &Masses, name: &str, weighing: &Weighing) -> MassForm {
    let (uncertainty, height) = (masses.uncertainty(name), masses.height(name));
    let pitch_inertia = masses.pitch_inertia(name);
    let mut keys = MassKeys { uncertainty, height, pitch_inertia, ..MassKeys::none() };
    match *weighing {
        Weighing::Scales(Ends { front, rear }) => (keys.front, keys.rear) = (Some(front), Some(rear)),
        Weighing::Position { total, behind_front_axle } => {
            (keys.total, keys.behind_front_axle) = (Some(total), Some(behind_front_axle));
        }
        Weighing::Total { total, assumed: true, .. }
            if uncertainty.is_none() && height.is_none() && pitch_inertia.is_none() =>
        {
            return MassForm::Total(total);
        }
        Weighing::Total { total, on_front, assumed } => {
            (keys.total, keys.on_front) = (Some(total), Some(on_front).filter(|_| !assumed));
        }
    }
    MassForm::Full(keys)
}

impl MassKeys {
    fn none() -> Self {
        let (front, rear, total) = (None, None, None);
        let (behind_front_axle, on_front, uncertainty) = (None, None, None);
        Self { front, rear, total, behind_front_axle, on_front, uncertainty, height: None, pitch_inertia: None }
    }
}

fn weighing(keys: &MassKeys) -> Result<Weighing, Stop> {
    Ok(match keys {
        MassKeys { front: Some(front), rear: Some(rear), .. } => Weighing::Scales(Ends { front: *front, rear: *rear }),
        MassKeys { total: Some(total), behind_front_axle: Some(behind), .. } => {
            Weighing::Position { total: *total, behind_front_axle: *behind }
        }
        MassKeys { total: Some(total), on_front: Some(on_front), .. } => {
            Weighing::Total { total: *total, on_front: *on_front, assumed: false }
        }
        MassKeys { total: Some(total), .. } => Weighing::total(*total),
        // One of the two is there.
        _ => return Err(Stop),
    })
}

fn masses(keys: MassesKeys, at: &Place<'_>) -> Result<Masses, Stop> {
    let MassesKeys { unsprung, wheelbase, masses: stated, .. } = keys;
    let stated: Vec<(String, MassKeys)> = stated
        .into_iter()
        .map(|(name, form)| match form {
            MassForm::Full(keys) => (name, keys),
            MassForm::Total(total) => (name, MassKeys { total: Some(total), ..MassKeys::none() }),
        })
        .collect();
    let named: Result<Vec<_>, Stop> = stated.iter().map(|(name, mass)| Ok((name.clone(), weighing(mass)?))).collect();
    let named = named?;
    let scales = named.iter().find(|(name, _)| name == Load::BIKE).map(|(_, weighing)| *weighing);
    let made = match unsprung {
        Some(UnsprungKeys { front, rear }) => Masses::new(named, Ends { front, rear }, wheelbase),
        None => Masses::of_unknown_unsprung(named, wheelbase, Usual::any()),
    };
    let mut masses = match made {
        Err(error @ MassError::NegativeSprung { end, .. }) => {
            return Err(too_light(error, end, (scales, wheelbase), at));
        }
        Err(error @ MassError::NoBike) => return Err(no_bike(&error, &stated, at)),
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

/// No mass called `bike`: said at the one that nearly is.
fn no_bike(error: &MassError, stated: &[(String, MassKeys)], at: &Place<'_>) -> Stop {
    match nearest::nearest(Load::BIKE, stated.iter().map(|(name, _)| name.as_str())) {
        Some(near) => {
            let message = format!("{error}; is `{near}` the `bike`?");
            at.key(near).note(near, "`bike`", Some(Load::BIKE.to_owned()), message)
        }
        None => at.refuse(&error.clone().into()),
    }
}

/// A bike lighter on one scale than what its spring does not carry there: said at the scale where that is what no bike shows,
/// else at the unsprung mass.
fn too_light(
    error: MassError,
    end: End,
    (weighing, wheelbase): (Option<Weighing>, Option<Length>),
    at: &Place<'_>,
) -> Stop {
    /// Least share of its weight that a bike alone, level, has on either wheel (common practice, no source: 40 % is usual).
    const LEAST_SHARE: f64 = 0.25;
    /// Least mass of a motorcycle (kg): lighter, the slip is there and not in what is unsprung.
    const LEAST_BIKE: f64 = 40.0;
    let bike = at.key(Load::BIKE);
    match weighing {
        Some(Weighing::Scales(shares)) if *shares.at(end) < (shares.front + shares.rear) * LEAST_SHARE => {
            bike.key(end.name()).refuse_here(&error.into())
        }
        // A share that no bike has comes from where its mass is said to be.
        Some(Weighing::Position { .. }) if at_one_wheel(weighing, wheelbase, LEAST_SHARE) => {
            bike.key("behind_front_axle").refuse_here(&error.into())
        }
        Some(Weighing::Position { total, .. } | Weighing::Total { total, .. }) if total < Mass::from_si(LEAST_BIKE) => {
            bike.key("total").refuse_here(&error.into())
        }
        _ => at.refuse(&error.into()),
    }
}

/// Does a mass at its position put less than this share on one of the wheels?
fn at_one_wheel(weighing: Option<Weighing>, wheelbase: Option<Length>, least: f64) -> bool {
    let (Some(Weighing::Position { behind_front_axle, .. }), Some(wheelbase)) = (weighing, wheelbase) else {
        return false;
    };
    let rear = behind_front_axle.si() / wheelbase.si();
    rear.min(1.0 - rear) < least
}
