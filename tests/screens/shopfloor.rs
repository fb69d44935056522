//! The screen in front of the real shell: records in a folder on a real disk, the clock pinned.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::thread::sleep;
use std::time::Duration;

use chrono::{Days, Months};
use coilwright::app::shell::DiskShell;
use coilwright::archive::seal::{Revision, seal};
use coilwright::archive::{Archive, FolderIdentity, RealDisk, SessionName};
use coilwright::screen::effect::{Answer, Behind, Effect, Shell};
use coilwright::screen::model::Model;
use coilwright::screen::theme::{Theme, ThemeChoice};
use coilwright::screen::{self, BackgroundWork};
use coilwright::session::{Record, Stamp};
use coilwright::units::UnitSet;
use crossterm::event::Event;

use super::{events, noon};

/// The real shell with the clock of every test.
pub(crate) struct Pinned(DiskShell);

impl Shell for Pinned {
    fn now(&self) -> Stamp {
        noon()
    }

    fn perform(&mut self, effect: Effect) -> Answer {
        self.0.perform(effect)
    }

    fn behind(&mut self) -> Behind {
        self.0.behind()
    }
}

/// A screen, a shop and its folder.
pub(crate) struct Shopfloor {
    pub(crate) model: Model,
    pub(crate) shell: Pinned,
    pub(crate) records: PathBuf,
    _home: tempfile::TempDir,
}

impl Shopfloor {
    /// A shop whose folder was filled before the screen came up.
    pub(crate) fn with(fill: impl FnOnce(&Path)) -> Self {
        let home = tempfile::tempdir().expect("a temporary folder");
        let records = home.path().join("records");
        let identity = FolderIdentity::new(7);
        let archive = Archive::create(Arc::new(RealDisk), &records, &home.path().join("spool"), identity)
            .expect("a records folder");
        fill(&records);
        let mut shop = DiskShell::new(archive, Some(home.path().join("cache")));
        let model = Model::new(shop.shelf("/records".to_owned()), UnitSet::Trade, Theme::DARK);
        Self { model, shell: Pinned(shop), records, _home: home }
    }

    /// Starts the program anew in this shop, with settings that lie beside its records.
    pub(crate) fn start_under(&mut self, look: ThemeChoice) {
        let shop = &mut self.shell.0;
        let model = Model::new(shop.shelf("/records".to_owned()), UnitSet::Trade, look.found);
        let file = shop.settings();
        self.model = model.under(file, "/home/settings.ron".to_owned(), look);
    }

    /// A shop with the five sessions that ship, under their own names.
    pub(crate) fn of_demonstrations() -> Self {
        Self::with(copy_demonstrations)
    }

    /// Presses keys, and lets the check behind the screen come to its end after each.
    pub(crate) fn press(&mut self, keys: &str) -> &mut Self {
        for key in events(keys) {
            self.model.was_drawn();
            screen::take_in(&mut self.model, &mut self.shell, Event::Key(key));
            while screen::take_news(&mut self.model, &mut self.shell) == BackgroundWork::UnderWay {
                sleep(Duration::from_millis(1));
            }
        }
        self
    }

    /// The frame as text, without blanks at the ends of lines.
    pub(crate) fn frame(&self, width: u16, height: u16) -> String {
        super::drawn(&self.model, width, height)
    }

    pub(crate) fn shows(&self, text: &str) -> bool {
        self.frame(80, 24).contains(text)
    }

    pub(crate) fn record(&self) -> &Record {
        &self.model.desk.session.as_ref().expect("a session is open").record
    }

    /// Fails with the frame unless it shows the text.
    pub(crate) fn must_show(&self, text: &str) -> &Self {
        assert!(self.shows(text), "{text} is not on:\n{}", self.frame(80, 24));
        self
    }
}

/// Where the sessions that ship lie.
pub(crate) fn demonstrations() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sessions");
    let mut files: Vec<PathBuf> =
        fs::read_dir(folder).expect("they ship").map(|file| file.expect("a file").path()).collect();
    files.sort();
    files
}

pub(crate) fn copy_demonstrations(records: &Path) {
    for file in demonstrations() {
        let name = file.file_name().expect("a name");
        fs::copy(&file, records.join(name)).expect("it can be copied");
    }
}

/// Some hundreds of invented sessions: the demonstrations again and again, for other customers on other days.
pub(crate) fn fill_with(records: &Path, sessions: u32) {
    let texts: Vec<String> =
        demonstrations().iter().map(|file| fs::read_to_string(file).expect("text")).collect();
    for (number, text) in (0..sessions).zip(texts.iter().cycle()) {
        let opened = noon() - Months::new(number / 30) - Days::new(u64::from(number % 30));
        let customer = |line: &str| match line.trim_start() {
            line if line.starts_with("customer:") => format!("    customer: \"Invented customer {number}\","),
            line if line.starts_with("opened:") => format!("    opened: \"{}\",", opened.to_rfc3339()),
            _ => line.to_owned(),
        };
        let body: Vec<String> =
            text.lines().filter(|line| !line.starts_with("// rev")).map(customer).collect();
        let text = seal(&(body.join("\n") + "\n"), Revision::new(1));
        let name = SessionName::new(&opened, number);
        fs::write(records.join(name.record()), text).expect("it can be written");
    }
}
