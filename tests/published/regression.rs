//! Polynomial least squares against NIST's certified fits and the GUM.

use super::{Table, assert_absolute, assert_relative, half_of_last_digit};
use coilwright::statistics::{Intercept, PolynomialFit, PolynomialModel};

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
    let freedom = (points.rows.len() - unknowns(model)) as f64;
    let certified = Table::new(include_str!("nist_certified_values.csv"));
    for row in certified.rows_of("dataset", dataset) {
        let quantity = certified.text(row, "quantity");
        let tolerance = if quantity.starts_with('B') { allowed.coefficients } else { allowed.scatter };
        let found = quantity_of(&fit, quantity, freedom);
        assert_relative(
            found,
            certified.number(row, "certified"),
            tolerance,
            &format!("{dataset} {quantity}"),
        );
    }
}

/// Coefficients that are fitted.
fn unknowns(model: PolynomialModel) -> usize {
    model.degree + usize::from(model.intercept == Intercept::Fitted)
}

/// NIST's name of a quantity → what the fit says, with so many degrees of freedom.
fn quantity_of(fit: &PolynomialFit, name: &str, freedom: f64) -> f64 {
    if name == "residual_sd" {
        return (fit.residual_sum() / freedom).sqrt();
    }
    let power = name.strip_prefix('B').and_then(|digit| digit.parse::<usize>().ok());
    fit.coefficients()[power.expect("a coefficient")]
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
            "y2" => fit.coefficients()[1],
            "s / degC" => (fit.residual_sum() / (points.rows.len() - 2) as f64).sqrt(),
            "b(30 degC)" => fit.value(10.0),
            other => panic!("no check for {other}"),
        };
        let tolerance = half_of_last_digit(results.text(row, "printed"));
        assert_absolute(found, results.number(row, "printed"), tolerance, quantity);
        // Recomputed to 15 digits; 21.521 - 20 keeps 13 of its own.
        assert_relative(found, results.number(row, "recomputed_unrounded"), 1e-12, quantity);
        compared += 1;
    }
    assert_eq!(compared, 4);
}

/// The points of an example, each as often as its weight: a point of half the uncertainty stands four times, which is what
/// the weighted normal equations make of it.
fn weighted_points(example: &str) -> (Vec<f64>, Vec<f64>) {
    let table = Table::new(include_str!("iso_ts_28037.csv"));
    let mut points = Vec::new();
    for row in table.rows_of("example", example) {
        let point = (table.number(row, "x"), table.number(row, "y"));
        let weight = if table.text(row, "u_y") == "0.5" { 4 } else { 1 };
        points.extend(std::iter::repeat_n(point, weight));
    }
    points.into_iter().unzip()
}

/// A line of ISO/TS 28037: what it prints of intercept and slope, and of chi-square where uncertainties were stated.
#[track_caller]
fn holds_iso_line(example: &str, intercept: &str, slope: &str, chi_square: Option<&str>) {
    let (x, y) = weighted_points(example);
    let fit = LINE.fit(&x, &y).unwrap();
    let printed = |found: f64, printed: &str, what: &str| {
        assert_absolute(found, printed.parse().unwrap(), half_of_last_digit(printed), what);
    };
    printed(fit.coefficients()[0], intercept, "intercept");
    printed(fit.coefficients()[1], slope, "slope");
    if let Some(chi_square) = chi_square {
        printed(fit.residual_sum(), chi_square, "chi-square");
    }
}

#[test]
fn points_of_stated_uncertainty_have_the_lines_of_iso_ts_28037() {
    // Example 1, one uncertainty for all; example 2, three points twice as uncertain; example 4, uncertainty unknown.
    holds_iso_line("1", "1.867", "1.757", Some("1.665"));
    holds_iso_line("2", "0.885", "2.057", Some("4.131"));
    holds_iso_line("4", "1.172", "1.964", None);
}
