//! What is told of one past session, as a document: whose it was, what it came to, what was told, and the whole walk.
//!
//! Not here: how it is set (`page`, and the writers of `document`).

use crate::document::{Block, Picture, Tone};
use crate::phrase;
use crate::screen::model::OpenSession;
use crate::session::{Deed, Detail, Origin, Record, Step, machine};
use crate::text::FreeText;
use crate::units::UnitSet;

/// Cells of a name.
const NAME: usize = 38;

/// Whose session it was, and when.
pub(super) fn heading(record: &Record) -> Vec<Block> {
    let names = [&record.intake.customer, &record.intake.bike_name];
    let names: Vec<String> =
        names.iter().filter(|name| !name.is_empty()).map(|name| name.shown().fitted(NAME)).collect();
    let name = if names.is_empty() { phrase::review::NO_NAME.to_owned() } else { names.join(" · ") };
    let opened = record.opened.format("%A, %-d %B %Y, %H:%M").to_string();
    let invented =
        (record.intake.origin == Origin::Demonstration).then_some(Block::Mark(phrase::DEMONSTRATION));
    std::iter::once(Block::Title(name, opened)).chain(invented).collect()
}

/// The advice, the sets, the springs and the warnings of its assessment.
pub(super) fn came_to(session: &OpenSession, units: UnitSet) -> Vec<Block> {
    let state = &session.state;
    let plain = |words: String| Block::Text(Tone::Plain, words);
    let start = session.outlook.as_ref();
    let start = start.and_then(|one| phrase::review::start_with(&one.assessment, &one.setup, units));
    let heading =
        [Block::Heading(phrase::review::CAME_TO.to_owned()), plain(phrase::review::came_to(state, units))];
    let mut blocks: Vec<Block> = heading.into_iter().chain(start.map(plain)).collect();
    let (Some(setup), Some(assessment)) = (&state.setup, &session.assessment) else { return blocks };
    if state.step != Step::Closed {
        let advice = phrase::advice(assessment, setup, units);
        blocks.push(plain(format!("{}. {}", advice.headline, advice.reason)));
    }
    let findings = &assessment.findings;
    let needed = phrase::review::needed(findings.needed_rate, units);
    blocks.push(plain(format!("{}: {}. {needed}", phrase::review::LOAD, findings.load.shown(units))));
    blocks.extend(assessment.trail.as_ref().map(|finding| plain(phrase::trail_finding(finding, units))));
    let warnings = assessment.warnings.iter().map(|warning| phrase::warning(warning, setup, units));
    blocks.extend(warnings.map(|words| Block::Text(Tone::Alert, words)));
    blocks.push(Block::Heading(phrase::guide::SETS.to_owned()));
    blocks.extend([Picture::Sets, Picture::Ladder].map(Block::Picture));
    blocks
}

/// Every detail, as it stood at the end.
pub(super) fn entered(session: &OpenSession, units: UnitSet) -> Vec<Block> {
    let entered = &session.state.entered;
    let words = |detail: Detail| match &detail {
        Detail::Notes(notes) => phrase::review::notes(notes),
        detail => phrase::opening(&phrase::detail(detail, units, &entered.springs)),
    };
    vec![Block::List(
        phrase::review::ENTERED,
        entered.details().into_iter().map(words).collect(),
        crate::document::Size::Plain,
    )]
}

/// Every deed with its time; what was taken back is there and says so.
pub(super) fn walk(record: &Record, title: &str, units: UnitSet) -> Vec<Block> {
    let in_effect = machine::in_effect(record);
    // Springs may have joined the list since the intake; a walk that does not fold tells of those it began with.
    let state = machine::replay(record);
    let springs = state.as_ref().map_or(&record.intake.springs, |state| &state.entered.springs);
    let mut blocks = vec![Block::Heading(title.to_owned())];
    let (mut day, mut by) = (record.opened.date_naive(), FreeText::empty());
    for (index, entry) in record.entries.iter().enumerate() {
        if entry.at.date_naive() != day {
            day = entry.at.date_naive();
            blocks.push(Block::Text(Tone::Strong, phrase::review::day(entry.at)));
        }
        if entry.by != by {
            by = entry.by.clone();
            if !by.is_empty() {
                blocks.push(Block::Text(Tone::Quiet, phrase::review::by(&by)));
            }
        }
        let counts = in_effect.binary_search(&index).is_ok() || phrase::review::is_about_others(&entry.deed);
        let words = phrase::deed(&entry.deed, units, springs);
        let (words, tone) = if counts {
            (words, weight(&entry.deed))
        } else {
            (format!("{words} ({})", phrase::review::TAKEN_BACK), Tone::Void)
        };
        blocks.push(Block::Lines(vec![(entry.at.format("%H:%M").to_string(), tone, words)]));
    }
    blocks
}

/// Readings, changes and decisions stand out from ticks and cautions.
fn weight(deed: &Deed) -> Tone {
    match deed {
        Deed::CautionSeen(_) | Deed::Ticked(..) | Deed::IndicatorSeated => Tone::Quiet,
        Deed::Read { .. } | Deed::Trial { .. } | Deed::Decided(_) | Deed::Swapped { .. } => Tone::Strong,
        _ => Tone::Plain,
    }
}
