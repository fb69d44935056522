//! What stands on the setup card, as data: chosen and worded once, laid out twice (`card_text`, `card_page`).
//!
//! Every text in it is safe to show on a terminal; the page escapes it on top. Lists that could outgrow a sheet are cut
//! here, and the card says how much was left out. Not here: columns, markup and the drawing.

use crate::assessment::{Advice, SetFinding, Warning};
use crate::phrase::{self, AdviceWords, CautionWords};
use crate::session::{Caution, Origin, ReadingSet, Setup, Stamp, Step, TrailReport};
use crate::units::display::Show;
use crate::units::{Estimate, Share, Turns, UnitSet};

use super::Subject;

/// Sets shown at most, the newest; a whole session is in the record.
const MOST_SETS: usize = 12;
/// Readings of a set shown at most.
const MOST_READINGS: usize = 8;
/// Trail checks shown at most, the newest.
const MOST_TRAIL_CHECKS: usize = 3;
/// Warnings shown at most.
const MOST_WARNINGS: usize = 4;
/// The longest name, in terminal cells.
const NAME_CELLS: usize = 60;
/// The longest note, in terminal cells.
const NOTE_CELLS: usize = 160;

/// Cautions for whoever rides or opens the bike next.
const CAUTIONS: [Caution; 4] =
    [Caution::FirstRide, Caution::LooseBolts, Caution::LooseCollar, Caution::LoadedSpring];

/// The content of a setup card.
#[derive(Debug)]
pub(super) struct Card {
    /// Date of the session.
    pub(super) date: String,
    /// What has to be known before anything else: a demonstration, final checks not done.
    pub(super) marks: Vec<&'static str>,
    /// Name and value, in the order they are read.
    pub(super) facts: Vec<(&'static str, String)>,
    /// The sag of spring and collar as they are; none before a reading.
    pub(super) sag: Option<Sag>,
    /// What the drawing shows.
    pub(super) travel: Travel,
    /// What was tried, in order.
    pub(super) tried: Vec<Tried>,
    /// Sets before those.
    pub(super) sets_left_out: usize,
    /// Trail checks and what they say, in order.
    pub(super) trail: Vec<String>,
    /// Advice not acted on.
    pub(super) open: Option<AdviceWords>,
    /// What deserves a look.
    pub(super) warnings: Vec<String>,
    /// What can hurt somebody.
    pub(super) cautions: Vec<&'static CautionWords>,
}

/// The sag reached, in words.
#[derive(Debug)]
pub(super) struct Sag {
    /// Value and standard uncertainty.
    pub(super) figure: String,
    /// The interval that holds it with a chance of 90 %.
    pub(super) interval: String,
    /// Where it lies beside the band.
    pub(super) standing: &'static str,
}

/// The shock's travel, for the drawing: places as shares of the stroke.
#[derive(Debug)]
pub(super) struct Travel {
    /// The whole stroke, in words.
    pub(super) stroke: String,
    /// Ends of the band.
    pub(super) band: [Share; 2],
    /// The band, in words.
    pub(super) band_words: String,
    /// Sag, and half the interval that holds it with a chance of 90 %.
    pub(super) sag: Option<Estimate<Share>>,
    /// The mean reading, in words.
    pub(super) moved: String,
}

/// One set of readings, in words.
#[derive(Debug)]
pub(super) struct Tried {
    /// Its place among all sets.
    pub(super) number: usize,
    /// The spring.
    pub(super) spring: String,
    /// Collar turns past contact.
    pub(super) turns: String,
    /// Its readings, those that do not count in brackets.
    pub(super) readings: String,
    /// Sag with standard uncertainty; empty where no reading counts.
    pub(super) sag: String,
    /// Where the sag lies beside the band; empty where no reading counts.
    pub(super) standing: &'static str,
}

impl Card {
    /// Chooses and words what the card says.
    pub(super) fn new(subject: &Subject<'_>, opened: Stamp, units: UnitSet) -> Self {
        let Subject { setup, state, assessment } = *subject;
        let present = present_finding(subject);
        let sets_left_out = state.sets.len().saturating_sub(MOST_SETS);
        Self {
            date: opened.format("%-d %B %Y").to_string(),
            marks: marks(subject),
            facts: facts(subject, units),
            sag: present.map(|set| sag(set, units)),
            travel: travel(setup, present, units),
            tried: state
                .sets
                .iter()
                .enumerate()
                .skip(sets_left_out)
                .map(|(index, set)| tried(index + 1, set, subject, units))
                .collect(),
            sets_left_out,
            trail: trail(subject, units),
            open: (!matches!(assessment.advice, Advice::Keep { .. }))
                .then(|| phrase::advice(assessment, setup, units)),
            warnings: warnings(subject, units),
            cautions: CAUTIONS.into_iter().map(phrase::caution).collect(),
        }
    }
}

/// The finding of the set under way with the spring on the bike.
fn present_finding<'a>(subject: &Subject<'a>) -> Option<&'a SetFinding> {
    subject.state.present_set()?;
    subject.assessment.sets.last().filter(|set| set.number == subject.state.sets.len())
}

fn marks(subject: &Subject<'_>) -> Vec<&'static str> {
    let state = subject.state;
    let demonstration = (state.told.origin == Origin::Demonstration).then_some(phrase::DEMONSTRATION);
    let checked = matches!(state.step, Step::TrailCheck | Step::AfterTrail | Step::Closed);
    let open = (!checked).then_some(phrase::FINAL_CHECKS_OPEN);
    demonstration.into_iter().chain(open).collect()
}

fn facts(subject: &Subject<'_>, units: UnitSet) -> Vec<(&'static str, String)> {
    let Subject { setup, state, .. } = *subject;
    let named = |name: &crate::text::FreeText, weight: String| {
        let name = name.shown().fitted(NAME_CELLS);
        if name.is_empty() { weight } else { format!("{name}, {weight}") }
    };
    let spring = state
        .fitted()
        .map_or_else(|| "none fitted".to_owned(), |spring| phrase::spring(spring.number, &setup.rack, units));
    vec![
        ("Rider", named(&state.told.who, format!("{} ready to ride", units.show(setup.rider)))),
        ("Bike", named(&state.told.bike_label, units.show(setup.bike))),
        ("Shock stroke", units.show(setup.shock.stroke)),
        ("Wheel travel", units.show(setup.travel)),
        ("Spring fitted", spring),
        ("Preload", preload(subject, units)),
        ("Sag wanted", band(setup, units)),
    ]
}

fn preload(subject: &Subject<'_>, units: UnitSet) -> String {
    let Some(set) = subject.state.present_set() else { return "not set yet".to_owned() };
    if set.past_contact == Turns::ZERO {
        return format!("none, {}", phrase::collar(set.past_contact, units));
    }
    let preload = units.show(subject.setup.shock.preload(set.past_contact));
    format!("{} past contact ({preload})", units.show(set.past_contact))
}

fn band(setup: &Setup, units: UnitSet) -> String {
    range(setup.aim.low(), setup.aim.high(), units)
}

fn range(low: Share, high: Share, units: UnitSet) -> String {
    format!("{} to {}", units.show(low), units.show(high))
}

fn sag(set: &SetFinding, units: UnitSet) -> Sag {
    let (low, high) = (set.sag.value - set.ninety_percent, set.sag.value + set.ninety_percent);
    Sag {
        figure: set.sag.shown(units),
        interval: format!("90 % interval {}", range(low, high, units)),
        standing: phrase::standing(set.standing),
    }
}

fn travel(setup: &Setup, present: Option<&SetFinding>, units: UnitSet) -> Travel {
    Travel {
        stroke: units.show(setup.shock.stroke),
        band: [setup.aim.low(), setup.aim.high()],
        band_words: band(setup, units),
        sag: present.map(|set| Estimate::new(set.sag.value, set.ninety_percent)),
        moved: present.map_or_else(String::new, |set| set.moved.value.even(units).to_string()),
    }
}

fn tried(number: usize, set: &ReadingSet, subject: &Subject<'_>, units: UnitSet) -> Tried {
    let finding = subject.assessment.sets.iter().find(|finding| finding.number == number);
    Tried {
        number,
        spring: phrase::spring(set.spring, &subject.setup.rack, units),
        turns: units.show(set.past_contact),
        readings: readings(set, units),
        sag: finding.map_or_else(String::new, |finding| finding.sag.shown(units)),
        standing: finding.map_or("", |finding| phrase::standing(finding.standing)),
    }
}

/// "19.5, 20.0, (24.0) mm": the unit once, a void reading in brackets.
fn readings(set: &ReadingSet, units: UnitSet) -> String {
    let written: Vec<_> =
        set.readings.iter().map(|reading| (reading.moved.even(units), reading.void.is_some())).collect();
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
    let told = reports.iter().skip(earlier).map(trail_check);
    let finding = subject.assessment.trail.as_ref().map(|finding| phrase::trail_finding(finding, units));
    left_out.into_iter().chain(told).chain(finding).collect()
}

fn trail_check(report: &TrailReport) -> String {
    let answers = phrase::opening(&phrase::trail_answers(report));
    match report.note.shown().fitted(NOTE_CELLS) {
        note if note.is_empty() => format!("{answers}."),
        note => format!("{answers}. Remark: {note}"),
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
