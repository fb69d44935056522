//! What the card for the rider says besides figures: what to look at again, and whose word comes first.
//!
//! Not here: cautions, which stand with the walk (`walk`), and the layout of the card (`report`).

/// The mark of an invented session.
pub const DEMONSTRATION: &str = "Demonstration: workshop, rider, bike and figures are invented.";

/// What a card says that was printed before the final checks were done.
pub const FINAL_CHECKS_OPEN: &str =
    "Not ready to ride: the final checks are not done. Collar and bolts may be loose.";

/// What the figure behind a sag means.
pub const SPREAD: &str = "After ± stands what holds the sag in 9 of 10 cases.";

/// What to look at after the first ride (common practice, no source).
pub const RECHECK: [&str; 4] = [
    "Bolts of shock and linkage: at the frame maker's figures, with a torque wrench.",
    "Collar: still where it was set, secured, the spring without play.",
    "Sag: measure again once the spring has settled, after a few rides.",
    "Shock: no oil on the shaft, nothing rubs or knocks.",
];

/// Whose word comes first.
pub const MAKERS_FIRST: &str = "The figures of the frame's and the shock's makers, local rules and the word of a qualified \
                                mechanic come before anything on this card.";
