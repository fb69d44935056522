//! The normal and chi-square laws against SciPy, and what two sources say together against a textbook.

use super::{Table, assert_absolute, assert_relative};
use coilwright::statistics::{Information, Normal, Skyline, chi_square_upper_tail};

/// What `puruspe`'s ln Γ, good to 2e-10 in the worst case, leaves of a chi-square.
const GAMMA_FUNCTION_DIGITS: f64 = 2e-10;

#[test]
fn the_normal_law_has_the_tails_of_scipy() {
    let table = Table::new(include_str!("scipy_normal.csv"));
    for row in &table.rows {
        let z = table.number(row, "z");
        let what = format!("z = {z}");
        // exp(-z²/2) multiplies the rounding of its argument by z²/2, 32 at z = 8.
        let tolerance = 1e-15 * (1.0 + z * z / 2.0);
        let below = Normal::STANDARD.probability_between(f64::NEG_INFINITY, z);
        let above = Normal::STANDARD.probability_between(z, f64::INFINITY);
        assert_relative(below, table.number(row, "below"), tolerance, &what);
        assert_relative(above, table.number(row, "above"), tolerance, &what);
    }
}

#[test]
fn a_narrow_chance_far_out_keeps_its_digits() {
    // scipy 1.17.1: norm.sf(5) - norm.sf(8); a few roundings, each multiplied by z²/2 = 32.
    let expected = 2.866_515_718_791_933e-7 - 6.220_960_574_271_74e-16;
    assert_relative(Normal::STANDARD.probability_between(5.0, 8.0), expected, 3e-14, "between 5 and 8");
    assert_relative(Normal::STANDARD.probability_between(-8.0, -5.0), expected, 3e-14, "between -8 and -5");
}

#[test]
fn the_normal_law_has_the_quantiles_of_scipy() {
    let table = Table::new(include_str!("scipy_normal_quantile.csv"));
    for row in &table.rows {
        let probability = table.number(row, "probability");
        let found = Normal::STANDARD.quantile(probability).unwrap();
        // A few roundings; absolute, as the median is zero.
        assert_absolute(found, table.number(row, "quantile"), 5e-15, &format!("p = {probability}"));
    }
}

#[test]
fn the_chi_square_law_has_the_upper_tail_of_scipy() {
    let table = Table::new(include_str!("scipy_chi_square_tail.csv"));
    for row in &table.rows {
        let (degrees, value) = (table.number(row, "degrees"), table.number(row, "value"));
        let found = chi_square_upper_tail(value, degrees).unwrap();
        let what = format!("{value} at {degrees} degrees of freedom");
        assert_absolute(found, table.number(row, "above"), GAMMA_FUNCTION_DIGITS, &what);
    }
}

/// Johnson, Ott and Dogucu, Bayes Rules!, chapter 5 (CRC Press 2022): volumes of the hippocampus of 25 football players who
/// had concussions, in cubic centimetres; mean and standard deviation known before, standard deviation of one player, players,
/// their mean. Copied, with the output of the book's own package, from the notes of a public reading group of the book.
const CONCUSSIONS: ([f64; 2], f64, u16, f64) = ([6.5, 0.4], 0.5, 25, 5.735);
/// Mean, variance and standard deviation afterwards, as printed there.
const AFTERWARDS: [&str; 3] = ["5.78", "0.009411765", "0.09701425"];

fn assert_as_printed((mean, uncertainty): (f64, f64)) {
    for (found, printed) in [mean, uncertainty * uncertainty, uncertainty].into_iter().zip(AFTERWARDS) {
        let expected: f64 = printed.parse().expect("a number");
        assert_absolute(found, expected, super::half_of_last_digit(printed), printed);
    }
}

#[test]
fn what_was_known_and_what_was_seen_are_one_law_as_the_textbook_has_it() {
    let ([mean, deviation], of_one, players, seen) = CONCUSSIONS;
    let mut known = Information::none(1);
    known.add(0, mean, deviation).unwrap();
    known.add(0, seen, of_one / f64::from(players).sqrt()).unwrap();
    assert_as_printed(known.solve().unwrap()[0]);
    // Taken out again, what was known before leaves what was seen.
    known.take_out(0, mean, deviation).unwrap();
    assert_absolute(known.solve().unwrap()[0].0, seen, 1e-12, "the mean of the players");
}

#[test]
fn players_one_by_one_on_the_matrix_that_readings_are_learned_with_say_the_same() {
    let ([mean, deviation], of_one, players, seen) = CONCUSSIONS;
    let mut matrix = Skyline::new(&[0]);
    matrix.add(0, 0, 1.0 / (deviation * deviation));
    let mut pull = 0.0;
    for player in 0..players {
        // Any volumes of this mean will do: 12 below and 12 above it by as much, and one on it.
        let volume = seen + 0.05 * (f64::from(player) - 12.0);
        matrix.add(0, 0, 1.0 / (of_one * of_one));
        pull += (volume - mean) / (of_one * of_one);
    }
    let factor = matrix.factor().unwrap();
    let form = factor.through(&[(0, 1.0)]);
    assert_as_printed((mean + factor.solve(&[pull])[0], form.with(&form).sqrt()));
}
