//! What people type and what it means; and that nothing typed can bring the reading down.

use proptest::prelude::*;

use super::*;

const SET: UnitSet = UnitSet::Trade;

fn mm(text: &str) -> Result<f64, FigureFault> {
    length(text, SET).map(|typed| typed.value.as_mm()).map_err(|refused| refused.fault)
}

fn part(fault: fn(String) -> FigureFault, text: &str) -> FigureFault {
    fault(text.to_owned())
}

#[test]
fn two_and_a_half_inches_are_sixty_three_and_a_half_millimetres() {
    let ways = [
        "63.5",
        "63,5",
        "63.5 mm",
        "63.5mm",
        " 63.50 MM ",
        "6.35 cm",
        "2.5in",
        "2.5 in.",
        "2.5\"",
        "2.5 ″",
        "2.5''",
        "2,5 inch",
        "2 1/2 in",
        "2-1/2 in",
        "2½ in",
        "2 ½\"",
        "5/2 in",
        "+63.5",
        "٦٣٫٥",
        "63.5\u{a0}mm",
    ];
    for way in ways {
        let read = mm(way).unwrap_or_else(|fault| panic!("{way}: {fault:?}"));
        assert!((read - 63.5).abs() < 1e-12, "{way} was read as {read}");
    }
}

#[test]
fn a_bare_figure_takes_the_unit_of_the_set() {
    let inch = length("2.5", UnitSet::Imperial).unwrap();
    assert_eq!((inch.value, inch.unit), (Length::inches(2.5), Unit::Inch));
    let pounds = mass("180", UnitSet::Imperial).unwrap();
    assert_eq!((pounds.value, pounds.unit), (Mass::pounds(180.0), Unit::Pound));
    let newtons = rate("92", UnitSet::Metric).unwrap();
    assert_eq!((newtons.value, newtons.unit), (SpringRate::n_per_mm(92.0), Unit::NewtonPerMillimetre));
}

#[test]
fn a_typed_unit_goes_before_the_unit_of_the_set() {
    assert_eq!(length("63.5 mm", UnitSet::Imperial).unwrap().value, Length::mm(63.5));
    assert_eq!(rate("525 lb/in", UnitSet::Metric).unwrap().value, SpringRate::lb_per_in(525.0));
}

#[test]
fn masses_are_read_in_kilograms_and_pounds() {
    for way in ["82", "82 kg", "82kg", "82 kilos", "82,0 KG"] {
        assert_eq!(mass(way, SET).unwrap().value, Mass::kg(82.0), "{way}");
    }
    for way in ["180 lb", "180lbs", "180 lbs.", "180 pounds"] {
        assert_eq!(mass(way, SET).unwrap().value, Mass::pounds(180.0), "{way}");
    }
}

#[test]
fn pounds_on_a_spring_are_pounds_per_inch() {
    for way in
        ["525", "525 lb/in", "525lbs", "525 lb", "525 lbs/in", "525 lb / in", "525 lbf/in", "525 lb per inch"]
    {
        assert_eq!(rate(way, SET).unwrap().value, SpringRate::lb_per_in(525.0), "{way}");
    }
    assert_eq!(rate("92 N/mm", SET).unwrap().value, SpringRate::n_per_mm(92.0));
}

#[test]
fn a_spring_is_printed_in_pounds_with_a_hash_and_in_kilograms_per_millimetre() {
    for way in ["450#", "450 #"] {
        for set in UnitSet::ALL {
            assert_eq!(rate(way, set).unwrap().value, SpringRate::lb_per_in(450.0), "{way}");
        }
    }
    assert_eq!(mass("180#", SET).unwrap().value, Mass::pounds(180.0));
    // 1 kgf/mm = 9.806 65 N/mm: standard gravity, 3rd CGPM (1901); NIST SP 811 (2008), appendix B.8.
    for way in ["8 kg/mm", "8kgf/mm", "8,0 KGF / mm"] {
        let read = rate(way, SET).unwrap().value;
        assert!((read.as_n_per_mm() - 78.453_2).abs() < 1e-9, "{way}");
    }
    assert_eq!(rate("8 kg", SET).unwrap_err().fault, FigureFault::OtherKind(Unit::Kilogram));
}

#[test]
fn shares_turns_ratios_and_counts_are_read() {
    assert_eq!(share("30").unwrap().value, Share::percent(30.0));
    assert_eq!(share("30 %").unwrap().value, Share::percent(30.0));
    for (way, expected) in
        [("1.5", 1.5), ("1 1/2", 1.5), ("1/4", 0.25), ("½", 0.5), ("1½ turns", 1.5), ("0", 0.0)]
    {
        assert_eq!(turns(way).unwrap().value, Turns::of(expected), "{way}");
    }
    assert_eq!(ratio("2.8").unwrap().value, LeverageRatio::ratio(2.8));
    assert_eq!(ratio("2.8:1").unwrap().value, LeverageRatio::ratio(2.8));
    assert_eq!(count("3").unwrap().value, 3);
}

#[test]
fn a_negative_figure_is_read_and_left_to_the_limits() {
    for way in ["-5", "−5", "- 5", "–5 mm"] {
        assert_eq!(mm(way), Ok(-5.0), "{way}");
    }
    assert_eq!(turns("-1 1/2").unwrap().value, Turns::of(-1.5));
}

#[test]
fn a_comma_that_could_part_thousands_is_asked_back() {
    assert_eq!(mm("1,500"), Err(part(FigureFault::CommaOrThousands, "1,500")));
    assert_eq!(mm("63,500 mm"), Err(part(FigureFault::CommaOrThousands, "63,500")));
    assert_eq!(mm("0,125"), Ok(0.125));
    assert_eq!(mm("1,5"), Ok(1.5));
    assert_eq!(mm("1,50"), Ok(1.5));
    assert_eq!(mm("1.500"), Ok(1.5));
}

#[test]
fn what_cannot_be_read_names_the_part_at_fault() {
    let faults = [
        ("", FigureFault::Empty),
        ("   \u{a0}", FigureFault::Empty),
        ("abc", part(FigureFault::NoFigure, "abc")),
        ("-", part(FigureFault::NoFigure, "-")),
        (".", part(FigureFault::NoFigure, ".")),
        ("NaN", part(FigureFault::NoFigure, "NaN")),
        ("inf", part(FigureFault::NoFigure, "inf")),
        ("-inf", part(FigureFault::NoFigure, "-inf")),
        ("mm", part(FigureFault::NoFigure, "mm")),
        ("63 64", part(FigureFault::TwoFigures, "63 64")),
        ("60-65", part(FigureFault::TwoFigures, "60-65")),
        ("1 500", part(FigureFault::TwoFigures, "1 500")),
        ("63 mm 64 mm", part(FigureFault::TwoFigures, "mm 64 mm")),
        ("1.234,5", part(FigureFault::TwoPoints, "1.234,5")),
        ("6..5", part(FigureFault::TwoPoints, "6..5")),
        ("1/0", part(FigureFault::Fraction, "1/0")),
        ("2 3/2", part(FigureFault::Fraction, "2 3/2")),
        ("1/", part(FigureFault::Fraction, "1/")),
        ("1e400", part(FigureFault::PowerOfTen, "e400")),
        ("1e5", part(FigureFault::PowerOfTen, "e5")),
        ("63.5 furlongs", part(FigureFault::UnknownUnit, "furlongs")),
        ("63 kg", FigureFault::OtherKind(Unit::Kilogram)),
        ("63 %", FigureFault::OtherKind(Unit::Percent)),
    ];
    for (typed, fault) in faults {
        assert_eq!(mm(typed), Err(fault), "{typed:?}");
    }
}

#[test]
fn endless_digits_are_too_large() {
    let digits = "9".repeat(400);
    assert_eq!(mm(&digits), Err(part(FigureFault::TooLarge, &digits)));
    assert_eq!(mm(&format!("1/{digits}")), Ok(0.0));
}

#[test]
fn a_count_is_whole_and_not_below_nought() {
    for typed in ["2.5", "-3", "70000"] {
        assert_eq!(
            count(typed),
            Err(Unreadable { expected: Kind::Count, fault: part(FigureFault::NoCount, typed) })
        );
    }
}

const KINDS: [Kind; 7] =
    [Kind::Length, Kind::Mass, Kind::Rate, Kind::Turns, Kind::Share, Kind::Ratio, Kind::Count];

fn any_quantity() -> impl Strategy<Value = Quantity> {
    (0..KINDS.len(), -2_000.0..2_000.0_f64, any::<u16>()).prop_map(|(place, value, whole)| {
        match KINDS[place] {
            Kind::Length => Quantity::Length(Length::mm(value)),
            Kind::Mass => Quantity::Mass(Mass::kg(value)),
            Kind::Rate => Quantity::Rate(SpringRate::lb_per_in(value)),
            Kind::Turns => Quantity::Turns(Turns::of(value / 100.0)),
            Kind::Share => Quantity::Share(Share::percent(value / 10.0)),
            Kind::Ratio => Quantity::Ratio(LeverageRatio::ratio(value / 100.0)),
            Kind::Count => Quantity::Count(whole),
        }
    })
}

fn any_set() -> impl Strategy<Value = UnitSet> {
    (0..UnitSet::ALL.len()).prop_map(|place| UnitSet::ALL[place])
}

/// Half of the coarsest last place a kind is shown to, in the unit the program reckons in.
fn half_a_place(kind: Kind) -> f64 {
    match kind {
        Kind::Length | Kind::Mass => 0.05,
        Kind::Rate => SpringRate::lb_per_in(0.5).value(),
        Kind::Turns | Kind::Ratio => 0.005,
        Kind::Share => 0.000_5,
        Kind::Count => 0.0,
    }
}

proptest! {
    // A found failure becomes a named test above, not a file beside the source.
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_text_brings_the_reading_down(text in any::<String>(), place in 0..KINDS.len(), set in any_set()) {
        let _ = quantity(&text, KINDS[place], set);
    }

    #[test]
    fn no_text_of_figures_brings_the_reading_down(text in "[-+0-9.,/ ½٣eE\"a-z%:]{0,24}", place in 0..KINDS.len()) {
        if let Ok(read) = quantity(&text, KINDS[place], SET) {
            prop_assert!(read.value.value().is_finite());
        }
    }

    #[test]
    fn what_is_shown_is_read_back_to_within_half_its_last_place(entered in any_quantity(), set in any_set()) {
        let shown = set.show(entered);
        let read = quantity(&shown, entered.kind(), set).map_err(|fault| TestCaseError::fail(format!("{shown}: {fault:?}")))?;
        let off = (read.value.value() - entered.value()).abs();
        prop_assert!(off <= half_a_place(entered.kind()) * (1.0 + 1e-9), "{} came back off by {}", shown, off);
        prop_assert_eq!(set.show(read.value), shown);
    }
}
