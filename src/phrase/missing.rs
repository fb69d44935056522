//! What the intake still lacks, in words that fit into "the intake still needs ...".

use crate::session::Missing;

/// The name of what is missing, in small letters.
pub const fn missing(missing: Missing) -> &'static str {
    match missing {
        Missing::Rider => "the rider's weight",
        Missing::Bike => "the bike's weight",
        Missing::Travel => "the rear wheel travel",
        Missing::Stroke => "the shock stroke",
        Missing::CollarPitch => "the thread pitch of the collar",
        Missing::TurnsAllowed => "the collar turns allowed",
        Missing::Aim => "the sag wanted",
        Missing::Ruler => "the finest mark of the ruler",
        Missing::ReadingsWanted => "the readings to take with one spring",
        Missing::Rack => "the springs at hand",
    }
}
