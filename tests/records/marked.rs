//! Springs with marks, and what was learned of them: only format 4 can hold them.

use coilwright::archive::form::{self, FormError, RecordFault};
use coilwright::mechanics::spring::{LearnedRate, Marked};
use coilwright::session::{Deed, Detail, Entry, Refusal, Spring, SpringNumber};
use coilwright::text::mark::Mark;
use coilwright::units::{Estimate, Share, SpringRate};

use super::{FORMAT_2, read, said, write};

const FORMAT_4: &str = include_str!("format-4.ron");

fn mark(text: &str) -> Mark {
    Mark::read(text).expect("a mark")
}

#[test]
fn a_record_with_marks_is_written_in_format_4_as_it_is_frozen() {
    let mut marked = read(FORMAT_2);
    let ratio = Estimate::new(Share::fraction(0.97), Share::fraction(0.015));
    let learned = Some(LearnedRate { ratio, bikes: 4 });
    marked.intake.springs[0].marked = Some(Marked { mark: mark("A3"), learned });
    let joined = Spring {
        marked: Some(Marked { mark: mark("GRÜN-2"), learned: None }),
        ..Spring::labelled(SpringNumber(6), SpringRate::lb_per_in(525.0))
    };
    let list = marked.intake.springs.iter().copied().chain([joined]).collect();
    let first = marked.entries[0].clone();
    marked.entries.insert(1, Entry { deed: Deed::Entered(Detail::Springs(list)), ..first });
    let (_comment, frozen) = FORMAT_4.split_once('\n').expect("a comment stands first");
    assert_eq!(write(&marked), frozen);
    assert_eq!(read(FORMAT_4), marked);
}

#[test]
fn a_mark_in_the_middle_of_the_work_alone_makes_it_format_4() {
    let mut record = read(FORMAT_4);
    record.intake.springs.iter_mut().for_each(|spring| spring.marked = None);
    assert!(write(&record).starts_with("(\n    format: 4,\n"));
    record.entries.remove(1);
    assert_eq!(write(&record), write(&read(FORMAT_2)));
}

#[test]
fn a_mark_that_cannot_be_is_damage_and_says_what_can() {
    for (wrong, why) in [
        (FORMAT_4.replacen("mark: \"A3\"", "mark: \"A\\u{1b}[2J\"", 1), "A mark is one word"),
        (FORMAT_4.replacen("mark: \"A3\", ", "", 1), "only of a spring with a mark"),
        (FORMAT_4.replacen("u_ratio: 0.015", "u_ratio: 0.0", 1), "Rate found, as a part of the label"),
        (FORMAT_4.replacen("ratio: 0.97", "ratio: 9.7", 1), "between 50.0 % and 200.0 %"),
    ] {
        assert!(said(&wrong).contains(why), "{}", said(&wrong));
    }
}

#[test]
fn two_springs_with_one_mark_are_damage() {
    let twice = FORMAT_4.replacen("rate_lb_in: 500.0)", "rate_lb_in: 500.0, mark: \"a3\")", 1);
    let Err(FormError::Damaged(damage)) = form::read(&twice) else { panic!("it is damaged") };
    let RecordFault::Impossible { refusal, .. } = damage.fault else { panic!("{:?}", damage.fault) };
    assert_eq!(refusal, Refusal::SameMarkTwice(mark("A3")));
}

#[test]
fn a_later_format_is_told_by_its_number() {
    let newer = FORMAT_4.replacen("format: 4", "format: 5", 1);
    assert!(matches!(form::read(&newer), Err(FormError::Newer { found: 5, known: 4 })));
}
