//! A fault of the program itself: the terminal is given back, a sentence says what it was and where the record is, and every
//! step shown as kept is there.
//!
//! The program has no way to be made to panic, and shall have none. So this test runs itself again in the pseudo-terminal:
//! the real console, loop and shop, behind a shell that panics at the second step it is to keep.

use std::path::Path;
use std::sync::Arc;

use coilwright::app::shell::DiskShell;
use coilwright::archive::{Archive, FolderIdentity, RealDisk, form};
use coilwright::screen::effect::{Answer, Behind, Effect, Shell};
use coilwright::screen::model::Model;
use coilwright::screen::terminal::Console;
use coilwright::screen::theme::Theme;
use coilwright::session::Stamp;
use coilwright::units::UnitSet;

use super::{Running, SIZE, home};

/// Set in the child: the folder that holds the records.
const HOME: &str = "COILWRIGHT_TEST_BREAKS_DOWN";
const TEST: &str = "terminal::fault::a_fault_of_the_program_gives_the_terminal_back_and_loses_no_step";
const REASSURANCE: &str = "Every step that was shown as saved is in the invented folder";

/// A shop whose second step meets a fault.
struct Breaking {
    shop: DiskShell,
    kept: u32,
}

impl Shell for Breaking {
    fn now(&self) -> Stamp {
        self.shop.now()
    }

    fn perform(&mut self, effect: Effect) -> Answer {
        if matches!(effect, Effect::Keep(_)) {
            self.kept += 1;
            assert!(self.kept < 2, "an invented fault");
        }
        self.shop.perform(effect)
    }

    fn behind(&mut self) -> Behind {
        self.shop.behind()
    }
}

fn archive(home: &Path) -> Archive {
    let (records, spool) = (home.join("records"), home.join("spool"));
    Archive::create(Arc::new(RealDisk), &records, &spool, FolderIdentity::new(7)).expect("a folder")
}

/// The child's part: never returns but by the fault.
fn break_down(home: &Path) {
    let mut shell = Breaking { shop: DiskShell::new(archive(home), None), kept: 0 };
    let mut model = Model::new(shell.shop.shelf("/records".to_owned()), UnitSet::default(), Theme::DARK);
    let mut console = Console::take(REASSURANCE.to_owned()).expect("a terminal");
    coilwright::screen::run(&mut console, &mut shell, &mut model).expect("the terminal obeys");
}

#[test]
fn a_fault_of_the_program_gives_the_terminal_back_and_loses_no_step() {
    if let Some(home) = std::env::var_os(HOME) {
        return break_down(Path::new(&home));
    }
    let home = home();
    let program = std::env::current_exe().expect("this program");
    let arguments = ["--exact", TEST, "--nocapture"];
    let place = home.path().to_str().expect("text");
    let mut running = Running::of(&program, &arguments, home.path(), &[(HOME, place)], SIZE);
    running.wait_for("New session");
    running.type_keys("\r\u{1b}[A\u{1b}[AInvented Rider\r");
    running.wait_for("✓ saved");
    running.wait_until("the screen taken", |seen| seen.screen.screen().alternate_screen());
    running.type_keys("trail bike\r");
    running.wait_for("an invented fault");
    assert!(!running.gave_the_terminal_back().success());
    let text = running.contents();
    assert!(text.contains("coilwright broke down; this is a fault of the program."), "{text}");
    assert!(text.replace('\n', " ").contains("shown as saved is in the"), "{text}");
    let archive = archive(home.path());
    let [name] = &archive.list().expect("a folder").sessions[..] else { panic!("one session") };
    let record = form::read(&archive.read(name).expect("it is there").text).expect("it is whole").record;
    assert_eq!(record.intake.customer.as_typed(), "Invented Rider");
}
