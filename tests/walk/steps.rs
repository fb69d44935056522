//! Every step against every kind of deed: what it leads to, or why it is refused.

use coilwright::session::{
    Caution, Check, Decision, Deed, Detail, Entry, ReadingNumber, Record, Refusal, Step, TickedHow, machine,
};
use coilwright::text::FreeText;
use coilwright::units::{Length, Mass, Turns};

use super::sample::{LONG, arrive, at, does, report, told};

/// One deed of each kind, each decision apart; the tick is the first of the step's own list.
fn deeds(step: Step) -> Vec<Deed> {
    let why = FreeText::new("a reason");
    let first_check = step.checks().first().copied().unwrap_or(Check::BikeSupported);
    let mut deeds = vec![
        Deed::IntakeDone,
        Deed::Told(Detail::Rider(Mass::kg(80.0))),
        Deed::CautionSeen(Caution::FirstRide),
        Deed::Ticked(first_check, TickedHow::Done),
        Deed::TrialsOpened { past_contact: Turns::of(0.5) },
        Deed::Unloaded { past_contact: Turns::of(0.25) },
        Deed::IndicatorSeated,
        Deed::Read { moved: Length::mm(15.0) },
        Deed::Trial { moved: Length::mm(15.0) },
        Deed::EnoughReadings,
        Deed::Trimmed { past_contact: Turns::of(1.0) },
        Deed::Refitted { spring: LONG, past_contact: Turns::ZERO },
        Deed::from(report()),
        Deed::Closed,
        Deed::Back,
        Deed::Redo,
        Deed::Voided { reading: ReadingNumber(1), because: why.clone() },
        Deed::Skipped { because: why },
        Deed::Noted(FreeText::new("a remark")),
    ];
    let to = Turns::of(1.0);
    let decisions = [
        Decision::Keep,
        Decision::ReadAgain,
        Decision::AnotherRound,
        Decision::Trim { to },
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

const NOTHING: Result<Step, Refusal> = Err(Refusal::NothingToTakeBack);
const NO_READING: Row = ("Voided", Err(Refusal::NoSuchReading(ReadingNumber(1))));

/// What is legal at a step, and what it leads to; where a refusal tells more than "not at this step", that too.
fn table(step: Step) -> Vec<Row> {
    let mut rows = up_to_the_reading(step);
    rows.extend(from_the_verdict_on(step));
    if !matches!(step, Step::Intake | Step::Closed) {
        rows.extend(["Told", "CautionSeen", "Noted"].map(|name| (name, Ok(step))));
    }
    rows
}

fn up_to_the_reading(step: Step) -> Vec<Row> {
    use Step as S;
    let stays = |name| (name, Ok(step));
    let cannot_skip = ("Skipped", Err(Refusal::StepCannotBeSkipped(step)));
    match step {
        S::Intake => {
            vec![("IntakeDone", Ok(S::BenchCheck)), stays("Noted"), ("Back", NOTHING), ("Redo", NOTHING)]
        }
        S::BenchCheck => vec![
            stays("Ticked"),
            ("Skipped", Err(Refusal::CannotBeSkipped(Check::BikeSupported))),
            ("TrialsOpened", Err(Refusal::CautionFirst(Caution::LooseCollar))),
            ("Back", NOTHING),
            stays("Redo"),
            NO_READING,
        ],
        S::Unload => vec![
            ("Unloaded", Ok(S::SeatIndicator)),
            ("TrialsOpened", Ok(S::SeatIndicator)),
            ("Back", Ok(S::BenchCheck)),
            ("Redo", NOTHING),
            NO_READING,
            cannot_skip,
        ],
        S::SeatIndicator => vec![
            ("IndicatorSeated", Ok(S::SeatedReading)),
            ("Trial", Err(Refusal::CautionFirst(Caution::SitGently))),
            ("EnoughReadings", Err(Refusal::NoReadingYet)),
            ("Trimmed", Ok(S::SeatIndicator)),
            ("Refitted", Err(Refusal::CautionFirst(Caution::LoadedSpring))),
            ("Back", Ok(S::Unload)),
            stays("Redo"),
            NO_READING,
            cannot_skip,
        ],
        S::SeatedReading => vec![
            ("Read", Ok(S::SeatIndicator)),
            ("Trial", Ok(S::SeatIndicator)),
            ("EnoughReadings", Err(Refusal::NoReadingYet)),
            ("Trimmed", Ok(S::SeatIndicator)),
            ("Refitted", Err(Refusal::CautionFirst(Caution::LoadedSpring))),
            ("Back", Ok(S::SeatIndicator)),
            ("Redo", Ok(S::SeatIndicator)),
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
        S::Verdict => vec![
            stays("Trial"),
            ("Keep", Ok(S::FinalChecks)),
            ("ReadAgain", Ok(S::SeatIndicator)),
            ("Trim", Ok(S::Trim)),
            ("Swap", Ok(S::Swap)),
            ("Trimmed", Ok(S::SeatIndicator)),
            ("Refitted", Err(Refusal::CautionFirst(Caution::LoadedSpring))),
            ("Back", Ok(S::SeatedReading)),
            ("Redo", Ok(S::SeatIndicator)),
            ("Voided", Ok(S::SeatIndicator)),
            cannot_skip,
        ],
        S::Trim => vec![
            ("Trimmed", Ok(S::SeatIndicator)),
            ("Back", Ok(S::Verdict)),
            ("Redo", NOTHING),
            stays("Voided"),
            cannot_skip,
        ],
        S::Swap => {
            vec![
                stays("Ticked"),
                ("Skipped", Err(Refusal::CannotBeSkipped(Check::BikeHung))),
                ("Back", Ok(S::Verdict)),
                stays("Redo"),
                stays("Voided"),
            ]
        }
        S::FinalChecks => vec![
            stays("Ticked"),
            ("Skipped", Err(Refusal::CannotBeSkipped(Check::CollarHolds))),
            ("Back", Ok(S::Verdict)),
            stays("Redo"),
            stays("Voided"),
        ],
        S::TrailCheck => vec![
            ("TrailRidden", Ok(S::AfterTrail)),
            ("Skipped", Ok(S::AfterTrail)),
            ("Back", Ok(S::FinalChecks)),
            ("Redo", NOTHING),
            stays("Voided"),
        ],
        S::AfterTrail => vec![
            ("Closed", Ok(S::Closed)),
            ("AnotherRound", Ok(S::Verdict)),
            ("Back", Ok(S::TrailCheck)),
            ("Redo", NOTHING),
            stays("Voided"),
            cannot_skip,
        ],
        S::Closed => vec![("Back", Ok(S::AfterTrail)), ("Redo", NOTHING)],
        _ => Vec::new(),
    }
}

/// A record that has just come to a step, the cautions at its opening acknowledged.
fn standing_at(step: Step) -> Record {
    let mut record = told();
    match step {
        Step::Trim => {
            arrive(&mut record, Step::Verdict);
            does(&mut record, Deed::Decided(Decision::Trim { to: Turns::of(1.0) }));
        }
        Step::Swap => {
            arrive(&mut record, Step::Verdict);
            does(&mut record, Deed::Decided(Decision::Swap { to: LONG }));
            does(&mut record, Deed::CautionSeen(Caution::LoadedSpring));
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
                after.entries.push(Entry { at: at(99), deed });
            }
            assert_eq!(record, after);
        }
    }
}
