//! What a key means: every table of the bike file, described once.
//!
//! A description (`table`) says of each key its name, its meaning, what it holds, how it is read off a built part and how it
//! goes into building one. Everything else follows from it: the reader, which builds each part in its own place, so that the
//! path of a fault is where the reader stood; the writer; an [edit](crate::edit) of a built bike; serde of the parts; the JSON
//! Schema; the page of keys. To add a key is to add a line here.

mod bike;
mod damper;
mod describe;
mod faults;
mod front;
mod gas;
mod item;
mod list;
mod masses;
mod measuring;
mod mechanism;
mod page;
mod place;
mod plain;
mod points;
mod practice;
mod rear;
mod riders;
mod said;
mod schema;
mod shape;
mod spring;
mod stands;
mod table;
mod usual;
mod wanted;

pub use crate::value::{Entry, Node, Value};
pub use page::page;
pub use schema::json_schema;

pub(crate) use bike::contradictions;
pub(crate) use faults::{Faults, Unknown};
pub(crate) use item::{Item, Set};
pub use place::MOST_ROWS;
pub(crate) use place::{Place, Stop};
pub(crate) use shape::Shape;
pub(crate) use table::{Part, edited_as};

use crate::bike::Bike;
use crate::error::{Address, FileError, Step};

/// What may stand at an address of a bike; `None` where it leads nowhere.
pub(crate) fn shape_at(address: &Address) -> Option<Shape> {
    Shape::Table(<<Bike as Part>::Keys as table::Keys>::table).at(address.steps())
}

/// The address with the coordinates of a point as rows: `points.axle.x` is `points.axle[0]`, and `.z` is `[1]`.
pub(crate) fn in_rows(address: &Address) -> Address {
    let steps = address.steps();
    let of_point = |at: usize| {
        let outer = Shape::Table(<<Bike as Part>::Keys as table::Keys>::table).at(&steps[..at]);
        outer.is_some_and(|outer| matches!(outer, Shape::Point(_)))
    };
    let row = |(at, step): (usize, &Step)| match step {
        Step::Key(name) if name == "x" && of_point(at) => Step::Row(0),
        Step::Key(name) if name == "z" && of_point(at) => Step::Row(1),
        step => step.clone(),
    };
    steps.iter().enumerate().map(row).collect::<Vec<_>>().into()
}

/// Reads a part; what is wrong with it is in the faults.
pub(crate) fn read<P: Item>(node: &Node, faults: &Faults) -> Result<P, Stop> {
    P::read(&Place::root(Some(node), faults))
}

/// Reads a part that stands in no text.
pub(crate) fn read_part<P: Item>(node: &Node) -> Result<P, FileError> {
    let faults = Faults::new();
    let part = read(node, &faults);
    part.map_err(|_| FileError { faults: faults.finish(None) })
}

#[cfg(test)]
pub(crate) use usual::shipped;

#[cfg(test)]
mod tests;
