//! What a measured leverage curve shows: ratio at the start, in the middle and at the end, fall-off, misfit, and the
//! ratios the pairs themselves say between one and the next.
//!
//! Pure figures, for the report and the screen alike. Not here: the fitting (`leverage`), and drawing.

use super::leverage::{CurveMisfit, LeverageCurve, LeveragePair};
use crate::units::{Length, LeverageRatio, Share};

/// A place of the curve, or what two neighbouring pairs say about the place between them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatioAt {
    /// Stroke used.
    pub stroke: Length,
    /// Leverage ratio there.
    pub ratio: LeverageRatio,
}

/// The figures of a curve fitted to pairs.
#[derive(Debug, Clone, PartialEq)]
pub struct LeverageSurvey {
    /// Ratio at full extension.
    pub start: LeverageRatio,
    /// Wheel travel over stroke, of the curve.
    pub mean: LeverageRatio,
    /// Ratio at full compression.
    pub end: LeverageRatio,
    /// How far the ratio falls, as a share of the mean; negative where it rises.
    pub falloff: Share,
    /// The pair the curve misses by most; none without pairs.
    pub misfit: Option<CurveMisfit>,
    /// The ratio between each pair and the next, at the middle of the two.
    pub measured: Vec<RatioAt>,
    /// The curve at even steps from no stroke to all of it.
    pub curve: Vec<RatioAt>,
}

/// Steps in which the curve is told: enough for a line on any terminal.
const STEPS: u8 = 120;

/// The figures of a curve and the pairs it was fitted to.
pub fn survey(curve: &LeverageCurve, pairs: &[LeveragePair]) -> LeverageSurvey {
    let stroke = curve.stroke();
    let at = |stroke: Length| RatioAt { stroke, ratio: curve.ratio(stroke) };
    let places = (0..=STEPS).map(|step| stroke * (f64::from(step) / f64::from(STEPS)));
    LeverageSurvey {
        start: curve.ratio(Length::ZERO),
        mean: LeverageRatio::ratio(curve.travel() / stroke),
        end: curve.ratio(stroke),
        falloff: curve.total_falloff(),
        misfit: curve.misfit(pairs),
        measured: between(pairs),
        curve: places.map(at).collect(),
    }
}

/// The ratio each two neighbouring pairs say, the still bike before the first: rise over run, at the middle.
fn between(pairs: &[LeveragePair]) -> Vec<RatioAt> {
    let still = LeveragePair { stroke: Length::ZERO, wheel: Length::ZERO };
    let begins = pairs.first().is_some_and(|first| first.stroke == Length::ZERO);
    let all: Vec<LeveragePair> =
        (!begins).then_some(still).into_iter().chain(pairs.iter().copied()).collect();
    let ratio = |two: &[LeveragePair]| {
        let run = two[1].stroke - two[0].stroke;
        (run > Length::ZERO).then(|| RatioAt {
            stroke: (two[0].stroke + two[1].stroke) / 2.0,
            ratio: LeverageRatio::ratio((two[1].wheel - two[0].wheel) / run),
        })
    };
    all.windows(2).filter_map(ratio).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pairs of a ratio that falls evenly from 3.0 to 2.0 over 60 mm: z = 3 x - x²/120.
    fn pairs() -> Vec<LeveragePair> {
        let wheel = |x: f64| 3.0 * x - x * x / 120.0;
        let places = [10.0, 20.0, 30.0, 40.0, 50.0, 60.0];
        places.map(|x| LeveragePair { stroke: Length::mm(x), wheel: Length::mm(wheel(x)) }).to_vec()
    }

    fn surveyed() -> LeverageSurvey {
        let curve = LeverageCurve::measured(Length::mm(150.0), Length::mm(60.0), &pairs()).expect("sound");
        survey(&curve, &pairs())
    }

    #[test]
    fn a_ratio_from_three_to_two_starts_ends_and_falls_off_so() {
        let survey = surveyed();
        for (found, wanted) in [(survey.start, 3.0), (survey.mean, 2.5), (survey.end, 2.0)] {
            assert!((found.value() - wanted).abs() < 1e-6, "{found:?} is not {wanted}");
        }
        assert!((survey.falloff.as_percent() - 40.0).abs() < 1e-4);
    }

    #[test]
    fn between_two_pairs_of_a_straight_ratio_lies_the_curve() {
        let survey = surveyed();
        assert_eq!(survey.measured.len(), 6);
        // The chord of a parabola has the slope of its middle.
        let first = survey.measured[0];
        assert!((first.stroke.as_mm() - 5.0).abs() < 1e-12);
        assert!((first.ratio.value() - (3.0 - 5.0 / 60.0)).abs() < 1e-9);
    }
}
