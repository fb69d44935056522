//! How long the tests that try things at random go on: briefly in `cargo test`, and as many times as long as the variable
//! `COILWRIGHT_SOAK` says. The soak is the same code with more rounds; its command and its figures are in DEVELOPERS.md.

use proptest::prelude::ProptestConfig;

/// How many times as long as usual.
fn factor() -> u32 {
    match std::env::var("COILWRIGHT_SOAK") {
        Ok(factor) => factor.parse().expect("COILWRIGHT_SOAK is a whole number, such as 25"),
        Err(_) => 1,
    }
}

/// So many rounds, or more of them in the soak.
pub(crate) fn rounds(usual: u32) -> u32 {
    usual * factor()
}

/// Says what the rounds came to; to be seen with `--nocapture`.
pub(crate) fn came_to(what: &str) {
    if factor() > 1 {
        eprintln!("SOAK: {what}");
    }
}

/// So many cases of a property, or more of them in the soak.
pub(crate) fn cases(usual: u32) -> ProptestConfig {
    ProptestConfig { cases: rounds(usual), failure_persistence: None, ..ProptestConfig::default() }
}
