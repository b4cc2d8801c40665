//! A design of a linkage in sentences: what moved, what was reached, what stands in the way.

use crate::linkage::{Design, Target};
use crate::units::{Length, Quantity, UnitSystem, WheelRate, show};

impl Target {
    /// What is wanted, with its tolerance.
    #[must_use]
    pub fn text(&self, units: UnitSystem) -> String {
        let length = |length: Length| show(length, units.symbol(Length::KIND), units.length_decimals());
        match *self {
            Self::MotionRatio { travel, value, tolerance } => {
                let (value, tolerance) = (value.si(), tolerance.si());
                format!("motion ratio {value:.4} ± {tolerance:.4} at {}", length(travel))
            }
            Self::WheelRate { travel, value, tolerance } => {
                let rate = |rate: WheelRate| {
                    // A digit more than a label has, since a tolerance is much smaller than a rate.
                    show(rate, units.symbol(WheelRate::KIND), units.rate_decimals() + 1)
                };
                format!("wheel rate {} ± {} at {}", rate(value), rate(tolerance), length(travel))
            }
            Self::Progression { value, tolerance } => {
                format!("progression {} ± {}", show(value, "%", 1), show(tolerance, "%", 1))
            }
            Self::FullTravel { value, tolerance } => {
                format!("full travel {} ± {}", length(value), length(tolerance))
            }
        }
    }
}

impl Design {
    /// The design as plain text.
    #[must_use]
    pub fn to_text(&self, units: UnitSystem) -> String {
        let length = |length: Length| show(length, units.symbol(Length::KIND), units.length_decimals());
        let first = if self.is_reached() {
            "Every target is reached."
        } else {
            "No design inside these bounds reaches every target; this is the nearest."
        };
        let mut lines = vec![first.to_owned()];
        for change in &self.changes {
            let held = if change.held_back { ", held back by its bound" } else { "" };
            lines.push(format!("  {}: {} -> {}{held}", change.dimension, length(change.was), length(change.now)));
        }
        for miss in &self.misses {
            let mark = if miss.tolerances.abs() <= 1.0 { "reached" } else { "missed" };
            // Rounded first, and minus zero taken to zero: an exact hit is not "-0.00 off".
            let off = (100.0 * miss.tolerances).round() / 100.0 + 0.0;
            lines.push(format!("  {}: {mark}, {off:+.2} tolerances off", miss.target.text(units)));
        }
        if !self.in_the_way.is_empty() {
            let names: Vec<String> = self.in_the_way.iter().map(ToString::to_string).collect();
            lines.push(format!("In the way: the bounds of {}.", names.join(", ")));
        }
        let [working, alike] = self.starts;
        lines.push(format!("{alike} of {working} starts ended in a design as good as this."));
        lines.join("\n")
    }
}
