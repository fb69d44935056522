//! The sets of quick trials, a row each: spring and collar, its readings on the scale of sag, what it says, its chance by all
//! readings together, and which is best; below them the springs not tried, as far as there is room.
//!
//! Not here: every trial by itself (`table`).

use ratatui::text::{Line, Span};

use crate::assessment::SetFinding;
use crate::phrase;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::sag_columns::SagColumns;
use crate::screen::part::set_chart;
use crate::screen::part::spring_ladder::{self, LadderSprings};
use crate::units::{Share, Turns};

/// Cells of the chance behind a set, and of the sign of the best.
const CHANCE: usize = 8;
const BEST: usize = 7;
/// The fewest lines the springs not tried are worth: heading, rungs, legend.
const LEAST_LADDER: usize = 5;

/// Lines that all sets take, with their heading.
pub(super) fn lines_of(session: &OpenSession) -> u16 {
    let sets = session.assessment.as_ref().map_or(0, |assessment| assessment.sets.len());
    u16::try_from(sets + 1).unwrap_or(u16::MAX)
}

/// The lines that fit: the last sets with their heading, and the spring list where it has room below.
pub(super) fn lines(session: &OpenSession, width: usize, room: usize, desk: &Desk) -> Vec<Line<'static>> {
    let (units, theme) = (desk.units, desk.theme);
    let narrow = width.saturating_sub(CHANCE + BEST);
    let Some(columns) = SagColumns::of(session, narrow, units) else { return Vec::new() };
    let sets = session.assessment.as_ref().map_or(&[][..], |assessment| &assessment.sets);
    let best = best(sets).filter(|set| !phrase::is_hardly(chance_of(set))).map(|set| set.number);
    let mut heading = columns.heading(phrase::guide::SETS, phrase::guide::SET_COLUMNS, theme);
    heading.spans.push(Span::styled(format!("{:>CHANCE$}", phrase::guide::CHANCE), theme.quiet()));
    let mut lines = vec![heading];
    if sets.is_empty() {
        lines.push(Line::styled(phrase::guide::NO_SETS, theme.quiet()));
    }
    for set in sets.iter().skip(sets.len().saturating_sub(room.saturating_sub(1))) {
        let mut line = set_chart::line(set, session, columns, units, theme);
        let chance = set.chance.map(phrase::in_tens).unwrap_or_default();
        line.spans.push(Span::styled(format!("{chance:>CHANCE$}"), theme.text()));
        if best == Some(set.number) {
            line.spans.push(Span::styled(format!(" {}", phrase::trials::BEST), theme.good()));
        }
        lines.push(line);
    }
    let left = room.saturating_sub(lines.len() + 1);
    if let (true, Some(springs)) = (left >= LEAST_LADDER, LadderSprings::of(session, None)) {
        lines.push(columns.gap(theme));
        let ladder = spring_ladder::ladder(springs, columns, phrase::guide::SPRINGS, left - 1, units, theme);
        lines.extend(ladder.lines());
    }
    lines
}

/// Which set wins and what comes next, in a sentence; none while there is nothing to compare.
pub(super) fn contest(session: &OpenSession, desk: &Desk) -> Option<String> {
    let sets = &session.assessment.as_ref()?.sets;
    let places = places(sets);
    let best = best(sets)?;
    let rival = places.iter().filter(|set| set.number != best.number && set.chance.is_some());
    let rival = rival.max_by(|one, other| order(one).total_cmp(&order(other)))?;
    let named = |set: &SetFinding| (set_chart::name(set, session, desk.units), chance_of(set));
    Some(phrase::trials::contest(&named(best), &named(rival)))
}

/// The last set of every spring at every collar position.
fn places(sets: &[SetFinding]) -> Vec<&SetFinding> {
    let is_last = |at: usize, set: &SetFinding| {
        let place = |other: &SetFinding| {
            (other.spring, other.preload_turns, other.how) == (set.spring, set.preload_turns, set.how)
        };
        !sets[at + 1..].iter().any(place)
    };
    sets.iter().enumerate().filter(|(at, set)| is_last(*at, set)).map(|(_, set)| set).collect()
}

/// The one likeliest to be on target; of two alike the one with less preload.
fn best(sets: &[SetFinding]) -> Option<&SetFinding> {
    let judged = places(sets).into_iter().filter(|set| set.chance.is_some());
    judged.max_by(|one, other| {
        let preload = |set: &SetFinding| (Turns::ZERO - set.preload_turns).value();
        order(one).total_cmp(&order(other)).then(preload(one).total_cmp(&preload(other)))
    })
}

fn order(set: &SetFinding) -> f64 {
    chance_of(set).as_fraction()
}

fn chance_of(set: &SetFinding) -> Share {
    set.chance.unwrap_or(Share::ZERO)
}
