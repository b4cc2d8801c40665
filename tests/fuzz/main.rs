//! Anything that a person or a program may hand in, mutated from what is valid: purely random input is refused at the door and
//! finds nothing.
//!
//! Each body is a plain function of some bytes, its choices: `make test` draws a few by proptest, `make fuzz` draws for as long as
//! it is given and counts, cargo-fuzz (`fuzz/`) calls the same functions. A body fails by a panic: where an answer that was given
//! as good holds a number that is none, where two ways to one answer differ, where a valid thing does not read back.

mod bodies;
mod choices;
#[path = "../linkages.rs"]
#[allow(dead_code, reason = "takes what it needs")]
mod linkages;
mod long;

use proptest::prelude::*;

use bodies::BODIES;

/// Of each body; with the other tests of `make test` it goes through some ten thousand inputs.
const FEW: u32 = 24;

fn cases() -> ProptestConfig {
    let few = ProptestConfig::default();
    let asked = std::env::var("PROPTEST_CASES").is_ok();
    if asked { few } else { ProptestConfig { cases: FEW, ..few } }
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn no_input_breaks_anything(bytes in prop::collection::vec(any::<u8>(), 16..64)) {
        for (name, body) in BODIES {
            let body = std::panic::AssertUnwindSafe(|| body(&mut choices::Choices::new(&bytes)));
            prop_assert!(std::panic::catch_unwind(body).is_ok(), "{name} on {}", choices::hex(&bytes));
        }
    }
}

/// What was found once, kept: the body and its bytes.
const FOUND: &[(&str, &str)] = &[
    // A damper's table with a speed of 1e-308 m/s, whose slope was no number.
    ("decision", "a7fcbacdb56900c08c6f785719c8150997335754c08a40ed6f87b0024c4672843a4884785568dcec0526854e1acf0dcb"),
];

#[test]
fn what_was_found_stays_mended() {
    for (name, bytes) in FOUND {
        let (_, body) = BODIES.iter().find(|(known, _)| known == name).unwrap();
        body(&mut choices::Choices::new(&choices::unhex(bytes)));
    }
}
