//! Words of the intake: what each row is called, what it takes and what is customary for it, and the sentences of the form.
//!
//! Not here: which rows there are and in what order (`screen::place::intake`), and what is possible in each
//! (`session::limits`).

use super::{field, opening};
use crate::session::limits::Field;
use crate::text::Shown;

/// The words of a row.
#[derive(Debug, Clone, Copy)]
pub struct RowWords {
    name: Name,
    /// What it takes, in a sentence.
    pub takes: &'static str,
}

/// What a row is called.
#[derive(Debug, Clone, Copy)]
enum Name {
    /// As the figure is called everywhere.
    Figure(Field),
    /// In words of its own.
    Own(&'static str),
}

impl RowWords {
    const fn own(name: &'static str, takes: &'static str) -> Self {
        Self { name: Name::Own(name), takes }
    }

    const fn figure(figure: Field, takes: &'static str) -> Self {
        Self { name: Name::Figure(figure), takes }
    }

    /// What it is called, to open a line.
    pub fn label(self) -> String {
        opening(match self.name {
            Name::Figure(figure) => field(figure),
            Name::Own(name) => name,
        })
    }
}

/// Customer.
pub const WHO: RowWords = RowWords::own("customer", "A name or a job number. May stay empty.");
/// Notes.
pub const NOTES: RowWords = RowWords::own("notes", "Anything worth knowing. May stay empty.");
/// Which bike.
pub const BIKE_LABEL: RowWords = RowWords::own("which bike", "The bike in your own words. May stay empty.");
/// Rider ready to ride.
pub const RIDER: RowWords =
    RowWords::own("rider, ready to ride", "Weight with helmet, shoes, pack and water: 82 or 180 lb.");
/// Bike alone.
pub const BIKE: RowWords = RowWords::own("bike alone", "Weight of the bike as it is ridden: 15.5 or 34 lb.");
/// Rear wheel travel.
pub const TRAVEL: RowWords = RowWords::figure(
    Field::Travel,
    "How far the rear wheel moves in all, from the frame maker: 160 or 6.3 in.",
);
/// Leverage ratio at the start and end of the travel.
pub const LEVERAGE: RowWords = RowWords::own(
    "leverage ratio",
    "3.0 to 2.5 from the frame maker, pairs measured with the spring off as 10/27.5 20/54, or file: \
     lev.csv. Empty: reckoned from travel and stroke.",
);
/// Shock stroke.
pub const STROKE: RowWords = RowWords::figure(
    Field::Stroke,
    "How far the shock shortens in all, printed on it or from its maker: 65 or 2.5 in.",
);
/// Thread pitch of the collar.
pub const COLLAR_PITCH: RowWords = RowWords::figure(
    Field::CollarPitch,
    "How far the collar moves in one turn. Measure over several turns if nobody says.",
);
/// Collar turns allowed.
pub const TURNS_ALLOWED: RowWords =
    RowWords::figure(Field::TurnsAllowed, "Turns past contact the maker of the shock allows.");
/// Shock body diameter.
pub const BODY_DIAMETER: RowWords = RowWords::figure(
    Field::BodyDiameter,
    "Outer diameter where the spring passes over. Empty: not checked against springs.",
);
/// Wheelbase.
pub const WHEELBASE: RowWords = RowWords::figure(
    Field::Wheelbase,
    "From axle to axle, from the frame maker: 1240. Empty: no word on how the head angle changes.",
);
/// Rear centre.
pub const REAR_CENTRE: RowWords = RowWords::figure(
    Field::RearCentre,
    "Rear axle to bottom bracket, from the frame maker: 440. Empty: no word on its height.",
);
/// Sag wanted, and the room to either side.
pub const AIM: RowWords = RowWords::figure(
    Field::AimSag,
    "30 for planted, 25 for lively; 30 +- 1.5 to say how near is near enough.",
);
/// Finest mark of the ruler.
pub const RULER: RowWords =
    RowWords::figure(Field::Ruler, "The least difference you can read off: 0.5 or 1 mm.");
/// Readings with one spring.
pub const READINGS_WANTED: RowWords =
    RowWords::figure(Field::ReadingsWanted, "How often the rider sits before there is a verdict.");
/// Springs at hand.
pub const RACK: RowWords = RowWords::own(
    "springs at hand",
    "Rates, x for several, / for the stroke printed on it: 400 450 x2 500/65, or 350-600 by 50.",
);
/// Spring on the bike as it comes in.
pub const FITTED: RowWords =
    RowWords::own("spring on the bike now", "Its rate, or its number as #2. Empty: no spring is fitted yet.");
/// On to the work.
pub const BEGIN: RowWords =
    RowWords::own("begin the work", "On to the work at the bike. Every detail can be corrected later.");

/// Customary (common practice, no source; the shock's maker knows better): a pitch of the collar's thread.
pub const CUSTOMARY_PITCH: &str = "1.5 mm";
/// The same: collar turns a shock allows.
pub const CUSTOMARY_TURNS: &str = "2";
/// The same: readings with one spring.
pub const CUSTOMARY_READINGS: &str = "3";

/// What is customary, offered while nothing was told.
pub fn customary(suggestion: &str) -> String {
    format!("customary: {suggestion}. Enter takes it.")
}

/// A row the work cannot begin without.
pub const NEEDED: &str = "needed";
/// Over what is still needed.
pub const STILL_NEEDED: &str = "Still needed";
/// Nothing is.
pub const NOTHING_NEEDED: &str = "✓ nothing: the work can begin";
/// A spring of which nobody said how far it may be compressed.
pub const STROKE_NOT_KNOWN: &str = "stroke not known";

/// A text left in a row without having been accepted.
pub fn draft(text: &str) -> String {
    format!("{} (not accepted yet)", Shown::from(text).fitted(20))
}

/// Asked before a text that was not accepted is left behind.
pub fn leaving(label: &str) -> String {
    format!("{label} holds text that was not accepted. Enter there takes it; Esc once more leaves it behind.")
}

/// The key that takes out a word, and what it does.
pub const DELETES_A_WORD: [&str; 2] = ["Ctrl-W", "Takes the word before the cursor out of the field."];
/// What typing does in a form of figures.
pub const TYPING_REPLACES: &str = "In a form, a figure typed into a row that was just reached takes the place of the one that \
                                   stands there. Move the cursor or delete first to change the figure itself.";

/// The springs to choose from.
pub fn at_hand(names: &[String]) -> String {
    format!("At hand: {}", names.join(", "))
}

/// Springs there is no room for.
pub fn and_more(count: usize) -> String {
    format!("and {count} more")
}

/// What is known of the leverage cannot be read.
pub const LEVERAGE_TAKES: &str = "Two ratios are wanted, at the start and at the end of the travel, such as 3.0 to 2.5; or \
                                  measured pairs, stroke over wheel travel, such as 10/27.5 20/54.";
/// A spring that is not on the list.
pub const NOT_ON_THE_RACK: &str =
    "No spring of that rate is on the list. Type a rate of the list, or #2 for the second.";
