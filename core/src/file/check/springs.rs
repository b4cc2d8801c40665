//! Labels, rates on sale and preloads that no such bike has.

use super::at;
use crate::bike::Bike;
use crate::error::Address;
use crate::fork::Fork;
use crate::keys::{Node, Place, Value};
use crate::record::{End, Load};
use crate::spring::{MainSpring, Preloaded, Spring};
use crate::units::{Length, Quantity, SpringRate};

/// A rate on sale within so many times today's, either way, may be meant; further off it is a slip of unit or of end.
const MEANT: f64 = 4.0;
/// How many times the load that springs carry at full travel, at least and at most: two to five are usual, air does the rest of
/// some forks, and a rate in another unit is off by ten.
const CARRIES: [f64; 2] = [0.45, 14.0];

/// Springs against the load that they carry, rates on sale against today's, preloads against their adjusters.
pub(super) fn springs(bike: &Bike, node: &Node, root: &Place<'_>) {
    for end in bike.ends() {
        let Some(main) = bike.end(end).ok().and_then(|wheel| wheel.main_spring()) else { continue };
        if !carries(bike, end, &main, root) {
            on_sale(end, &main, node, root);
        }
    }
    let parts = bike.parts();
    if let Some(fork) = fork(bike) {
        let (front, once) = (root.key("front"), fork.is_described_at_once());
        let place = front.key("fork");
        let legs = place.key("leg");
        for (row, leg) in fork.legs().iter().enumerate().take(if once { 1 } else { 2 }) {
            let row = legs.row(row);
            adjusted(leg.spring(), &if once { place.key("spring") } else { row.key("spring") });
        }
    } else if let Some(front) = &parts.front {
        let place = root.key("front");
        adjusted(front.main_springs().next(), &place.key("shock").key("spring"));
    }
    if let Some(rear) = &parts.rear {
        let place = root.key("rear");
        adjusted(rear.shock().parts().spring.as_ref(), &place.key("shock").key("spring"));
    }
}

/// Says a rate that can carry no such bike, or many of them, at the label of each spring that has it.
fn carries(bike: &Bike, end: End, main: &MainSpring, root: &Place<'_>) -> bool {
    let (Ok(wheel), Ok(masses)) = (bike.end(end), bike.masses()) else { return false };
    let under = |load: &Load| masses.sprung_load(end, load);
    let Ok(load) = under(&bike.parts().rider_load).or_else(|_| under(&Load::bike_alone())) else { return false };
    let (travel, stroke) = (wheel.full_travel().si(), wheel.stroke_at(wheel.full_travel()).stroke.si());
    // As if every spring were like this one: of legs that differ, the wrong one is said.
    let times = |rate: SpringRate| rate.si() * main.each.len() as f64 * stroke * stroke / travel / load.value.si();
    let has_gas = fork(bike).is_some_and(|fork| fork.legs().iter().any(|leg| leg.air_spring().is_some()));
    let least = if end == End::Front && has_gas { 0.0 } else { CARRIES[0] };
    let mut found = false;
    for (leg, (rate, _)) in main.each.iter().enumerate() {
        let times = times(*rate);
        if times.is_nan() || (least..=CARRIES[1]).contains(&times) {
            continue;
        }
        found = true;
        let shown = rate.display().to_string();
        let says = if times > 1.0 {
            format!("{times:.0} times the load at full travel")
        } else {
            format!("{:.0} % of the load at full travel", 100.0 * times)
        };
        let message = format!("found {shown}: springs of that rate carry {says}: a slip of unit, or of a weight?");
        let wanted = "a rate that carries one to a few times the load at full travel";
        at_label(bike, end, leg, root, &|place| {
            place.note(shown.clone(), wanted, None, message.clone());
        });
        if fork(bike).is_none_or(Fork::is_described_at_once) || end == End::Rear {
            break;
        }
    }
    found
}

/// The fork, where the front end is one.
fn fork(bike: &Bike) -> Option<&Fork> {
    bike.front().ok()?.fork().ok()
}

/// The place of the label of a main spring.
fn at_label(bike: &Bike, end: End, leg: usize, root: &Place<'_>, say: &dyn Fn(&Place<'_>)) {
    let fork = fork(bike);
    let spring = match end {
        End::Rear => bike.rear().ok().and_then(|rear| rear.shock().parts().spring.as_ref()),
        End::Front => bike.front().ok().and_then(|front| front.main_springs().next()),
    };
    // A stack or a nest has a rate in each of its rows.
    let rate = if matches!(spring.map(Preloaded::spring), Some(Spring::Coil(_))) { ".rate" } else { "" };
    let text = match end {
        End::Rear => format!("rear.shock.spring{rate}"),
        End::Front if fork.is_none() => format!("front.shock.spring{rate}"),
        End::Front if fork.is_some_and(Fork::is_described_at_once) => format!("front.fork.spring{rate}"),
        End::Front => {
            let with_spring = fork.into_iter().flat_map(|fork| fork.legs().iter().enumerate());
            let row = with_spring.filter(|(_, leg)| leg.spring().is_some()).nth(leg).map_or(leg, |(row, _)| row);
            format!("front.fork.leg[{row}].spring{rate}")
        }
    };
    let address = Address::parse(&text).unwrap_or_default();
    at(root, address.steps(), say);
}

/// Rates on sale far from today's.
fn on_sale(end: End, main: &MainSpring, node: &Node, root: &Place<'_>) {
    let Some((today, _)) = main.each.first() else { return };
    let sale = root.key("on_sale");
    let list = sale.key(end.name());
    let written = node.get("on_sale").and_then(|sale| sale.get(end.name())).map_or(&[][..], Node::items);
    for (row, item) in written.iter().enumerate() {
        let Value::Text(text) = &item.value else { continue };
        let Ok(rate) = text.parse::<SpringRate>() else { continue };
        let times = rate.si() / today.si();
        if (1.0 / MEANT..=MEANT).contains(&times) {
            continue;
        }
        let (shown, today) = (rate.display().to_string(), today.display());
        let wanted = format!("a rate near that of today's spring, {today}");
        let against = if times > 1.0 { format!("{times:.0} times") } else { format!("{:.1} % of", 100.0 * times) };
        let message = format!("found {shown}, which is {against} today's {today}: a slip of unit, or of the end?");
        list.row(row).note(shown, wanted, None, message);
    }
}

/// A stated preload within what its adjuster sets.
fn adjusted(spring: Option<&Preloaded>, at: &Place<'_>) {
    let Some(spring) = spring.filter(|spring| spring.assumed_preload().is_none()) else { return };
    let Some(adjuster) = spring.adjuster() else { return };
    let (preload, place) = (spring.preload(), at.key("preload"));
    let shown = |length: Length| length.display().to_string();
    let refuse = |wanted: String, which: &str| {
        place.note(shown(preload), wanted.clone(), None, format!("found {}, wanted {wanted}: {which}", shown(preload)));
    };
    match (adjuster.least_preload(), adjuster.most_preload()) {
        (Some(least), _) if preload < least => {
            refuse(format!("{} or more", shown(least)), "`min_preload` is the least that the adjuster sets");
        }
        (_, Some(most)) if preload > most => {
            refuse(format!("{} or less", shown(most)), "`max_preload` is the most that the adjuster sets");
        }
        _ => {}
    }
}
