//! What a shop hands over and exports: setup cards, tables, lines, and the commands that write them.
//!
//! The sessions are the demonstrations that ship, and invented ones on the bike of `walk::sample`.

mod cards;
mod commands;
pub(crate) mod exports;
mod flat;
mod hostile;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use coilwright::archive::{Revision, Seal, form};
use coilwright::assessment::{Assessment, assess};
use coilwright::assets;
use coilwright::report::{self, Personal, Subject};
use coilwright::session::{
    Awaiting, Check, Deed, Detail, ReadingNumber, Record, State, Step, TickAnswer, machine,
};
use coilwright::settings::Paper;
use coilwright::text::FreeText;
use coilwright::units::{Length, Mass, UnitSet};

use crate::walk::sample;

/// A record with what it folds to and means.
pub(crate) struct Session {
    name: String,
    record: Record,
    state: State,
    assessment: Option<Assessment>,
    seal: Seal,
}

impl Session {
    pub(crate) fn new(name: &str, record: Record) -> Self {
        let state = machine::replay(&record).expect("it fits");
        let assessment = state.setup.as_ref().map(|setup| assess(setup, &state, assets::doubts()));
        let seal = Seal::Sound { revision: Revision::new(1) };
        Self { name: name.to_owned(), record, state, assessment, seal }
    }

    fn subject(&self) -> Subject<'_> {
        let setup = self.state.setup.as_ref().expect("the intake is complete");
        let assessment = self.assessment.as_ref().expect("the intake is complete");
        Subject { setup, state: &self.state, assessment, seal: self.seal }
    }

    pub(crate) fn card(&self, units: UnitSet) -> String {
        coilwright::document::as_text(&report::card(&self.subject(), self.record.opened, units, self.head()))
    }

    fn page(&self) -> String {
        coilwright::document::as_html(&report::card(
            &self.subject(),
            self.record.opened,
            UnitSet::Trade,
            self.head(),
        ))
    }

    /// A shop without a paper of its own.
    fn head(&self) -> report::Letterhead<'_> {
        static PLAIN: LazyLock<Paper> = LazyLock::new(Paper::default);
        report::Letterhead { paper: &PLAIN, session: Some(&self.name) }
    }

    fn workshop_copy(&self, units: UnitSet) -> String {
        coilwright::document::as_text(&report::workshop_copy(&self.subject(), &self.record, units))
    }

    fn workshop_page(&self) -> String {
        coilwright::document::as_html(&report::workshop_copy(&self.subject(), &self.record, UnitSet::Trade))
    }

    fn sitting(&self) -> report::ExportSource<'_> {
        let Self { name, record, state, assessment, seal } = self;
        report::ExportSource { name, record, state, assessment: assessment.as_ref(), seal: *seal }
    }

    fn line(&self, personal: Personal) -> String {
        report::as_line(&self.sitting(), personal).expect("every figure is finite")
    }

    fn set_lines(&self, personal: Personal) -> String {
        report::as_set_lines(&self.sitting(), personal).expect("every figure is finite")
    }

    fn rows(&self, personal: Personal) -> String {
        report::as_rows(&self.sitting(), personal)
    }
}

fn shipped() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sessions")
}

/// The demonstrations, by name.
fn demonstrations() -> Vec<Session> {
    let files = fs::read_dir(shipped()).expect("the folder of demonstrations");
    let mut paths: Vec<_> = files.map(|file| file.expect("an entry").path()).collect();
    paths.sort();
    assert_eq!(paths.len(), 5);
    let session = |path: &PathBuf| {
        let text = fs::read_to_string(path).expect("text");
        let name = path.file_stem().expect("a name").to_string_lossy();
        Session::new(&name, form::read(&text).expect("a record").record)
    };
    paths.iter().map(session).collect()
}

/// A session with the text in every place that takes one, ridden and closed.
fn told_everywhere(text: &str) -> Session {
    let text = || FreeText::new(text);
    let mut record = sample::entered();
    for detail in [Detail::Customer(text()), Detail::BikeName(text()), Detail::Notes(text())] {
        record.intake.enter(detail).expect("any text is possible");
    }
    sample::arrive(&mut record, Step::BenchCheck);
    sample::does(&mut record, Deed::Ticked(Check::BikeSupported, TickAnswer::Done));
    sample::does(&mut record, Deed::Skipped { because: text() });
    sample::follow(&mut record, |state| state.step == Step::Decision);
    sample::does(&mut record, Deed::Noted(text()));
    sample::does(&mut record, Deed::Voided { reading: ReadingNumber(1), because: text() });
    sample::arrive(&mut record, Step::TrailCheck);
    let report = coilwright::session::TrailReport { note: text(), ..sample::report() };
    sample::does(&mut record, Deed::from(report));
    sample::does(&mut record, Deed::Closed);
    Session::new("2026-11-25-1000-000001", record)
}

/// A session with that many sets, readings that do not go together, figures that call for warnings, and long texts: more
/// than a card holds.
fn busy(sets: usize) -> Session {
    let mut record = sample::entered();
    let name = FreeText::new(&"Invented rider with a name beyond all measure ".repeat(4));
    let details = [
        Detail::Customer(name.clone()),
        Detail::BikeName(name),
        Detail::ReadingsEach(12),
        Detail::Rider(Mass::kg(40.0)),
        Detail::Travel(Length::mm(230.0)),
    ];
    for detail in details {
        record.intake.enter(detail).expect("possible");
    }
    let mut state = machine::replay(&record).expect("nothing was done");
    for turn in (0..=u8::MAX).cycle() {
        let choice = match state.awaiting() {
            Awaiting::Decision if state.sets.len() < sets => 3,
            Awaiting::CloseOrAnotherRound if state.trail.len() < 5 => 1,
            Awaiting::Decision | Awaiting::CloseOrAnotherRound => 0,
            _ => turn,
        };
        let Some(mut next) = sample::awaited(&state, choice) else { break };
        match &mut next {
            Deed::TrailRidden { note, .. } => {
                *note = FreeText::new(&"a long story of roots, rocks and one big landing ".repeat(20));
            }
            // Somebody bounced.
            Deed::Read { reading: moved } if record.entries.len().is_multiple_of(11) => {
                *moved = Length::mm(50.0);
            }
            _ => {}
        }
        state = sample::does(&mut record, next);
    }
    Session::new("2026-11-25-1000-000002", record)
}
