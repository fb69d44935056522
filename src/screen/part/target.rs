//! The target range in a picture: the ground marks and curves stand on, so that nothing bites holes into it; without colour two
//! lines at its edges.
//!
//! And the law of every picture: what is drawn inside is inside. A range is whole cells, because a ground has no halves; a mark
//! at its edge gives way by a half cell, never across the edge.

use std::ops::Range;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Span;

use crate::screen::theme::Theme;

/// An edge of the range, where there is no colour.
pub const EDGE: &str = "│";

/// Whether something lies in the range, by the unrounded figures the words go by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lies {
    /// Below its low edge.
    Below,
    /// In it, its edges included.
    Inside,
    /// Above its high edge.
    Above,
}

/// The half cell a mark is drawn at, given where it falls and the half cells of the range.
pub fn half(at: f64, lies: Lies, range: &Range<usize>) -> usize {
    // Never negative, and far below what a usize holds.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept at nought or above")]
    let half = at.floor().max(0.0) as usize;
    match lies {
        Lies::Below => half.min(range.start.saturating_sub(1)),
        Lies::Inside => half.clamp(range.start, range.end.saturating_sub(1).max(range.start)),
        Lies::Above => half.max(range.end),
    }
}

/// The whole cells of a range whose edges fall there, in half cells; at least one.
pub fn cells([low, high]: [f64; 2]) -> Range<usize> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept at nought or above")]
    let cell = |half: f64| (half / 2.0).round().max(0.0) as usize;
    let first = cell(low);
    first..cell(high).max(first + 1)
}

/// A style as it looks on the ground.
pub fn on_ground(style: Style, theme: Theme) -> Style {
    theme.ground().map_or(style, |ground| style.patch(ground))
}

/// Lays the ground under what is drawn in an area; without colour, lines where its edges stand and nothing was drawn.
pub fn lay(buffer: &mut Buffer, area: Rect, edges: [Rect; 2], edge: &str, theme: Theme) {
    if let Some(ground) = theme.ground() {
        return buffer.set_style(area.intersection(buffer.area), ground);
    }
    let whole = buffer.area;
    for position in edges.into_iter().flat_map(|edge| edge.intersection(whole).positions()) {
        let cell = &mut buffer[position];
        if cell.symbol() == " " {
            cell.set_symbol(edge);
        }
    }
}

/// The sign of the range in a legend.
pub fn sample(theme: Theme) -> Span<'static> {
    match theme.ground() {
        Some(ground) => Span::styled("  ", ground),
        None => Span::raw("││"),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn a_mark_is_drawn_in_the_range_exactly_when_it_lies_in_it(
            low in 1.0..100.0_f64, width in 0.0..60.0_f64, at in -5.0..200.0_f64,
        ) {
            let high = low + width;
            let lies = if at < low { Lies::Below } else if at > high { Lies::Above } else { Lies::Inside };
            let cells = cells([low, high]);
            let drawn = half(at, lies, &(2 * cells.start..2 * cells.end)) / 2;
            // A range that begins at the very first cell leaves none for what lies below it.
            prop_assume!(cells.start > 0);
            prop_assert_eq!(cells.contains(&drawn), lies == Lies::Inside);
        }

        #[test]
        fn no_mark_moves_further_than_a_cell(low in 4.0..100.0_f64, width in 0.0..60.0_f64, at in 0.0..200.0_f64) {
            let high = low + width;
            let lies = if at < low { Lies::Below } else if at > high { Lies::Above } else { Lies::Inside };
            let cells = cells([low, high]);
            let drawn = half(at, lies, &(2 * cells.start..2 * cells.end)) as f64;
            // A range narrower than its one cell may be a cell off itself.
            prop_assert!((drawn - at).abs() <= 3.0, "{at} is drawn at {drawn}");
        }
    }
}
