//! A typed change at an address: what a key path means on a built bike.
//!
//! An edit goes down the descriptions of the keys ([`keys`](crate::keys)) to the value it names, and builds anew only the
//! parts on the way: a new spring rate makes a new spring, shock and rear end, around the linkage that was there. Several edits
//! are one change: each part is built once, with everything that is set in it. What the result is refused for is a
//! [`FileError`] whose faults have addresses and no lines.

use crate::bike::Bike;
use crate::error::{Address, FileError, Result, Step};
use crate::keys::{Faults, Item, Node, Part, Place, Set, Value, edited_as, in_rows};

/// A change at an address: a value to be put there, or the removal of what is there.
///
/// ```
/// use wheelrate::Bike;
/// use wheelrate::edit::{Edit, value_at, with_edits};
/// let bike = Bike::from_toml(wheelrate::demo::PATROL)?;
/// let edits = [
///     Edit::set("rear.shock.spring.rate", "56 N/mm")?,
///     Edit::set("rear.linkage.points.link_frame", vec!["-66 mm", "-93 mm"])?,
///     Edit::remove("rear.shock.bump_stop")?,
/// ];
/// let changed = with_edits(&bike, &edits)?;
/// assert_eq!(value_at(&changed, &edits[0].address), edits[0].value);
/// assert_eq!(value_at(&changed, &edits[2].address), None);
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Edit {
    /// Where.
    pub address: Address,
    /// What is put there; `None` removes what is there.
    pub value: Option<Value>,
}

impl Edit {
    /// Puts a value at an address.
    ///
    /// # Errors
    /// [`FileError`] for what is no address.
    pub fn set(address: &str, value: impl Into<Value>) -> Result<Self> {
        Ok(Self { address: address.parse::<Address>()?, value: Some(value.into()) })
    }

    /// Removes what is at an address.
    ///
    /// # Errors
    /// [`FileError`] for what is no address.
    pub fn remove(address: &str) -> Result<Self> {
        Ok(Self { address: address.parse::<Address>()?, value: None })
    }
}

/// The value at an address, as the bike file has it; `None` where there is none.
#[must_use]
pub fn value_at(bike: &Bike, address: &Address) -> Option<Value> {
    Item::get(bike, in_rows(address).steps())
}

/// The bike with all these edits made, the later ones on top of the earlier.
///
/// # Errors
/// [`FileError`] for an address that leads nowhere, a value that is not taken, and whatever the edits together do to the
/// bike.
pub fn with_edits(bike: &Bike, edits: &[Edit]) -> Result<Bike> {
    Ok(edited(bike, edits, |keys| keys)?)
}

/// The bike with edits made, and something else done to its keys at once.
pub(crate) fn edited(
    bike: &Bike,
    edits: &[Edit],
    also: impl FnOnce(<Bike as Part>::Keys) -> <Bike as Part>::Keys,
) -> core::result::Result<Bike, FileError> {
    let addresses: Vec<Address> = edits.iter().map(|edit| in_rows(&edit.address)).collect();
    let values = addresses.iter().zip(edits).map(|(address, edit)| (address.steps(), edit.value.clone()));
    part_edited(bike, also(bike.keys()), values)
}

/// One part of a bike made anew of its keys with values put in them, each at its steps as seen from the part; `None` removes what
/// is there.
pub(crate) fn part_edited<'a, P: Part>(
    part: &P,
    keys: P::Keys,
    values: impl Iterator<Item = (&'a [Step], Option<Value>)>,
) -> core::result::Result<P, FileError> {
    let nodes: Vec<_> = values.map(|(steps, value)| (steps, value.map(Node::from))).collect();
    let sets: Vec<_> = nodes.iter().map(|(steps, node)| Set { steps, value: node.as_ref() }).collect();
    let faults = Faults::new();
    let made = edited_as(part, keys, &sets, &Place::root(None, &faults));
    made.map_err(|_| FileError { faults: faults.finish(None) })
}

#[cfg(test)]
mod tests;
