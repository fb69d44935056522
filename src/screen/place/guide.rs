//! The guided walk: one step at a time, its caution first, then what to do and what to enter.
//!
//! Which step comes next is the machine's to say; here a key becomes a deed. Not here: quick trials, and words (`phrase`).

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;
use ratatui::widgets::{Paragraph, Wrap};

use super::Place;
use super::intake::Form;
use crate::phrase;
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Go, Notice, OpenSession, Reply};
use crate::screen::part::field::{self, Field};
use crate::session::{Awaiting, Deed, Stamp, TickedHow};
use crate::units::{Unreadable, parse};

/// What is being typed at the present step.
#[derive(Debug, Default)]
pub struct Guide {
    field: Field,
}

impl Guide {
    /// The actions live here, in the order of the footer.
    pub fn live(&self, desk: &Desk) -> Vec<Action> {
        let mut live = vec![Action::Accept];
        match awaiting(desk) {
            Awaiting::Tick(check) if check.may_be_absent() => live.push(Action::HasNone),
            Awaiting::Indicator | Awaiting::Reading => live.push(Action::Enough),
            _ => {}
        }
        live.extend([Action::TakeBack, Action::StartAnew, Action::Details, Action::Back]);
        live
    }

    /// What the focused field takes.
    pub fn typing(&self, desk: &Desk) -> Typing {
        match awaiting(desk) {
            Awaiting::ContactTurns | Awaiting::Reading | Awaiting::TrimTurns(_) => Typing::Figure,
            _ => Typing::Nothing,
        }
    }
}

fn awaiting(desk: &Desk) -> Awaiting {
    desk.session.as_ref().map_or(Awaiting::Nothing, |session| session.state.awaiting())
}

/// Takes a key in.
pub fn update(guide: &mut Guide, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
    let action = match pressed {
        Pressed::Edit(edit) => {
            guide.field.edit(edit);
            return Reply::stay();
        }
        Pressed::Action(action) => action,
    };
    let deed = match action {
        Action::Back => return Reply::going(Go::Back),
        Action::Details => return details(desk),
        Action::Accept => accepted(guide, desk),
        Action::HasNone => match awaiting(desk) {
            Awaiting::Tick(check) => Ok(Some(Deed::Ticked(check, TickedHow::HasNone))),
            _ => Ok(None),
        },
        Action::Enough => Ok(Some(Deed::EnoughReadings)),
        Action::TakeBack => Ok(Some(Deed::Back)),
        Action::StartAnew => Ok(Some(Deed::Redo)),
        _ => Ok(None),
    };
    match deed {
        Ok(None) => Reply::stay(),
        Ok(Some(deed)) => {
            let effects = desk.advance(at, deed);
            if !effects.is_empty() {
                guide.field.clear();
            }
            Reply::asking(effects)
        }
        Err(unreadable) => {
            desk.say(Notice::Unreadable(unreadable));
            Reply::stay()
        }
    }
}

fn details(desk: &Desk) -> Reply {
    let told = desk.session.as_ref().map(|session| Form::new(&session.state.told));
    told.map_or_else(Reply::stay, |form| Reply::going(Go::To(Box::new(Place::Intake(form)))))
}

/// The deed that Enter means now.
fn accepted(guide: &Guide, desk: &Desk) -> Result<Option<Deed>, Unreadable> {
    let text = guide.field.text();
    Ok(Some(match awaiting(desk) {
        Awaiting::Acknowledgement(caution) => Deed::CautionSeen(caution),
        Awaiting::Tick(check) => Deed::Ticked(check, TickedHow::Done),
        Awaiting::ContactTurns => Deed::Unloaded { past_contact: parse::turns(text)?.value },
        Awaiting::TrimTurns(_) => Deed::Trimmed { past_contact: parse::turns(text)?.value },
        Awaiting::Indicator => Deed::IndicatorSeated,
        Awaiting::Reading => Deed::Read { moved: parse::length(text, desk.units)?.value },
        Awaiting::CloseOrAnotherRound => Deed::Closed,
        Awaiting::Details
        | Awaiting::Decision
        | Awaiting::FirstSpring
        | Awaiting::TrailReport
        | Awaiting::Nothing => return Ok(None),
    }))
}

/// Draws it.
pub fn draw(frame: &mut Frame<'_>, area: Rect, guide: &Guide, desk: &Desk) {
    let Some(session) = &desk.session else { return };
    let [text, entry] = Layout::vertical([Constraint::Min(1), Constraint::Length(2)]).areas(area);
    frame.render_widget(Paragraph::new(words(session, desk)).wrap(Wrap { trim: true }), text);
    if guide.typing(desk) != Typing::Nothing {
        field::draw(frame, Rect { width: entry.width.min(30), ..entry }, &guide.field, desk.theme);
    }
}

fn words(session: &OpenSession, desk: &Desk) -> Vec<Line<'static>> {
    let step = phrase::step(session.state.step);
    let mut lines = vec![
        Line::raw(""),
        Line::styled(step.title.clone(), desk.theme.strong()),
        Line::raw(step.instruction.clone()),
        Line::raw(""),
    ];
    if let Some(caution) = session.state.pending_caution() {
        let words = phrase::caution(caution);
        lines.push(Line::styled(format!("Caution: {}", words.headline), desk.theme.alert()));
        lines.push(Line::raw(words.text.clone()));
        lines.push(Line::raw(""));
    }
    lines.push(Line::raw(phrase::awaiting(session.state.awaiting(), desk.units)));
    lines
}
