//! Damping on the sheet: at each end where the bike rests, and of its modes.

use crate::Result;
use crate::bike::Bike;
use crate::bike::ride::ModeKind;
use crate::damping::{EndDamping, LIMITS, damped_modes};
use crate::record::{End, Load};
use crate::report::sheet::{SheetEntry, SheetTable};
use crate::units::{Frequency, Quantity, Share, Uncertain, UnitSystem, Velocity, show};

/// Amplitude of the faster motion at the wheel: that of 25 mm at 3 Hz, or of 5 mm at 15 Hz (common practice, no source).
const FAST_SI: f64 = 0.5;

/// What the dampers do at the wheel.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct SheetDamping {
    /// A row per end, load and speed.
    pub ends: SheetTable,
    /// A row per mode; `None` where the modes are not known.
    pub modes: Option<SheetTable>,
    /// What is missing and why, how the numbers are meant, what they are worth.
    pub notes: Vec<String>,
}

/// `None` where neither end states a damper.
pub(crate) fn damping(bike: &Bike, units: UnitSystem) -> Option<SheetDamping> {
    let damped = |end: &End| bike.end(*end).is_ok_and(|kernel| kernel.damper().is_some());
    let ends: Vec<End> = End::BOTH.into_iter().filter(damped).collect();
    if ends.is_empty() {
        return None;
    }
    let mut notes = vec![
        "A damping ratio is the share of critical damping; the ± is from the damper and the scales, and a wheel rate 5 % off adds \
         2.5 %."
            .to_owned(),
    ];
    notes.extend(LIMITS.map(str::to_owned));
    let loads = [("bike alone", Load::bike_alone()), ("rider on", bike.parts().rider_load.clone())];
    let speeds = [0.0, FAST_SI].map(Velocity::from_si);
    let mut rows = Vec::new();
    for end in ends {
        for (name, load) in &loads {
            match of_end(bike, end, load, speeds, units) {
                Ok(found) => rows.extend(found.map(|(motion, numbers)| {
                    let head = [SheetEntry::words(end.name()), SheetEntry::words(*name), SheetEntry::words(motion)];
                    head.into_iter().chain(numbers).collect::<Vec<_>>()
                })),
                Err(error) => notes.push(format!("{end}, {name}: {error}.")),
            }
        }
    }
    let columns =
        ["end", "load", "motion", "compression", "rebound", "ratio compressing", "ratio extending", "damping ratio"];
    let modes = modes(bike, speeds, units);
    notes.extend(modes.as_ref().err().map(|error| format!("Modes are left out: {error}.")));
    Some(SheetDamping {
        ends: SheetTable { columns: columns.map(str::to_owned).to_vec(), rows },
        modes: modes.ok(),
        notes,
    })
}

/// How a motion is called by its speed.
fn called(speed: Velocity, units: UnitSystem) -> String {
    if speed.si() > 0.0 { show(speed, units.symbol(Velocity::KIND), 1) } else { "slow".to_owned() }
}

fn of_end(
    bike: &Bike,
    end: End,
    load: &Load,
    speeds: [Velocity; 2],
    units: UnitSystem,
) -> Result<[(String, [SheetEntry; 5]); 2]> {
    let damped = EndDamping::of(bike, end, load)?;
    let row = |speed: Velocity| {
        let at = damped.at(damped.rest(), speed)?;
        let ratio = Uncertain { value: at.damping_ratio, standard_uncertainty: at.damping_ratio_uncertainty };
        let numbers = [
            SheetEntry::stated(at.compression, units, damping_decimals(units)),
            SheetEntry::stated(at.rebound, units, damping_decimals(units)),
            SheetEntry::stated(at.compression_ratio, units, 0),
            SheetEntry::stated(at.rebound_ratio, units, 0),
            SheetEntry::uncertain(ratio, units),
        ];
        Ok::<_, crate::Error>((called(speed, units), numbers))
    };
    Ok([row(speeds[0])?, row(speeds[1])?])
}

fn damping_decimals(units: UnitSystem) -> usize {
    if units == UnitSystem::Inch { 1 } else { 0 }
}

fn modes(bike: &Bike, speeds: [Velocity; 2], units: UnitSystem) -> Result<SheetTable> {
    let whole = bike.whole();
    let [slow, fast] = [
        damped_modes(&whole, &bike.parts().rider_load, speeds[0])?,
        damped_modes(&whole, &bike.parts().rider_load, speeds[1])?,
    ];
    let ratio_of = |kind: ModeKind| fast.iter().find(|mode| mode.kind == kind).map(|mode| mode.damping_ratio);
    let row = |mode: &crate::damping::DampedMode| {
        let name = match mode.kind {
            ModeKind::Bounce => "bounce",
            ModeKind::Pitch => "pitch",
            ModeKind::FrontHop => "front wheel hop",
            ModeKind::RearHop => "rear wheel hop",
        };
        let share = |share: Share| SheetEntry::stated(share, units, 0);
        vec![
            SheetEntry::words(name),
            SheetEntry::stated::<Frequency>(mode.frequency, units, 1),
            share(mode.damping_ratio),
            SheetEntry::or(ratio_of(mode.kind), "another mode", share),
        ]
    };
    let fast_head = format!("damping ratio, {}", called(speeds[1], units));
    let columns = ["mode, rider on", "frequency", "damping ratio, slow", fast_head.as_str()];
    Ok(SheetTable { columns: columns.map(str::to_owned).to_vec(), rows: slow.iter().map(row).collect() })
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::demo::PATROL;

    #[test]
    fn the_demo_shows_its_damping_and_a_bike_without_dampers_shows_nothing() {
        let bike = Bike::from_toml(PATROL).unwrap();
        let found = damping(&bike, UnitSystem::Metric).unwrap();
        assert_eq!((found.ends.rows.len(), found.modes.as_ref().unwrap().rows.len()), (8, 4));
        let rear = EndDamping::of(&bike, End::Rear, &bike.parts().rider_load).unwrap();
        let at = rear.at(rear.rest(), Velocity::from_si(FAST_SI)).unwrap();
        let shown = found.ends.rows[7][7].value.unwrap();
        // From shares to per cent and back: a rounding.
        assert!((shown - 100.0 * at.damping_ratio.si()).abs() < 1e-9, "{shown}");
        let none = PATROL.lines().filter(|line| !line.starts_with("damper = ")).collect::<Vec<_>>().join("\n");
        let (head, tail) = none.split_once("[rear.shock.damper]").unwrap();
        let (_, chain) = tail.split_once("[rear.chain]").unwrap();
        let bare = format!("{head}[rear.chain]{chain}");
        assert!(damping(&Bike::from_toml(&bare).unwrap(), UnitSystem::Metric).is_none());
    }
}
