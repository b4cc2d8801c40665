//! Whole-bike equilibrium and steering geometry: the two ends are one bike.
//!
//! Changing one sag moves the other, the rake and the trail. The parts of this module are functions of typed quantities
//! that can be asked without a bike file:
//!
//! | module | answers |
//! |---|---|
//! | [`ride`] | natural frequencies, modes, critical damping, reserve of travel |
//! | [`steering`] | rake, trail and wheel flop of a steered wheel |

pub mod ride;
pub mod steering;
