//! The leverage curve: wheel travel z and leverage ratio L = dz/dx at every shock stroke x.
//!
//! Three grades of knowledge give three bases: the mean ratio T/S alone, the ratio at both ends, or pairs measured on
//! the bike. On top of each stands a linear fall-off c, `L = base(x) + (T/S) c (½ - x/S)`, whose integral over the
//! stroke is zero for every c, so travel stays what it is, and a belly q, `(T/S) q ((x/S - ½)² - 1/12)`, of which the same
//! holds. Fall-off and belly are what the readings can correct. Not here: how
//! sure anybody is of c (`assessment::doubts`).

use crate::statistics::{Intercept, MonotoneCubic, PolynomialFit, PolynomialModel, StatisticsError};
use crate::units::{Length, LeverageRatio, Share};

/// One measured place in the travel.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LeveragePair {
    /// Stroke used.
    #[serde(rename = "stroke_mm")]
    pub stroke: Length,
    /// Rear wheel travel used.
    #[serde(rename = "wheel_mm")]
    pub wheel: Length,
}

/// A leverage curve over the whole stroke.
#[derive(Debug, Clone, PartialEq)]
pub struct LeverageCurve {
    stroke: f64,
    mean: f64,
    base: Base,
    falloff: f64,
    belly: f64,
}

/// The curve below the linear fall-off.
#[derive(Debug, Clone, PartialEq)]
enum Base {
    /// The mean ratio all along.
    Mean,
    /// Fitted to measured pairs, through the origin.
    Polynomial(PolynomialFit),
    /// Through the measured pairs, for a shape no low polynomial follows.
    Cubic(MonotoneCubic),
}

/// How well a fitted curve meets the pairs it was made from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CurveMisfit {
    /// The largest distance between a pair's wheel travel and the curve.
    pub largest: Length,
    /// The pair it belongs to, from one.
    pub pair: usize,
}

/// The highest power of stroke a fitted curve uses: a cubic ratio follows every linkage seen.
const HIGHEST_DEGREE: usize = 4;
/// Share of the travel a polynomial may miss a pair by before the curve goes through the pairs instead.
const POLYNOMIAL_MISFIT: f64 = 0.01;

impl LeverageCurve {
    /// From travel and stroke, with the fall-off as a share of the mean ratio: `L(x) = (T/S)(1 + c(½ - x/S))`.
    pub fn linear(travel: Length, stroke: Length, falloff: Share) -> Self {
        Self {
            stroke: stroke.as_mm(),
            mean: travel / stroke,
            base: Base::Mean,
            falloff: falloff.as_fraction(),
            belly: 0.0,
        }
    }

    /// From the ratio at full extension and at full compression: the fall-off is their difference over the mean T/S.
    pub fn between_ends(travel: Length, stroke: Length, start: LeverageRatio, end: LeverageRatio) -> Self {
        let falloff = (start - end).value() / (travel / stroke);
        Self::linear(travel, stroke, Share::fraction(falloff))
    }

    /// From measured pairs, by least squares through the origin, its degree chosen by the data (Akaike's criterion
    /// corrected for few points, Burnham and Anderson 2002; from memory), or through the pairs where no polynomial
    /// follows them.
    ///
    /// # Errors
    /// When the pairs are too few or not increasing; `session::limits::check_pairs` tells which.
    pub fn measured(travel: Length, stroke: Length, pairs: &[LeveragePair]) -> Result<Self, StatisticsError> {
        let away = pairs.iter().filter(|pair| pair.stroke > Length::ZERO);
        let (x, z): (Vec<f64>, Vec<f64>) = away.map(|pair| (pair.stroke.as_mm(), pair.wheel.as_mm())).unzip();
        let through_pairs = || {
            let origin = |list: &[f64]| [&[0.0], list].concat();
            MonotoneCubic::new(&origin(&x), &origin(&z)).map(Base::Cubic)
        };
        let base = match best_polynomial(&x, &z) {
            Some(fit) if follows(&fit, &x, &z, stroke, travel) => Base::Polynomial(fit),
            _ => through_pairs()?,
        };
        Ok(Self { stroke: stroke.as_mm(), mean: travel / stroke, base, falloff: 0.0, belly: 0.0 })
    }

    /// The same curve with another linear fall-off on top of its base.
    #[must_use]
    pub fn with_falloff(&self, falloff: Share) -> Self {
        Self { falloff: falloff.as_fraction(), ..self.clone() }
    }

    /// The same curve with another belly on top of its base: how much higher the ratio stands at both ends than midway,
    /// four times over, as a share of its mean; `(T/S) q ((x/S - ½)² - 1/12)`, which adds no travel.
    #[must_use]
    pub fn with_belly(&self, belly: Share) -> Self {
        Self { belly: belly.as_fraction(), ..self.clone() }
    }

    /// The linear fall-off on top of the base, as a share of the mean ratio.
    pub fn falloff(&self) -> Share {
        Share::fraction(self.falloff)
    }

    /// Leverage ratio at a stroke.
    pub fn ratio(&self, stroke: Length) -> LeverageRatio {
        LeverageRatio::ratio(self.ratio_at(stroke.as_mm()))
    }

    /// Wheel travel used at a stroke.
    pub fn wheel_travel(&self, stroke: Length) -> Length {
        let x = stroke.as_mm();
        let base = match &self.base {
            Base::Mean => self.mean * x,
            Base::Polynomial(fit) => fit.value(x),
            Base::Cubic(cubic) => cubic.value(x),
        };
        let t = x / self.stroke;
        let fallen = self.falloff * (x / 2.0) * (1.0 - t);
        let bellied = self.belly * self.stroke * (((t - 0.5).powi(3) + 0.125) / 3.0 - t / 12.0);
        Length::mm(base + self.mean * (fallen + bellied))
    }

    /// Wheel travel at the end of the stroke.
    pub fn travel(&self) -> Length {
        self.wheel_travel(self.stroke())
    }

    /// The shock's stroke.
    pub fn stroke(&self) -> Length {
        Length::mm(self.stroke)
    }

    /// How far the ratio falls from start to end, as a share of the mean ratio; negative where it rises.
    pub fn total_falloff(&self) -> Share {
        Share::fraction((self.ratio_at(0.0) - self.ratio_at(self.stroke)) / self.mean)
    }

    /// How far the curve misses the pairs it should follow.
    pub fn misfit(&self, pairs: &[LeveragePair]) -> Option<CurveMisfit> {
        let misses = pairs.iter().enumerate().map(|(index, pair)| CurveMisfit {
            largest: (self.wheel_travel(pair.stroke) - pair.wheel).abs(),
            pair: index + 1,
        });
        misses.max_by(|one, other| one.largest.value().total_cmp(&other.largest.value()))
    }

    /// Change of the ratio at a stroke per unit of belly.
    pub fn belly_effect(&self, stroke: Length) -> LeverageRatio {
        LeverageRatio::ratio(self.per_belly(stroke.as_mm()))
    }

    /// Change of the ratio at a stroke per unit of fall-off.
    pub fn falloff_effect(&self, stroke: Length) -> LeverageRatio {
        LeverageRatio::ratio(self.per_falloff(stroke.as_mm()))
    }

    pub(super) fn ratio_at(&self, x: f64) -> f64 {
        let base = match &self.base {
            Base::Mean => self.mean,
            Base::Polynomial(fit) => fit.slope(x),
            Base::Cubic(cubic) => cubic.slope(x),
        };
        base + self.per_falloff(x) * self.falloff + self.per_belly(x) * self.belly
    }

    /// Change of the ratio per millimetre of stroke.
    pub(super) fn slope_at(&self, x: f64) -> f64 {
        let base = match &self.base {
            Base::Mean => 0.0,
            Base::Polynomial(fit) => fit.curvature(x),
            Base::Cubic(cubic) => cubic.curvature(x),
        };
        base - self.mean * (self.falloff - 2.0 * self.belly * (x / self.stroke - 0.5)) / self.stroke
    }

    /// Change of the ratio at a stroke per unit of fall-off.
    pub(super) fn per_falloff(&self, x: f64) -> f64 {
        self.mean * (0.5 - x / self.stroke)
    }

    /// Change of the ratio at a stroke per unit of belly.
    pub(super) fn per_belly(&self, x: f64) -> f64 {
        self.mean * ((x / self.stroke - 0.5).powi(2) - 1.0 / 12.0)
    }
}

/// The polynomial through the origin with the best balance of misfit and number of terms.
fn best_polynomial(x: &[f64], z: &[f64]) -> Option<PolynomialFit> {
    let fits = (1..=HIGHEST_DEGREE).filter_map(|degree| {
        let fit = PolynomialModel { degree, intercept: Intercept::Zero }.fit(x, z).ok()?;
        Some((corrected_akaike(&fit, x.len(), degree)?, fit))
    });
    fits.min_by(|one, other| one.0.total_cmp(&other.0)).map(|(_, fit)| fit)
}

fn corrected_akaike(fit: &PolynomialFit, count: usize, degree: usize) -> Option<f64> {
    let (n, terms) = (count as f64, degree as f64 + 1.0);
    let spare = n - terms - 1.0;
    // A ruler cannot tell wheel heights apart below a tenth of a millimetre; a perfect fit is not infinitely good.
    let variance = (fit.residual_sum() / n).max(0.01);
    (spare > 0.0).then(|| n * variance.ln() + 2.0 * terms + 2.0 * terms * (terms + 1.0) / spare)
}

fn follows(fit: &PolynomialFit, x: &[f64], z: &[f64], stroke: Length, travel: Length) -> bool {
    let near = x.iter().zip(z).all(|(&x, &z)| (fit.value(x) - z).abs() <= POLYNOMIAL_MISFIT * travel.as_mm());
    let places = (0..=20).map(|step| stroke.as_mm() * f64::from(step) / 20.0);
    near && places.into_iter().all(|x| fit.slope(x) > 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn falling() -> LeverageCurve {
        LeverageCurve::linear(Length::mm(150.0), Length::mm(60.0), Share::percent(20.0))
    }

    #[test]
    fn the_whole_stroke_gives_the_whole_travel_whatever_the_fall_off() {
        for percent in [-30.0, 0.0, 20.0, 45.0] {
            let curve = falling().with_falloff(Share::percent(percent)).with_belly(Share::percent(percent));
            assert!((curve.travel().as_mm() - 150.0).abs() < 1e-9);
        }
    }

    #[test]
    fn the_ratio_is_the_slope_of_the_travel() {
        let curve = falling().with_belly(Share::percent(30.0));
        let (x, step) = (Length::mm(21.0), Length::mm(1e-4));
        let slope = (curve.wheel_travel(x + step) - curve.wheel_travel(x - step)) / (step * 2.0);
        assert!((slope - curve.ratio(x).value()).abs() < 1e-7);
    }

    #[test]
    fn pairs_taken_from_a_line_give_the_line_back() {
        let pairs: Vec<_> = (0..=6)
            .map(|step| Length::mm(10.0 * f64::from(step)))
            .map(|stroke| LeveragePair { stroke, wheel: falling().wheel_travel(stroke) })
            .collect();
        let curve =
            LeverageCurve::measured(Length::mm(150.0), Length::mm(60.0), &pairs).expect("pairs are sound");
        assert!(
            (curve.ratio(Length::mm(18.0)).value() - falling().ratio(Length::mm(18.0)).value()).abs() < 1e-6
        );
        assert!((curve.total_falloff().as_percent() - 20.0).abs() < 1e-6);
    }

    #[test]
    fn ends_of_two_and_three_on_a_mean_of_two_and_a_half_fall_off_by_two_fifths() {
        let curve = LeverageCurve::between_ends(
            Length::mm(150.0),
            Length::mm(60.0),
            LeverageRatio::ratio(3.0),
            LeverageRatio::ratio(2.0),
        );
        assert!((curve.total_falloff().as_percent() - 40.0).abs() < 1e-9);
        assert!((curve.ratio(Length::ZERO).value() - 3.0).abs() < 1e-12);
    }
}
