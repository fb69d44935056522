//! Whether a whole spring fits, and what to order, in words.
//!
//! Not here: the judgement (`mechanics::whole_spring`), and a spring that binds or is too narrow, which cannot be fitted at
//! all (`guide`, `refusal`).

use super::spring;
use crate::assessment::{Advice, Assessment};
use crate::mechanics::whole_spring::{Bore, FreeLengthFit, bore, standing};
use crate::session::{Setup, Sheet, Spring, State};
use crate::units::{Length, Show, SpringRate, Turns, UnitSet};

/// What the sentences are called.
pub const FIT: &str = "Fit of the spring";
/// What has to be ordered.
pub const ORDER: &str = "To order";
/// Turns that hold a spring so that nothing rattles (common practice, no source; the maker of the shock knows better).
const LEAST_TURNS: Turns = Turns::of(0.5);

/// What is to be minded about the spring on the bike: reserve to coil bind, inner diameter, length on the thread.
pub fn fit(setup: &Setup, state: &State, units: UnitSet) -> Vec<String> {
    let (Some(fitted), Some(set)) = (state.fitted(), state.present_set()) else { return Vec::new() };
    let sheet = written(state);
    let reserve = fitted.stroke.map(|stroke| {
        let left = stroke - setup.shock.stroke - setup.shock.preload(set.preload_turns);
        format!(
            "Its stroke is {} more than shock and preload take together: {} turns more before it would bind.",
            units.show(left),
            ((left / setup.shock.collar_pitch) * 4.0).floor().max(0.0) / 4.0
        )
    });
    let name = spring(fitted.number, &setup.springs, units);
    let sits = sits(fitted, setup, &sheet).map(|words| format!("{name}: {words}"));
    let stands = stands(fitted, setup, &sheet, units).map(|words| format!("{name}: {words}"));
    reserve.into_iter().chain(sits).chain(stands).collect()
}

/// Rows of the sheet, what was left before what was found.
fn written(state: &State) -> Sheet {
    let (left, found) = (&state.left, &state.found);
    Sheet {
        seat_mm: left.seat_mm.or(found.seat_mm),
        collar_least_mm: left.collar_least_mm.or(found.collar_least_mm),
        collar_most_mm: left.collar_most_mm.or(found.collar_most_mm),
        ..Sheet::default()
    }
}

fn sits(fitted: &Spring, setup: &Setup, sheet: &Sheet) -> Option<&'static str> {
    match bore(fitted.bore?, sheet.seat_mm.or(setup.shock.body_diameter)?) {
        Bore::TooNarrow => Some("its inner diameter does not go over the seat; do not force it."),
        Bore::Tight => Some("its inner diameter is tight: look for a bright line where it rubs the body."),
        Bore::Right => None,
        Bore::TooWide => Some(
            "its inner diameter is wide for the seat: it sits off its middle, rattles and marks the seat. Ask the maker of \
             the shock for the adapter.",
        ),
    }
}

fn stands(fitted: &Spring, setup: &Setup, sheet: &Sheet, units: UnitSet) -> Option<String> {
    let least_preload = setup.shock.preload(LEAST_TURNS);
    let thread = (sheet.collar_least_mm?, sheet.collar_most_mm?);
    match standing(fitted.free_length?, thread.0, thread.1, least_preload) {
        FreeLengthFit::Held => None,
        FreeLengthFit::TooLong { by } => {
            Some(format!("it is {} too long: the collar cannot go back far enough.", units.show(by)))
        }
        FreeLengthFit::TooShort { by } => Some(format!(
            "it is {} too short: the collar runs out of thread before half a turn holds it.",
            units.show(by)
        )),
    }
}

/// What to order where nothing at hand lands, as it may stand on an order form.
pub fn order(setup: &Setup, state: &State, assessment: &Assessment, units: UnitSet) -> Option<String> {
    let Advice::NothingOnTheList { needed, .. } = &assessment.advice else { return None };
    let sheet = written(state);
    let step = crate::assessment::what_if::STEP;
    let rate = SpringRate::lb_per_in((*needed / step).round() * step.as_lb_per_in());
    let stroke = setup.shock.stroke + setup.shock.preload(LEAST_TURNS);
    let seat = sheet.seat_mm.or(setup.shock.body_diameter);
    let parts = [
        Some(format!("coil spring {}", units.show(rate))),
        Some(format!("stroke at least {}", units.show(stroke))),
        seat.map(|seat| {
            format!("inner diameter {} to {}", units.show(seat + PLAY.0), units.show(seat + PLAY.1))
        }),
        sheet.collar_least_mm.zip(sheet.collar_most_mm).map(|(least, most)| {
            format!(
                "free length {} to {}",
                even(least + setup.shock.preload(LEAST_TURNS), units),
                even(most, units)
            )
        }),
    ];
    Some(format!("{}.", super::opening(&parts.into_iter().flatten().collect::<Vec<_>>().join(", "))))
}

/// Room an inner diameter wants, at least and at most: as it is judged right.
const PLAY: (Length, Length) = (Length::mm(0.3), Length::mm(1.5));

fn even(length: Length, units: UnitSet) -> String {
    length.even(units).to_string()
}
