//! The picture below the step, where step and readings leave room: the shock while it is being read, and at the verdict the
//! springs across the band.
//!
//! Not here: how the pictures are drawn (`part`).

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::widgets::Paragraph;

use super::body::{self, Room};
use super::drawing::{Layouted, Scene};
use super::{Task, entry};
use crate::phrase;
use crate::screen::part::shock_picture::{self, ShockPicture};
use crate::screen::part::spring_ladder::Ladder;
use crate::session::Step;
use crate::units::Length;

/// The fewest lines a ladder is worth: heading, three rungs, legend.
pub(super) const LEAST_LADDER: u16 = 5;

/// Draws it into the lines left over, the first of them kept free where the picture does not need it.
pub(super) fn draw(frame: &mut Frame<'_>, left: Rect, scene: Scene<'_>) {
    let wanted = |height: u16| {
        let gap = u16::from(left.height > height);
        Rect { y: left.y.saturating_add(gap), height: left.height - gap, ..left }
    };
    match scene.task {
        Task::Seat | Task::Read => draw_shock(frame, wanted(shock_picture::HEIGHT), scene),
        Task::Choose if scene.session.state.step == Step::Decision => {
            let area = wanted(LEAST_LADDER);
            if scene.layout == Layouted::Wide {
                draw_shock(frame, area, scene);
            } else if area.height >= LEAST_LADDER {
                let room = Room { width: usize::from(area.width), height: usize::from(area.height) };
                let lines: Vec<_> = body::ladder(scene, None, phrase::guide::SPRINGS, room)
                    .into_iter()
                    .flat_map(Ladder::lines)
                    .collect();
                frame.render_widget(Paragraph::new(lines), area);
            }
        }
        _ => {}
    }
}

/// The shock with the indicator where it stands: as typed, at the mean of the set at the verdict, else at the seal.
fn draw_shock(frame: &mut Frame<'_>, area: Rect, scene: Scene<'_>) {
    let Scene { session, desk, .. } = scene;
    let moved = match scene.task {
        Task::Choose => session.present_finding().map(|set| set.average.value),
        task => entry::typed_reading(scene.guide, session, task, desk.units),
    };
    if let Some(shown) = ShockPicture::of(session, moved.unwrap_or(Length::ZERO)) {
        shock_picture::draw(frame, area, shown, desk.units, desk.theme);
    }
}
