//! Signs as shapes within one cell: lines and blocks as rectangles, braille as dots, marks as paths.
//!
//! Not here: letters and figures, which are text.

use super::CELL;

/// A rectangle in whole units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Rectangle {
    pub(super) x: u32,
    pub(super) y: u32,
    pub(super) width: u32,
    pub(super) height: u32,
}

/// A piece of a sign, in units of its cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    /// Filled, so many per cent dense.
    Filled { dense: u8, at: Rectangle },
    /// A filled path that starts at the corner of the cell.
    Path(&'static str),
    /// A line along a path.
    Stroke(&'static str),
}

/// Middle of a cell.
const MIDDLE: (u32, u32) = (5, 10);

/// Arms of a sign made of lines: how thick they go left, right, up and down.
type Arms = [u32; 4];
const NONE: u32 = 0;
const THIN: u32 = 2;
const THICK: u32 = 4;

/// Adds a rectangle; one that goes on where the last ended makes that longer.
pub(super) fn extend(all: &mut Vec<Rectangle>, next: Rectangle) {
    if let Some(last) = all
        .iter_mut()
        .rev()
        .take(4)
        .find(|last| (last.y, last.height) == (next.y, next.height) && last.x + last.width == next.x)
    {
        last.width += next.width;
    } else {
        all.push(next);
    }
}

/// The shapes of a sign; none where it is text.
pub(super) fn of(symbol: &str) -> Option<Vec<Shape>> {
    let sign = symbol.chars().next().filter(|sign| sign.len_utf8() == symbol.len())?;
    if let Some(arms) = arms(sign) {
        return Some(lines(arms));
    }
    if let Some((dense, quarters)) = blocks(sign) {
        let filled = |at| Shape::Filled { dense, at };
        return Some(quarters.into_iter().map(filled).collect());
    }
    if let '\u{2800}'..='\u{28ff}' = sign {
        return Some(dots(sign as u32 - 0x2800));
    }
    mark(sign).map(|mark| vec![mark])
}

fn arms(sign: char) -> Option<Arms> {
    Some(match sign {
        '─' => [THIN, THIN, NONE, NONE],
        '━' => [THICK, THICK, NONE, NONE],
        '╴' => [THIN, NONE, NONE, NONE],
        '╶' => [NONE, THIN, NONE, NONE],
        '╸' => [THICK, NONE, NONE, NONE],
        '╺' => [NONE, THICK, NONE, NONE],
        '╼' => [THIN, THICK, NONE, NONE],
        '╾' => [THICK, THIN, NONE, NONE],
        '│' => [NONE, NONE, THIN, THIN],
        '┃' => [NONE, NONE, THICK, THICK],
        '┏' => [NONE, THICK, NONE, THICK],
        '┓' => [THICK, NONE, NONE, THICK],
        '┗' => [NONE, THICK, THICK, NONE],
        '┛' => [THICK, NONE, THICK, NONE],
        '┌' => [NONE, THIN, NONE, THIN],
        '┐' => [THIN, NONE, NONE, THIN],
        '└' => [NONE, THIN, THIN, NONE],
        '┘' => [THIN, NONE, THIN, NONE],
        _ => return None,
    })
}

fn lines([left, right, up, down]: Arms) -> Vec<Shape> {
    let (x, y) = MIDDLE;
    // An arm begins half the thickness of its neighbours behind the middle, so that corners are whole.
    let (across, along) = (left.max(right) / 2, up.max(down) / 2);
    let arms = [
        (left, Rectangle { x: 0, y: y - left / 2, width: x + along, height: left }),
        (right, Rectangle { x: x - along, y: y - right / 2, width: CELL.0 - x + along, height: right }),
        (up, Rectangle { x: x - up / 2, y: 0, width: up, height: y + across }),
        (down, Rectangle { x: x - down / 2, y: y - across, width: down, height: CELL.1 - y + across }),
    ];
    let drawn = arms.into_iter().filter(|(thick, _)| *thick > 0);
    drawn.map(|(_, at)| Shape::Filled { dense: 100, at }).collect()
}

/// How dense a block is, and the parts of the cell it fills.
fn blocks(sign: char) -> Option<(u8, Vec<Rectangle>)> {
    let part = |x: u32, y: u32, width: u32, height: u32| Rectangle { x, y, width, height };
    let (half, level) = MIDDLE;
    let whole = part(0, 0, CELL.0, CELL.1);
    Some(match sign {
        '█' => (100, vec![whole]),
        '░' => (28, vec![whole]),
        '▒' => (50, vec![whole]),
        '▀' => (100, vec![part(0, 0, CELL.0, level)]),
        '▄' => (100, vec![part(0, level, CELL.0, level)]),
        '▌' => (100, vec![part(0, 0, half, CELL.1)]),
        '▐' => (100, vec![part(half, 0, half, CELL.1)]),
        '▘' => (100, vec![part(0, 0, half, level)]),
        '▝' => (100, vec![part(half, 0, half, level)]),
        '▖' => (100, vec![part(0, level, half, level)]),
        '▗' => (100, vec![part(half, level, half, level)]),
        _ => return None,
    })
}

/// The dots of a braille sign: columns of four, the bits in the order of the Unicode chart (U+2800).
fn dots(bits: u32) -> Vec<Shape> {
    let places = [(0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (1, 2), (0, 3), (1, 3)];
    let dot =
        |(column, row): (u32, u32)| Rectangle { x: 1 + column * 5, y: 1 + row * 5, width: 3, height: 3 };
    let set = places.into_iter().enumerate().filter(|(bit, _)| bits >> bit & 1 == 1);
    set.map(|(_, place)| Shape::Filled { dense: 100, at: dot(place) }).collect()
}

/// Marks that fonts draw in sizes of their own, or as emoji.
fn mark(sign: char) -> Option<Shape> {
    Some(match sign {
        '▶' => Shape::Path("m1 4l9 6l-9 6z"),
        '▸' => Shape::Path("m2 6l6 4l-6 4z"),
        '◀' => Shape::Path("m9 4l-9 6l9 6z"),
        '◂' => Shape::Path("m8 6l-6 4l6 4z"),
        '▲' => Shape::Path("m5 5l5 10h-10z"),
        '▼' => Shape::Path("m5 15l5 -10h-10z"),
        '■' => Shape::Path("m1 6h8v8h-8z"),
        '◆' => Shape::Path("m5 4l5 6l-5 6l-5 -6z"),
        '●' => Shape::Path("m5 5a5 5 0 1 1 0 10a5 5 0 1 1 0 -10z"),
        '•' => Shape::Path("m5 7.5a2.5 2.5 0 1 1 0 5a2.5 2.5 0 1 1 0 -5z"),
        '○' => Shape::Stroke("m5 5.8a4.2 4.2 0 1 1 0 8.4a4.2 4.2 0 1 1 0 -8.4z"),
        '◎' => Shape::Stroke(
            "m5 5.8a4.2 4.2 0 1 1 0 8.4a4.2 4.2 0 1 1 0 -8.4zm0 2.6a1.6 1.6 0 1 1 0 3.2a1.6 1.6 0 1 1 0 -3.2z",
        ),
        '✓' => Shape::Stroke("m1 10.5l3 3.5l5 -8"),
        '→' => Shape::Stroke("m0 10h9m-3 -3.5l3.5 3.5l-3.5 3.5"),
        '╱' => Shape::Stroke("m0 20l10 -20"),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_reach_the_edges_of_their_cell_so_that_neighbours_join() {
        for sign in ['─', '━', '│', '┃', '┏', '┛'] {
            let Some(shapes) = of(&sign.to_string()) else { panic!("{sign} is text") };
            let edge = |shape: &Shape| match shape {
                Shape::Filled { at, .. } => {
                    at.x == 0 || at.y == 0 || at.x + at.width == CELL.0 || at.y + at.height == CELL.1
                }
                _ => false,
            };
            assert!(shapes.iter().all(edge), "{sign}: {shapes:?}");
        }
    }

    #[test]
    fn a_full_braille_sign_has_eight_dots_that_do_not_touch() {
        let Some(dots) = of("⣿") else { panic!("text") };
        assert_eq!(dots.len(), 8);
    }
}
