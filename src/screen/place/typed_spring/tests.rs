//! Springs as labels, price lists and mechanics write them (common practice, no source).

use super::*;

/// Rate in lb/in, stroke in mm (0 for none) and count (0 for none), to the whole figure.
fn typed_in(text: &str, units: UnitSet) -> String {
    let spring = read(text, units).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
    let stroke = spring.stroke.map_or(0.0, Length::as_mm);
    format!("{:.0} {stroke:.0} {}", spring.rate.as_lb_per_in(), spring.count.unwrap_or(0))
}

fn typed(text: &str) -> String {
    typed_in(text, UnitSet::Trade)
}

fn fault(text: &str) -> SpringFault {
    read(text, UnitSet::Trade).expect_err(text)
}

#[test]
fn a_stroke_stands_behind_an_x_a_dash_a_stroke_mark_or_its_word() {
    for text in [
        "575x65",
        "575 x 65",
        "575×65",
        "575 X 65mm",
        "575x65 mm",
        "575-65",
        "575 – 65",
        "575/65",
        "575 / 65 mm",
        "575, stroke 65",
        "575 Stroke 65",
        "575 lb/in/65",
        "575 lb/in x 65",
        "575lbs x 65",
        "575#x65",
        "#575x65",
        "575 lb/in, stroke 65",
    ] {
        for units in [UnitSet::Trade, UnitSet::Imperial] {
            assert_eq!(typed_in(text, units), "575 65 0", "{text}");
        }
    }
}

#[test]
fn a_stroke_of_one_and_a_half_to_five_is_in_inches() {
    for text in [
        "450 x 2.75",
        "450x2,75",
        "450/2.75",
        "450-2.75",
        "450 x 2 3/4",
        "450x2-3/4",
        "450 x 2¾",
        "450x2.75\"",
        "450 x 2 3/4 in",
    ] {
        for units in UnitSet::ALL {
            let text = format!("{} lb/in{}", &text[..3], &text[3..]);
            assert_eq!(typed_in(&text, units), "450 70 0", "{text}");
        }
    }
}

#[test]
fn a_whole_number_up_to_nineteen_is_a_count() {
    for text in ["450 x2", "450x2", "450 x 2", "450 lb/in x2"] {
        assert_eq!(typed(text), "450 0 2", "{text}");
    }
    assert_eq!(typed("450x19"), "450 0 19");
    assert_eq!(typed("450x20"), "450 20 0");
    for text in ["450/65 x2", "450/65x2", "450 x2/65", "450-65 x 2"] {
        assert_eq!(typed(text), "450 65 2", "{text}");
    }
    assert_eq!(typed("450/65 x25"), "450 65 25");
}

#[test]
fn what_could_be_a_count_or_inches_says_so() {
    let spring = |units| read("450 x 3", units).expect("it reads");
    assert_eq!(spring(UnitSet::Imperial).or_stroke, Some(Length::inches(3.0)));
    assert_eq!(spring(UnitSet::Trade).or_stroke, None);
    let one = spring(UnitSet::Imperial).only_one().expect("one spring");
    assert_eq!((one.stroke, one.count), (Some(Length::inches(3.0)), None));
    assert_eq!(spring(UnitSet::Trade).only_one(), Err(SpringFault::Several(3)));
}

#[test]
fn neither_count_nor_stroke_is_refused() {
    for text in ["450 x 7.5", "450x400", "450x1000000", "450x", "450xx", "450x65x"] {
        assert!(matches!(fault(text), SpringFault::Behind(_)), "{text}");
    }
}

#[test]
fn the_mark_within_a_unit_is_no_stroke() {
    for text in [
        "450",
        "450 lb/in",
        "450 lbs/in",
        "450LB/IN",
        "450 lb/\"",
        "450 lb / in",
        "450 lb per inch",
        "450#",
        "#450",
        "450 #",
    ] {
        assert_eq!(typed(text), "450 0 0", "{text}");
    }
    assert_eq!(typed("80 N/mm"), "457 0 0");
    assert_eq!(typed("8 kg/mm"), "448 0 0");
    assert_eq!(typed("7.9 kgf/mm x 65"), "442 65 0");
}

#[test]
fn a_progressive_spring_is_one_and_no_range() {
    let near = |rate: SpringRate| (rate.as_lb_per_in() - 490.0).abs() < 2.0;
    for (text, units) in [
        ("450-490/65", UnitSet::Trade),
        ("450-490 x 65", UnitSet::Imperial),
        ("79-86 / 65", UnitSet::Metric),
        ("450-490 lb/in, stroke 65", UnitSet::Trade),
    ] {
        let spring = read(text, units).expect(text);
        assert!(
            spring.end.is_some_and(near) && spring.stroke == Some(Length::mm(65.0)),
            "{text}: {spring:?}"
        );
    }
    // Without its stroke nobody knows how fast the rate rises.
    let fault = read("450–490 lb/in", UnitSet::Metric).expect_err("no stroke");
    assert!(matches!(fault, SpringFault::Progressive(spring) if near(spring.to)), "{fault:?}");
    assert_eq!(typed_in("40-65", UnitSet::Metric), "228 65 0");
}

#[test]
fn what_is_no_spring_is_refused() {
    for text in ["", "/65", "575/", "575/long", "stroke 65", "575, stroke", "450 500", "#", "x65", "450-"] {
        assert!(read(text, UnitSet::Trade).is_err(), "{text}");
    }
}
