//! How to take a reading.

use pyo3::prelude::*;
use wheelrate::record::Settled;
use wheelrate::report::taking;

use crate::bike::Bike;
use crate::plain::Text;
use crate::record::{End, load};

/// How to take a reading, alone: where to put the tape, which way to push, what to hold.
///
/// Parameters
/// ----------
/// bike : Bike
///     Along what its ends are read.
/// end : {"front", "rear"}
///     Which end.
/// under : str
///     What stands on the wheels: ``"none"``, ``"bike"``, ``"bike + rider"``.
/// low : bool
///     After pushing down, or after lifting.
/// sag : bool, optional
///     The sag itself is read, on a zeroed gauge; a distance to a mark unless so.
///
/// Returns
/// -------
/// tuple of str
///     What to do before the first reading, where the tape goes, and how to bring the end to rest.
#[pyfunction]
#[pyo3(signature = (bike, end: "wheelrate.typing.End", under: "str", low: "bool", *, sag: "bool" = false) -> "tuple[str, str, str]")]
pub(crate) fn how_to_read(
    bike: &Bike,
    end: End,
    under: Text,
    low: bool,
    sag: bool,
    py: Python<'_>,
) -> PyResult<(String, String, String)> {
    let under = load(py, &under)?;
    let direction = bike.0.assumed().measuring(end.0).ok().map(|measuring| measuring.direction);
    let settled = if low { Settled::Low } else { Settled::High };
    Ok((
        taking::BEFORE.to_owned(),
        taking::where_to_read(end.0, direction, sag).to_owned(),
        taking::how_to_settle(end.0, &under, Some(settled)),
    ))
}
