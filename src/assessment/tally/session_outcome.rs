//! One finished session as far as it is counted: its forecasts beside the readings that followed, what it took, what stayed.
//!
//! A forecast is worked out from the record cut before the reading it is held against, as the mechanic had it before
//! them. Not here: counting many sessions.

use crate::assessment::doubts::Doubts;
use crate::assessment::evidence::{self, Standing};
use crate::assessment::{Assessment, assess};
use crate::session::condition::ConditionNumber;
use crate::session::{Origin, ReadingSet, Record, Setup, Stamp, State, Step, machine};
use crate::units::{Estimate, Length, Minutes, Share, SpringRate};

/// Between two entries further apart than this nobody was at the bike (common practice, no source).
const PAUSE: Minutes = Minutes::of(30.0);

/// What came of one finished session.
#[derive(Debug, Clone, PartialEq)]
pub struct SessionOutcome {
    /// When it was opened, by the workshop's clock.
    pub opened: Stamp,
    /// Its forecasts, each held against the reading that followed.
    pub tested: Vec<TestedForecast>,
    /// ln of the rate needed as calculated before any reading over the rate that stayed; none where that says nothing.
    pub first_guess_off: Option<Share>,
    /// Springs fitted.
    pub swaps: u16,
    /// Readings taken, void ones too.
    pub sits: usize,
    /// Time at the bike.
    pub minutes: Minutes,
    /// Where the last sag was; none without a reading.
    pub standing: Option<Standing>,
    /// Rear wheel travel.
    pub travel: Length,
    /// The spring that stayed on the bike.
    pub kept: Option<KeptSpring>,
}

/// A forecast and the first reading after it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TestedForecast {
    /// When it was made.
    pub moment: ForecastMoment,
    /// Reading less forecast, and the standard uncertainty the forecast had, as shares of the shock's stroke.
    pub off: Estimate<Share>,
}

impl TestedForecast {
    /// How many of its standard uncertainties the forecast was off by.
    pub(super) fn in_doubts(&self) -> f64 {
        self.off.value / self.off.uncertainty
    }
}

/// When a forecast was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ForecastMoment {
    /// Before the first reading of the session.
    BeforeAnyReading,
    /// After another spring was fitted, before it was read.
    AfterSwap,
}

/// A spring that stayed on the bike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KeptSpring {
    /// The rate printed on it.
    pub label: SpringRate,
    /// Where it came from.
    pub origin: SpringOrigin,
}

/// Where a spring that stayed came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpringOrigin {
    /// The bike came with it.
    CameWithTheBike,
    /// It was fitted in the session.
    FittedHere,
}

/// Why a session is not counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeftOut {
    /// It is not finished.
    Open,
    /// It is invented.
    Demonstration,
}

/// What came of a session, worked out from its record and the state it folds to.
///
/// # Errors
/// With why it is not counted.
pub fn session_outcome(record: &Record, state: &State, doubts: &Doubts) -> Result<SessionOutcome, LeftOut> {
    if state.entered.origin == Origin::Demonstration {
        return Err(LeftOut::Demonstration);
    }
    let closed = state.setup.as_ref().filter(|_| state.step == Step::Closed);
    let setup = closed.ok_or(LeftOut::Open)?;
    let moments = moments(record, state, doubts);
    let tested = |moment: &BeforeSet<'_>| moment.tested(setup);
    let last_sag = evidence::last_sag(setup, &state.sets, doubts);
    Ok(SessionOutcome {
        opened: record.opened,
        tested: moments.iter().filter_map(tested).collect(),
        first_guess_off: moments.first().and_then(|moment| moment.guess_off(setup, state)),
        swaps: state.on_bike.swaps,
        sits: state.sets.iter().map(|set| set.readings.len()).sum(),
        minutes: minutes(record),
        standing: last_sag.map(|sag| Standing::of(sag, setup)),
        travel: setup.travel,
        kept: kept(state),
    })
}

/// The session as it was before the first reading of a set, which brought a new spring or was the first.
struct BeforeSet<'a> {
    kind: ForecastMoment,
    set: &'a ReadingSet,
    setup: Setup,
    assessment: Assessment,
}

fn moments<'a>(record: &Record, state: &'a State, doubts: &Doubts) -> Vec<BeforeSet<'a>> {
    let counting: Vec<&ReadingSet> =
        state.sets.iter().filter(|set| set.counting().next().is_some()).collect();
    let before = std::iter::once(None).chain(counting.iter().copied().map(Some));
    let pairs = counting.iter().copied().zip(before);
    let moment = |(set, before): (&'a ReadingSet, Option<&ReadingSet>)| {
        let kind = match before {
            None => ForecastMoment::BeforeAnyReading,
            Some(before) if before.spring != set.spring => ForecastMoment::AfterSwap,
            Some(_) => return None,
        };
        let then = before_reading(record, set)?;
        let setup = then.setup.clone()?;
        let assessment = assess(&setup, &then, doubts);
        Some(BeforeSet { kind, set, setup, assessment })
    };
    pairs.filter_map(moment).collect()
}

/// The state just before the first reading of a set, void or not.
fn before_reading(record: &Record, set: &ReadingSet) -> Option<State> {
    let number = usize::from(set.readings.first()?.number.0);
    let readings = record.entries.iter().enumerate().filter(|(_, entry)| entry.deed.is_reading());
    let (place, _) = readings.take(number).last()?;
    let earlier = Record {
        opened: record.opened,
        intake: record.intake.clone(),
        entries: record.entries[..place].to_vec(),
    };
    machine::replay(&earlier).ok()
}

impl BeforeSet<'_> {
    fn tested(&self, setup: &Setup) -> Option<TestedForecast> {
        let (expected, read) = (self.assessment.expected?, self.set.counting().next()?.distance);
        let share = |length: Length| Share::fraction(length / setup.shock.stroke);
        let off = Estimate::new(share(read - expected.value), share(expected.uncertainty));
        Some(TestedForecast { moment: self.kind, off })
    }

    /// Nothing where another target was entered later, or the first readings were under another load.
    fn guess_off(&self, setup: &Setup, state: &State) -> Option<Share> {
        let same = self.setup.target == setup.target && self.set.how.condition == ConditionNumber::AS_ENTERED;
        let stayed = state.fitted().filter(|_| same)?.rate();
        let needed = self.assessment.findings.needed_rate.value;
        Some(Share::fraction((needed / stayed).ln()))
    }
}

fn kept(state: &State) -> Option<KeptSpring> {
    let spring = state.fitted()?;
    let came_with_it = state.on_bike.swaps == 0 || state.entered.spring_on_arrival == Some(spring.number);
    let origin = if came_with_it { SpringOrigin::CameWithTheBike } else { SpringOrigin::FittedHere };
    Some(KeptSpring { label: spring.label, origin })
}

/// Time between entries, what lies further apart than a pause left out.
fn minutes(record: &Record) -> Minutes {
    let times = || record.entries.iter().map(|entry| entry.at);
    let starts = std::iter::once(record.opened).chain(times());
    let gaps = starts.zip(times()).map(|(start, end)| (end - start).as_seconds_f64() / 60.0);
    let worked = gaps.filter(|gap| (0.0..=PAUSE.value()).contains(gap));
    Minutes::of(worked.sum())
}
