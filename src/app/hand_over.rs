//! The card that a key of the screen writes: a page beside the records, shown in the browser where there is one, and on
//! paper where the settings name a command.
//!
//! Neither browser nor printer is waited for, and nothing of either reaches the terminal. Not here: what stands on a card
//! (`report`).

use std::fs::File;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread;

use super::outlet::Outlet;
use super::said::cleaned;
use crate::archive::forget::CARDS;
use crate::archive::sharing::Sharing;
use crate::archive::{Disk, RealDisk, Seal};
use crate::assessment::assess;
use crate::assets;
use crate::cli::OutOptions;
use crate::document;
use crate::failure::Failure;
use crate::phrase;
use crate::report::{Letterhead, Subject, card};
use crate::session::{Record, machine};
use crate::settings::Settings;
use crate::units::UnitSet;

/// Where a page can be shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Desktop {
    /// On the desktop, by what opens pages there.
    Browser,
    /// Nowhere: it is only written.
    Nothing,
}

impl Desktop {
    /// What this machine has, by what the environment says of a display.
    pub(super) fn of_this_machine() -> Self {
        let display = ["DISPLAY", "WAYLAND_DISPLAY"].iter().any(|name| std::env::var_os(name).is_some());
        let there = cfg!(any(windows, target_os = "macos")) || display;
        if there { Self::Browser } else { Self::Nothing }
    }
}

/// Writes the card of a record into a folder of its own beside the records, shows it, and prints it; what came of it, in a
/// sentence.
pub(super) fn hand_over(
    (record, seal): (&Record, Seal),
    name: &str,
    records: &Path,
    settings: &Settings,
    (units, desktop): (UnitSet, Desktop),
) -> String {
    let Ok(state) = machine::replay(record) else {
        return phrase::review::NOTHING_TO_COME_BACK_TO.to_owned();
    };
    let Some(setup) = &state.setup else { return phrase::review::NOTHING_TO_COME_BACK_TO.to_owned() };
    let assessment = assess(setup, &state, assets::doubts());
    let subject = Subject { setup, state: &state, assessment: &assessment, seal };
    let head = Letterhead { paper: &settings.paper, session: Some(name) };
    let card = card(&subject, record.opened, units, head);
    let place = records.join(CARDS).join(format!("{name}.html"));
    if let Err(because) = write(&place, &document::as_html(&card)) {
        return cleaned(&because);
    }
    let shown = (desktop == Desktop::Browser).then(|| show(&place));
    let printed = print(settings.paper.printer.as_typed(), &document::as_text(&card));
    cleaned(&phrase::handover::written(&place.to_string_lossy(), shown, printed))
}

fn write(place: &Path, page: &str) -> Result<(), String> {
    if let Some(folder) = place.parent() {
        RealDisk.create_folder(folder).map_err(|error| phrase::handover::not_written(&error.to_string()))?;
    }
    let options = OutOptions { out: Some(PathBuf::from(place)), force: true };
    let written = Outlet::open(&options).and_then(|mut outlet| {
        outlet.write(page)?;
        outlet.finish()
    });
    written.map_err(|failure: Failure| phrase::handover::not_written(&failure.to_string()))?;
    if let (Some(folder), Ok(card)) = (place.parent(), File::open(place)) {
        Sharing::of(folder).give(&card);
    }
    Ok(())
}

/// Opens a page in the browser of the desktop.
fn show(page: &Path) -> phrase::handover::HandedOver {
    let opener = match () {
        () if cfg!(target_os = "macos") => "open",
        () if cfg!(windows) => "explorer",
        () => "xdg-open",
    };
    outcome(quiet(Command::new(opener).arg(page)).spawn())
}

/// Hands a text to the printer's command; none where none is set.
fn print(command: &str, text: &str) -> Option<phrase::handover::HandedOver> {
    let mut words = command.split_whitespace();
    let mut printer = Command::new(words.next()?);
    let spawned = quiet(printer.args(words)).stdin(Stdio::piped()).spawn();
    let fed = spawned.and_then(|mut child| {
        // A card is far smaller than a pipe holds, so that nobody waits for the printer.
        child.stdin.take().map_or(Ok(()), |mut input| input.write_all(text.as_bytes()))?;
        Ok(child)
    });
    Some(outcome(fed))
}

fn quiet(command: &mut Command) -> &mut Command {
    command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null())
}

/// Whether it began; it is waited for elsewhere, so that it does not stay behind.
fn outcome(begun: io::Result<Child>) -> phrase::handover::HandedOver {
    match begun {
        Ok(mut child) => {
            thread::spawn(move || child.wait());
            phrase::handover::HandedOver::Done
        }
        Err(_) => phrase::handover::HandedOver::NotStarted,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn handed(records: &Path, printer: &str) -> String {
        let demonstration = assets::DEMONSTRATIONS.first().expect("there are some");
        let record = crate::archive::form::read(demonstration.text).expect("it reads").record;
        let mut settings = Settings::default();
        settings.paper.printer = crate::text::FreeText::new(printer);
        hand_over(
            (&record, Seal::None),
            "2026-03-14-1005-3f9a2c",
            records,
            &settings,
            (UnitSet::Trade, Desktop::Nothing),
        )
    }

    #[test]
    fn a_card_is_written_beside_the_records_and_again_over_itself() {
        let records = tempfile::tempdir().expect("a folder");
        for _ in 0..2 {
            let said = handed(records.path(), "");
            assert!(said.starts_with("Card written:"), "{said}");
        }
        let page = std::fs::read_to_string(records.path().join("cards/2026-03-14-1005-3f9a2c.html"));
        assert!(page.expect("a page").contains("Setup card"));
    }

    #[test]
    fn a_printer_that_cannot_be_started_is_said() {
        let records = tempfile::tempdir().expect("a folder");
        let said = handed(records.path(), "/no/such/printer -x");
        assert!(said.contains("could not be started"), "{said}");
    }

    #[test]
    #[cfg(unix)]
    fn the_printer_reads_the_text_of_the_card() {
        let records = tempfile::tempdir().expect("a folder");
        let sheet = records.path().join("printed.txt");
        let said = handed(records.path(), &format!("tee {}", sheet.display()));
        assert!(said.contains("sent to the printer"), "{said}");
        let printed = (0..200).find_map(|_| {
            thread::sleep(std::time::Duration::from_millis(10));
            std::fs::read_to_string(&sheet).ok().filter(|text| text.contains("qualified mechanic"))
        });
        assert!(printed.is_some());
    }
}
