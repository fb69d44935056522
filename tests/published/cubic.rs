//! The shape-preserving cubic against the NAG Library's printed results and SciPy.

use super::{Table, assert_absolute, assert_relative, half_of_last_digit};
use coilwright::statistics::MonotoneCubic;

fn nag_curve() -> MonotoneCubic {
    let nodes = Table::new(include_str!("nag_pchip_nodes.csv"));
    MonotoneCubic::new(&nodes.column("x"), &nodes.column("f_printed_5_digits")).unwrap()
}

#[test]
fn the_nodes_of_the_nag_example_have_the_printed_slopes() {
    let nodes = Table::new(include_str!("nag_pchip_nodes.csv"));
    let curve = nag_curve();
    for row in &nodes.rows {
        let x = nodes.number(row, "x");
        let expected = nodes.number(row, "d_printed_by_NAG");
        // NAG fitted unrounded points and printed five digits of them: the last slopes hang on the last digits.
        assert_absolute(curve.slope(x), expected, 4e-4 * expected.abs(), &format!("slope at {x}"));
        // SciPy had the printed points, and its slopes are kept to 12 digits.
        let expected = nodes.number(row, "d_scipy_on_printed_f");
        assert_absolute(curve.slope(x), expected, 1e-11 * expected.abs(), &format!("slope at {x}"));
    }
}

#[test]
fn the_full_digits_of_the_points_give_the_slopes_of_scipy() {
    let nodes = Table::new(include_str!("nag_pchip_nodes.csv"));
    let curve = MonotoneCubic::new(&nodes.column("x"), &nodes.column("f_full_RPN14")).unwrap();
    for row in &nodes.rows {
        let (x, expected) = (nodes.number(row, "x"), nodes.number(row, "d_scipy_on_full_f"));
        // Kept to 12 digits; the last slope is zero but for rounding.
        assert_absolute(curve.slope(x), expected, 1e-11 * expected.abs() + 1e-19, &format!("slope at {x}"));
    }
}

#[test]
fn between_the_nodes_the_nag_example_has_the_printed_values() {
    let table = Table::new(include_str!("nag_pchip_values.csv"));
    let curve = nag_curve();
    for row in &table.rows {
        let x = table.number(row, "x");
        let printed = table.text(row, "value_printed_by_NAG");
        assert_absolute(
            curve.value(x),
            printed.parse().unwrap(),
            half_of_last_digit(printed),
            &format!("at {x}"),
        );
        let expected = table.number(row, "derivative_printed_by_NAG");
        // As for the nodes: unrounded points fitted, four digits printed.
        assert_absolute(curve.slope(x), expected, 7e-4 * expected.abs() + 1e-15, &format!("slope at {x}"));
        // SciPy's on the printed points, kept to 10 digits or more.
        assert_absolute(curve.value(x), table.number(row, "value_scipy"), 1e-11, &format!("at {x}"));
        let expected = table.number(row, "derivative_scipy");
        assert_absolute(curve.slope(x), expected, 1e-9 * expected.abs() + 1e-15, &format!("slope at {x}"));
    }
}

#[test]
fn uneven_turning_and_steep_curves_have_the_values_slopes_and_curvatures_of_scipy() {
    let nodes = Table::new(include_str!("scipy_pchip_nodes.csv"));
    let values = Table::new(include_str!("scipy_pchip_values.csv"));
    for name in ["rising", "turning", "steep_end", "hooked_ends"] {
        let rows = nodes.rows_of("curve", name);
        let column = |column: &str| rows.iter().map(|row| nodes.number(row, column)).collect::<Vec<f64>>();
        let curve = MonotoneCubic::new(&column("x"), &column("y")).unwrap();
        for row in values.rows_of("curve", name) {
            let x = values.number(row, "x");
            // Same scheme, other order of operations: roundings of figures up to 150.
            let tolerance = 1e-12;
            let what = format!("{name} at {x}");
            assert_absolute(curve.value(x), values.number(row, "value"), tolerance, &what);
            assert_absolute(curve.slope(x), values.number(row, "slope"), tolerance, &what);
            assert_absolute(curve.curvature(x), values.number(row, "curvature"), tolerance, &what);
        }
    }
}

#[test]
fn points_on_a_straight_leverage_line_give_the_line() {
    // L = 3 - 0.003 w, in closed form; three roundings of a figure near 3.
    let wheel = [0.0, 35.0, 80.0, 110.0, 150.0];
    let curve = MonotoneCubic::new(&wheel, &wheel.map(|w| 3.0 - 0.003 * w)).unwrap();
    for w in [0.0, 12.5, 50.0, 100.0, 149.0, 150.0] {
        assert_relative(curve.value(w), 3.0 - 0.003 * w, 1e-15, "leverage");
        assert_absolute(curve.slope(w), -0.003, 1e-16, "its slope");
    }
}
