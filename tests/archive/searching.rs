//! Finding: every session by its own words, the same however the query was typed, the best first.

use chrono::{DateTime, FixedOffset, TimeDelta};
use coilwright::archive::index::{Contents, Index, IndexedSession, ScanNews, SessionSummary, WorkSummary};
use coilwright::archive::search::fold;
use coilwright::archive::{Finder, FolderIdentity, Revision, Seal, SessionName};
use coilwright::session::{Origin, Stamp, Step};
use coilwright::text::FreeText;
use coilwright::units::SpringRate;
use proptest::prelude::*;

fn opened(day: i64) -> Stamp {
    let first: DateTime<FixedOffset> =
        DateTime::parse_from_rfc3339("2026-03-01T10:00:00+01:00").expect("a time");
    first + TimeDelta::days(day)
}

/// One session a day from 1 March 2026, each with a name, a bike and a spring.
pub(super) fn index(sessions: &[(&str, &str, f64)]) -> Index {
    let session = |(day, (customer, bike, rate)): (i64, &(&str, &str, f64))| {
        let summary = SessionSummary {
            opened: opened(day),
            customer: FreeText::new(customer),
            bike: FreeText::new(bike),
            marked: None,
            origin: Origin::Workshop,
            seal: Seal::Sound { revision: Revision::new(1) },
            work: WorkSummary {
                last_worked: opened(day),
                step: Step::Decision,
                fitted: Some(SpringRate::lb_per_in(*rate)),
                swaps: 0,
                sag: None,
                standing: None,
                target: None,
            },
        };
        let contents = Contents::Read(Box::new(summary));
        IndexedSession::untraced(SessionName::new(&opened(day), 0), contents)
    };
    let mut index = Index::empty(FolderIdentity::new(7));
    index.take_in([ScanNews::Read((0..).zip(sessions).map(session).collect())]).expect("no folder is asked");
    index
}

fn found(sessions: &[(&str, &str, f64)], query: &str) -> Vec<String> {
    let index = index(sessions);
    let customer = |place: usize| match &index.sessions()[place].contents {
        Contents::Read(summary) => summary.customer.as_typed().to_owned(),
        Contents::Unreadable { because, .. } => because.clone(),
    };
    Finder::new(&index).find(query).into_iter().map(customer).collect()
}

/// Invented customers.
const SHOP: [(&str, &str, f64); 5] = [
    ("Łukasz Tolbin", "enduro bike, green", 450.0),
    ("Ana Karager", "trail bike", 500.0),
    ("Zoë Karager", "enduro bike, red", 462.5),
    ("Jörg Groß", "park bike", 450.0),
    ("job 4501", "trail bike", 525.0),
];

#[test]
fn case_accents_and_a_slip_do_not_hide_a_session() {
    for query in ["lukasz", "ŁUKASZ", "lukazs", "lukszasz", "luka", "Łukaz"] {
        assert_eq!(found(&SHOP, query), ["Łukasz Tolbin"], "{query}");
    }
    assert_eq!(found(&SHOP, "gross"), ["Jörg Groß"]);
    assert_eq!(found(&SHOP, "karagre"), ["Zoë Karager", "Ana Karager"]);
    assert_eq!(found(&SHOP, "ena"), [] as [&str; 0], "a word of three letters has to be right");
}

#[test]
fn springs_months_and_dates_find_a_session() {
    assert_eq!(found(&SHOP, "462.5"), ["Zoë Karager"]);
    assert_eq!(found(&SHOP, "2026-03-02"), ["Ana Karager"]);
    assert_eq!(found(&SHOP, "2026-03").len(), 5);
    assert_eq!(found(&SHOP, "march").len(), 5);
    assert_eq!(found(&SHOP, "april"), [] as [&str; 0]);
    assert_eq!(found(&SHOP, "3 march enduro"), ["Zoë Karager", "Łukasz Tolbin"], "the day before the month");
}

#[test]
fn every_word_of_the_query_has_to_be_found() {
    assert_eq!(found(&SHOP, "450 enduro"), ["Łukasz Tolbin"]);
    assert_eq!(found(&SHOP, "enduro 450 red"), [] as [&str; 0]);
    assert_eq!(found(&SHOP, "  ").len(), 5, "no word asks for nothing");
}

#[test]
fn whole_words_come_before_beginnings_insides_and_slips_and_then_the_newest() {
    assert_eq!(found(&SHOP, "450"), ["Jörg Groß", "Łukasz Tolbin", "job 4501"]);
    let like = [
        ("tarim", "", 1.0),
        ("xtarin", "", 1.0),
        ("tarina", "", 1.0),
        ("tarin", "", 1.0),
        ("tarin", "b", 1.0),
    ];
    assert_eq!(found(&like, "tarin"), ["tarin", "tarin", "tarina", "xtarin", "tarim"]);
}

/// A few customers whose names share letters, so that queries hit several.
fn customers() -> impl Strategy<Value = Vec<(String, String)>> {
    let text = prop_oneof![
        "[a-dA-D]{0,6}( [abÄł]{1,9}){0,2}",
        "[ -~]{0,20}",
        proptest::collection::vec(any::<char>(), 0..12).prop_map(String::from_iter),
    ];
    proptest::collection::vec((text.clone(), text), 1..8)
}

fn index_of(customers: &[(String, String)]) -> Index {
    let sessions: Vec<_> =
        customers.iter().map(|(customer, bike)| (customer.as_str(), bike.as_str(), 450.0)).collect();
    index(&sessions)
}

/// Letters in a word from which on one more slip is forgiven.
const MORE_SLIPS: [usize; 2] = [4, 8];

proptest! {
    #[test]
    fn every_session_is_found_by_any_of_its_own_words(customers in customers()) {
        let index = index_of(&customers);
        let mut finder = Finder::new(&index);
        for (place, (customer, bike)) in customers.iter().rev().enumerate() {
            let kept = [customer, bike].map(|text| FreeText::new(text).as_typed().to_owned());
            for word in kept.iter().flat_map(|text| text.split_whitespace()) {
                let hits = finder.find(word);
                prop_assert!(hits.contains(&place), "{word:?} of {customer:?}, {bike:?} gave {hits:?}");
            }
        }
    }

    #[test]
    fn typing_on_finds_what_the_whole_query_finds_and_narrowing_never_adds(
        customers in customers(),
        query in "[a-dA-DÄł14]{1,10}( [abł]{1,9}){0,2}",
    ) {
        let index = index_of(&customers);
        let mut typing = Finder::new(&index);
        let mut before = typing.find("");
        let ends = query.char_indices().map(|(start, letter)| start + letter.len_utf8());
        for end in ends {
            let typed = &query[..end];
            let hits = typing.find(typed);
            prop_assert_eq!(&hits, &Finder::new(&index).find(typed), "{:?}", typed);
            let letters = fold(typed).split(' ').next_back().map_or(0, |word| word.chars().count());
            if !MORE_SLIPS.contains(&letters) {
                prop_assert!(hits.iter().all(|hit| before.contains(hit)), "{:?} added to {:?}", typed, before);
            }
            before = hits;
        }
    }

    #[test]
    fn one_more_word_never_adds_a_session(customers in customers(), one in "[a-d]{1,9}", other in "[a-d]{1,9}") {
        let mut finder = Finder::new(&index_of(&customers));
        let wide = finder.find(&one);
        let narrow = finder.find(&format!("{one} {other}"));
        prop_assert!(narrow.iter().all(|hit| wide.contains(hit)));
    }
}
