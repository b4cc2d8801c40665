//! Nothing to link: the tests are in `reference/`, `invariants/`, `round_trips/` and `bad_inputs/`.
