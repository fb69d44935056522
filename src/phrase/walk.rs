//! The words of the guided walk, from `assets/walk.ron`.
//!
//! The file is read into tables with one place for every step, check and caution: a missing or misspelt entry cannot be
//! loaded, and a new step cannot be compiled without its place. Not here: the order of the walk (`session::step`).

use std::sync::LazyLock;

use serde::Deserialize;

use crate::session::{Awaiting, Caution, Check, Step};
use crate::units::UnitSet;

/// The words of a step.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StepWords {
    /// Two or three words.
    pub title: String,
    /// What to do: one or two short sentences, to be read from a metre away.
    pub instruction: String,
    /// What to type or press.
    pub entry: String,
    /// Why it is done, in three sentences.
    pub why: [String; 3],
}

/// The words of a check.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CheckWords {
    /// The line on the list.
    pub line: String,
    /// How it is done, or what to look for.
    pub detail: String,
}

/// The words of a caution.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CautionWords {
    /// What can happen, in a few words.
    pub headline: String,
    /// How it is kept from happening.
    pub text: String,
}

/// A term of the trade.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Term {
    /// The word.
    pub term: String,
    /// What it is measured in, if it is.
    pub unit: Option<String>,
    /// What it means, in one or two sentences.
    pub meaning: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Words {
    steps: Steps,
    checks: Checks,
    cautions: Cautions,
    glossary: Vec<Term>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Steps {
    intake: StepWords,
    bench_check: StepWords,
    unload: StepWords,
    seat_indicator: StepWords,
    seated_reading: StepWords,
    decision: StepWords,
    set_preload: StepWords,
    swap: StepWords,
    final_checks: StepWords,
    kerb_drop: StepWords,
    trail_check: StepWords,
    after_trail: StepWords,
    closed: StepWords,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Checks {
    bench: BenchChecks,
    swap: SwapChecks,
    last: LastChecks,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct BenchChecks {
    bike_supported: CheckWords,
    adjusters_open: CheckWords,
    tyres_at_pressure: CheckWords,
    linkage_bolts_tight: CheckWords,
    shock_clean_and_dry: CheckWords,
    indicator_present: CheckWords,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SwapChecks {
    bike_hung: CheckWords,
    collar_fully_off: CheckWords,
    shock_bolts_out: CheckWords,
    clip_or_knob_off: CheckWords,
    spring_exchanged: CheckWords,
    clip_seated: CheckWords,
    knob_snug: CheckWords,
    collar_to_contact: CheckWords,
    bolts_to_figure: CheckWords,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LastChecks {
    collar_holds: CheckWords,
    bolts_checked: CheckWords,
    cycled_by_hand: CheckWords,
    adjusters_reset: CheckWords,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Cautions {
    bike_steady: CautionWords,
    loose_collar: CautionWords,
    shaft_scratch: CautionWords,
    sit_gently: CautionWords,
    loaded_spring: CautionWords,
    spring_binds: CautionWords,
    loose_bolts: CautionWords,
    first_ride: CautionWords,
    kerb_drop: CautionWords,
    crushed_fingers: CautionWords,
    flying_clip: CautionWords,
    drive_on: CautionWords,
    fitted_binds: CautionWords,
    fitted_too_narrow: CautionWords,
    collar_beyond_limit: CautionWords,
    fitted_stroke_unknown: CautionWords,
}

const SOURCE: &str = include_str!("../../assets/walk.ron");

static WORDS: LazyLock<Words> = LazyLock::new(|| {
    ron::from_str(SOURCE).unwrap_or_else(|fault| panic!("assets/walk.ron, embedded at build time: {fault}"))
});

/// The words of a step.
pub fn step(step: Step) -> &'static StepWords {
    let steps = &WORDS.steps;
    match step {
        Step::Intake => &steps.intake,
        Step::BenchCheck => &steps.bench_check,
        Step::Unload => &steps.unload,
        Step::SeatIndicator => &steps.seat_indicator,
        Step::SeatedReading => &steps.seated_reading,
        Step::Decision => &steps.decision,
        Step::SetPreload => &steps.set_preload,
        Step::Swap => &steps.swap,
        Step::FinalChecks => &steps.final_checks,
        Step::KerbDrop => &steps.kerb_drop,
        Step::TrailCheck => &steps.trail_check,
        Step::AfterTrail => &steps.after_trail,
        Step::Closed => &steps.closed,
    }
}

/// The words of a check.
pub fn check(check: Check) -> &'static CheckWords {
    let Checks { bench, swap, last } = &WORDS.checks;
    match check {
        Check::BikeSupported => &bench.bike_supported,
        Check::AdjustersOpen => &bench.adjusters_open,
        Check::TyresAtPressure => &bench.tyres_at_pressure,
        Check::LinkageBoltsTight => &bench.linkage_bolts_tight,
        Check::ShockCleanAndDry => &bench.shock_clean_and_dry,
        Check::IndicatorPresent => &bench.indicator_present,
        Check::BikeHung => &swap.bike_hung,
        Check::CollarFullyOff => &swap.collar_fully_off,
        Check::ShockBoltsOut => &swap.shock_bolts_out,
        Check::ClipOrKnobOff => &swap.clip_or_knob_off,
        Check::SpringExchanged => &swap.spring_exchanged,
        Check::ClipSeated => &swap.clip_seated,
        Check::KnobSnug => &swap.knob_snug,
        Check::CollarToContact => &swap.collar_to_contact,
        Check::BoltsToFigure => &swap.bolts_to_figure,
        Check::CollarHolds => &last.collar_holds,
        Check::BoltsChecked => &last.bolts_checked,
        Check::CycledByHand => &last.cycled_by_hand,
        Check::AdjustersReset => &last.adjusters_reset,
    }
}

/// The words of a caution.
pub fn caution(caution: Caution) -> &'static CautionWords {
    let cautions = &WORDS.cautions;
    match caution {
        Caution::BikeSteady => &cautions.bike_steady,
        Caution::LooseCollar => &cautions.loose_collar,
        Caution::ShaftScratch => &cautions.shaft_scratch,
        Caution::SitGently => &cautions.sit_gently,
        Caution::LoadedSpring => &cautions.loaded_spring,
        Caution::SpringBinds => &cautions.spring_binds,
        Caution::LooseBolts => &cautions.loose_bolts,
        Caution::FirstRide => &cautions.first_ride,
        Caution::KerbDrop => &cautions.kerb_drop,
        Caution::CrushedFingers => &cautions.crushed_fingers,
        Caution::FlyingClip => &cautions.flying_clip,
        Caution::DriveOn => &cautions.drive_on,
        Caution::FittedBinds => &cautions.fitted_binds,
        Caution::FittedTooNarrow => &cautions.fitted_too_narrow,
        Caution::CollarBeyondLimit => &cautions.collar_beyond_limit,
        Caution::FittedStrokeUnknown => &cautions.fitted_stroke_unknown,
    }
}

/// The terms of the trade, in the order they are best learnt.
pub fn glossary() -> &'static [Term] {
    &WORDS.glossary
}

/// What the mechanic should type or press now.
pub fn awaiting(awaiting: Awaiting, units: UnitSet) -> String {
    let entry = |at| step(at).entry.clone();
    match awaiting {
        Awaiting::Details => entry(Step::Intake),
        Awaiting::Acknowledgement(Caution::FittedStrokeUnknown) => {
            "Type the stroke printed on the spring, or press Enter if nobody knows it.".to_owned()
        }
        Awaiting::Acknowledgement(_) => "Read the caution, then press Enter to go on.".to_owned(),
        Awaiting::Tick(due) if due.may_be_absent() => {
            format!("{}: tick it when it is done, or say that this shock has none.", check(due).line)
        }
        Awaiting::Tick(due) => format!("{}: tick it when it is done.", check(due).line),
        Awaiting::ContactTurns => entry(Step::Unload),
        Awaiting::Indicator => entry(Step::SeatIndicator),
        Awaiting::Reading => entry(Step::SeatedReading),
        Awaiting::Decision => entry(Step::Decision),
        Awaiting::FirstSpring => {
            "No spring is fitted yet: choose one of those on the list to begin with.".to_owned()
        }
        Awaiting::PreloadTurns(to) => {
            format!("Turn the collar to {} of preload, then type where it is.", units.show(to))
        }
        Awaiting::KerbReturn => entry(Step::KerbDrop),
        Awaiting::TrailReport => entry(Step::TrailCheck),
        Awaiting::CloseOrAnotherRound => entry(Step::AfterTrail),
        Awaiting::Nothing => entry(Step::Closed),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Turns;

    /// Asserts that a text is there, fits its room and ends as a sentence or a heading should.
    fn fits(text: &str, most: usize, ending: &str) {
        assert!(text.len() > 3 && text.trim() == text, "blank or ragged: {text:?}");
        assert!(text.chars().count() <= most, "{} characters, {most} fit: {text}", text.chars().count());
        assert_eq!(text.ends_with('.'), ending == ".", "wrong ending: {text}");
    }

    #[test]
    fn every_step_has_words_that_fit() {
        for words in Step::ALL.map(step) {
            fits(&words.title, 20, "");
            assert!((2..=3).contains(&words.title.split(' ').count()), "{}", words.title);
            fits(&words.instruction, 150, ".");
            fits(&words.entry, 100, ".");
            for sentence in &words.why {
                fits(sentence, 120, ".");
                assert!(sentence.matches(". ").count() <= 1, "two sentences at most: {sentence}");
            }
        }
    }

    #[test]
    fn every_check_has_words_that_fit_and_its_own() {
        let checks: Vec<_> = Step::ALL.iter().flat_map(|step| step.checks()).copied().collect();
        let mut lines: Vec<_> = checks.iter().map(|due| check(*due).line.as_str()).collect();
        for words in checks.iter().map(|due| check(*due)) {
            fits(&words.line, 40, "");
            fits(&words.detail, 130, ".");
        }
        lines.sort_unstable();
        lines.dedup();
        assert_eq!(lines.len(), checks.len(), "two checks share a line");
    }

    #[test]
    fn every_caution_has_words_that_fit() {
        for words in Caution::ALL.map(caution) {
            fits(&words.headline, 40, "");
            fits(&words.text, 180, ".");
            assert!(
                (1..=2).contains(&words.text.matches('.').count()),
                "one or two sentences: {}",
                words.text
            );
        }
    }

    #[test]
    fn what_can_hurt_by_force_or_a_loose_part_defers_to_maker_or_mechanic() {
        use Caution::{
            CollarBeyondLimit, FirstRide, FittedBinds, FittedStrokeUnknown, FittedTooNarrow, KerbDrop,
            LoadedSpring, LooseBolts, LooseCollar, SpringBinds,
        };
        let of_force = [LooseCollar, LoadedSpring, SpringBinds, LooseBolts, FirstRide, KerbDrop];
        let fitted = [FittedBinds, FittedTooNarrow, CollarBeyondLimit, FittedStrokeUnknown];
        for words in of_force.into_iter().chain(fitted).map(caution) {
            assert!(
                ["maker", "qualified mechanic"].iter().any(|name| words.text.contains(name)),
                "{}",
                words.text
            );
        }
    }

    #[test]
    fn every_term_is_explained_once() {
        let mut terms: Vec<_> = glossary().iter().map(|term| term.term.to_lowercase()).collect();
        for term in glossary() {
            fits(&term.meaning, 180, ".");
        }
        terms.sort_unstable();
        terms.dedup();
        assert_eq!(terms.len(), glossary().len());
        for needed in
            ["sag", "stroke", "travel", "preload", "leverage ratio", "spring rate", "coil bind", "collar"]
        {
            assert!(terms.iter().any(|term| term == needed), "{needed} is not explained");
        }
    }

    #[test]
    fn the_words_are_plain_ascii_without_exclamation() {
        assert!(SOURCE.is_ascii());
        assert!(!SOURCE.contains('!'));
    }

    #[test]
    fn the_turns_to_trim_to_are_named() {
        let words = awaiting(Awaiting::PreloadTurns(Turns::of(1.5)), UnitSet::Trade);
        assert_eq!(words, "Turn the collar to 1 1/2 turns of preload, then type where it is.");
    }

    #[test]
    fn a_check_a_shock_may_lack_says_so() {
        let words = awaiting(Awaiting::Tick(Check::ClipSeated), UnitSet::Trade);
        assert_eq!(
            words,
            "Seat the clip in its groove: tick it when it is done, or say that this shock has none."
        );
    }
}
