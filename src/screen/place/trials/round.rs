//! What stands round the sets of quick trials: which of them wins, what deserves a look, the shock, and what the line takes.
//!
//! Sets that would not be seen are worth more than any of it, so it gives way in order: the picture first, then reasons and
//! all but one line of warnings, then the rule and the hint. A caution never does. Not here: where it is drawn (`drawing`).

use ratatui::layout::Rect;
use ratatui::text::Line;

use super::drawing::{TEXT, hand};
use super::{Trials, line, sets};
use crate::phrase;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::condition_line;
use crate::screen::part::{shock_picture, warnings};
use crate::text::wrap::wrap;

/// The most lines of warnings.
const WARNINGS: usize = 3;
/// From so many lines below the verdict on there is room for the shock.
const ROOMY: u16 = 21;

/// What stands round the sets.
pub(super) struct RoundTheSets {
    /// What compares them.
    pub(super) told: Vec<Line<'static>>,
    /// What deserves a look.
    pub(super) warnings: Vec<Line<'static>>,
    /// What the line takes, or the caution of what is typed.
    pub(super) hints: Vec<Line<'static>>,
    /// Lines of the picture.
    pub(super) picture: u16,
    /// Lines of the entry: rule, field, how it is understood, and hints.
    pub(super) entry: u16,
}

impl RoundTheSets {
    /// What is shown where there is so much room below the verdict.
    pub(super) fn of(
        trials: &Trials,
        session: &OpenSession,
        untold: Option<&str>,
        room: Rect,
        desk: &Desk,
    ) -> Self {
        let width = usize::from(room.width);
        let hints = hints(trials, session, desk);
        let mut round = Self {
            told: told(session, untold, width, desk),
            warnings: warnings::lines(session, desk, width, WARNINGS),
            entry: 3 + lines_of(&hints),
            hints,
            picture: if room.height >= ROOMY { shock_picture::HEIGHT + 1 } else { 0 },
        };
        let rows = sets::lines_of(session);
        let hides_some = |round: &Self| room.height.saturating_sub(round.lines()) < rows;
        if hides_some(&round) {
            round.picture = 0;
        }
        if hides_some(&round) {
            round.told = told(session, None, width, desk);
            round.warnings = warnings::lines(session, desk, width, 1);
        }
        if hides_some(&round) {
            round.entry = 2;
        }
        round
    }

    /// All its lines, that of the present readings among them.
    fn lines(&self) -> u16 {
        1 + lines_of(&self.told) + lines_of(&self.warnings) + self.picture + self.entry
    }
}

fn lines_of(lines: &[Line<'_>]) -> u16 {
    u16::try_from(lines.len()).unwrap_or(u16::MAX)
}

/// Which set wins, and the reason of the advice where it found no room above.
fn told(session: &OpenSession, untold: Option<&str>, width: usize, desk: &Desk) -> Vec<Line<'static>> {
    let compared = condition_line::difference(session, desk).into_iter().chain(sets::contest(session, desk));
    let contest = compared.flat_map(|words| wrap(&words, width.min(TEXT)));
    let contest = contest.map(|line| Line::styled(line, desk.theme.strong()));
    let untold = untold.into_iter().flat_map(|words| wrap(words, width.min(TEXT))).map(Line::raw);
    contest.chain(untold).collect()
}

/// What the line takes, while that helps; the caution of what is typed in its place.
fn hints(trials: &Trials, session: &OpenSession, desk: &Desk) -> Vec<Line<'static>> {
    let Some(setup) = &session.state.setup else { return Vec::new() };
    let theme = desk.theme;
    let taken: usize = session.state.sets.iter().map(|set| set.readings.len()).sum();
    let some = if taken < phrase::trials::HINTED { 3 } else { 1 };
    let forms = phrase::trials::takes(desk.units).into_iter().take(some);
    let mut hints: Vec<_> = forms.map(|hint| Line::styled(hint, theme.quiet())).collect();
    // In the line of the first, so that nothing moves as one types.
    if let Some(caution) = line::caution(trials.field.text(), hand(setup, session, desk), desk.units) {
        hints[0] = Line::styled(format!("! {}", phrase::caution(caution).headline), theme.alert());
    } else if trials.below > 0 {
        hints[0] = Line::styled(phrase::trials::ALL_TRIALS, theme.quiet());
    }
    hints
}
