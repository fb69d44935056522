//! The screen driven by key strings, its frames looked at: the real loop body, a shell in memory, the clock pinned.
//!
//! In a key string `<Enter>` or `<C-u>` is a key and everything else is typed: `82<Enter>15.5 kg<Enter>`.

mod anything;
mod bad_input;
mod beyond;
mod bytes;
mod card;
mod colour;
mod compare;
mod conditions;
mod counted;
mod customers;
mod figures;
mod forget;
mod guide;
mod held;
mod help;
mod home;
mod intake;
mod keeping;
mod kerb;
mod marks;
mod mouse;
mod palette;
mod pictures;
mod rack;
mod replay;
mod review;
mod room;
mod safety;
mod scenes;
mod settings;
mod sheet;
mod shopfloor;
mod sizes;
mod slips;
mod small;
mod table;
mod tally;
mod trials;
mod versions;
mod ways_of_reading;

use std::path::Path;

use chrono::DateTime;
use coilwright::archive::SessionName;
use coilwright::screen::effect::{Answer, Effect, ListedSession, SessionList, Shell, StorageState};
use coilwright::screen::model::{Model, Shelf};
use coilwright::screen::theme::{Glyphs, Ink, Theme};
use coilwright::screen::{self, Flow};
use coilwright::session::{Record, Stamp};
use coilwright::units::UnitSet;
use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

/// The time in every test.
pub(crate) fn noon() -> Stamp {
    DateTime::parse_from_rfc3339("2026-11-25T12:00:00+01:00").expect("a time")
}

/// A shell in memory.
#[derive(Default)]
pub(crate) struct Memory {
    /// Every version that was to be kept, in order.
    pub(crate) kept: Vec<Record>,
    /// Why nothing is kept, if nothing is.
    pub(crate) fault: Option<String>,
    /// The text of the only file that is there, by its path.
    pub(crate) table: Option<(&'static str, &'static str)>,
    /// What the list shows, and what opens.
    pub(crate) past: Vec<(ListedSession, Record)>,
    /// What the clock shows, where it is not noon.
    pub(crate) clock: Option<Stamp>,
}

impl Shell for Memory {
    fn now(&self) -> Stamp {
        self.clock.unwrap_or_else(noon)
    }

    fn perform(&mut self, effect: Effect) -> Answer {
        match effect {
            Effect::Keep(record) => {
                if let Some(because) = self.fault.clone() {
                    return Answer::Kept(StorageState::OnlyInMemory { because });
                }
                self.kept.push(*record);
                Answer::Kept(StorageState::Kept)
            }
            Effect::Open(name) => self.open(&name),
            Effect::ReadTable(path) => match self.table {
                Some((there, text)) if path == Path::new(there) => Answer::TableRead(text.to_owned()),
                _ => Answer::Failed("There is no such file.".to_owned()),
            },
            Effect::List => Answer::Listed(self.list()),
            _ => Answer::Done,
        }
    }
}

impl Memory {
    fn list(&self) -> SessionList {
        SessionList {
            newest: self.past.iter().map(|(line, _)| line.clone()).collect(),
            older: 0,
            ..SessionList::default()
        }
    }

    fn open(&self, name: &SessionName) -> Answer {
        let record = self.past.iter().find(|(line, _)| line.name == *name).map(|(_, record)| record.clone());
        record.map_or_else(
            || Answer::Failed("There is no such record.".to_owned()),
            |record| Answer::Opened { record: Box::new(record), keeping: StorageState::Kept, note: None },
        )
    }
}

/// A screen with somebody at the keys.
pub(crate) struct Stage {
    pub(crate) model: Model,
    pub(crate) shell: Memory,
    pub(crate) flow: Flow,
}

impl Stage {
    /// The first screen, with nothing kept yet.
    pub(crate) fn new() -> Self {
        Self::with(Memory::default(), Theme { ink: Ink::Dark, glyphs: Glyphs::Full })
    }

    /// The first screen of a shop.
    pub(crate) fn with(shell: Memory, theme: Theme) -> Self {
        let past = shell.list();
        let records = Shelf { folder: "/records".to_owned(), past, ..Shelf::default() };
        Self { model: Model::new(records, UnitSet::Trade, theme), shell, flow: Flow::On }
    }

    /// Presses keys, each after a frame was drawn.
    pub(crate) fn press(&mut self, keys: &str) -> &mut Self {
        for key in events(keys) {
            self.model.was_drawn();
            self.take(Event::Key(key));
        }
        self
    }

    /// Presses keys that all come before another frame is drawn.
    pub(crate) fn burst(&mut self, keys: &str) -> &mut Self {
        self.model.was_drawn();
        for key in events(keys) {
            self.take(Event::Key(key));
        }
        self
    }

    /// Takes an event in.
    pub(crate) fn take(&mut self, event: Event) -> &mut Self {
        self.flow = screen::take_in(&mut self.model, &mut self.shell, event);
        self
    }

    /// The frame as text, without blanks at the ends of lines.
    pub(crate) fn frame(&self, width: u16, height: u16) -> String {
        drawn(&self.model, width, height)
    }

    /// Whether the frame at 80 by 24 shows this.
    pub(crate) fn shows(&self, text: &str) -> bool {
        self.frame(80, 24).contains(text)
    }

    /// The record on the desk.
    pub(crate) fn record(&self) -> &Record {
        &self.model.desk.session.as_ref().expect("a session is open").record
    }
}

/// A model's frame as text, without blanks at the ends of lines.
pub(crate) fn drawn(model: &Model, width: u16, height: u16) -> String {
    let mut terminal =
        Terminal::new(TestBackend::new(width, height)).expect("the test terminal always works");
    terminal.draw(|frame| screen::draw(frame, model)).expect("the test terminal always works");
    let buffer = terminal.backend().buffer();
    let line = |y: u16| (0..width).map(|x| buffer[(x, y)].symbol()).collect::<String>();
    let lines: Vec<String> = (0..height).map(|y| line(y).trim_end().to_owned()).collect();
    lines.join("\n")
}

/// The keys of an intake with everything in it, from the first question to the row that begins the work. The names stand
/// above, the list and all that could stay as it is below.
pub(crate) const WHOLE_INTAKE: &str = "<Up><Up>Invented Rider<Enter>Trail bike, blue<Enter>112<Enter>160<Enter>65<Enter>\
                                       <Tab><Tab>350-600 by 50, stroke 70<Enter>15.5<Enter>30 +- 1.5<Enter>0.5<Enter>\
                                       3<Enter>1.5<Enter>2<Enter>\
                                       <Up><Up><Up><Up><Up><Up><Up><Up><Up>450<Enter>";

/// The same for quick trials, which ask for stroke and spring first.
pub(crate) const WHOLE_TRIALS: &str = "<Up><Up>Invented Rider<Enter>Trail bike, blue<Enter>65<Enter><Tab><Tab>\
                                       112<Enter>160<Enter>350-600 by 50, stroke 70<Enter>15.5<Enter>30 +- 1.5<Enter>\
                                       0.5<Enter>3<Enter>1.5<Enter>2<Enter>\
                                       <Up><Up><Up><Up><Up><Up><Up><Up><Up><Up><Up>450<Enter>";

fn events(keys: &str) -> Vec<KeyEvent> {
    let mut events = Vec::new();
    let mut rest = keys;
    while let Some(first) = rest.chars().next() {
        let named = rest.strip_prefix('<').and_then(|named| named.split_once('>'));
        if let Some((name, behind)) = named {
            events.push(named_key(name));
            rest = behind;
        } else {
            events.push(KeyEvent::new(KeyCode::Char(first), KeyModifiers::NONE));
            rest = &rest[first.len_utf8()..];
        }
    }
    events
}

fn named_key(name: &str) -> KeyEvent {
    let plain = |code| KeyEvent::new(code, KeyModifiers::NONE);
    match name {
        "Enter" => plain(KeyCode::Enter),
        "Esc" => plain(KeyCode::Esc),
        "Tab" => plain(KeyCode::Tab),
        "BackTab" => KeyEvent::new(KeyCode::BackTab, KeyModifiers::SHIFT),
        "Up" => plain(KeyCode::Up),
        "Down" => plain(KeyCode::Down),
        "Left" => plain(KeyCode::Left),
        "Right" => plain(KeyCode::Right),
        "Home" => plain(KeyCode::Home),
        "End" => plain(KeyCode::End),
        "PgDn" => plain(KeyCode::PageDown),
        "PgUp" => plain(KeyCode::PageUp),
        "Del" => plain(KeyCode::Delete),
        "Ins" => plain(KeyCode::Insert),
        "BSpace" => plain(KeyCode::Backspace),
        "F1" => plain(KeyCode::F(1)),
        "F2" => plain(KeyCode::F(2)),
        "F3" => plain(KeyCode::F(3)),
        "F12" => plain(KeyCode::F(12)),
        "F6" => plain(KeyCode::F(6)),
        "F7" => plain(KeyCode::F(7)),
        "F8" => plain(KeyCode::F(8)),
        "F9" => plain(KeyCode::F(9)),
        control => {
            let letter = control.strip_prefix("C-").and_then(|letter| letter.chars().next());
            KeyEvent::new(KeyCode::Char(letter.expect(control)), KeyModifiers::CONTROL)
        }
    }
}
