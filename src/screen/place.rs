//! The places one can be at, each with its own state, update and drawing in a file of its own.
//!
//! A place says which actions are live and what its focused field takes; keys, footer and help follow from that. Not here:
//! the keys that mean the same everywhere (`update`).

mod came;
pub mod changes;
pub mod compare;
pub mod curve;
pub mod guide;
pub mod help;
pub mod home;
pub mod intake;
mod joining;
pub mod rack;
pub mod review;
pub mod settings;
pub mod trials;
mod typed_spring;
pub mod wire;

use ratatui::Frame;
use ratatui::layout::Rect;

use super::hits::Hits;
use super::keys::{Action, Pressed, Typing};
use super::model::{Desk, Model, OpenSession, Reply};
use crate::phrase::places;
use crate::session::way::{self, Way};
use crate::session::{Stamp, Step};

/// Where one is.
#[derive(Debug)]
pub enum Place {
    /// The first screen.
    Home(home::Home),
    /// The details told before the work.
    Intake(intake::Form),
    /// The guided walk.
    Guide(guide::Guide),
    /// Quick trials.
    Trials(trials::Trials),
    /// The shop's springs.
    Rack(rack::Rack),
    /// What the shop chooses once.
    Settings(settings::SettingsList),
    /// All past sessions.
    Review(review::Review),
    /// One of them.
    Sitting(Box<review::sitting::Sitting>),
    /// Sessions side by side.
    Compare(compare::Compare),
    /// Keys, reasons and words.
    Help(help::Help),
    /// The leverage curve.
    Curve(curve::Curve),
    /// What changes with the spring.
    Changes,
    /// A spring reckoned from its wire.
    Wire(wire::WireForm),
}

/// The choice so many places on, round and round.
fn neighbour<T: Copy + PartialEq>(all: &[T], chosen: T, by: isize) -> T {
    let here = all.iter().position(|one| *one == chosen).unwrap_or(0);
    let there = (here + all.len()).saturating_add_signed(by) % all.len().max(1);
    all.get(there).copied().unwrap_or(chosen)
}

impl Place {
    /// A first screen with nothing marked, for a stack that is never empty.
    pub(super) const NOWHERE: Self = Self::Home(home::Home::TOP);

    /// The place a record opens at: where its work was last done.
    pub fn of(session: &OpenSession) -> Self {
        match (session.state.step, way::last(&session.record)) {
            (Step::Intake, _) => Self::Intake(intake::Form::resuming(&session.record.intake)),
            (step, Some(Way::Trials)) if trials::can_open_at(step) => Self::Trials(trials::Trials::default()),
            _ => Self::Guide(guide::Guide::default()),
        }
    }

    /// What it is called in the title line and the help.
    pub fn title(&self) -> &'static str {
        match self {
            Self::Home(_) => places::HOME,
            Self::Intake(_) => places::DETAILS,
            Self::Guide(_) => places::GUIDE,
            Self::Trials(_) => places::TRIALS,
            Self::Rack(_) => places::RACK,
            Self::Settings(_) => places::SETTINGS,
            Self::Review(_) => places::REVIEW,
            Self::Sitting(_) => places::SITTING,
            Self::Compare(compare) => compare.title(),
            Self::Help(_) => places::HELP,
            Self::Curve(_) => places::CURVE,
            Self::Changes => places::CHANGES,
            Self::Wire(_) => places::WIRE,
        }
    }

    /// The actions live here, in the order of the footer.
    pub fn live(&self, desk: &Desk) -> Vec<Action> {
        let mut live = match self {
            Self::Home(home) => home.live(),
            Self::Intake(form) => form.live(desk),
            Self::Guide(guide) => guide.live(desk),
            Self::Trials(trials) => trials.live(desk),
            Self::Rack(rack) => rack.live(desk),
            Self::Settings(list) => list.live(desk),
            Self::Review(review) => review.live(desk),
            Self::Sitting(sitting) => sitting.live(desk),
            Self::Compare(_) => compare::LIVE.to_vec(),
            Self::Help(_) => help::LIVE.to_vec(),
            Self::Curve(_) => curve::LIVE.to_vec(),
            Self::Changes => changes::LIVE.to_vec(),
            Self::Wire(form) => form.live(),
        };
        if self.figures(desk).is_some() {
            live.push(Action::Figures);
        }
        live.push(Action::Help);
        if desk.only_to_look_at().is_some() && matches!(self, Self::Guide(_) | Self::Trials(_)) {
            live.retain(|action| !action.writes());
        }
        let on_top = matches!(self, Self::Home(home) if home.is_on_top());
        let quit = if on_top { Action::Leave } else { Action::Quit };
        live.extend([Action::Units, Action::Mouse, Action::Repaint, Action::Suspend, quit]);
        live
    }

    /// The step of the walk that is done here, which the help gives its reasons for; none where there is no walk.
    pub(super) fn step(&self, desk: &Desk) -> Option<Step> {
        match self {
            Self::Intake(_) => Some(Step::Intake),
            Self::Guide(_) | Self::Trials(_) | Self::Changes => {
                desk.session.as_ref().map(|open| open.state.step)
            }
            _ => None,
        }
    }

    /// What to do here, for a key that does nothing; none where the footer says all.
    pub fn hint(&self, desk: &Desk) -> Option<String> {
        match self {
            Self::Guide(_) | Self::Trials(_) if desk.only_to_look_at().is_some() => {
                desk.only_to_look_at().map(str::to_owned)
            }
            Self::Guide(guide) => guide.hint(desk),
            Self::Trials(trials) => trials.hint(desk),
            _ => None,
        }
    }

    /// Whether a yes is wanted that takes no typing: a caution, a tick, a choice, an unusual figure.
    pub(super) fn asks(&self, desk: &Desk) -> bool {
        match self {
            Self::Intake(form) => form.asks(),
            Self::Guide(guide) => guide.asks(desk),
            Self::Trials(trials) => trials.asks(desk),
            _ => false,
        }
    }

    /// Whether that yes stands between somebody and harm: a caution, or a check that guards from it.
    pub(super) fn guards(&self, desk: &Desk) -> bool {
        match self {
            Self::Guide(guide) => guide.guards(desk),
            Self::Trials(trials) => trials.guards(desk),
            _ => false,
        }
    }

    /// What the focused field takes.
    pub fn typing(&self, desk: &Desk) -> Typing {
        match self {
            Self::Rack(rack) => rack.typing(),
            Self::Settings(list) => list.typing(),
            Self::Review(_) => Typing::Text,
            Self::Home(_)
            | Self::Sitting(_)
            | Self::Compare(_)
            | Self::Help(_)
            | Self::Curve(_)
            | Self::Changes => Typing::Nothing,
            Self::Wire(form) => form.typing(),
            Self::Intake(form) => form.typing(),
            Self::Guide(guide) => guide.typing(desk),
            Self::Trials(trials) => trials.typing(desk),
        }
    }

    /// Takes a key in.
    pub(super) fn update(&mut self, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
        match self {
            Self::Home(home) => home::update(home, desk, &pressed, at),
            Self::Intake(form) => intake::update(form, desk, pressed, at),
            Self::Guide(guide) => guide::update(guide, desk, pressed, at),
            Self::Trials(trials) => trials::update(trials, desk, pressed, at),
            Self::Rack(rack) => rack::update(rack, desk, pressed),
            Self::Settings(list) => settings::update(list, desk, pressed),
            Self::Review(review) => review::update(review, desk, pressed),
            Self::Sitting(sitting) => review::sitting::update(sitting, desk, &pressed, at),
            Self::Compare(compare) => compare::update(compare, desk, &pressed),
            Self::Help(help) => help::update(help, &pressed),
            Self::Curve(_) => curve::update(&pressed),
            Self::Changes => changes::update(&pressed),
            Self::Wire(form) => wire::update(form, pressed),
        }
    }

    /// Shows in other units what was shown in the old ones.
    pub(super) fn change_units(&mut self, desk: &Desk) {
        match self {
            Self::Intake(form) => form.change_units(desk),
            Self::Wire(form) => form.change_units(desk),
            _ => {}
        }
    }

    /// The place that shows the figures behind what stands here; none where there are none.
    pub(super) fn figures(&self, desk: &Desk) -> Option<Self> {
        match self {
            Self::Intake(form) => form.figures(desk),
            Self::Guide(_) | Self::Trials(_) => {
                let session = desk.session.as_ref()?;
                let read = session.assessment.as_ref().is_some_and(|assessment| !assessment.sets.is_empty());
                let at_hand = matches!(self, Self::Trials(_)) || session.state.step == Step::Verdict;
                (read && at_hand).then(|| changes::table(desk)).flatten().map(|_| Self::Changes)
            }
            _ => None,
        }
    }

    /// Takes the text of a table in, where one was asked for.
    pub(super) fn take_table(&mut self, desk: &mut Desk, table: &str) {
        if let Self::Intake(form) = self {
            intake::take_table(form, desk, table);
        }
    }

    /// Draws it into the area between title and footer, and notes what in it can be clicked.
    pub(super) fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, hits: &mut Hits) {
        let desk = &model.desk;
        match self {
            Self::Home(home) => home::draw(frame, area, home, desk, hits),
            Self::Intake(form) => intake::draw(frame, area, form, desk, hits),
            Self::Guide(guide) => guide::draw(frame, area, guide, desk, hits),
            Self::Trials(trials) => trials::draw(frame, area, trials, desk),
            Self::Rack(rack) => rack::draw(frame, area, rack, desk, hits),
            Self::Settings(list) => settings::draw(frame, area, list, desk, hits),
            Self::Review(review) => review::draw(frame, area, review, desk, hits),
            Self::Sitting(sitting) => review::page::draw(frame, area, sitting, desk),
            Self::Compare(compare) => compare::draw(frame, area, compare, desk),
            Self::Help(help) => help::draw(frame, area, help, model),
            Self::Curve(curve) => curve::draw(frame, area, curve, desk),
            Self::Changes => changes::draw(frame, area, desk),
            Self::Wire(form) => wire::draw(frame, area, form, desk, hits),
        }
    }
}
