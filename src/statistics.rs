//! Statistics of repeated readings: the lowest floor, beside `units`.
//!
//! What lives here: means and scatter of readings ([`mean`], [`standard_deviation`]), the coverage factor that goes
//! with few of them ([`coverage_factor`]), the test for a reading that stands apart ([`suspicious_reading`]),
//! polynomial least squares ([`PolynomialModel`]), the normal and chi-square laws ([`Normal`],
//! [`chi_square_upper_tail`]), the shape-preserving cubic ([`MonotoneCubic`]), the sparse positive definite matrix
//! ([`Skyline`]) and what several sources know of the same unknowns ([`Information`]).
//!
//! It speaks plain `f64`, the only floor that does, so that published data sets feed straight in. It knows
//! nothing of springs, of units or of files; what counts as few readings, or as a wide scatter, is decided above.
//! Incomplete beta, gamma and error functions come from the `puruspe` crate.
//!
//! No function returns NaN: what cannot be computed is a [`StatisticsError`].

use std::error::Error;
use std::fmt;

mod coverage;
mod cubic;
mod gaussian;
mod information;
mod least_squares;
mod orthogonal;
mod outlier;
mod sample;
mod skyline;

pub use coverage::{Contribution, coverage_factor, effective_degrees_of_freedom};
pub use cubic::MonotoneCubic;
pub use gaussian::{Normal, chi_square_upper_tail, student_between};
pub use information::Information;
pub use least_squares::{Intercept, PolynomialFit, PolynomialModel};
pub use outlier::{FarthestReading, farthest_reading, grubbs_critical_value, suspicious_reading};
pub use sample::{in_quadrature, mean, rectangular_uncertainty, resolution_uncertainty, standard_deviation};
pub use skyline::{Factor, Skyline, Solved};

/// Why a statistic could not be computed. Positions count from zero, as in the slice that was handed in.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum StatisticsError {
    /// Fewer values than the statistic needs.
    TooFew {
        /// How many there are.
        have: usize,
        /// How many it takes.
        need: usize,
    },
    /// A value is infinite or not a number.
    NotFinite {
        /// Which one.
        position: usize,
    },
    /// A value that must not be below zero is.
    Negative {
        /// Which one.
        position: usize,
        /// What it is.
        value: f64,
    },
    /// A value that must be above zero is not.
    NotPositive {
        /// Which one.
        position: usize,
        /// What it is.
        value: f64,
    },
    /// A value that must lie above the one before it does not.
    NotIncreasing {
        /// Which one.
        position: usize,
    },
    /// Two lists that belong together have different lengths.
    LengthsDiffer {
        /// The length called for.
        expected: usize,
        /// The length found.
        found: usize,
    },
    /// A probability or level that is not strictly between 0 and 1.
    Probability {
        /// What it is.
        value: f64,
    },
    /// Degrees of freedom outside what the function covers.
    DegreesOfFreedom {
        /// What they are.
        value: f64,
    },
    /// The points do not tell the coefficients of the fit apart.
    Singular,
    /// The result is too large for a double.
    Overflow,
}

impl fmt::Display for StatisticsError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFew { have, need } => write!(out, "{have} values are too few, it takes {need}"),
            Self::NotFinite { position } => write!(out, "value {} is not a finite number", position + 1),
            Self::Negative { position, value } => {
                write!(out, "value {} is {value}, it must not be below zero", position + 1)
            }
            Self::NotPositive { position, value } => {
                write!(out, "value {} is {value}, it must be above zero", position + 1)
            }
            Self::NotIncreasing { position } => {
                write!(out, "value {} is not above the one before it", position + 1)
            }
            Self::LengthsDiffer { expected, found } => {
                write!(out, "a list of {expected} values was needed, this one has {found}")
            }
            Self::Probability { value } => {
                write!(out, "{value} is not a probability between 0 and 1, ends left out")
            }
            Self::DegreesOfFreedom { value } => write!(out, "{value} degrees of freedom cannot be used here"),
            Self::Singular => {
                write!(out, "the points do not determine the curve, spread them out or add some")
            }
            Self::Overflow => write!(out, "the result is too large to represent"),
        }
    }
}

impl Error for StatisticsError {}

fn require_count(have: usize, need: usize) -> Result<(), StatisticsError> {
    if have < need { Err(StatisticsError::TooFew { have, need }) } else { Ok(()) }
}

fn require_length(found: usize, expected: usize) -> Result<(), StatisticsError> {
    if found == expected { Ok(()) } else { Err(StatisticsError::LengthsDiffer { expected, found }) }
}

fn require_finite(values: &[f64]) -> Result<(), StatisticsError> {
    match values.iter().position(|value| !value.is_finite()) {
        Some(position) => Err(StatisticsError::NotFinite { position }),
        None => Ok(()),
    }
}

fn require_not_negative(values: &[f64]) -> Result<(), StatisticsError> {
    require_finite(values)?;
    match values.iter().position(|value| *value < 0.0) {
        Some(position) => Err(StatisticsError::Negative { position, value: values[position] }),
        None => Ok(()),
    }
}

fn require_positive(values: &[f64]) -> Result<(), StatisticsError> {
    require_finite(values)?;
    match values.iter().position(|value| *value <= 0.0) {
        Some(position) => Err(StatisticsError::NotPositive { position, value: values[position] }),
        None => Ok(()),
    }
}

/// Both ends are left out: every quantile there is infinite. NaN fails both comparisons.
fn require_probability(value: f64) -> Result<(), StatisticsError> {
    if value > 0.0 && value < 1.0 { Ok(()) } else { Err(StatisticsError::Probability { value }) }
}

/// Half a degree of freedom is an uncertainty as doubtful as it is large (GUM G.4.2); below that `puruspe` fails.
fn require_degrees_of_freedom(value: f64) -> Result<(), StatisticsError> {
    if value >= 0.5 { Ok(()) } else { Err(StatisticsError::DegreesOfFreedom { value }) }
}

/// The last check of a sum of finite values, which may still overflow.
fn representable(value: f64) -> Result<f64, StatisticsError> {
    if value.is_finite() { Ok(value) } else { Err(StatisticsError::Overflow) }
}

#[cfg(test)]
mod tests {
    use super::StatisticsError;

    #[test]
    fn an_error_names_the_value_as_a_reader_counts() {
        let error = StatisticsError::Negative { position: 2, value: -1.5 };
        assert_eq!(error.to_string(), "value 3 is -1.5, it must not be below zero");
    }
}
