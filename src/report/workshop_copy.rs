//! The workshop's own copy: everything of a session on paper, for whoever works on the bike next.
//!
//! Every text in it is safe to show on a terminal; the page escapes it on top. Lists that could outgrow a sheet are cut
//! here, and the card says how much was left out. Not here: the rider's card (`card`), columns,
//! markup and the drawing.

use crate::assessment::{Advice, Forecast, SetFinding, Standing, Warning};
use crate::document::{Block, Cells, Picture, Size, Table, Travel};
use crate::phrase::{self, CautionWords};
use crate::session::{Caution, Fact, Origin, ReadingSet, Record, Setup, State, TrailReport};
use crate::text::Shown;
use crate::units::display::Show;
use crate::units::{Share, Turns, UnitSet};

use super::Subject;

/// Sets shown at most, the newest; a whole session is in the record.
const MOST_SETS: usize = 12;
/// Readings of a set shown at most.
const MOST_READINGS: usize = 8;
/// Trail checks shown at most, the newest.
const MOST_TRAIL_CHECKS: usize = 3;
/// Warnings shown at most.
const MOST_WARNINGS: usize = 4;
/// Names of mechanics shown at most.
const MOST_MECHANICS: usize = 4;
/// The longest name, in terminal cells.
pub(super) const NAME_CELLS: usize = 60;
/// The longest note, in terminal cells.
const NOTE_CELLS: usize = 160;

/// Cautions for whoever rides or opens the bike next.
const CAUTIONS: [Caution; 4] =
    [Caution::FirstRide, Caution::LooseBolts, Caution::LooseCollar, Caution::LoadedSpring];

/// Everything of a session, in the units of the set.
pub fn workshop_copy(subject: &Subject<'_>, record: &Record, units: UnitSet) -> Vec<Block> {
    let Subject { setup, assessment, .. } = *subject;
    let present = present_finding(subject);
    let at_rest = assessment.present();
    // Whoever went on without a further reading knew better; that is nothing to be told on a card.
    let settled = matches!(assessment.advice, Advice::Keep { .. } | Advice::ReadAgain { .. });
    let open = (!settled).then(|| phrase::advice(assessment, setup, units));
    let open = open.map(|open| format!("{}. {}", open.headline, open.reason));
    let caution = |words: &CautionWords| format!("{}. {}", words.headline, words.text);
    let cautions = CAUTIONS.into_iter().map(phrase::caution).map(caution).collect();
    let again = phrase::RECHECK.map(str::to_owned).into();
    let mut card =
        vec![Block::Title("Workshop copy".to_owned(), record.opened.format("%-d %B %Y").to_string())];
    card.extend(marks(subject).into_iter().map(Block::Mark));
    card.extend([
        Block::Facts(facts(subject, units).into_iter().chain(mechanics(record)).collect()),
        Block::Figure(
            "Sag",
            present
                .and(at_rest)
                .map(|forecast| sag(forecast, setup, units))
                .ok_or("not measured yet with this setup"),
        ),
        Block::Picture(Picture::Travel(travel(setup, present.zip(at_rest), units))),
        Block::Table(tried(subject, units)),
        Block::List("Trail feedback", trail(subject, units), Size::Plain),
        Block::List("Still open", open.into_iter().collect(), Size::Plain),
        Block::List("Mind", warnings(subject, units), Size::Plain),
    ]);
    let around = phrase::around::sections(setup, subject.state, assessment, units).into_iter();
    card.extend(around.map(|(title, entered)| Block::List(title, entered, Size::Plain)));
    card.extend([
        Block::Beside(vec![
            Block::List("Cautions", cautions, Size::Small),
            Block::List("After the first ride, check (common practice)", again, Size::Plain),
        ]),
        Block::Last(phrase::MAKERS_FIRST),
    ]);
    card
}

/// The finding of the set under way with the spring on the bike.
pub(super) fn present_finding<'a>(subject: &Subject<'a>) -> Option<&'a SetFinding> {
    subject.state.present_set()?;
    subject.assessment.sets.last().filter(|set| set.number == subject.state.sets.len())
}

pub(super) fn marks(subject: &Subject<'_>) -> Vec<&'static str> {
    let state = subject.state;
    let demonstration = (state.entered.origin == Origin::Demonstration).then_some(phrase::DEMONSTRATION);
    let checked = state.step.is_after_the_final_checks();
    let open = (!checked).then_some(phrase::FINAL_CHECKS_OPEN);
    let changed = (!subject.seal.is_sound()).then_some(phrase::folder::CHANGED_OUTSIDE);
    demonstration.into_iter().chain(changed).chain(open).collect()
}

fn facts(subject: &Subject<'_>, units: UnitSet) -> Vec<(&'static str, String)> {
    let Subject { setup, state, .. } = *subject;
    let named = |name: &crate::text::FreeText, weight: String| {
        let name = name.shown().fitted(NAME_CELLS);
        if name.is_empty() { weight } else { format!("{name}, {weight}") }
    };
    let entered = |fact, figure| entered(setup, fact, figure);
    let spring = state.fitted().map_or_else(
        || "none fitted".to_owned(),
        |spring| phrase::spring(spring.number, &setup.springs, units),
    );
    let facts = vec![
        (
            "Rider",
            named(
                &state.entered.customer,
                entered(Fact::Rider, format!("{} ready to ride", units.show(setup.rider))),
            ),
        ),
        ("Bike", named(&state.entered.bike_name, entered(Fact::Bike, units.show(setup.bike)))),
        ("Shock stroke", units.show(setup.shock.stroke)),
        ("Wheel travel", entered(Fact::Travel, units.show(setup.travel))),
        ("Spring fitted", spring),
        ("Preload", preload(subject, units)),
        ("Target sag", band(setup, units)),
    ];
    facts.into_iter().chain(read_with(state, units)).collect()
}

/// Who worked on the bike, in the order they came to it.
fn mechanics(record: &Record) -> Option<(&'static str, String)> {
    let mut names: Vec<String> = Vec::new();
    for entry in record.entries.iter().filter(|entry| !entry.by.is_empty()) {
        let name = entry.by.shown().fitted(NAME_CELLS);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names.truncate(MOST_MECHANICS);
    (!names.is_empty()).then(|| (phrase::review::MECHANIC, names.join(", ")))
}

/// A figure, and where nobody entered it, that it is typical or missing.
pub(super) fn entered(setup: &Setup, fact: Fact, figure: String) -> String {
    match fact {
        fact if setup.is_entered(fact) => figure,
        Fact::Rider | Fact::Travel => phrase::NOT_ENTERED.to_owned(),
        _ => format!("{figure} ({})", phrase::intake::TYPICAL),
    }
}

pub(super) fn preload(subject: &Subject<'_>, units: UnitSet) -> String {
    let Some(set) = subject.state.present_set() else { return "not set yet".to_owned() };
    if set.preload_turns == Turns::ZERO {
        return format!("none, {}", phrase::collar(set.preload_turns, units));
    }
    let preload = units.show(subject.setup.shock.preload(set.preload_turns));
    let typical = if subject.setup.is_entered(Fact::CollarPitch) { "" } else { " with a typical thread" };
    format!("{} of preload ({preload}{typical})", units.show(set.preload_turns))
}

pub(super) fn band(setup: &Setup, units: UnitSet) -> String {
    phrase::target_range(setup.target, units)
}

fn range(low: Share, high: Share, units: UnitSet) -> String {
    format!("{} to {}", units.show(low), units.show(high))
}

/// The sag at rest, as all readings have it.
fn sag(present: &Forecast, setup: &Setup, units: UnitSet) -> [String; 3] {
    let (sag, tolerance) = (present.sag.value, present.ninety_percent());
    let interval = format!("90 % interval {}", range(sag - tolerance, sag + tolerance, units));
    let standing = phrase::standing(Standing::of(sag, setup)).to_owned();
    [present.sag_to_tell().shown(units), standing, interval]
}

pub(super) fn travel(setup: &Setup, present: Option<(&SetFinding, &Forecast)>, units: UnitSet) -> Travel {
    Travel {
        stroke: units.show(setup.shock.stroke),
        band: [setup.target.low(), setup.target.high()],
        band_words: band(setup, units),
        sag: present.map(|(_, forecast)| forecast.sag_to_tell()),
        moved: present.map_or_else(String::new, |(set, _)| set.average.value.even(units).to_string()),
    }
}

/// What was otherwise than at the intake when the sag was read.
pub(super) fn read_with(state: &State, units: UnitSet) -> Option<(&'static str, String)> {
    let condition = state.present_set()?.how.condition.on(&state.conditions)?;
    let words = phrase::condition::named(condition, units);
    Some((phrase::condition::READ_WITH, Shown::from(words.as_str()).fitted(NAME_CELLS)))
}

/// The spring of a set, and what was otherwise than at the intake.
pub(super) fn spring_of(set: &ReadingSet, subject: &Subject<'_>, units: UnitSet) -> String {
    let spring = phrase::spring(set.spring, &subject.setup.springs, units);
    phrase::condition::behind(spring, set.how.condition.on(&subject.state.conditions))
}

/// What was tried, in order.
fn tried(subject: &Subject<'_>, units: UnitSet) -> Table {
    let sets = &subject.state.sets;
    let left_out = sets.len().saturating_sub(MOST_SETS);
    let row = |(index, set): (usize, &ReadingSet)| {
        let finding = subject.assessment.sets.iter().find(|finding| finding.number == index + 1);
        vec![
            (index + 1).to_string(),
            spring_of(set, subject, units),
            units.show(set.preload_turns),
            finding.map_or_else(String::new, |finding| finding.sag_to_tell().shown(units)),
            finding.map_or("", |finding| phrase::standing(finding.standing)).to_owned(),
            readings(set, units),
        ]
    };
    let rows: Vec<Vec<String>> = sets.iter().enumerate().skip(left_out).map(row).collect();
    let void = rows.iter().any(|row| row[5].contains('(')).then_some("A reading in brackets does not count.");
    Table {
        title: "Tried",
        columns: vec![
            ("Set", Cells::Right(3)),
            ("Spring", Cells::Left(21)),
            ("Preload", Cells::Left(12)),
            ("Sag", Cells::Left(14)),
            ("", Cells::Left(0)),
            ("readings", Cells::Below),
        ],
        rows,
        none: "nothing yet",
        above: (left_out > 0).then(|| format!("{left_out} earlier sets are in the record.")),
        notes: void.into_iter().chain([phrase::SPREAD]).collect(),
    }
}

/// "19.5, 20.0, (24.0) mm": the unit once, a void reading in brackets.
fn readings(set: &ReadingSet, units: UnitSet) -> String {
    let written: Vec<_> =
        set.readings.iter().map(|reading| (reading.distance.even(units), reading.void.is_some())).collect();
    let Some((last, _)) = written.last() else { return "none yet".to_owned() };
    let shown = written.iter().take(MOST_READINGS).map(|(moved, void)| match void {
        true => format!("({})", moved.figure),
        false => moved.figure.clone(),
    });
    let figures = shown.collect::<Vec<_>>().join(", ");
    match written.len().saturating_sub(MOST_READINGS) {
        0 => format!("{figures} {}", last.unit),
        more => format!("{figures} {} and {more} more", last.unit),
    }
}

fn trail(subject: &Subject<'_>, units: UnitSet) -> Vec<String> {
    let reports = &subject.state.trail;
    let earlier = reports.len().saturating_sub(MOST_TRAIL_CHECKS);
    let left_out = (earlier > 0).then(|| format!("{earlier} earlier trail checks are in the record."));
    let entered = reports.iter().skip(earlier).map(trail_check);
    let finding = subject.assessment.trail.as_ref().map(|finding| phrase::trail_finding(finding, units));
    left_out.into_iter().chain(entered).chain(finding).collect()
}

pub(super) fn trail_check(report: &TrailReport) -> String {
    let answers = phrase::opening(&phrase::trail_answers(report));
    match report.note.shown().fitted(NOTE_CELLS) {
        note if note.is_empty() => format!("{answers}."),
        note => format!("{answers}. Note: {note}"),
    }
}

/// Warnings in words; those about a single reading last, since they are many where one hurries.
fn warnings(subject: &Subject<'_>, units: UnitSet) -> Vec<String> {
    let mut all: Vec<&Warning> = subject.assessment.warnings.iter().collect();
    all.sort_by_key(|warning| matches!(warning, Warning::ReadingApart(_)));
    let shown = all.iter().take(MOST_WARNINGS).map(|one| phrase::warning(one, subject.setup, units));
    let more = all.len().saturating_sub(MOST_WARNINGS);
    let left_out = (more > 0).then(|| format!("{more} more are told by `coilwright assess`."));
    shown.chain(left_out).collect()
}
