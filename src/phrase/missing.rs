//! What the intake still lacks, in words that fit into "the intake still needs ...".

use crate::session::Fact;

/// The name of what is missing, in small letters.
pub fn missing(missing: Fact) -> &'static str {
    missing.about().lacking.unwrap_or_default()
}
