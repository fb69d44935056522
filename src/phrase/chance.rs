//! A chance as people are told it: in tens, and no surer than it can be known.
//!
//! Not here: what it is the chance of (`advice`, `review`, `trials`).

use crate::units::Share;

/// A chance in tens, as far as it can be known: said and true differ by a few points from bike to bike, so nothing is surer
/// than nine in ten.
pub fn in_tens(chance: Share) -> String {
    match (chance.as_fraction() * 10.0).round().clamp(0.0, 9.0) {
        0.0 => "hardly".to_owned(),
        tens => format!("{tens:.0} in 10"),
    }
}

/// Whether a chance is too small to count on.
pub fn is_hardly(chance: Share) -> bool {
    in_tens(chance) == in_tens(Share::ZERO)
}

/// A chance in a sentence, before "of being on target".
pub fn chance(chance: Share) -> String {
    if chance.as_fraction() < 0.05 {
        "less than a 1 in 10 chance".to_owned()
    } else {
        let told = in_tens(chance);
        let article = if told.starts_with('8') { "an" } else { "a" };
        format!("{article} {told} chance")
    }
}

/// The surest there is.
pub(super) const SUREST: &str = "a 9 in 10 chance";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_article_is_the_one_that_is_spoken() {
        let said = |percent| chance(Share::percent(percent));
        assert_eq!([said(72.0), said(80.0)], ["a 7 in 10 chance", "an 8 in 10 chance"]);
        assert_eq!(said(2.0), "less than a 1 in 10 chance");
    }
}
