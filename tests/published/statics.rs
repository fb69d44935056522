//! The seated balance on a measured curve against SciPy's root finder.

use super::{Table, assert_absolute};
use coilwright::mechanics::{LeverageCurve, LeveragePair, SeatedBalance};
use coilwright::units::{Force, Length, SpringRate};

/// The reference curve, given as pairs a mechanic might measure.
fn reference_curve() -> LeverageCurve {
    let table = Table::new(include_str!("leverage_pchip_reference.csv"));
    let pairs: Vec<LeveragePair> = table
        .rows
        .iter()
        .map(|row| LeveragePair {
            stroke: Length::mm(table.number(row, "shock_stroke_mm")),
            wheel: Length::mm(table.number(row, "wheel_mm")),
        })
        .collect();
    let last = pairs[pairs.len() - 1];
    LeverageCurve::measured(last.wheel, last.stroke, &pairs).expect("sound pairs")
}

fn balance(load: f64, rate: f64, leverage: &LeverageCurve) -> SeatedBalance<'_> {
    SeatedBalance::of(Force::newtons(load), SpringRate::lb_per_in(rate), Length::mm(2.0), leverage)
}

#[test]
fn sags_on_a_measured_curve_are_those_of_scipys_root_finder() {
    let curve = reference_curve();
    let table = Table::new(include_str!("leverage_sag_reference.csv"));
    for row in &table.rows {
        let (load, rate) = (table.number(row, "wheel_load_N"), table.number(row, "spring_lbf_per_in"));
        let used = balance(load, rate, &curve).stroke_used();
        let what = format!("{load} N on {rate} lbf/in");
        // The reference is a cubic in wheel travel, ours a polynomial in stroke through the same pairs: a quarter of
        // a tenth of a millimetre between the pairs, a tenth of what a ruler shows.
        assert_absolute(used.as_mm(), table.number(row, "shock_sag_mm"), 0.05, &what);
        assert_absolute(curve.wheel_travel(used).as_mm(), table.number(row, "wheel_sag_mm"), 0.12, &what);
    }
}
