//! Plain values under a key: quantities, text, numbers, days.

use super::item::Item;
use super::place::{Place, Stop};
use super::shape::{Shape, VERSION};
use crate::record::{Change, Moment};
use crate::units::{Quantity, Uncertain, parse, to_text};
use crate::value::{Node, Value};

impl<Q: Quantity> Item for Q {
    const SHAPE: Shape = Shape::Quantity(Q::KIND);

    fn read(at: &Place<'_>) -> Result<Self, Stop> {
        let read = match at.node().map(|node| &node.value) {
            Some(Value::Text(text)) => parse(text),
            // A bare number gets the message that says which units would do.
            Some(Value::Number(number)) => parse(&number.to_string()),
            _ => return Err(at.wrong(Self::SHAPE.wanted())),
        };
        at.take(read)
    }

    fn write(&self) -> Value {
        Value::Text(to_text(*self))
    }
}

impl<Q: Quantity> Item for Uncertain<Q> {
    const SHAPE: Shape = Shape::Uncertain(Q::KIND);

    fn read(at: &Place<'_>) -> Result<Self, Stop> {
        let read = match at.node().map(|node| &node.value) {
            Some(Value::Text(text)) => text.parse(),
            Some(Value::Number(number)) => number.to_string().parse(),
            _ => return Err(at.wrong(Self::SHAPE.wanted())),
        };
        at.take(read)
    }

    fn write(&self) -> Value {
        Value::Text(self.to_text())
    }
}

impl Item for String {
    const SHAPE: Shape = Shape::Text;

    fn read(at: &Place<'_>) -> Result<Self, Stop> {
        match at.node().map(|node| &node.value) {
            Some(Value::Text(text)) => Ok(text.clone()),
            _ => Err(at.wrong(Self::SHAPE.wanted())),
        }
    }

    fn write(&self) -> Value {
        Value::Text(self.clone())
    }
}

impl Item for f64 {
    const SHAPE: Shape = Shape::Number;

    fn read(at: &Place<'_>) -> Result<Self, Stop> {
        match at.node().map(|node| &node.value) {
            Some(Value::Number(number)) if number.is_finite() => Ok(*number),
            _ => Err(at.wrong(Self::SHAPE.wanted())),
        }
    }

    fn write(&self) -> Value {
        Value::Number(*self)
    }
}

macro_rules! counts {
    ($($count:ty),+) => {
        $(impl Item for $count {
            const SHAPE: Shape = Shape::Count;

            fn read(at: &Place<'_>) -> Result<Self, Stop> {
                match at.node().map(|node| &node.value) {
                    Some(Value::Number(number))
                        if number.fract() == 0.0 && *number >= 0.0 && *number <= f64::from(Self::MAX) =>
                    {
                        Ok(*number as Self)
                    }
                    _ => Err(at.wrong(Self::SHAPE.wanted())),
                }
            }

            fn write(&self) -> Value {
                Value::Number(f64::from(*self))
            }
        })+
    };
}

counts!(u8, u32);

/// The number of the format.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Version;

impl Item for Version {
    const SHAPE: Shape = Shape::Version;

    fn read(at: &Place<'_>) -> Result<Self, Stop> {
        match at.node().map(|node| &node.value) {
            Some(Value::Number(number)) if *number == VERSION => Ok(Self),
            _ => Err(at.wrong(Self::SHAPE.wanted())),
        }
    }

    fn write(&self) -> Value {
        Value::Number(VERSION)
    }
}

/// A day, with or without a time, in the words it was written in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Day(pub(crate) String);

impl Item for Day {
    const SHAPE: Shape = Shape::Date;

    fn read(at: &Place<'_>) -> Result<Self, Stop> {
        match at.node().map(|node| &node.value) {
            Some(Value::Date(text) | Value::Text(text)) if Moment::parse(text).is_some() => Ok(Self(text.clone())),
            _ => Err(at.wrong(Self::SHAPE.wanted())),
        }
    }

    fn write(&self) -> Value {
        Value::Text(self.0.clone())
    }
}

/// The day of a change, or the word for one that was not made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct DayOfChange(pub(crate) String);

impl Item for DayOfChange {
    const SHAPE: Shape = Shape::DateOfChange;

    fn read(at: &Place<'_>) -> Result<Self, Stop> {
        match at.node().map(|node| &node.value) {
            Some(Value::Text(text)) if text == Change::SUPPOSED => Ok(Self(text.clone())),
            Some(Value::Date(text) | Value::Text(text)) if Moment::parse(text).is_some() => Ok(Self(text.clone())),
            _ => Err(at.wrong(Self::SHAPE.wanted())),
        }
    }

    fn write(&self) -> Value {
        Value::Text(self.0.clone())
    }
}

/// Any value.
impl Item for Node {
    const SHAPE: Shape = Shape::Any;

    fn read(at: &Place<'_>) -> Result<Self, Stop> {
        match at.node() {
            Some(node) if node.value != Value::Nothing => Ok(Self { span: None, value: node.value.clone() }),
            _ => Err(at.wrong(Self::SHAPE.wanted())),
        }
    }

    fn write(&self) -> Value {
        self.value.clone()
    }
}
