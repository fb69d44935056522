//! Lists of sessions as the index knows them: a line each for a person, an object each for a script.
//!
//! Not here: which sessions, and in what order (`archive`).

use serde::Serialize;

use super::json::{step_name, tidy};
use crate::archive::index::{Contents, IndexedSession, Location, SessionSummary, Trouble};
use crate::phrase;
use crate::session::{Origin, Step};
use crate::text::Shown;
use crate::units::display::Show;
use crate::units::{Share, UnitSet};

/// The most of a name that a line shows, in terminal cells.
const LONGEST_NAME: usize = 40;

/// One line a session, in the units of the set; ends with a line break unless there are none.
pub fn sessions_as_text(sessions: &[&IndexedSession], units: UnitSet) -> String {
    sessions.iter().map(|session| line(session, units) + "\n").collect()
}

/// All of them as one JSON object, one line a session.
///
/// # Errors
/// Only when a figure cannot be written as JSON, which no checked quantity can cause.
pub fn sessions_as_json(sessions: &[&IndexedSession]) -> Result<String, serde_json::Error> {
    let rows = sessions.iter().map(|session| serde_json::to_string(&row(session)));
    let rows = rows.collect::<Result<Vec<_>, _>>()?;
    Ok(format!("{{\"schema\": 2, \"sessions\": [\n{}\n]}}\n", rows.join(",\n")))
}

fn line(session: &IndexedSession, units: UnitSet) -> String {
    let file = session.name.record();
    match &session.contents {
        Contents::Read(summary) => {
            format!("{}  {file}", line_of_summary(summary, session.whereabouts, units))
        }
        Contents::Unreadable { because, .. } => {
            format!("{file} cannot be read: {}", Shown::from(because.as_str()))
        }
    }
}

fn line_of_summary(summary: &SessionSummary, whereabouts: Location, units: UnitSet) -> String {
    let work = &summary.work;
    let day = summary.opened.format("%Y-%m-%d");
    let step = phrase::step(work.step).title.as_str();
    let spring = work.fitted.map_or_else(|| "-".to_owned(), |rate| rate.written(units).to_string());
    let sag = match (work.sag, work.target) {
        (Some(sag), Some(target)) => format!("sag {} of {}", units.show(sag), units.show(target)),
        _ => "no sag yet".to_owned(),
    };
    let swaps = match work.swaps {
        1 => "1 swap".to_owned(),
        swaps => format!("{swaps} swaps"),
    };
    let names = [&summary.customer, &summary.bike].map(|text| text.shown().fitted(LONGEST_NAME));
    let names: Vec<&str> = names.iter().map(String::as_str).filter(|name| !name.is_empty()).collect();
    let names = names.join(", ") + marks(summary) + left_marks(whereabouts);
    format!("{day}  {step:<20}  {spring:<12}  {sag:<21}  {swaps:<8}  {names}")
}

fn marks(summary: &SessionSummary) -> &'static str {
    match (summary.origin, summary.seal.is_sound()) {
        (Origin::Workshop, true) => "",
        (Origin::Workshop, false) => " (changed outside the program)",
        (Origin::Demonstration, true) => " (demonstration)",
        (Origin::Demonstration, false) => " (demonstration, changed outside the program)",
    }
}

/// What is said of a session without a record.
fn left_marks(whereabouts: Location) -> &'static str {
    match whereabouts {
        Location::Records => "",
        Location::Spool => " (only in the spool on this computer)",
        Location::Beside => " (record gone, another version found)",
    }
}

#[derive(Serialize)]
struct SessionRow {
    file: String,
    lies: &'static str,
    opened: Option<String>,
    customer: Option<String>,
    bike: Option<String>,
    demonstration: Option<bool>,
    step: Option<&'static str>,
    closed: Option<bool>,
    fitted_lb_in: Option<f64>,
    swaps: Option<u16>,
    sag_percent: Option<f64>,
    target_percent: Option<f64>,
    revision: Option<u64>,
    changed_outside: Option<bool>,
    unreadable: Option<&'static str>,
    because: Option<String>,
}

fn row(session: &IndexedSession) -> SessionRow {
    let (summary, unreadable) = match &session.contents {
        Contents::Read(summary) => (Some(summary), None),
        Contents::Unreadable { trouble, because } => (None, Some((*trouble, because))),
    };
    let work = summary.map(|summary| summary.work);
    let percent = |share: Share| tidy(share.as_percent());
    SessionRow {
        file: session.name.record(),
        lies: whereabouts_name(session.whereabouts),
        opened: summary.map(|summary| summary.opened.to_rfc3339()),
        customer: summary.map(|summary| summary.customer.shown().to_string()),
        bike: summary.map(|summary| summary.bike.shown().to_string()),
        demonstration: summary.map(|summary| summary.origin == Origin::Demonstration),
        step: work.map(|work| step_name(work.step)),
        closed: work.map(|work| work.step == Step::Closed),
        fitted_lb_in: work.and_then(|work| work.fitted).map(|rate| tidy(rate.as_lb_per_in())),
        swaps: work.map(|work| work.swaps),
        sag_percent: work.and_then(|work| work.sag).map(percent),
        target_percent: work.and_then(|work| work.target).map(percent),
        revision: summary.map(|summary| summary.seal.revision().get()),
        changed_outside: summary.map(|summary| !summary.seal.is_sound()),
        unreadable: unreadable.map(|(trouble, _)| trouble_name(trouble)),
        because: unreadable.map(|(_, because)| Shown::from(because.as_str()).to_string()),
    }
}

/// The name that scripts go by of where a session lies.
fn whereabouts_name(whereabouts: Location) -> &'static str {
    match whereabouts {
        Location::Records => "in_records",
        Location::Spool => "in_spool",
        Location::Beside => "record_gone",
    }
}

/// The name of a trouble that scripts go by.
pub(super) fn trouble_name(trouble: Trouble) -> &'static str {
    match trouble {
        Trouble::Newer => "newer",
        Trouble::Damaged => "damaged",
        Trouble::NotARecord => "not_a_record",
        Trouble::OutOfReach => "out_of_reach",
    }
}
