//! The places one can be at, each with its own state, update and drawing in a file of its own.
//!
//! A place says which actions are live and what its focused field takes; keys, footer and help follow from that. Not here:
//! the keys that mean the same everywhere (`update`).

mod around;
pub mod changes;
pub mod compare;
pub mod curve;
pub mod forget;
pub mod guide;
pub mod help;
pub mod home;
pub mod intake;
mod joining;
mod key_outcome;
pub mod palette;
pub mod rack;
pub mod replay;
pub mod review;
pub mod settings;
pub mod sheet;
mod stroke;
pub mod tally;
pub mod trials;
mod typed_condition;
mod typed_spring;
mod typed_target;
pub mod versions;
pub mod wire;

use std::fmt::Debug;
use std::ops::{Deref, DerefMut};

use ratatui::Frame;
use ratatui::layout::Rect;

use super::click_targets::ClickTargets;
use super::effect::PastRecord;
use super::keys::{Action, Pressed, Typing};
use super::model::{Desk, Model, OpenSession, Reply};
use crate::session::work_mode::{self, WorkMode};
use crate::session::{Stamp, Step};

/// What every place can do. What most have nothing to say to is answered here.
pub trait Component: Debug {
    /// What it is called in the title line and the help.
    fn title(&self) -> &'static str;
    /// The actions of its own, in the order of the footer.
    fn actions(&self, desk: &Desk) -> Vec<Action>;
    /// Takes a key in.
    fn update(&mut self, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply;
    /// Draws it into the area between title and footer, and notes what in it can be clicked.
    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets);

    /// The least window it can be worked in.
    fn least(&self) -> (u16, u16) {
        (80, 24)
    }
    /// What the focused field takes.
    fn typing(&self, _: &Desk) -> Typing {
        Typing::Nothing
    }
    /// The step of the walk that is done here, which the help gives its reasons for.
    fn step(&self, _: &Desk) -> Option<Step> {
        None
    }
    /// What to do here, for a key that does nothing; none where the footer says all.
    fn hint(&self, _: &Desk) -> Option<String> {
        None
    }
    /// What Enter does now, a verb and what it acts on; none where its name says all.
    fn enter(&self, _: &Desk) -> Option<String> {
        None
    }
    /// Whether a yes is wanted that takes no typing: a caution, a tick, a choice, an unusual figure.
    fn asks(&self, _: &Desk) -> bool {
        false
    }
    /// Whether that yes stands between somebody and harm: a caution, or a check that guards from it.
    fn guards(&self, _: &Desk) -> bool {
        false
    }
    /// Whether what is done here goes into the record.
    fn records(&self) -> bool {
        false
    }
    /// Lines of a list that bear numbers, which a numeral takes at once.
    fn numbered(&self, _: &Desk) -> usize {
        0
    }
    /// Whether it lies over another place, which stays in sight.
    fn is_layer(&self) -> bool {
        false
    }
    /// Whether a spring of the rack can be taken here.
    fn takes_spring(&self, _: &Desk) -> bool {
        false
    }
    /// Takes a spring of the rack, by its place there.
    fn take_spring(&mut self, _: &Desk, _: usize) {}
    /// Whether one leaves the program from here.
    fn is_outermost(&self) -> bool {
        false
    }
    /// Shows in other units what was shown in the old ones.
    fn change_units(&mut self, _: &Desk) {}
    /// The place that shows the figures behind what stands here.
    fn figures(&self, _: &Desk) -> Option<Place> {
        None
    }
    /// Takes the text of a table in, where one was asked for.
    fn take_table(&mut self, _: &mut Desk, _: &str) {}
    /// Takes the last session of a customer in, where it was asked for.
    fn take_visit(&mut self, _: &mut Desk, _: PastRecord) {}
}

macro_rules! places {
    ($($(#[$doc:meta])* $Name:ident($place:ty)),* $(,)?) => {
        /// Where one is.
        #[derive(Debug)]
        pub enum Place { $($(#[$doc])* $Name(Box<$place>)),* }

        impl Deref for Place {
            type Target = dyn Component;
            fn deref(&self) -> &Self::Target {
                match self { $(Self::$Name(place) => &**place),* }
            }
        }
        impl DerefMut for Place {
            fn deref_mut(&mut self) -> &mut Self::Target {
                match self { $(Self::$Name(place) => &mut **place),* }
            }
        }
        $(impl From<$place> for Place {
            fn from(place: $place) -> Self { Self::$Name(Box::new(place)) }
        })*
    };
}

places! {
    /// The first screen.
    Home(home::Home),
    /// The details told before the work.
    Intake(intake::Form),
    /// The guided walk.
    Guide(guide::Guide),
    /// Quick trials.
    Trials(trials::Trials),
    /// The shop's springs.
    Rack(rack::RackPlace),
    /// What the shop chooses once.
    Settings(settings::SettingsList),
    /// All past sessions.
    Review(review::Review),
    /// One of them.
    PastSession(review::past_session::PastSession),
    /// One of them, moment by moment.
    Replay(replay::Replay),
    /// Sessions side by side.
    Compare(compare::Compare),
    /// What the finished sessions say together.
    Tally(tally::TallyPlace),
    /// Keys, reasons and words.
    Help(help::Help),
    /// Everything that can be done now.
    Palette(palette::Palette),
    /// The leverage curve.
    Curve(curve::Curve),
    /// What changes with the spring.
    Changes(changes::Changes),
    /// What is said around the spring.
    Around(around::Around),
    /// How the bike was found and left.
    Sheet(sheet::SheetForm),
    /// Two versions of one session.
    Versions(versions::Versions),
    /// A customer to be forgotten.
    Forget(forget::Forget),
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
    /// The place a record opens at: where its work was last done.
    pub fn of(session: &OpenSession) -> Self {
        match (session.state.step, work_mode::last(&session.record)) {
            (Step::Intake, _) => intake::Form::resuming(&session.record.intake).into(),
            (step, Some(WorkMode::Trials)) if trials::can_open_at(step) => trials::Trials::default().into(),
            _ => guide::Guide::default().into(),
        }
    }

    /// What to do here, for a key that does nothing.
    pub fn what_to_do(&self, desk: &Desk) -> Option<String> {
        let only_shown = desk.only_to_look_at().filter(|_| self.records()).map(str::to_owned);
        only_shown.or_else(|| self.hint(desk))
    }

    /// The actions live here, in the order of the footer: its own, and those that are live everywhere.
    pub fn live(&self, desk: &Desk) -> Vec<Action> {
        let mut live = self.actions(desk);
        live.extend(self.figures(desk).map(|_| Action::Figures));
        live.extend([Action::Palette, Action::Help]);
        if self.records() && desk.only_to_look_at().is_some() {
            live.retain(|action| !action.writes());
        }
        let quit = if self.is_outermost() { Action::Leave } else { Action::Quit };
        live.extend([Action::Units, Action::Mouse, Action::Repaint, Action::Suspend, quit]);
        live
    }
}

/// The table of what changes with the spring, once a reading counts.
fn changes_of(desk: &Desk) -> Option<Place> {
    let session = desk.session.as_ref()?;
    // Energy and the sink of the axle need the weights and the travel themselves.
    let knows = session.state.setup.as_ref().is_some_and(crate::session::Setup::knows_the_load);
    let read = knows && session.assessment.as_ref().is_some_and(|assessment| !assessment.sets.is_empty());
    read.then(|| changes::table(desk)).flatten().map(|_| changes::Changes.into())
}
