//! The lines of the first screen in words: a choice, a session, how far its work has come.
//!
//! Not here: which there are, and what they do (`home`).

use super::HomeChoice;
use crate::archive::index::WorkSummary;
use crate::phrase::{self, places};
use crate::screen::effect::{ListedSummary, SessionProgress};
use crate::screen::model::Desk;
use crate::screen::part::set_table;
use crate::session::Origin;

/// A choice in words, and what more there is to say of it.
pub(super) fn words(choice: HomeChoice, desk: &Desk) -> (String, String) {
    let plain = |(label, detail): places::ChoiceWords| (label.to_owned(), detail.to_owned());
    match choice {
        HomeChoice::Continue(index) => {
            let (label, state) = past_words(desk, index);
            let work = desk.shelf.past.newest.get(index).and_then(|past| match &past.summary {
                // A demonstration goes on saying that it is one.
                ListedSummary::Read {
                    work,
                    progress: SessionProgress::Unfinished,
                    origin: Origin::Workshop,
                    ..
                } => Some(work),
                _ => None,
            });
            let detail = work.map_or(state, |work| work_words(work, desk));
            (places::go_on(&label), detail)
        }
        HomeChoice::Found(index) => {
            let (label, detail) = past_words(desk, index);
            (places::found(&label), detail)
        }
        HomeChoice::Versions => {
            (places::VERSIONS.to_owned(), places::in_two_versions(desk.shelf.past.in_two_versions.len()))
        }
        HomeChoice::New => plain(places::BEGIN_GUIDED),
        HomeChoice::Trials => plain(places::BEGIN_TRIALS),
        HomeChoice::Demonstrations => {
            (places::DEMONSTRATIONS.to_owned(), places::to_look_at(desk.shelf.demonstrations.len()))
        }
        HomeChoice::Past => {
            let past = &desk.shelf.past;
            let kept = match past.unlisted {
                Some(_) => phrase::folder::UNLISTED.to_owned(),
                None => places::kept(past.newest.len() + past.older),
            };
            (places::REVIEW.to_owned(), kept)
        }
        HomeChoice::Rack => plain(places::TO_RACK),
        HomeChoice::Settings => plain(places::TO_SETTINGS),
        HomeChoice::Wire => plain(places::TO_WIRE),
        HomeChoice::Help => plain(places::TO_HELP),
        HomeChoice::Quit => plain(places::QUIT),
        HomeChoice::OpenDemonstration(index) => {
            (desk.shelf.demonstrations.get(index).cloned().unwrap_or_default(), String::new())
        }
    }
}

/// How far the work has come: "400 lb/in · ▲ 37.8 % · The decision".
fn work_words(work: &WorkSummary, desk: &Desk) -> String {
    let sag = work.sag.zip(work.standing);
    let sag = sag.map(|(sag, standing)| format!("{} {}", set_table::mark(standing), desk.units.show(sag)));
    let spring = work.fitted.map(|rate| desk.units.show(rate));
    let parts = [spring, sag, Some(phrase::step(work.step).title.clone())];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" · ")
}

pub(super) fn past_words(desk: &Desk, index: usize) -> (String, String) {
    let Some(past) = desk.shelf.past.newest.get(index) else { return Default::default() };
    match &past.summary {
        ListedSummary::Read { opened, customer, bike, origin, progress, .. } => {
            let named: Vec<String> = [customer, bike]
                .iter()
                .filter(|text| !text.is_empty())
                .map(|text| text.shown().fitted(28))
                .collect();
            let name = if named.is_empty() { phrase::review::NO_NAME.to_owned() } else { named.join(" · ") };
            let state = match progress {
                SessionProgress::Unfinished => places::UNFINISHED,
                SessionProgress::Closed => places::CLOSED,
                SessionProgress::FoundInSpool => places::FOUND_IN_SPOOL,
                SessionProgress::FoundBeside => places::FOUND_BESIDE,
            };
            let opened = opened.format("%Y-%m-%d %H:%M");
            (
                name,
                match origin {
                    Origin::Workshop => format!("{opened} · {state}"),
                    Origin::Demonstration => {
                        format!("{opened} · {state}, {}", phrase::review::IS_DEMONSTRATION)
                    }
                },
            )
        }
        ListedSummary::Unreadable(why) => (past.name.to_string(), why.clone()),
    }
}
