//! From a checked tree to a bike. Parts are built one by one, so that each tells its own fault.

mod ends;

use core::cell::RefCell;

use super::faults::Faults;
use super::format::ROOT;
use super::log::plain;
use super::part::{Part, Stop};
use super::practice;
use super::tree::Node;
use crate::bike::{Bike, BikePart, BikeParts, Contradictions};
use crate::error::Error;
use crate::log::Log;
use crate::mass::{Masses, Weighing};
use crate::record::{
    Change, Direction, End, Ends, Measuring, OnSale, Range, Reading, SagTarget, Scenario, Settled, SpringPrior,
    Targets, WheelAndTyre, Wheels,
};
use crate::units::{Length, SpringRate, check};
use ends::{front, rear};

/// The bike of a tree; what is wrong with it is in the faults.
pub(super) fn bike(node: &Node, faults: &RefCell<Faults<'_>>) -> Result<(Bike, Log), Stop> {
    let root = Part::root(node, &ROOT, faults);
    let masses = root.part("masses").map(|part| part.told(masses(&part))).transpose();
    let front = root.part("front").map(|part| part.told(front(&part))).transpose();
    let rear = root.part("rear").map(|part| part.told(rear(&part))).transpose();
    let wheels = root.part("wheels").map(|part| part.told(wheels(&part))).transpose();
    let frame_points = root.part("frame_points").map(|part| frame_points(&part)).transpose();
    let prior = both(|end| {
        let part = root.part("prior").and_then(|ends| ends.part(end.name()));
        part.map(|part| part.told(prior(&part))).transpose().map(Option::unwrap_or_default)
    });
    let measuring = both(|end| {
        let part = root.part("measuring").and_then(|ends| ends.part(end.name()));
        part.map(|part| part.told(measuring(&part))).transpose()
    });
    let targets = targets(&root, measuring.as_ref().ok());
    let scenarios: Vec<Result<Scenario, Stop>> =
        root.rows("scenario").iter().map(|row| row.told(scenario(row, measuring.as_ref().ok()))).collect();
    let on_sale = root.part("on_sale").map(|part| on_sale(&part)).transpose();
    let rider_load = root.part("targets").map(|part| part.load("rider_load")).transpose();
    let discipline = root.part("targets").map(|part| part.text("discipline")).transpose();
    let own_practice = root.part("targets").filter(|part| part.node.get("practice").is_some());
    let practice = own_practice.map(|part| practice::rows(&part, "practice")).transpose();
    let readings: Vec<Result<Reading, Stop>> = root.rows("reading").iter().map(|row| row.told(reading(row))).collect();
    let changes: Vec<Result<Change, Stop>> = root.rows("change").iter().map(|row| row.told(change(row))).collect();
    let name = root.part("bike").ok_or(Stop::Told)?.need_text("name")?.to_owned();
    let parts = BikeParts {
        name,
        masses: masses?,
        front: front?,
        rear: rear?,
        wheels: wheels?,
        frame_points: frame_points?.unwrap_or_default(),
        prior: prior?,
        measuring: measuring?,
        targets: targets?,
        discipline: discipline?.flatten().map(str::to_owned),
        practice: practice?,
        scenarios: scenarios.into_iter().collect::<Result<_, _>>()?,
        on_sale: on_sale?.unwrap_or_default(),
        readings: readings.into_iter().collect::<Result<_, _>>()?,
        changes: changes.into_iter().collect::<Result<_, _>>()?,
        ..BikeParts::default()
    };
    let parts = match rider_load?.flatten() {
        Some(rider_load) => BikeParts { rider_load, ..parts },
        None => parts,
    };
    let refused = |found: Contradictions| {
        for (place, error) in found.all() {
            contradiction(&root, place, &error);
        }
        Stop::Told
    };
    let bike = Bike::assemble(parts).map_err(refused)?;
    let log = Log::new(&bike).map_err(refused)?;
    Ok((bike, log))
}

/// The same for both ends, both tried before either fault stops.
fn both<T>(mut make: impl FnMut(End) -> Result<T, Stop>) -> Result<Ends<T>, Stop> {
    let (front, rear) = (make(End::Front), make(End::Rear));
    Ok(Ends { front: front?, rear: rear? })
}

/// Tells a contradiction at the part it is in.
fn contradiction(root: &Part<'_, '_>, place: BikePart, error: &Error) {
    let end_of = |key: &str, end: End| root.part(key).and_then(|part| part.part(end.name()));
    let part = match place {
        BikePart::Prior(end) => end_of("prior", end),
        BikePart::Measuring(end) => end_of("measuring", end),
        BikePart::Targets(end) => end_of("targets", end),
        BikePart::OwnEnd(end) => root.part(end.name()),
        BikePart::Wheels => root.part("wheels"),
        BikePart::FramePoint(_) => root.part("frame_points"),
        BikePart::OnSale(_) => root.part("on_sale"),
        BikePart::Discipline => return root.part("targets").as_ref().unwrap_or(root).refuse_at("discipline", error),
        BikePart::Practice(row) => root.part("targets").and_then(|part| part.rows("practice").get(row).cloned()),
        BikePart::Scenario(row) => root.rows("scenario").get(row).cloned(),
        BikePart::RiderLoad => return root.part("targets").as_ref().unwrap_or(root).refuse_at("rider_load", error),
        BikePart::Reading(row) => root.rows("reading").get(row).cloned(),
        BikePart::Change(row) => root.rows("change").get(row).cloned(),
    };
    let part = part.as_ref().unwrap_or(root);
    match error {
        Error::Mass(_) => part.refuse_at("load", error),
        _ => part.refuse(error),
    }
}

fn masses(part: &Part<'_, '_>) -> Result<Masses, Stop> {
    let unsprung = part.part("unsprung").ok_or(Stop::Told)?;
    let unsprung = Ends { front: unsprung.need("front")?, rear: unsprung.need("rear")? };
    let named: Vec<_> = part.names().map(|name| Ok((name.to_owned(), weighing(part, name)?))).collect();
    let named = named.into_iter().collect::<Result<Vec<_>, Stop>>()?;
    let masses = Masses::new(named, unsprung, part.maybe("wheelbase")?)?;
    let masses = part.names().try_fold(masses, |masses, name| match part.part(name) {
        Some(mass) => {
            let masses = match mass.maybe("height")? {
                Some(height) => masses.with_height(name, height)?,
                None => masses,
            };
            let masses = match mass.maybe("uncertainty")? {
                Some(uncertainty) => masses.with_uncertainty(name, uncertainty)?,
                None => masses,
            };
            Ok(match mass.maybe("pitch_inertia")? {
                Some(inertia) => masses.with_pitch_inertia(name, inertia)?,
                None => masses,
            })
        }
        None => Err(Stop::Told),
    })?;
    let masses = match part.maybe("scale_uncertainty")? {
        Some(uncertainty) => masses.with_scale_uncertainty(uncertainty)?,
        None => masses,
    };
    Ok(match part.maybe("gravity")? {
        Some(gravity) => masses.with_gravity(gravity)?,
        None => masses,
    })
}

fn frame_points(part: &Part<'_, '_>) -> Result<Vec<(String, [Length; 2])>, Stop> {
    part.names().map(|name| Ok((name.to_owned(), part.point(name)?.ok_or(Stop::Told)?))).collect()
}

fn weighing(masses: &Part<'_, '_>, name: &str) -> Result<Weighing, Stop> {
    let part = masses.part(name).ok_or(Stop::Told)?;
    Ok(match part.maybe("total")? {
        Some(total) => Weighing::Position { total, behind_front_axle: part.need("behind_front_axle")? },
        None => Weighing::Scales(Ends { front: part.need("front")?, rear: part.need("rear")? }),
    })
}

fn wheels(part: &Part<'_, '_>) -> Result<Wheels, Stop> {
    let ends = both(|end| {
        let wheel = part.part(end.name()).ok_or(Stop::Told)?;
        wheel.told(WheelAndTyre::new(wheel.need("radius")?, wheel.maybe("tyre")?).map_err(Stop::from))
    });
    Ok(Wheels::new(part.need("fork_offset")?, ends?)?)
}

fn prior(part: &Part<'_, '_>) -> Result<SpringPrior, Stop> {
    let known = SpringPrior::default();
    let tolerance = part.maybe("rate_tolerance")?.unwrap_or(known.rate_tolerance);
    let preload = part.maybe("preload_uncertainty")?.unwrap_or(known.preload_uncertainty);
    Ok(SpringPrior::new(tolerance, preload)?)
}

fn measuring(part: &Part<'_, '_>) -> Result<Measuring, Stop> {
    let uncertainty = part.maybe("uncertainty")?.unwrap_or_else(Measuring::default_uncertainty);
    let direction = direction(part)?.ok_or(Stop::Told)?;
    Ok(Measuring::new(direction, uncertainty)?)
}

/// The direction stated in a table; a mark belongs to `to mark` and to nothing else.
fn direction(part: &Part<'_, '_>) -> Result<Option<Direction>, Stop> {
    let mark = part.point("mark")?;
    match (part.text("direction")?, mark) {
        (None, None) => Ok(None),
        (Some("vertical"), None) => Ok(Some(Direction::Vertical)),
        (Some("along fork"), None) => Ok(Some(Direction::AlongFork)),
        (Some("to mark"), Some([x, z])) => Ok(Some(Direction::ToMark { x, z })),
        (Some("to mark"), None) => {
            part.refuse_at("direction", &"`to mark` needs its mark, wanted `mark = [\"-400 mm\", \"350 mm\"]`");
            Err(Stop::Told)
        }
        (_, Some(_)) => {
            part.refuse_at("mark", &"a mark belongs to one direction only, wanted `direction = \"to mark\"` with it");
            Err(Stop::Told)
        }
        (Some(_), None) => Err(Stop::Told),
    }
}

fn targets(root: &Part<'_, '_>, measuring: Option<&Ends<Option<Measuring>>>) -> Result<Ends<Targets>, Stop> {
    root.part("targets").map_or_else(|| Ok(Ends::default()), |part| targets_in(&part, measuring))
}

fn scenario(part: &Part<'_, '_>, measuring: Option<&Ends<Option<Measuring>>>) -> Result<Scenario, Stop> {
    let targets = targets_in(part, measuring);
    let load = part.load("load");
    let name = part.need_text("name")?.to_owned();
    Ok(Scenario { name, load: load?.ok_or(Stop::Told)?, targets: targets? })
}

/// The targets under the keys `front` and `rear`.
fn targets_in(part: &Part<'_, '_>, measuring: Option<&Ends<Option<Measuring>>>) -> Result<Ends<Targets>, Stop> {
    both(|end| {
        let Some(part) = part.part(end.name()) else { return Ok(Targets::default()) };
        let usual = measuring.and_then(|ends| ends.at(end).map(|measuring| measuring.direction));
        let usual = usual.or((end == End::Rear).then_some(Direction::Vertical));
        let target =
            |key: &str| part.part(key).map(|target| target.told(sag(&target, usual, measuring.is_some()))).transpose();
        let (rider_sag, free_sag) = (target("rider_sag"), target("free_sag"));
        Ok(Targets { rider_sag: rider_sag?, free_sag: free_sag? })
    })
}

/// A target; its direction is that of the readings of its end unless stated.
fn sag(part: &Part<'_, '_>, usual: Option<Direction>, usual_is_known: bool) -> Result<SagTarget, Stop> {
    let range = match (part.maybe::<Length>("value")?, part.maybe::<Length>("tolerance")?) {
        (Some(value), Some(tolerance)) => Range::new(value - tolerance, value + tolerance),
        _ => Range::new(part.need("from")?, part.need("to")?),
    }?;
    let value = part.maybe("value")?.unwrap_or_else(|| range.middle());
    let Some(direction) = direction(part)?.or(usual) else {
        if usual_is_known {
            let message = "along what this sag is meant is not said, wanted `direction = \"along fork\"` or `\"vertical\"`, \
                           here or in `[measuring.front]`";
            part.refuse_at("direction", &message);
        }
        return Err(Stop::Told);
    };
    Ok(SagTarget::new(value, range, direction)?)
}

fn on_sale(part: &Part<'_, '_>) -> Result<OnSale, Stop> {
    let rates = |key: &str| -> Result<Vec<SpringRate>, Stop> {
        let rates = part.quantities(key)?;
        let checked = |(row, rate): (usize, &SpringRate)| check::positive(&format!("{key}[{row}]"), *rate);
        rates.iter().enumerate().try_for_each(|rate| part.told(checked(rate).map(drop).map_err(Stop::from)))?;
        Ok(rates)
    };
    let (front, rear) = (rates("front"), rates("rear"));
    Ok(OnSale::new(front?, rear?))
}

fn reading(part: &Part<'_, '_>) -> Result<Reading, Stop> {
    let end = if part.need_text("end")? == "front" { End::Front } else { End::Rear };
    let settled = part.text("settled")?.map(|word| if word == "low" { Settled::Low } else { Settled::High });
    let load = part.load("load")?.ok_or(Stop::Told)?;
    let reading = Reading::new(end, load, part.need("distance")?, settled)?;
    let reading = match part.maybe("uncertainty")? {
        Some(uncertainty) => reading.with_uncertainty(uncertainty)?,
        None => reading,
    };
    let text = |key| part.text(key).map(|text| text.map(str::to_owned));
    Ok(Reading { date: text("date")?, note: text("note")?, ..reading })
}

fn change(part: &Part<'_, '_>) -> Result<Change, Stop> {
    let was = part.part("was").map_or(&[][..], |was| was.node.entries());
    Ok(Change {
        date: part.need_text("date")?.to_owned(),
        note: part.text("note")?.map(str::to_owned),
        was: was.iter().map(|entry| (entry.key.clone(), plain(&entry.node))).collect(),
        added: part.texts("added")?.into_iter().map(str::to_owned).collect(),
    })
}
