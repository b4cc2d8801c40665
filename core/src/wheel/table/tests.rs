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
