//! The usual arrangements, built from lengths that a tape measure and a level give.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use serde::Serialize;
use serde::de::DeserializeOwned;
use wheelrate::linkage::{self, Arm, Centres, Side};
use wheelrate::units::Length;

use super::Mechanism;
use crate::errors::{raise, run};
use crate::plain::Text;
use crate::units::Given;
use crate::value::Named;

const SIDES: [Side; 4] = [Side::Above, Side::Below, Side::Ahead, Side::Behind];

/// Name of a case as text files have it.
fn name(case: impl Serialize) -> String {
    serde_json::to_value(case).ok().and_then(|name| name.as_str().map(str::to_owned)).unwrap_or_default()
}

/// The case of a name.
fn named<T: Serialize + DeserializeOwned + Copy>(
    py: Python<'_>,
    argument: &str,
    found: &str,
    known: &[T],
) -> PyResult<T> {
    serde_json::from_value(found.into()).map_err(|_| {
        let known: Vec<String> = known.iter().map(name).collect();
        raise(py, "LinkageError", (format!("{argument}: found `{found}`, wanted one of {}", known.join(", ")),))
    })
}

/// What is to be measured on each of the usual arrangements.
///
/// Returns
/// -------
/// dict of str to dict of str to tuple of str
///     Name of the arrangement; each point in the order of measuring, and the two points it is measured from.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> wr.arrangements()["rocker_on_swingarm"]["link_frame"]
/// ('swingarm_pivot', 'rocker_pivot')
#[pyfunction]
pub(crate) fn arrangements() -> Named<Named<(&'static str, &'static str)>> {
    let measures = |arrangement: linkage::Arrangement| {
        let points = arrangement.measures().iter();
        Named(points.map(|&[point, first, second]| (point.to_owned(), (first, second))).collect())
    };
    Named(linkage::Arrangement::ALL.map(|arrangement| (name(arrangement), measures(arrangement))).into())
}

#[pymethods]
impl Mechanism {
    /// A usual arrangement from centre distances, as a tape gives them, with the bike level.
    ///
    /// Parameters
    /// ----------
    /// arrangement : str
    ///     One of `arrangements`, which says what is to be measured from where.
    /// arm : pair of lengths
    ///     From the swingarm pivot, which is the origin, to the end of the arm (the axle, or the lower end of the wheel's
    ///     carrier); and how far that end stands above the pivot, below zero when it is lower.
    /// centres : dict of str to tuple
    ///     For each point the distances from the two points it is measured from, and on which side of them it lies:
    ///     ``above``, ``below``, ``ahead`` or ``behind``.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> mechanism = wr.Mechanism.from_lengths(
    /// ...     "direct_shock",
    /// ...     ("598 mm", "-165 mm"),
    /// ...     {"eye": ("253 mm", "348 mm", "above"), "shock_frame": ("344 mm", "398 mm", "above")},
    /// ... )
    /// >>> print(mechanism.points["eye"].round(0))
    /// [-250.0 -39.0] millimeter
    #[staticmethod]
    #[pyo3(signature = (arrangement, arm: "tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike]", centres: "dict[str, tuple[wheelrate.typing.QuantityLike, wheelrate.typing.QuantityLike, str]]"))]
    fn from_lengths(
        py: Python<'_>,
        arrangement: Text,
        arm: (Given<'_, Length>, Given<'_, Length>),
        centres: &Bound<'_, PyDict>,
    ) -> PyResult<Self> {
        let arrangement = named(py, "arrangement", &arrangement, &linkage::Arrangement::ALL)?;
        let arm = Arm { length: arm.0.read("arm[0]")?, rise: arm.1.read("arm[1]")? };
        let wanted: Vec<&str> = arrangement.measures().iter().map(|measure| measure[0]).collect();
        for point in centres.keys() {
            let Text(point) = point.extract()?;
            if !wanted.contains(&point.as_str()) {
                let message = format!("centres: found `{point}`, wanted {}", wanted.join(", "));
                return Err(raise(py, "LinkageError", (message,)));
            }
        }
        let measure = |point: &&str| {
            let argument = format!("centres[{point:?}]");
            let given = centres.get_item(point)?.ok_or_else(|| {
                raise(py, "LinkageError", (format!("{argument}: missing; wanted two distances and a side"),))
            })?;
            let (first, second, side): (Given<'_, Length>, Given<'_, Length>, Text) = given.extract()?;
            let side = named(py, &argument, &side, &SIDES)?;
            Ok(Centres {
                first: first.read(&format!("{argument}[0]"))?,
                second: second.read(&format!("{argument}[1]"))?,
                side,
            })
        };
        let centres: Vec<Centres> = wanted.iter().map(measure).collect::<PyResult<_>>()?;
        run(py, || arrangement.mechanism(arm, &centres)).map(Self)
    }
}
