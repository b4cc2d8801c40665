//! What the faults of a file hide: the file as it was meant, or without the end at fault.
//!
//! A part is not built from a faulty table, so nothing is known of what it would do to the rest. A key that is near one of its table
//! was meant for it: read as that, the file shows what else is wrong. Where all faults are of one end, the other is looked at
//! without it. Whatever else is at fault is mended first.

use crate::bike::Bike;
use crate::error::MOST_FAULTS;
use crate::file::partly::without_end_at_fault;
use crate::keys::{Faults, Node, Unknown, read};
use crate::record::End;
use crate::value::{Entry, Value};

/// The bike behind some faults, with the ends that are at none, and its tree in `node`; faults that were hidden are put among the
/// others.
pub(super) fn bike(node: &mut Node, faults: &Faults) -> Option<(Bike, Vec<End>)> {
    // No more than these would be shown.
    if faults.count() > MOST_FAULTS {
        return None;
    }
    let unknown = faults.unknown_keys();
    let mut places = faults.addresses();
    if !unknown.is_empty() {
        if !unknown.iter().all(|key| renamed(node, key)) {
            return None;
        }
        let second = Faults::new();
        match read(node, &second) {
            Ok(bike) if second.is_empty() => return Some((bike, End::BOTH.to_vec())),
            _ => places = second.addresses(),
        }
        faults.join(second);
    }
    let left_out = without_end_at_fault(node, &places)?;
    let third = Faults::new();
    let bike: Bike = read(node, &third).ok().filter(|_| third.is_empty())?;
    Some((bike, End::BOTH.into_iter().filter(|end| *end != left_out).collect()))
}

/// Gives a key the name that it was meant to have; false where nothing is near, or what is near is there.
fn renamed(root: &mut Node, unknown: &Unknown) -> bool {
    let Some(meant) = &unknown.meant else { return false };
    let Some(Value::Table(entries)) =
        unknown.table.steps().iter().try_fold(&mut *root, Node::at_mut).map(|node| &mut node.value)
    else {
        return false;
    };
    if entries.iter().any(|entry| entry.key == *meant) {
        return false;
    }
    let Some(Entry { key, .. }) = entries.iter_mut().find(|entry| entry.key == unknown.key) else { return false };
    key.clone_from(meant);
    true
}
