//! `coilwright tally`: what the finished sessions of the folder say together; and the same read behind the screen.
//!
//! A record that cannot be read is named on standard error and left out; the others are still counted. Not here: the
//! counting (`assessment::tally`).

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{self, Receiver, SyncSender};
use std::thread;

use chrono::NaiveDate;

use super::export::{PORTION, every_name, in_parallel};
use super::progress::ProgressLine;
use super::{ReadSession, WriteOutcome, not_json, print};
use crate::archive::{Archive, SessionName};
use crate::assessment::tally::{LeftOut, NotCounted, SessionOutcome, Tally, session_outcome};
use crate::assets;
use crate::failure::Failure;
use crate::phrase;
use crate::report;
use crate::screen::effect::{CountNews, CountedSession, SessionCount};
use crate::text::Shown;
use crate::units::UnitSet;

pub(super) fn tally(
    archive: &Archive,
    since: Option<NaiveDate>,
    written: WriteOutcome,
    units: UnitSet,
) -> Result<(), Failure> {
    let names = every_name(archive)?;
    let mut progress = ProgressLine::begin("Read");
    let (mut counted, mut not_counted, mut unreadable) = (Vec::new(), NotCounted::default(), 0);
    let mut done = 0;
    for portion in names.chunks(PORTION) {
        for (name, read) in portion.iter().zip(in_parallel(portion, |name| read(archive, name, since))) {
            match read {
                Ok(None) => {}
                Ok(Some(DatedOutcome { outcome: Ok(outcome), .. })) => counted.push(outcome),
                Ok(Some(DatedOutcome { outcome: Err(why), .. })) => not_counted.add(why),
                Err(_) if since.is_some_and(|since| !name.is_begun_since(since)) => {}
                Err(failure) => {
                    unreadable += 1;
                    progress.say(&failure);
                }
            }
        }
        done += portion.len();
        progress.at(done, names.len());
    }
    drop(progress);
    let tally = Tally::of(&counted.iter().collect::<Vec<_>>());
    print(&match written {
        WriteOutcome::Text => report::tally_as_text(&tally, not_counted, since, units),
        WriteOutcome::Json => report::tally_as_json(&tally, not_counted, since).map_err(not_json)?,
    })?;
    match unreadable {
        0 => Ok(()),
        count => Err(Failure::new(format!("{count} of {} sessions are not counted", names.len()))
            .way_out("The others are. Open the records named above with `coilwright` to see what is wrong.")),
    }
}

/// What came of a session that was read.
struct DatedOutcome {
    /// The day it was begun.
    begun: NaiveDate,
    outcome: Result<SessionOutcome, LeftOut>,
}

/// Reads a session; none that was begun before the day.
fn read(
    archive: &Archive,
    name: &SessionName,
    since: Option<NaiveDate>,
) -> Result<Option<DatedOutcome>, Failure> {
    let opened = archive
        .read(name)
        .map_err(|error| Failure::new(format!("session {name} cannot be read")).because(error))?;
    let session = ReadSession::read(&opened.text, Shown::from(name.as_str()))?;
    let begun = session.record.opened.date_naive();
    let outcome = || session_outcome(&session.record, &session.state, assets::doubts());
    let is_in_it = since.is_none_or(|since| begun >= since);
    Ok(is_in_it.then(|| DatedOutcome { begun, outcome: outcome() }))
}

/// Every session being read behind the screen. Ends soon when dropped.
#[derive(Debug)]
pub(super) struct Counting {
    news: Receiver<CountNews>,
    left: Arc<AtomicBool>,
}

/// Portions that may wait for the screen; then the reading waits.
const WAITING: usize = 16;

impl Counting {
    /// Begins to read.
    pub(super) fn begin(archive: &Archive) -> Self {
        let (sender, news) = mpsc::sync_channel(WAITING);
        let left = Arc::new(AtomicBool::new(false));
        let (archive, ended) = (archive.clone(), Arc::clone(&left));
        thread::spawn(move || count(&archive, &ended, &sender));
        Self { news, left }
    }

    /// What was read since the last call, without waiting.
    pub(super) fn news(&self) -> Vec<CountNews> {
        self.news.try_iter().collect()
    }
}

impl Drop for Counting {
    fn drop(&mut self) {
        self.left.store(true, Ordering::Relaxed);
    }
}

/// Reads every session, the newest first, until nobody listens any more.
fn count(archive: &Archive, left: &AtomicBool, sender: &SyncSender<CountNews>) {
    let names = match every_name(archive) {
        Ok(mut names) => {
            names.reverse();
            names
        }
        Err(failure) => {
            let _ = sender.send(CountNews::Failed(phrase::sentence(&failure.to_string())));
            return;
        }
    };
    let counted = |name: &SessionName| match read(archive, name, None) {
        Ok(Some(DatedOutcome { begun, outcome: Ok(outcome) })) => {
            CountedSession { begun: Some(begun), count: SessionCount::Counted(Box::new(outcome)) }
        }
        Ok(Some(DatedOutcome { begun, outcome: Err(why) })) => {
            CountedSession { begun: Some(begun), count: SessionCount::LeftOut(why) }
        }
        Ok(None) | Err(_) => CountedSession { begun: None, count: SessionCount::Unreadable },
    };
    for portion in names.chunks(PORTION) {
        let sessions = in_parallel(portion, counted);
        let news = CountNews::Read { sessions, of: names.len() };
        if left.load(Ordering::Relaxed) || sender.send(news).is_err() {
            return;
        }
    }
    let _ = sender.send(CountNews::Done);
}
