//! A terminal's screen as an SVG picture: what the built program drew, cell by cell.
//!
//! Every cell has its place on a fixed grid. Text keeps its width whatever font the reader's browser has; lines, blocks,
//! braille and signs are drawn as shapes, so that they join without gaps and look the same everywhere. Runs of one style
//! are one element. Nothing of the moment is in it, so that one screen always makes the same bytes. Not here: which
//! screens are shown (`pictures`).

mod shapes;

use std::collections::BTreeMap;
use std::fmt::Write;

use shapes::{Rectangle, Shape};
use vt100::{Cell, Color, Screen};

/// Units of a cell; a font of 16.6 units is as wide where a letter takes 0.602 of its height, as in most.
const CELL: (u32, u32) = (10, 20);
/// Blank units around the screen.
const MARGIN: u32 = 12;
const GROUND: Rgb = [0x1b, 0x1d, 0x21];
const INK: Rgb = [0xd8, 0xda, 0xdd];
const FONT: &str =
    "ui-monospace,SFMono-Regular,Menlo,Consolas,'DejaVu Sans Mono','Liberation Mono',monospace";

type Rgb = [u8; 3];

/// The sixteen colours, of a palette most terminals come close to.
const PALETTE: [Rgb; 16] = [
    [0x1b, 0x1d, 0x21],
    [0xcc, 0x42, 0x42],
    [0x4e, 0x9a, 0x3a],
    [0xc4, 0xa0, 0x30],
    [0x4a, 0x7e, 0xc8],
    [0x9a, 0x6a, 0xb0],
    [0x3f, 0xb8, 0xc4],
    [0xd8, 0xda, 0xdd],
    [0x70, 0x74, 0x7a],
    [0xff, 0x7a, 0x70],
    [0x8a, 0xd8, 0x60],
    [0xf0, 0xd8, 0x60],
    [0x7c, 0xae, 0xf5],
    [0xc8, 0xa0, 0xe0],
    [0x68, 0xd8, 0xe4],
    [0xff, 0xff, 0xff],
];

/// How a cell looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Look {
    ink: Rgb,
    ground: Option<Rgb>,
    bold: bool,
    underlined: bool,
}

/// What is drawn, gathered by ink.
#[derive(Default)]
struct Drawing {
    grounds: BTreeMap<Rgb, Vec<Rectangle>>,
    /// Rectangles by ink and by how dense they are, in per cent.
    filled: BTreeMap<(Rgb, u8), Vec<Rectangle>>,
    paths: BTreeMap<Rgb, String>,
    strokes: BTreeMap<Rgb, String>,
    texts: String,
}

/// The picture of a screen; `title` is read out where it cannot be seen.
pub(super) fn picture(screen: &Screen, title: &str) -> String {
    let (rows, columns) = screen.size();
    let mut drawing = Drawing::default();
    for row in 0..rows.get() {
        line(&mut drawing, screen, row, columns.get());
    }
    let size = |cells: u16, units: u32| u32::from(cells) * units + 2 * MARGIN;
    let (width, height) = (size(columns.get(), CELL.0), size(rows.get(), CELL.1));
    drawing.written(title, width, height)
}

fn line(drawing: &mut Drawing, screen: &Screen, row: u16, columns: u16) {
    let y = u32::from(row) * CELL.1;
    let mut run = Run::default();
    for column in 0..columns {
        let Some(cell) = screen.cell(row, column).filter(|cell| !cell.is_wide_continuation()) else {
            continue;
        };
        let (x, look) = (u32::from(column) * CELL.0, look(cell));
        let cells = if cell.is_wide() { 2 } else { 1 };
        if let Some(ground) = look.ground {
            let rectangle = Rectangle { x, y, width: CELL.0 * cells, height: CELL.1 };
            shapes::extend(drawing.grounds.entry(ground).or_default(), rectangle);
        }
        if look.underlined {
            let rectangle = Rectangle { x, y: y + 17, width: CELL.0 * cells, height: 1 };
            shapes::extend(drawing.filled.entry((look.ink, 100)).or_default(), rectangle);
        }
        let symbol = if cell.has_contents() { cell.contents() } else { " " };
        match shapes::of(symbol) {
            Some(parts) => {
                run.end(drawing);
                for part in parts {
                    drawing.put(part, x, y, look.ink);
                }
            }
            None => run.take(drawing, symbol, (x, y), look, cells),
        }
    }
    run.end(drawing);
}

impl Drawing {
    fn put(&mut self, part: Shape, x: u32, y: u32, ink: Rgb) {
        match part {
            Shape::Filled { dense, at } => {
                let at = Rectangle { x: at.x + x, y: at.y + y, ..at };
                shapes::extend(self.filled.entry((ink, dense)).or_default(), at);
            }
            Shape::Path(path) => {
                let _ = write!(self.paths.entry(ink).or_default(), "M{x} {y}{path}");
            }
            Shape::Stroke(path) => {
                let _ = write!(self.strokes.entry(ink).or_default(), "M{x} {y}{path}");
            }
        }
    }

    fn written(&self, title: &str, width: u32, height: u32) -> String {
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" height=\"{height}\" \
             role=\"img\">\n<title>{}</title>\n<rect width=\"{width}\" height=\"{height}\" rx=\"8\" fill=\"{}\"/>\n\
             <g transform=\"translate({MARGIN},{MARGIN})\" font-family=\"{FONT}\" font-size=\"16.6\">\n",
            escaped(title),
            hex(GROUND),
        );
        for (ground, rectangles) in &self.grounds {
            let _ = writeln!(
                svg,
                "<path shape-rendering=\"crispEdges\" fill=\"{}\" d=\"{}\"/>",
                hex(*ground),
                boxes(rectangles)
            );
        }
        for ((ink, dense), rectangles) in &self.filled {
            let thin = if *dense == 100 { String::new() } else { format!(" opacity=\".{dense}\"") };
            let d = boxes(rectangles);
            let _ = writeln!(
                svg,
                "<path shape-rendering=\"crispEdges\" fill=\"{}\"{thin} d=\"{d}\"/>",
                hex(*ink)
            );
        }
        for (ink, path) in &self.paths {
            let _ = writeln!(svg, "<path fill=\"{}\" d=\"{path}\"/>", hex(*ink));
        }
        for (ink, path) in &self.strokes {
            let _ = writeln!(
                svg,
                "<path fill=\"none\" stroke-width=\"1.6\" stroke=\"{}\" d=\"{path}\"/>",
                hex(*ink)
            );
        }
        svg + &self.texts + "</g>\n</svg>\n"
    }
}

/// Text of one style in one line.
#[derive(Default)]
struct Run {
    text: String,
    at: (u32, u32),
    cells: u32,
    look: Option<Look>,
    /// Blanks since the last letter, which are drawn only when another letter follows.
    blanks: u32,
}

impl Run {
    fn take(&mut self, drawing: &mut Drawing, symbol: &str, at: (u32, u32), look: Look, cells: u32) {
        if symbol == " " {
            self.blanks += 1;
            return;
        }
        // A wide gap starts a run of its own, so that text stays in its column in every font.
        if self.look.map(letters) != Some(letters(look)) || self.blanks > 1 {
            self.end(drawing);
            (self.look, self.at) = (Some(look), at);
        }
        let blanks = if self.text.is_empty() { 0 } else { self.blanks };
        self.text.extend(std::iter::repeat_n(' ', blanks as usize));
        self.text.push_str(symbol);
        self.cells += blanks + cells;
        self.blanks = 0;
    }

    fn end(&mut self, drawing: &mut Drawing) {
        if let Some(look) = self.look.filter(|_| !self.text.is_empty()) {
            let weight = if look.bold { " font-weight=\"bold\"" } else { "" };
            let (x, y) = (self.at.0, self.at.1 + 15);
            let _ = writeln!(
                drawing.texts,
                "<text x=\"{x}\" y=\"{y}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\" fill=\"{}\"{weight}>{}</text>",
                self.cells * CELL.0,
                hex(look.ink),
                escaped(&self.text),
            );
        }
        *self = Self::default();
    }
}

/// What of a look letters show.
fn letters(look: Look) -> (Rgb, bool) {
    (look.ink, look.bold)
}

fn look(cell: &Cell) -> Look {
    let ink = rgb(cell.fgcolor()).unwrap_or(INK);
    let ground = rgb(cell.bgcolor());
    let (ink, ground) = if cell.inverse() { (ground.unwrap_or(GROUND), Some(ink)) } else { (ink, ground) };
    let ink = if cell.dim() { between(ink, ground.unwrap_or(GROUND)) } else { ink };
    Look { ink, ground, bold: cell.bold(), underlined: cell.underline() }
}

/// Dimmed: two thirds ink, as most terminals have it.
fn between(ink: Rgb, ground: Rgb) -> Rgb {
    let mixed = |place: usize| (u16::from(ink[place]) * 2 + u16::from(ground[place])) / 3;
    std::array::from_fn(|place| u8::try_from(mixed(place)).unwrap_or(u8::MAX))
}

fn rgb(colour: Color) -> Option<Rgb> {
    match colour {
        Color::Default => None,
        Color::Idx(number) => Some(PALETTE[usize::from(number) % PALETTE.len()]),
        Color::Rgb(red, green, blue) => Some([red, green, blue]),
    }
}

fn hex([red, green, blue]: Rgb) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

fn boxes(rectangles: &[Rectangle]) -> String {
    let one = |Rectangle { x, y, width, height }: &Rectangle| format!("M{x} {y}h{width}v{height}h-{width}z");
    rectangles.iter().map(one).collect()
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
