//! From a key to the finished frame, in the guide with thirty sets behind it.

use coilwright::archive::SessionName;
use coilwright::archive::index::WorkSummary;
use coilwright::screen;
use coilwright::screen::effect::{
    Answer, Effect, ListedSession, ListedSummary, SessionList, SessionProgress, Shell, StorageState,
};
use coilwright::screen::model::{Model, Shelf};
use coilwright::screen::theme::{Glyphs, Ink, Theme};
use coilwright::session::{Origin, Stamp, Step};
use coilwright::text::FreeText;
use coilwright::units::UnitSet;
use criterion::{BatchSize, BenchmarkId, Criterion};
use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use crate::assessing::session;

/// A shell that keeps everything at once.
struct Willing;

impl Shell for Willing {
    fn now(&self) -> Stamp {
        Stamp::default()
    }

    fn perform(&mut self, effect: Effect) -> Answer {
        match effect {
            Effect::Keep(_) => Answer::Kept(StorageState::Kept),
            Effect::Open(_) => {
                Answer::Opened { record: Box::new(session(30)), keeping: StorageState::Kept, note: None }
            }
            _ => Answer::Done,
        }
    }
}

/// The guide, opened from the first screen as a mechanic opens it.
fn guide() -> Model {
    let name = SessionName::new(&Stamp::default(), 1);
    let summary = ListedSummary::Read {
        opened: Stamp::default(),
        customer: FreeText::new("Invented Rider"),
        bike: FreeText::default(),
        origin: Origin::Workshop,
        progress: SessionProgress::Unfinished,
        work: WorkSummary {
            last_worked: Stamp::default(),
            step: Step::Unload,
            fitted: None,
            swaps: 0,
            sag: None,
            standing: None,
            target: None,
        },
    };
    let past =
        SessionList { newest: vec![ListedSession { name, summary }], older: 0, ..SessionList::default() };
    let shelf = Shelf { past, ..Shelf::default() };
    let theme = Theme { ink: Ink::Dark, glyphs: Glyphs::Full };
    let mut model = Model::new(shelf, UnitSet::Trade, theme);
    press(&mut model, KeyCode::Enter, KeyModifiers::NONE);
    press(&mut model, KeyCode::Char('y'), KeyModifiers::CONTROL);
    model
}

fn press(model: &mut Model, code: KeyCode, held: KeyModifiers) {
    screen::take_in(model, &mut Willing, Event::Key(KeyEvent::new(code, held)));
}

pub(crate) fn frames(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("key to frame, 30 sets, 40 springs");
    for (width, height) in [(80, 24), (140, 40), (200, 60)] {
        let mut terminal = Terminal::new(TestBackend::new(width, height)).expect("memory");
        let size = format!("{width}x{height}");
        group.bench_function(BenchmarkId::new("a step taken back", &size), |bencher| {
            let work = |mut model: Model| {
                press(&mut model, KeyCode::Char('t'), KeyModifiers::CONTROL);
                terminal.draw(|frame| screen::draw(frame, &model)).map(|_| ()).expect("memory");
                model
            };
            bencher.iter_batched(guide, work, BatchSize::PerIteration);
        });
    }
    group.finish();
}
