//! Grubbs' test against the NIST handbook and a table of critical values.

use super::{Table, assert_absolute, assert_relative};
use coilwright::statistics::{farthest_reading, grubbs_critical_value, suspicious_reading};

#[test]
fn critical_values_agree_with_the_table_to_its_last_digit() {
    let table = Table::new(include_str!("grubbs_critical_values.csv"));
    // One-sided at a level is two-sided at twice the level.
    let columns = [
        ("one_sided_5pct", 0.10),
        ("one_sided_2.5pct", 0.05),
        ("one_sided_1pct", 0.02),
        ("two_sided_5pct", 0.05),
        ("two_sided_1pct", 0.01),
    ];
    for row in &table.rows {
        let count = table.text(row, "n").parse().unwrap();
        for (column, level) in columns {
            let found = grubbs_critical_value(count, level).unwrap();
            // Printed to six decimals: half of the last, and a hair for the half that rounds either way.
            assert_absolute(
                found,
                table.number(row, column),
                0.501e-6,
                &format!("{count} readings, {column}"),
            );
        }
    }
}

#[test]
fn the_handbook_example_has_its_statistic_and_its_outlier() {
    let values = Table::new(include_str!("grubbs_nist_example.csv")).column("y");
    let farthest = farthest_reading(&values).unwrap().expect("readings that differ");
    assert_eq!(farthest.index, 7);
    // The handbook prints 2.4687, cut off, not rounded; recomputed to 15 digits, the readings' own rounding in the last.
    assert_relative(farthest.statistic, 2.468_764_611_212_45, 1e-14, "Grubbs statistic");
    assert_eq!(suspicious_reading(&values, 0.05), Ok(Some(7)));
    // Recomputed p of the two-sided test: 3.0026e-7.
    assert_eq!(suspicious_reading(&values, 3.1e-7), Ok(Some(7)));
    assert_eq!(suspicious_reading(&values, 2.9e-7), Ok(None));
}

#[test]
fn the_handbook_example_has_its_critical_values() {
    // One-sided 5 %, printed 2.032, and two-sided 5 %; recomputed with scipy, tolerance what `puruspe` holds.
    assert_relative(grubbs_critical_value(8, 0.10).unwrap(), 2.031_652_001_549_949, 1e-11, "one-sided");
    assert_relative(grubbs_critical_value(8, 0.05).unwrap(), 2.126_645_087_195_468_5, 1e-11, "two-sided");
}

#[test]
fn without_its_outlier_the_handbook_example_is_clean() {
    let mut values = Table::new(include_str!("grubbs_nist_example.csv")).column("y");
    values.truncate(7);
    assert_eq!(suspicious_reading(&values, 0.05), Ok(None));
}
