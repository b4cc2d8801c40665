//! Nothing to link: the tests are in `reference/`, `invariants/`, `round_trips/`, `bad_inputs/` and `answers/`, and the
//! examples of the README are here.

#[cfg(doctest)]
#[doc = include_str!("../README.md")]
struct Readme;
