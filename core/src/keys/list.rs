//! Lists under a key: rows of their own, points, rows of a table.

use super::item::{Item, Set};
use super::place::{MOST_ROWS, Place, Stop};
use super::shape::Shape;
use crate::error::Step;
use crate::units::{Force, Length, Quantity, Velocity};
use crate::value::{Node, Value};

impl<T: Item + Clone> Item for Vec<T> {
    const SHAPE: Shape = Shape::List(&T::SHAPE);

    fn read(at: &Place<'_>) -> Result<Self, Stop> {
        let Some(Value::List(items)) = at.node().map(|node| &node.value) else {
            return Err(at.wrong(Self::SHAPE.wanted()));
        };
        if items.len() > MOST_ROWS {
            return Err(at.too_many(items.len(), "rows"));
        }
        let items: Vec<Result<T, Stop>> = (0..items.len()).map(|row| T::read(&at.row(row))).collect();
        items.into_iter().collect()
    }

    fn write(&self) -> Value {
        write_rows(self)
    }

    fn get(&self, steps: &[Step]) -> Option<Value> {
        get_row(self, steps)
    }

    fn edited(&self, sets: &[Set<'_>], at: &Place<'_>) -> Result<Self, Stop> {
        let mut items = self.clone();
        edit_rows(&mut items, sets, at)?;
        Ok(items)
    }
}

fn write_rows<T: Item>(items: &[T]) -> Value {
    items.iter().map(Item::write).collect()
}

/// The value at some steps into rows; the whole list where there are none.
fn get_row<T: Item>(items: &[T], steps: &[Step]) -> Option<Value> {
    match steps {
        [] => Some(write_rows(items)),
        [Step::Row(row), rest @ ..] => items.get(*row)?.get(rest),
        _ => None,
    }
}

/// Sets what is set in some rows; a row is neither added nor taken out.
fn edit_rows<T: Item>(items: &mut [T], sets: &[Set<'_>], at: &Place<'_>) -> Result<(), Stop> {
    let mut left: Vec<&Set<'_>> = sets.iter().collect();
    while let Some(set) = left.first() {
        let [Step::Row(row), ..] = set.steps else { return Err(at.nowhere(set.steps)) };
        let (of_row, others): (Vec<&Set<'_>>, _) =
            left.iter().partition(|set| matches!(set.steps, [Step::Row(other), ..] if other == row));
        let inner: Vec<Set<'_>> =
            of_row.iter().filter_map(|set| Some(Set { steps: set.steps.get(1..)?, ..**set })).collect();
        let gone = inner.iter().any(|set| set.steps.is_empty() && set.value.is_none());
        let Some(item) = items.get_mut(*row).filter(|_| !gone) else { return Err(at.nowhere(set.steps)) };
        let place = at.row(*row);
        let whole = inner.iter().rposition(|set| set.steps.is_empty());
        if let Some(node) = whole.and_then(|last| inner.get(last)?.value) {
            *item = T::read(&place.with(node))?;
        }
        let inside = inner.get(whole.map_or(0, |last| last + 1)..).unwrap_or_default();
        if !inside.is_empty() {
            *item = item.edited(inside, &place)?;
        }
        left = others;
    }
    Ok(())
}

/// A point.
impl<T: Item + Clone> Item for [T; 2] {
    const SHAPE: Shape = Shape::Point(&T::SHAPE);

    fn read(at: &Place<'_>) -> Result<Self, Stop> {
        match at.node().map(Node::items) {
            Some([_, _]) => {
                let (x, z) = (T::read(&at.row(0)), T::read(&at.row(1)));
                Ok([x?, z?])
            }
            _ => Err(at.wrong(Self::SHAPE.wanted())),
        }
    }

    fn write(&self) -> Value {
        write_rows(self)
    }

    fn get(&self, steps: &[Step]) -> Option<Value> {
        get_row(self, steps)
    }

    fn edited(&self, sets: &[Set<'_>], at: &Place<'_>) -> Result<Self, Stop> {
        let mut point = self.clone();
        edit_rows(&mut point, sets, at)?;
        Ok(point)
    }
}

/// Rows of a table.
macro_rules! rows {
    ($($one:ident, $two:ident);+ $(;)?) => {
        $(impl Item for ($one, $two) {
            const SHAPE: Shape = Shape::Row(&[$one::KIND, $two::KIND]);

            fn read(at: &Place<'_>) -> Result<Self, Stop> {
                match at.node().map(Node::items) {
                    Some([_, _]) => {
                        let (one, two) = ($one::read(&at.row(0)), $two::read(&at.row(1)));
                        Ok((one?, two?))
                    }
                    _ => Err(at.wrong(Self::SHAPE.wanted())),
                }
            }

            fn write(&self) -> Value {
                [self.0.write(), self.1.write()].into_iter().collect()
            }

            fn get(&self, steps: &[Step]) -> Option<Value> {
                match steps {
                    [] => Some(self.write()),
                    [Step::Row(0), rest @ ..] => Item::get(&self.0, rest),
                    [Step::Row(1), rest @ ..] => Item::get(&self.1, rest),
                    _ => None,
                }
            }

            fn edited(&self, sets: &[Set<'_>], at: &Place<'_>) -> Result<Self, Stop> {
                let (mut one, mut two) = *self;
                for set in sets {
                    match (set.steps, set.value) {
                        ([Step::Row(0)], Some(node)) => one = $one::read(&at.row(0).with(node))?,
                        ([Step::Row(1)], Some(node)) => two = $two::read(&at.row(1).with(node))?,
                        _ => return Err(at.nowhere(set.steps)),
                    }
                }
                Ok((one, two))
            }
        })+
    };
}

rows! {
    Length, Length;
    Length, Force;
    Force, Length;
    Velocity, Force;
}
