//! The bike of a design, made of as little as changes.
//!
//! What each axis touches is found once: coordinates of a drawn linkage, the shock, the front end, the masses. A design whose
//! axes touch no more than these is put together from the parts it changes and those of the base; one that touches anything
//! else is made as [`Bike::what_if`] makes it. What cannot be made the short way is made the long way too, so that it is
//! refused in the same words, or made after all.

use super::axis::{Level, Ready};
use crate::Result;
use crate::bike::Bike;
use crate::edit::part_edited;
use crate::error::Step;
use crate::keys::{Part, Value};
use crate::wheel::RearEnd;

/// What one axis touches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Touches {
    /// A coordinate of the drawn linkage: which point, which axis.
    Coordinate(usize, usize),
    /// Something in the shock, the front end or the masses: so many steps lead there.
    Shock,
    Front,
    Masses,
    Anything,
}

/// How designs are made of a base.
#[derive(Debug, Clone)]
pub(super) struct Maker {
    base: Bike,
    /// The base with one reading of each end, which says that it was read, and no log: less to copy for every design.
    bare: Bike,
    touches: Vec<Touches>,
    long: bool,
}

impl Maker {
    pub(super) fn new(base: &Bike, axes: &[Ready]) -> Self {
        let touches: Vec<Touches> = axes.iter().map(|axis| touched(base, axis)).collect();
        let long = touches.contains(&Touches::Anything);
        let readings = base.ends().into_iter().filter_map(|end| base.readings_of(end).next().cloned());
        let bare = base.holding(readings.collect(), Vec::new());
        Self { base: base.clone(), bare, touches, long }
    }

    /// The bike of a design, as [`Bike::what_if`] has it but for log and readings.
    pub(super) fn make(&self, axes: &[Ready], levels: &[Level<'_>]) -> Result<Bike> {
        match self.short(axes, levels) {
            Some(bike) => Ok(bike),
            None => self.long(axes, levels),
        }
    }

    /// The way of [`Bike::what_if`].
    pub(super) fn long(&self, axes: &[Ready], levels: &[Level<'_>]) -> Result<Bike> {
        let values = axes.iter().zip(levels).map(|(axis, level)| (axis.path.as_str(), level.value(axis.sort)));
        self.base.supposing(&values.collect::<Vec<_>>())
    }

    fn short(&self, axes: &[Ready], levels: &[Level<'_>]) -> Option<Bike> {
        if self.long {
            return None;
        }
        let parts = self.base.parts();
        let rear = self.rear(axes, levels)?;
        let front = match (&parts.front, self.sets(Touches::Front, 1, axes, levels)) {
            (Some(front), sets) if !sets.is_empty() => Some(edited(front, sets)?),
            _ => None,
        };
        let masses = match (&parts.masses, self.sets(Touches::Masses, 1, axes, levels)) {
            (Some(masses), sets) if !sets.is_empty() => Some(edited(masses, sets)?),
            _ => None,
        };
        let varied = self.bare.varied(|parts| {
            rear.into_iter().for_each(|rear| parts.rear = Some(rear));
            front.into_iter().for_each(|front| parts.front = Some(front));
            masses.into_iter().for_each(|masses| parts.masses = Some(masses));
        });
        varied.ok()
    }

    /// The rear end, where anything in it is varied: `Some(None)` where nothing is.
    fn rear(&self, axes: &[Ready], levels: &[Level<'_>]) -> Option<Option<RearEnd>> {
        let Some(rear) = &self.base.parts().rear else { return Some(None) };
        let sets = self.sets(Touches::Shock, 2, axes, levels);
        let mut moved = Vec::new();
        for (touches, level) in self.touches.iter().zip(levels) {
            if let Touches::Coordinate(point, axis) = touches {
                moved.push((*point, *axis, level.number()?));
            }
        }
        let shock = if sets.is_empty() { None } else { Some(edited(rear.shock(), sets)?) };
        match (moved.is_empty(), shock) {
            (true, None) => Some(None),
            (true, Some(shock)) => rear.with_shock(shock).ok().map(Some),
            (false, shock) => rear.redrawn(&moved, shock.unwrap_or_else(|| rear.shock().clone()))?.ok().map(Some),
        }
    }

    /// What is set in one part, seen from there.
    fn sets<'a>(
        &self,
        part: Touches,
        depth: usize,
        axes: &'a [Ready],
        levels: &[Level<'_>],
    ) -> Vec<(&'a [Step], Option<Value>)> {
        let of_part = self.touches.iter().zip(axes).zip(levels).filter(|((touches, _), _)| **touches == part);
        of_part.map(|((_, axis), level)| (&axis.address.steps()[depth..], Some(level.value(axis.sort)))).collect()
    }
}

/// The part with values set in it; `None` where it refuses them.
fn edited<P: Part>(part: &P, values: Vec<(&[Step], Option<Value>)>) -> Option<P> {
    part_edited(part, part.keys(), values.into_iter()).ok()
}

fn touched(base: &Bike, axis: &Ready) -> Touches {
    let key = |step: &Step, name: &str| matches!(step, Step::Key(key) if key == name);
    match axis.address.steps() {
        [rear, linkage, points, Step::Key(name), Step::Row(at @ (0 | 1))]
            if key(rear, "rear") && key(linkage, "linkage") && key(points, "points") =>
        {
            let drawn = base.rear().ok().filter(|end| end.table().is_none()).and_then(|end| end.linkage().ok());
            let point = drawn.and_then(|linkage| linkage.mechanism().index_of("rear.linkage", name).ok());
            point.map_or(Touches::Anything, |point| Touches::Coordinate(point, *at))
        }
        [rear, shock, _, ..] if key(rear, "rear") && key(shock, "shock") && base.rear().is_ok() => Touches::Shock,
        [front, _, ..] if key(front, "front") && base.front().is_ok() => Touches::Front,
        [masses, _, ..] if key(masses, "masses") && base.masses().is_ok() => Touches::Masses,
        _ => Touches::Anything,
    }
}
