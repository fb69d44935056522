//! A piecewise cubic through every point that neither overshoots nor bends back between them.
//!
//! For few exact points, such as a measured leverage curve, where a polynomial would wave. Many noisy points are
//! for `least_squares`. Nothing here smooths.

use super::{StatisticsError, require_count, require_finite, require_length};

/// Shape-preserving piecewise cubic Hermite interpolant (PCHIP).
///
/// Between two neighbouring points it is monotone; at a point where the data turn it is level. Value and slope are
/// continuous, curvature is not.
///
/// Slope at an inner point: the harmonic mean of the two secants, weighted by 2h + h' and h + 2h', or zero where
/// they differ in sign (Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5, 1984); at an end: the three-point
/// formula, cut back where it would break the shape. This is the scheme of SciPy's `PchipInterpolator` and of the
/// NAG Library's e01be; Akima, Steffen and Hyman choose other slopes.
#[derive(Debug, Clone, PartialEq)]
pub struct MonotoneCubic {
    knots: Vec<Knot>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Knot {
    x: f64,
    y: f64,
    slope: f64,
}

/// Between two knots y = y₀ + u (s₀ + u (c₂ + u c₃)), u the distance from the left one.
struct Piece {
    start: Knot,
    second: f64,
    third: f64,
}

impl MonotoneCubic {
    /// The curve through the points (x, y), x strictly increasing. Two points give a straight line.
    ///
    /// # Errors
    /// Lists of different length, fewer than two points, a value that is not finite, an x not above the one before
    /// it, or points so close or so far apart that a slope is too large for a double.
    pub fn new(x: &[f64], y: &[f64]) -> Result<Self, StatisticsError> {
        require_length(y.len(), x.len())?;
        require_count(x.len(), 2)?;
        require_finite(x)?;
        require_finite(y)?;
        if let Some(before) = x.windows(2).position(|pair| pair[1] <= pair[0]) {
            return Err(StatisticsError::NotIncreasing { position: before + 1 });
        }
        let widths: Vec<f64> = x.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let secants: Vec<f64> = y.windows(2).zip(&widths).map(|(pair, h)| (pair[1] - pair[0]) / h).collect();
        let slopes = slopes(&widths, &secants);
        require_finite(&widths).and(require_finite(&slopes)).map_err(|_| StatisticsError::Overflow)?;
        let knots = x.iter().zip(y).zip(slopes).map(|((&x, &y), slope)| Knot { x, y, slope }).collect();
        Ok(Self { knots })
    }

    /// The curve at a finite `x`. Outside its range it goes on straight, along the slope it ends with.
    pub fn value(&self, x: f64) -> f64 {
        let piece = self.piece(x);
        let u = x - piece.start.x;
        piece.start.y + u * (piece.start.slope + u * (piece.second + u * piece.third))
    }

    /// Its first derivative at a finite `x`; outside its range the slope it ends with.
    pub fn slope(&self, x: f64) -> f64 {
        let piece = self.piece(x);
        let u = x - piece.start.x;
        piece.start.slope + u * (2.0 * piece.second + u * 3.0 * piece.third)
    }

    /// Its second derivative at a finite `x`, at an inner point that of the piece to its right; zero outside its range.
    pub fn curvature(&self, x: f64) -> f64 {
        let piece = self.piece(x);
        2.0 * piece.second + 6.0 * piece.third * (x - piece.start.x)
    }

    fn piece(&self, x: f64) -> Piece {
        let right = self.knots.partition_point(|knot| knot.x <= x);
        let last = self.knots.len() - 1;
        if right == 0 {
            return Piece::straight(self.knots[0]);
        }
        if right > last && x > self.knots[last].x {
            return Piece::straight(self.knots[last]);
        }
        let right = right.min(last);
        Piece::between(self.knots[right - 1], self.knots[right])
    }
}

impl Piece {
    fn straight(start: Knot) -> Self {
        Self { start, second: 0.0, third: 0.0 }
    }

    fn between(start: Knot, end: Knot) -> Self {
        let width = end.x - start.x;
        let secant = (end.y - start.y) / width;
        let third = (start.slope + end.slope - 2.0 * secant) / width;
        Self { start, second: (secant - start.slope) / width - third, third: third / width }
    }
}

fn slopes(widths: &[f64], secants: &[f64]) -> Vec<f64> {
    let last = secants.len() - 1;
    if last == 0 {
        return vec![secants[0]; 2];
    }
    let mut slopes = Vec::with_capacity(secants.len() + 1);
    slopes.push(end_slope([widths[0], widths[1]], [secants[0], secants[1]]));
    for (h, secant) in widths.windows(2).zip(secants.windows(2)) {
        slopes.push(inner_slope([h[0], h[1]], [secant[0], secant[1]]));
    }
    slopes.push(end_slope([widths[last], widths[last - 1]], [secants[last], secants[last - 1]]));
    slopes
}

fn inner_slope(h: [f64; 2], secant: [f64; 2]) -> f64 {
    if !same_sign(secant[0], secant[1]) {
        return 0.0;
    }
    let (before, after) = (2.0 * h[1] + h[0], h[1] + 2.0 * h[0]);
    (before + after) / (before / secant[0] + after / secant[1])
}

/// The end's own interval first, its neighbour second.
fn end_slope(h: [f64; 2], secant: [f64; 2]) -> f64 {
    let slope = ((2.0 * h[0] + h[1]) * secant[0] - h[0] * secant[1]) / (h[0] + h[1]);
    if !same_sign(slope, secant[0]) {
        0.0
    } else if !same_sign(secant[0], secant[1]) && slope.abs() > 3.0 * secant[0].abs() {
        3.0 * secant[0]
    } else {
        slope
    }
}

/// Both above zero or both below; zero has no sign.
fn same_sign(one: f64, other: f64) -> bool {
    (one > 0.0 && other > 0.0) || (one < 0.0 && other < 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn two_points_make_a_straight_line() {
        let line = MonotoneCubic::new(&[0.0, 2.0], &[1.0, 5.0]).unwrap();
        assert!((line.value(0.5) - 2.0).abs() < 1e-15);
        assert!((line.slope(1.5) - 2.0).abs() < 1e-15);
        assert!(line.curvature(1.0).abs() < 1e-15);
    }

    #[test]
    fn outside_its_range_the_curve_goes_on_straight() {
        let curve = MonotoneCubic::new(&[0.0, 1.0, 2.0], &[0.0, 1.0, 4.0]).unwrap();
        let (first, last) = (curve.knots[0].x, curve.knots[curve.knots.len() - 1].x);
        let end = curve.slope(last);
        assert!((curve.value(last + 3.0) - (4.0 + 3.0 * end)).abs() < 1e-12);
        assert!((curve.value(first - 3.0) + 3.0 * curve.slope(first)).abs() < 1e-12);
        assert!((curve.slope(last + 3.0) - end).abs() < 1e-12);
        assert!(curve.curvature(first - 1.0).abs() < 1e-15);
    }

    #[test]
    fn the_point_out_of_order_is_named() {
        let refused = Err(StatisticsError::NotIncreasing { position: 2 });
        assert_eq!(MonotoneCubic::new(&[0.0, 1.0, 1.0], &[0.0, 1.0, 2.0]), refused);
    }

    #[test]
    fn one_point_or_unequal_lists_make_no_curve() {
        assert_eq!(MonotoneCubic::new(&[0.0], &[0.0]), Err(StatisticsError::TooFew { have: 1, need: 2 }));
        assert_eq!(
            MonotoneCubic::new(&[0.0, 1.0], &[0.0]),
            Err(StatisticsError::LengthsDiffer { expected: 2, found: 1 })
        );
        assert!(MonotoneCubic::new(&[0.0, f64::NAN], &[0.0, 1.0]).is_err());
    }

    /// Points from steps: x always forward, y never back.
    fn rising_points() -> impl Strategy<Value = (Vec<f64>, Vec<f64>)> {
        prop::collection::vec((0.01..10.0_f64, 0.0..10.0_f64), 2..12).prop_map(|steps| {
            let (mut x, mut y) = (vec![0.0], vec![0.0]);
            for (forward, up) in steps {
                x.push(x[x.len() - 1] + forward);
                y.push(y[y.len() - 1] + up);
            }
            (x, y)
        })
    }

    proptest! {
        #[test]
        fn rising_points_give_a_curve_that_never_falls((x, y) in rising_points()) {
            let curve = MonotoneCubic::new(&x, &y).unwrap();
            for pair in x.windows(2) {
                for tenth in 0..=10 {
                    let at = pair[0] + (pair[1] - pair[0]) * f64::from(tenth) / 10.0;
                    // The largest secant is 1000, its rounding in the slope some 1e-12.
                    prop_assert!(curve.slope(at) >= -1e-9, "slope {} at {at}", curve.slope(at));
                }
            }
        }

        #[test]
        fn the_curve_passes_through_its_points((x, y) in rising_points()) {
            let curve = MonotoneCubic::new(&x, &y).unwrap();
            for (x, y) in x.iter().zip(&y) {
                prop_assert!((curve.value(*x) - y).abs() < 1e-10);
            }
        }

        #[test]
        fn a_straight_line_is_kept(
            steps in prop::collection::vec(0.1..10.0_f64, 2..10), rise in -5.0..5.0_f64, start in -5.0..5.0_f64,
        ) {
            let x: Vec<f64> = steps.iter().scan(0.0, |at, step| { *at += step; Some(*at) }).collect();
            let y: Vec<f64> = x.iter().map(|x| start + rise * x).collect();
            let line = MonotoneCubic::new(&x, &y).unwrap();
            let middle = f64::midpoint(x[0], x[x.len() - 1]);
            prop_assert!((line.value(middle) - (start + rise * middle)).abs() < 1e-9);
            prop_assert!((line.slope(middle) - rise).abs() < 1e-9);
        }
    }
}
