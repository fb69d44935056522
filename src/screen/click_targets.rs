//! What stands where in a frame, for the mouse: drawing notes it down, a click looks it up.
//!
//! A click becomes what the key would have been; nothing can be done with the mouse alone. Not here: what a click does
//! (`update`), and whose the mouse is (`settings_in_force`, `terminal`).

use ratatui::layout::{Position, Rect};

use super::keys::Action;

/// Something that can be clicked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClickTarget {
    /// A key of the footer.
    Key(Action),
    /// The line of that place in a list.
    Line(usize),
    /// The marked line of a list.
    Marked,
}

/// What a frame showed of the place: everything that can be clicked in it, the part of its list or text in sight, and whether
/// it showed all that is to be answered.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ClickTargets {
    spots: Vec<(Rect, ClickTarget)>,
    window: ViewSize,
    extent: Extent,
}

/// How much of what is to be answered a frame showed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Extent {
    /// All of it, or its last page.
    #[default]
    Whole,
    /// More stands below; the next page begins with this line.
    GoesOn(usize),
    /// Nothing: the window is too small for this place, but not for the way back.
    OnlyTheWayBack,
    /// Nothing: the window is too small for anything.
    Nothing,
}

/// The part of a list or text that was in sight.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ViewSize {
    /// The line drawn first.
    pub first: usize,
    /// How many lines there is room for.
    pub height: usize,
    /// The line first on the last page.
    pub last: usize,
}

/// Before anything was drawn.
impl Default for ViewSize {
    fn default() -> Self {
        Self { first: 0, height: 10, last: usize::MAX }
    }
}

impl ViewSize {
    /// The window of an area on so many lines, from a line on; the last page is a full one.
    pub fn of(first: usize, area: Rect, lines: usize) -> Self {
        let height = usize::from(area.height);
        let last = lines.saturating_sub(height);
        Self { first: first.min(last), height, last }
    }

    /// How far a page goes.
    pub fn page(self) -> usize {
        self.height.max(1)
    }
}

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

impl ClickTargets {
    /// Notes that something stands there.
    pub fn note(&mut self, area: Rect, spot: ClickTarget) {
        if !area.is_empty() {
            self.spots.push((area, spot));
        }
    }

    /// Notes the lines of a list, a cell high each, from the top of an area.
    pub fn list(&mut self, area: Rect, list: ListInSight) {
        self.window = ViewSize { first: list.first, height: list.count, last: usize::MAX };
        for (line, place) in area.rows().zip(list.first..list.first.saturating_add(list.count)) {
            self.note(
                line,
                if list.marked == Some(place) { ClickTarget::Marked } else { ClickTarget::Line(place) },
            );
        }
    }

    /// Notes what of the place's list or text is in sight.
    pub fn window(&mut self, window: ViewSize) {
        self.window = window;
    }

    /// What of it is.
    pub const fn in_sight(&self) -> ViewSize {
        self.window
    }

    /// Notes how much the frame shows.
    pub fn shows(&mut self, extent: Extent) {
        self.extent = extent;
    }

    /// How much it shows.
    pub const fn extent(&self) -> Extent {
        self.extent
    }

    /// What stands at a cell.
    pub fn at(&self, cell: Position) -> Option<ClickTarget> {
        self.spots.iter().rev().find(|(area, _)| area.contains(cell)).map(|(_, spot)| *spot)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_ends_with_its_area() {
        let mut click_targets = ClickTargets::default();
        click_targets.list(Rect::new(2, 5, 10, 2), ListInSight { first: 7, count: 9, marked: Some(8) });
        let at = |x, y| click_targets.at(Position::new(x, y));
        assert_eq!(
            [at(2, 5), at(11, 6), at(2, 7), at(1, 5)],
            [Some(ClickTarget::Line(7)), Some(ClickTarget::Marked), None, None]
        );
    }
}
