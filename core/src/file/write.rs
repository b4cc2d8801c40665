//! From a bike to a tree. Nothing is rounded: every number is written so that it reads back to the same bits.

use serde::Serialize;

use super::json_text::from_json;
use super::log::from_plain;
use super::shape::VERSION;
use super::tree::{Entry, Node, Value};
use crate::bike::Bike;
use crate::linkage::{Linkage, MeasuredLinkage};
use crate::mass::{Masses, Weighing};
use crate::record::{
    Change, CommonPractice, Direction, End, Ends, Figure, Measuring, Practice, Range, Reading, SagTarget, Scenario,
    Settled, SpringPrior, Targets, WheelAndTyre, Wheels,
};
use crate::units::{Length, Quantity, to_text};
use crate::wheel::{FinalDrive, FrontEnd, PivotUncertainty, RearEnd, Sprockets};

/// A table under construction; what is not there is left out.
#[derive(Default)]
struct Writer(Vec<Entry>);

impl Writer {
    fn put(mut self, key: &str, value: Value) -> Self {
        self.0.push(Entry::new(key, value));
        self
    }

    fn maybe(self, key: &str, value: Option<Value>) -> Self {
        match value {
            Some(value) => self.put(key, value),
            None => self,
        }
    }

    /// A table, left out when empty.
    fn table(self, key: &str, table: Self) -> Self {
        if table.0.is_empty() { self } else { self.put(key, table.done()) }
    }

    fn done(self) -> Value {
        Value::Table(self.0)
    }
}

fn quantity<Q: Quantity>(quantity: Q) -> Value {
    Value::Text(to_text(quantity))
}

fn text(text: &str) -> Value {
    Value::Text(text.to_owned())
}

fn list(items: impl Iterator<Item = Value>) -> Value {
    Value::List(items.map(Node::from).collect())
}

fn point([x, z]: [Length; 2]) -> Value {
    list([x, z].into_iter().map(quantity))
}

/// The text form that a part has by itself.
fn own(part: &impl Serialize) -> Value {
    // Parts hold finite numbers and text, which JSON always takes, or an element of somebody's own, which says that it has no
    // text form: reading that back says so too.
    serde_json::to_value(part).map_or_else(|error| Value::Text(error.to_string()), |json| from_json(&json).value)
}

/// The whole file.
pub(super) fn tree(bike: &Bike) -> Node {
    let parts = bike.parts();
    let root = Writer::default()
        .put("format", Value::Number(VERSION))
        .put("bike", Writer::default().put("name", text(&parts.name)).done())
        .maybe("masses", parts.masses.as_ref().map(masses))
        .maybe("front", parts.front.as_ref().map(front).or(parts.own.front.as_ref().map(own)))
        .maybe("rear", parts.rear.as_ref().map(rear).or(parts.own.rear.as_ref().map(own)))
        .maybe("wheels", parts.wheels.as_ref().map(wheels))
        .table("frame_points", frame_points(bike))
        .table("prior", ends(&parts.prior, prior))
        .table("measuring", ends(&parts.measuring, |measuring| measuring.as_ref().map(self::measuring)))
        .table("targets", all_targets(bike))
        .maybe("scenario", scenarios(bike))
        .table("on_sale", on_sale(bike));
    let rows: Vec<Node> = parts.readings.iter().map(|reading| Node::from(self::reading(reading))).collect();
    let root = if rows.is_empty() { root } else { root.put("reading", Value::List(rows)) };
    let rows: Vec<Node> = parts.changes.iter().map(|change| Node::from(self::change(change))).collect();
    let root = if rows.is_empty() { root } else { root.put("change", Value::List(rows)) };
    root.done().into()
}

fn ends<T>(ends: &Ends<T>, write: impl Fn(&T) -> Option<Value>) -> Writer {
    End::BOTH.into_iter().fold(Writer::default(), |writer, end| writer.maybe(end.name(), write(ends.at(end))))
}

fn masses(masses: &Masses) -> Value {
    let named = |writer: Writer, (name, weighing): &(String, Weighing)| {
        let mass = match weighing {
            Weighing::Scales(shares) => {
                Writer::default().put("front", quantity(shares.front)).put("rear", quantity(shares.rear))
            }
            Weighing::Position { total, behind_front_axle } => {
                Writer::default().put("total", quantity(*total)).put("behind_front_axle", quantity(*behind_front_axle))
            }
        };
        let mass = mass.maybe("uncertainty", masses.uncertainty(name).map(quantity));
        let mass = mass.maybe("height", masses.height(name).map(quantity));
        writer.put(name, mass.maybe("pitch_inertia", masses.pitch_inertia(name).map(quantity)).done())
    };
    let unsprung = masses.unsprung();
    let unsprung = Writer::default().put("front", quantity(unsprung.front)).put("rear", quantity(unsprung.rear));
    let gravity = (masses.gravity() != Masses::standard_gravity()).then(|| quantity(masses.gravity()));
    masses
        .named()
        .iter()
        .fold(Writer::default(), named)
        .put("unsprung", unsprung.done())
        .maybe("wheelbase", masses.wheelbase().map(quantity))
        .put("scale_uncertainty", quantity(masses.scale_uncertainty()))
        .maybe("gravity", gravity)
        .done()
}

fn frame_points(bike: &Bike) -> Writer {
    bike.frame_points().iter().fold(Writer::default(), |writer, (name, at)| writer.put(name, point(*at)))
}

fn wheels(wheels: &Wheels) -> Value {
    let wheel = |wheel: &WheelAndTyre| {
        Writer::default().put("radius", quantity(wheel.radius)).maybe("tyre", wheel.tyre.map(quantity)).done()
    };
    Writer::default()
        .put("fork_offset", quantity(wheels.fork_offset))
        .put("front", wheel(&wheels.ends.front))
        .put("rear", wheel(&wheels.ends.rear))
        .done()
}

fn prior(prior: &SpringPrior) -> Option<Value> {
    let writer = Writer::default()
        .put("rate_tolerance", quantity(prior.rate_tolerance))
        .put("preload_uncertainty", quantity(prior.preload_uncertainty));
    (*prior != SpringPrior::default()).then(|| writer.done())
}

fn front(end: &FrontEnd) -> Value {
    let writer = Writer::default().maybe("axle", end.extended_axle().map(point));
    writer.put("fork", own(end.fork())).done()
}

fn rear(end: &RearEnd) -> Value {
    let (drive, chain) = match end.final_drive() {
        Some(FinalDrive::Shaft) => (Some(text("shaft")), None),
        Some(FinalDrive::Chain(sprockets)) => (None, Some(chain(sprockets))),
        None => (None, None),
    };
    let writer = Writer::default()
        .maybe("final_drive", drive)
        .maybe("linkage", end.linkage().ok().map(|drawn| linkage(drawn, end.pivot_uncertainty())))
        .maybe("measured", end.measured().or(end.table()).map(measured));
    writer.put("shock", own(end.shock())).maybe("chain", chain).done()
}

fn chain(sprockets: &Sprockets) -> Value {
    let [front, rear] = sprockets.teeth().map(|teeth| Value::Number(f64::from(teeth)));
    Writer::default()
        .put("front_centre", point(sprockets.front_centre()))
        .put("front_teeth", front)
        .put("rear_teeth", rear)
        .put("pitch", quantity(sprockets.pitch()))
        .done()
}

fn measured(table: &MeasuredLinkage) -> Value {
    let row = |(travel, length): &(Length, Length)| list([*travel, *length].into_iter().map(quantity));
    let [travel, length] = table.uncertainties();
    Writer::default()
        .put("readings", list(table.readings().iter().map(row)))
        .put("travel_uncertainty", quantity(travel))
        .put("length_uncertainty", quantity(length))
        .done()
}

fn linkage(linkage: &Linkage, known: Option<&PivotUncertainty>) -> Value {
    let points = linkage.mechanism().points().map(|(name, at)| Entry::new(name, point(at)));
    let bodies = linkage.mechanism().bodies();
    let bodies = bodies.map(|(name, on)| Entry::new(name, list(on.into_iter().map(text))));
    let (first, second) = linkage.shock();
    Writer::default()
        .put("wheel", text(linkage.wheel()))
        .put("shock", list([first, second].into_iter().map(text)))
        .put("points", Value::Table(points.collect()))
        .put("bodies", Value::Table(bodies.collect()))
        .maybe("point_uncertainty", known.map(|known| quantity(known.coordinate())))
        .maybe("shock_length_uncertainty", known.map(|known| quantity(known.shock_length())))
        .done()
}

fn direction(writer: Writer, direction: Direction) -> Writer {
    match direction {
        Direction::Vertical => writer.put("direction", text("vertical")),
        Direction::AlongFork => writer.put("direction", text("along fork")),
        Direction::ToMark { x, z } => writer.put("direction", text("to mark")).put("mark", point([x, z])),
    }
}

fn measuring(measuring: &Measuring) -> Value {
    direction(Writer::default(), measuring.direction).put("uncertainty", quantity(measuring.uncertainty)).done()
}

fn all_targets(bike: &Bike) -> Writer {
    let usual = crate::bike::BikeParts::default().rider_load;
    let load = (*bike.rider_load() != usual).then(|| text(&bike.rider_load().to_string()));
    let both = ends(&bike.parts().targets, targets);
    let practice = bike.parts().practice.as_ref().map(|table| list(table.rows.iter().map(practice)));
    let writer = Writer::default()
        .maybe("rider_load", load)
        .maybe("discipline", bike.discipline().map(text))
        .maybe("practice", practice);
    both.0.into_iter().fold(writer, |writer, entry| writer.put(&entry.key, entry.node.value))
}

/// A table of common practice as a file of its own.
pub(super) fn practice_file(table: &CommonPractice) -> Node {
    let rows = list(table.rows.iter().map(practice));
    Writer::default().put("format", Value::Number(VERSION)).put("sag", rows).done().into()
}

fn practice(row: &Practice) -> Value {
    fn range<Q: Quantity>(from: Q, to: Q) -> Value {
        Writer::default().put("from", quantity(from)).put("to", quantity(to)).done()
    }
    let writer = Writer::default()
        .put("discipline", text(&row.discipline))
        .put("end", text(row.end.name()))
        .put("sag", text(row.sag.name()));
    let writer = match row.figure {
        Figure::Length(lengths) => writer.put("length", range(lengths.from, lengths.to)),
        Figure::Share { from, to } => writer.put("share", range(from, to)),
    };
    direction(writer, row.direction).put("basis", text(&row.basis)).maybe("note", row.note.as_deref().map(text)).done()
}

fn targets(targets: &Targets) -> Option<Value> {
    let sag = |target: &SagTarget| {
        let range =
            |writer: Writer| writer.put("from", quantity(target.range.from)).put("to", quantity(target.range.to));
        let aimed = || Writer::default().put("value", quantity(target.value));
        let writer = match tolerance(target) {
            Some(tolerance) => aimed().put("tolerance", quantity(tolerance)),
            None if target.value == target.range.middle() => range(Writer::default()),
            None => range(aimed()),
        };
        direction(writer, target.direction).done()
    };
    let writer = Writer::default()
        .maybe("rider_sag", targets.rider_sag.as_ref().map(sag))
        .maybe("free_sag", targets.free_sag.as_ref().map(sag));
    (!writer.0.is_empty()).then(|| writer.done())
}

fn scenarios(bike: &Bike) -> Option<Value> {
    let row = |scenario: &Scenario| {
        let writer = Writer::default().put("name", text(&scenario.name)).put("load", text(&scenario.load.to_string()));
        let both = ends(&scenario.targets, targets);
        both.0.into_iter().fold(writer, |writer, entry| writer.put(&entry.key, entry.node.value)).done()
    };
    let rows = bike.scenarios();
    (!rows.is_empty()).then(|| list(rows.iter().map(row)))
}

/// The tolerance that gives this range to the bit, if one does; what a person wrote is some whole number of nanometres.
fn tolerance(target: &SagTarget) -> Option<Length> {
    const NANOMETRES: f64 = 1e9;
    let Range { from, to } = target.range;
    let half = (to - from) / 2.0;
    let candidates = [Length::from_si((half.si() * NANOMETRES).round() / NANOMETRES), half];
    candidates.into_iter().find(|tolerance| [target.value - *tolerance, target.value + *tolerance] == [from, to])
}

fn on_sale(bike: &Bike) -> Writer {
    let rates = |rates: &[crate::units::SpringRate]| {
        (!rates.is_empty()).then(|| list(rates.iter().map(|rate| quantity(*rate))))
    };
    let sale = bike.on_sale();
    Writer::default().maybe("front", rates(&sale.front)).maybe("rear", rates(&sale.rear))
}

fn reading(reading: &Reading) -> Value {
    let settled = reading.settled.map(|side| match side {
        Settled::Low => text("low"),
        Settled::High => text("high"),
    });
    Writer::default()
        .put("end", text(reading.end.name()))
        .put("load", text(&reading.load.to_string()))
        .maybe("settled", settled)
        .put("distance", quantity(reading.distance))
        .maybe("uncertainty", reading.uncertainty.map(quantity))
        .maybe("date", reading.date.as_deref().map(text))
        .maybe("note", reading.note.as_deref().map(text))
        .done()
}

pub(super) fn change(change: &Change) -> Value {
    let was = change.was.iter().fold(Writer::default(), |writer, (path, value)| writer.put(path, from_plain(value)));
    Writer::default()
        .put("date", text(&change.date))
        .maybe("note", change.note.as_deref().map(text))
        .table("was", was)
        .maybe("added", (!change.added.is_empty()).then(|| list(change.added.iter().map(|path| text(path)))))
        .done()
}
