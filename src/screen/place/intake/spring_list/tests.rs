//! What the line of springs takes, and that it gives back what it took.

use super::*;
use crate::mechanics::spring::Marked;
use crate::screen::place::typed_spring::SpringFault;

fn labels(text: &str) -> Vec<f64> {
    let springs = read(text, UnitSet::Trade, &[]).expect(text);
    springs.iter().map(|spring| spring.label.as_lb_per_in().round()).collect()
}

fn strokes(text: &str) -> Vec<Option<f64>> {
    let springs = read(text, UnitSet::Trade, &[]).expect(text);
    springs.iter().map(|spring| spring.stroke.map(Length::as_mm)).collect()
}

#[test]
fn rates_in_a_row_are_a_spring_each() {
    assert_eq!(labels("400 425, 450"), [400.0, 425.0, 450.0]);
}

#[test]
fn a_count_stands_for_springs_with_one_label() {
    assert_eq!(labels("400 450 x2 500x3"), [400.0, 450.0, 450.0, 500.0, 500.0, 500.0]);
}

#[test]
fn a_range_holds_both_its_ends() {
    assert_eq!(labels("350-600 by 50"), [350.0, 400.0, 450.0, 500.0, 550.0, 600.0]);
    assert_eq!(labels("350–400 by 25 500"), [350.0, 375.0, 400.0, 500.0]);
}

#[test]
fn a_range_may_go_in_steps() {
    for line in ["350-400 in 25s", "350-400 in 25", "350-400 by 25s"] {
        assert_eq!(labels(line), [350.0, 375.0, 400.0], "{line}");
    }
    assert_eq!(strokes("400-450 in 50s/57"), [Some(57.0), Some(57.0)]);
    assert!(read("400 in 25", UnitSet::Trade, &[]).is_err());
}

#[test]
fn a_stroke_behind_a_stroke_mark_is_that_springs_own() {
    assert_eq!(strokes("400 450 x2/60 500/65, stroke 70"), [Some(70.0), Some(60.0), Some(60.0), Some(65.0)]);
    assert_eq!(strokes("400-450 by 50/57"), [Some(57.0), Some(57.0)]);
}

#[test]
fn springs_are_listed_as_they_are_printed() {
    for line in [
        "450x65 500x65",
        "450 x 65, 500 x 65",
        "450-65 500 / 65 mm",
        "450#x65 #500x65",
        "450x65 500 x 65 lb/in",
    ] {
        assert_eq!((labels(line), strokes(line)), (vec![450.0, 500.0], vec![Some(65.0); 2]), "{line}");
    }
    assert_eq!(strokes("450 x 2.5 in 500 x 2 1/2"), [Some(63.5); 2]);
    assert_eq!(labels("400,450,500 550"), [400.0, 450.0, 500.0, 550.0]);
    assert_eq!(labels("8 kg/mm"), [448.0]);
    assert_eq!(labels("8 8,5 9 kgf/mm"), [448.0, 476.0, 504.0]);
}

#[test]
fn a_small_number_behind_x_is_asked_about_where_lengths_are_in_inches() {
    assert!(
        question("400 450 x3", UnitSet::Imperial)
            .is_some_and(|asked| asked.contains("3 springs, or a stroke of 3.00 in"))
    );
    assert_eq!(question("400 450 x3", UnitSet::Trade), None);
    assert_eq!(question("450x65", UnitSet::Imperial), None);
}

#[test]
fn a_stroke_behind_the_last_of_several_springs_is_asked_about() {
    for line in ["400 450 500x65", "400 450 500 x65"] {
        let asked = question(line, UnitSet::Trade).expect(line);
        assert!(asked.contains("Only the 500 lb/in has a stroke"), "{asked}");
    }
    for line in
        ["500x65", "400x65 450x65", "400 450x65 500", "400 450 500, stroke 65", "350-600 by 50, stroke 65"]
    {
        assert_eq!(question(line, UnitSet::Trade), None, "{line}");
    }
}

#[test]
fn a_unit_on_the_line_goes_for_all_of_it() {
    let springs = read("70 80 N/mm", UnitSet::Trade, &[]).expect("a rack");
    assert_eq!(springs.iter().map(|spring| spring.label.as_n_per_mm()).collect::<Vec<_>>(), [70.0, 80.0]);
}

#[test]
fn what_cannot_be_read_is_named() {
    let fault = |text| read(text, UnitSet::Trade, &[]).expect_err(text);
    assert_eq!(fault(" , "), SpringsFault::Empty);
    assert!(matches!(fault("400 xx"), SpringsFault::Spring(SpringFault::Behind(_))));
    assert_eq!(fault("400 x0"), SpringsFault::Count("400 lb/in".to_owned()));
    assert_eq!(fault("x2"), SpringsFault::Count("x2".to_owned()));
    assert_eq!(fault("600-350 by 50"), SpringsFault::Range("600-350 by 50".to_owned()));
    assert_eq!(fault("350-600 by 0"), SpringsFault::Range("350-600 by 0".to_owned()));
    assert_eq!(fault("400 by 50"), SpringsFault::Range("400 by 50".to_owned()));
    assert_eq!(fault("400/long"), SpringsFault::Spring(SpringFault::Stroke("long".to_owned())));
    assert_eq!(fault("400 stroke"), SpringsFault::Spring(SpringFault::Stroke("400 stroke".to_owned())));
    assert_eq!(fault("400/65 x501"), SpringsFault::TooMany);
    assert!(matches!(fault("400 x9999"), SpringsFault::Spring(SpringFault::Behind(_))));
    assert!(matches!(fault("400 450-490"), SpringsFault::Spring(SpringFault::Progressive(_))));
    assert!(matches!(fault("soft"), SpringsFault::Spring(SpringFault::Figure(_))));
}

#[test]
fn a_written_rack_reads_back_in_every_unit_with_its_numbers() {
    for line in
        ["400 425 450 x2 500/65 550", "350-600 by 50, stroke 65", "450", "450/65 x45", "400-490/65 450"]
    {
        let springs = read(line, UnitSet::Trade, &[]).expect("a rack");
        for units in UnitSet::ALL {
            let text = written(&springs, units);
            assert_eq!(read(&text, units, &springs).as_ref(), Ok(&springs), "{text}");
        }
    }
}

#[test]
fn a_spring_that_stays_keeps_its_number_and_its_bore() {
    let mut springs = read("400 450", UnitSet::Trade, &[]).expect("a rack");
    springs[1].bore = Some(Length::mm(36.0));
    let shorter = read("450 500", UnitSet::Trade, &springs).expect("a rack");
    assert_eq!((shorter[0].number, shorter[0].bore), (SpringNumber(2), Some(Length::mm(36.0))));
    assert_eq!(shorter[1].number, SpringNumber(3));
}

#[test]
fn the_spring_on_the_bike_stays_on_a_list_that_leaves_it_out() {
    let fitted = Spring::labelled(SpringNumber(1), crate::units::SpringRate::lb_per_in(400.0));
    let intake =
        Intake { springs: vec![fitted], spring_on_arrival: Some(SpringNumber(1)), ..Intake::default() };
    let of = |line: &str| {
        let springs = read_with_fitted(line, UnitSet::Trade, &intake).expect(line);
        springs
            .iter()
            .map(|spring| (spring.number.0, spring.label.as_lb_per_in().round()))
            .collect::<Vec<_>>()
    };
    assert_eq!(of("450x65 500x65"), [(1, 400.0), (2, 450.0), (3, 500.0)]);
    assert_eq!(of("350 400"), [(2, 350.0), (1, 400.0)]);
}

#[test]
fn a_spring_with_a_mark_is_named_by_it_and_by_nothing_else() {
    let mut springs = read("450/65 450/65 450/65 500", UnitSet::Trade, &[]).expect("a rack");
    for (place, mark) in [(0, "A3"), (2, "B1")] {
        let mark = Mark::read(mark).expect("a mark");
        springs[place].marked = Some(Marked { mark, learned: None });
    }
    let text = written(&springs, UnitSet::Trade);
    assert!(text.ends_with(" A3 B1"), "{text}");
    let read = |text: &str| {
        let springs = read(text, UnitSet::Trade, &springs).expect(text);
        springs.iter().map(|spring| (spring.number.0, spring.mark().is_some())).collect::<Vec<_>>()
    };
    assert_eq!(read(&text), [(2, false), (4, false), (1, true), (3, true)]);
    assert_eq!(read("b1"), [(3, true)]);
    // Another 450 is another spring, with a number that no marked one has.
    assert_eq!(read("450/65 450/65, b1 b1"), [(2, false), (5, false), (3, true)]);
}
