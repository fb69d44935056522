//! The index: it shows what the records say, sees every change of the folder, and is dropped where it does not fit.

use super::{Shop, files_in};
use chrono::{DateTime, TimeDelta, Utc};
use coilwright::archive::form::{self, Unknown};
use coilwright::archive::index::Location::{self, Beside, Records, Spool};
use coilwright::archive::index::{Contents, Index, IndexedSession, ScanNews, SessionSummary, Trouble};
use coilwright::archive::{FolderIdentity, Revision, SessionName, seal};
use coilwright::assets;
use coilwright::report::{FolderLook, sessions_as_json, sessions_as_text};
use coilwright::text::FreeText;
use coilwright::units::UnitSet;
use std::fs::{self, File};
use std::path::PathBuf;

fn name(number: u32) -> SessionName {
    SessionName::new(&DateTime::<Utc>::default(), number)
}

/// A demonstration under another name.
fn text(customer: &str) -> String {
    let mut record = form::read(assets::DEMONSTRATIONS[0].text).expect("it reads").record;
    record.intake.customer = FreeText::new(customer);
    seal::seal(&form::write(&record, &Unknown::default()).expect("it can be written"), Revision::new(3))
}

fn put(shop: &Shop, number: u32, customer: &str) {
    fs::write(shop.beside(&name(number).record()), text(customer)).expect("room");
}

/// A clock by which every file was left alone long enough.
fn later() -> DateTime<Utc> {
    Utc::now() + TimeDelta::minutes(1)
}

/// Brings the index up to date and says which sessions were read.
fn check_at(shop: &Shop, index: &mut Index, now: DateTime<Utc>) -> Vec<SessionName> {
    let news: Vec<ScanNews> = shop.archive.check(index, now).all_news().collect();
    assert!(matches!(news.last(), Some(ScanNews::Done)), "{news:?}");
    let mut read: Vec<_> = news.iter().flat_map(sessions_in).map(|session| session.name.clone()).collect();
    read.sort_unstable();
    index.take_in(news).expect("the folder is there");
    read
}

fn sessions_in(news: &ScanNews) -> &[IndexedSession] {
    match news {
        ScanNews::Read(sessions) => sessions,
        _ => &[],
    }
}

fn check(shop: &Shop, index: &mut Index) -> Vec<SessionName> {
    check_at(shop, index, later())
}

fn empty(shop: &Shop) -> Index {
    Index::empty(shop.archive.identity())
}

fn customer(session: &IndexedSession) -> &str {
    match &session.contents {
        Contents::Read(summary) => summary.customer.as_typed(),
        Contents::Unreadable { because, .. } => because,
    }
}

fn everybody(index: &Index) -> Vec<&str> {
    index.sessions().iter().map(customer).collect()
}

/// A shop of three sessions, its index, and where that is saved.
fn three() -> (Shop, Index, PathBuf) {
    let shop = Shop::real();
    for (number, customer) in [(1, "Ana"), (2, "Bjørn"), (3, "Łukasz")] {
        put(&shop, number, customer);
    }
    let mut index = empty(&shop);
    assert_eq!(check(&shop, &mut index), [name(1), name(2), name(3)]);
    let cache = shop.folder.path().join("cache");
    index.save(&cache).expect("room");
    (shop, index, cache)
}

#[test]
fn what_was_saved_is_there_at_the_next_start_newest_first() {
    let (shop, index, cache) = three();
    let loaded = shop.archive.index(&cache);
    assert_eq!(loaded, index);
    assert_eq!(everybody(&loaded), ["Łukasz", "Bjørn", "Ana"]);
    assert_eq!(files_in(&shop.records()).len(), 4, "nothing lies beside the records");
}

#[test]
fn nothing_is_read_where_nothing_changed() {
    let (shop, mut index, _) = three();
    assert_eq!(check(&shop, &mut index), []);
    assert_eq!(everybody(&index), ["Łukasz", "Bjørn", "Ana"]);
}

#[test]
fn new_changed_removed_and_renamed_files_are_seen_and_only_these_are_read() {
    let (shop, mut index, _) = three();
    put(&shop, 4, "Oda");
    put(&shop, 1, "Ana Maria");
    fs::remove_file(shop.beside(&name(2).record())).unwrap();
    fs::rename(shop.beside(&name(3).record()), shop.beside(&name(5).record())).unwrap();
    assert_eq!(check(&shop, &mut index), [name(1), name(4), name(5)]);
    assert_eq!(everybody(&index), ["Łukasz", "Oda", "Ana Maria"]);
}

#[test]
fn an_index_with_any_byte_wrong_or_missing_is_dropped() {
    let (shop, index, cache) = three();
    let file = cache.join(&files_in(&cache)[0]);
    let whole = fs::read(&file).unwrap();
    for place in 0..whole.len() {
        fs::write(&file, &whole[..place]).unwrap();
        assert_eq!(shop.archive.index(&cache), empty(&shop), "cut at {place}");
        let mut flipped = whole.clone();
        flipped[place] ^= 1 << (place % 8);
        fs::write(&file, &flipped).unwrap();
        assert_eq!(shop.archive.index(&cache), empty(&shop), "flipped at {place}");
    }
    fs::write(&file, [&whole[..], b"x"].concat()).unwrap();
    assert_eq!(shop.archive.index(&cache), empty(&shop));
    let mut rebuilt = empty(&shop);
    check(&shop, &mut rebuilt);
    assert_eq!(rebuilt, index);
}

/// Bytes with a right check value over whatever they are.
fn checked(mut bytes: Vec<u8>) -> Vec<u8> {
    bytes.extend(crc32fast::hash(&bytes).to_le_bytes());
    bytes
}

#[test]
fn an_index_of_another_format_or_broken_behind_a_right_check_value_is_dropped() {
    let (shop, _, cache) = three();
    let file = cache.join(&files_in(&cache)[0]);
    let whole = fs::read(&file).unwrap();
    let body = &whole[..whole.len() - 4];
    // Identity and maker, the one in one byte and the other in up to five (postcard's numbers of varying length).
    let head = 2;
    for place in 0..body.len() {
        let mut forged = body.to_vec();
        forged[place] = !forged[place];
        fs::write(&file, checked(forged)).unwrap();
        let loaded = shop.archive.index(&cache);
        assert!(place >= head || loaded == empty(&shop), "byte {place} is of the head");
    }
    for end in 0..body.len() {
        fs::write(&file, checked(body[..end].to_vec())).unwrap();
        let loaded = shop.archive.index(&cache);
        assert!(loaded.sessions().len() < 3, "cut at {end}");
    }
}

#[test]
fn an_index_of_another_folder_is_dropped() {
    let (shop, _, cache) = three();
    let file = cache.join(&files_in(&cache)[0]);
    let other = FolderIdentity::new(8);
    fs::rename(&file, cache.join(format!("{other}.index"))).unwrap();
    assert_eq!(Index::load(&cache, other), Index::empty(other));
    assert_eq!(shop.archive.index(&cache), empty(&shop));
}

/// Changes a file in place so that folder and clock show no difference.
fn edit_unseen(shop: &Shop, number: u32, customer: &str) {
    let path = shop.beside(&name(number).record());
    let before = fs::metadata(&path).unwrap();
    fs::write(&path, text(customer)).unwrap();
    File::options().write(true).open(&path).unwrap().set_modified(before.modified().unwrap()).unwrap();
    assert_eq!(fs::metadata(&path).unwrap().len(), before.len());
}

#[test]
fn a_file_that_was_fresh_when_it_was_read_is_read_again() {
    let (shop, _, _) = three();
    let mut index = empty(&shop);
    check_at(&shop, &mut index, Utc::now());
    edit_unseen(&shop, 1, "Eva");
    assert_eq!(check(&shop, &mut index), [name(1), name(2), name(3)]);
    assert_eq!(everybody(&index), ["Łukasz", "Bjørn", "Eva"]);
    assert_eq!(check(&shop, &mut index), [], "once they are left alone they are trusted");
}

#[test]
fn a_clock_set_back_makes_files_be_read_again_and_never_be_missed() {
    let (shop, _, _) = three();
    let mut index = empty(&shop);
    check_at(&shop, &mut index, DateTime::default());
    edit_unseen(&shop, 3, "Ciprian");
    put(&shop, 3, "Cyprian");
    assert_eq!(check_at(&shop, &mut index, DateTime::default()).len(), 3);
    assert_eq!(everybody(&index), ["Cyprian", "Bjørn", "Ana"]);
}

#[test]
fn two_programs_that_save_at_once_leave_a_whole_index() {
    let (shop, index, cache) = three();
    let mut fewer = index.clone();
    fewer.take_in([ScanNews::Gone(vec![name(2)])]).unwrap();
    std::thread::scope(|scope| {
        for index in [&index, &fewer] {
            let cache = &cache;
            // One may take the other's unfinished file away; then the other's save fails, and that is all.
            scope.spawn(move || (0..50).for_each(|_| drop(index.save(cache))));
        }
        for _ in 0..200 {
            let loaded = shop.archive.index(&cache);
            assert!(loaded == index || loaded == fewer, "{loaded:?}");
        }
    });
    index.save(&cache).unwrap();
    assert_eq!(files_in(&cache).len(), 1, "nothing unfinished is left");
}

#[test]
fn an_unfinished_file_of_a_killed_program_is_swept_away() {
    let (shop, index, cache) = three();
    let left = cache.join(format!(".{}.index.tmp-1-1", shop.archive.identity()));
    let foreign = cache.join(format!(".{}.index.tmp-1-1", FolderIdentity::new(8)));
    for path in [&left, &foreign] {
        fs::write(path, "half").unwrap();
    }
    index.save(&cache).unwrap();
    assert!(!left.exists() && foreign.exists());
}

#[test]
fn a_name_of_three_hundred_characters_with_escape_codes_is_kept_and_shown_harmless() {
    let shop = Shop::real();
    let long = format!("\u{1b}[31m\u{202e}{}\u{7}", "é\u{1b}]0;x".repeat(60));
    put(&shop, 1, &long);
    let mut index = empty(&shop);
    check(&shop, &mut index);
    assert_eq!(everybody(&index), [FreeText::new(&long).as_typed()]);
    let cache = shop.folder.path().join("cache");
    index.save(&cache).unwrap();
    assert_eq!(shop.archive.index(&cache), index);
    let sessions: Vec<_> = index.sessions().iter().collect();
    let shown = sessions_as_text(&sessions, UnitSet::default()) + &sessions_as_json(&sessions).unwrap();
    assert!(!shown.contains(['\u{1b}', '\u{202e}', '\u{7}']), "{shown}");
}

#[test]
fn what_cannot_be_read_is_listed_with_its_reason_and_the_rest_as_ever() {
    let (shop, mut index, _) = three();
    let whole = text("Ana");
    fs::write(shop.beside(&name(4).record()), &whole[..whole.len() / 2]).unwrap();
    fs::write(shop.beside(&name(5).record()), whole.replace("format: 2", "format: 9")).unwrap();
    fs::write(shop.beside(&name(6).record()), [0xff]).unwrap();
    fs::create_dir(shop.beside(&name(7).record())).unwrap();
    fs::write(shop.beside(&name(8).record()), whole.replace("Ana", "Eva")).unwrap();
    check(&shop, &mut index);
    let trouble = |session: &IndexedSession| match session.contents {
        Contents::Read(_) => None,
        Contents::Unreadable { trouble, .. } => Some(trouble),
    };
    let troubles: Vec<_> = index.sessions()[..5].iter().map(trouble).collect();
    let damaged = Some(Trouble::Damaged);
    assert_eq!(troubles, [None, Some(Trouble::NotARecord), damaged, Some(Trouble::Newer), damaged]);
    assert_eq!(everybody(&index)[5..], ["Łukasz", "Bjørn", "Ana"]);
    let look = FolderLook::new(index.sessions(), &[]);
    assert_eq!(look.to_look_at(), 5, "the one changed outside as well:\n{}", look.as_text());
    assert!(look.as_text().starts_with("3 records are just as this program wrote them.\n"));
}

#[test]
fn every_leftover_is_told_with_what_to_do() {
    let (shop, index, _) = three();
    fs::create_dir_all(shop.archive.spool_folder()).unwrap();
    let older_of_a_kept_one = shop.beside(&name(3).older());
    let left = [
        shop.beside(&name(1).temporary(1, 1)),
        shop.beside(&name(1).aside(1)),
        shop.beside(&format!("{} (copy).ron", name(2))),
        shop.beside(&name(9).older()),
        shop.spooled(&name(2)),
    ];
    for path in left.iter().chain([&older_of_a_kept_one, &shop.beside(&name(1).lock())]) {
        fs::write(path, "").unwrap();
    }
    let leftovers = shop.archive.leftovers().unwrap();
    let mut found: Vec<_> = leftovers.iter().map(|one| one.path.clone()).collect();
    let mut expected = left.to_vec();
    found.sort();
    expected.sort();
    assert_eq!(found, expected);
    let entered = FolderLook::new(index.sessions(), &leftovers).as_json().unwrap();
    for kind in ["broken_off_write", "set_aside", "conflict_copy", "record_gone", "in_spool"] {
        assert!(entered.contains(kind), "{entered}");
    }
}

/// Puts a session into the spool only.
fn put_in_spool(shop: &Shop, number: u32, customer: &str) {
    fs::create_dir_all(shop.archive.spool_folder()).unwrap();
    fs::write(shop.spooled(&name(number)), text(customer)).unwrap();
}

#[test]
fn a_session_without_a_record_is_listed_from_the_best_version_left_and_says_where_that_lies() {
    let (shop, mut index, cache) = three();
    put_in_spool(&shop, 4, "Oda");
    put_in_spool(&shop, 3, "of a session with a record");
    fs::rename(shop.beside(&name(2).record()), shop.beside(&name(2).older())).unwrap();
    fs::write(shop.beside(&name(5).older()), "nothing of it reads").unwrap();
    fs::write(shop.beside(&name(6).lock()), "").unwrap();
    check(&shop, &mut index);
    let places: Vec<_> = index.sessions().iter().map(|session| session.whereabouts).collect();
    let expected = [Beside, Spool, Records, Beside, Records];
    assert_eq!(places, expected);
    assert_eq!(everybody(&index)[1..], ["Oda", "Łukasz", "Bjørn", "Ana"]);
    assert!(everybody(&index)[0].contains("what is left of it cannot be read"));
    index.save(&cache).unwrap();
    assert_eq!(shop.archive.index(&cache), index);
}

#[test]
fn a_session_put_back_from_the_spool_is_listed_as_a_record() {
    let (shop, mut index, _) = three();
    put_in_spool(&shop, 4, "Oda");
    check(&shop, &mut index);
    fs::rename(shop.spooled(&name(4)), shop.beside(&name(4).record())).unwrap();
    check(&shop, &mut index);
    let session = &index.sessions()[0];
    assert_eq!((customer(session), session.whereabouts), ("Oda", Location::Records));
    fs::remove_file(shop.beside(&name(4).record())).unwrap();
    check(&shop, &mut index);
    assert_eq!(everybody(&index), ["Łukasz", "Bjørn", "Ana"]);
}

#[test]
fn the_newest_are_the_newest_of_the_index() {
    let (shop, mut index, _) = three();
    put_in_spool(&shop, 4, "Oda");
    check(&shop, &mut index);
    for most in 0..6 {
        let newest = shop.archive.newest(most, later()).expect("the folder is there");
        assert_eq!(newest.sessions, index.sessions()[..most.min(4)]);
        assert_eq!(newest.older, 4_usize.saturating_sub(most));
    }
}

#[test]
fn of_two_readings_of_one_new_session_the_later_stays() {
    let (_, index, _) = three();
    let mut twice = index.clone();
    let Contents::Read(summary) = &index.sessions()[0].contents else { panic!("it was read") };
    let read = |customer: &str| {
        let summary = SessionSummary { customer: FreeText::new(customer), ..(**summary).clone() };
        ScanNews::Read(vec![IndexedSession::untraced(name(9), Contents::Read(Box::new(summary)))])
    };
    assert!(twice.take_in([read("first"), read("second")]).unwrap());
    assert_eq!(everybody(&twice), ["second", "Łukasz", "Bjørn", "Ana"]);
}

#[test]
fn a_folder_that_went_away_is_said_and_what_was_known_stays() {
    let (shop, mut index, _) = three();
    let known = index.clone();
    fs::rename(shop.records(), shop.folder.path().join("away")).unwrap();
    let news: Vec<ScanNews> = shop.archive.check(&index, later()).all_news().collect();
    assert!(index.take_in(news).is_err());
    assert_eq!(index, known);
}

#[test]
fn a_check_that_was_left_ends_and_what_it_found_can_be_taken_in() {
    let shop = Shop::real();
    (0..500).for_each(|number| put(&shop, number, "Ana"));
    let mut index = empty(&shop);
    let checking = shop.archive.check(&index, later());
    let first =
        checking.all_news().find(|piece| matches!(piece, ScanNews::Read(_))).expect("something is read");
    drop(checking);
    index.take_in([first]).unwrap();
    let known = index.sessions().len();
    assert!(known > 0);
    assert_eq!(check(&shop, &mut index).len(), 500 - known, "only the rest is read");
    assert_eq!(index.sessions().len(), 500);
}
