//! Invariants.
