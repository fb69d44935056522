//! What the past sessions of a shop taught of the springs it has marked: the rate of each beside its label.
//!
//! Springs are learned together, because those read on one bike share its doubts: what a session says by itself
//! (`session_evidence`) is added up, and what was known of each spring beforehand counts once. Of several sessions of one
//! bike only the one that says most is added, because rider and linkage are as far off in each. A mark on a coil with
//! another label is another spring. Not here: where the sessions lie, and the use of it in a new one (`belief::prior`).

mod session_evidence;

use std::collections::HashMap;

pub use session_evidence::{MarkEvidence, evidence};

use super::doubts::Doubts;
use crate::mechanics::spring::LearnedRate;
use crate::session::limits::Figure;
use crate::session::shop_rack::bears;
use crate::session::{ShopSpring, Stamp};
use crate::statistics::{Information, StatisticsError};
use crate::text::mark::Mark;
use crate::units::{Estimate, Quantity, Share, SpringRate};

/// A past session in which marked springs were read.
#[derive(Debug, Clone, Copy)]
pub struct MarkedSession<'a> {
    /// When it was opened.
    pub opened: Stamp,
    /// When the session was opened from whose findings it began.
    pub began_from: Option<Stamp>,
    /// Whose bike, as somebody typed it.
    pub customer: &'a str,
    /// Which bike.
    pub bike: &'a str,
    /// What it says.
    pub evidence: &'a MarkEvidence,
}

/// What all past sessions together say of the marked springs.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MarkBook(Vec<BookedSpring>);

/// A marked spring with what was learned of it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct BookedSpring {
    spring: MarkedLabel,
    learned: LearnedRate,
}

/// A mark on a coil with a label.
#[derive(Debug, Clone, Copy, PartialEq)]
struct MarkedLabel {
    mark: Mark,
    label: SpringRate,
}

impl MarkedLabel {
    fn is(self, other: Self) -> bool {
        self.mark == other.mark && bears(self.label, other.label)
    }
}

impl MarkBook {
    /// Learns from all sessions, in any order. What a spring of the rack was measured to be is known of it beforehand, of the
    /// others their label.
    pub fn of(mut sessions: Vec<MarkedSession<'_>>, rack: &[ShopSpring], doubts: &Doubts) -> Self {
        sessions.sort_by_key(|session| session.opened);
        let mut springs: Vec<MarkedLabel> = Vec::new();
        for spring in sessions.iter().flat_map(|session| session.evidence.springs()) {
            if !springs.iter().any(|known| known.is(spring)) {
                springs.push(spring);
            }
        }
        let counted = one_a_bike(&sessions);
        let before: Vec<_> = springs.iter().map(|spring| known_before(*spring, rack, doubts)).collect();
        // Every spring has a label, so that the sum can be solved; where it could not, nothing would be learned.
        let Ok(found) = added_up(&springs, &before, &counted) else { return Self::default() };
        let booked =
            springs.into_iter().zip(before.into_iter().zip(found)).filter_map(|(spring, (before, found))| {
                let read =
                    |session: &&MarkedSession<'_>| session.evidence.springs().any(|read| read.is(spring));
                let uses = sessions.iter().filter(read).count();
                let bikes = counted.iter().copied().filter(read).count();
                let learned = learned(found, before.1, [uses, bikes], doubts);
                let is_possible = Figure::LearnedRate.check(Quantity::Share(learned.ratio.value)).is_ok();
                (bikes > 0 && is_possible).then_some(BookedSpring { spring, learned })
            });
        Self(booked.collect())
    }

    /// What was learned of a spring; none where no session says anything of it.
    pub fn learned(&self, mark: Mark, label: SpringRate) -> Option<LearnedRate> {
        let spring = MarkedLabel { mark, label };
        self.0.iter().find(|booked| booked.spring.is(spring)).map(|booked| booked.learned)
    }
}

/// What was found of a spring, never surer than a scale or the table of doubts lets it be, and less with every use since.
fn learned(
    (found, doubt): (f64, f64),
    before: f64,
    [uses, bikes]: [usize; 2],
    doubts: &Doubts,
) -> LearnedRate {
    let least = doubts.label_least.as_fraction().min(before);
    let worn = doubts.label_a_use.as_fraction() * (uses as f64).sqrt();
    let (ratio, doubt) = (found.exp(), doubt.max(least).hypot(worn).min(doubts.label.as_fraction()));
    LearnedRate {
        ratio: Estimate::new(Share::fraction(ratio), Share::fraction(ratio * doubt)),
        bikes: u16::try_from(bikes).unwrap_or(u16::MAX),
    }
}

/// ln(rate/label) of a spring before any session, with its standard uncertainty.
fn known_before(spring: MarkedLabel, rack: &[ShopSpring], doubts: &Doubts) -> (f64, f64) {
    let is_it = |kind: &&ShopSpring| {
        kind.mark().is_some_and(|mark| spring.is(MarkedLabel { mark, label: kind.label }))
    };
    let measured = rack.iter().find(is_it).and_then(|kind| kind.measured);
    measured.map_or((0.0, doubts.label.as_fraction()), |measured| {
        ((measured.value / spring.label).ln(), (measured.uncertainty / measured.value).max(LEAST_MEASURED))
    })
}

/// A rate said to be measured exactly keeps the sum regular.
const LEAST_MEASURED: f64 = 1e-4;

/// What was known before and what the counted sessions say, added up: of each spring ln(rate/label) and its uncertainty.
fn added_up(
    springs: &[MarkedLabel],
    before: &[(f64, f64)],
    counted: &[&MarkedSession<'_>],
) -> Result<Vec<(f64, f64)>, StatisticsError> {
    let mut sum = Information::none(springs.len());
    for (place, (mean, uncertainty)) in before.iter().enumerate() {
        sum.add(place, *mean, *uncertainty)?;
    }
    for session in counted {
        let place = |read: MarkedLabel| springs.iter().position(|known| known.is(read));
        let places: Vec<usize> = session.evidence.springs().filter_map(place).collect();
        sum.add_all(&session.evidence.information()?, &places)?;
    }
    sum.solve()
}

/// Of the sessions of each bike the one that says most, of equals the last; sessions come in the order they were opened.
fn one_a_bike<'s, 'a>(sessions: &'s [MarkedSession<'a>]) -> Vec<&'s MarkedSession<'a>> {
    let mut bikes = Bikes::default();
    let mut best: Vec<(&MarkedSession<'_>, f64)> = Vec::new();
    for session in sessions {
        let (bike, says) = (bikes.of(session), session.evidence.total());
        match best.get_mut(bike) {
            None => best.push((session, says)),
            Some(known) if says >= known.1 => *known = (session, says),
            Some(_) => {}
        }
    }
    best.into_iter().map(|(session, _)| session).collect()
}

/// Which sessions are of one bike: one began from the other's findings, or customer and bike are called the same.
#[derive(Default)]
struct Bikes {
    count: usize,
    by_session: HashMap<Stamp, usize>,
    by_name: HashMap<(String, String), usize>,
}

impl Bikes {
    /// The bike of a session, counted from nought in the order they come.
    fn of(&mut self, session: &MarkedSession<'_>) -> usize {
        let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        let name =
            Some((plain(session.customer), plain(session.bike))).filter(|(customer, _)| !customer.is_empty());
        let began_from = session.began_from.and_then(|before| self.by_session.get(&before));
        let known = began_from.or_else(|| self.by_name.get(name.as_ref()?)).copied();
        let bike = known.unwrap_or(self.count);
        self.count = self.count.max(bike + 1);
        for stamp in session.began_from.into_iter().chain([session.opened]) {
            self.by_session.insert(stamp, bike);
        }
        if let Some(name) = name {
            self.by_name.insert(name, bike);
        }
        bike
    }
}
