//! From a key to the finished frame at every place, on a large screen: a shop with thirty sessions of thirty sets and forty
//! kinds of spring on its rack.

use std::fs;
use std::path::Path;
use std::sync::Arc;

use coilwright::app::shell::DiskShell;
use coilwright::archive::form::{self, Unknown};
use coilwright::archive::seal::{Revision, seal};
use coilwright::archive::{Archive, FolderIdentity, RealDisk, SessionName};
use coilwright::screen::model::Model;
use coilwright::screen::theme::Theme;
use coilwright::screen::{self, BackgroundWork};
use coilwright::session::Stamp;
use coilwright::text::FreeText;
use coilwright::units::UnitSet;
use criterion::{BenchmarkId, Criterion};
use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use crate::assessing::session;

const SIZE: (u16, u16) = (200, 60);

/// A place: what it is called, the keys that lead there from the first screen, and the key that is timed. A capital letter
/// is held with Ctrl; `^` is up, `>` tab, `!` Enter.
const PLACES: [(&str, &str, char); 13] = [
    ("Home", "", '>'),
    ("Details", "!D", '>'),
    ("Guided walk", "!Y", '>'),
    ("Quick trials", "!", '1'),
    ("Settings", "^^^^!", '>'),
    ("Spring rack", "^^^^^^!", '>'),
    ("Past sessions", "^^^^^^^!", 'i'),
    ("Past session", "^^^^^^^!!", '>'),
    ("Sessions of one bike", "^^^^^^^!!V", '>'),
    ("Help", "?", '>'),
    ("Leverage curve", "!D>>>>>>>>>>>F", 'u'),
    ("What changes", "!F", 'u'),
    ("Rate from wire", "^^^^^!", '9'),
];

fn key(sign: char) -> KeyEvent {
    let plain = |code| KeyEvent::new(code, KeyModifiers::NONE);
    match sign {
        '^' => plain(KeyCode::Up),
        '>' => plain(KeyCode::Tab),
        '!' => plain(KeyCode::Enter),
        'A'..='Z' => KeyEvent::new(KeyCode::Char(sign.to_ascii_lowercase()), KeyModifiers::CONTROL),
        typed => plain(KeyCode::Char(typed)),
    }
}

fn press(model: &mut Model, shell: &mut DiskShell, sign: char) {
    model.was_drawn();
    screen::take_in(model, shell, Event::Key(key(sign)));
}

/// The shop's folder: the sessions and the rack.
fn fill(records: &Path) {
    let mut record = session(30);
    record.intake.customer = FreeText::new("Invented Rider");
    record.intake.bike_name = FreeText::new("trail bike");
    let body = form::write(&record, &Unknown::default()).expect("a writable record");
    for number in 0..30 {
        let name = SessionName::new(&Stamp::default(), number);
        fs::write(records.join(name.record()), seal(&body, Revision::new(1))).expect("it can be written");
    }
    let springs =
        (0..40).map(|step| format!("(rate_lb_in: {}.0), ", 300 + 10 * step)).collect::<Vec<_>>().concat();
    fs::write(records.join("rack.ron"), format!("(format: 1, springs: [{springs}])"))
        .expect("it can be written");
}

pub(crate) fn places(criterion: &mut Criterion) {
    let home = tempfile::tempdir().expect("a temporary folder");
    let records = home.path().join("records");
    let identity = FolderIdentity::new(7);
    let archive = || {
        Archive::create(Arc::new(RealDisk), &records, &home.path().join("spool"), identity).expect("a folder")
    };
    drop(archive());
    fill(&records);
    let (width, height) = SIZE;
    let mut group = criterion.benchmark_group(format!("key to frame at {width}x{height}"));
    for (name, way, timed) in PLACES {
        let mut shop = DiskShell::new(archive(), Some(home.path().join("cache")));
        let mut model = Model::new(shop.shelf("/records".to_owned()), UnitSet::Trade, Theme::DARK);
        for sign in way.chars() {
            press(&mut model, &mut shop, sign);
            while screen::take_news(&mut model, &mut shop) == BackgroundWork::UnderWay {
                std::thread::yield_now();
            }
        }
        assert_eq!(model.place().title(), name, "{way} leads elsewhere: {:?}", model.desk.notice);
        let mut terminal = Terminal::new(TestBackend::new(width, height)).expect("memory");
        group.bench_function(BenchmarkId::from_parameter(name), |bencher| {
            bencher.iter(|| {
                press(&mut model, &mut shop, timed);
                terminal.draw(|frame| screen::draw(frame, &model)).map(drop).expect("memory");
            });
        });
    }
    group.finish();
}
