//! The shelf beside the list of a wide rack: how many springs there are of each rate, softest first, and where a step is missing.
//!
//! By the rate printed on them, a progressive one by the rate it begins with; stroke and bore are in the list. Not here: the list itself (`drawing`).

use ratatui::text::{Line, Span};

use crate::phrase;
use crate::screen::model::Desk;
use crate::session::ShopSpring;
use crate::units::SpringRate;

/// Cells of the list with all its columns, beside which it stands.
pub(super) const LIST: u16 = 104;
/// The area from which on there is room for both.
pub(super) const WIDE: u16 = LIST + 44;
/// Cells of a bar at most.
const LONGEST_BAR: usize = 18;

/// The widest step that is none missing: springs come in steps of 50 lb/in, common practice, no source.
fn usual_step() -> SpringRate {
    SpringRate::lb_per_in(55.0)
}

/// The shelf in lines.
pub(super) fn lines(springs: &[ShopSpring], desk: &Desk) -> Vec<Line<'static>> {
    let theme = desk.theme;
    let mut lines = vec![Line::styled(phrase::rack::SHELF, theme.strong()), Line::raw("")];
    let mut before: Option<SpringRate> = None;
    for (rate, count) in by_rate(springs) {
        if let Some(gap) = before.map(|before| rate - before).filter(|gap| *gap > usual_step()) {
            let said = phrase::rack::gap(gap, desk.units);
            lines.push(Line::styled(format!("{:>12}  {said}", ""), theme.quiet()));
        }
        let bar = "▄ ".repeat(usize::from(count).min(LONGEST_BAR / 2));
        lines.push(Line::from(vec![
            Span::styled(format!("{:>12}  ", desk.units.show(rate)), theme.text()),
            Span::raw(format!("{bar:<LONGEST_BAR$}")),
            Span::styled(phrase::rack::how_many(count), theme.text()),
        ]));
        before = Some(rate);
    }
    lines
}

/// Every rate once, softest first, with how many there are.
fn by_rate(springs: &[ShopSpring]) -> Vec<(SpringRate, u16)> {
    let mut all: Vec<(SpringRate, u16)> =
        springs.iter().map(|spring| (spring.label, u16::from(spring.count))).collect();
    all.sort_by(|one, other| one.0.value().total_cmp(&other.0.value()));
    all.dedup_by(|later, earlier| {
        let same = later.0 == earlier.0;
        earlier.1 += if same { later.1 } else { 0 };
        same
    });
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn springs_of_one_rate_are_counted_together_softest_first() {
        let of =
            |rate: f64, count: u8| ShopSpring { count, ..ShopSpring::labelled(SpringRate::lb_per_in(rate)) };
        let shelf = by_rate(&[of(500.0, 1), of(450.0, 2), of(500.0, 3), of(350.0, 0)]);
        let shelf: Vec<(f64, u16)> =
            shelf.iter().map(|(rate, count)| (rate.as_lb_per_in().round(), *count)).collect();
        assert_eq!(shelf, [(350.0, 0), (450.0, 2), (500.0, 4)]);
    }
}
