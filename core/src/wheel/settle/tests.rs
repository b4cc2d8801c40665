//! Rests of balances whose roots are known in closed form.

use super::*;
use crate::wheel::table::Balances;

/// Two nodes, and a parabola between them: `f(z) = sign·(4·(z − ½)² − ½)` has its roots at `½ ± 1/√8`.
fn between_two_nodes(sign: f64) -> (Rest, Vec<Equilibrium>) {
    let balance = |z: f64| (sign * (4.0 * (z - 0.5).powi(2) - 0.5), sign * 8.0 * (z - 0.5));
    let (over, rate) = [0.0, 1.0].map(balance).into_iter().unzip();
    rest(&Balances { travel: &[0.0, 1.0], over, rate }, None, balance)
}

const ROOTS: [f64; 2] = [0.5 - 0.353_553_390_593_273_8, 0.5 + 0.353_553_390_593_273_8];

fn is_at(found: &Equilibrium, travel: f64, stability: Stability) {
    assert!((found.travel.si() - travel).abs() < CLOSE && found.stability == stability, "{found:?}, not {travel}");
}

/// The springs push harder than the load at both nodes, and less between them: the wheel stays at full extension, and two more
/// places are found inside the one cell.
#[test]
fn a_dip_inside_a_cell_is_seen_and_a_wheel_that_is_topped_out_does_not_fall_into_it() {
    let (rest, others) = between_two_nodes(1.0);
    assert_eq!(rest, Rest::ToppedOut(0.5));
    let [first, second] = others.as_slice() else { panic!("{others:?}") };
    is_at(first, ROOTS[0], Stability::Unstable);
    is_at(second, ROOTS[1], Stability::Stable);
}

/// The other way about the load pushes it in, and the hump holds it.
#[test]
fn a_hump_inside_a_cell_holds_the_wheel() {
    let (rest, others) = between_two_nodes(-1.0);
    let Rest::At(travel) = rest else { panic!("{rest:?}") };
    assert!((travel - ROOTS[0]).abs() < CLOSE, "{travel}");
    let [second, end] = others.as_slice() else { panic!("{others:?}") };
    is_at(second, ROOTS[1], Stability::Unstable);
    is_at(end, 1.0, Stability::Bottomed);
}
