//! `coilwright tally`: what the finished sessions of the folder say together.
//!
//! A record that cannot be read is named on standard error and left out; the others are still counted. Not here: the
//! counting (`assessment::tally`).

use super::export::{PORTION, every_name, in_parallel};
use super::progress::ProgressLine;
use super::{ReadSession, WriteOutcome, not_json, print};
use crate::archive::{Archive, SessionName};
use crate::assessment::tally::{LeftOut, SessionOutcome, Tally, session_outcome};
use crate::assets;
use crate::failure::Failure;
use crate::report::{self, NotCounted};
use crate::text::Shown;
use crate::units::UnitSet;

pub(super) fn tally(archive: &Archive, written: WriteOutcome, units: UnitSet) -> Result<(), Failure> {
    let names = every_name(archive)?;
    let mut progress = ProgressLine::begin("Read");
    let (mut counted, mut not_counted, mut unreadable) = (Vec::new(), NotCounted::default(), 0);
    let mut done = 0;
    for portion in names.chunks(PORTION) {
        for outcome in in_parallel(portion, |name| outcome(archive, name)) {
            match outcome {
                Ok(Ok(outcome)) => counted.push(outcome),
                Ok(Err(LeftOut::Open)) => not_counted.open += 1,
                Ok(Err(LeftOut::Demonstration)) => not_counted.demonstrations += 1,
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
    let tally = Tally::of(&counted);
    print(&match written {
        WriteOutcome::Text => report::tally_as_text(&tally, not_counted, units),
        WriteOutcome::Json => report::tally_as_json(&tally, not_counted).map_err(not_json)?,
    })?;
    match unreadable {
        0 => Ok(()),
        count => Err(Failure::new(format!("{count} of {} sessions are not counted", names.len()))
            .way_out("The others are. Open the records named above with `coilwright` to see what is wrong.")),
    }
}

fn outcome(archive: &Archive, name: &SessionName) -> Result<Result<SessionOutcome, LeftOut>, Failure> {
    let opened = archive
        .read(name)
        .map_err(|error| Failure::new(format!("session {name} cannot be read")).because(error))?;
    let session = ReadSession::read(&opened.text, Shown::from(name.as_str()))?;
    Ok(session_outcome(&session.record, &session.state, assets::doubts()))
}
