//! What a decision is put together from: directions, ends of a collar, tasks.

use super::*;
use crate::decide::Task;
use crate::decide::tasks::Tasks;
use crate::demo::{LEAST, PATROL};
use crate::record::Measuring;

const LINKED: &str = include_str!("../../../../tests/files/links.toml");

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

fn adviser(bike: &Bike, end: End) -> Adviser {
    bike.study(end).unwrap().adviser().unwrap()
}

#[test]
fn sags_run_as_they_are_read_and_only_where_nothing_is_said_as_they_are_wanted() {
    let front = |measuring: Option<Direction>, read: bool| {
        let bike = demo().with(|parts| {
            let tape = Length::from_si(1.5e-3);
            parts.measuring.front = measuring.map(|direction| Measuring::new(direction, tape).unwrap());
            if !read {
                parts.readings.retain(|reading| reading.end != End::Front);
            }
        });
        adviser(&bike.unwrap(), End::Front).direction
    };
    let wanted = demo().targets(End::Front).rider_sag.unwrap().direction;
    assert_eq!(wanted, Direction::AlongFork);
    assert_eq!(front(Some(Direction::Vertical), false), Direction::Vertical, "said, though not read yet");
    assert_eq!(front(Some(Direction::Vertical), true), Direction::Vertical);
    assert_eq!(front(None, false), wanted);
}

#[test]
fn an_adjuster_that_ends_beyond_any_collar_is_open() {
    let rear = |most: &str| {
        let text = PATROL.replace(", max_preload = \"22 mm\" }\nreservoir", &format!("{most} }}\nreservoir"));
        assert!(most.is_empty() || text.contains(most));
        let adviser = adviser(&Bike::from_toml(&text).unwrap(), End::Rear);
        adviser.settable(false, &adviser.adjuster().unwrap().unwrap_or_default()).unwrap()
    };
    // From the 14 mm that are set, down to 4 mm and up to 22 mm.
    let stated = rear(", max_preload = \"22 mm\"");
    assert!(
        !stated.open && (stated.ends.0 + 10e-3).abs() < 1e-12 && (stated.ends.1 - 8e-3).abs() < 1e-12,
        "{stated:?}"
    );
    let unstated = rear("");
    assert!(unstated.open && (unstated.ends.1 - (PRELOADS[1] - 14e-3)).abs() < 1e-12, "{unstated:?}");
    // A quarter of a turn of 1.5 mm, from where the collar just touches another spring.
    assert!((stated.step - 0.375e-3).abs() < 1e-15 && (stated.origin + 14e-3).abs() < 1e-12);
}

#[test]
fn the_length_of_a_spring_is_asked_for_where_it_can_be_seen_and_once() {
    let lengths = |text: &str, end: End| {
        let adviser = adviser(&Bike::from_toml(text).unwrap(), end);
        let tasks = Tasks::of(&adviser);
        let names: Vec<Task> = tasks.all().unwrap().iter().map(|(task, _)| task.clone()).collect();
        for (place, task) in names.iter().enumerate() {
            assert!(!names[..place].contains(task), "{task:?} twice");
        }
        names.iter().filter(|task| **task == Task::SpringLength).count()
    };
    for text in [PATROL, LEAST, LINKED] {
        assert_eq!(lengths(text, End::Rear), 1, "on a shock");
    }
    assert_eq!(lengths(LINKED, End::Front), 1, "on a shock in front");
    for text in [PATROL, LEAST] {
        assert_eq!(lengths(text, End::Front), 0, "in the tube of a fork");
    }
}

#[test]
fn the_cap_of_a_fork_comes_off_where_its_preload_is_assumed() {
    let asks = |text: &str, end: End| {
        let adviser = adviser(&Bike::from_toml(text).unwrap(), end);
        Tasks::of(&adviser).all().unwrap().iter().any(|(task, _)| *task == Task::CapOff)
    };
    assert!(asks(LEAST, End::Front));
    assert!(!asks(LEAST, End::Rear) && !asks(PATROL, End::Front) && !asks(LINKED, End::Front));
}

#[test]
fn a_part_of_the_loads_goes_along_with_those_that_hold_it_and_no_others() {
    for (text, end) in [(LEAST, End::Front), (LEAST, End::Rear), (PATROL, End::Rear)] {
        let adviser = adviser(&Bike::from_toml(text).unwrap(), end);
        let solved = adviser.solved();
        // Some newtons, less than what any load is uncertain of by itself.
        for holds in [|_: &Load| true, |load: &Load| load.names().iter().any(|name| name == "rider")] {
            let part = solved.part_of_loads(-1.5, holds);
            let square = part.derivatives.iter().map(|by| by * by).sum::<f64>();
            assert!((square + part.variance - 1.0).abs() < 1e-12, "of unit variance: {part:?}");
            for (place, load) in solved.gathered.loads.iter().enumerate() {
                // Unknowns are of unit variance and apart before anything is read.
                let gradient = solved.load(place).gradient;
                let shared: f64 = gradient.iter().zip(part.derivatives.iter()).map(|(load, part)| load * part).sum();
                let adds = if holds(load) { -1.5 } else { 0.0 };
                assert!((shared - adds).abs() < 1e-9, "{end} {load}: {shared}");
            }
        }
    }
}

#[test]
fn a_cap_off_and_a_scale_leave_what_their_tools_do() {
    let adviser = adviser(&Bike::from_toml(LEAST).unwrap(), End::Front);
    let tasks = Tasks::of(&adviser);
    let coming = |wanted: Task| {
        let found = tasks.all().unwrap().iter().find(|(task, _)| *task == wanted);
        found.map(|(_, coming)| coming.clone()).unwrap()
    };
    let [cap] = &coming(Task::CapOff)[..] else { panic!() };
    let priors = &adviser.solved().evidence.priors;
    // A preload seen to a millimetre.
    assert!((cap.variance.sqrt() * priors.preload - 1e-3).abs() < 1e-12, "{cap:?}");
    let [unsprung] = &coming(Task::Unsprung)[..] else { panic!() };
    let masses = adviser.bike().masses().unwrap();
    let deviation = masses.assumed_unsprung().unwrap().front.si();
    let square = unsprung.derivatives.iter().map(|by| by * by).sum::<f64>();
    // What hangs under the springs, weighed to half a kilogram.
    let scale = 0.5 / deviation;
    assert!((unsprung.variance - (1.0 - square) - scale * scale).abs() < 1e-9, "{unsprung:?}");
}

#[test]
fn at_full_extension_the_tape_shows_nothing() {
    for (text, end) in [PATROL, LEAST, LINKED].into_iter().flat_map(|text| End::BOTH.map(|end| (text, end))) {
        let adviser = adviser(&Bike::from_toml(text).unwrap(), end);
        let tape = adviser.model.kinematics(0.0).unwrap().tape;
        // A rounding of a tape as long as a bike is high.
        assert!(tape.abs() < 1e-15, "{end}: {tape}");
    }
}

#[test]
fn an_end_that_its_springs_hold_topped_out_has_a_sag_below_zero() {
    // More preload than the bike alone weighs, and nothing read that says otherwise.
    let tight = |preload: &str| {
        let text = PATROL.replace("preload = \"14 mm\"", &format!("preload = \"{preload}\""));
        // A spring that does not go solid, on a collar that goes so far.
        let text = text.replace("free_length = \"260 mm\", solid_length = \"118 mm\", ", "");
        let bike = Bike::from_toml(&text.replace("max_preload = \"22 mm\"", "max_preload = \"90 mm\"")).unwrap();
        let bike = bike.with(|parts| parts.readings.clear()).unwrap();
        let adviser = adviser(&bike, End::Rear);
        let place = adviser.place(&Load::bike_alone()).unwrap();
        (adviser.sag_today(place).unwrap().value, adviser.solved().travel(place).unwrap().value, adviser)
    };
    for preload in ["25 mm", "40 mm"] {
        let (sag, travel, adviser) = tight(preload);
        let slope = adviser.model.kinematics(0.0).unwrap().tape_slope;
        assert!(travel < -1e-3, "{preload}: {travel}");
        // The tape goes on as it runs at full extension.
        assert!((sag / (slope * travel) - 1.0).abs() < 1e-12, "{preload}: {sag} {travel}");
    }
    let (sag, travel, _) = tight("10 mm");
    assert!(sag > 0.0 && travel > 0.0);
}
