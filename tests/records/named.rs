//! Who did it: an entry that names somebody, which only format 3 can hold.

use coilwright::text::FreeText;

use super::{FORMAT_2, read, write};

const FORMAT_3: &str = include_str!("format-3.ron");

#[test]
fn a_record_in_which_somebody_is_named_is_written_in_format_3_as_it_is_frozen() {
    let mut named = read(FORMAT_2);
    for (place, entry) in named.entries.iter_mut().enumerate().skip(1) {
        entry.by = FreeText::new(if place < 20 { "Invented mechanic" } else { "C. \"Bolt\" Øre" });
    }
    let (_comment, frozen) = FORMAT_3.split_once('\n').expect("a comment stands first");
    assert_eq!(write(&named), frozen);
    assert_eq!(read(FORMAT_3), named);
}

#[test]
fn a_record_in_which_nobody_is_named_stays_readable_to_an_earlier_program() {
    let again = write(&read(FORMAT_2));
    assert!(again.starts_with("(\n    format: 2,\n") && !again.contains("by:"), "{again}");
}
