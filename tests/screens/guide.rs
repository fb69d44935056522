//! The guided walk driven by keys: every step of a walk with a change of spring, and what each key leaves in the record.

use coilwright::phrase;
use coilwright::screen::theme::{Glyphs, Ink, Theme};
use coilwright::session::{
    Aim, Awaiting, Bottoming, Caution, Check, Decision, Deed, Detail, Feel, ReadingNumber, RideHeight,
    SpringNumber, Step, TickedHow,
};
use coilwright::units::{Length, Mass, Share, Turns, UnitSet};
use insta::assert_snapshot;

use super::{Memory, Stage, WHOLE_INTAKE};

/// A stage of the walk: what is pressed to get there, and where that is.
pub(crate) struct Leg {
    pub(crate) keys: &'static str,
    pub(crate) step: Step,
}

const fn leg(keys: &'static str, step: Step) -> Leg {
    Leg { keys, step }
}

/// A whole walk: too much sag on the spring the bike came with, another one fitted, kept, ridden and closed.
pub(crate) const WALK: [Leg; 29] = [
    leg("", Step::BenchCheck),
    leg("<Enter>", Step::BenchCheck),
    leg("<Enter><Enter><Enter><Enter><Enter>", Step::BenchCheck),
    leg("<Enter>", Step::Unload),
    leg("<Enter>", Step::Unload),
    leg("<Enter>", Step::SeatIndicator),
    leg("<Enter>", Step::SeatIndicator),
    leg("<Enter>", Step::SeatedReading),
    leg("<Enter>24.5", Step::SeatedReading),
    leg("<Enter>", Step::SeatIndicator),
    leg("<Enter>24<Enter><Enter>24.5<Enter>", Step::Verdict),
    leg("<Down><Enter>", Step::Swap),
    leg("<Enter>", Step::Swap),
    leg("<Enter><Enter><Enter>", Step::Swap),
    leg("n<Enter>nn<Enter>", Step::Swap),
    leg("<Enter>", Step::Swap),
    leg("<Enter>", Step::Unload),
    leg("<Enter><Enter>", Step::SeatIndicator),
    leg("<Enter>20<Enter><Enter>19.5<Enter><Enter>20<Enter>", Step::Verdict),
    leg("<Down><Enter>", Step::SeatIndicator),
    leg("<Enter>19.5<Enter>", Step::Verdict),
    leg("<Enter>", Step::FinalChecks),
    leg("<Enter><Enter>", Step::FinalChecks),
    leg("<Enter><Enter><Enter>", Step::FinalChecks),
    leg("<Enter>", Step::TrailCheck),
    leg("<Enter>", Step::TrailCheck),
    leg("<Right><Enter><Right><Right><Enter><Right><Right><Enter>quiet", Step::TrailCheck),
    leg("<Enter>", Step::AfterTrail),
    leg("<Enter>", Step::Closed),
];

/// The intake done, at the bench check.
pub(crate) fn at_the_bench() -> Stage {
    let mut stage = Stage::new();
    stage.press("<Enter>").press(WHOLE_INTAKE).press("<Enter>");
    stage
}

/// The walk up to that leg.
pub(crate) fn at_leg(last: usize) -> Stage {
    let mut stage = at_the_bench();
    for leg in &WALK[..=last] {
        stage.press(leg.keys);
        assert_eq!(stage.step(), leg.step, "after {:?}:\n{}", leg.keys, stage.frame(80, 24));
    }
    stage
}

impl Stage {
    pub(crate) fn step(&self) -> Step {
        self.model.desk.session.as_ref().expect("a session is open").state.step
    }

    fn awaiting(&self) -> Awaiting {
        self.model.desk.session.as_ref().expect("a session is open").state.awaiting()
    }

    /// The last deed of the record.
    pub(crate) fn last(&self) -> Deed {
        self.record().entries.last().expect("something was done").deed.clone()
    }
}

/// A stage whose rack holds one spring that is too short.
fn with_a_short_spring() -> Stage {
    let mut stage = Stage::new();
    let intake = WHOLE_INTAKE.replace("350-600 by 50, stroke 70", "450/70 500/60 550/70");
    stage.press("<Enter>").press(&intake).press("<Enter>");
    stage
}

/// At the verdict with too much sag.
fn at_the_verdict() -> Stage {
    at_leg(10)
}

/// The main column of a frame as running text, frames taken off.
fn running_text(stage: &Stage) -> String {
    let frame = stage.frame(80, 24);
    let column = frame.lines().skip(2).map(|line| line.chars().skip(24).collect::<String>());
    let text = column.collect::<Vec<_>>().join(" ").replace(['┃', '▲'], " ");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_whole_walk_is_in_the_record_in_its_order() {
    let stage = at_leg(WALK.len() - 1);
    let deeds = stage.record().entries.iter().map(|entry| entry.deed.clone());
    let decided: Vec<Deed> = deeds
        .filter(|deed| {
            !matches!(
                deed,
                Deed::CautionSeen(_) | Deed::Ticked(..) | Deed::IndicatorSeated | Deed::Read { .. }
            )
        })
        .collect();
    let [intake, unloaded, swapped, again, reading, kept, ridden, closed] = &decided[..] else {
        panic!("{decided:?}");
    };
    assert_eq!(*intake, Deed::IntakeDone);
    assert_eq!((unloaded, again), (&Deed::Unloaded { past_contact: Turns::ZERO }, unloaded));
    assert_eq!(*swapped, Deed::Decided(Decision::Swap { to: SpringNumber(5) }));
    assert_eq!(*reading, Deed::Decided(Decision::ReadAgain));
    assert_eq!(*kept, Deed::Decided(Decision::Keep));
    let Deed::TrailRidden(report) = ridden else { panic!("{ridden:?}") };
    assert_eq!(
        (report.bottoming, report.ride_height, report.feel, report.note.as_typed()),
        (Bottoming::Never, RideHeight::Right, Feel::Right, "quiet")
    );
    assert_eq!(*closed, Deed::Closed);
}

#[test]
fn every_step_is_kept_before_it_shows() {
    let stage = at_leg(WALK.len() - 1);
    assert_eq!(stage.shell.kept.last(), Some(stage.record()));
    assert!(stage.shows("✓ kept"));
}

#[test]
fn at_80_by_24_every_step_shows_its_words_whole() {
    for last in 0..WALK.len() {
        let stage = at_leg(last);
        let text = running_text(&stage);
        let awaiting = stage.awaiting();
        let words = phrase::step(stage.step());
        let mut wanted = vec![words.title.clone()];
        if stage.step() != Step::Verdict {
            wanted.push(words.instruction.clone());
        }
        match awaiting {
            Awaiting::Acknowledgement(caution) => {
                let words = phrase::caution(caution);
                wanted.extend([words.headline.clone(), words.text.clone()]);
            }
            Awaiting::Tick(check) => {
                let lines = stage.step().checks().iter().map(|check| phrase::check(*check).line.clone());
                wanted.extend(lines);
                wanted.push(phrase::check(check).detail.clone());
            }
            Awaiting::ContactTurns | Awaiting::Indicator | Awaiting::Reading => {
                wanted.push(phrase::awaiting(awaiting, UnitSet::Trade));
            }
            Awaiting::Decision => {
                let session = stage.model.desk.session.as_ref().expect("a session is open");
                let (assessment, setup) = (session.assessment.as_ref(), session.state.setup.as_ref());
                let advice =
                    phrase::advice(assessment.expect("assessed"), setup.expect("complete"), UnitSet::Trade);
                wanted.extend([advice.headline, advice.reason, phrase::guide::OTHER_SPRING.to_owned()]);
            }
            _ => {}
        }
        for words in wanted {
            assert!(
                text.contains(&words),
                "{words:?} is not whole after leg {last}:\n{}",
                stage.frame(80, 24)
            );
        }
    }
}

#[test]
fn every_step_of_a_walk_is_drawn_at_every_size() {
    let mut stage = at_the_bench();
    for leg in &WALK {
        stage.press(leg.keys);
        for width in [1, 2, 19, 20, 40, 79, 80, 81, 100, 119, 120, 121, 140, 170, 200] {
            for height in [1, 2, 5, 12, 23, 24, 25, 30, 40, 60] {
                assert!(!stage.frame(width, height).is_empty());
            }
        }
    }
}

#[test]
fn what_is_typed_is_understood_before_it_is_accepted() {
    let stage = at_leg(8);
    assert!(stage.shows("= 24.5 mm → 37.7 % sag"), "{}", stage.frame(80, 24));
    assert!(stage.shows("Typed  ▲ too much"), "{}", stage.frame(80, 24));
    assert!(!matches!(stage.last(), Deed::Read { .. }));
}

#[test]
fn a_reading_that_cannot_be_read_stays_and_says_what_is_accepted() {
    let mut stage = at_leg(8);
    stage.press("x<Enter>");
    assert!(stage.shows("24.5x") && stage.shows("such as 63.5"), "{}", stage.frame(80, 24));
    assert_eq!(stage.step(), Step::SeatedReading);
}

#[test]
fn an_unusual_reading_is_asked_about_once() {
    let mut stage = at_leg(8);
    stage.press("<BSpace><BSpace><BSpace><BSpace>2<Enter>");
    assert!(stage.shows("is unusual"), "{}", stage.frame(80, 24));
    assert_eq!(stage.last(), Deed::CautionSeen(Caution::SitGently));
    assert_eq!(stage.press("<Enter>").last(), Deed::Read { moved: Length::mm(2.0) });
}

#[test]
fn a_changed_figure_is_asked_about_anew() {
    let mut stage = at_leg(8);
    stage.press("<BSpace><BSpace><BSpace><BSpace>2<Enter>.5<Enter>");
    assert!(stage.shows("is unusual"), "{}", stage.frame(80, 24));
    assert_eq!(stage.last(), Deed::CautionSeen(Caution::SitGently));
}

#[test]
fn a_reading_beyond_the_stroke_is_refused_and_stays() {
    let mut stage = at_leg(8);
    stage.press("<BSpace><BSpace><BSpace><BSpace>70<Enter><Enter>");
    assert!(stage.shows("is more than the shock stroke"), "{}", stage.frame(80, 24));
    assert!(stage.shows("▸ 70"));
}

#[test]
fn an_empty_line_takes_the_turns_that_are_suggested() {
    assert_eq!(at_leg(5).last(), Deed::Unloaded { past_contact: Turns::ZERO });
    let mut stage = at_leg(4);
    stage.press("1/2");
    assert!(stage.shows("= 1/2 turn past contact, 0.75 mm preload"), "{}", stage.frame(80, 24));
    assert_eq!(stage.press("<Enter>").last(), Deed::Unloaded { past_contact: Turns::of(0.5) });
}

#[test]
fn what_guards_from_harm_is_refused_before_a_reason_is_asked_for() {
    let mut stage = at_leg(12);
    stage.press("<Enter>p");
    assert!(stage.shows("guards against harm"), "{}", stage.frame(80, 24));
    assert_eq!(stage.awaiting(), Awaiting::Tick(Check::CollarFullyOff));
}

#[test]
fn a_check_is_passed_over_with_a_reason_only() {
    let mut stage = at_leg(1);
    stage.press("p<Enter>");
    assert!(stage.shows("A reason is needed"), "{}", stage.frame(80, 24));
    stage.press("no gauge here?<Enter>");
    let Deed::Skipped { because } = stage.last() else { panic!("{:?}", stage.last()) };
    assert_eq!(because.as_typed(), "no gauge here?");
    assert!(stage.shows("×  Stand the bike upright and held: no gauge"), "{}", stage.frame(80, 24));
}

#[test]
fn has_none_is_offered_only_where_a_shock_may_have_none() {
    let mut stage = at_leg(1);
    let before = stage.record().clone();
    stage.press("n");
    assert!(stage.shows("\"has none\" is not for this moment"), "{}", stage.frame(80, 24));
    assert_eq!(*stage.record(), before);
    let mut stage = at_leg(13);
    assert_eq!(stage.press("n").last(), Deed::Ticked(Check::ClipOrKnobOff, TickedHow::HasNone));
}

#[test]
fn a_key_that_does_nothing_says_what_does() {
    let mut stage = at_leg(6);
    stage.press("7");
    assert!(stage.shows("Press Enter once the indicator touches the seal."), "{}", stage.frame(80, 24));
    assert!(stage.shows("That key does nothing here."));
}

#[test]
fn the_advised_choice_is_marked_and_arrows_mark_another() {
    let stage = at_the_verdict();
    assert!(stage.shows("▸ Fit 500 lb/in  → 32.6 ± 1.3 % advised"), "{}", stage.frame(80, 24));
    let mut stage = at_the_verdict();
    assert_eq!(stage.press("<Up><Enter>").last(), Deed::Decided(Decision::ReadAgain));
    let mut stage = at_the_verdict();
    assert_eq!(stage.press("<Up><Up><Enter>").last(), Deed::Decided(Decision::Keep));
}

#[test]
fn another_spring_is_picked_from_the_rack() {
    let mut stage = at_the_verdict();
    stage.press("<Down><Down><Down><Enter>");
    assert!(stage.shows("◆ 550 lb/in"), "{}", stage.frame(80, 24));
    stage.press("<Down><Enter>");
    assert_eq!(stage.last(), Deed::Decided(Decision::Swap { to: SpringNumber(6) }));
}

#[test]
fn a_spring_that_binds_is_refused_in_the_words_of_the_walk() {
    let mut stage = with_a_short_spring();
    for leg in &WALK[..=10] {
        stage.press(leg.keys);
    }
    stage.press("<Down><Down><Down><Down>");
    stage.press("<Enter><Up><Up><Up><Down><Enter>");
    assert!(stage.shows("its coils would close first"), "{}", stage.frame(80, 24));
    assert_eq!(stage.step(), Step::Verdict);
    assert!(stage.shows("Which spring?"));
}

#[test]
fn a_collar_position_of_ones_own_is_typed() {
    let mut stage = at_the_verdict();
    stage.press("<Down><Down><Enter>1 1/2");
    assert!(stage.shows("= 1 1/2 turns past contact, 2.25 mm preload"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert_eq!(stage.last(), Deed::Decided(Decision::Trim { to: Turns::of(1.5) }));
    assert!(stage.shows("Enter alone: 1 1/2 turns, as planned."), "{}", stage.frame(80, 24));
    assert_eq!(stage.press("<Enter>").last(), Deed::Trimmed { past_contact: Turns::of(1.5) });
}

#[test]
fn more_turns_than_the_maker_allows_are_refused_and_stay() {
    let mut stage = at_the_verdict();
    stage.press("<Down><Down><Enter>3<Enter>");
    assert!(stage.shows("this shock allows 2 turns"), "{}", stage.frame(80, 24));
    assert!(stage.shows("▸ 3"));
}

#[test]
fn a_reading_is_voided_with_a_reason_and_shown_as_void() {
    let mut stage = at_the_verdict();
    stage.press("x<Up><Enter>dropped in<Enter>");
    let Deed::Voided { reading, because } = stage.last() else { panic!("{:?}", stage.last()) };
    assert_eq!((reading, because.as_typed()), (ReadingNumber(2), "dropped in"));
    assert!(stage.shows("24.5  (24.0)  24.5"), "{}", stage.frame(80, 24));
}

#[test]
fn a_note_leaves_what_is_typed_for_the_step() {
    let mut stage = at_leg(8);
    stage.press("<C-o>windy, q and x in it?<Enter>");
    let Deed::Noted(note) = stage.last() else { panic!("{:?}", stage.last()) };
    assert_eq!(note.as_typed(), "windy, q and x in it?");
    assert!(stage.shows("▸ 24.5"), "{}", stage.frame(80, 24));
}

#[test]
fn an_empty_note_is_no_note() {
    let mut stage = at_leg(1);
    let before = stage.record().clone();
    stage.press("o<Enter>");
    assert!(stage.shows("Nothing is typed yet"), "{}", stage.frame(80, 24));
    assert_eq!(*stage.press("<Esc>").record(), before);
    assert_eq!(stage.awaiting(), Awaiting::Tick(Check::BikeSupported));
}

#[test]
fn a_step_is_taken_back_and_a_set_started_anew() {
    let mut stage = at_the_verdict();
    assert_eq!(stage.press("t").last(), Deed::Back);
    assert_eq!(stage.step(), Step::SeatedReading);
    let mut stage = at_the_verdict();
    assert_eq!(stage.press("r").last(), Deed::Redo);
    assert_eq!(stage.step(), Step::SeatIndicator);
    assert!(stage.shows("3 seated readings"), "{}", stage.frame(80, 24));
}

#[test]
fn enough_readings_lead_to_the_verdict_early() {
    let mut stage = at_leg(9);
    assert_eq!(stage.press("g").last(), Deed::EnoughReadings);
    assert_eq!(stage.step(), Step::Verdict);
}

#[test]
fn a_detail_is_corrected_and_the_walk_goes_on() {
    let mut stage = at_leg(1);
    stage.press("d<Tab><Tab><Tab>");
    stage.press("<C-w><C-w>85<Enter><Esc>");
    assert!(
        matches!(stage.last(), Deed::Told(Detail::Rider(rider)) if rider == Mass::kg(85.0)),
        "{:?}",
        stage.last()
    );
    assert_eq!(stage.awaiting(), Awaiting::Tick(Check::BikeSupported));
    assert!(stage.shows("Bench check"));
}

#[test]
fn an_open_answer_of_the_trail_check_is_asked_for() {
    let mut stage = at_leg(25);
    stage.press("<Enter>");
    assert!(stage.shows("choose an answer to this line first"), "{}", stage.frame(80, 24));
    stage.press("<Right><Enter><Down><Down><Enter>");
    assert!(stage.shows("▸ Ride height"), "{}", stage.frame(80, 24));
    assert_eq!(stage.step(), Step::TrailCheck);
}

#[test]
fn the_trail_moves_the_aim_and_the_walk_goes_round_once_more() {
    let mut stage = at_leg(25);
    stage.press("<Left><Enter><Left><Enter><Left><Left><Enter><Enter>");
    assert!(stage.shows("▸ Move the aim to 27.5 % and go round once more"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    let entries = &stage.record().entries;
    let last: Vec<&Deed> = entries[entries.len() - 2..].iter().map(|entry| &entry.deed).collect();
    let [Deed::Told(Detail::Aim(aim)), Deed::Decided(Decision::AnotherRound)] = last[..] else {
        panic!("{last:?}");
    };
    assert!((aim.sag - Share::percent(27.5)).abs() < Share::percent(1e-9), "{aim:?}");
    assert_eq!(aim.half_width, Aim::PLANTED.half_width);
    assert_eq!(stage.step(), Step::Verdict);
}

#[test]
fn the_trail_check_is_passed_over_with_a_reason() {
    let mut stage = at_leg(25);
    stage.press("p dark<Enter>");
    assert!(matches!(stage.last(), Deed::Skipped { .. }));
    assert_eq!(stage.step(), Step::AfterTrail);
    assert_eq!(stage.press("<Enter>").step(), Step::Closed);
}

#[test]
fn a_closed_session_is_only_to_be_looked_at() {
    let mut stage = at_leg(WALK.len() - 1);
    let before = stage.record().clone();
    stage.press("t");
    assert!(stage.shows("\"take back\" is not for this moment"), "{}", stage.frame(80, 24));
    stage
        .press("x")
        .press("d")
        .press("7")
        .press("<Enter>")
        .press("<PgDn><PgDn><PgDn><PgDn><PgDn><PgDn><PgDn>");
    assert!(stage.shows("Session closed"), "{}", stage.frame(80, 24));
    assert_eq!(*stage.record(), before);
    assert!(stage.shows("Decided: keep spring and collar"), "{}", stage.frame(80, 24));
}

#[test]
fn quick_trials_and_the_guide_share_one_record() {
    let mut stage = at_leg(9);
    stage.press("y");
    assert!(stage.shows("Quick trials") && stage.shows("24.5   37.7 %"), "{}", stage.frame(80, 24));
    stage.press("24<Enter>");
    assert_eq!(stage.last(), Deed::Trial { moved: Length::mm(24.0) });
    stage.press("<C-y>");
    assert!(stage.shows("Guided walk") && stage.shows("reading 3 of 3"), "{}", stage.frame(80, 24));
}

#[test]
fn a_step_that_must_be_finished_does_not_change_over() {
    let mut stage = at_leg(12);
    stage.press("y");
    assert!(stage.shows("quick trials only take readings"), "{}", stage.frame(80, 24));
    assert!(stage.shows("Guided walk"));
}

#[test]
fn the_guide_in_ascii_says_by_shape_what_colour_repeats() {
    let mut stage = Stage::with(Memory::default(), Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii });
    stage.press("<Enter>").press(WHOLE_INTAKE).press("<Enter>");
    for leg in &WALK[..=10] {
        stage.press(leg.keys);
    }
    let frame = stage.frame(140, 40);
    assert!(frame.is_ascii(), "{frame}");
    for sign in ["x Seated reading", "> The verdict", "o Final checks", "# 550 lb/in", "^ too much"] {
        assert!(frame.contains(sign), "{sign} is missing:\n{frame}");
    }
}

#[test]
fn a_caution_in_ascii_has_a_whole_frame() {
    let mut stage = Stage::with(Memory::default(), Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii });
    stage.press("<Enter>").press(WHOLE_INTAKE).press("<Enter>");
    let frame = stage.frame(80, 24);
    assert!(frame.contains("+------") && frame.contains("|  ^ The bike can tip over"), "{frame}");
    assert_eq!(frame.matches('?').count(), 1, "{frame}");
}

#[test]
fn a_bike_without_a_spring_begins_with_the_one_advised() {
    let mut stage = Stage::new();
    let intake = WHOLE_INTAKE.replace("450<Enter>", "<Enter>");
    stage
        .press("<Enter>")
        .press(&intake)
        .press("<Enter>")
        .press(WALK[1].keys)
        .press(WALK[2].keys)
        .press("<Enter>");
    assert!(stage.shows("Begin with") && stage.shows("advised"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert!(matches!(stage.last(), Deed::Decided(Decision::Swap { .. })), "{:?}", stage.last());
}

#[test]
fn with_nothing_at_hand_that_lands_the_rack_is_offered_and_nothing_is_fitted_unasked() {
    let mut stage = Stage::new();
    let intake = WHOLE_INTAKE.replace("350-600 by 50, stroke 70", "300 350 450, stroke 70");
    stage.press("<Enter>").press(&intake).press("<Enter>");
    for leg in &WALK[1..=10] {
        stage.press(leg.keys);
    }
    assert!(stage.shows("No spring at hand"), "{}", stage.frame(80, 24));
    assert!(stage.shows("▸ Another spring from the rack ...  advised"), "{}", stage.frame(80, 24));
    let before = stage.record().clone();
    stage.press("<Enter>");
    assert!(stage.shows("Which spring?"), "{}", stage.frame(80, 24));
    assert_eq!(*stage.record(), before);
}

#[test]
fn the_sag_of_the_old_spring_goes_with_it() {
    assert!(at_leg(13).shows("Sag  ▲ too much"));
    assert!(!at_leg(15).shows("Sag  ▲ too much"), "{}", at_leg(15).frame(80, 24));
}

#[test]
fn a_reading_being_typed() {
    assert_snapshot!(at_leg(8).frame(80, 24));
}

#[test]
fn the_verdict_on_a_small_screen() {
    assert_snapshot!(at_leg(10).frame(80, 24));
}

#[test]
fn the_verdict_on_a_large_screen() {
    assert_snapshot!(at_leg(10).frame(140, 40));
}

#[test]
fn the_caution_of_a_loaded_spring() {
    assert_snapshot!(at_leg(11).frame(80, 24));
}

#[test]
fn the_list_of_a_spring_change() {
    assert_snapshot!(at_leg(13).frame(80, 24));
}

#[test]
fn the_trail_check() {
    assert_snapshot!(at_leg(26).frame(80, 24));
}

#[test]
fn a_closed_session() {
    assert_snapshot!(at_leg(WALK.len() - 1).frame(80, 24));
}
