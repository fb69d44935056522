//! Quick trials: sag after sag, for a rider who knows the way.
//!
//! Not here: the guided walk.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;
use ratatui::widgets::{Paragraph, Wrap};

use crate::phrase;
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Go, Notice, OpenSession, Reply};
use crate::screen::part::field::{self, Field};
use crate::session::{Caution, Deed, Stamp, Step};
use crate::units::{Unreadable, parse};

/// What is being typed.
#[derive(Debug, Default)]
pub struct Trials {
    field: Field,
}

/// What quick trials wait for.
#[derive(Debug, Clone, Copy)]
enum Wanted {
    Acknowledgement(Caution),
    ContactTurns,
    Reading,
}

impl Trials {
    /// The actions live here, in the order of the footer.
    pub fn live(&self, _: &Desk) -> Vec<Action> {
        vec![Action::Accept, Action::TakeBack, Action::StartAnew, Action::Back]
    }

    /// What to do now.
    pub fn hint(&self, _: &Desk) -> Option<String> { None }

    /// What the focused field takes.
    pub fn typing(&self, desk: &Desk) -> Typing {
        match desk.session.as_ref().map(wanted) {
            Some(Wanted::ContactTurns | Wanted::Reading) => Typing::Figure,
            _ => Typing::Nothing,
        }
    }
}

fn wanted(session: &OpenSession) -> Wanted {
    let opened = !matches!(session.state.step, Step::BenchCheck | Step::Unload);
    let before: &[Caution] = if opened {
        &[Caution::ShaftScratch, Caution::SitGently]
    } else {
        &[Caution::BikeSteady, Caution::LooseCollar]
    };
    let ever = &session.state.cautions.ever;
    match before.iter().find(|caution| !ever.contains(caution)) {
        Some(caution) => Wanted::Acknowledgement(*caution),
        None if opened => Wanted::Reading,
        None => Wanted::ContactTurns,
    }
}

/// Takes a key in.
pub fn update(trials: &mut Trials, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
    let deed = match pressed {
        Pressed::Edit(edit) => {
            trials.field.edit(edit);
            return Reply::stay();
        }
        Pressed::Action(Action::Back) => return Reply::going(Go::Back),
        Pressed::Action(Action::Accept) => accepted(trials, desk),
        Pressed::Action(Action::TakeBack) => Ok(Some(Deed::Back)),
        Pressed::Action(Action::StartAnew) => Ok(Some(Deed::Redo)),
        Pressed::Action(_) => Ok(None),
    };
    match deed {
        Ok(None) => Reply::stay(),
        Ok(Some(deed)) => {
            let effects = desk.advance(at, deed);
            if !effects.is_empty() {
                trials.field.clear();
            }
            Reply::asking(effects)
        }
        Err(unreadable) => {
            desk.say(Notice::Unreadable(unreadable));
            Reply::stay()
        }
    }
}

fn accepted(trials: &Trials, desk: &Desk) -> Result<Option<Deed>, Unreadable> {
    let Some(session) = &desk.session else { return Ok(None) };
    let text = trials.field.text();
    Ok(Some(match wanted(session) {
        Wanted::Acknowledgement(caution) => Deed::CautionSeen(caution),
        Wanted::ContactTurns => Deed::TrialsOpened { past_contact: parse::turns(text)?.value },
        Wanted::Reading => Deed::Trial { moved: parse::length(text, desk.units)?.value },
    }))
}

/// Draws it.
pub fn draw(frame: &mut Frame<'_>, area: Rect, trials: &Trials, desk: &Desk) {
    let Some(session) = &desk.session else { return };
    let [text, entry] = Layout::vertical([Constraint::Min(1), Constraint::Length(2)]).areas(area);
    let lines = match wanted(session) {
        Wanted::Acknowledgement(caution) => {
            let words = phrase::caution(caution);
            vec![
                Line::styled(format!("Caution: {}", words.headline), desk.theme.alert()),
                Line::raw(words.text.clone()),
            ]
        }
        Wanted::ContactTurns => vec![Line::raw(phrase::step(Step::Unload).entry.clone())],
        Wanted::Reading => vec![Line::raw(phrase::step(Step::SeatedReading).entry.clone())],
    };
    frame.render_widget(Paragraph::new(lines).wrap(Wrap { trim: true }), text);
    if trials.typing(desk) != Typing::Nothing {
        field::draw(frame, Rect { width: entry.width.min(30), ..entry }, &trials.field, desk.theme);
    }
}
