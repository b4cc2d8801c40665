//! Bad_inputs.
