//! The history of the walk, one line a deed: what was done, with its figures.
//!
//! Free text is shown safely and whole. Not here: times and numbering, and where a line breaks, which belong to the list
//! that shows the lines.

use crate::session::{
    Bottoming, Caution, Charge, Decision, Deed, Detail, Fact, Feel, Gap, Indicator, LeverageKnowledge,
    Posture, RideHeight, Spring, SpringNumber, TickAnswer, TrailReport, Value,
};
use crate::text::FreeText;
use crate::text::mark::Mark;
use crate::units::{Show, SpringRate, Turns, UnitSet};

use super::walk::{caution, check};

/// One line of the walk's history.
pub fn deed(deed: &Deed, units: UnitSet, springs: &[Spring]) -> String {
    match deed {
        Deed::IntakeDone => "Details complete".to_owned(),
        Deed::Entered(entered) => format!("Corrected: {}", detail(entered, units, springs)),
        Deed::CautionSeen(Caution::FittedStrokeUnknown) => {
            "Stroke of the spring on the bike: not known".to_owned()
        }
        Deed::CautionSeen(seen) => format!("Read caution: {}", caution(*seen).headline),
        Deed::Ticked(ticked, TickAnswer::Done) => format!("Done: {}", check(*ticked).line),
        Deed::Ticked(ticked, TickAnswer::HasNone) => format!("This shock has none: {}", check(*ticked).line),
        Deed::TrialsOpened { preload_turns } => {
            format!("Quick trials begun, {}", collar(*preload_turns, units))
        }
        Deed::Unloaded { preload_turns } => format!("Spring unloaded, {}", collar(*preload_turns, units)),
        Deed::IndicatorSeated => "Indicator seated".to_owned(),
        Deed::Read { reading } => format!("Seated reading {}", units.show(*reading)),
        Deed::Trial { reading } => format!("Indicator seated, reading {}", units.show(*reading)),
        Deed::ReadHow { indicator, posture } => {
            format!("Readings from now on: {}", read_how(*indicator, *posture))
        }
        Deed::Under(condition) => super::condition::under(condition.as_ref(), units),
        Deed::GapLookedFor(Gap::Seen) => "A gap was seen between indicator and seal".to_owned(),
        Deed::GapLookedFor(Gap::None) => "No gap was seen between indicator and seal".to_owned(),
        Deed::Risen { reading } => format!("Let rise from below: {}", units.show(*reading)),
        Deed::EnoughReadings => "Enough readings, on to the decision".to_owned(),
        Deed::Decided(decision) => decided(*decision, units, springs),
        Deed::PreloadSet { preload_turns } => format!("Preload set: {}", collar(*preload_turns, units)),
        Deed::Swapped { spring: number, preload_turns } => {
            format!("Fitted {}, {}", spring(*number, springs, units), collar(*preload_turns, units))
        }
        Deed::KerbDropped(returned) => format!("Kerb drop: {}", super::kerb::returned(*returned)),
        Deed::TrailRidden { bottoming: often, ride_height: height, feel: felt, note } => {
            let (bottoming, ride_height, feel, note) = (*often, *height, *felt, note.clone());
            trail(&TrailReport { bottoming, ride_height, feel, note })
        }
        Deed::Closed => "Session closed".to_owned(),
        Deed::TakenBack | Deed::Undone => "Last step undone".to_owned(),
        Deed::Redone => "Undone step done again".to_owned(),
        Deed::StartedAgain => "Step started again".to_owned(),
        Deed::Voided { reading, because } => {
            format!("Reading {} does not count: {}", reading.0, quoted(because))
        }
        Deed::Skipped { because } => format!("Skipped: {}", quoted(because)),
        Deed::Noted(note) => format!("Note: {}", quoted(note)),
        Deed::AsFound(sheet) => format!("As found: {}", super::sheet::line(sheet, units)),
        Deed::AsLeft(sheet) => format!("As left: {}", super::sheet::line(sheet, units)),
        Deed::RideTold(ride) => format!("Ride: {}", super::ride::entered(ride, units)),
    }
}

/// A detail of the intake with its figure: "rider 82 kg".
pub fn detail(detail: &Detail, units: UnitSet, springs: &[Spring]) -> String {
    let (fact, name) = (detail.fact(), detail.fact().about().name);
    match detail.value() {
        Some(Value::Text(text)) => format!("{name} {}", quoted(&text)),
        Some(Value::Figure(figure)) => format!("{name} {}", units.show(figure)),
        Some(Value::Target(target)) => format!("{name} {}", super::target_range(target, units)),
        Some(Value::WheelLoad(load)) => format!("{name} {}", load.shown.shown(units)),
        Some(Value::Charge(known)) => format!("{name} {}", charge(known, units)),
        Some(Value::Earlier(earlier)) => {
            format!("what the session of {} taught", earlier.opened.format("%-d %B %Y"))
        }
        Some(Value::Leverage(known)) => leverage(&known, units),
        Some(Value::Springs(springs)) => format!("{name} {}", springs.len()),
        Some(Value::Spring(number)) => format!("{name} {}", spring(number, springs, units)),
        None if fact == Fact::Earlier => "nothing from an earlier session".to_owned(),
        None if fact == Fact::SpringOnArrival => "no spring on the bike as it came in".to_owned(),
        None => format!("{name} left out"),
    }
}

/// How readings are taken, in words.
pub const fn read_how(indicator: Indicator, posture: Posture) -> &'static str {
    match (indicator, posture) {
        (Indicator::Kept, Posture::Seated) => "seated, indicator dragged",
        (Indicator::Kept, Posture::Standing) => "standing, indicator dragged",
        (Indicator::Pushed, Posture::Seated) => "seated, indicator pushed to the seal",
        (Indicator::Pushed, Posture::Standing) => "standing, indicator pushed to the seal",
    }
}

/// The charge of a damper, as it was told.
pub fn charge(charge: Charge, units: UnitSet) -> String {
    match charge {
        Charge::Nothing => "none".to_owned(),
        Charge::Weighed(force) => units.show(force),
        Charge::Pressure { pressure, rod } => {
            format!("{:.0} psi on a shaft of {}", pressure.as_psi(), units.show(rod))
        }
    }
}

/// A spring by its label, with its mark; without one with its number where another at hand bears the same label.
pub fn spring(number: SpringNumber, springs: &[Spring], units: UnitSet) -> String {
    let Some(found) = springs.iter().find(|spring| spring.number == number) else {
        return format!("spring {}", number.0);
    };
    if found.marked.is_some() {
        return named(found.label, found.end_rate, found.mark(), units);
    }
    let label = label(found.label, found.end_rate, units);
    // Rates this far apart are never shown alike, and most need not be written out to see it.
    let near = |other: &Spring| (other.label - found.label).abs() < SpringRate::lb_per_in(2.0);
    let twin = |other: &Spring| {
        other.number != number && near(other) && self::label(other.label, other.end_rate, units) == label
    };
    let twin = springs.iter().any(twin);
    if twin { format!("{label} (spring {})", number.0) } else { label }
}

/// A spring by its label, with its mark where it has one: "450 lb/in (A3)".
pub fn named(label: SpringRate, end: Option<SpringRate>, mark: Option<Mark>, units: UnitSet) -> String {
    let label = self::label(label, end, units);
    mark.map_or_else(|| label.clone(), |mark| format!("{label} ({mark})"))
}

/// The rate printed on a spring, of a progressive one both: "400–490 lb/in".
pub fn label(label: SpringRate, end: Option<SpringRate>, units: UnitSet) -> String {
    match end {
        Some(end) => format!("{}–{}", label.written(units).figure, units.show(end)),
        None => units.show(label),
    }
}

/// How often the shock bottomed out, in words.
pub const fn bottoming(bottoming: Bottoming) -> &'static str {
    match bottoming {
        Bottoming::Never => "never",
        Bottoming::NowAndThen => "on the biggest hits",
        Bottoming::Often => "again and again",
    }
}

/// How the bike sat, in words.
pub const fn ride_height(ride_height: RideHeight) -> &'static str {
    match ride_height {
        RideHeight::High => "too high",
        RideHeight::Right => "right",
        RideHeight::Deep => "too deep",
    }
}

/// How it felt, in words.
pub const fn feel(feel: Feel) -> &'static str {
    match feel {
        Feel::Dull => "dull",
        Feel::Right => "right",
        Feel::Nervous => "nervous",
    }
}

/// Where the collar stands: "collar at contact", "collar 3/4 turn past contact".
pub fn collar(preload_turns: Turns, units: UnitSet) -> String {
    if preload_turns == Turns::ZERO {
        "collar at contact".to_owned()
    } else {
        format!("{} of preload", units.show(preload_turns))
    }
}

fn decided(decision: Decision, units: UnitSet, springs: &[Spring]) -> String {
    match decision {
        Decision::Keep => "Decided: keep spring and collar".to_owned(),
        Decision::ReadAgain => "Decided: read again".to_owned(),
        Decision::SetPreload { to } => format!("Decided: trim, {}", collar(to, units)),
        Decision::Swap { to } => format!("Decided: swap to {}", spring(to, springs, units)),
        Decision::AnotherRound => "Decided: another round".to_owned(),
    }
}

/// What a trail check told, without its note: "bottoming never, ride height right, feel right".
pub fn trail_answers(report: &TrailReport) -> String {
    format!(
        "bottoming {}, ride height {}, feel {}",
        bottoming(report.bottoming),
        ride_height(report.ride_height),
        feel(report.feel)
    )
}

fn trail(report: &TrailReport) -> String {
    let answers = format!("Trail: {}", trail_answers(report));
    if report.note.is_empty() { answers } else { format!("{answers}; {}", quoted(&report.note)) }
}

fn leverage(knowledge: &LeverageKnowledge, units: UnitSet) -> String {
    match knowledge {
        LeverageKnowledge::TravelOnly => "leverage ratio from travel and stroke".to_owned(),
        LeverageKnowledge::Ends { start, end } => {
            format!("leverage ratio from {} to {}", units.show(*start), units.show(*end))
        }
        LeverageKnowledge::Measured(pairs) => format!("leverage ratio from {} measured pairs", pairs.len()),
    }
}

fn quoted(text: &FreeText) -> String {
    text.shown().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::{ReadingNumber, Target};
    use crate::units::{Length, Mass, SpringRate};

    const UNITS: UnitSet = UnitSet::Trade;

    fn springs() -> Vec<Spring> {
        [(1, 450.0), (2, 500.0), (3, 500.0)]
            .map(|(number, rate)| Spring::labelled(SpringNumber(number), SpringRate::lb_per_in(rate)))
            .to_vec()
    }

    fn line(done: &Deed) -> String {
        deed(done, UNITS, &springs())
    }

    #[test]
    fn a_deed_is_told_with_its_figures() {
        let entered = [
            (Deed::Unloaded { preload_turns: Turns::ZERO }, "Spring unloaded, collar at contact"),
            (Deed::Read { reading: Length::mm(19.5) }, "Seated reading 19.5 mm"),
            (Deed::PreloadSet { preload_turns: Turns::of(0.75) }, "Preload set: 3/4 turn of preload"),
            (Deed::Decided(Decision::Swap { to: SpringNumber(1) }), "Decided: swap to 450 lb/in"),
            (
                Deed::Swapped { spring: SpringNumber(2), preload_turns: Turns::ZERO },
                "Fitted 500 lb/in (spring 2), collar at contact",
            ),
            (Deed::Entered(Detail::Rider(Mass::kg(82.0))), "Corrected: rider 82 kg"),
            (Deed::Entered(Detail::Target(Target::PLANTED)), "Corrected: target sag 28.5–31.5 %"),
        ];
        for (done, expected) in entered {
            assert_eq!(line(&done), expected);
        }
    }

    #[test]
    fn two_springs_with_one_label_are_told_apart() {
        let names = [1, 2, 3, 9].map(|number| spring(SpringNumber(number), &springs(), UNITS));
        assert_eq!(names, ["450 lb/in", "500 lb/in (spring 2)", "500 lb/in (spring 3)", "spring 9"]);
    }

    #[test]
    fn a_trail_report_is_one_line() {
        let report = TrailReport {
            bottoming: Bottoming::NowAndThen,
            ride_height: RideHeight::Deep,
            feel: Feel::Right,
            note: FreeText::new("wallows in berms"),
        };
        let expected =
            "Trail: bottoming on the biggest hits, ride height too deep, feel right; wallows in berms";
        assert_eq!(line(&Deed::from(report)), expected);
    }

    #[test]
    fn free_text_in_a_line_is_shown_safely_and_whole() {
        let because = FreeText::new(&format!("\u{1b}[2J{}\nmore", "very long ".repeat(40)));
        let entered = line(&Deed::Voided { reading: ReadingNumber(4), because });
        assert!(entered.starts_with("Reading 4 does not count: ␛[2Jvery long"), "{entered}");
        assert!(!entered.contains(['\u{1b}', '\n']) && entered.ends_with("long  more"), "{entered}");
    }
}
