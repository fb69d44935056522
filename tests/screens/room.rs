//! How much of a wall of a screen is left in one empty block: at 200 by 60 every place that has something to show uses it.
//!
//! The block is the largest rectangle of blank cells a frame holds, the title and the footer among what is looked through.
//! Below 35 % is the aim; a place that is above it is held to what it leaves now, so that none gets worse. Whether what fills
//! the room is what a practitioner wants to see no count can say.

use coilwright::screen::model::Model;
use ratatui::buffer::{Buffer, Cell};
use ratatui::style::{Color, Modifier};

use super::scenes::{self, buffer};

/// The screen of a large window on a workshop's monitor.
const LARGE: (u16, u16) = (200, 60);
/// The most of it that one empty block should take, in per cent.
const AIM: f64 = 35.0;
/// The scenes that are looked at, every place with something to show, and the most each may leave empty.
const LOOKED_AT: [(&str, f64); 17] = [
    ("home_empty", 71.0),
    ("home_an_unfinished_session_is_offered", 56.0),
    ("home_with_past_sessions", 54.0),
    ("review_some", 61.0),
    ("past_session", AIM),
    ("compare_two_visits", 49.0),
    ("changes_with_the_spring", AIM),
    ("curve_measured", AIM),
    ("wire_empty", 74.0),
    ("wire_reckoned", 62.0),
    ("rack_kept", 79.0),
    ("rack_marked_and_learned", 74.0),
    ("guide_bench_check_list", 46.0),
    ("guide_reading_typed", 36.0),
    ("guide_verdict_swap", AIM),
    ("guide_swap_list", AIM),
    ("trials_a_second_spring", AIM),
];

fn is_blank(cell: &Cell) -> bool {
    let shown = cell.modifier.intersects(Modifier::REVERSED | Modifier::UNDERLINED);
    cell.symbol() == " " && cell.bg == Color::Reset && !shown
}

/// The cells of the largest rectangle of blank ones.
fn largest_blank(buffer: &Buffer) -> usize {
    let (width, height) = (buffer.area.width, buffer.area.height);
    let mut free = vec![0; usize::from(width)];
    let mut largest = 0;
    for y in 0..height {
        for x in 0..width {
            let above = &mut free[usize::from(x)];
            *above = if is_blank(&buffer[(x, y)]) { *above + 1 } else { 0 };
        }
        largest = largest.max(largest_below(&free));
    }
    largest
}

/// The largest rectangle that stands on one line, given how far every column is free above it.
fn largest_below(free: &[usize]) -> usize {
    let from = |first: usize| {
        let mut lowest = usize::MAX;
        let areas = free[first..].iter().enumerate().map(move |(more, height)| {
            lowest = lowest.min(*height);
            lowest * (more + 1)
        });
        areas.max().unwrap_or(0)
    };
    (0..free.len()).map(from).max().unwrap_or(0)
}

/// The share of a frame that its largest empty block takes, in per cent.
fn empty(model: &Model, size: (u16, u16)) -> f64 {
    let buffer = buffer(model, size);
    100.0 * largest_blank(&buffer) as f64 / buffer.content.len() as f64
}

#[test]
fn no_place_leaves_more_of_a_large_window_in_one_empty_block_than_it_may() {
    let all = scenes::all();
    let measured = LOOKED_AT.map(|(name, most)| {
        let scene = all.iter().find(|scene| scene.name == name).unwrap_or_else(|| panic!("no scene {name}"));
        (name, empty(&scene.model(), LARGE), most)
    });
    let table = measured.map(|(name, share, most)| format!("{share:5.1} of {most} %  {name}")).join("\n");
    println!("{table}");
    assert!(measured.iter().all(|(_, share, most)| share <= most), "\n{table}");
}

#[test]
fn the_largest_block_is_found_wherever_it_lies() {
    let cells = |lines: &[&str]| largest_blank(&Buffer::with_lines(lines.iter().copied()));
    assert_eq!(cells(&["xxxx", "x  x", "x  x", "xxxx"]), 4);
    assert_eq!(cells(&["x   ", "    ", "xxx ", "xxx "]), 6);
    assert_eq!(cells(&["xx", "xx"]), 0);
    assert_eq!(cells(&["  ", "  "]), 4);
}
