//! How one past session looks: what it came to, its sets and springs, what was told, and the whole walk with times.
//!
//! On a wide screen the walk stands beside the rest and is what scrolls; on a small one everything is one column. Not here:
//! what is told of a session (`past`), and the words (`phrase`).

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

use super::past;
use super::past_session::{PastContent, PastSession};
use crate::document::{Block, Picture, Tone};
use crate::phrase;
use crate::screen::click_targets::ClickTargets;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::sag_columns::SagColumns;
use crate::screen::part::{document, set_table, spring_ladder};

/// From this width on the walk stands beside the rest.
const WIDE: u16 = 116;
/// Cells of the column beside it.
const BESIDE: u16 = 62;
/// The most sets and springs that are listed.
const MOST: usize = 12;

/// Draws it.
pub(super) fn draw(
    frame: &mut Frame<'_>,
    area: Rect,
    sitting: &PastSession,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let [facts, walk] = columns(sitting, desk);
    let session = match &sitting.seen {
        PastContent::Whole { session, .. } => Some(&**session),
        _ => None,
    };
    let set = |blocks: &[Block], area: Rect| {
        let picture = |picture: &Picture, width| {
            session.map_or_else(Vec::new, |one| draw_picture(picture, one, width, desk))
        };
        document::lines(blocks, usize::from(area.width), desk.theme, picture)
    };
    if area.width < WIDE {
        let lines = [set(&facts, area), set(&walk, area)].concat();
        return sitting.scroll.draw(frame, area, lines, click_targets);
    }
    let [left, _, right] =
        Layout::horizontal([Constraint::Length(BESIDE), Constraint::Length(3), Constraint::Min(1)])
            .areas(area);
    frame.render_widget(Paragraph::new(set(&facts, left)), left);
    sitting.scroll.draw(frame, right, set(&walk, right), click_targets);
}

fn draw_picture(picture: &Picture, session: &OpenSession, width: usize, desk: &Desk) -> Vec<Line<'static>> {
    match picture {
        Picture::Sets => set_table::lines(session, width, MOST, desk),
        Picture::Ladder => {
            let springs = spring_ladder::LadderSprings::of(session, None)
                .zip(SagColumns::of(session, width, desk.units));
            let ladder = springs.map(|(springs, columns)| {
                spring_ladder::ladder(springs, columns, phrase::guide::SPRINGS, MOST, desk.units, desk.theme)
                    .lines()
            });
            ladder.into_iter().flat_map(|lines| std::iter::once(Line::raw("")).chain(lines)).collect()
        }
        Picture::Travel(_) => Vec::new(),
    }
}

/// What is known of the session, and its walk.
fn columns(sitting: &PastSession, desk: &Desk) -> [Vec<Block>; 2] {
    let damage = |because: &str, way_out: Option<&str>| {
        let file = Block::Title(sitting.name.record(), String::new());
        [file, Block::Text(Tone::Alert, phrase::sentence(because))]
            .into_iter()
            .chain(way_out.map(|words| Block::Text(Tone::Plain, words.to_owned())))
            .collect::<Vec<_>>()
    };
    match &sitting.seen {
        PastContent::Whole { session, remark } => {
            let remark = remark.map(|remark| Block::Text(Tone::Alert, remark.to_owned()));
            let facts = past::heading(&session.record).into_iter().chain(remark);
            let facts =
                facts.chain(past::came_to(session, desk.units)).chain(past::entered(session, desk.units));
            [facts.collect(), past::walk(&session.record, phrase::guide::HISTORY, desk.units)]
        }
        PastContent::Before { because, version } => {
            let facts = damage(because, Some(phrase::review::GO_ON_BEFORE));
            [
                [facts, past::heading(version)].concat(),
                past::walk(version, phrase::review::BEFORE, desk.units),
            ]
        }
        PastContent::InPart { because, readable: None } => [damage(because, None), Vec::new()],
        PastContent::InPart { because, readable: Some(record) } => {
            let facts = damage(because, Some(phrase::review::GO_ON_IN_A_COPY));
            [
                [facts, past::heading(record)].concat(),
                past::walk(record, phrase::review::READABLE, desk.units),
            ]
        }
    }
}
