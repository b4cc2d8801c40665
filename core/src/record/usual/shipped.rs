//! The shipped rows as data: row for row those of `data/usual_values.toml`, to which a test holds them.

use super::Usual;
use crate::units::{Quantity, Uncertain};

/// The numbers of a row: values, or values with their standard uncertainties, in the units of [`row`].
struct Row {
    kind: &'static str,
    rake: [f64; 2],
    along_fork: f64,
    bike_on_front: [f64; 2],
    rider_on_front: [f64; 2],
    bike_weight: f64,
    unsprung_front: [f64; 2],
    unsprung_rear: [f64; 2],
    preload_front: [f64; 2],
    preload_rear: [f64; 2],
    progression: [f64; 2],
    bend: f64,
    ratio: f64,
    oil_level: f64,
    sealing_diameter: f64,
    bore: f64,
    fork_air: f64,
    gas_push: [f64; 2],
    step_front: f64,
    step_rear: f64,
}

const TRAIL: Row = Row {
    kind: "trail",
    rake: [26.5, 1.2],
    along_fork: 80.0,
    bike_on_front: [48.0, 1.5],
    rider_on_front: [32.0, 5.0],
    bike_weight: 2.0,
    unsprung_front: [11.3, 1.3],
    unsprung_rear: [14.0, 1.5],
    preload_front: [12.0, 12.0],
    preload_rear: [13.0, 7.0],
    progression: [30.0, 18.0],
    bend: 6.0,
    ratio: 2.0,
    oil_level: 120.0,
    sealing_diameter: 47.0,
    bore: 43.0,
    fork_air: 30.0,
    gas_push: [150.0, 60.0],
    step_front: 0.2,
    step_rear: 2.0,
};

const ROWS: [Row; 5] = [
    Row { kind: "motocross", rider_on_front: [31.0, 5.0], ..TRAIL },
    TRAIL,
    Row {
        kind: "road",
        rake: [24.5, 1.2],
        along_fork: 80.0,
        bike_on_front: [49.5, 2.0],
        rider_on_front: [38.0, 6.0],
        unsprung_front: [8.0, 1.2],
        unsprung_rear: [9.5, 1.4],
        preload_front: [14.0, 12.0],
        progression: [12.0, 12.0],
        oil_level: 130.0,
        sealing_diameter: 43.0,
        bore: 40.0,
        ..TRAIL
    },
    Row {
        kind: "track",
        rake: [23.5, 1.0],
        bike_on_front: [51.5, 2.0],
        rider_on_front: [45.0, 6.0],
        unsprung_front: [8.0, 1.2],
        unsprung_rear: [9.5, 1.4],
        preload_front: [14.0, 12.0],
        progression: [12.0, 12.0],
        oil_level: 130.0,
        sealing_diameter: 43.0,
        bore: 40.0,
        ..TRAIL
    },
    Row {
        kind: "any",
        rake: [25.5, 1.8],
        bike_on_front: [48.5, 2.0],
        rider_on_front: [37.0, 8.0],
        unsprung_front: [10.0, 2.0],
        unsprung_rear: [12.0, 2.2],
        progression: [22.0, 20.0],
        ..TRAIL
    },
];

pub(super) fn table() -> Vec<Usual> {
    ROWS.iter().map(row).collect()
}

/// A number of the table, whose units are those of its kind.
fn number<Q: Quantity>(number: f64, unit: &str) -> Q {
    Q::of(number, unit).unwrap_or_else(|_| Q::from_si(number))
}

fn known<Q: Quantity>([value, uncertainty]: [f64; 2], unit: &str) -> Uncertain<Q> {
    Uncertain { value: number(value, unit), standard_uncertainty: number(uncertainty, unit) }
}

fn row(row: &Row) -> Usual {
    Usual {
        kind: row.kind.to_owned(),
        rake: known(row.rake, "deg"),
        along_fork: number(row.along_fork, "%"),
        bike_on_front: known(row.bike_on_front, "%"),
        rider_on_front: known(row.rider_on_front, "%"),
        bike_weight: number(row.bike_weight, "%"),
        unsprung_front: known(row.unsprung_front, "%"),
        unsprung_rear: known(row.unsprung_rear, "%"),
        preload_front: known(row.preload_front, "mm"),
        preload_rear: known(row.preload_rear, "mm"),
        progression: known(row.progression, "%"),
        bend: number(row.bend, "%"),
        ratio: number(row.ratio, "%"),
        oil_level: number(row.oil_level, "mm"),
        sealing_diameter: number(row.sealing_diameter, "mm"),
        bore: number(row.bore, "mm"),
        fork_air: number(row.fork_air, "%"),
        gas_push: known(row.gas_push, "N"),
        step_front: number(row.step_front, "N/mm"),
        step_rear: number(row.step_rear, "N/mm"),
    }
}
