//! Slips in quick trials, void at once or after, and ten sets in sight at the smallest full size.

use coilwright::session::{Deed, ReadingNumber, ReadingSet};
use coilwright::text::FreeText;
use coilwright::units::Length;

use super::trials::{deeds, three};

#[test]
fn ten_sets_and_which_is_best_are_seen_at_the_smallest_full_size() {
    let mut stage = three();
    for (spring, turns) in
        [("500", "0"), ("550", "0"), ("550", "1/4"), ("550", "1/2"), ("550", "3/4"), ("550", "1")]
    {
        let change =
            if turns == "0" { format!("s {spring}<Enter><Enter>") } else { format!("t {turns}<Enter>") };
        stage.press(&format!("{change}20<Enter>20<Enter>"));
    }
    stage.press("w 120 pack<Enter>20<Enter>20<Enter>w<Enter>20<Enter>20<Enter>s 600<Enter><Enter>18.5<Enter>18.5<Enter>");
    let frame = stage.frame(80, 24);
    let rows = (1..=10).filter(|set| frame.lines().any(|line| line.starts_with(&format!("  {set:<2}"))));
    assert_eq!(rows.count(), 10, "{frame}");
    assert!(frame.contains("◂ best") && frame.contains("Best so far"), "{frame}");
    // The caution of what is typed gives way to nothing.
    stage.press("18");
    let frame = stage.frame(80, 24);
    assert!(frame.contains("! Sit down gently") && frame.contains("= 18.0 mm"), "{frame}");
}

#[test]
fn a_slip_of_a_trial_is_saved_and_void_at_once() {
    let mut stage = three();
    stage.press("15 bounced");
    assert!(stage.shows("= 15.0 mm, which does not count: bounced"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    let because = FreeText::new("bounced");
    let slip =
        [Deed::Trial { reading: Length::mm(15.0) }, Deed::Voided { reading: ReadingNumber(4), because }];
    assert_eq!(deeds(&stage)[10..], slip);
    // What was taken back keeps its number, so the next slip is the fifth reading.
    stage.press("<C-t><C-t>15.5 fell<Enter>");
    assert!(matches!(stage.last(), Deed::Voided { reading: ReadingNumber(5), .. }), "{:?}", stage.last());
}

#[test]
fn the_last_reading_and_a_row_of_them_are_voided_by_one_line() {
    let mut stage = three();
    stage.press("void last<Enter>");
    let because = FreeText::new("voided at once");
    assert_eq!(stage.last(), Deed::Voided { reading: ReadingNumber(3), because });
    stage.press("24<Enter>void 1-2 collar was loose<Enter>");
    let void = |set: &ReadingSet| set.readings.iter().filter(|one| one.void.is_some()).count();
    let sets = &stage.model.desk.session.as_ref().expect("open").state.sets;
    assert_eq!(sets.iter().map(void).sum::<usize>(), 3);
    stage.press("void last slipped<Enter>void last<Enter>");
    assert!(stage.shows("There is no reading to void yet."), "{}", stage.frame(80, 24));
}
