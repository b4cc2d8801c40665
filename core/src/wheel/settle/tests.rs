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

/// The rests of a balance between some nodes.
fn rests(at: &[f64], balance: impl Fn(f64) -> (f64, f64)) -> (Rest, Vec<Equilibrium>) {
    let (over, rate) = at.iter().map(|&z| balance(z)).unzip();
    rest(&Balances { travel: at, over, rate }, None, balance)
}

/// A parabola with these two roots.
fn parabola(sign: f64, [first, second]: [f64; 2]) -> impl Fn(f64) -> (f64, f64) + Copy {
    move |z: f64| (sign * 8.0 * (z - first) * (z - second), sign * 8.0 * (2.0 * z - first - second))
}

#[test]
fn a_hump_away_from_the_middle_of_its_cell_is_seen() {
    let roots = [0.05, 0.55];
    let (rest, others) = rests(&[0.0, 1.0], parabola(-1.0, roots));
    assert!(matches!(rest, Rest::At(travel) if (travel - roots[0]).abs() < CLOSE), "{rest:?}");
    is_at(&others[0], roots[1], Stability::Unstable);
    let (rest, others) = rests(&[0.0, 1.0], parabola(1.0, roots));
    assert!(matches!(rest, Rest::ToppedOut(_)), "{rest:?}");
    is_at(&others[0], roots[0], Stability::Unstable);
    is_at(&others[1], roots[1], Stability::Stable);
}

/// A straight line through zero, either way, at a node and between two.
#[test]
fn a_straight_line_has_one_root_wherever_the_nodes_are() {
    for (at, root) in [(0.5, 0.5), (1.0, 1.0), (0.0, 0.0), (0.3, 0.3)] {
        for nodes in [&[0.0, 1.0][..], &[0.0, 0.5, 1.0], &[0.0, 0.3, 1.0]] {
            let (rest, others) = rests(nodes, |z| (z - at, 1.0));
            assert!(matches!(rest, Rest::At(travel) if (travel - root).abs() < CLOSE), "{at} {nodes:?}: {rest:?}");
            assert_eq!(others, [], "{at} {nodes:?}");
        }
    }
    for at in [0.5, 0.3] {
        for nodes in [&[0.0, 1.0][..], &[0.0, 0.5, 1.0], &[0.0, 0.3, 1.0]] {
            let (rest, others) = rests(nodes, |z| (at - z, -1.0));
            assert_eq!(rest, Rest::ToppedOut(at));
            let [unstable, end] = others.as_slice() else { panic!("{at} {nodes:?}: {others:?}") };
            is_at(unstable, at, Stability::Unstable);
            is_at(end, 1.0, Stability::Bottomed);
        }
    }
}

/// A load that is just carried at full extension: held there where the force rises from it, let go where it falls.
#[test]
fn a_load_that_full_extension_just_carries_rests_there_if_the_force_rises() {
    for (balance, rests_there) in
        [((|z: f64| (z, 1.0)) as fn(f64) -> (f64, f64), true), (|z| (z * z, 2.0 * z), true), (|z| (-z, -1.0), false)]
    {
        let (rest, others) = rests(&[0.0, 1.0], balance);
        let expected = if rests_there { Rest::At(0.0) } else { Rest::Bottomed(1.0) };
        assert_eq!(rest, expected);
        let at_zero = others.iter().filter(|one| one.travel.si() == 0.0 && one.stability == Stability::Unstable);
        assert_eq!(at_zero.count(), usize::from(!rests_there), "{others:?}");
    }
}

/// Both roots of a parabola one of which lies on a node: at either end of a cell, at full extension, in a dip and in a hump.
#[test]
fn a_root_on_a_node_hides_no_other_in_the_same_cell() {
    for (nodes, roots) in
        [(&[0.0, 1.0][..], [0.0, 0.3]), (&[0.0, 0.25, 1.0], [0.25, 0.75]), (&[0.0, 0.75, 1.0], [0.25, 0.75])]
    {
        for sign in [1.0, -1.0] {
            let (rest, others) = rests(nodes, parabola(sign, roots));
            let mut found: Vec<(f64, Stability)> = others.iter().map(|one| (one.travel.si(), one.stability)).collect();
            if let Rest::At(travel) = rest {
                found.push((travel, Stability::Stable));
            }
            found.retain(|one| one.1 != Stability::Bottomed);
            found.sort_by(|one, other| one.0.total_cmp(&other.0));
            let first = if sign > 0.0 { Stability::Unstable } else { Stability::Stable };
            let second = if sign > 0.0 { Stability::Stable } else { Stability::Unstable };
            assert_eq!(found.len(), 2, "{nodes:?} {sign}: {rest:?} {others:?}");
            for ((travel, stability), (root, expected)) in found.into_iter().zip(roots.into_iter().zip([first, second]))
            {
                assert!((travel - root).abs() < CLOSE && stability == expected, "{nodes:?} {sign}: {travel} {root}");
            }
        }
    }
}
