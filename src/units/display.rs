//! Quantities as text: the unit of the chosen set, rounded to what the eye can use.
//!
//! | quantity | shown to |
//! | --- | --- |
//! | lengths | 0.1 mm or 0.01 in; a place finer where a small length needs it (a ruler, a thread pitch), 0.001 in where exact |
//! | masses | 0.1 kg or 0.1 lb, dropped when whole |
//! | spring rates | 1 lb/in or 0.1 N/mm |
//! | sag and other shares | 0.1 % |
//! | collar turns | quarters where exact, else hundredths |
//! | leverage ratios | 0.01 |
//!
//! Figures that stand in a column, or change where they stand, keep their places ([`Show::even`]).
//!
//! Halves are rounded away from zero; the minus is U+2212; nothing rounds to a negative nought. Not here: sentences
//! round the figures (`phrase`), and the full precision a record keeps (`archive`).

use std::fmt;

use super::quantity::{
    Angle, Energy, Estimate, Force, Frequency, Length, LeverageRatio, Mass, Quantity, Share, SpringRate,
    Turns,
};
use super::unit::{Kind, Unit, UnitSet};

/// A figure and its unit, apart, so that a screen can set the one large and the other small.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FigureText {
    /// The figure, rounded.
    pub figure: String,
    /// The sign of its unit; empty for a ratio or a count.
    pub unit: &'static str,
}

impl fmt::Display for FigureText {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let gap = if self.unit.is_empty() || self.unit == Unit::Degree.symbol() { "" } else { " " };
        write!(f, "{}{gap}{}", self.figure, self.unit)
    }
}

/// A figure in the unit it is to be shown in, and how finely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FigureStyle {
    figure: f64,
    unit: Unit,
    /// Decimals that always stand.
    least: usize,
    /// Decimals beyond which nothing stands; those between stand when they are not nought.
    most: usize,
}

/// A quantity that can be shown in the units of a set.
pub trait Show: Copy {
    /// The figure in the unit of the set, with its rounding.
    fn measure(self, units: UnitSet) -> FigureStyle;

    /// The rounded figure and its unit.
    fn written(self, units: UnitSet) -> FigureText {
        self.measure(units).written()
    }

    /// The same to one and the same place whatever the figure: for figures in a column, side by side, or that change where
    /// they stand.
    fn even(self, units: UnitSet) -> FigureText {
        self.measure(units).even()
    }
}

impl UnitSet {
    /// A quantity as text, figure and unit.
    pub fn show(self, quantity: impl Show) -> String {
        quantity.written(self).to_string()
    }
}

impl<Q: Show> Estimate<Q> {
    /// The value and its standard uncertainty to the same place, and their unit: 25.4 ± 0.6 %.
    pub fn written(self, units: UnitSet) -> FigureText {
        let (value, uncertainty) = (self.value.measure(units), self.uncertainty.measure(units));
        let figure = format!("{} ± {}", fixed(value.figure, value.most), value.doubt(uncertainty.figure));
        FigureText { figure, unit: value.unit.symbol() }
    }

    /// [`Self::written`] as one text.
    pub fn shown(self, units: UnitSet) -> String {
        self.written(units).to_string()
    }
}

impl FigureStyle {
    const fn to(figure: f64, unit: Unit, decimals: usize) -> Self {
        Self { figure, unit, least: decimals, most: decimals }
    }

    fn written(self) -> FigureText {
        if self.unit == Unit::Turn {
            return written_turns(self.figure);
        }
        FigureText { figure: trimmed(self.figure, self.least, self.most), unit: self.unit.symbol() }
    }

    fn even(self) -> FigureText {
        match self.unit {
            Unit::Turn => self.written(),
            // Readings of a ruler: a tenth of a millimetre, and the thousandth of an inch that comes nearest to it.
            Unit::Millimetre => FigureStyle::to(self.figure, self.unit, 1).written(),
            Unit::Inch => FigureStyle::to(self.figure, self.unit, 3).written(),
            _ => FigureStyle { least: self.most, ..self }.written(),
        }
    }

    /// An uncertainty beside this figure. One that would round to nothing is rounded up instead: a stated doubt of
    /// nought would be a claim (GUM, JCGM 100:2008, 7.2.6 allows rounding up).
    fn doubt(self, uncertainty: f64) -> String {
        let last_place = 1.0 / scale(self.most);
        let rounds_away = uncertainty > 0.0 && uncertainty < last_place / 2.0;
        fixed(if rounds_away { last_place } else { uncertainty }, self.most)
    }
}

impl Show for Length {
    fn measure(self, units: UnitSet) -> FigureStyle {
        let fine = usize::from(self.abs() < Length::mm(5.0));
        match units.unit(Kind::Length) {
            Unit::Inch => {
                FigureStyle { figure: self.as_inches(), unit: Unit::Inch, least: 2, most: 3 + fine }
            }
            unit => FigureStyle { figure: self.as_mm(), unit, least: 1, most: 1 + fine },
        }
    }
}

impl Length {
    /// As a ruler shows it: under inches, the fraction where it stands at a mark of a ruler, to the 64th; else as
    /// [`Show::even`].
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "whole marks, 1 to a million"
    )]
    pub fn ruled(self, units: UnitSet) -> FigureText {
        /// Marks of a fine ruler to the inch.
        const MARKS: f64 = 64.0;
        /// Nearer to a mark than that is at it: what the figure of a mark comes to through three decimals.
        const AT_A_MARK: f64 = 0.000_51;
        let marks = (self.as_inches() * MARKS).round();
        let off = (self.as_inches() - marks / MARKS).abs();
        if units != UnitSet::Imperial || off > AT_A_MARK || !(1.0..=1e6).contains(&marks) {
            return self.even(units);
        }
        FigureText { figure: fraction(marks as u64, MARKS as u64), unit: Unit::Inch.symbol() }
    }
}

/// So many parts of a whole, lowest terms: `1 11/16`.
fn fraction(mut parts: u64, mut of: u64) -> String {
    let whole = parts / of;
    parts %= of;
    while parts > 0 && parts.is_multiple_of(2) {
        (parts, of) = (parts / 2, of / 2);
    }
    match (whole, parts) {
        (whole, 0) => whole.to_string(),
        (0, parts) => format!("{parts}/{of}"),
        (whole, parts) => format!("{whole} {parts}/{of}"),
    }
}

impl Show for Mass {
    fn measure(self, units: UnitSet) -> FigureStyle {
        let unit = units.unit(Kind::Mass);
        let figure = if unit == Unit::Pound { self.as_pounds() } else { self.as_kg() };
        FigureStyle { figure, unit, least: 0, most: 1 }
    }
}

impl Show for SpringRate {
    fn measure(self, units: UnitSet) -> FigureStyle {
        match units.unit(Kind::Rate) {
            Unit::NewtonPerMillimetre => FigureStyle::to(self.as_n_per_mm(), Unit::NewtonPerMillimetre, 1),
            unit => FigureStyle::to(self.as_lb_per_in(), unit, 0),
        }
    }
}

impl Show for Force {
    fn measure(self, units: UnitSet) -> FigureStyle {
        match units {
            UnitSet::Imperial => FigureStyle::to(self.as_pounds_force(), Unit::PoundForce, 0),
            UnitSet::Trade | UnitSet::Metric => FigureStyle::to(self.as_newtons(), Unit::Newton, 0),
        }
    }
}

impl Show for Turns {
    fn measure(self, _: UnitSet) -> FigureStyle {
        FigureStyle { figure: self.value(), unit: Unit::Turn, least: 1, most: 2 }
    }
}

impl Show for Share {
    fn measure(self, _: UnitSet) -> FigureStyle {
        FigureStyle::to(self.as_percent(), Unit::Percent, 1)
    }
}

impl Show for LeverageRatio {
    fn measure(self, _: UnitSet) -> FigureStyle {
        FigureStyle::to(self.value(), Unit::One, 2)
    }
}

impl Show for Energy {
    fn measure(self, _: UnitSet) -> FigureStyle {
        FigureStyle::to(self.value(), Unit::Joule, 0)
    }
}

impl Show for Frequency {
    fn measure(self, _: UnitSet) -> FigureStyle {
        FigureStyle::to(self.value(), Unit::Hertz, 2)
    }
}

impl Show for Angle {
    fn measure(self, _: UnitSet) -> FigureStyle {
        FigureStyle::to(self.value(), Unit::Degree, 1)
    }
}

impl Show for Quantity {
    fn measure(self, units: UnitSet) -> FigureStyle {
        match self {
            Self::Length(length) => length.measure(units),
            Self::Mass(mass) => mass.measure(units),
            Self::Rate(rate) => rate.measure(units),
            Self::Turns(turns) => turns.measure(units),
            Self::Share(share) => share.measure(units),
            Self::Ratio(ratio) => ratio.measure(units),
            Self::Count(count) => FigureStyle::to(f64::from(count), Unit::One, 0),
        }
    }
}

/// Rounded to that many decimals, halves away from zero as people round, with a proper minus and no negative nought.
fn fixed(value: f64, decimals: usize) -> String {
    let scale = scale(decimals);
    let scaled = (value * scale).round();
    let rounded = if scaled.is_finite() { scaled / scale } else { value };
    let minus = if rounded < 0.0 { "−" } else { "" };
    format!("{minus}{:.decimals$}", rounded.abs())
}

/// Ten to the power of that many decimals; figures are shown to four at most.
fn scale(decimals: usize) -> f64 {
    [1.0, 10.0, 100.0, 1_000.0, 10_000.0][decimals.min(4)]
}

/// Rounded to `most` decimals, without the noughts beyond `least`.
fn trimmed(value: f64, least: usize, most: usize) -> String {
    let mut text = fixed(value, most);
    for _ in least..most {
        if text.ends_with('0') {
            text.pop();
        }
    }
    text.strip_suffix('.').map(str::to_owned).unwrap_or(text)
}

/// Turns in quarters where the hundredths say so: a mechanic counts notches and quarters, not decimals.
fn written_turns(turns: f64) -> FigureText {
    let quarters = (turns * 100.0).round() / 25.0;
    let exact = quarters.fract() == 0.0 && quarters.abs() < 4e6;
    let figure = if exact { in_quarters(quarters) } else { trimmed(turns, 1, 2) };
    let singular = exact && quarters != 0.0 && quarters.abs() <= 4.0;
    FigureText { figure, unit: if singular { "turn" } else { Unit::Turn.symbol() } }
}

fn in_quarters(quarters: f64) -> String {
    let minus = if quarters < 0.0 { "−" } else { "" };
    let whole = (quarters.abs() / 4.0).floor();
    let fraction = match quarters.abs() % 4.0 {
        rest if rest < 0.5 => return format!("{minus}{whole:.0}"),
        rest if rest < 1.5 => "1/4",
        rest if rest < 2.5 => "1/2",
        _ => "3/4",
    };
    if whole < 1.0 { format!("{minus}{fraction}") } else { format!("{minus}{whole:.0} {fraction}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use UnitSet::{Imperial, Metric, Trade};

    #[test]
    fn a_shock_stroke_is_shown_in_the_unit_of_the_set() {
        let stroke = Length::inches(2.5);
        assert_eq!([Trade, Imperial, Metric].map(|set| set.show(stroke)), ["63.5 mm", "2.50 in", "63.5 mm"]);
    }

    #[test]
    fn a_spring_rate_is_shown_in_the_unit_of_the_set() {
        let rate = SpringRate::lb_per_in(525.0);
        assert_eq!(
            [Trade, Imperial, Metric].map(|set| set.show(rate)),
            ["525 lb/in", "525 lb/in", "91.9 N/mm"]
        );
    }

    #[test]
    fn a_whole_mass_drops_its_decimal() {
        assert_eq!(Trade.show(Mass::kg(82.0)), "82 kg");
        assert_eq!(Trade.show(Mass::kg(81.97)), "82 kg");
        assert_eq!(Trade.show(Mass::kg(82.4)), "82.4 kg");
        assert_eq!(Imperial.show(Mass::pounds(180.0)), "180 lb");
    }

    #[test]
    fn figures_of_a_column_keep_their_places() {
        let lengths = [24.5, 16.0, 4.75, 0.29].map(|mm| Length::mm(mm).even(Trade).to_string());
        assert_eq!(lengths, ["24.5 mm", "16.0 mm", "4.8 mm", "0.3 mm"]);
        let inches = [24.5, 25.4, 63.5].map(|mm| Length::mm(mm).even(Imperial).to_string());
        assert_eq!(inches, ["0.965 in", "1.000 in", "2.500 in"]);
        let masses = [15.5, 16.0].map(|kg| Mass::kg(kg).even(Trade).to_string());
        assert_eq!(masses, ["15.5 kg", "16.0 kg"]);
    }

    #[test]
    fn a_half_is_rounded_away_from_zero() {
        // 2.25 in are 57.15 mm, which binary keeps a hair below.
        assert_eq!(Trade.show(Length::inches(2.25)), "57.2 mm");
    }

    #[test]
    fn a_thread_pitch_and_a_fine_ruler_keep_their_hundredths() {
        assert_eq!(Trade.show(Length::mm(1.25)), "1.25 mm");
        assert_eq!(Trade.show(Length::mm(0.5)), "0.5 mm");
        assert_eq!(Trade.show(Length::mm(0.05)), "0.05 mm");
    }

    #[test]
    fn a_reading_at_a_mark_of_a_ruler_in_inches_is_a_fraction() {
        let ruled = [11.0 / 16.0, 21.0 / 32.0, 1.5, 2.0, 0.688, 0.7, 1.0 / 3.0];
        let shown = ruled.map(|inches| Length::inches(inches).ruled(Imperial).to_string());
        assert_eq!(shown, ["11/16 in", "21/32 in", "1 1/2 in", "2 in", "11/16 in", "0.700 in", "0.333 in"]);
        assert_eq!(Length::mm(17.5).ruled(Trade).to_string(), "17.5 mm");
        assert_eq!(Length::ZERO.ruled(Imperial).to_string(), "0.000 in");
    }

    #[test]
    fn an_eighth_of_an_inch_keeps_its_thousandths() {
        assert_eq!(Imperial.show(Length::inches(2.125)), "2.125 in");
        assert_eq!(Imperial.show(Length::mm(63.0)), "2.48 in");
    }

    #[test]
    fn turns_are_shown_in_quarters_where_exact() {
        let shown = [0.0, 0.25, 0.5, 1.0, 1.5, -1.75, 1.3].map(|turns| Trade.show(Turns::of(turns)));
        let expected =
            ["0 turns", "1/4 turn", "1/2 turn", "1 turn", "1 1/2 turns", "−1 3/4 turns", "1.3 turns"];
        assert_eq!(shown, expected);
    }

    #[test]
    fn nothing_is_shown_as_a_negative_nought() {
        assert_eq!(Trade.show(Length::mm(-0.004)), "0.0 mm");
        assert_eq!(Trade.show(Mass::kg(-0.0)), "0 kg");
        assert_eq!(Trade.show(Share::percent(-0.01)), "0.0 %");
        assert_eq!(Trade.show(Turns::of(-0.0)), "0 turns");
    }

    #[test]
    fn a_minus_is_a_minus_sign_and_not_a_hyphen() {
        assert_eq!(Trade.show(Length::mm(-5.0)), "−5.0 mm");
    }

    #[test]
    fn an_estimate_shows_value_and_uncertainty_to_one_place() {
        let sag = Estimate::new(Share::percent(25.43), Share::percent(0.58));
        assert_eq!(sag.shown(Trade), "25.4 ± 0.6 %");
        let rider = Estimate::new(Mass::kg(82.0), Mass::kg(1.3));
        assert_eq!(rider.shown(Trade), "82.0 ± 1.3 kg");
        let rate = Estimate::new(SpringRate::lb_per_in(450.0), SpringRate::lb_per_in(11.3));
        assert_eq!(rate.shown(Trade), "450 ± 11 lb/in");
    }

    #[test]
    fn a_small_uncertainty_is_never_shown_as_none() {
        let sag = Estimate::new(Share::percent(25.4), Share::percent(0.02));
        assert_eq!(sag.shown(Trade), "25.4 ± 0.1 %");
    }

    #[test]
    fn an_angle_stands_without_a_gap() {
        assert_eq!(Trade.show(Angle::degrees(-0.42)), "−0.4°");
    }
}
