//! What deserves a look, at every size: whole sentences as long as there is room, and how many more there are.
//!
//! The first warning is never left out, because the gravest stands first. Not here: when a warning is raised
//! (`assessment::warning`), and its words (`phrase`).

use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use crate::phrase;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::theme::Theme;
use crate::text::Shown;
use crate::text::wrap::wrap;

/// Cells of the widest line.
const WIDEST: usize = 72;

/// The warnings as sentences, the gravest first; none while nothing deserves a look.
pub fn sentences(session: &OpenSession, desk: &Desk) -> Vec<String> {
    let (Some(assessment), Some(setup)) = (&session.assessment, &session.state.setup) else {
        return Vec::new();
    };
    assessment.warnings.iter().map(|warning| phrase::warning(warning, setup, desk.units)).collect()
}

/// As many of them as fit so many lines whole, the first cut where even that is too long, and how many are left out.
pub fn lines(session: &OpenSession, desk: &Desk, width: usize, room: usize) -> Vec<Line<'static>> {
    set(&sentences(session, desk), width, room, desk.theme)
}

fn set(sentences: &[String], width: usize, room: usize, theme: Theme) -> Vec<Line<'static>> {
    let width = width.min(WIDEST).saturating_sub(MARK.width());
    let mut lines: Vec<Line<'static>> = Vec::new();
    let mut entered = 0;
    for sentence in sentences {
        let wrapped = wrap(sentence, width);
        if lines.len() + wrapped.len() > room {
            break;
        }
        lines.extend(marked(wrapped, theme));
        entered += 1;
    }
    if let (0, Some(first)) = (entered, sentences.first()) {
        lines = marked(cut(&wrap(first, width), room, width), theme);
        entered = 1;
    }
    let more = sentences.len() - entered;
    if let (1.., Some(last)) = (more, lines.last_mut()) {
        let words = phrase::guide::more_warnings(more);
        let left = width.saturating_sub(words.width() + 1);
        for span in last.spans.iter_mut().skip(1) {
            span.content = Shown::from(span.content.as_ref()).fitted(left).into();
        }
        last.spans.push(Span::styled(format!(" {words}"), theme.quiet()));
    }
    lines
}

/// Before the first line of a warning.
const MARK: &str = "! ";

fn marked(lines: Vec<String>, theme: Theme) -> Vec<Line<'static>> {
    let marks = std::iter::once(MARK).chain(std::iter::repeat("  "));
    lines
        .into_iter()
        .zip(marks)
        .map(|(line, mark)| Line::from(vec![Span::styled(mark, theme.alert()), Span::raw(line)]))
        .collect()
}

/// The first lines, with a sign at the end that more was said.
fn cut(lines: &[String], room: usize, width: usize) -> Vec<String> {
    let mut cut: Vec<String> = lines.iter().take(room).cloned().collect();
    if let Some(last) = cut.last_mut().filter(|_| lines.len() > room) {
        *last = Shown::from(format!("{last} {}", lines[room]).as_str()).fitted(width);
    }
    cut
}

#[cfg(test)]
mod tests {
    use super::*;

    const BINDS: &str = "The 450 lb/in on the bike would bind: do not ride it.";
    const COLLAR: &str = "The collar is at 4 turns of preload. Back it off.";

    fn shown(room: usize) -> Vec<String> {
        let sentences = [BINDS.to_owned(), COLLAR.to_owned()];
        set(&sentences, 60, room, Theme::DARK).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn with_room_every_warning_is_whole() {
        assert_eq!(shown(5), [format!("! {BINDS}"), format!("! {COLLAR}")]);
    }

    #[test]
    fn with_a_single_line_the_first_is_there_and_how_many_more() {
        let [line] = &shown(1)[..] else { panic!("one line") };
        assert!(line.starts_with("! The 450 lb/in on the bike would bind"), "{line}");
        assert!(line.ends_with("+1, see help") && line.width() <= 60, "{line}");
    }

    #[test]
    fn nothing_to_warn_of_takes_no_line() {
        assert!(set(&[], 60, 5, Theme::DARK).is_empty());
    }
}
