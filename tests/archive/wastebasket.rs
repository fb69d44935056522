//! The wastebasket: all of a session goes in, and all of it comes back, whatever is in the way.

use super::{Shop, a_name, body, files_in};
use coilwright::archive::HoldError;
use coilwright::archive::wastebasket::FOLDER;
use std::fs;
use std::path::PathBuf;

fn basket(shop: &Shop) -> PathBuf {
    shop.beside(FOLDER)
}

fn record(shop: &Shop) -> String {
    fs::read_to_string(shop.beside(&a_name().record())).unwrap()
}

#[test]
fn a_discarded_session_is_listed_nowhere_and_comes_back_to_the_byte() {
    let shop = Shop::with_steps(3);
    let (text, files) = (record(&shop), files_in(&shop.records()));
    shop.archive.discard(&a_name()).unwrap();
    let listing = shop.archive.list().unwrap();
    assert!(
        listing.sessions.is_empty() && listing.unsettled.is_empty(),
        "no older version brings it back: {listing:?}"
    );
    assert_eq!(shop.archive.discarded().unwrap(), [a_name()]);
    shop.archive.bring_back(&a_name()).unwrap();
    assert_eq!(record(&shop), text);
    assert_eq!(shop.archive.discarded().unwrap(), []);
    fs::remove_dir(basket(&shop)).expect("it is empty");
    assert_eq!(files_in(&shop.records()), files);
}

#[test]
fn the_spool_copy_goes_along_and_the_session_can_be_told_as_the_record() {
    let shop = Shop::with_steps(2);
    fs::create_dir_all(shop.archive.spool_folder()).unwrap();
    fs::rename(shop.beside(&a_name().record()), shop.spooled(&a_name())).unwrap();
    shop.archive.discard(&a_name()).unwrap();
    assert!(!shop.spooled(&a_name()).exists());
    shop.archive.bring_back(&a_name()).unwrap();
    assert!(record(&shop).starts_with(&body(2)));
}

#[test]
fn what_is_held_is_not_discarded_and_nothing_is_written_over() {
    let shop = Shop::with_steps(1);
    let held = shop.hold();
    assert!(matches!(shop.archive.discard(&a_name()), Err(HoldError::Write(_))));
    drop(held);
    let first = record(&shop);
    shop.archive.discard(&a_name()).unwrap();
    // A sync tool brings it again, and it is discarded again.
    fs::write(shop.beside(&a_name().record()), "another").unwrap();
    assert!(matches!(shop.archive.bring_back(&a_name()), Err(HoldError::Taken { .. })));
    shop.archive.discard(&a_name()).unwrap();
    let texts: Vec<_> = files_in(&basket(&shop))
        .iter()
        .map(|file| fs::read_to_string(basket(&shop).join(file)).unwrap())
        .collect();
    assert!(texts.contains(&first) && texts.contains(&"another".to_owned()), "{texts:?}");
}

#[test]
fn nothing_is_discarded_or_brought_back_where_nothing_is() {
    let shop = Shop::real();
    assert!(matches!(shop.archive.discard(&a_name()), Err(HoldError::Open(_))));
    assert!(matches!(shop.archive.bring_back(&a_name()), Err(HoldError::Open(_))));
    assert_eq!(files_in(&shop.records()).len(), 1, "the marker");
}
