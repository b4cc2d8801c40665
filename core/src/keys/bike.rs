//! The keys of the whole file.

use super::describe::table;
use super::item::Kept;
use super::measuring::MeasuringEndsKeys;
use super::place::{Place as At, Stop};
use super::plain::Version;
use super::points::FramePoints;
use super::stands::PriorEndsKeys;
use super::wanted::{ScenarioKeys, TargetsKeys, some, targets, unusual_load};
use crate::bike::{Bike, BikePart, BikeParts, Contradictions};
use crate::error::Error;
use crate::mass::Masses;
use crate::record::{
    Change, CommonPractice, End, Ends, Load, OnSale, OwnUsual, Practice, Prices, Reading, Riders, Scenario, Wheels,
};
use crate::value::{Entry, Value};
use crate::wheel::{FrontEnd, OwnEnd, RearEnd};

table! {
    "A bike: its masses, its two ends, how it was read, what is wanted of it. Every part but `format` may be left out: \
     what is not stated is taken as usual, and is listed; what an answer needs and lacks is said when it is asked for.",
    BikeKeys for Bike,
    {
        format: Version = |_| Version, "Version of this format.";
        bike: Option<NameKeys> = |bike| NameKeys::of(bike), "The bike.";
        masses: Option<Masses> = |bike| bike.parts().masses.clone(), "What the scales show.";
        front: Option<FrontEnd> = |bike| bike.parts().front.clone(), "The front end.";
        rear: Option<RearEnd> = |bike| bike.parts().rear.clone(), "The rear end.";
        wheels: Option<Wheels> = |bike| bike.parts().wheels.clone(),
            "What the ends stand on: for rake, trail and the whole bike at rest.";
        frame_points: Option<FramePoints> = |bike| some(&bike.parts().frame_points).map(FramePoints),
            "Points of the frame whose height matters: seat, skid plate.";
        assumed: Option<OwnUsual> = |bike| Some(bike.parts().usual).filter(|own| *own != OwnUsual::default()),
            "Figures of one's own where nothing is stated, in place of what is usual.";
        prior: Option<PriorEndsKeys> = |bike| PriorEndsKeys::of(&bike.parts().prior),
            "How far the stated springs can be trusted.";
        measuring: Option<MeasuringEndsKeys> = |bike| MeasuringEndsKeys::of(&bike.parts().measuring),
            "How the readings are taken.";
        targets: Option<AllTargetsKeys> = |bike| AllTargetsKeys::of(bike), "The sag that is wanted.";
        scenario: Option<Vec<ScenarioKeys>> = |bike| {
            let rows: Vec<ScenarioKeys> = bike.parts().scenarios.iter().map(ScenarioKeys::of).collect();
            some(&rows)
        }, "The same bike under other loads, one a row.";
        riders: Option<Riders> = |bike| bike.parts().riders.clone(),
            "Who rides it, where it is more than one person: which spring suits most of them.";
        on_sale: Option<OnSale> = |bike| Some(bike.parts().on_sale.clone()).filter(|sale| *sale != OnSale::default()),
            "Spring rates that can be bought.";
        prices: Option<Prices> = |bike| Some(bike.parts().prices).filter(|prices| *prices != Prices::default()),
            "What each action costs, where it is not what is usual.";
        reading: Option<Vec<Reading>> = |bike| some(&bike.parts().readings), "Readings, one a row.";
        change: Option<Vec<Change>> = |bike| some(&bike.parts().changes), "What was done to the bike, one change a row.";
    }
    kept own: OwnEnds = |bike| OwnEnds(bike.parts().own.clone());
    make |keys, _, at| bike(keys, at)
}

/// Ends of somebody's own, which stand in the place of the others.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct OwnEnds(Ends<Option<OwnEnd>>);

impl Kept for OwnEnds {
    fn put(&self, _: &str, entries: &mut Vec<Entry>) {
        for end in End::BOTH.into_iter().filter(|end| self.0.at(*end).is_some()) {
            entries.push(Entry::new(end.name(), Value::NoText(format!("the {end} end"))));
        }
    }
}

table! {
    "The bike.",
    NameKeys,
    {
        name: Option<String>, "What it is called.";
        kind: Option<String>,
            "What kind of bike it is: motocross, trail, road, track or any. What is not stated is taken as usual of the \
             kind, and a bike without targets goes by its common practice; by its travel unless stated.";
    }
}

impl NameKeys {
    fn of(bike: &Bike) -> Option<Self> {
        let (name, kind) = (Some(&bike.parts().name).filter(|name| !name.is_empty()), bike.parts().kind.clone());
        (name.is_some() || kind.is_some()).then(|| Self { name: name.cloned(), kind })
    }
}

table! {
    "The sag that is wanted.",
    AllTargetsKeys,
    {
        rider_load: Option<Load>, "The load that rider sag is meant under; `bike + rider` unless stated.";
        discipline: Option<String>,
            "What the bike is ridden for; a sag without a target here then goes by common practice.";
        practice: Option<Vec<Practice>>, "Common practice, in place of the shipped table.";
        front: Option<TargetsKeys>, "At the front.";
        rear: Option<TargetsKeys>, "At the rear.";
    }
}

impl BikeKeys {
    /// Adds a change to the log.
    pub(crate) fn log(&mut self, change: Change) {
        self.change.get_or_insert_default().push(change);
    }
}

impl AllTargetsKeys {
    fn of(bike: &Bike) -> Option<Self> {
        let parts = bike.parts();
        let keys = Self {
            rider_load: unusual_load(&bike.parts().rider_load),
            discipline: parts.discipline.clone(),
            practice: parts.practice.as_ref().map(|table| table.rows.clone()),
            front: TargetsKeys::of(&parts.targets.front),
            rear: TargetsKeys::of(&parts.targets.rear),
        };
        let none = Self { rider_load: None, discipline: None, practice: None, front: None, rear: None };
        (keys != none).then_some(keys)
    }
}

fn bike(keys: BikeKeys, at: &At<'_>) -> Result<Bike, Stop> {
    let measuring = keys.measuring.map(MeasuringEndsKeys::ends).unwrap_or_default();
    let wanted = keys.targets;
    let ends =
        wanted.as_ref().map_or(Ends::default(), |keys| Ends { front: keys.front.clone(), rear: keys.rear.clone() });
    let targets = targets(ends, &measuring, &at.key("targets"));
    let list = at.key("scenario");
    let scenarios = keys.scenario.unwrap_or_default().into_iter().enumerate();
    let scenarios: Vec<Result<Scenario, Stop>> =
        scenarios.map(|(row, keys)| keys.scenario(&measuring, &list.row(row))).collect();
    let named = keys.bike.unwrap_or(NameKeys { name: None, kind: None });
    let usual = BikeParts::default();
    let (rider_load, discipline, practice) =
        wanted.map_or((None, None, None), |keys| (keys.rider_load, keys.discipline, keys.practice));
    let parts = BikeParts {
        name: named.name.unwrap_or_default(),
        kind: named.kind,
        usual: keys.assumed.unwrap_or_default(),
        masses: keys.masses,
        front: keys.front,
        rear: keys.rear,
        wheels: keys.wheels,
        frame_points: keys.frame_points.map(|FramePoints(points)| points).unwrap_or_default(),
        prior: keys.prior.map(PriorEndsKeys::ends).unwrap_or_default(),
        measuring,
        targets: targets?,
        discipline,
        practice: practice.map(|rows| CommonPractice { rows }),
        rider_load: rider_load.unwrap_or(usual.rider_load),
        scenarios: scenarios.into_iter().collect::<Result<_, _>>()?,
        riders: keys.riders,
        on_sale: keys.on_sale.unwrap_or_default(),
        readings: keys.reading.unwrap_or_default(),
        changes: keys.change.unwrap_or_default(),
        own: keys.own.0,
        prices: keys.prices.unwrap_or_default(),
    };
    Bike::assemble(parts).map_err(|found| contradictions(at, found))
}

/// Notes contradictions, each at the part it is in.
pub(crate) fn contradictions(at: &At<'_>, found: Contradictions) -> Stop {
    for (place, error) in found.all() {
        contradiction(at, place, &error);
    }
    Stop
}

/// Notes a contradiction at the part it is in.
fn contradiction(at: &At<'_>, place: BikePart, error: &Error) {
    let top = |key| at.key(key);
    match place {
        BikePart::Prior(end) => top("prior").key(end.name()).refuse(error),
        BikePart::Measuring(end) => top("measuring").key(end.name()).refuse(error),
        BikePart::Targets(end) => top("targets").key(end.name()).refuse(error),
        BikePart::Target(end, sag) => top("targets").key(end.name()).key(sag.key()).refuse(error),
        BikePart::OwnEnd(end) => top(end.name()).refuse(error),
        BikePart::Masses => top("masses").refuse(error),
        BikePart::Kind => top("bike").key("kind").refuse(error),
        BikePart::Wheels => top("wheels").refuse(error),
        BikePart::FramePoints => at.refuse(error),
        BikePart::OnSale(end, row) => top("on_sale").key(end.name()).row(row).refuse(error),
        BikePart::Discipline => top("targets").key("discipline").refuse(error),
        BikePart::Practice(row) => top("targets").key("practice").row(row).refuse(error),
        BikePart::RiderLoad => top("targets").key("rider_load").refuse(error),
        BikePart::Scenario(row) => top("scenario").row(row).refuse(error),
        BikePart::ScenarioTarget(row, end, sag) => {
            top("scenario").row(row).key(end.name()).key(sag.key()).refuse(error)
        }
        BikePart::Riders => top("riders").refuse(error),
        BikePart::Reading(row) => top("reading").row(row).refuse(error),
        BikePart::Change(row) => top("change").row(row).refuse(error),
    };
}

#[cfg(test)]
mod tests;
