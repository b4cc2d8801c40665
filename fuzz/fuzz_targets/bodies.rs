//! Every body of `tests/fuzz` under libFuzzer: the first byte says which.
#![no_main]

#[path = "../../tests/fuzz/bodies.rs"]
mod bodies;
#[path = "../../tests/fuzz/choices.rs"]
#[allow(dead_code, reason = "findings are written down by the tests")]
mod choices;
#[path = "../../tests/linkages.rs"]
#[allow(dead_code, reason = "strategies are of the tests")]
mod linkages;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    let Some((first, rest)) = bytes.split_first() else { return };
    let (_, body) = bodies::BODIES[usize::from(*first) % bodies::BODIES.len()];
    body(&mut choices::Choices::new(rest));
});
