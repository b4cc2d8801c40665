//! The keys of riders.

use super::describe::{serde_by_keys, table};
use super::place::Stop;
use super::wanted::some;
use crate::record::{Load, RiderMasses, Riders};
use crate::units::{Mass, Share, Uncertain};

table! {
    "Who rides a bike that is not one person's: which spring then suits most of them.",
    RidersKeys for Riders,
    either [&["mean", "deviation"], &["each"]],
    defined "riders",
    {
        mean: Option<Mass> = |riders| normal(riders).map(|(mean, _)| mean), "Mean mass of a rider with kit.";
        deviation: Option<Mass> = |riders| normal(riders).map(|(_, deviation)| deviation),
            "Standard deviation of that mass from rider to rider.";
        each: Option<Vec<RiderKeys>> = |riders| match riders.masses() {
            RiderMasses::Each(each) => {
                Some(each.iter().map(|(mass, weight)| RiderKeys { mass: *mass, weight: often(*weight) }).collect())
            }
            RiderMasses::Normal { .. } => None,
        }, "Riders one by one.";
        on_front: Option<Uncertain<Share>> = |riders| riders.on_front(), with Riders::with_on_front,
            "Share of a rider's mass on the front wheel, its uncertainty from rider to rider; that of the mass they stand for, \
             or what is usual, unless stated.";
        stands_for: Option<String> = |riders| Some(riders.stands_for().to_owned()).filter(|name| name != Riders::RIDER),
            "The mass of the loads in whose place they stand; `rider` unless stated.";
        loads: Option<Vec<RiderLoadKeys>> = |riders| {
            let row = |(load, weight): &(Load, f64)| RiderLoadKeys { load: load.clone(), weight: often(*weight) };
            some(&riders.loads().iter().map(row).collect::<Vec<_>>())
        }, "The loads that are ridden, the rider in each; that of the rider sag unless stated.";
    }
    make |keys, _, at| {
        let riders = match (keys.mean, keys.deviation, keys.each) {
            (Some(mean), Some(deviation), _) => at.take(Riders::normal(mean, deviation))?,
            (_, _, Some(each)) => {
                at.take(Riders::each(each.iter().map(|row| (row.mass, row.weight.unwrap_or(1.0))).collect()))?
            }
            // One of the sets is there.
            _ => return Err(Stop),
        };
        let riders = match keys.stands_for {
            Some(name) => riders.standing_for(name),
            None => riders,
        };
        let loads = keys.loads.unwrap_or_default().into_iter();
        at.take(riders.with_loads(loads.map(|row| (row.load, row.weight.unwrap_or(1.0))).collect()))
    }
}

table! {
    "A rider.",
    RiderKeys,
    {
        mass: Mass, "With kit.";
        weight: Option<f64>, "How often beside the others; 1 unless stated.";
    }
}

table! {
    "A load that is ridden.",
    RiderLoadKeys,
    {
        load: Load, "Masses added up, the rider included: `bike + rider + pack`.";
        weight: Option<f64>, "How often beside the others; 1 unless stated.";
    }
}

fn normal(riders: &Riders) -> Option<(Mass, Mass)> {
    match riders.masses() {
        RiderMasses::Normal { mean, deviation } => Some((*mean, *deviation)),
        RiderMasses::Each(_) => None,
    }
}

fn often(weight: f64) -> Option<f64> {
    Some(weight).filter(|weight| *weight != 1.0)
}

serde_by_keys! { Riders }
