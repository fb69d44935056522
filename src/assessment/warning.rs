//! What deserves a look though it changes no advice by itself. Data; the words are in `phrase`.

use super::advice::AdviceInput;
use super::prior::load_before_reading;
use crate::mechanics::{Fit, SpringNumber};
use crate::session::ReadingNumber;
use crate::session::state::BenchCheckState;
use crate::units::{Force, Length, LeverageRatio, Share, Turns};

/// Something that deserves a look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Warning {
    /// The bench check was left to the rider.
    BenchCheckLeftOut,
    /// A reading stands apart; it counts, but less.
    ReadingApart(ReadingNumber),
    /// The sets do not go together; this one is furthest off.
    SetsDisagree(usize),
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
pub fn gather(situation: &AdviceInput<'_>) -> Vec<Warning> {
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
            Fit::Fits | Fit::TooNarrow => {}
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
        situation.sets.iter().filter_map(|set| set.apart).map(Warning::ReadingApart).collect();
    if let super::Agreement::Apart { set } = situation.findings.agreement {
        warnings.push(Warning::SetsDisagree(set));
    }
    let usual = situation.doubts.reading.scatter;
    let scatter = situation.findings.scatter;
    if scatter > usual * 1.8 {
        warnings.push(Warning::ScatterHigh(scatter));
    }
    warnings
}

fn load(situation: &AdviceInput<'_>) -> Vec<Warning> {
    let mut warnings = Vec::new();
    let expected = load_before_reading(situation.setup, situation.doubts);
    let findings = situation.findings.load.value;
    let apart = situation.doubts.reading.stands_apart;
    if !situation.sets.is_empty() && (findings - expected.value).abs() > expected.uncertainty * apart {
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
