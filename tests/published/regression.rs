//! Polynomial least squares against NIST's certified fits, the GUM, ISO/TS 28037 and statsmodels.

use super::{Table, assert_absolute, assert_relative, half_of_last_digit};
use coilwright::statistics::{
    Intercept, PolynomialFit, PolynomialModel, UncertaintyBasis, chi_square_quantile,
};

const LINE: PolynomialModel = PolynomialModel { degree: 1, intercept: Intercept::Fitted };
const QUADRATIC: PolynomialModel = PolynomialModel { degree: 2, intercept: Intercept::Fitted };
const QUINTIC: PolynomialModel = PolynomialModel { degree: 5, intercept: Intercept::Fitted };
const LINE_THROUGH_ORIGIN: PolynomialModel = PolynomialModel { degree: 1, intercept: Intercept::Zero };

/// Tolerances of one NIST set: how far coefficients, and all that measures their scatter, may be off.
struct Allowed {
    coefficients: f64,
    scatter: f64,
}

/// Compares every certified value of the data set.
#[track_caller]
fn holds_certified_values(dataset: &str, points: &'static str, model: PolynomialModel, allowed: &Allowed) {
    let points = Table::new(points);
    let fit = model.fit(&points.column("x"), &points.column("y")).unwrap();
    let certified = Table::new(include_str!("nist_certified_values.csv"));
    for row in certified.rows_of("dataset", dataset) {
        let quantity = certified.text(row, "quantity");
        let tolerance = if quantity.starts_with('B') { allowed.coefficients } else { allowed.scatter };
        let found = quantity_of(&fit, quantity);
        assert_relative(
            found,
            certified.number(row, "certified"),
            tolerance,
            &format!("{dataset} {quantity}"),
        );
    }
}

/// NIST's name of a quantity → what the fit says.
fn quantity_of(fit: &PolynomialFit, name: &str) -> f64 {
    let power = |digit: &str| digit.parse::<usize>().expect("a power");
    match name {
        "residual_sd" => fit.residual_standard_deviation(),
        "R2" | "R2_uncentred" => fit.r_squared().expect("points that scatter"),
        _ => match name.strip_prefix("sd_B") {
            Some(digit) => fit.coefficient_uncertainty(power(digit), UncertaintyBasis::Scatter),
            None => fit.coefficients()[power(name.strip_prefix('B').expect("a coefficient"))],
        },
    }
}

#[test]
fn norris_has_its_certified_line() {
    // y runs to 1000 about an intercept of 0.26 and a scatter of 0.88: a few thousand roundings of 1e-16.
    let allowed = Allowed { coefficients: 2e-13, scatter: 2e-13 };
    holds_certified_values("Norris", include_str!("nist_strd_norris.csv"), LINE, &allowed);
}

#[test]
fn pontius_has_its_certified_load_cell_curve() {
    // y runs to 2 about an intercept of 7e-4 and a scatter of 2e-4: some ten thousand roundings of 1e-16.
    let allowed = Allowed { coefficients: 5e-12, scatter: 2e-12 };
    holds_certified_values("Pontius", include_str!("nist_strd_pontius.csv"), QUADRATIC, &allowed);
}

#[test]
fn lines_through_the_origin_have_their_certified_slopes() {
    // One unknown: the certified digits and a few roundings.
    let allowed = Allowed { coefficients: 1e-14, scatter: 1e-14 };
    holds_certified_values("NoInt1", include_str!("nist_strd_noint1.csv"), LINE_THROUGH_ORIGIN, &allowed);
    holds_certified_values("NoInt2", include_str!("nist_strd_noint2.csv"), LINE_THROUGH_ORIGIN, &allowed);
}

/// Wampler's scatter is as large as its points, so its certified digits come out but for a few roundings.
const WAMPLER_SCATTER: f64 = 1e-12;

#[test]
fn wampler_has_its_certified_quintics_without_noise() {
    // y runs to 3e6 about coefficients of 1; each rounding of it counts 3e6 x 1e-16 = 3e-10 and the five powers of x
    // resemble one another. The normal equations would leave two or three digits here.
    let allowed = Allowed { coefficients: 2e-9, scatter: WAMPLER_SCATTER };
    holds_certified_values("Wampler1", include_str!("nist_strd_wampler1.csv"), QUINTIC, &allowed);
    // y runs to 63 only, the coefficients down to 1e-5.
    let allowed = Allowed { coefficients: 2e-12, scatter: WAMPLER_SCATTER };
    holds_certified_values("Wampler2", include_str!("nist_strd_wampler2.csv"), QUINTIC, &allowed);
}

#[test]
fn wampler_has_its_certified_quintics_under_growing_noise() {
    // The noise is 2e3, then 2e5, then 2e7 about coefficients of 1, and so are the roundings that come with it.
    for (dataset, points, coefficients) in [
        ("Wampler3", include_str!("nist_strd_wampler3.csv"), 2e-9),
        ("Wampler4", include_str!("nist_strd_wampler4.csv"), 2e-8),
        ("Wampler5", include_str!("nist_strd_wampler5.csv"), 2e-6),
    ] {
        holds_certified_values(dataset, points, QUINTIC, &Allowed { coefficients, scatter: WAMPLER_SCATTER });
    }
}

#[test]
fn a_thermometer_has_the_calibration_line_of_gum_h_3() {
    let points = Table::new(include_str!("gum_h3_thermometer.csv"));
    let above_twenty: Vec<f64> =
        points.column("t_degC").iter().map(|temperature| temperature - 20.0).collect();
    let fit = LINE.fit(&above_twenty, &points.column("correction_degC")).unwrap();
    let results = Table::new(include_str!("gum_h3_results.csv"));
    let mut compared = 0;
    for row in &results.rows {
        let quantity = results.text(row, "quantity");
        let found = match quantity {
            "y1 / degC" => fit.coefficients()[0],
            "u(y1)" => fit.coefficient_uncertainty(0, UncertaintyBasis::Scatter),
            "y2" => fit.coefficients()[1],
            "u(y2)" => fit.coefficient_uncertainty(1, UncertaintyBasis::Scatter),
            "s / degC" => fit.residual_standard_deviation(),
            "b(30 degC)" => fit.value(10.0),
            "u(b(30 degC))" => fit.value_uncertainty(10.0, UncertaintyBasis::Scatter),
            other => panic!("no check for {other}"),
        };
        let tolerance = half_of_last_digit(results.text(row, "printed"));
        assert_absolute(found, results.number(row, "printed"), tolerance, quantity);
        // Recomputed to 15 digits; 21.521 - 20 keeps 13 of its own.
        assert_relative(found, results.number(row, "recomputed_unrounded"), 1e-12, quantity);
        compared += 1;
    }
    assert_eq!(compared, 7);
    let [u1, u2] = [0, 1].map(|power| fit.coefficient_uncertainty(power, UncertaintyBasis::Scatter));
    let correlation = fit.covariance(0, 1, UncertaintyBasis::Scatter) / u1 / u2;
    // Printed -0.930; recomputed to 15 digits.
    assert_relative(correlation, -0.930_429_603_093_446, 1e-12, "correlation of intercept and slope");
}

/// Points of one example; without a stated uncertainty of y they all weigh the same.
fn example(name: &str, basis: UncertaintyBasis) -> PolynomialFit {
    let points = Table::new(include_str!("wls_examples.csv"));
    let rows = points.rows_of("example", name);
    let column = |name: &str| rows.iter().map(|row| points.number(row, name)).collect::<Vec<f64>>();
    match basis {
        UncertaintyBasis::Scatter => LINE.fit(&column("x"), &column("y")),
        UncertaintyBasis::StatedWeights => {
            let weights: Vec<f64> = column("uy").iter().map(|u| u.powi(-2)).collect();
            LINE.fit_weighted(&column("x"), &column("y"), &weights)
        }
    }
    .unwrap()
}

#[test]
fn weighted_lines_agree_with_iso_ts_28037_and_with_pearsons_data() {
    let results = Table::new(include_str!("wls_results.csv"));
    for row in &results.rows {
        let basis = match results.text(row, "basis") {
            "weights" => UncertaintyBasis::StatedWeights,
            "scatter" => UncertaintyBasis::Scatter,
            other => panic!("no basis called {other}"),
        };
        let name = results.text(row, "example");
        let fit = example(name, basis);
        let found = [
            ("intercept", fit.coefficients()[0]),
            ("slope", fit.coefficients()[1]),
            ("u_intercept", fit.coefficient_uncertainty(0, basis)),
            ("u_slope", fit.coefficient_uncertainty(1, basis)),
            ("cov", fit.covariance(0, 1, basis)),
            ("chi2", fit.residual_sum()),
        ];
        for (quantity, found) in found {
            if let Some(expected) = results.number_if_given(row, quantity) {
                // To the last digit the source gives, be it printed or recomputed, and a rounding of the double.
                let tolerance = half_of_last_digit(results.text(row, quantity)) + 1e-14 * expected.abs();
                assert_absolute(found, expected, tolerance, &format!("{name} {quantity}"));
            }
        }
    }
}

#[test]
fn a_line_of_iso_ts_28037_passes_its_chi_square_test() {
    let fit = example("ISO_TS_28037_1", UncertaintyBasis::StatedWeights);
    // The standard's limit for four degrees of freedom at 95 %, printed 9.488.
    let limit = chi_square_quantile(0.95, fit.degrees_of_freedom()).unwrap();
    assert_absolute(limit, 9.488, 0.0005, "limit of chi-square");
    assert!(fit.residual_sum() < limit);
}

#[test]
fn a_weighted_cubic_through_the_origin_agrees_with_statsmodels() {
    let points = Table::new(include_str!("statsmodels_weighted_cubic_points.csv"));
    let weights: Vec<f64> = points.column("u").iter().map(|u| u.powi(-2)).collect();
    let model = PolynomialModel { degree: 3, intercept: Intercept::Zero };
    let fit = model.fit_weighted(&points.column("x"), &points.column("y"), &weights).unwrap();
    let results = Table::new(include_str!("statsmodels_weighted_cubic.csv"));
    // statsmodels goes through a pseudo-inverse of columns that run to 1.7e5: ten digits are what both share.
    let tolerance = 1e-10;
    for (place, row) in results.rows.iter().enumerate() {
        let (quantity, expected) = (results.text(row, "quantity"), results.number(row, "value"));
        let power = place + 1;
        match quantity {
            "residual_sum" => assert_relative(fit.residual_sum(), expected, tolerance, quantity),
            "r_squared" => assert_relative(fit.r_squared().unwrap(), expected, tolerance, quantity),
            _ => {
                assert_relative(fit.coefficients()[power], expected, tolerance, quantity);
                for (column, basis) in [
                    ("from_scatter", UncertaintyBasis::Scatter),
                    ("from_stated", UncertaintyBasis::StatedWeights),
                ] {
                    let found = fit.coefficient_uncertainty(power, basis);
                    assert_relative(found, results.number(row, column), tolerance, column);
                }
            }
        }
    }
}
