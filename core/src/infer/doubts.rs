//! In what a garage may differ from what is stated of it: widths and chances, all common practice without a source.
//!
//! | doubt | taken as |
//! |---|---|
//! | friction uneven between pushing down and lifting, and between loads | an error of every place of its own, a share of the friction |
//! | settling not noted | by somebody who always pushes down, or does anything; repeats show which ([`habit`](crate::infer::habit)) |
//! | unsprung mass guessed, scales that share a bias | one error common to all loads |
//! | rider on the day heavier, or leaning | an error of what stands on the wheel beside the bike, a share of it |
//! | a tape misread, a mark mistaken, a bike that hung up | a small chance that a reading, or a place with all its repeats, is off by centimetres |
//! | a spring that is not what its label says | a small chance that the label means little |

/// How far a likelihood goes beyond what is stated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Doubts {
    /// Standard deviation of the friction of one place, as a share of the end's.
    pub(crate) uneven_friction: f64,
    /// How a wheel is settled by who does not note it.
    pub(crate) habit: Habit,
    /// Standard uncertainty of the unsprung mass, as a share of it.
    pub(crate) unsprung: f64,
    /// Standard uncertainty of a bias that all scale readings share (kg).
    pub(crate) scale_bias: f64,
    /// Standard uncertainty of what rides on the bike, on the day it was read, as a share of what it puts on the wheel.
    pub(crate) rider: f64,
    /// Chances of something grossly wrong; `None` where nothing is.
    pub(crate) gross: Option<Gross>,
}

/// How a person settles the wheel who does not note it: always pushed down, or anything.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Habit {
    /// Chance of a person who pushes down.
    pub(crate) pushed: f64,
    /// Share of such a person's readings that may be anywhere in the band all the same.
    pub(crate) slip: f64,
}

impl Habit {
    /// Mean and variance of the place in the friction band (+1 low, −1 high) of a person who pushes down with this chance;
    /// anywhere in the band, `⟨σ²⟩ = 1/3`.
    pub(crate) fn moments(pushed: f64, slip: f64) -> (f64, f64) {
        const ANYWHERE: f64 = 1.0 / 3.0;
        let down = pushed * (1.0 - slip);
        (down, down + (1.0 - down) * ANYWHERE - down * down)
    }
}

/// Chances that one thing is grossly wrong, and by how much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Gross {
    /// Of one reading.
    pub(crate) reading: f64,
    /// Of one place with all its repeats.
    pub(crate) place: f64,
    /// Of a lone extended reading, which no repeat checks and every sag counts from.
    pub(crate) lone_extended: f64,
    /// Standard deviation of a gross error of a distance (m); one that is found to be larger is taken as it is found.
    pub(crate) distance: f64,
    /// Of a label.
    pub(crate) label: f64,
    /// Standard deviation of a rate whose label means little, as a share of it.
    pub(crate) label_spread: f64,
}

impl Doubts {
    /// Everything as stated: a settling not noted is anywhere in the band, `⟨σ²⟩ = 1/3`.
    pub(crate) const AS_STATED: Self = Self {
        uneven_friction: 0.0,
        habit: Habit { pushed: 0.0, slip: 0.0 },
        unsprung: 0.0,
        scale_bias: 0.0,
        rider: 0.0,
        gross: None,
    };

    /// As garages are. Half of those who note nothing push down, four times out of five; the others do anything. Seven such
    /// readings in ten then lie in the low half of the band.
    pub(crate) const USUAL: Self = Self {
        uneven_friction: 0.17,
        habit: Habit { pushed: 0.5, slip: 0.2 },
        unsprung: 0.05,
        scale_bias: 0.3,
        rider: 0.01,
        gross: Some(Gross {
            reading: 0.005,
            place: 0.005,
            lone_extended: 0.1,
            distance: 10e-3,
            label: 0.03,
            label_spread: 0.1,
        }),
    };
}
