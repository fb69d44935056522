//! Whole frames at 80 by 24 and 140 by 40, as they were looked at and found good.

use coilwright::archive::SessionName;
use coilwright::screen::effect::{PastSession, Progress, Summary};
use coilwright::screen::theme::{Glyphs, Ink, Theme};
use coilwright::session::{Detail, Origin, Record};
use coilwright::text::FreeText;
use insta::assert_snapshot;

use super::{Memory, Stage, WHOLE_INTAKE, noon};

fn shop_with_an_unfinished_session() -> Stage {
    let mut record = Record::new(noon());
    record.intake.tell(Detail::Who(FreeText::new("Invented Rider"))).expect("possible");
    let line = PastSession {
        name: SessionName::new(&noon(), 7),
        summary: Summary::Read {
            opened: noon(),
            who: record.intake.who.clone(),
            bike: FreeText::default(),
            origin: Origin::Workshop,
            progress: Progress::Unfinished,
        },
    };
    let shell = Memory { past: vec![(line, record)], ..Memory::default() };
    Stage::with(shell, Theme::DARK)
}

#[test]
fn the_first_screen_offers_to_go_on() {
    assert_snapshot!(shop_with_an_unfinished_session().frame(80, 24));
}

#[test]
fn an_unfinished_intake_opens_at_what_it_still_needs() {
    let mut stage = shop_with_an_unfinished_session();
    assert_snapshot!(stage.press("<Enter>82 kg").frame(80, 24));
}

#[test]
fn the_whole_intake_on_a_small_screen() {
    assert_snapshot!(Stage::new().press("<Enter>").press(WHOLE_INTAKE).frame(80, 24));
}

#[test]
fn the_whole_intake_on_a_large_screen() {
    assert_snapshot!(Stage::new().press("<Enter>").press(WHOLE_INTAKE).press("<Up>").frame(140, 40));
}

#[test]
fn the_whole_intake_in_ascii() {
    let theme = Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii };
    let mut stage = Stage::with(Memory::default(), theme);
    let frame = stage.press("<Enter>").press(WHOLE_INTAKE).press("<Up>").frame(140, 40);
    assert!(frame.is_ascii(), "{frame}");
    assert!(frame.contains("30.0+/-1.5 %"), "{frame}");
}

#[test]
fn help_shows_the_keys_of_the_place_one_came_from() {
    assert_snapshot!(Stage::new().press("<Enter><C-k>").frame(80, 24));
}

#[test]
fn a_small_window_says_so_in_a_plain_sentence() {
    assert_snapshot!(Stage::new().frame(40, 8));
}
