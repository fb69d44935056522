//! The names that scripts go by of what a ride answered; they stay when the words for people change.
//!
//! Not here: the words (`phrase`), and the names of steps, postures and standings (`json`).

use crate::session::{Bottoming, Feel, KerbReturn, RideHeight, Symptom};

/// How the rear came back off the kerb.
pub(super) const fn kerb_name(returned: KerbReturn) -> &'static str {
    match returned {
        KerbReturn::NotDone => "not_done",
        KerbReturn::Once => "once",
        KerbReturn::BouncesOn => "bounces_on",
        KerbReturn::Slow => "slow",
    }
}

/// How often the shock bottomed out.
pub(super) const fn bottoming_name(bottoming: Bottoming) -> &'static str {
    match bottoming {
        Bottoming::Never => "never",
        Bottoming::NowAndThen => "now_and_then",
        Bottoming::Often => "often",
    }
}

/// How the bike sat.
pub(super) const fn ride_height_name(ride_height: RideHeight) -> &'static str {
    match ride_height {
        RideHeight::High => "high",
        RideHeight::Right => "right",
        RideHeight::Deep => "deep",
    }
}

/// How it felt.
pub(super) const fn feel_name(feel: Feel) -> &'static str {
    match feel {
        Feel::Dull => "dull",
        Feel::Right => "right",
        Feel::Nervous => "nervous",
    }
}

/// What bothers most.
pub(super) const fn symptom_name(symptom: Symptom) -> &'static str {
    match symptom {
        Symptom::PacksDown => "packs_down",
        Symptom::Bucks => "bucks",
        Symptom::Wallows => "wallows",
        Symptom::HangsUp => "hangs_up",
        Symptom::HarshOffTheTop => "harsh_off_the_top",
        Symptom::TopsOut => "tops_out",
        Symptom::Noise => "noise",
        Symptom::PedalStrikes => "pedal_strikes",
        Symptom::Dives => "dives",
    }
}
