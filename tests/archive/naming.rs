//! File names of sessions.

use super::a_name;
use chrono::{FixedOffset, NaiveDate, TimeZone, Utc};
use coilwright::archive::{FileRole, SessionName};
use proptest::prelude::*;

#[test]
fn a_name_is_date_time_and_the_low_24_bits_of_the_random_part() {
    assert_eq!(a_name().record(), "2026-11-25-1012-7f3a9c.ron");
    let here = FixedOffset::east_opt(2 * 3600).unwrap().with_ymd_and_hms(2026, 1, 2, 3, 4, 5).unwrap();
    assert_eq!(
        SessionName::new(&here, 0xff00_000a).as_str(),
        "2026-01-02-0304-00000a",
        "the time of the workshop"
    );
}

#[test]
fn a_clock_far_off_still_gives_a_name_that_reads_back() {
    for year in [-262_000, -1, 0, 9999, 10_000, 262_000] {
        let moment = Utc.from_utc_datetime(
            &NaiveDate::from_ymd_opt(year, 2, 28).unwrap().and_hms_opt(23, 59, 59).unwrap(),
        );
        let name = SessionName::new(&moment, 1);
        assert_eq!(name.record().parse(), Ok(name));
    }
}

#[test]
fn what_is_not_of_the_form_is_no_name() {
    for text in [
        "",
        ".ron",
        "2026-11-25-1012-7f3a9c",
        "2026-11-25-1012-7F3A9C.ron",
        "2026-11-25-1012-7f3a9c.RON",
        "2026-11-25-1012-7f3a9c.ron ",
        "2026-13-25-1012-7f3a9c.ron",
        "2026-02-30-1012-7f3a9c.ron",
        "2026-11-25-2412-7f3a9c.ron",
        "2026-11-25-1060-7f3a9c.ron",
        "../2026-11-25-1012-7f3a9c.ron",
        "/2026-11-25-1012-7f3a9c.ron",
        "2026-11-25-1012-7f3a9c/.ron",
        "2026-11-25-1012-7f3a9\u{e9}.ron",
        "\u{661}026-11-25-1012-7f3a9c.ron",
        "2026-11-25-1012-7f3a9c.ron\0",
    ] {
        let parsed = text.parse::<SessionName>();
        assert!(
            parsed.as_ref().is_err_and(|error| error.to_string().contains("records folder")),
            "{text:?}: {parsed:?}"
        );
    }
}

#[test]
fn every_sidecar_is_known_again() {
    let name = a_name();
    for (file, role) in [
        (name.record(), FileRole::Record),
        (name.older(), FileRole::Older),
        (name.lock(), FileRole::Lock),
        (name.temporary(4711, 3), FileRole::Temporary),
        (name.aside(2), FileRole::Aside),
        ("2026-11-25-1012-7f3a9c (copy of the shop laptop).ron".to_owned(), FileRole::ConflictCopy),
        ("2026-11-25-1012-7f3a9c~2.ron".to_owned(), FileRole::ConflictCopy),
    ] {
        assert_eq!(FileRole::of(&file), Some((name.clone(), role)), "{file}");
    }
}

#[test]
fn files_of_others_are_nobodys() {
    for file in [
        "coilwright-records.txt",
        "notes.ron",
        ".2026-11-25-1012-7f3a9c.ron",
        "2026-11-25-1012-7f3a9c.pdf",
        ".",
    ] {
        assert_eq!(FileRole::of(file), None, "{file}");
    }
}

proptest! {
    #![proptest_config(crate::soak::cases(256))]

    #[test]
    fn any_text_is_read_or_refused_without_panic(text in "\\PC*|[0-9a-f./-]{0,40}|2026-11-25-1012-[0-9a-f]{6}.{0,8}") {
        if let Ok(name) = text.parse::<SessionName>() {
            prop_assert_eq!(name.record(), text.clone());
        }
        let _ = FileRole::of(&text);
    }
}
