//! What changes with the spring, over the whole screen: the spring on the bike, the next step and the landing spring, and
//! energy and ride height of every spring at hand as bars; in the room left below, the sag each rate comes to.
//!
//! Not here: the table itself (`part::changes_table`), the bars (`part::spring_bars`), the chart (`part::rate_chart`), and
//! which springs stand in it (`assessment::changes`).

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

use super::around::around_of;
use super::{Component, Place};
use crate::phrase::places;
use crate::phrase::{self, ChangesTable};
use crate::screen::click_targets::ClickTargets;
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Model, Reply};
use crate::screen::part::spring_bars::{self, Bars};
use crate::screen::part::{changes_table, rate_chart};
use crate::session::{Stamp, Step};

/// The place; what it shows is the session's.
#[derive(Debug)]
pub struct Changes;

impl Component for Changes {
    fn title(&self) -> &'static str {
        places::CHANGES
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        vec![Action::Accept, Action::Back]
    }

    fn step(&self, desk: &Desk) -> Option<Step> {
        desk.session.as_ref().map(|open| open.state.step)
    }

    fn figures(&self, desk: &Desk) -> Option<Place> {
        around_of(desk)
    }

    fn enter(&self, _: &Desk) -> Option<String> {
        Some(phrase::enter::BACK.to_owned())
    }

    fn update(&mut self, _: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        match pressed {
            Pressed::Action(Action::Accept | Action::Back) => Reply::going(Go::Back),
            _ => Reply::stay(),
        }
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, _: &mut ClickTargets) {
        draw(frame, area, &model.desk);
    }
}

/// From this width on the bars stand beside the table.
const WIDE: u16 = 132;
/// Cells of the table beside them.
const TABLE: u16 = 78;

/// Draws it: the table, the bars beside it or below, and the chart of sag against rate in what room is left.
fn draw(frame: &mut Frame<'_>, area: Rect, desk: &Desk) {
    let Some(table) = table(desk) else { return };
    if area.width >= WIDE {
        let [left, right] = Layout::horizontal([Constraint::Length(TABLE), Constraint::Min(1)]).areas(area);
        let table_lines = changes_table::draw(frame, left, &table, desk.theme);
        let heading = [Line::styled(phrase::guide::SPRINGS, desk.theme.title()), Line::raw("")];
        let below = Rect { height: right.height.saturating_sub(2), ..right };
        let lines: Vec<Line<'_>> = heading.into_iter().chain(bars(desk, below)).collect();
        let taken = table_lines.max(u16::try_from(lines.len()).unwrap_or(u16::MAX));
        frame.render_widget(Paragraph::new(lines), right);
        return draw_chart(frame, area, taken, desk);
    }
    let taken = changes_table::draw(frame, area, &table, desk.theme);
    let left = area.height.saturating_sub(taken);
    let below = Rect { y: area.bottom().saturating_sub(left), height: left, ..area };
    let lines = bars(desk, below);
    let blank = usize::from(left).saturating_sub(lines.len()).min(1);
    let lines: Vec<Line<'_>> = std::iter::repeat_n(Line::raw(""), blank).chain(lines).collect();
    let more = u16::try_from(lines.len()).unwrap_or(u16::MAX);
    frame.render_widget(Paragraph::new(lines), below);
    draw_chart(frame, area, taken.saturating_add(more), desk);
}

/// The sag every rate comes to, below so many lines; the chart leaves itself out where too few are left.
fn draw_chart(frame: &mut Frame<'_>, area: Rect, taken: u16, desk: &Desk) {
    let left = area.height.saturating_sub(taken.saturating_add(1));
    let below = Rect { y: area.bottom().saturating_sub(left), height: left, ..area };
    if let Some(session) = &desk.session {
        rate_chart::draw(frame, below, session, desk.units, desk.theme);
    }
}

fn bars(desk: &Desk, area: Rect) -> Vec<Line<'static>> {
    let Some(session) = &desk.session else { return Vec::new() };
    let Some(assessment) = &session.assessment else { return Vec::new() };
    let bars = Bars { assessment, springs: &session.state.entered.springs, units: desk.units };
    spring_bars::lines(bars, usize::from(area.width), usize::from(area.height), desk.theme)
}

/// The table of the session on the desk; none while there is no spring to speak of.
pub fn table(desk: &Desk) -> Option<ChangesTable> {
    let session = desk.session.as_ref()?;
    let (setup, assessment) = (session.state.setup.as_ref()?, session.assessment.as_ref()?);
    phrase::changes(&assessment.changes, setup, desk.units)
}
