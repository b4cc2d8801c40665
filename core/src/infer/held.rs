//! A travel held back by a stop, as a reading that may be on one sees it.

use crate::infer::probability::{normal_cdf, normal_density};

/// The stop at full extension and the one at full compression, seen by a reading that may be on one: travel that would go
/// past a stop rests at it. The corner is rounded as the mean of `max(0, x)` over a normal spread of this width (m), which
/// keeps the derivative; a stop is rubber, and gives about as much.
const STOP_SOFTNESS: f64 = 0.5e-3;

/// Travel held back by a stop: where it is, the share of its change that is left, and how fast that share changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Held {
    pub(crate) travel: f64,
    pub(crate) share: f64,
    pub(crate) share_slope: f64,
}

impl Held {
    #[inline]
    pub(crate) fn free(travel: f64) -> Self {
        Self { travel, share: 1.0, share_slope: 0.0 }
    }

    /// Held at zero or more.
    pub(crate) fn above_zero(travel: f64) -> Self {
        /// Spreads away from the corner at which rounding no longer shows.
        const CLEAR: f64 = 8.0;
        let t = travel / STOP_SOFTNESS;
        if t > CLEAR {
            Self::free(travel)
        } else if t < -CLEAR {
            Self { travel: 0.0, share: 0.0, share_slope: 0.0 }
        } else {
            let (share, density) = (normal_cdf(t), normal_density(t));
            Self { travel: travel * share + STOP_SOFTNESS * density, share, share_slope: density / STOP_SOFTNESS }
        }
    }

    /// Held at `full` or less.
    pub(crate) fn below(travel: f64, full: f64) -> Self {
        let left = Self::above_zero(full - travel);
        Self { travel: full - left.travel, share: left.share, share_slope: -left.share_slope }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_travel_past_a_stop_rests_at_it() {
        assert_eq!(Held::above_zero(-0.005).travel, 0.0);
        assert_eq!(Held::below(0.2, 0.3), Held::free(0.2));
        let at_stop = Held::below(0.3, 0.3);
        assert!((at_stop.travel - 0.3).abs() < STOP_SOFTNESS && (at_stop.share - 0.5).abs() < 1e-12);
    }

    /// The share is the slope of the travel, and its slope that of the share, on both sides of either stop.
    #[test]
    fn shares_are_derivatives() {
        let h = 1e-7;
        for off in [-1.2e-3, -0.3e-3, 0.0, 0.4e-3, 1.5e-3] {
            for held in [Held::above_zero as fn(f64) -> Held, |travel| Held::below(travel, 0.3)] {
                let at = if held(0.15).travel < held(0.3).travel && held(1.0).travel < 0.5 { 0.3 + off } else { off };
                let [under, here, over] = [at - h, at, at + h].map(held);
                // Central differences over a ten-thousandth of the corner's width: 1e-8 of it, and rounding of 1e-16/h.
                assert!((here.share - (over.travel - under.travel) / (2.0 * h)).abs() < 1e-6, "{at}: {here:?}");
                let slope = (over.share - under.share) / (2.0 * h);
                assert!((here.share_slope - slope).abs() < 1e-3, "{at}: {here:?} {slope}");
            }
        }
    }
}
