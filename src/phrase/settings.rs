//! Words of the settings: what each is called, what it is set to, what it does, and why something cannot be.
//!
//! Not here: reading what is typed (`screen`), and which settings there are (`settings`).

use super::{quantity, refusal};
use crate::settings::{
    Glyphs, Ink, LONGEST_NAME, MOST_BANDS, Mouse, PaperLine, RateRow, RowFault, Setting, Settings,
    StartingSprings, TargetRange, TargetRangeFault,
};
use crate::units::{Show, SpringRate, UnitSet};

/// Over the bands of aim.
pub const BANDS: &str = "Target ranges; Enter uses the first";
/// No band is left.
pub const NO_BANDS: &str = "None. Type the target each time. Press a to add one.";
/// Brings the bands of the trade back.
pub const TRADES_BANDS: &str = "Bring back planted and lively";
/// What that does.
pub const TRADES_BANDS_MEAN: &str =
    "Enter puts the trade's two first again, about 30 % and about 25 %. Your own stay.";
/// What a band does, and its keys.
pub const BAND_MEANS: &str =
    "In the details its name can be typed for the target. Enter changes it, a adds one, Del removes it.";
/// What the line of a band takes.
pub const BAND_TAKES: &str = "Name and target range: firm, 23.5-26.5.";
/// What the line of a row of rates takes.
pub const ROW_TAKES: &str =
    "The softest, the stiffest and the step, 25 or 50 lb/in, as springs are sold: 350-600 by 50 lb/in.";
/// What the line of a ruler takes.
pub const RULER_TAKES: &str = "The least difference you can read off, with its unit: 0.5 mm.";
/// Over the faults of a file that cannot be read.
pub const FAULTS: &str = "The settings cannot be read, and their file was left as it is";
/// Under them.
pub const FAULTS_WAY_OUT: &str = "Fix these lines in a text editor, then reopen the settings. Until then the defaults apply. To start again, rename the file.";
/// Over the sample on a wide screen.
pub const SAMPLE: &str = "How it looks, with invented figures";
/// Inks of the sample, in words.
pub const SAMPLE_INKS: [&str; 4] =
    ["✓ in order", "caution or problem", "keys, marks, target range", "less important"];

/// Behind the units in the file.
pub const UNITS_IN_FILE: &str = "Trade: mm, kg, lb/in. Imperial: in, lb, lb/in. Metric: mm, kg, N/mm.";
/// Behind the ruler in the file.
pub const RULER_IN_FILE: &str = "The least difference the ruler shows.";
/// Behind the theme in the file.
pub const THEME_IN_FILE: &str = "AsTerminal, Dark, Light, HighContrast or Plain.";
/// Behind the glyphs in the file.
pub const GLYPHS_IN_FILE: &str = "AsLocale, Full or Ascii.";
/// Behind the mouse in the file.
pub const MOUSE_IN_FILE: &str = "On: clicks and wheel work the screen. Off: they are the terminal's.";
/// Behind the springs in the file.
pub const SPRINGS_IN_FILE: &str =
    "Shop, Nothing, or Row(from_lb_in: 350.0, to_lb_in: 600.0, step_lb_in: 50.0).";
/// Behind the records folder in the file.
pub const RECORDS_IN_FILE: &str = "The records folder; --records and COILWRIGHT_RECORDS go before it.";
/// A records folder that is named from nowhere.
pub const RECORDS_NOT_WHOLE: &str =
    "name the records folder by its whole path, such as /srv/workshop or ~/workshop";
/// The settings cannot be read as far as the records folder.
pub const RECORDS_UNKNOWN: &str =
    "The settings cannot be read, so it is not known which records folder they name.";
/// What to do then.
pub const NAME_RECORDS: &str = "Fix the line above, or name the folder with --records FOLDER.";
/// Behind the target ranges in the file.
pub const RANGES_IN_FILE: &str = "The first is what Enter takes in the details.";

/// What a line of the shop's paper is called.
pub const fn paper_label(line: PaperLine) -> &'static str {
    match line {
        PaperLine::Shop => "Shop on cards",
        PaperLine::Address => "Address on cards",
        PaperLine::Mechanic => "Mechanic",
        PaperLine::Printer => "Printer command",
    }
}

/// What a line of the shop's paper does.
pub const fn paper_meaning(line: PaperLine) -> &'static str {
    match line {
        PaperLine::Mechanic => {
            "Your name or initials: at the head of setup cards, and saved with every step from now on. Enter types it."
        }
        PaperLine::Shop | PaperLine::Address => {
            "Is at the head of every setup card. Enter types it; an empty line leaves it out."
        }
        PaperLine::Printer => {
            "A command that prints the text it is given, such as lp. The key for the card then prints as well. Enter types it."
        }
    }
}

/// Behind a line of the shop's paper in the file.
pub const fn paper_in_file(line: PaperLine) -> &'static str {
    match line {
        PaperLine::Shop => "Name of the shop on cards.",
        PaperLine::Address => "Its address, on one line.",
        PaperLine::Mechanic => "Who works here; on cards and on every entry.",
        PaperLine::Printer => "A command that prints the text it is given, such as lp.",
    }
}

/// What a setting is called.
pub const fn label(setting: Setting) -> &'static str {
    match setting {
        Setting::Units => "Units",
        Setting::Ruler => "Ruler",
        Setting::Theme => "Theme",
        Setting::Glyphs => "Glyphs",
        Setting::Mouse => "Mouse",
        Setting::Springs => "Springs to start with",
    }
}

/// What it does, in a sentence or two.
pub const fn meaning(setting: Setting) -> &'static str {
    match setting {
        Setting::Units => {
            "The units the program starts with. The key for units, in every place, changes them until you leave; here \
             they are changed for good."
        }
        Setting::Ruler => {
            "The least difference your ruler shows. Details of a new session offer it. Enter types another."
        }
        Setting::Theme => {
            "Colours for a dark or light terminal background, high contrast on black, or no colour. --theme overrides this for one run."
        }
        Setting::Glyphs => {
            "Full line and block characters, or plain ASCII for terminals that garble them. --ascii wins for that run."
        }
        Setting::Mouse => {
            "Off: it selects text, and in most terminals the wheel still goes through lists. On: a click marks a line; on \
             the marked line or a key below it does what the key does; Shift held selects text. F2 changes it until you \
             leave."
        }
        Setting::Springs => {
            "What the details of a new session offer for springs on the list: the shop's own rack, a row of rates, or nothing. \
             Enter types another row."
        }
    }
}

/// What a setting is set to.
pub fn value(setting: Setting, settings: &Settings, units: UnitSet) -> String {
    match setting {
        Setting::Units => quantity::unit_set(settings.units).to_owned(),
        Setting::Ruler => units.show(settings.ruler.least_difference()),
        Setting::Theme => settings.ink.map_or("automatic (terminal)", ink).to_owned(),
        Setting::Glyphs => settings.glyphs.map_or("automatic (locale)", glyphs).to_owned(),
        Setting::Mouse => mouse(settings.mouse).to_owned(),
        Setting::Springs => match settings.springs {
            StartingSprings::ShopRack => "the shop's rack".to_owned(),
            StartingSprings::Row(row) => rate_row(row, units),
            StartingSprings::Nothing => "none (type them each time)".to_owned(),
        },
    }
}

/// Inks by name.
pub const fn ink(ink: Ink) -> &'static str {
    match ink {
        Ink::Dark => "dark",
        Ink::Light => "light",
        Ink::HighContrast => "high contrast",
        Ink::Plain => "plain",
    }
}

/// Glyphs by name.
pub const fn glyphs(glyphs: Glyphs) -> &'static str {
    match glyphs {
        Glyphs::Full => "full",
        Glyphs::Ascii => "ASCII",
    }
}

/// Whose the mouse is.
pub const fn mouse(mouse: Mouse) -> &'static str {
    match mouse {
        Mouse::Terminal => "off",
        Mouse::Program => "on",
    }
}

/// Said once the mouse changed hands until the program is left.
pub const fn mouse_for_now(mouse: Mouse) -> &'static str {
    match mouse {
        Mouse::Terminal => "The mouse selects text again until you quit or press F2.",
        Mouse::Program => {
            "Clicks and wheel work the screen until you leave or press F2. Text is selected with Shift held."
        }
    }
}

/// Behind a setting that something else overrules, or that only follows the terminal.
pub fn at_present(now: &str) -> String {
    format!("now {now}")
}

/// Behind a setting that the command line overrules.
pub fn from_the_command_line(now: &str, flag: &str) -> String {
    format!("this run {now}, by {flag}")
}

/// Where the settings are kept.
pub fn kept_in(file: &str) -> String {
    format!("Every change holds at once. Saved in {file}")
}

/// They could not be kept.
pub fn not_kept(because: &str) -> String {
    format!("It holds until you leave, but was not saved. {because}")
}

/// Said on the first screen of a file that cannot be read.
pub fn unreadable(file: &str) -> String {
    format!(
        "The settings in {file} cannot be read; open Settings to see why. Everything is set as the program brings it."
    )
}

/// A row of rates in words.
fn rate_row(row: RateRow, units: UnitSet) -> String {
    let step = SpringRate::written(row.step().rate(), UnitSet::Trade);
    let (from, to) = (row.from().written(units), units.show(row.to()));
    format!("{} to {to}, every {step}", from.figure)
}

/// A row of rates as a line that can be typed; always in lb/in, which its steps are in.
pub fn row_line(row: RateRow) -> String {
    let figure = |rate: SpringRate| rate.written(UnitSet::Trade).figure;
    format!("{}-{} by {} lb/in", figure(row.from()), figure(row.to()), figure(row.step().rate()))
}

/// A band in words.
pub fn band(band: &TargetRange, units: UnitSet) -> String {
    super::target_range(band.target(), units)
}

/// A band as a line that can be typed.
pub fn band_line(one: &TargetRange, units: UnitSet) -> String {
    format!("{}, {}", one.name().as_typed(), band(one, units))
}

/// The bands, offered for a session: the first is what Enter takes.
pub fn bands_offered(bands: &[TargetRange], units: UnitSet) -> Option<String> {
    let named = |one: &TargetRange| format!("{} {}", one.name().shown(), band(one, units));
    let (first, rest) = bands.split_first()?;
    let others: Vec<String> = rest.iter().map(named).collect();
    let others =
        if others.is_empty() { String::new() } else { format!(" Or by name: {}.", others.join(", ")) };
    Some(format!("Target range: {}. Enter goes on with it.{others}", named(first)))
}

/// Why there can be no such band.
pub fn band_fault(fault: &TargetRangeFault, units: UnitSet) -> String {
    match fault {
        TargetRangeFault::Nameless => {
            "The target range needs a name before its figures: lively, 25 +- 1.5.".to_owned()
        }
        TargetRangeFault::FigureForName => {
            "The name begins with a letter, or it would be taken for a number: lively, 25 +- 1.5.".to_owned()
        }
        TargetRangeFault::LongName => format!("The name is too long. Keep it to {LONGEST_NAME} letters."),
        TargetRangeFault::SameName(name) => {
            format!("A target range called {} is there already. Give this one another name.", name.shown())
        }
        TargetRangeFault::TooMany => {
            format!("There is room for {MOST_BANDS} target ranges. Remove one first.")
        }
        TargetRangeFault::Impossible(why) => refusal(why, units),
    }
}

/// Why there can be no such row of rates.
pub fn row_fault(fault: &RowFault, units: UnitSet) -> String {
    match fault {
        RowFault::EndsBelow => "The row ends below its beginning. Give the softest rate first.".to_owned(),
        RowFault::OddStep => "The step is 25 or 50 lb/in, as springs are sold.".to_owned(),
        RowFault::Impossible(why) => refusal(why, units),
    }
}
