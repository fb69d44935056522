//! The shock lying on the bench beside a ruler, drawn to scale: how far the indicator went, where the aim band lies on the
//! shaft, and where the coils of this spring would touch.
//!
//! ```text
//!        ┃╱  ╱  ╱  ╱  ╱  ╱  ╱  ╱  ╱  ╱┃      collar, coils, perch
//!  ◎█████┃████━━━━━━━━━━━━▌━━━━━━━━━━━┃━◎    body, shaft, indicator
//!        ┃╱  ╱  ╱  ╱  ╱  ╱  ╱  ╱  ╱  ╱┃
//!            0    10   20   30   40          the ruler, nought at the seal
//! ```
//!
//! The target range is the ground of shaft, coils and ruler alike, and the indicator stands on it exactly when the reading is
//! in the range.
//! Only what lies along the shaft is to scale. It is shown as the mechanic reads it: the rider off, the shock extended.
//! Not here: what the reading means.

use std::ops::Range;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;
use unicode_width::UnicodeWidthStr;

use super::target::{self, Lies};
use crate::phrase;
use crate::screen::model::OpenSession;
use crate::screen::theme::Theme;
use crate::session::Target;
use crate::units::{Length, Share, Show, UnitSet};

/// Lines of the whole picture: three of shock and spring, the ruler, and what it shows in words.
pub const HEIGHT: u16 = 5;
/// Lines below which there is no picture: without coils and ruler.
pub const LEAST_HEIGHT: u16 = 2;
/// The most cells it takes: more would not be read more finely.
const WIDEST: u16 = 84;
/// The fewest cells it can be told on.
const NARROWEST: u16 = 40;
/// Cells of the eye and the body up to the seal.
const BODY: u16 = 11;
/// Cells of the body between collar and seal, at contact.
const BELOW_COLLAR: u16 = 4;
/// Cells from the end of the scale to the end of the picture: perch and eye.
const PERCH: u16 = 3;
/// Cells from one coil to the next.
const PITCH: u16 = 3;

/// What the picture shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShockPicture {
    /// Stroke of the shock.
    stroke: Length,
    /// The band wanted.
    target: Target,
    /// How far the collar stands past contact.
    preload: Length,
    /// How far the spring on the bike may be compressed, where that is known.
    spring_stroke: Option<Length>,
    /// How far the indicator has moved.
    moved: Length,
}

impl ShockPicture {
    /// The shock of a session with the indicator moved this far; none while the intake is open.
    pub fn of(session: &OpenSession, moved: Length) -> Option<Self> {
        let setup = session.state.setup.as_ref()?;
        let preload_turns = session.state.present_set().map(|set| set.preload_turns).unwrap_or_default();
        Some(Self {
            stroke: setup.shock.stroke,
            target: setup.target,
            preload: setup.shock.preload(preload_turns),
            spring_stroke: session.state.fitted().and_then(|spring| spring.stroke),
            moved: if moved < setup.shock.stroke { moved } else { setup.shock.stroke },
        })
    }

    /// The band as distances from the seal.
    fn band(self) -> (Length, Length) {
        (self.target.low().of(self.stroke), self.target.high().of(self.stroke))
    }

    /// How the indicator lies to the band.
    fn lies(self) -> Lies {
        let sag = Share::fraction(self.moved / self.stroke);
        match () {
            () if self.target.holds(sag) => Lies::Inside,
            () if sag < self.target.sag => Lies::Below,
            () => Lies::Above,
        }
    }

    /// Where along the stroke the coils would touch.
    fn coils_touch(self) -> Option<Length> {
        self.spring_stroke.map(|stroke| stroke - self.preload)
    }
}

/// Cells and half cells along the shaft.
#[derive(Clone, Copy)]
struct PictureScale {
    area: Rect,
    /// The column where the shaft leaves the seal.
    seal: u16,
    /// Half cells a millimetre takes.
    halves_per_mm: f64,
}

impl PictureScale {
    /// Where something along the shaft lies, in half cells from the seal.
    fn halves(self, along: Length) -> f64 {
        along.as_mm() * self.halves_per_mm
    }

    /// The nearest border between half cells, counted from the seal.
    fn border(self, along: Length) -> u16 {
        // Kept within the picture first, so the cast can neither wrap nor lose anything.
        let most = 2.0 * f64::from(self.area.right().saturating_sub(self.seal));
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "kept within the picture"
        )]
        let border = self.halves(along).round().clamp(0.0, most) as u16;
        border
    }

    /// The column in which a place on the shaft lies.
    fn column(self, along: Length) -> u16 {
        self.seal + self.border(along) / 2
    }

    fn put(self, frame: &mut Frame<'_>, column: u16, line: u16, symbol: &str, style: Style) {
        let place = Rect { x: column, y: self.area.y + line, width: 1, height: 1 };
        if place.intersection(self.area) == place {
            let cell = &mut frame.buffer_mut()[(place.x, place.y)];
            // What a coil drawn before left of its style must not dim the mark.
            cell.reset();
            cell.set_symbol(symbol).set_style(style);
        }
    }
}

/// Draws it at the top of the area, with what the room leaves out left out; nothing where it could not be read.
pub fn draw(frame: &mut Frame<'_>, area: Rect, shown: ShockPicture, units: UnitSet, theme: Theme) {
    let area = area.intersection(frame.area());
    let area = Rect { width: area.width.min(WIDEST), ..area };
    if area.width < NARROWEST || area.height < LEAST_HEIGHT {
        return;
    }
    let cells = f64::from(area.width - BODY - PERCH);
    let bench = PictureScale { area, seal: area.x + BODY, halves_per_mm: 2.0 * cells / shown.stroke.as_mm() };
    // With four lines the words say what the ruler would; with fewer there is no room for the coils either.
    let with_coils = area.height >= HEIGHT - 1;
    let shaft = u16::from(with_coils);
    if with_coils {
        draw_spring(frame, bench, shown, theme);
    }
    draw_shock(frame, bench, shown, shaft, theme);
    draw_indicator(frame, bench, shown, shaft, theme);
    if let Some(at) = shown.coils_touch().filter(|at| *at < shown.stroke) {
        bench.put(frame, bench.column(at), shaft, "×", theme.alert());
    }
    let mut next = if with_coils { 3 } else { 1 };
    if area.height >= HEIGHT {
        draw_ruler(frame, bench, shown, next, units, theme);
        next += 1;
    }
    lay_target(frame, bench, shown, next, theme);
    let words = Rect { y: area.y + next, height: 1, ..area }.intersection(area);
    frame.render_widget(Paragraph::new(words_for(shown, area.width, units, theme)), words);
}

/// Collar and perch with the coils between, above and below the shaft.
fn draw_spring(frame: &mut Frame<'_>, bench: PictureScale, shown: ShockPicture, theme: Theme) {
    let collar = collar(bench, shown);
    let perch = bench.area.right() - PERCH + 1;
    for line in [0, 2] {
        bench.put(frame, collar, line, "┃", theme.text());
        bench.put(frame, perch, line, "┃", theme.text());
        for column in collar + 1..perch {
            // A strand goes down two lines on its way, so the one below is set back by as many cells.
            if (column - collar + line).is_multiple_of(PITCH) {
                bench.put(frame, column, line, "╱", theme.quiet());
            }
        }
    }
}

/// The column of the collar: turned past contact, it stands nearer to the seal.
fn collar(bench: PictureScale, shown: ShockPicture) -> u16 {
    let contact = bench.seal - BELOW_COLLAR;
    (contact + bench.border(shown.preload) / 2).min(bench.seal - 1)
}

/// Eyes, body and shaft.
fn draw_shock(frame: &mut Frame<'_>, bench: PictureScale, shown: ShockPicture, line: u16, theme: Theme) {
    let (left, right) = (bench.area.x, bench.area.right());
    bench.put(frame, left, line, "◎", theme.text());
    for column in left + 1..bench.seal {
        bench.put(frame, column, line, "█", theme.quiet());
    }
    for column in bench.seal..right - 1 {
        bench.put(frame, column, line, "━", theme.text());
    }
    bench.put(frame, collar(bench, shown), line, "┃", theme.text());
    bench.put(frame, right - PERCH + 1, line, "┃", theme.text());
    bench.put(frame, right - 1, line, "◎", theme.text());
}

/// The cells of the target range, from the seal.
fn range(bench: PictureScale, shown: ShockPicture) -> Range<usize> {
    let (low, high) = shown.band();
    target::cells([low, high].map(|edge| bench.halves(edge)))
}

/// The target range as the ground of so many lines.
fn lay_target(frame: &mut Frame<'_>, bench: PictureScale, shown: ShockPicture, lines: u16, theme: Theme) {
    let range = range(bench, shown);
    let column = |cell: usize| bench.seal.saturating_add(u16::try_from(cell).unwrap_or(u16::MAX));
    let upright =
        |x: u16, width: u16| Rect { x, y: bench.area.y, width, height: lines }.intersection(bench.area);
    let (first, end) = (column(range.start), column(range.end));
    let edges = [upright(first.saturating_sub(1), 1), upright(end, 1)];
    target::lay(frame.buffer_mut(), upright(first, end.saturating_sub(first)), edges, target::EDGE, theme);
}

/// The ring on the shaft, exact to half a cell; its rim stands out above.
fn draw_indicator(frame: &mut Frame<'_>, bench: PictureScale, shown: ShockPicture, line: u16, theme: Theme) {
    let range = range(bench, shown);
    let half = target::half(bench.halves(shown.moved), shown.lies(), &(2 * range.start..2 * range.end));
    let last = bench.area.right().saturating_sub(1);
    let column = bench.seal.saturating_add(u16::try_from(half / 2).unwrap_or(u16::MAX)).min(last);
    let [rim, ring] = if half.is_multiple_of(2) { ["▖", "▌"] } else { ["▗", "▐"] };
    if line > 0 {
        bench.put(frame, column, line - 1, rim, theme.strong());
    }
    bench.put(frame, column, line, ring, theme.strong());
}

/// Figures along the shaft, nought at the seal, and the end of the stroke.
fn draw_ruler(
    frame: &mut Frame<'_>,
    bench: PictureScale,
    shown: ShockPicture,
    line: u16,
    units: UnitSet,
    theme: Theme,
) {
    let step = if units == UnitSet::Imperial { Length::inches(0.5) } else { Length::mm(10.0) };
    let area = bench.area;
    let y = area.y + line;
    let end = units.show(shown.stroke);
    let at = area.right().saturating_sub(u16::try_from(end.width()).unwrap_or(area.width));
    frame.buffer_mut().set_stringn(at, y, &end, usize::from(area.width), theme.quiet());
    let mut along = Length::ZERO;
    while along < shown.stroke {
        // Sums of steps carry the last digits of binary fractions; a ruler has none.
        let figure = match units {
            UnitSet::Imperial => ((along.as_inches() * 10.0).round() / 10.0).to_string(),
            UnitSet::Trade | UnitSet::Metric => along.as_mm().round().to_string(),
        };
        let width = u16::try_from(figure.width()).unwrap_or(area.width);
        let column = bench.column(along).saturating_sub(width / 2);
        if column + width + 1 < at {
            frame.buffer_mut().set_stringn(column, y, &figure, usize::from(width), theme.quiet());
        }
        along += step;
    }
}

/// What the marks are, in words and figures: in full where the line is long enough, else the figures alone.
fn words_for(shown: ShockPicture, width: u16, units: UnitSet, theme: Theme) -> Line<'static> {
    let (low, high) = shown.band();
    let at = shown.coils_touch();
    let binds = at.is_some_and(|at| at < shown.stroke);
    let limit = phrase::guide::coils_touch(at, units);
    let limit = if binds { format!("× {limit}") } else { limit };
    let in_full = [
        phrase::guide::indicator(shown.moved, units),
        phrase::guide::band_on_the_shaft(low, &units.show(high), units),
    ];
    let in_short = [
        shown.moved.ruled(units).figure,
        phrase::guide::band_on_the_shaft(low, &high.written(units).figure, units),
    ];
    let line = |[indicator, target]: [String; 2]| {
        Line::from(vec![
            Span::styled(format!("▌ {indicator}   "), theme.strong()),
            target::sample(theme),
            Span::raw(format!(" {target}   ")),
            Span::styled(limit.clone(), if binds { theme.alert() } else { theme.quiet() }),
        ])
    };
    let full = line(in_full);
    if full.width() <= usize::from(width) { full } else { line(in_short) }
}

#[cfg(test)]
mod tests;
