//! The figure in front of a unit: decimal, fraction, or whole and fraction; nothing is guessed.

use super::FigureFault;

/// Figures beyond this are a slip of the hand; below it no unit can carry a quantity out of what `f64` holds.
const LARGEST: f64 = 1e9;

/// Parts plain text where the unit begins: the first character that cannot belong to a figure.
pub(super) fn split(text: &str) -> (&str, &str) {
    let end = text.find(|c: char| !(c.is_ascii_digit() || ".,/+- ".contains(c))).unwrap_or(text.len());
    let (figure, unit) = text.split_at(end);
    (figure.trim(), unit.trim())
}

/// Reads the figure; the text behind it is only named when there is no figure at all.
pub(super) fn read(figure: &str, behind: &str) -> Result<f64, FigureFault> {
    if !figure.contains(|c: char| c.is_ascii_digit()) {
        return Err(FigureFault::NoFigure(format!("{figure}{behind}")));
    }
    let (sign, rest) = match figure.strip_prefix('-') {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, figure.strip_prefix('+').unwrap_or(figure).trim_start()),
    };
    let size = unsigned(rest)?;
    if size > LARGEST { Err(FigureFault::TooLarge(figure.to_owned())) } else { Ok(sign * size) }
}

/// What is wrong with a text behind a figure that is no unit and has digits in it.
pub(super) fn trailing_fault(text: &str) -> FigureFault {
    let power = text.strip_prefix(['e', 'E']).is_some_and(|rest| {
        let digits = rest.trim_start_matches(['+', '-']);
        !digits.is_empty() && digits.chars().all(|c| c.is_ascii_digit())
    });
    if power { FigureFault::PowerOfTen(text.to_owned()) } else { FigureFault::TwoFigures(text.to_owned()) }
}

fn unsigned(text: &str) -> Result<f64, FigureFault> {
    if let Some((whole, fraction)) = whole_and_fraction(text) {
        return mixed(whole, fraction).ok_or_else(|| FigureFault::Fraction(text.to_owned()));
    }
    if text.contains([' ', '-']) {
        return Err(FigureFault::TwoFigures(text.to_owned()));
    }
    match text.split_once('/') {
        Some((over, under)) => quotient(over, under).ok_or_else(|| FigureFault::Fraction(text.to_owned())),
        None => decimal(text),
    }
}

/// "2 1/2" and "2-1/2" in two halves.
fn whole_and_fraction(text: &str) -> Option<(&str, &str)> {
    let (whole, fraction) = text.split_once([' ', '-'])?;
    let one_each = !whole.contains('/') && !fraction.contains([' ', '-']) && fraction.contains('/');
    one_each.then_some((whole, fraction))
}

fn mixed(whole: &str, fraction: &str) -> Option<f64> {
    let (over, under) = fraction.split_once('/')?;
    let part = quotient(over, under).filter(|part| *part < 1.0)?;
    Some(digits(whole)? + part)
}

fn quotient(over: &str, under: &str) -> Option<f64> {
    let (over, under) = (digits(over)?, digits(under)?);
    (under > 0.0).then_some(over / under).filter(|quotient| quotient.is_finite())
}

fn digits(text: &str) -> Option<f64> {
    let plain = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    if plain { text.parse().ok() } else { None }
}

fn decimal(text: &str) -> Result<f64, FigureFault> {
    if text.matches(['.', ',']).count() > 1 {
        return Err(FigureFault::TwoPoints(text.to_owned()));
    }
    if parts_thousands(text) {
        return Err(FigureFault::CommaOrThousands(text.to_owned()));
    }
    text.replace(',', ".").parse().map_err(|_| FigureFault::NoFigure(text.to_owned()))
}

/// Whether the comma of "1,500" could part thousands: one to three digits before it, no leading nought, three after.
fn parts_thousands(text: &str) -> bool {
    text.split_once(',').is_some_and(|(before, after)| {
        (1..=3).contains(&before.len()) && !before.starts_with('0') && after.len() == 3
    })
}
