//! Every step against every kind of deed: what it leads to, or why it is refused.

use coilwright::session::{
    Caution, Check, Decision, Deed, Detail, Entry, KerbReturn, ReadingNumber, Record, Refusal, Step,
    TickAnswer, machine,
};
use coilwright::text::FreeText;
use coilwright::units::{Length, Mass, Turns};

use super::sample::{LONG, arrive, at, does, entered, report, ride, sheet};

/// One deed of each kind, each decision apart; the tick is the first of the step's own list.
fn deeds(step: Step) -> Vec<Deed> {
    let why = FreeText::new("a reason");
    let first_check = step.checks().first().copied().unwrap_or(Check::BikeSupported);
    let mut deeds = vec![
        Deed::IntakeDone,
        Deed::Entered(Detail::Rider(Mass::kg(80.0))),
        Deed::CautionSeen(Caution::FirstRide),
        Deed::Ticked(first_check, TickAnswer::Done),
        Deed::TrialsOpened { preload_turns: Turns::of(0.5) },
        Deed::Unloaded { preload_turns: Turns::of(0.25) },
        Deed::IndicatorSeated,
        Deed::Read { reading: Length::mm(15.0) },
        Deed::Trial { reading: Length::mm(15.0) },
        Deed::EnoughReadings,
        Deed::PreloadSet { preload_turns: Turns::of(1.0) },
        Deed::Swapped { spring: LONG, preload_turns: Turns::ZERO },
        Deed::KerbDropped(KerbReturn::Once),
        Deed::from(report()),
        Deed::Closed,
        Deed::TakenBack,
        Deed::StartedAgain,
        Deed::Undone,
        Deed::Redone,
        Deed::Voided { reading: ReadingNumber(1), because: why.clone() },
        Deed::Skipped { because: why },
        Deed::Noted(FreeText::new("a remark")),
        Deed::AsFound(Box::new(sheet())),
        Deed::AsLeft(Box::new(sheet())),
        Deed::RideTold(ride()),
    ];
    let to = Turns::of(1.0);
    let decisions = [
        Decision::Keep,
        Decision::ReadAgain,
        Decision::AnotherRound,
        Decision::SetPreload { to },
        Decision::Swap { to: LONG },
    ];
    deeds.extend(decisions.map(Deed::Decided));
    deeds
}

/// The name of a deed in the table below.
fn name(deed: &Deed) -> String {
    let debug = match deed {
        Deed::Decided(decision) => format!("{decision:?}"),
        deed => format!("{deed:?}"),
    };
    debug.split([' ', '(']).next().unwrap_or_default().to_owned()
}

/// A row of the table: the name of a deed, and the step it leads to or why it is refused.
type Row = (&'static str, Result<Step, Refusal>);

const NOTHING: Result<Step, Refusal> = Err(Refusal::NothingToUndo);
const NO_READING: Row = ("Voided", Err(Refusal::NoSuchReading(ReadingNumber(1))));

/// What is legal at a step, and what it leads to; where a refusal tells more than "not at this step", that too.
fn table(step: Step) -> Vec<Row> {
    let mut rows = up_to_the_reading(step);
    rows.extend(from_the_verdict_on(step));
    rows.push(("Redone", Err(Refusal::NothingToRedo)));
    if !matches!(step, Step::Intake | Step::Closed) {
        rows.extend(["Entered", "CautionSeen", "Noted", "AsFound", "AsLeft"].map(|name| (name, Ok(step))));
    }
    if matches!(step, Step::TrailCheck | Step::AfterTrail) {
        rows.push(("RideTold", Ok(step)));
    }
    rows
}

fn up_to_the_reading(step: Step) -> Vec<Row> {
    use Step as S;
    let stays = |name| (name, Ok(step));
    let cannot_skip = ("Skipped", Err(Refusal::StepCannotBeSkipped(step)));
    match step {
        S::Intake => {
            vec![
                ("IntakeDone", Ok(S::BenchCheck)),
                stays("Noted"),
                ("TakenBack", NOTHING),
                ("Undone", NOTHING),
                ("StartedAgain", NOTHING),
            ]
        }
        S::BenchCheck => vec![
            stays("Ticked"),
            ("Skipped", Err(Refusal::CannotBeSkipped(Check::BikeSupported))),
            ("TrialsOpened", Err(Refusal::CautionFirst(Caution::LooseCollar))),
            ("TakenBack", NOTHING),
            ("Undone", NOTHING),
            stays("StartedAgain"),
            NO_READING,
        ],
        S::Unload => vec![
            ("Unloaded", Ok(S::SeatIndicator)),
            ("TrialsOpened", Ok(S::SeatIndicator)),
            ("TakenBack", Ok(S::BenchCheck)),
            ("Undone", Ok(S::BenchCheck)),
            ("StartedAgain", NOTHING),
            NO_READING,
            cannot_skip,
        ],
        S::SeatIndicator => vec![
            ("IndicatorSeated", Ok(S::SeatedReading)),
            ("Trial", Err(Refusal::CautionFirst(Caution::SitGently))),
            ("EnoughReadings", Err(Refusal::NoReadingYet)),
            ("PreloadSet", Ok(S::SeatIndicator)),
            ("Swapped", Err(Refusal::CautionFirst(Caution::LoadedSpring))),
            ("TakenBack", Ok(S::Unload)),
            ("Undone", Ok(S::Unload)),
            stays("StartedAgain"),
            NO_READING,
            cannot_skip,
        ],
        S::SeatedReading => vec![
            ("Read", Ok(S::SeatIndicator)),
            ("Trial", Ok(S::SeatIndicator)),
            ("EnoughReadings", Err(Refusal::NoReadingYet)),
            ("PreloadSet", Ok(S::SeatIndicator)),
            ("Swapped", Err(Refusal::CautionFirst(Caution::LoadedSpring))),
            ("TakenBack", Ok(S::SeatIndicator)),
            ("Undone", Ok(S::SeatIndicator)),
            ("StartedAgain", Ok(S::SeatIndicator)),
            NO_READING,
            cannot_skip,
        ],
        _ => Vec::new(),
    }
}

fn from_the_verdict_on(step: Step) -> Vec<Row> {
    use Step as S;
    let stays = |name| (name, Ok(step));
    let cannot_skip = ("Skipped", Err(Refusal::StepCannotBeSkipped(step)));
    match step {
        S::Decision => vec![
            stays("Trial"),
            ("Keep", Ok(S::FinalChecks)),
            ("ReadAgain", Ok(S::SeatIndicator)),
            ("SetPreload", Ok(S::SetPreload)),
            ("Swap", Ok(S::Swap)),
            ("PreloadSet", Ok(S::SeatIndicator)),
            ("Swapped", Err(Refusal::CautionFirst(Caution::LoadedSpring))),
            ("TakenBack", Ok(S::SeatedReading)),
            ("Undone", Ok(S::SeatedReading)),
            ("StartedAgain", Ok(S::SeatIndicator)),
            ("Voided", Ok(S::SeatIndicator)),
            cannot_skip,
        ],
        S::SetPreload => vec![
            ("PreloadSet", Ok(S::SeatIndicator)),
            ("TakenBack", Ok(S::Decision)),
            ("Undone", Ok(S::Decision)),
            ("StartedAgain", NOTHING),
            stays("Voided"),
            cannot_skip,
        ],
        S::Swap => {
            vec![
                stays("Ticked"),
                ("Skipped", Err(Refusal::CannotBeSkipped(Check::BikeHung))),
                ("TakenBack", Ok(S::Decision)),
                ("Undone", Ok(S::Decision)),
                stays("StartedAgain"),
                stays("Voided"),
            ]
        }
        S::FinalChecks => vec![
            stays("Ticked"),
            ("Skipped", Err(Refusal::CannotBeSkipped(Check::CollarHolds))),
            ("TakenBack", Ok(S::Decision)),
            ("Undone", Ok(S::Decision)),
            ("StartedAgain", NOTHING),
            stays("Voided"),
        ],
        S::KerbDrop => vec![
            ("KerbDropped", Ok(S::TrailCheck)),
            ("TrailRidden", Ok(S::AfterTrail)),
            ("RideTold", Ok(S::TrailCheck)),
            ("Skipped", Ok(S::AfterTrail)),
            ("TakenBack", Ok(S::FinalChecks)),
            ("Undone", Ok(S::FinalChecks)),
            ("StartedAgain", NOTHING),
            stays("Voided"),
        ],
        S::TrailCheck => vec![
            ("TrailRidden", Ok(S::AfterTrail)),
            ("Skipped", Ok(S::AfterTrail)),
            ("TakenBack", Ok(S::KerbDrop)),
            ("Undone", Ok(S::KerbDrop)),
            ("StartedAgain", NOTHING),
            stays("Voided"),
        ],
        S::AfterTrail => vec![
            ("Closed", Ok(S::Closed)),
            ("AnotherRound", Ok(S::Decision)),
            ("TakenBack", Ok(S::TrailCheck)),
            ("Undone", Ok(S::TrailCheck)),
            ("StartedAgain", NOTHING),
            stays("Voided"),
            cannot_skip,
        ],
        S::Closed => vec![
            stays("Noted"),
            stays("TrailRidden"),
            ("TakenBack", Ok(S::AfterTrail)),
            ("Undone", Ok(S::AfterTrail)),
            ("StartedAgain", NOTHING),
        ],
        _ => Vec::new(),
    }
}

/// A record that has just come to a step, the cautions at its opening acknowledged.
fn standing_at(step: Step) -> Record {
    let mut record = entered();
    match step {
        Step::SetPreload => {
            arrive(&mut record, Step::Decision);
            does(&mut record, Deed::Decided(Decision::SetPreload { to: Turns::of(1.0) }));
        }
        Step::Swap => {
            arrive(&mut record, Step::Decision);
            does(&mut record, Deed::Decided(Decision::Swap { to: LONG }));
            for caution in [Caution::LoadedSpring, Caution::FlyingClip] {
                does(&mut record, Deed::CautionSeen(caution));
            }
        }
        step => {
            arrive(&mut record, step);
        }
    }
    record
}

#[test]
fn at_every_step_every_deed_leads_where_the_table_says() {
    for step in Step::ALL {
        let (before, table) = (standing_at(step), table(step));
        let deeds = deeds(step);
        for (row, _) in &table {
            assert!(deeds.iter().any(|deed| name(deed) == *row), "no deed is called {row}");
        }
        for deed in deeds {
            let otherwise = match step {
                Step::Closed => Refusal::SessionClosed,
                step => Refusal::NotAtThisStep { step },
            };
            let row = table.iter().find(|(row, _)| *row == name(&deed));
            let expected = row.map_or(Err(otherwise), |(_, expected)| expected.clone());
            let mut record = before.clone();
            let led_to = machine::advance(&mut record, at(99), deed.clone()).map(|state| state.step);
            assert_eq!(led_to, expected, "{deed:?} at {step:?}");
            let mut after = before.clone();
            if expected.is_ok() {
                after.entries.push(Entry::new(at(99), deed));
            }
            assert_eq!(record, after);
        }
    }
}
