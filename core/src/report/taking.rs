//! How to take a reading, alone: which way to push, what to hold, where to put the tape. Common practice, no source.

use crate::record::{Direction, End, Load, Settled};

/// What to do before the first reading.
pub const BEFORE: &str = "Same floor, same tyre pressure, fuel as weighed; suspension warmed by a few pushes. Stick a mark \
                          on the bike and always read to the same edge of it, from the centre of the axle.";

/// Where the tape goes at an end, in one sentence; or the gauge that shows the sag itself.
#[must_use]
pub fn where_to_read(end: End, direction: Option<Direction>, sag: bool) -> &'static str {
    if sag {
        return match end {
            End::Front => {
                "Sag itself: gauge or tape zeroed with the front wheel off the ground, or that distance subtracted."
            }
            End::Rear => {
                "Sag itself: gauge or tape zeroed with the rear wheel off the ground, or that distance subtracted."
            }
        };
    }
    match (end, direction) {
        (_, Some(Direction::ToMark { .. })) => "Tape from the centre of the axle straight to the mark on the frame.",
        (End::Front, Some(Direction::AlongFork)) => {
            "Tape along the fork, beside a leg: from the centre of the axle to the lower edge of the lower clamp."
        }
        (End::Front, _) => {
            "Tape plumb: from the centre of the front axle straight up to a mark on the bars or the plate."
        }
        (End::Rear, _) => {
            "Tape plumb: from the centre of the rear axle straight up to a mark on the fender or side panel."
        }
    }
}

/// How to bring an end to rest for a reading.
#[must_use]
pub fn how_to_settle(end: End, load: &Load, settled: Option<Settled>) -> String {
    let (grip, push) = match end {
        End::Front => ("the bars, front brake off", "the bars"),
        End::Rear => ("the grab rail or rear fender", "the seat above the rear wheel"),
    };
    if *load == Load::None {
        return format!("Bike on a stand, {end} wheel hanging free, end fully extended.");
    }
    let ridden = load.names().iter().any(|name| name == "rider");
    let side = match settled {
        Some(Settled::High) if ridden => "Rise on the pegs to unload it, sit back slowly",
        Some(Settled::High) => {
            return format!(
                "Bike upright, nobody on it. Lift it slowly by {grip}; let it down slowly and let go; read."
            );
        }
        _ if ridden => "Bounce down hard once, come up slowly",
        _ => {
            return format!(
                "Bike upright, nobody on it. Push {push} down hard once; let it come up slowly by itself; read."
            );
        }
    };
    format!(
        "In all the gear, feet on the pegs, an elbow on a wall. {side} and stay still. Alone, let a phone film \
         the tape."
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_reading_says_its_own_way() {
        let loads = [Load::None, Load::parse("bike").unwrap(), Load::parse("bike + rider").unwrap()];
        let mut said: Vec<String> = Vec::new();
        for end in End::BOTH {
            for load in &loads {
                for settled in [Some(Settled::Low), Some(Settled::High)] {
                    said.push(how_to_settle(end, load, settled));
                }
            }
        }
        // With the wheel off the ground there is one way; with the rider on it is the same at both ends.
        said.sort();
        said.dedup();
        assert_eq!(said.len(), 2 + 4 + 2);
        assert!(said.iter().all(|text| text.ends_with('.') && text.chars().count() < 160));
    }

    #[test]
    fn the_tape_runs_where_the_file_says() {
        let along = where_to_read(End::Front, Some(Direction::AlongFork), false);
        let plumb = where_to_read(End::Front, Some(Direction::Vertical), false);
        assert!(along.contains("along the fork") && plumb.contains("plumb"));
        assert!(where_to_read(End::Rear, None, false).contains("rear axle"));
        assert!(where_to_read(End::Rear, None, true).contains("zeroed"));
    }
}
