//! What a table keeps, against what it is made of.

use proptest::prelude::*;

use super::*;
use crate::bike::Bike;
use crate::demo::PATROL;
use crate::record::End;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// No cell is passed over in which the balance turns its side or its slope, and none before the first node that carries.
    #[test]
    fn the_ranges_hide_nothing(
        up in -2000.0..20_000.0_f64, forward in -3000.0..3000.0_f64, pitch in -0.5..0.5_f64, touching in 0..200_usize,
        touches in any::<bool>(),
    ) {
        let bike = Bike::from_toml(PATROL).unwrap();
        for end in End::BOTH {
            let table = EndTable::new(bike.end(end).unwrap());
            let mut carried = Carried { up, forward, sin: pitch.sin(), cos: pitch.cos() };
            if touches {
                // As near to a node as rounding lets it.
                let (fixed, per_slope) = Carried { up: 0.0, ..carried }.parts();
                let (force, slope) = (table.force[touching], table.slope[touching]);
                carried.up = (force - fixed - per_slope * slope) / (carried.cos - slope * carried.sin);
            }
            let nodes = table.carrying(carried);
            let loud: Vec<usize> = nodes.loud().collect();
            let all: Vec<(f64, f64)> = (0..table.travel.len()).map(|node| nodes.at(node)).collect();
            for (cell, pair) in all.windows(2).enumerate() {
                let [from, to] = [pair[0], pair[1]];
                let event = (from.0 < 0.0) != (to.0 < 0.0) || (from.1 > 0.0) != (to.1 > 0.0);
                prop_assert!(!event || loud.contains(&cell), "{end} {cell} {from:?} {to:?}");
            }
            let first = if all[0].0 > 0.0 { Some(0) } else { (1..all.len()).find(|&node| all[node].0 >= 0.0) };
            prop_assert_eq!(table.first_carrying(carried), first);
        }
    }
}

/// A cell with a jump of the rate inside it is no cubic, and a hump at the jump would not be seen.
#[test]
fn every_jump_of_the_rate_is_a_node() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let mut jumps = 0;
    for end in End::BOTH {
        let wheel = bike.end(end).unwrap();
        let table = EndTable::new(wheel);
        assert!(table.travel.is_sorted() && table.travel.first() == Some(&0.0) && table.full() == wheel.full());
        for jump in wheel.jumps() {
            assert!(table.travel.contains(&jump), "{end}: {jump}");
            jumps += 1;
        }
    }
    assert!(jumps > 0, "no spring of the shipped bike has a kink");
}

/// Nodes at kinks shift the cells from where even ones would be.
#[test]
fn every_travel_is_found_in_its_cell() {
    let bike = Bike::from_toml(PATROL).unwrap();
    for end in End::BOTH {
        let table = EndTable::new(bike.end(end).unwrap());
        for (cell, pair) in table.travel.windows(2).enumerate() {
            assert_eq!(table.cell_of(pair[0]), cell);
            assert_eq!(table.cell_of(f64::midpoint(pair[0], pair[1])), cell);
        }
        assert_eq!(table.cell_of(table.full()), table.travel.len() - 2, "the last cell goes on");
        assert_eq!([table.cell_of(-1.0), table.cell_of(10.0)], [0, table.travel.len() - 2]);
    }
}

#[test]
fn between_nodes_a_table_is_what_the_kernels_give() {
    let bike = Bike::from_toml(PATROL).unwrap();
    for end in End::BOTH {
        let wheel = bike.end(end).unwrap();
        let table = EndTable::new(wheel);
        for pair in table.travel.windows(2).step_by(7) {
            let travel = 0.7 * pair[0] + 0.3 * pair[1];
            let (found, exact) = (table.at(travel).unwrap(), Exact::of(wheel, travel).sample);
            // Some micronewtons, as the head says, and for the rate that over a fraction of a cell.
            assert!((found.force - exact.force).abs() < 1e-4, "{end} {travel}: {found:?} {exact:?}");
            assert!(
                (found.rate - exact.rate).abs() < 1e-5 * exact.rate.abs() + 0.5,
                "{end} {travel}: {found:?} {exact:?}"
            );
            let (a, b) = (found.axle.unwrap(), exact.axle.unwrap());
            // A ten-thousandth of a cell.
            for (a, b) in [(a.at[0], b.at[0]), (a.at[1], b.at[1])] {
                assert!((a - b).abs() < 1e-7, "{end} {travel}: {a} {b}");
            }
            assert!((a.slope - b.slope).abs() < 1e-5 && (a.curvature - b.curvature).abs() < 1e-2, "{a:?} {b:?}");
        }
    }
}

#[test]
fn a_sample_moves_along_its_slopes() {
    let bike = Bike::from_toml(PATROL).unwrap();
    for end in End::BOTH {
        let wheel = bike.end(end).unwrap();
        let (travel, by) = (0.08, 1e-4);
        let (moved, exact) = (Exact::of(wheel, travel).sample.moved(by), Exact::of(wheel, travel + by).sample);
        // What is left is of second order: half a slope of the rate, under 1e6 N/m², times the square of a tenth of a millimetre.
        assert!((moved.force - exact.force).abs() < 5e-3, "{moved:?} {exact:?}");
        assert_eq!(moved.travel, travel + by);
        let (a, b) = (moved.axle.unwrap(), exact.axle.unwrap());
        // Curvature of the path under 10/m, and its slope under 100/m².
        assert!((a.at[0] - b.at[0]).abs() < 1e-7 && (a.at[1] - b.at[1]).abs() < 1e-9, "{a:?} {b:?}");
        assert!((a.slope - b.slope).abs() < 1e-6, "{a:?} {b:?}");
    }
}

/// The first node that carries, at exact edges too: what full extension just carries is carried from the next node on.
#[test]
fn the_first_node_that_carries_is_the_first() {
    let bike = Bike::from_toml(PATROL).unwrap();
    for end in End::BOTH {
        let table = EndTable::new(bike.end(end).unwrap());
        let last = table.nodes.len() - 1;
        let upright = |up: f64| Carried { up, forward: 0.0, sin: 0.0, cos: 1.0 };
        let [start, before, most] = [0, last - 1, last].map(|node| table.force[node]);
        assert!(table.force.is_sorted(), "{end}: both springs of this bike stiffen");
        for (up, expected) in [
            (start - 1.0, Some(0)),
            (start, Some(1)),
            (table.force[7], Some(7)),
            (table.force[8], Some(8)),
            (table.force[9], Some(9)),
            (f64::midpoint(before, most), Some(last)),
            (most, Some(last)),
            (most + 1.0, None),
        ] {
            let carried = upright(up);
            assert_eq!(table.first_carrying(carried), expected, "{end} {up}");
            let over = |node: &Sample| (node.force - up, node.rate);
            assert_eq!(table.first_over(over), expected, "{end} {up}");
        }
    }
}

/// A jump stands at the travel at which the stroke comes to a kink: no kink inside the travel is left out.
#[test]
fn jumps_are_where_the_stroke_comes_to_its_kinks() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let mut found = 0;
    for end in End::BOTH {
        let wheel = bike.end(end).unwrap();
        let full = wheel.stroke_at(wheel.full_travel()).stroke;
        let mut kinks: Vec<f64> = wheel.stroke_kinks().iter().map(|kink| kink.si()).collect();
        kinks.retain(|kink| *kink > 0.0 && *kink < full.si());
        kinks.sort_by(f64::total_cmp);
        let jumps = wheel.jumps();
        assert_eq!(jumps.len(), kinks.len(), "{end}: {jumps:?} {kinks:?}");
        found += jumps.len();
        for (jump, kink) in jumps.into_iter().zip(kinks) {
            let stroke = wheel.stroke_at(Length::from_si(jump)).stroke.si();
            // A root to the last bits of the travel.
            assert!((stroke - kink).abs() < 1e-12, "{end}: {stroke} {kink}");
        }
    }
    assert!(found > 0, "no spring of the shipped bike has a kink");
}
