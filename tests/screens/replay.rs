//! A session watched: forwards and back through the screens where it was done, and nothing in it or on the disk changes.

use std::fs;

use super::guide::{WALK, at_leg};
use super::review::TO_LIST;
use super::shopfloor::Shopfloor;

/// The files of the records folder with what is in them.
fn on_disk(shop: &Shopfloor) -> Vec<(String, Vec<u8>)> {
    let files = fs::read_dir(&shop.records).expect("a folder").map(|file| file.expect("a file").path());
    let mut files: Vec<_> = files
        .filter(|file| file.is_file())
        .map(|file| (file.display().to_string(), fs::read(&file).expect("it is there")))
        .collect();
    files.sort();
    files
}

#[test]
fn a_past_session_is_watched_forwards_and_back_and_the_page_is_there_again() {
    let mut shop = Shopfloor::of_demonstrations();
    let before = on_disk(&shop);
    shop.press(TO_LIST).press("2026-03<Enter>m");
    shop.must_show("1 of 57  Details complete").must_show("step 2 of 13");
    shop.press("<Enter><Down>").must_show("3 of 57");
    shop.press("<PgDn>").must_show("11 of 57").must_show("Seated reading");
    shop.press("<Enter>").must_show("12 of 57").must_show("The decision").must_show("advised");
    shop.press("<Up>").must_show("11 of 57");
    shop.press(&"<PgDn>".repeat(9)).must_show("57 of 57").must_show("Session closed");
    shop.press("<Enter>").must_show("57 of 57");
    shop.press("<Esc>").must_show("Past session");
    assert_eq!(on_disk(&shop), before);
}

#[test]
fn a_session_just_closed_is_watched_and_is_on_the_desk_again_afterwards() {
    let mut stage = at_leg(WALK.len() - 1);
    let (record, kept) = (stage.record().clone(), stage.shell.kept.len());
    stage.press("m<Enter><Enter><PgDn>");
    assert!(stage.shows("Watch a session"), "{}", stage.frame(80, 24));
    // No key of the step that is shown does anything.
    stage.press("24.5<Enter>xtro<C-t>");
    assert!(stage.shows("Watch a session") && stage.shell.kept.len() == kept, "{}", stage.frame(80, 24));
    stage.press("<Esc>");
    assert_eq!(*stage.record(), record);
    assert!(stage.shows("Session closed") && stage.shows("✓ saved"), "{}", stage.frame(80, 24));
}
