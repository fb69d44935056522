//! The wiring: clock, environment and archive on one side, screen or a command without a screen on the other.
//!
//! Nothing but `main` imports this. Not here: what a key does (`screen`), what a record means (`assessment`).

mod backup;
mod backup_file;
mod card;
mod check;
mod export;
mod figures;
mod find;
mod forget;
pub mod hand_over;
mod index;
mod list;
mod look;
mod manual;
mod merge;
mod outlet;
mod own_files;
mod progress;
mod records;
mod said;
pub mod shell;
mod shown_units;
mod stock;
mod table;
mod tally;

use std::env;
use std::fs;
use std::hash::{BuildHasher, Hasher, RandomState};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use directories::ProjectDirs;

use crate::archive::{
    Archive, FolderError, FolderIdentity, FolderRole, KnownFolders, LARGEST_RECORD, RealDisk, Seal, form,
    known_folders, open, seal::read_seal, settings_file,
};
use crate::assessment::assess;
use crate::assets;
use crate::cli::{Cli, Command, ThemeName};
use crate::failure::{self, Failure};
use crate::phrase;
use crate::report::{self, Subject};
use crate::screen::model::{Model, Notice};
use crate::screen::terminal::{self, Console};
use crate::screen::theme::{Glyphs, Ink, Theme, ThemeChoice};
use crate::session::{Record, Setup, State};
use crate::text::Shown;
use crate::units::UnitSet;
use hand_over::Desktop;
use records::{Empty, Entered};
use shell::DiskShell;

/// Runs what the command line asks for.
///
/// # Errors
/// With what to tell the user.
pub fn run(cli: &Cli) -> Result<(), Failure> {
    match &cli.command {
        None => full_screen(cli),
        Some(Command::Assess { file, json }) => {
            assess_record(file, WriteOutcome::asked(*json), shown_units::of(cli, None))
        }
        Some(Command::List { json, limit }) => {
            let units = shown_units::of(cli, None);
            list::list(
                &existing_records(records_asked(cli)?.as_deref())?,
                WriteOutcome::asked(*json),
                *limit,
                units,
            )
        }
        Some(Command::Card(options)) => {
            card::write(options, records_asked(cli)?.as_deref(), &own_files::settings_in(settings_asked(cli)))
        }
        Some(Command::Export(options)) => export::write(options, records_asked(cli)?.as_deref()),
        Some(Command::Completions { shell }) => print(&manual::completions(*shell)),
        Some(Command::Manual) => print(&manual::page()?),
        Some(Command::Leverage(query)) => figures::leverage(query),
        Some(Command::Wire(query)) => figures::wire(query),
        Some(Command::Find { words, json }) => {
            let archive = existing_records(records_asked(cli)?.as_deref())?;
            find::find(&archive, &words.join(" "), WriteOutcome::asked(*json), shown_units::of(cli, None))
        }
        Some(Command::Tally { json, since }) => {
            let archive = existing_records(records_asked(cli)?.as_deref())?;
            tally::tally(&archive, *since, WriteOutcome::asked(*json), shown_units::of(cli, None))
        }
        Some(Command::Backup { file }) => {
            backup_file::make(file, &existing_records(records_asked(cli)?.as_deref())?)
        }
        Some(Command::Restore { file, merge }) => {
            let place = folders(records_asked(cli)?.as_deref())?;
            backup_file::restore(file, backup_file::Others::asked(*merge), &place, Empty::taken_for(cli))
        }
        Some(Command::Forget(options)) => {
            forget::forget_by_command(options, &existing_records(records_asked(cli)?.as_deref())?)
        }
        Some(Command::Merge(options)) => {
            let archive = existing_records(records_asked(cli)?.as_deref())?;
            merge::merge_by_command(options, &archive, shown_units::of(cli, None))
        }
        Some(Command::Check { json }) => {
            check::check(&existing_records(records_asked(cli)?.as_deref())?, WriteOutcome::asked(*json))
        }
    }
}

fn full_screen(cli: &Cli) -> Result<(), Failure> {
    if !terminal::is_there() {
        return Err(Failure::of_use("coilwright needs a terminal.")
            .way_out("Without one, `coilwright assess FILE` says what a record means."));
    }
    let Entered { archive, note, role } = records(cli)?;
    let known = if role == FolderRole::Home { known_folders() } else { None };
    let brought = backup::settle(&archive, known, index::cache().as_deref());
    let folder = Shown::from(archive.records_folder().to_string_lossy().as_ref()).to_string();
    let reassurance = format!("Every step that was shown as saved is in {folder}");
    let settings = settings(cli, &archive);
    let place = Shown::from(settings.to_string_lossy().as_ref()).to_string();
    let mut shop = DiskShell::new(archive, index::cache())
        .with_settings_in(settings)
        .with_desktop(Desktop::of_this_machine());
    let (file, look) = (shop.settings(), look(cli));
    let model = Model::new(shop.shelf(folder), UnitSet::default(), look.found);
    let mut model = model.under(file, place, look);
    let remarks: Vec<String> =
        note.into_iter().chain(brought).chain(model.desk.shelf.past.note.clone()).collect();
    if !remarks.is_empty() {
        model.desk.say(Notice::Said(remarks.join(" ")));
    }
    let failed = |error: io::Error| {
        Failure::new("The terminal stopped responding. Every step shown as saved is on disk.").because(error)
    };
    let mut console = Console::take(reassurance).map_err(failed)?;
    crate::screen::run(&mut console, &mut shop, &mut model).map_err(failed)
}

/// The records folder asked for, or the user's own, made if it never was there.
fn records(cli: &Cli) -> Result<Entered, Failure> {
    let (records, spool) = folders(records_asked(cli)?.as_deref())?;
    let known = known_folders();
    records::enter(&records, &spool, known, Empty::taken_for(cli), FolderIdentity::new(random()))
        .map_err(|error| unusable(error).way_out("Start it again with --records FOLDER, naming another."))
}

/// The file in which this machine remembers its folders. Without a home there is no place of one's own to remember in.
fn known_folders() -> Option<PathBuf> {
    ProjectDirs::from("", "", "coilwright").map(|own| own.data_local_dir().join(known_folders::FILE))
}

/// The same for looking only: nothing is made.
fn existing_records(asked: Option<&Path>) -> Result<Archive, Failure> {
    let (records, spool) = folders(asked)?;
    let opened = Archive::open(Arc::new(RealDisk), &records, &spool, None);
    let place = |archive: &Archive| {
        let known = KnownFolders::read(&RealDisk, &known_folders()?);
        Some(known.role_of(&std::path::absolute(&records).ok()?, archive.identity()))
    };
    let opened = opened.map(|archive| match place(&archive) {
        Some(FolderRole::Copy) => archive.as_a_copy(),
        _ => archive,
    });
    opened.map_err(|error| {
        unusable(error).way_out(
            "Start it again with --records FOLDER, naming another. The folder of your own account is made when `coilwright` is first started.",
        )
    })
}

/// A records folder that cannot be used, in one sentence.
fn unusable(error: FolderError) -> Failure {
    match error {
        FolderError::Unusable { folder, source } => Failure::new(format!(
            "the records folder {} cannot be used, because {}.",
            folder.display(),
            failure::plainly(&source)
        )),
        other => Failure::new(phrase::sentence(&other.to_string())),
    }
}

/// The records folder asked for by flag or variable, else the one the settings name; none for the user's own.
fn records_asked(cli: &Cli) -> Result<Option<PathBuf>, Failure> {
    if let Some(asked) = &cli.records {
        return Ok(Some(asked.clone()));
    }
    let text = settings_asked(cli).and_then(|file| open::read_text(&RealDisk, &file).ok());
    let named = text.map_or(Ok(None), |opened| settings_file::records_in(&opened.text));
    let named = named.map_err(|faults| {
        let lines: Vec<String> = faults.iter().map(ToString::to_string).collect();
        Failure::of_use(phrase::settings::RECORDS_UNKNOWN)
            .listing(lines.iter().map(String::as_str))
            .way_out(phrase::settings::NAME_RECORDS)
    })?;
    Ok(named.map(|folder| table::at_home(&folder)))
}

/// Where records and spool lie.
fn folders(asked: Option<&Path>) -> Result<(PathBuf, PathBuf), Failure> {
    let own = ProjectDirs::from("", "", "coilwright");
    let records = match (asked, &own) {
        (Some(asked), _) => asked.to_owned(),
        (None, Some(own)) => own.data_dir().join("records"),
        (None, None) => {
            return Err(Failure::new("there is no home folder to keep records in")
                .way_out("Name a folder with --records FOLDER."));
        }
    };
    let spool = own.map_or_else(|| env::temp_dir().join("coilwright-spool"), |own| spool_of(&own));
    Ok((records, spool))
}

fn spool_of(own: &ProjectDirs) -> PathBuf {
    own.data_local_dir().join("spool")
}

/// The file of the settings: the one asked for, else that of the user, else one beside the records. A link to it is
/// followed, so that a write replaces what it leads to and not the link.
fn settings(cli: &Cli, archive: &Archive) -> PathBuf {
    let file = settings_asked(cli).unwrap_or_else(|| archive.records_folder().join(settings_file::NAME));
    fs::canonicalize(&file).unwrap_or(file)
}

/// The file of the settings asked for, or that of the user; none without a home.
fn settings_asked(cli: &Cli) -> Option<PathBuf> {
    let own =
        || ProjectDirs::from("", "", "coilwright").map(|own| own.config_dir().join(settings_file::NAME));
    cli.settings.clone().or_else(own)
}

/// A number nobody else draws: the standard library seeds its hashers from the system.
fn random() -> u64 {
    RandomState::new().build_hasher().finish()
}

/// What the look comes from: the command line, and what the environment says of the terminal.
fn look(cli: &Cli) -> ThemeChoice {
    let asked_ink = cli.theme.map(|theme| match theme {
        ThemeName::Dark => Ink::Dark,
        ThemeName::Light => Ink::Light,
        ThemeName::HighContrast => Ink::HighContrast,
        ThemeName::Plain => Ink::Plain,
    });
    ThemeChoice { found: found_theme(), asked_ink, asked_glyphs: cli.ascii.then_some(Glyphs::Ascii) }
}

/// Inks and glyphs by what the environment says of the terminal.
fn found_theme() -> Theme {
    let set = |name: &str| env::var_os(name).is_some_and(|value| !value.is_empty());
    let ink = match () {
        () if set("NO_COLOR") || is_terminal("dumb") => Ink::Plain,
        // Its console shows dimmed text in a grey that cannot be read.
        () if is_terminal("linux") => Ink::HighContrast,
        () if ground_is_light() => Ink::Light,
        () => Ink::Dark,
    };
    let glyphs = if is_terminal("linux") || !locale_is_utf8() { Glyphs::Ascii } else { Glyphs::Full };
    Theme { ink, glyphs }
}

/// Whether the terminal says that its ground is light: some set COLORFGBG to the colours of ink and ground among their
/// sixteen, of which 7 and 15 are the whites (a convention among terminals, no standard).
fn ground_is_light() -> bool {
    let said = env::var("COLORFGBG").unwrap_or_default();
    said.rsplit(';').next().is_some_and(|ground| ["7", "15"].contains(&ground))
}

fn is_terminal(name: &str) -> bool {
    env::var_os("TERM").is_some_and(|value| value == name)
}

/// Whether the locale in force names UTF-8; the first of the three variables that is set decides, as POSIX has it
/// (POSIX.1-2017, Base Definitions, 8.2). Windows says nothing there and has it.
fn locale_is_utf8() -> bool {
    let names = ["LC_ALL", "LC_CTYPE", "LANG"];
    let said = names.into_iter().filter_map(env::var_os).find(|value| !value.is_empty());
    match said {
        Some(locale) => {
            let locale = locale.to_string_lossy().to_lowercase();
            locale.contains("utf-8") || locale.contains("utf8")
        }
        None => cfg!(windows),
    }
}

/// In what form an assessment is written.
#[derive(Debug, Clone, Copy)]
enum WriteOutcome {
    Text,
    Json,
}

impl WriteOutcome {
    fn asked(json: bool) -> Self {
        if json { Self::Json } else { Self::Text }
    }
}

/// Words for a report that no JSON could be made of.
fn not_json(error: serde_json::Error) -> Failure {
    Failure::new("the report cannot be written as JSON").because(error)
}

fn assess_record(file: &Path, written: WriteOutcome, units: UnitSet) -> Result<(), Failure> {
    let session = read_session(file)?;
    let (setup, state) = (session.setup()?, &session.state);
    let assessment = assess(setup, state, assets::doubts());
    let subject = Subject { setup, state, assessment: &assessment, seal: session.seal };
    session.tell_if_changed();
    let report = match written {
        WriteOutcome::Text => report::as_text(&subject, units),
        WriteOutcome::Json => report::as_json(&subject)
            .map_err(|error| Failure::new("the assessment cannot be written as JSON").because(error))?,
    };
    print(&report)
}

/// A record read, and what it folds to.
struct ReadSession {
    /// What it came from, safe to show.
    name: Shown,
    record: Record,
    state: State,
    /// Whether the file is as this program wrote it.
    seal: Seal,
}

impl ReadSession {
    /// Reads the text of a record.
    fn read(text: &str, name: Shown) -> Result<Self, Failure> {
        let read = form::read(text)
            .map_err(|error| Failure::new(format!("{name} cannot be read as a record")).because(error))?;
        Ok(Self { name, record: read.record, state: read.state, seal: read_seal(text) })
    }

    /// Says on standard error that the file is not as this program wrote it, where it is not.
    fn tell_if_changed(&self) {
        if !self.seal.is_sound() {
            // A closed standard error leaves nobody to tell.
            let _ = writeln!(io::stderr(), "coilwright: {}", phrase::folder::changed_outside(&self.name));
        }
    }

    /// The complete intake.
    fn setup(&self) -> Result<&Setup, Failure> {
        self.state.setup.as_ref().ok_or_else(|| {
            let name = &self.name;
            Failure::new(format!("{name} has no complete intake yet, so there is nothing to assess"))
                .way_out("Open it with `coilwright` and finish the details.")
        })
    }
}

fn read_session(file: &Path) -> Result<ReadSession, Failure> {
    ReadSession::read(&read_text(file, "the record")?, Shown::from(file.to_string_lossy().as_ref()))
}

/// Writes to standard output; a reader that has gone, as `head` does, is no error.
fn print(report: &str) -> Result<(), Failure> {
    let ended = if report.ends_with('\n') { "" } else { "\n" };
    match write!(io::stdout().lock(), "{report}{ended}").and_then(|()| io::stdout().flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Failure::new("the report cannot be written").because(error))
        }
        _ => Ok(()),
    }
}

/// The text of a file, named by what it is to be, or of standard input.
fn read_text(file: &Path, what: &str) -> Result<String, Failure> {
    if file != Path::new("-") {
        return crate::archive::open::read_text(&RealDisk, file)
            .map(|opened| opened.text)
            .map_err(|error| Failure::new(format!("{what} cannot be read")).because(error));
    }
    let mut text = String::new();
    let most = LARGEST_RECORD + 1;
    io::stdin()
        .lock()
        .take(most)
        .read_to_string(&mut text)
        .map_err(|error| Failure::new("standard input cannot be read as text").because(error))?;
    if text.len() as u64 == most {
        return Err(Failure::new(format!(
            "standard input is longer than {LARGEST_RECORD} bytes; {what} never is"
        )));
    }
    Ok(text)
}
