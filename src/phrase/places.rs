//! What every place is called, and the words of the first screen and of the help.
//!
//! Not here: what can be chosen on the first screen (`screen::place::home`), and what each key is called and does
//! (`screen::keys`).

/// The first screen.
pub const HOME: &str = "Home";
/// The intake.
pub const DETAILS: &str = "Details";
/// The guided walk.
pub const GUIDE: &str = "Guided walk";
/// Trial after trial.
pub const TRIALS: &str = "Quick trials";
/// The shop's springs.
pub const RACK: &str = "Spring rack";
/// What the shop chooses once.
pub const SETTINGS: &str = "Settings";
/// The list of all past sessions.
pub const REVIEW: &str = "Past sessions";
/// What the finished sessions say together.
pub const TALLY: &str = "Tally";
/// One of them.
pub const PAST_SESSION: &str = "Past session";
/// A session watched moment by moment.
pub const REPLAY: &str = "Watch a session";
/// Keys, reasons and words.
pub const HELP: &str = "Help";
/// Everything that can be done now.
pub const PALETTE: &str = "Find and do";
/// The leverage ratio over the stroke.
pub const CURVE: &str = "Leverage curve";
/// What comes with another spring.
pub const CHANGES: &str = "What changes";
/// How the bike was found and left, and what the ride told.
pub const SHEET: &str = "The sheet";
/// What if, rebound, ride, front.
pub const AROUND: &str = "Around the spring";
/// The versions of a session that is in more than one.
pub const VERSIONS: &str = "Two versions";
/// A customer to be forgotten.
pub const FORGET: &str = "Forget a customer";
/// The rate of a spring reckoned from its wire.
pub const WIRE: &str = "Rate from wire";

/// A choice of the first screen, and what more there is to say of it.
pub type ChoiceWords = (&'static str, &'static str);

/// A new session, guided.
pub const BEGIN_GUIDED: ChoiceWords = ("New session", "guided, step by step");
/// A new session in quick trials.
pub const BEGIN_TRIALS: ChoiceWords = (TRIALS, "readings only, no step-by-step guide");
/// To the shop's springs.
pub const TO_RACK: ChoiceWords = (RACK, "springs this shop owns");
/// To the settings.
pub const TO_SETTINGS: ChoiceWords = (SETTINGS, "units, ruler, targets, theme, mouse");
/// To the spring from its wire.
pub const TO_WIRE: ChoiceWords = (WIRE, "for a spring with no readable label");
/// To the help.
pub const TO_HELP: ChoiceWords = (HELP, "keys and words");
/// Out of the program.
pub const QUIT: ChoiceWords = ("Quit", "everything is saved");
/// To the demonstrations.
pub const DEMONSTRATIONS: &str = "Demonstrations";

/// Over the choices of the first screen.
pub const HEADING: &str = "The right coil spring, one measured step at a time";
/// Over the demonstrations.
pub const DEMONSTRATIONS_HEADING: &str = "Demonstrations: invented sessions, to look at";
/// Where the window is too small for a place: the way out of it.
pub const ESC_GOES_BACK: &str = " Or press Esc to go back.";

/// What is known of a session marked on the first screen: the sag wanted, the spring, changes of spring, the step.
pub const PREVIEW: [&str; 4] = ["Target sag", "Spring on the bike", "Springs changed", "Step"];

/// Over the newest sessions.
pub const NEWEST: &str = "Newest sessions";
/// There is nothing to choose.
pub const NOTHING_HERE: &str = "There is nothing here yet.";

/// States of a past session on the first screen: work is left.
pub const UNFINISHED: &str = "unfinished";
/// The work is done.
pub const CLOSED: &str = "closed";
/// Only the spool has it.
pub const FOUND_IN_SPOOL: &str = "only in the backup on this computer";
/// Its record is gone and a version of it is left.
pub const FOUND_BESIDE: &str = "session file missing, copy found";

/// The session that was not finished.
pub fn go_on(session: &str) -> String {
    format!("Go on: {session}")
}

/// Whether an unfinished session is to be discarded.
pub fn discard(session: &str) -> String {
    format!(
        "Discard {session}? Press Del again: it goes into the wastebasket of the records folder, and t brings it back."
    )
}

/// A session that lies elsewhere than in the records folder.
pub fn found(session: &str) -> String {
    format!("Found: {session}")
}

/// How many demonstrations there are.
pub fn to_look_at(count: usize) -> String {
    format!("{count} to look at")
}

/// So many sessions are in two versions.
pub fn in_two_versions(count: usize) -> String {
    match count {
        1 => "1 session to bring together".to_owned(),
        more => format!("{more} sessions to bring together"),
    }
}

/// How many sessions there are.
pub fn kept(count: usize) -> String {
    format!("{} saved", super::review::counted(count))
}

/// Where the records lie.
pub fn records_live_in(folder: &str) -> String {
    format!("Records live in {folder}")
}

/// Over the keys of a place, in the help.
pub fn keys_of(place: &str) -> String {
    format!("Keys: {place}")
}

/// Over the reasons of a step.
pub fn why(step: &str) -> String {
    format!("Why: {step}")
}

/// Over the words of the trade.
pub const WORDS: &str = "Words";
/// A key in the help: what the footer calls it, and what it does.
pub fn named(name: &str, meaning: &str) -> String {
    format!("{name}: {meaning}")
}

/// What Enter turns to in the help: the words, and back.
pub const TURN_TO_WORDS: &str = "words of the trade";
/// The same from the words.
pub const TURN_TO_KEYS: &str = "keys and reasons";
/// Nothing in the help holds what was typed.
pub const NOT_IN_HELP: &str = "Nothing in the help has these words.";

/// The two pages of the help with how much is on each.
pub fn help_pages(here: usize, words: usize) -> [String; 2] {
    [format!("This place {here}"), format!("{WORDS} {words}")]
}
/// Below the keys.
pub const LEAVING_LOSES_NOTHING: &str =
    "Every step is saved to disk before it shows as done. You can quit at any time without losing anything.";

/// The unit of a word of the trade.
pub fn unit(symbol: &str) -> String {
    format!(" Unit: {symbol}.")
}
