//! The wiring: clock, environment and archive on one side, screen or a command without a screen on the other.

use chrono::Local;

use crate::cli::{Cli, Command};
use crate::failure::Failure;
use crate::screen::effect::{Answer, Effect, Keeping, Shell};
use crate::screen::model::{Model, Shelf};
use crate::screen::terminal::{self, Console};
use crate::screen::theme::{Glyphs, Ink, Theme};
use crate::session::Stamp;
use crate::units::UnitSet;

/// Runs what the command line asks for.
///
/// # Errors
/// With what to tell the user.
pub fn run(cli: Cli) -> Result<(), Failure> {
    match cli.command {
        None => full_screen(&cli),
        Some(Command::Assess { .. }) => Err(Failure::new("assess comes with the archive")),
    }
}

fn full_screen(cli: &Cli) -> Result<(), Failure> {
    if !terminal::is_there() {
        return Err(Failure::of_use("the full screen needs a terminal to draw on and keys to read")
            .way_out("Without one, coilwright assess FILE says what a record means."));
    }
    let theme = Theme { ink: Ink::Colour, glyphs: if cli.ascii { Glyphs::Ascii } else { Glyphs::Full } };
    let mut model = Model::new(Shelf::default(), UnitSet::Trade, theme);
    let failed = |error| Failure::new("the terminal does not obey").because(error);
    let mut console =
        Console::take("Every step accepted is in the records folder.".to_owned()).map_err(failed)?;
    crate::screen::run(&mut console, &mut InMemory, &mut model).map_err(failed)
}

struct InMemory;

impl Shell for InMemory {
    fn now(&self) -> Stamp {
        Local::now().fixed_offset()
    }

    fn perform(&mut self, effect: Effect) -> Answer {
        match effect {
            Effect::Keep(_) => {
                Answer::Kept(Keeping::OnlyInMemory { because: "The archive is not wired yet.".to_owned() })
            }
            _ => Answer::Done,
        }
    }
}
