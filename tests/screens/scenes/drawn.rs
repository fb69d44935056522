//! A scene as text: its frames at three sizes one below the other, and beside them the inks, a letter a cell.
//!
//! Not here: which scenes there are.

use std::cell::RefCell;
use std::fmt::Write;

use coilwright::screen;
use coilwright::screen::model::Model;
use coilwright::screen::theme::Theme;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::{Buffer, Cell};
use ratatui::style::{Color, Modifier, Style};

/// The sizes every scene is looked at in: the least, a usual and a large one.
pub(crate) const SIZES: [(u16, u16); 3] = [(80, 24), (100, 30), (140, 40)];

/// A model's frame, cell by cell.
pub(crate) fn buffer(model: &Model, (width, height): (u16, u16)) -> Buffer {
    let mut terminal =
        Terminal::new(TestBackend::new(width, height)).expect("the test terminal always works");
    terminal.draw(|frame| screen::draw(frame, model)).expect("the test terminal always works");
    terminal.backend().buffer().clone()
}

/// Frames at every size, each under a line that says how large it is.
pub(super) fn text(model: &Model) -> String {
    pages(model, |cell| cell.symbol().to_owned())
}

/// The inks of the same frames, at the same lines and columns: a letter for the style of each cell that shows anything. A
/// style put together of several is a capital letter, told below.
pub(super) fn inks(model: &Model) -> String {
    let styles = RefCell::new(styles(model.desk.theme));
    let letter = |cell: &Cell| {
        let shows = cell.symbol() != " "
            || cell.bg != Color::Reset
            || cell.modifier.intersects(Modifier::REVERSED | Modifier::UNDERLINED);
        if shows { letter(&mut styles.borrow_mut(), (cell.fg, cell.bg, cell.modifier)) } else { ' ' }
            .to_string()
    };
    let mut text = pages(model, letter) + "\n";
    for (letter, name, _) in styles.borrow().iter().filter(|(letter, ..)| *letter != ' ') {
        let _ = write!(text, "\n{letter} {name}");
    }
    text
}

fn letter(styles: &mut Vec<(char, String, Inked)>, style: Inked) -> char {
    if let Some((letter, ..)) = styles.iter().find(|(_, _, known)| *known == style) {
        return *letter;
    }
    let capitals = styles.iter().filter(|(letter, ..)| letter.is_ascii_uppercase()).count();
    let letter = ('A'..='Z').nth(capitals).expect("few styles");
    styles.push((letter, format!("{style:?}"), style));
    letter
}

fn pages(model: &Model, of: impl Fn(&Cell) -> String) -> String {
    let page = |(width, height)| {
        let buffer = buffer(model, (width, height));
        let line = |y: u16| (0..width).map(|x| of(&buffer[(x, y)])).collect::<String>();
        let lines: Vec<String> = (0..height).map(|y| line(y).trim_end().to_owned()).collect();
        format!("{:=<width$}\n{}", format!("{width}x{height} "), lines.join("\n"), width = usize::from(width))
    };
    SIZES.map(page).join("\n")
}

/// The style of a cell.
type Inked = (Color, Color, Modifier);

/// The styles of the theme, with letter and name; of two that look the same the first names both.
fn styles(theme: Theme) -> Vec<(char, String, Inked)> {
    let named: [(char, &'static str, Style); 10] = [
        (' ', "text", theme.text()),
        ('.', "quiet", theme.quiet()),
        ('b', "strong", theme.strong()),
        ('a', "mark", theme.accent()),
        ('g', "good", theme.good()),
        ('!', "alert", theme.alert()),
        ('t', "title", theme.title()),
        ('#', "marked", theme.marked()),
        ('_', "field", theme.field()),
        ('x', "void", theme.void()),
    ];
    named.map(|(letter, name, style)| (letter, name.to_owned(), inked(style))).to_vec()
}

fn inked(style: Style) -> Inked {
    (style.fg.unwrap_or(Color::Reset), style.bg.unwrap_or(Color::Reset), style.add_modifier)
}
