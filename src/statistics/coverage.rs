//! How wide an interval must be when the scatter itself is known from few readings.
//!
//! Student's t as a coverage factor, and the Welch-Satterthwaite count of degrees of freedom for a combined
//! uncertainty (GUM annex G). The normal law lives in `gaussian`.

use super::sample::in_quadrature;
use super::{
    Normal, StatisticsError, representable, require_degrees_of_freedom, require_not_negative,
    require_probability,
};

/// One contribution to a combined standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contribution {
    /// Its standard uncertainty, in the unit of the result.
    pub standard_uncertainty: f64,
    /// The degrees of freedom behind it; `f64::INFINITY` for one that is taken as exactly known.
    pub degrees_of_freedom: f64,
}

/// Effective degrees of freedom of independent contributions combined in quadrature.
///
/// ν = u⁴ / Σ (uᵢ⁴ / νᵢ) with u² = Σ uᵢ² (Welch-Satterthwaite, GUM G.4.1). Infinite when no contribution with a
/// finite count matters. The GUM rounds down before looking up a table; [`coverage_factor`] takes it as it is.
///
/// # Errors
/// An uncertainty that is below zero or not finite, or degrees of freedom below one half.
pub fn effective_degrees_of_freedom(contributions: &[Contribution]) -> Result<f64, StatisticsError> {
    contributions.iter().try_for_each(|part| require_degrees_of_freedom(part.degrees_of_freedom))?;
    let parts: Vec<f64> = contributions.iter().map(|part| part.standard_uncertainty).collect();
    require_not_negative(&parts)?;
    let combined = in_quadrature(&parts)?;
    if combined <= 0.0 {
        return Ok(f64::INFINITY);
    }
    // Shares of the whole, so that fourth powers neither overflow nor vanish.
    let weight: f64 = contributions
        .iter()
        .map(|part| (part.standard_uncertainty / combined).powi(4) / part.degrees_of_freedom)
        .sum();
    Ok(weight.recip())
}

/// Coverage factor: the t for which a share `probability` of Student's law lies within ± t.
///
/// `degrees_of_freedom` may be any number from one half on, whole or not, and `f64::INFINITY` for the normal law.
/// Good to about ten digits up to a probability of 1 - 1e-6, which is what the gamma function in `puruspe` holds.
///
/// Source: GUM G.3.2 and table G.2; quantile by the inverse incomplete beta function, from ten thousand degrees of
/// freedom on by the expansion in 1/ν of Abramowitz and Stegun 26.7.5, where the other form loses digits.
///
/// # Errors
/// A probability not strictly between 0 and 1, or degrees of freedom below one half.
///
/// # Example
/// ```
/// use coilwright::statistics::coverage_factor;
/// // GUM table G.2: 95 % and 4 degrees of freedom, that is five readings.
/// assert!((coverage_factor(0.95, 4.0)? - 2.776).abs() < 0.0005);
/// # Ok::<(), coilwright::statistics::StatisticsError>(())
/// ```
pub fn coverage_factor(probability: f64, degrees_of_freedom: f64) -> Result<f64, StatisticsError> {
    require_probability(probability)?;
    student_quantile(1.0 - probability, degrees_of_freedom)
}

/// The t that a share `outside` of Student's law exceeds in size, both tails together.
pub(super) fn student_quantile(outside: f64, degrees_of_freedom: f64) -> Result<f64, StatisticsError> {
    const EXPANSION_FROM: f64 = 10_000.0;
    require_probability(outside)?;
    require_degrees_of_freedom(degrees_of_freedom)?;
    let quantile = if degrees_of_freedom >= EXPANSION_FROM {
        expanded_quantile(outside, degrees_of_freedom)?
    } else {
        beta_quantile(outside, degrees_of_freedom)
    };
    representable(quantile)
}

/// With t² / (ν + t²) = y, the share within ± t is I_y(½, ν/2), and the share outside I_(1-y)(ν/2, ½).
/// Whichever of y and 1 - y is the smaller is found, as the other one has lost its digits.
fn beta_quantile(outside: f64, degrees_of_freedom: f64) -> f64 {
    let inner = puruspe::invbetai(1.0 - outside, 0.5, degrees_of_freedom / 2.0);
    if inner <= 0.5 {
        return (degrees_of_freedom * inner / (1.0 - inner)).sqrt();
    }
    let outer = puruspe::invbetai(outside, degrees_of_freedom / 2.0, 0.5);
    (degrees_of_freedom * (1.0 - outer) / outer).sqrt()
}

/// Three terms past the normal quantile; the next is below 1e-13 from ν = 10 000 on for any p up to 0.99999.
fn expanded_quantile(outside: f64, degrees_of_freedom: f64) -> Result<f64, StatisticsError> {
    let z = -Normal::STANDARD.quantile(outside / 2.0)?;
    let s = z * z;
    let first = z * (s + 1.0) / 4.0;
    let second = z * ((5.0 * s + 16.0) * s + 3.0) / 96.0;
    let third = z * (((3.0 * s + 19.0) * s + 17.0) * s - 15.0) / 384.0;
    let r = degrees_of_freedom.recip();
    Ok(z + r * (first + r * (second + r * third)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn part(standard_uncertainty: f64, degrees_of_freedom: f64) -> Contribution {
        Contribution { standard_uncertainty, degrees_of_freedom }
    }

    #[test]
    fn one_contribution_keeps_its_own_degrees_of_freedom() {
        let count = effective_degrees_of_freedom(&[part(0.3, 7.0)]).unwrap();
        assert!((count - 7.0).abs() < 1e-12);
    }

    #[test]
    fn exactly_known_contributions_leave_nothing_to_count() {
        assert_eq!(effective_degrees_of_freedom(&[part(0.3, f64::INFINITY)]), Ok(f64::INFINITY));
        assert_eq!(effective_degrees_of_freedom(&[part(0.0, 3.0)]), Ok(f64::INFINITY));
        assert_eq!(effective_degrees_of_freedom(&[]), Ok(f64::INFINITY));
    }

    #[test]
    fn no_degrees_of_freedom_are_refused() {
        let refused = Err(StatisticsError::DegreesOfFreedom { value: 0.0 });
        assert_eq!(effective_degrees_of_freedom(&[part(0.3, 0.0)]), refused);
        assert_eq!(coverage_factor(0.95, 0.0), refused);
        assert!(coverage_factor(0.95, f64::NAN).is_err());
    }

    #[test]
    fn certainty_has_no_coverage_factor() {
        assert_eq!(coverage_factor(1.0, 5.0), Err(StatisticsError::Probability { value: 1.0 }));
        assert!(coverage_factor(f64::NAN, 5.0).is_err());
    }

    #[test]
    fn both_ways_of_computing_t_meet_at_ten_thousand() {
        for outside in [0.5, 0.05, 0.01, 0.001] {
            let (beta, expanded) = (beta_quantile(outside, 1e4), expanded_quantile(outside, 1e4).unwrap());
            assert!((beta / expanded - 1.0).abs() < 1e-10, "{beta} and {expanded}");
        }
    }

    proptest! {
        #[test]
        fn fewer_degrees_of_freedom_ask_for_a_wider_interval(
            probability in 0.05..0.999_f64, count in 0.5..20_000.0_f64, more in 1.01..3.0_f64,
        ) {
            let (few, many) =
                (coverage_factor(probability, count).unwrap(), coverage_factor(probability, count * more).unwrap());
            prop_assert!(few > many, "{few} at {count}, {many} at {}", count * more);
        }

        #[test]
        fn effective_degrees_lie_between_the_smallest_and_the_sum(
            parts in prop::collection::vec((0.01..10.0_f64, 1.0..50.0_f64), 1..8),
        ) {
            let parts: Vec<Contribution> = parts.into_iter().map(|(u, count)| part(u, count)).collect();
            let effective = effective_degrees_of_freedom(&parts).unwrap();
            let least = parts.iter().map(|part| part.degrees_of_freedom).fold(f64::INFINITY, f64::min);
            let sum: f64 = parts.iter().map(|part| part.degrees_of_freedom).sum();
            prop_assert!(effective >= least * (1.0 - 1e-12) && effective <= sum * (1.0 + 1e-12));
        }
    }
}
