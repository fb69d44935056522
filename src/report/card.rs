//! The setup card a rider takes home: one page, in the rider's words.
//!
//! The spring, the sag in millimetres and per cent, the adjusters as found and as left, what was tried in three lines, what
//! a few kilograms would do, and what to look at after the first rides. Every text in it is safe to show; the page escapes
//! it on top. Not here: all the rest (`workshop_copy`), columns, markup and the drawing.

use super::Subject;
use super::workshop_copy::{
    NAME_CELLS, band, entered, marks, preload, present_finding, read_with, spring_of, trail_check, travel,
};
use crate::assessment::{Advice, Forecast, Standing};
use crate::document::{Block, Cells, Picture, Size, Table, Tone};
use crate::phrase::{self, CautionWords, sheet};
use crate::session::{Caution, Fact, Item, ReadingSet, Stamp};
use crate::settings::Paper;
use crate::text::{FreeText, Shown};
use crate::units::{Show, UnitSet};

/// Sets told at most, the newest.
const MOST_TRIED: usize = 3;
/// Cells of the two columns of the sheet.
const COLUMN: usize = 26;
/// Cells of a text from the sheet.
const TEXT_CELLS: usize = 160;

/// Cautions for whoever rides the bike next.
const CAUTIONS: [Caution; 3] = [Caution::FirstRide, Caution::LooseBolts, Caution::LooseCollar];

/// What stands at the head of a card.
#[derive(Debug, Clone, Copy)]
pub struct Letterhead<'a> {
    /// The shop.
    pub paper: &'a Paper,
    /// The name of the session, by which it is found again; none for one that has no name.
    pub session: Option<&'a str>,
}

/// The setup card of a session, in the units of the set.
pub fn card(subject: &Subject<'_>, opened: Stamp, units: UnitSet, head: Letterhead<'_>) -> Vec<Block> {
    let at_rest = subject.assessment.present();
    let present = present_finding(subject).zip(at_rest);
    let caution = |words: &CautionWords| format!("{}. {}", words.headline, words.text);
    let cautions = CAUTIONS.into_iter().map(phrase::caution).map(caution).collect();
    let mut card = vec![Block::Title("Setup card".to_owned(), opened.format("%-d %B %Y").to_string())];
    card.extend(shop(head.paper).map(|shop| Block::Text(Tone::Strong, shop)));
    card.extend(marks(subject).into_iter().map(Block::Mark));
    card.push(Block::Text(Tone::Plain, phrase::handover::MAKERS_SHORT.to_owned()));
    card.extend([
        Block::Facts(facts(subject, units, head.session)),
        Block::Figure(
            "Sag",
            present.map(|(_, at_rest)| sag(at_rest, subject, units)).ok_or(phrase::handover::NO_SAG_YET),
        ),
        Block::Picture(Picture::Travel(travel(subject.setup, present, units))),
    ]);
    card.extend(adjusters(subject, units).map(Block::Table));
    card.extend([
        Block::List(phrase::handover::WRITTEN_DOWN, written_down(subject), Size::Plain),
        Block::List(
            phrase::damper::DAMPER,
            phrase::around::rebound(subject.setup, subject.state, units),
            Size::Plain,
        ),
        Block::List(phrase::handover::TRIED, tried(subject, units), Size::Plain),
        Block::List("Trail feedback", trail(subject, units), Size::Plain),
        Block::List(phrase::handover::STILL_OPEN, open(subject, units), Size::Plain),
        Block::List(phrase::what_if::WHAT_IF, what_if(subject, units), Size::Plain),
        Block::Beside(vec![
            Block::List("Cautions", cautions, Size::Small),
            Block::List(
                "After the first rides, look again at (common practice)",
                phrase::RECHECK.map(str::to_owned).into(),
                Size::Small,
            ),
        ]),
        Block::Last(phrase::MAKERS_FIRST),
    ]);
    card
}

/// "An invented workshop, 1 Example Lane; mechanic M. Example"; none where the shop has no name.
fn shop(paper: &Paper) -> Option<String> {
    let entered = |text: &FreeText| text.shown().fitted(NAME_CELLS);
    let named = [&paper.shop, &paper.address].into_iter().filter(|text| !text.is_empty()).map(entered);
    let named = named.collect::<Vec<_>>().join(", ");
    let mechanic =
        (!paper.mechanic.is_empty()).then(|| phrase::handover::mechanic(&entered(&paper.mechanic)));
    let parts: Vec<String> = [(!named.is_empty()).then_some(named), mechanic].into_iter().flatten().collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}

fn facts(subject: &Subject<'_>, units: UnitSet, session: Option<&str>) -> Vec<(&'static str, String)> {
    let Subject { setup, state, .. } = *subject;
    let named = |name: &FreeText, rest: String| {
        let name = name.shown().fitted(NAME_CELLS);
        if name.is_empty() { rest } else { format!("{name}, {rest}") }
    };
    let spring = state.fitted().map_or_else(
        || "none fitted".to_owned(),
        |spring| phrase::spring(spring.number, &setup.springs, units),
    );
    let order = written(subject, Item::WorkOrder);
    let session = session.map(|name| Shown::from(name).fitted(NAME_CELLS));
    let mut facts = vec![
        (
            "Rider",
            named(
                &state.entered.customer,
                entered(setup, Fact::Rider, format!("{} ready to ride", units.show(setup.rider))),
            ),
        ),
        ("Bike", named(&state.entered.bike_name, entered(setup, Fact::Bike, units.show(setup.bike)))),
        ("Spring", spring),
        ("Preload", preload(subject, units)),
        ("Target sag", band(setup, units)),
        ("Shock stroke", units.show(setup.shock.stroke)),
    ];
    facts.extend(read_with(state, units));
    facts.extend(order.map(|order| ("Work order", order)));
    facts.extend(session.map(|session| ("Session", session)));
    facts
}

/// The sag at rest as a rider measures it: a distance first.
fn sag(at_rest: &Forecast, subject: &Subject<'_>, units: UnitSet) -> [String; 3] {
    let (setup, sag) = (subject.setup, at_rest.sag.value);
    let moved = sag.of(setup.shock.stroke).even(units);
    [
        format!("{moved} = {}", units.show(sag)),
        phrase::standing(Standing::of(sag, setup)).to_owned(),
        phrase::handover::of_the_stroke(setup.shock.stroke, units),
    ]
}

/// The rows of the sheet that have figures, found and left side by side; none where nothing was written down.
fn adjusters(subject: &Subject<'_>, units: UnitSet) -> Option<Table> {
    let state = subject.state;
    let rows = sheet::for_the_rider(&state.found, &state.left, units);
    let short = |cell: &String| Shown::from(cell.as_str()).width() <= COLUMN;
    let rows: Vec<Vec<String>> =
        rows.into_iter().filter(|row| row.iter().all(short)).map(Vec::from).collect();
    (!rows.is_empty()).then(|| Table {
        title: sheet::BOTH,
        columns: vec![
            ("", Cells::Left(18)),
            (sheet::FOUND, Cells::Left(COLUMN)),
            (sheet::LEFT, Cells::Left(COLUMN)),
        ],
        rows,
        none: "",
        above: None,
        notes: Vec::new(),
    })
}

/// Texts of the sheet too long for its columns, as they were left or, failing that, found.
fn written_down(subject: &Subject<'_>) -> Vec<String> {
    let rows = sheet::for_the_rider(&subject.state.found, &subject.state.left, UnitSet::Trade).into_iter();
    let long = rows.filter(|row| row.iter().any(|cell| Shown::from(cell.as_str()).width() > COLUMN));
    let entered = long.map(|[name, found, left]| {
        let text = if left == sheet::EMPTY { found } else { left };
        format!("{name}: {}", Shown::from(text.as_str()).fitted(TEXT_CELLS))
    });
    entered.collect()
}

/// A text of the sheet, as it was left or, failing that, found.
fn written(subject: &Subject<'_>, item: Item) -> Option<String> {
    let of = |written| sheet::value(written, item, UnitSet::Trade);
    let text = of(&subject.state.left).or(of(&subject.state.found))?;
    Some(Shown::from(text.as_str()).fitted(NAME_CELLS))
}

/// What was tried, in three lines, in order.
fn tried(subject: &Subject<'_>, units: UnitSet) -> Vec<String> {
    let sets = &subject.state.sets;
    let before = sets.len().saturating_sub(MOST_TRIED);
    let line = |(index, set): (usize, &ReadingSet)| {
        let finding = subject.assessment.sets.iter().find(|finding| finding.number == index + 1)?;
        let spring = spring_of(set, subject, units);
        let collar = phrase::collar(set.preload_turns, units);
        let sag = units.show(finding.sag.value);
        Some(format!("{spring}, {collar}: {sag}, {}.", phrase::standing(finding.standing)))
    };
    let earlier = (before > 0).then(|| phrase::handover::tried_before(before));
    earlier.into_iter().chain(sets.iter().enumerate().skip(before).filter_map(line)).collect()
}

/// The last trail check and what to try first.
fn trail(subject: &Subject<'_>, units: UnitSet) -> Vec<String> {
    let entered = subject.state.trail.last().map(trail_check);
    let finding = subject.assessment.trail.as_ref().map(|finding| phrase::trail_finding(finding, units));
    let remedy = subject.assessment.remedy;
    let first = remedy.map(|(bothers, first)| phrase::ride::first_remedy(bothers, first));
    let ridden = subject.assessment.ridden.as_ref();
    let deepest =
        ridden.and_then(|ridden| phrase::ride::deepest(ridden, subject.setup, units).into_iter().next());
    entered.into_iter().chain(finding).chain(first).chain(deepest).collect()
}

/// What is left to do: the advice while the work goes on, and what to order where nothing at hand lands.
fn open(subject: &Subject<'_>, units: UnitSet) -> Vec<String> {
    let Subject { setup, state, assessment, .. } = *subject;
    let done = state.step.is_after_the_final_checks();
    // Whoever went on without a further reading knew better; that is nothing to be told on a card.
    let settled = matches!(assessment.advice, Advice::Keep { .. } | Advice::ReadAgain { .. });
    let advice = (!done && !settled)
        .then(|| phrase::advice(assessment, setup, units))
        .map(|open| format!("{}. {}", open.headline, open.reason));
    let order = phrase::fit::order(setup, state, assessment, units);
    advice.into_iter().chain(order.map(|words| phrase::handover::to_order(&words))).collect()
}

fn what_if(subject: &Subject<'_>, units: UnitSet) -> Vec<String> {
    let Some(entered) = &subject.assessment.what_if else { return Vec::new() };
    let pack = entered.loads.last().map(|pack| phrase::what_if::with_pack(pack, units));
    let season = phrase::handover::SEASON.to_owned();
    std::iter::once(phrase::what_if::weight(entered, units)).chain(pack).chain([season]).collect()
}
