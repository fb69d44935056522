//! Words for two versions of one session: what is in the other one and not here, and what becomes of it.
//!
//! Not here: which entries go over (`session::machine::merge`), and the page they are set on (`page`).

mod page;

use super::listed;
use super::refusal::refusal;
use crate::session::machine::{CannotMerge, WhyNotTaken};
use crate::units::UnitSet;
pub use page::{OtherVersion, page};

/// How it came to be.
pub const WHY: &str = "Two computers wrote this session at the same time. Steps that are only in the other version go behind those \
                       here, with their own times; nothing here is changed.";
/// Over the entries taken over.
pub const TAKEN: &str = "Goes over";
/// Over the entries left out.
pub const LEFT: &str = "Does not go over";
/// There is nothing to take over.
pub const NOTHING_NEW: &str = "Everything in it is here already.";
/// What becomes of the file.
pub const AFTERWARDS: &str = "The other version goes to the wastebasket of the records folder, unchanged. Steps that went over can be undone \
                              like any other.";
/// Nobody can bring these together.
pub const NOT_TOGETHER: &str = "These two cannot be brought together. If the version here is the right one, put the other away: it goes to the \
                                wastebasket of the records folder, unchanged.";
/// There is no other version any more.
pub const NONE: &str = "There is no other version of this session any more.";
/// Nothing in the folder is in two versions.
pub const NOWHERE: &str = "No session of this folder is in two versions.";
/// A version written by a later program.
pub const LATER_PROGRAM: &str =
    "It was written by a later version of this program, which would lose something here. Update first.";
/// How to put a version away by the command line.
pub const PUT_AWAY_BY_FLAG: &str = "To put it away as it is, run the command again with --put-away.";
/// What Enter does.
pub const BRING_TOGETHER: &str = "bring them together";
/// What Enter does where they cannot be brought together.
pub const LEAVE: &str = "leave both as they are";

/// What a key that puts away asks first.
pub const PUT_AWAY_ASKED: &str =
    "Put the other version into the wastebasket without taking anything over? Press Del again to do it.";

/// Which version, and how much is in it.
pub fn entries(count: usize, last: &str) -> String {
    match count {
        0 => "no steps yet".to_owned(),
        1 => format!("1 step, on {last}"),
        count => format!("{count} steps, the last on {last}"),
    }
}

/// The head of an entry left out: what it is, and why it stays out.
pub fn left_out(deed: &str, because: &WhyNotTaken, units: UnitSet) -> String {
    format!("{deed}. {}", why_left(because, units))
}

fn why_left(because: &WhyNotTaken, units: UnitSet) -> String {
    match because {
        WhyNotTaken::OtherwiseOnBike => "By the version here another spring, preload or load was on the bike then, so nobody can say what was \
                                         measured. If you know, type it again."
            .to_owned(),
        WhyNotTaken::EnteredHere => "It was entered here too; that stays.".to_owned(),
        WhyNotTaken::ReadingNotHere => "The reading it is about is not here.".to_owned(),
        WhyNotTaken::OtherSprings => "The spring list is not the same in both.".to_owned(),
        WhyNotTaken::UndoneThere => "It was undone in the other version; here it counts.".to_owned(),
        WhyNotTaken::Refused(why) => refusal(why, units),
    }
}

/// Why two versions cannot be brought together.
pub fn cannot(because: &CannotMerge) -> String {
    match because {
        CannotMerge::OtherSession => "It is another session: it was begun at another moment.".to_owned(),
        CannotMerge::OtherDetails(facts) => {
            let names: Vec<&str> = facts.iter().map(|fact| fact.about().name).collect();
            if names.is_empty() {
                "The details entered at the start do not go together.".to_owned()
            } else {
                format!("The details entered at the start differ: {}.", listed(&names))
            }
        }
        CannotMerge::Misfit(misfit) => {
            format!(
                "Step {} does not fit what is before it; it may have been changed outside the program.",
                misfit.entry
            )
        }
    }
}

/// What was done.
pub fn done(taken: usize, left: usize) -> String {
    let taken = match taken {
        0 => "Nothing was missing here".to_owned(),
        1 => "1 step went over".to_owned(),
        taken => format!("{taken} steps went over"),
    };
    let left = match left {
        0 => String::new(),
        1 => ", 1 did not".to_owned(),
        left => format!(", {left} did not"),
    };
    format!("{taken}{left}. The other version is in the wastebasket of the records folder.")
}

/// A version was put away as it is.
pub const PUT_AWAY: &str =
    "The other version is in the wastebasket of the records folder; nothing of it went over.";
