//! What deserves a look though it changes no advice by itself. Data; the words are in `phrase`.

use super::advice::AdviceInput;
use super::belief::prior;
use super::check::{Against, Off};
use crate::mechanics::{Fit, SpringNumber};
use crate::session::state::BenchCheckState;
use crate::session::{Posture, ReadingNumber};
use crate::units::{Force, Length, LeverageRatio, Share, Turns};

/// Something that deserves a look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Warning {
    /// The bench check was left to the rider.
    BenchCheckLeftOut,
    /// A reading stands apart; it counts, but less.
    ReadingApart(ReadingNumber),
    /// This set is not where those before it put it.
    SetsDisagree(usize),
    /// The readings are not where weights, travel and stroke put them.
    NotAsTold {
        /// What was read.
        read: Length,
        /// What was expected.
        expected: Length,
        /// How many sets agree with the first; none but itself where it stands alone.
        sets: usize,
    },
    /// Nothing explains readings, weights and springs together; the figures said are not to be relied on.
    NotSettled,
    /// Readings from above and from below lie far apart: the shock or a bearing sticks.
    FrictionHigh(Force),
    /// A reading so near the end of the stroke that it only says the rest lies there or further.
    ReadingAtTheEnd(ReadingNumber),
    /// The collar stands further past contact than the maker of the shock allows.
    BeyondTurnsLimit {
        /// Where it stands.
        stands: Turns,
        /// What is allowed.
        allowed: Turns,
    },
    /// The spring on the bike would bind before the stroke ends.
    FittedBinds {
        /// Which.
        spring: SpringNumber,
        /// How far the shock would compress it.
        needed: Length,
    },
    /// The inner diameter of the spring on the bike does not clear the shock body.
    FittedTooNarrow(SpringNumber),
    /// The printed stroke of the spring on the bike is not known.
    FittedStrokeUnknown(SpringNumber),
    /// The readings put the load far from what the weights say.
    LoadUnlikely {
        /// What the readings say.
        findings: Force,
        /// What the weights say.
        expected: Force,
    },
    /// Travel over stroke is a ratio few frames have.
    MeanLeverageUnusual(LeverageRatio),
    /// The scale put more than three quarters of bike and rider on the rear wheel (EN 15194, 4.3.6.5, asks for at least
    /// a quarter on the front).
    RearShareHigh(Share),
    /// Readings scatter more than careful ones do.
    ScatterHigh(Length),
}

/// Everything that deserves a look now.
pub(super) fn gather(situation: &AdviceInput<'_>) -> Vec<Warning> {
    let mut warnings = fitted_spring(situation);
    warnings.extend(readings(situation));
    warnings.extend(load(situation));
    if situation.state.on_bike.bench_check == BenchCheckState::LeftToRider {
        warnings.push(Warning::BenchCheckLeftOut);
    }
    let mean = LeverageRatio::ratio(situation.setup.travel / situation.setup.shock.stroke);
    let usual = crate::session::limits::Figure::MeanLeverage;
    if situation.setup.knows_the_load() && usual.is_unusual(crate::units::Quantity::Ratio(mean)) {
        warnings.push(Warning::MeanLeverageUnusual(mean));
    }
    warnings
}

fn fitted_spring(situation: &AdviceInput<'_>) -> Vec<Warning> {
    let mut warnings = Vec::new();
    let fitted =
        situation.forecasts.iter().find(|forecast| Some(forecast.spring) == situation.state.on_bike.fitted);
    if let Some(fitted) = fitted {
        match fitted.fit {
            Fit::WouldBind { needed } => {
                warnings.push(Warning::FittedBinds { spring: fitted.spring, needed });
            }
            Fit::StrokeUnknown => warnings.push(Warning::FittedStrokeUnknown(fitted.spring)),
            Fit::TooNarrow => warnings.push(Warning::FittedTooNarrow(fitted.spring)),
            Fit::Fits => {}
        }
    }
    let allowed = situation.setup.shock.turns_limit;
    if let Some(set) = situation.state.present_set().filter(|set| set.preload_turns > allowed) {
        warnings.push(Warning::BeyondTurnsLimit { stands: set.preload_turns, allowed });
    }
    warnings
}

fn readings(situation: &AdviceInput<'_>) -> Vec<Warning> {
    let mut warnings: Vec<_> =
        situation.belief.apart().map(|(_, reading)| Warning::ReadingApart(reading)).collect();
    let figures = situation.belief.sets.iter().flat_map(|set| &set.figures);
    let bounds = figures.filter(|figure| figure.is_bound);
    warnings.extend(bounds.map(|figure| Warning::ReadingAtTheEnd(figure.number)));
    warnings.extend(situation.off.iter().flatten().map(|off| off_place(off, situation)));
    if !situation.belief.is_settled() {
        warnings.push(Warning::NotSettled);
    }
    let scatter = situation.findings.scatter;
    if scatter > situation.doubts.reading.scatter * 1.8 {
        warnings.push(Warning::ScatterHigh(scatter));
    }
    let friction = situation.findings.friction.filter(|friction| *friction > STICKS);
    warnings.extend(friction.map(Warning::FrictionHigh));
    warnings
}

/// Friction at the shock above which a service comes before the right spring (common practice, no source).
const STICKS: Force = Force::newtons(60.0);

fn off_place(off: &Off, situation: &AdviceInput<'_>) -> Warning {
    match off.against {
        Against::SetsBefore => Warning::SetsDisagree(off.set),
        Against::Told => Warning::NotAsTold {
            read: off.read,
            expected: off.expected.value,
            sets: if situation.off[1].is_some() { 1 } else { situation.belief.sets.len() },
        },
    }
}

fn load(situation: &AdviceInput<'_>) -> Vec<Warning> {
    let mut warnings = Vec::new();
    let expected = prior::load(situation.setup, situation.doubts);
    let findings = situation.findings.load.value;
    let entered = situation.off[0].is_some();
    let seated = situation.belief.how.posture == Posture::Seated;
    let far = (findings - expected.value).abs() > expected.uncertainty * FAR;
    if !situation.belief.sets.is_empty() && seated && far && !entered {
        warnings.push(Warning::LoadUnlikely { findings, expected: expected.value });
    }
    if let Some(load) = situation.setup.wheel_load {
        let share = Share::fraction(load.shown.value / (situation.setup.rider + situation.setup.bike));
        if situation.setup.knows_the_load() && share > Share::percent(75.0) {
            warnings.push(Warning::RearShareHigh(share));
        }
    }
    warnings
}

/// Doubts of the load from which the weights are worth a look: they pull on what was learned, so it seldom goes further.
const FAR: f64 = 2.5;
