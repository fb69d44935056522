//! A line and points in characters, with its axes.
//!
//! Not here: what is plotted.

use std::fmt::Write;

/// What to plot, in the figures of its axes.
pub(super) struct Plot {
    /// A line, as places close beside one another.
    pub(super) line: Vec<(f64, f64)>,
    /// Points on top of it.
    pub(super) points: Vec<(f64, f64)>,
    /// Figures below the left end, the middle and the right end.
    pub(super) along: [String; 3],
}

const WIDTH: usize = 61;
const HEIGHT: usize = 13;
/// Least height of the upright axis: a ratio that hardly changes is not blown up to look as if it did.
const LEAST_RANGE: f64 = 0.2;

/// The plot as lines of text.
pub(super) fn plot(plot: &Plot) -> String {
    let all = || plot.line.iter().chain(&plot.points);
    let (low, high) = range(all().map(|(_, up)| *up));
    let right = all().map(|(along, _)| *along).fold(0.0, f64::max);
    let mut cells = vec![vec![' '; WIDTH]; HEIGHT];
    let marked =
        plot.line.iter().map(|place| (place, '.')).chain(plot.points.iter().map(|place| (place, 'o')));
    for ((along, up), mark) in marked {
        let column = cell(*along / right, WIDTH);
        let row = cell((high - up) / (high - low), HEIGHT);
        cells[row][column] = mark;
    }
    let mut text = String::new();
    for (row, line) in cells.iter().enumerate() {
        let up = high - (high - low) * row as f64 / (HEIGHT - 1) as f64;
        let label = if row % 4 == 0 { format!("{up:6.2}") } else { " ".repeat(6) };
        let line: String = line.iter().collect();
        // Writing to a String cannot fail.
        let _ = writeln!(text, "{}", format!("{label} |{line}").trim_end());
    }
    let [left, middle, end] = &plot.along;
    let half = WIDTH / 2;
    let _ = writeln!(text, "{:6} +{}", "", "-".repeat(WIDTH));
    let _ = writeln!(text, "{:8}{left:<half$}{middle:<half$}{end}", "");
    text
}

/// The cell of a place given as a share of the axis; what lies outside or is no figure goes to an end.
fn cell(share: f64, cells: usize) -> usize {
    let last = cells - 1;
    (0..last).find(|cell| (*cell as f64 + 0.5) / last as f64 >= share).unwrap_or(last)
}

/// Least and greatest figure of an axis that takes all of these, out to tenths.
fn range(figures: impl Iterator<Item = f64>) -> (f64, f64) {
    let (low, high) = figures
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), figure| (low.min(figure), high.max(figure)));
    if !low.is_finite() || !high.is_finite() {
        return (0.0, 1.0);
    }
    let middle = 0.5 * (low + high);
    let half = (0.5 * (high - low)).max(LEAST_RANGE / 2.0);
    (((middle - half) * 10.0 + 1e-9).floor() / 10.0, ((middle + half) * 10.0 - 1e-9).ceil() / 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_from_corner_to_corner_goes_from_corner_to_corner() {
        let line = (0..=100).map(|step| (f64::from(step) * 0.6, 3.0 - f64::from(step) / 100.0)).collect();
        let along = ["0".to_owned(), "30".to_owned(), "60 mm".to_owned()];
        let text = plot(&Plot { line, points: vec![(60.0, 2.0)], along });
        let lines: Vec<&str> = text.lines().collect();
        assert!(lines[0].starts_with("  3.00 |."), "{text}");
        assert_eq!(lines[HEIGHT - 1].len(), 8 + WIDTH);
        assert!(lines[HEIGHT - 1].starts_with("  2.00 |") && lines[HEIGHT - 1].ends_with('o'), "{text}");
    }

    #[test]
    fn what_is_no_figure_does_not_break_the_plot() {
        let along = [String::new(), String::new(), String::new()];
        let text = plot(&Plot { line: vec![(f64::NAN, f64::NAN)], points: Vec::new(), along });
        assert_eq!(text.lines().count(), HEIGHT + 2);
    }
}
