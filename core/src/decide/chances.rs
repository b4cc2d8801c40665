//! How likely both sags of one spring land, over the preload that is set.
//!
//! About one preload both sags are straight lines over the collar's change `c`, `r = r₀ + r_b·(c − c₀)` and
//! `f = f₀ + f_b·(c − c₀)`, jointly normal with what is uncertain held or not, by the way it is set:
//!
//! - *turned*: the collar goes to `c` by the stated number of turns. What the fit knows of preload, rate and loads, a new
//!   spring's label and its zero of preload are in both sags: `∇r|_c = −r_b·∇c_needed`, `∇f|_c = ∇f|_r − f_b·∇c_needed`;
//! - *re-read*: the rider sag is read again and the collar corrected until it is the one aimed at, `r(c)`. The rider sag is
//!   then off by the protocol of reading alone, and the free sag by what follows with the rider sag held. Where the adjuster
//!   ends before the aim is reached the collar stays at its end, and the sags are those of its end.
//!
//! With the aim `a`, the needed change `n` and the collar held within `l ≤ c ≤ h`:
//!
//! `P = P(r ∈ R, f ∈ F, l ≤ n ≤ h) + P(r_l ∈ R, r_l < a, f_l ∈ F) + P(r_h ∈ R, r_h > a, f_h ∈ F)`.
//!
//! Fails where the sags bend over the preload within their own uncertainty: an end about to top out under its rider.

use nalgebra::DMatrix;

use crate::decide::gradient::{Gradient, Predicted};
use crate::decide::predict::Setting;
use crate::infer::probability::{
    Interval, Roughly, joint_probability, joint_probability_of_three, normal_cdf, roughly_within,
};

/// How a setting is carried out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "snake_case"))]
pub enum Way {
    /// The collar is turned by the stated number and left there.
    Turned,
    /// Turned, the rider sag read again, and the collar corrected until it is as aimed at.
    ReRead,
}

/// Standard deviations of the needed change from an end of the adjuster beyond which the end does not enter.
const FAR_FROM_END: f64 = 5.0;

/// Standard deviations beyond which a normal quantity never lies: `Φ(−8) = 6e-16`.
const NEVER: f64 = 8.0;

/// The ranges that both sags are wanted in; everything where none is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Aim {
    pub(crate) rider: Interval,
    pub(crate) free: Interval,
    /// The rider sag that decides between settings that are as likely to land.
    pub(crate) value: f64,
}

/// Two sags: standard deviations and correlation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pair {
    pub(crate) rider: f64,
    pub(crate) free: f64,
    pub(crate) correlation: f64,
}

/// By how much further readings move what is expected: the free sag with the rider sag held, and the change needed for it;
/// how much of the latter's move is left unsaid.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Moved {
    pub(crate) free_sag: f64,
    pub(crate) change: f64,
    pub(crate) change_spread: f64,
}

/// One spring about one setting.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Chances {
    /// Change of the stated preload about which the lines run.
    pub(crate) change: f64,
    pub(crate) rider: f64,
    pub(crate) free: f64,
    /// Slopes of both sags over the change.
    pub(crate) slopes: [f64; 2],
    pub(crate) turned: Pair,
    pub(crate) read: Pair,
    /// Both of them, for searches.
    rough: [Roughly; 2],
    /// Standard deviation of the change needed for an aim, and its correlation with both sags once re-read.
    pub(crate) needed: f64,
    pub(crate) needed_with: [f64; 2],
}

/// Derivatives of both sags with the collar at a stated change.
pub(crate) fn turned_gradients(setting: &Setting, change: &Predicted) -> [Gradient; 2] {
    let [rider_slope, free_slope] = setting.per_preload;
    let mut needed = change.gradient.clone();
    needed.setting = 0.0;
    let mut free = setting.free_sag.gradient.clone();
    free.setting = 0.0;
    free.add(-free_slope, &needed);
    [needed.scaled(-rider_slope), free]
}

impl Chances {
    /// About a setting whose collar stands at `change`: the value set, with the derivatives of the change needed.
    pub(crate) fn new(covariance: &DMatrix<f64>, setting: &Setting, change: &Predicted) -> Self {
        let [rider, free] = turned_gradients(setting, change);
        // A zero of preload that is off is corrected with the collar once the sag is read again.
        let [rider, free, held_rider, held_free, needed] =
            [&rider, &free, &setting.rider_sag.gradient, &setting.free_sag.gradient, &change.gradient]
                .map(|gradient| (gradient, gradient.deviation(covariance)));
        let correlation = |one: (&Gradient, f64), other: (&Gradient, f64)| {
            let both = one.1 * other.1;
            if both > 0.0 { (one.0.covariance(other.0, covariance) / both).clamp(-1.0, 1.0) } else { 0.0 }
        };
        let pair = |rider: (&Gradient, f64), free: (&Gradient, f64)| Pair {
            rider: rider.1,
            free: free.1,
            correlation: correlation(rider, free),
        };
        let (turned, read) = (pair(rider, free), pair(held_rider, held_free));
        Self {
            change: change.value,
            rider: setting.rider_sag.value,
            free: setting.free_sag.value,
            slopes: setting.per_preload,
            rough: [turned, read].map(|pair| Roughly::new(pair.correlation)),
            turned,
            read,
            needed: needed.1,
            needed_with: [held_rider, held_free].map(|sag| correlation(sag, needed)),
        }
    }

    /// Both sags with the collar at a change.
    pub(crate) fn sags_at(&self, change: f64, moved: Moved) -> [f64; 2] {
        let off = change - self.change - moved.change;
        [self.rider + self.slopes[0] * off, self.free + moved.free_sag + self.slopes[1] * off]
    }

    /// Probability of both sags with the collar turned to a change and left there.
    pub(crate) fn turned(&self, change: f64, aim: &Aim, moved: Moved) -> f64 {
        self.turned_with(change, aim, moved, true)
    }

    fn turned_with(&self, change: f64, aim: &Aim, moved: Moved, exact: bool) -> f64 {
        let [rider, free] = self.sags_at(change, moved);
        let spread = self.turned;
        self.both(Way::Turned, [(rider, spread.rider), (free, spread.free)], aim, exact)
    }

    /// Both sags in their ranges, with the correlation that they have by a way.
    fn both(&self, way: Way, [rider, free]: [(f64, f64); 2], aim: &Aim, exact: bool) -> f64 {
        let (pair, rough) = match way {
            Way::Turned => (&self.turned, &self.rough[0]),
            Way::ReRead => (&self.read, &self.rough[1]),
        };
        if exact {
            joint_probability(rider, free, pair.correlation, aim.rider, aim.free)
        } else {
            rough.probability([rider, free], [aim.rider, aim.free])
        }
    }

    /// Probability of both sags with the rider sag brought to what a change is expected to give, the collar within `ends`.
    pub(crate) fn re_read(&self, change: f64, ends: Interval, aim: &Aim, moved: Moved) -> f64 {
        self.re_read_with(change, ends, aim, moved, true)
    }

    /// The same; in a search, reaching the aim is taken as independent of landing, which is two integrals for one of three, and
    /// these are good to 1e-5.
    fn re_read_with(&self, change: f64, ends: Interval, aim: &Aim, moved: Moved, exact: bool) -> f64 {
        let [rider, free] = self.sags_at(change, moved);
        let (Pair { rider: tape, free: left, correlation }, reach) =
            (self.read, self.needed.hypot(moved.change_spread));
        let (rider, free) = ((rider, tape), (free, left));
        if change - ends.0 >= FAR_FROM_END * reach && ends.1 - change >= FAR_FROM_END * reach {
            return self.both(Way::ReRead, [rider, free], aim, exact);
        }
        let reached = if exact {
            let diluted = self.needed / reach.max(f64::MIN_POSITIVE);
            let [with_rider, with_free] = self.needed_with.map(|correlation| correlation * diluted);
            joint_probability_of_three(
                [rider, free, (change, reach)],
                [correlation, with_rider, with_free],
                [aim.rider, aim.free, ends],
            )
        } else {
            let within = roughly_within((change, reach), ends);
            within * self.both(Way::ReRead, [rider, free], aim, exact)
        };
        let at_end = |end: f64, within: Interval| {
            // Far from where the collar is needed, its end is as good as never met.
            let [sag, _] = self.sags_at(end, moved);
            let out = (within.0 - sag).max(sag - within.1);
            if !end.is_finite() || within.0 >= within.1 || out > NEVER * self.turned.rider {
                return 0.0;
            }
            self.turned_with(end, &Aim { rider: within, ..*aim }, moved, exact)
        };
        let at_least = at_end(ends.0, (aim.rider.0, aim.rider.1.min(rider.0)));
        let at_most = at_end(ends.1, (aim.rider.0.max(rider.0), aim.rider.1));
        (reached + at_least + at_most).min(1.0)
    }

    pub(crate) fn by(&self, way: Way, change: f64, ends: Interval, aim: &Aim, moved: Moved) -> f64 {
        match way {
            Way::Turned => self.turned(change, aim, moved),
            Way::ReRead => self.re_read(change, ends, aim, moved),
        }
    }

    /// The same, as a search takes it.
    pub(crate) fn roughly(&self, way: Way, change: f64, ends: Interval, aim: &Aim, moved: Moved) -> f64 {
        match way {
            Way::Turned => self.turned_with(change, aim, moved, false),
            Way::ReRead => self.re_read_with(change, ends, aim, moved, false),
        }
    }

    /// The most that turning the collar and leaving it can give: the rider sag alone, dead on its range.
    pub(crate) fn most_turned(&self, aim: &Aim) -> f64 {
        2.0 * normal_cdf(0.5 * (aim.rider.1 - aim.rider.0) / self.turned.rider.max(f64::MIN_POSITIVE)) - 1.0
    }

    /// How far both expected sags lie outside their ranges, in their standard deviations, squared: what is left to compare
    /// where no chance is.
    pub(crate) fn miss(&self, way: Way, change: f64, aim: &Aim, moved: Moved) -> f64 {
        let spread = match way {
            Way::Turned => self.turned,
            Way::ReRead => self.read,
        };
        let out = |value: f64, within: Interval, deviation: f64| {
            let beyond = (within.0 - value).max(value - within.1).max(0.0);
            (beyond / deviation.max(f64::MIN_POSITIVE)).powi(2)
        };
        let [rider, free] = self.sags_at(change, moved);
        out(rider, aim.rider, spread.rider) + out(free, aim.free, spread.free)
    }
}

#[cfg(test)]
mod tests;
