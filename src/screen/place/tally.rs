//! What the finished sessions say together, read behind the screen and shown as far as it is known.
//!
//! Left and right choose from which day on sessions are counted. Not here: the counting (`assessment::tally`), the parts and
//! their words (`phrase::tally`), and reading the sessions (`app`).

mod drawing;

use chrono::{Months, NaiveDate};
use ratatui::Frame;
use ratatui::layout::Rect;

use super::{Component, neighbour};
use crate::assessment::tally::{NotCounted, SessionOutcome, Tally};
use crate::phrase::{self, places};
use crate::screen::click_targets::ClickTargets;
use crate::screen::control::Scroll;
use crate::screen::effect::{CountNews, CountedSession, Effect, SessionCount};
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Model, Reply};
use crate::session::Stamp;

/// Which sessions are counted, by when they were begun.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Period {
    All,
    TwelveMonths,
    ThreeMonths,
}

impl Period {
    const EVERY: [Self; 3] = [Self::All, Self::TwelveMonths, Self::ThreeMonths];

    /// The day it begins with; none for all.
    fn since(self, now: Stamp) -> Option<NaiveDate> {
        let months = match self {
            Self::All => return None,
            Self::TwelveMonths => 12,
            Self::ThreeMonths => 3,
        };
        now.date_naive().checked_sub_months(Months::new(months))
    }
}

/// How far the reading is.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Progress {
    /// So many in all; nought while they are being listed.
    UnderWay(usize),
    Done,
    /// The folder could not be listed; a sentence.
    Failed(String),
}

/// The figures of its widest table, their names above them, fit in here.
const NARROWEST: (u16, u16) = (50, 12);

/// What is counted is counted again once this part of it has come besides.
const WORTH_IT: usize = 4;

/// The tally being looked at.
#[derive(Debug)]
pub struct TallyPlace {
    /// What was read so far.
    sessions: Vec<CountedSession>,
    progress: Progress,
    period: Period,
    since: Option<NaiveDate>,
    /// What they say in that period.
    tally: Tally,
    not_counted: NotCounted,
    unreadable: usize,
    /// How many of those read were looked at for that.
    looked_at: usize,
    scroll: Scroll,
}

/// Goes there and has every session read.
pub(super) fn open() -> Reply {
    let place = TallyPlace {
        sessions: Vec::new(),
        progress: Progress::UnderWay(0),
        period: Period::All,
        since: None,
        tally: Tally::of(&[]),
        not_counted: NotCounted::default(),
        unreadable: 0,
        looked_at: 0,
        scroll: Scroll::default(),
    };
    Reply { effects: vec![Effect::Count], go: Go::To(place.into()) }
}

impl TallyPlace {
    /// Takes in what was read.
    pub fn take_in(&mut self, news: CountNews) {
        match news {
            CountNews::Read { sessions, of } => {
                self.sessions.extend(sessions);
                self.progress = Progress::UnderWay(of);
            }
            CountNews::Done => self.progress = Progress::Done,
            CountNews::Failed(because) => self.progress = Progress::Failed(because),
        }
        // Counted again each time so much has come, the work grows with the folder and not with its square.
        let is_worth_it = self.sessions.len() >= self.looked_at + self.looked_at / WORTH_IT;
        if is_worth_it || !matches!(self.progress, Progress::UnderWay(_)) {
            self.count();
        }
    }

    /// Counts the sessions of the period.
    fn count(&mut self) {
        let is_in_it = |session: &&CountedSession| {
            self.since.is_none_or(|day| session.begun.is_none_or(|begun| begun >= day))
        };
        let mut counted: Vec<&SessionOutcome> = Vec::new();
        let (mut not_counted, mut unreadable) = (NotCounted::default(), 0);
        for session in self.sessions.iter().filter(is_in_it) {
            match &session.count {
                SessionCount::Counted(outcome) => counted.push(outcome),
                SessionCount::LeftOut(why) => not_counted.add(*why),
                SessionCount::Unreadable => unreadable += 1,
            }
        }
        let tally = Tally::of(&counted);
        (self.tally, self.not_counted, self.unreadable) = (tally, not_counted, unreadable);
        self.looked_at = self.sessions.len();
    }

    fn choose(&mut self, by: isize, now: Stamp) {
        self.period = neighbour(&Period::EVERY, self.period, by);
        self.since = self.period.since(now);
        self.scroll = Scroll::default();
        self.count();
    }
}

impl Component for TallyPlace {
    fn title(&self) -> &'static str {
        places::TALLY
    }

    fn least(&self) -> (u16, u16) {
        NARROWEST
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        use Action as A;
        vec![A::ChoiceRight, A::ChoiceLeft, A::Next, A::Previous, A::PageDown, A::PageUp, A::Accept, A::Back]
    }

    fn enter(&self, _: &Desk) -> Option<String> {
        Some(phrase::enter::BACK.to_owned())
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
        match pressed {
            Pressed::Action(Action::Back | Action::Accept) => {
                return Reply { effects: vec![Effect::StopCounting], go: Go::Back };
            }
            Pressed::Action(Action::ChoiceRight) => self.choose(1, at),
            Pressed::Action(Action::ChoiceLeft) => self.choose(-1, at),
            pressed => drop(self.scroll.take(&pressed, desk.window)),
        }
        Reply::stay()
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        self.scroll.draw(frame, area, drawing::lines(self, area.width, &model.desk), click_targets);
    }
}
