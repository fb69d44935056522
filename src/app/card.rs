//! The command that writes a setup card, or the workshop's own copy, and the card that a key of the screen writes (`hand_over`).
//!
//! Not here: what a card says and looks like (`report`).

use std::path::{Path, PathBuf};

use super::outlet::Outlet;
use super::{existing_records, index, read_session};
use crate::archive::index::{Contents, IndexedSession};
use crate::archive::{Archive, Finder, SessionName};
use crate::assessment::assess;
use crate::assets;
use crate::cli::CardOptions;
use crate::document;
use crate::failure::Failure;
use crate::report::{Letterhead, Subject, card, sessions_as_text, workshop_copy};
use crate::session::Stamp;
use crate::settings::Settings;
use crate::text::Shown;
use crate::units::UnitSet;

/// The most sessions named where the words find several.
const MOST_NAMED: usize = 10;

/// Writes the card of one session to where it is wanted.
pub(super) fn write(
    options: &CardOptions,
    records: Option<&Path>,
    settings: &Settings,
) -> Result<(), Failure> {
    let file = place_of(&options.session, records)?;
    let session = read_session(&file)?;
    let (setup, state) = (session.setup()?, &session.state);
    let assessment = assess(setup, state, assets::doubts());
    let subject = Subject { setup, state, assessment: &assessment, seal: session.seal };
    session.tell_if_changed();
    let units = options.units.map_or(settings.units, Into::into);
    let opened = session.record.opened;
    let stem = file.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let name = stem.filter(|stem| format!("{stem}.ron").parse::<SessionName>().is_ok());
    let head = Letterhead { paper: &settings.paper, session: name.as_deref() };
    let card = if options.workshop {
        workshop_copy(&subject, &session.record, units)
    } else {
        card(&subject, opened, units, head)
    };
    let card = if options.html { document::as_html(&card) } else { document::as_text(&card) };
    let mut outlet = Outlet::open(&options.to)?;
    outlet.write(&card)?;
    outlet.finish()
}

/// Where the record of a session lies that was named by its file, by its name alone, or by words that find it. A file that
/// is there goes first.
fn place_of(session: &[PathBuf], records: Option<&Path>) -> Result<PathBuf, Failure> {
    if let [only] = session {
        let name = only.to_string_lossy();
        let stem = name.strip_suffix(".ron").unwrap_or(&name);
        if only.exists() || is_meant_as_a_file(only) {
            return Ok(only.clone());
        }
        if let Ok(name) = format!("{stem}.ron").parse::<SessionName>() {
            return Ok(existing_records(records)?.record_path(&name));
        }
    }
    let words: Vec<_> = session.iter().map(|word| word.to_string_lossy()).collect();
    found(&existing_records(records)?, &words.join(" "))
}

/// Whether it can be nothing but a file: standard input, a path of several parts, or a record that is not one of the
/// program's own names.
fn is_meant_as_a_file(session: &Path) -> bool {
    let is_record = session.extension().is_some_and(|ending| ending == "ron");
    let is_named = session.to_string_lossy().parse::<SessionName>().is_ok();
    session == Path::new("-") || session.components().count() > 1 || (is_record && !is_named)
}

/// The one session that the words find.
fn found(archive: &Archive, words: &str) -> Result<PathBuf, Failure> {
    let index = index::up_to_date(archive)?;
    let places = Finder::new(&index).find(words);
    let found: Vec<_> = places.into_iter().map(|place| &index.sessions()[place]).collect();
    let shown = Shown::from(words).fitted(60);
    match found[..] {
        [only] => Ok(archive.record_path(&only.name)),
        [first, ..] if found.iter().all(|other| is_same_customer(first, other)) => {
            let newest = found.iter().max_by_key(|session| opened(session)).unwrap_or(&first);
            Ok(archive.record_path(&newest.name))
        }
        [] => Err(Failure::new(format!("no session holds all of these words: {shown}"))
            .way_out("Try fewer words, or shorter ones; `coilwright list` names all sessions.")),
        _ => {
            let named = sessions_as_text(&found[..found.len().min(MOST_NAMED)], UnitSet::default());
            Err(Failure::of_use(format!("{} sessions hold these words: {shown}", found.len()))
                .listing(named.lines())
                .way_out(
                    "Name the one you mean by its file, or add a word; `coilwright find` lists them all.",
                ))
        }
    }
}

/// Whether both were read and are of one customer, who has a name; then the newest is meant.
fn is_same_customer(one: &IndexedSession, other: &IndexedSession) -> bool {
    let who = |session: &IndexedSession| match &session.contents {
        Contents::Read(summary) => summary.customer.as_typed().trim().to_lowercase(),
        Contents::Unreadable { .. } => String::new(),
    };
    !who(one).is_empty() && who(one) == who(other)
}

fn opened(session: &IndexedSession) -> Option<Stamp> {
    match &session.contents {
        Contents::Read(summary) => Some(summary.opened),
        Contents::Unreadable { .. } => None,
    }
}
