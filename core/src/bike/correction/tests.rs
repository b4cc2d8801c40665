//! Levers moved and found again, out of reach and together.

use super::*;
use crate::bike::Adjustment;
use crate::demo;

fn patrol() -> Bike {
    Bike::from_toml(demo::PATROL).unwrap()
}

fn mm(value: f64) -> Length {
    Length::from_si(value / 1000.0)
}

fn room() -> Room {
    let both = |most: f64| Some([mm(-most), mm(most)]);
    Room { fork_raised: both(20.0), shock_longer: both(6.0), ..Room::default() }
}

#[test]
fn what_a_known_change_gave_is_found_again() {
    let bike = patrol();
    let (whole, load) = (bike.whole(), &bike.parts().rider_load);
    let change = Adjustment { fork_raised: Some(mm(7.0)), shock_longer: Some(mm(2.0)), ..Adjustment::default() };
    let stance = whole.effect_of(&change, load).unwrap().after.stance;
    let wish = GeometryWish { trail: Some(stance.trail), rake: Some(stance.rake) };
    let found = whole.corrections(&wish, &room(), load).unwrap();
    assert!(found.len() == 1 && found[0].is_reachable, "{found:?}");
    // The wishes are met to a micrometre, and trail moves by half of what a lever does; rake tells the two apart weakly.
    for (one, by) in found[0].moves.iter().zip([7.0, 2.0]) {
        assert!((one.by.unwrap() - mm(by)).si().abs() < 1e-5, "{one:?}");
    }
}

#[test]
fn every_lever_that_reaches_gives_the_trail() {
    let bike = patrol();
    let (whole, load) = (bike.whole(), &bike.parts().rider_load);
    let trail = whole.settle(load).unwrap().stance.trail - mm(1.5);
    let wish = GeometryWish { trail: Some(trail), rake: None };
    let all = Room { fork_raised: room().fork_raised, shock_longer: room().shock_longer, ..whole.room().unwrap() };
    let found = whole.corrections(&wish, &all, load).unwrap();
    assert!(found.iter().filter(|one| one.is_reachable).count() >= 2, "{found:?}");
    for one in found.iter().filter(|one| one.is_reachable) {
        assert!((one.effect.after.stance.trail - trail).si().abs() < REACHED, "{one:?}");
    }
    let order: Vec<bool> = found.iter().map(|one| one.is_reachable).collect();
    assert!(order.is_sorted_by(|one, other| one >= other), "those that reach it first");
}

#[test]
fn what_is_out_of_reach_says_how_far_it_would_have_to_go() {
    let bike = patrol();
    let (whole, load) = (bike.whole(), &bike.parts().rider_load);
    let before = whole.settle(load).unwrap().stance.trail;
    let wish = GeometryWish { trail: Some(before - mm(3.0)), rake: None };
    let short =
        Room { fork_raised: Some([mm(0.0), mm(8.0)]), shock_longer: Some([mm(0.0), mm(2.0)]), ..Room::default() };
    let found = whole.corrections(&wish, &short, load).unwrap();
    let [together, others @ ..] = &found[..] else { panic!() };
    assert!(together.is_reachable && together.moves.len() == 2, "both together do: {found:?}");
    assert!(others.len() == 2 && others.iter().all(|one| !one.is_reachable));
    for one in others {
        let [one_move] = &one.moves[..] else { panic!() };
        assert!(one_move.by.unwrap() > one_move.set, "{one:?}");
        assert!(one.effect.after.stance.trail < before && one.effect.after.stance.trail > wish.trail.unwrap());
    }
    let none = Room { fork_raised: Some([mm(0.0), mm(0.0)]), ..Room::default() };
    let stuck = whole.corrections(&wish, &none, load).unwrap();
    assert!(!stuck[0].is_reachable && stuck[0].effect.trail().si().abs() < 1e-8, "{stuck:?}");
}

#[test]
fn refuses_what_is_no_question() {
    let bike = patrol();
    let (whole, load) = (bike.whole(), &bike.parts().rider_load);
    let say = |wish: GeometryWish, room: Room| whole.corrections(&wish, &room, load).unwrap_err().to_string();
    assert!(say(GeometryWish::default(), room()).contains("a trail, a rake or both"));
    let both = GeometryWish { trail: Some(mm(100.0)), rake: Some(Angle::from_si(0.45)) };
    let one = Room { fork_raised: room().fork_raised, ..Room::default() };
    assert!(say(both, one).contains("as many levers as wishes"));
    let crossed = Room { fork_raised: Some([mm(5.0), mm(9.0)]), ..Room::default() };
    assert!(say(both, crossed).contains("fork_raised[0]"));
    assert!(say(GeometryWish { trail: Some(mm(900.0)), rake: None }, room()).contains("trail"));
}

#[test]
fn a_room_that_ends_where_the_wish_lies_reaches_it() {
    let bike = patrol();
    let (whole, load) = (bike.whole(), &bike.parts().rider_load);
    for by in [7.0, -7.0] {
        let change = Adjustment { fork_raised: Some(mm(by)), ..Adjustment::default() };
        let trail = whole.effect_of(&change, load).unwrap().after.stance.trail;
        let wish = GeometryWish { trail: Some(trail), rake: None };
        let reaches = |far: f64| {
            let ends = if by > 0.0 { [mm(-20.0), mm(far)] } else { [mm(-far), mm(20.0)] };
            let room = Room { fork_raised: Some(ends), ..Room::default() };
            whole.corrections(&wish, &room, load).unwrap()[0].is_reachable
        };
        // A move is found to a hundredth of the tenth of a micrometre that counts as rounding.
        assert!(reaches(7.0), "{by}");
        assert!(!reaches(6.999), "{by}");
    }
}

#[test]
fn what_a_correction_uses_is_its_greatest_share_of_a_room() {
    let bike = patrol();
    let load = &bike.parts().rider_load;
    let wish = GeometryWish { trail: Some(mm(100.0)), rake: None };
    let room = Room {
        fork_raised: Some([mm(-10.0), mm(20.0)]),
        shock_longer: Some([mm(-4.0), mm(2.0)]),
        rear_preload: Some([mm(0.0), mm(0.0)]),
        ..Room::default()
    };
    let search = Search::new(&bike.whole(), &wish, &room, load).unwrap();
    let one = search.with(&[Lever::ForkRaised]).unwrap();
    let used = |moves: &[(Lever, Option<f64>)]| {
        let moves = moves.iter().map(|&(lever, by)| Move { lever, by: by.map(mm), set: mm(0.0) });
        search.used(&Correction { moves: moves.collect(), ..one.clone() })
    };
    let near = |found: f64, share: f64| assert!((found - share).abs() < 1e-12, "{found} {share}");
    near(used(&[(Lever::ForkRaised, Some(-5.0))]), 0.5);
    near(used(&[(Lever::ForkRaised, Some(5.0))]), 0.25);
    near(used(&[(Lever::ForkRaised, Some(5.0)), (Lever::ShockLonger, Some(-3.0))]), 0.75);
    near(used(&[(Lever::ShockLonger, Some(3.0)), (Lever::ForkRaised, Some(-5.0))]), 1.5);
    // A lever that needs no move of no room takes nothing of it.
    near(used(&[(Lever::RearPreload, Some(0.0)), (Lever::ForkRaised, Some(5.0))]), 0.25);
    assert!(used(&[(Lever::RearPreload, Some(1.0))]).is_infinite());
    assert!(used(&[(Lever::ForkRaised, None)]).is_infinite());
}

#[test]
fn a_far_wish_is_reached_by_steps_that_are_held() {
    // More trail with less rake: the first whole step would take the bike where it does not stand.
    let bike = Bike::from_toml(include_str!("../../../../tests/files/links.toml")).unwrap();
    let (whole, load) = (bike.whole(), &bike.parts().rider_load);
    let before = whole.settle(load).unwrap().stance;
    let (trail, rake) = (before.trail + mm(15.0), before.rake - Angle::from_si(3_f64.to_radians()));
    let wide = Some([mm(-100.0), mm(100.0)]);
    let room = Room { shock_longer: wide, front_preload: wide, ..Room::default() };
    let wish = GeometryWish { trail: Some(trail), rake: Some(rake) };
    let found = whole.corrections(&wish, &room, load).unwrap();
    assert!(found.len() == 1 && found[0].is_reachable, "{found:?}");
    let after = &found[0].effect.after.stance;
    assert!((after.trail - trail).si().abs() < REACHED && (after.rake - rake).si().abs() < REACHED, "{after:?}");
    // So far that one round cannot do it.
    assert!(found[0].moves[0].set.si() > LONGEST_STEP, "{found:?}");
}

#[test]
fn a_lever_that_cannot_be_solved_for_is_put_where_the_wishes_are_least_missed() {
    let bike = patrol();
    let (whole, load) = (bike.whole(), &bike.parts().rider_load);
    let before = whole.settle(load).unwrap().stance;
    let place = |trail: Length, rake: Angle| {
        let wish = GeometryWish { trail: Some(trail), rake: Some(rake) };
        let room = room();
        let search = Search::new(&whole, &wish, &room, load).unwrap();
        search.nearer(Lever::ForkRaised, [-5e-3, 8e-3])
    };
    // Tubes raised take trail and rake away.
    let [less, more] = [8.0, -5.0].map(|by| {
        let change = Adjustment { fork_raised: Some(mm(by)), ..Adjustment::default() };
        whole.effect_of(&change, load).unwrap().after.stance
    });
    assert!(less.trail < before.trail && more.trail > before.trail);
    assert_eq!(place(less.trail, less.rake), 8e-3);
    assert_eq!(place(more.trail, more.rake), -5e-3);
    assert_eq!(place(before.trail, before.rake), 0.0);
    // Far beyond either end, and just beside where it is now.
    assert_eq!(place(before.trail + mm(60.0), before.rake), -5e-3);
    assert_eq!(place(before.trail - mm(60.0), before.rake), 8e-3);
    assert_eq!(place(before.trail + mm(0.1), before.rake), 0.0);
}
