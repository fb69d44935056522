//! What stands where in a frame, for the mouse: drawing notes it down, a click looks it up.
//!
//! A click becomes what the key would have been; nothing can be done with the mouse alone. Not here: what a click does
//! (`update`), and whose the mouse is (`settled`, `terminal`).

use ratatui::layout::{Position, Rect};

use super::keys::Action;

/// Something that can be clicked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spot {
    /// A key of the footer.
    Key(Action),
    /// The line of that place in a list.
    Line(usize),
    /// The marked line of a list.
    Marked,
}

/// Everything that can be clicked in a frame.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Hits(Vec<(Rect, Spot)>);

/// Lines of a list in sight.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ListInSight {
    /// The place of the line drawn first.
    pub first: usize,
    /// How many are drawn below one another.
    pub count: usize,
    /// The place of the marked line.
    pub marked: Option<usize>,
}

impl Hits {
    /// Notes that something stands there.
    pub fn note(&mut self, area: Rect, spot: Spot) {
        if !area.is_empty() {
            self.0.push((area, spot));
        }
    }

    /// Notes the lines of a list, a cell high each, from the top of an area.
    pub fn list(&mut self, area: Rect, list: ListInSight) {
        for (line, place) in area.rows().zip(list.first..list.first.saturating_add(list.count)) {
            self.note(line, if list.marked == Some(place) { Spot::Marked } else { Spot::Line(place) });
        }
    }

    /// What stands at a cell.
    pub fn at(&self, cell: Position) -> Option<Spot> {
        self.0.iter().rev().find(|(area, _)| area.contains(cell)).map(|(_, spot)| *spot)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_ends_with_its_area() {
        let mut hits = Hits::default();
        hits.list(Rect::new(2, 5, 10, 2), ListInSight { first: 7, count: 9, marked: Some(8) });
        let at = |x, y| hits.at(Position::new(x, y));
        assert_eq!(
            [at(2, 5), at(11, 6), at(2, 7), at(1, 5)],
            [Some(Spot::Line(7)), Some(Spot::Marked), None, None]
        );
    }
}
