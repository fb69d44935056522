//! Quick trials driven by keys: one line for everything, and cautions before the first trial and every change of spring.

use coilwright::archive::SessionName;
use coilwright::archive::index::WorkSummary;
use coilwright::screen::effect::{ListedSession, ListedSummary, SessionProgress};
use coilwright::screen::place::Place;
use coilwright::screen::theme::Theme;
use coilwright::session::{Caution, Deed, Detail, Origin, ReadingNumber, Record, SpringNumber, Step};
use coilwright::units::{Length, Turns};

use super::{Memory, Stage, WHOLE_TRIALS, noon};

/// Quick trials, the intake done.
pub(crate) fn begun() -> Stage {
    let mut stage = Stage::new();
    stage.press("<Down><Enter>").press(WHOLE_TRIALS).press("<Enter>");
    stage
}

/// Ready for the first line.
pub(crate) fn ready() -> Stage {
    let mut stage = begun();
    stage.press("<Enter><Enter><Enter>");
    stage
}

/// Three trials with too much sag.
pub(crate) fn three() -> Stage {
    let mut stage = ready();
    stage.press("24.5<Enter>24<Enter>24.5<Enter>");
    stage
}

/// The deeds since the intake.
pub(crate) fn deeds(stage: &Stage) -> Vec<Deed> {
    stage.record().entries.iter().skip(1).map(|entry| entry.deed.clone()).collect()
}

#[test]
fn two_enters_acknowledge_the_cautions_and_the_next_opens_the_trials() {
    let mut stage = begun();
    let is_whole = |stage: &Stage, text: &str| {
        let frame = stage.frame(80, 24).replace(['┃', '\n'], " ");
        let running = frame.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(running.contains(text), "{text} is not whole:\n{}", stage.frame(80, 24));
    };
    for text in ["Agree on a word that means stop.", "ask a qualified mechanic."] {
        is_whole(&stage, text);
    }
    stage.press("<Enter>");
    for text in ["needs a rebuild.", "cycled by hand.", "tip the bike over.", "sits on the bike."] {
        is_whole(&stage, text);
    }
    stage.press("<Enter><Enter>");
    let seen = crate::walk::sessions::BEFORE_A_TRIAL;
    let opened = Deed::TrialsOpened { preload_turns: Turns::ZERO };
    assert_eq!(deeds(&stage), seen.map(Deed::CautionSeen).into_iter().chain([opened]).collect::<Vec<_>>());
}

#[test]
fn a_figure_is_a_trial_and_every_trial_is_a_page_back() {
    let mut stage = ready();
    stage.press("24.5");
    assert!(stage.shows("= 24.5 mm → 37.7 % sag"), "{}", stage.frame(80, 24));
    stage.press("<Enter>24<Enter>");
    assert_eq!(deeds(&stage)[7..], [24.5, 24.0].map(|mm| Deed::Trial { reading: Length::mm(mm) }));
    let frame = stage.frame(80, 24);
    assert!(frame.contains("450 lb/in  #1 24.5  #2 24.0  average 24.3 ± 0.5 mm"), "{frame}");
    assert!(frame.contains("▲ too much") && frame.contains("37.3 ± 1.4   2× ▲"), "{frame}");
    let frame = stage.press("<PgUp>").frame(80, 24);
    assert!(frame.find("24.5   37.7 %") < frame.find("24.0   36.9 %"), "{frame}");
}

#[test]
fn every_way_to_name_a_spring_asks_before_it_is_changed() {
    for line in ["s 550", "s550", "spring 550", "550", "550 lb/in", "s #5", "S 96.3 N/mm"] {
        let mut stage = three();
        let before = stage.record().clone();
        stage.press(line);
        assert!(stage.shows("= Change to 550 lb/in, collar at contact"), "{line}: {}", stage.frame(80, 24));
        stage.press("<Enter>");
        assert!(stage.shows("A loaded spring can fly off"), "{line}: {}", stage.frame(80, 24));
        assert_eq!(*stage.record(), before);
        stage.press("<Enter>");
        let refitted = Deed::Swapped { spring: SpringNumber(5), preload_turns: Turns::ZERO };
        let seen = [Caution::LoadedSpring, Caution::FlyingClip, Caution::LooseBolts];
        let seen = seen.map(Deed::CautionSeen).into_iter();
        assert_eq!(deeds(&stage)[10..], seen.chain([refitted]).collect::<Vec<_>>());
    }
}

#[test]
fn a_spring_is_fitted_with_the_collar_past_contact() {
    for line in ["s 550 t 1", "s 550 turns 1", "s #5 t1"] {
        let mut stage = three();
        stage.press(line).press("<Enter><Enter>");
        let refitted = Deed::Swapped { spring: SpringNumber(5), preload_turns: Turns::of(1.0) };
        assert_eq!(stage.last(), refitted, "{line}");
    }
}

#[test]
fn a_change_not_confirmed_changes_nothing_and_keeps_the_line() {
    let mut stage = three();
    let before = stage.record().clone();
    stage.press("s 550<Enter><Esc>");
    assert_eq!(*stage.record(), before);
    assert!(stage.shows("▸ s 550"), "{}", stage.frame(80, 24));
}

#[test]
fn a_figure_within_the_stroke_is_never_taken_for_a_rate() {
    let mut stage = three();
    stage.press("60<Enter>");
    assert!(stage.shows("60.0 mm? About 24.0 mm was expected."), "{}", stage.frame(80, 24));
    assert_eq!(stage.press("<Enter>").last(), Deed::Trial { reading: Length::mm(60.0) });
}

#[test]
fn a_figure_that_is_neither_reading_nor_spring_is_refused_and_stays() {
    let mut stage = three();
    let before = stage.record().clone();
    stage.press("520<Enter>");
    assert!(stage.shows("520.0 mm is more than the shock stroke"), "{}", stage.frame(80, 24));
    assert!(stage.shows("▸ 520"));
    stage.press("<C-w>s 520<Enter>");
    assert!(stage.shows("No spring of 520 lb/in is on the list"), "{}", stage.frame(80, 24));
    assert_eq!(*stage.record(), before);
}

#[test]
fn of_two_springs_with_one_rate_the_number_is_asked_for() {
    let mut stage = Stage::new();
    let intake = WHOLE_TRIALS.replace("350-600 by 50, stroke 70", "450 550 x2, stroke 70");
    stage.press("<Down><Enter>").press(&intake).press("<Enter><Enter><Enter><Enter>s 550<Enter>");
    assert!(stage.shows("Several springs on the list bear 550 lb/in"), "{}", stage.frame(80, 24));
    stage.press("<C-w><C-w>s #3<Enter><Enter>");
    let refitted = Deed::Swapped { spring: SpringNumber(3), preload_turns: Turns::ZERO };
    assert_eq!(stage.last(), refitted);
}

#[test]
fn a_spring_whose_stroke_is_unknown_adds_its_caution() {
    let mut stage = Stage::new();
    let intake = WHOLE_TRIALS.replace("350-600 by 50, stroke 70", "450/70 550");
    stage.press("<Down><Enter>").press(&intake).press("<Enter><Enter><Enter><Enter>s 550<Enter>");
    assert!(stage.shows("The spring may coil-bind"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert!(deeds(&stage).contains(&Deed::CautionSeen(Caution::SpringBinds)));
}

#[test]
fn a_spring_that_binds_is_refused_before_its_cautions_are_read() {
    let mut stage = Stage::new();
    let intake = WHOLE_TRIALS.replace("350-600 by 50, stroke 70", "450/70 550/60");
    stage.press("<Down><Enter>").press(&intake).press("<Enter><Enter><Enter><Enter>");
    let before = stage.record().clone();
    stage.press("s 550<Enter>");
    assert!(stage.shows("its coils would close first"), "{}", stage.frame(80, 24));
    assert!(stage.shows("▸ s 550"));
    assert_eq!(*stage.record(), before);
}

#[test]
fn the_collar_is_set_within_what_is_allowed() {
    let mut stage = three();
    assert_eq!(stage.press("t 1<Enter>").last(), Deed::PreloadSet { preload_turns: Turns::of(1.0) });
    assert!(stage.shows("450 lb/in +1 turn"), "{}", stage.frame(80, 24));
    stage.press("turns 3<Enter>");
    assert!(stage.shows("is too far: the limit entered is 2 turns."), "{}", stage.frame(80, 24));
    assert!(stage.shows("▸ turns 3"));
    // Unusual besides: what is refused is refused before it is asked about.
    stage.press("<C-w>4<Enter>");
    assert!(stage.shows("is too far: the limit entered is 2 turns."), "{}", stage.frame(80, 24));
}

#[test]
fn a_reading_is_voided_on_the_line() {
    let mut stage = three();
    stage.press("void 2 bounced<Enter>");
    let Deed::Voided { reading, because } = stage.last() else { panic!("{:?}", stage.last()) };
    assert_eq!((reading, because.as_typed()), (ReadingNumber(2), "bounced"));
    assert!(stage.shows("#1 24.5  #2 (24.0)  #3 24.5"), "{}", stage.frame(80, 24));
    stage.press("<PgUp>");
    assert!(stage.shows("(24.0) bounced"), "{}", stage.frame(80, 24));
}

#[test]
fn a_void_without_number_or_reason_says_how_it_is_written() {
    for line in ["void", "void 2", "void bounced"] {
        let mut stage = three();
        let before = stage.record().clone();
        stage.press(line).press("<Enter>");
        assert!(stage.shows("void 3 bounced."), "{line}: {}", stage.frame(80, 24));
        assert_eq!(*stage.record(), before);
    }
}

#[test]
fn a_remark_is_taken_as_it_is() {
    let mut stage = three();
    stage.press("note gusty wind<Enter>");
    let Deed::Noted(note) = stage.last() else { panic!("{:?}", stage.last()) };
    assert_eq!(note.as_typed(), "gusty wind");
    assert!(stage.shows("Note saved."), "{}", stage.frame(80, 24));
}

#[test]
fn a_line_stays_when_the_way_is_changed_and_changed_back() {
    let mut stage = three();
    stage.press("note tyre new<C-y>");
    assert!(stage.shows("Guided walk"), "{}", stage.frame(80, 24));
    stage.press("<C-y>");
    assert!(stage.shows("▸ note tyre new"), "{}", stage.frame(80, 24));
    // A step of the walk in between changes nothing about it.
    stage.press("<C-y><Down><Down><Down><Enter><C-y>");
    assert!(stage.shows("▸ note tyre new"), "{}", stage.frame(80, 24));
}

#[test]
fn a_question_mark_is_text_in_a_remark_and_in_the_reason_of_a_void() {
    for (line, deed) in [("note wind?", "wind?"), ("void 2 bounced?", "bounced?")] {
        let mut stage = three();
        stage.press(line).press("<Enter>");
        let (Deed::Noted(words) | Deed::Voided { because: words, .. }) = stage.last() else {
            panic!("{:?}", stage.last())
        };
        assert_eq!(words.as_typed(), deed);
    }
    let mut stage = three();
    assert!(stage.press("s?").shows("What the line takes"), "{}", stage.frame(80, 24));
}

#[test]
fn an_empty_line_at_the_opening_says_what_it_stands_for() {
    let mut stage = begun();
    stage.press("<Enter><Enter>");
    assert!(stage.shows("Press Enter for 0 (at contact)."), "{}", stage.frame(80, 24));
}

#[test]
fn a_line_that_says_nothing_stays_and_says_what_is_taken() {
    let mut stage = three();
    let before = stage.record().clone();
    stage.press("<Enter>");
    assert!(stage.shows("Nothing is typed yet"), "{}", stage.frame(80, 24));
    stage.press("hello<Enter>");
    assert!(stage.shows("▸ hello") && stage.shows("is not a number"), "{}", stage.frame(80, 24));
    assert_eq!(*stage.record(), before);
}

#[test]
fn without_a_spring_one_is_asked_for_first() {
    let mut stage = Stage::new();
    let intake = WHOLE_TRIALS.replace("450<Enter>", "<Enter>");
    stage.press("<Down><Enter>").press(&intake).press("<Enter><Enter><Enter><Enter>");
    assert_eq!(stage.step(), Step::Decision);
    stage.press("24<Enter>");
    assert!(stage.shows("No spring is fitted yet"), "{}", stage.frame(80, 24));
    stage.press("<C-w>s 500<Enter><Enter>");
    let refitted = Deed::Swapped { spring: SpringNumber(4), preload_turns: Turns::ZERO };
    assert_eq!(stage.last(), refitted);
}

#[test]
fn a_session_of_trials_opens_at_its_trials_until_the_final_checks() {
    let stage = three();
    assert!(reopened(stage.record().clone()).shows("Quick trials"));
    let mut stage = three();
    stage.press("<C-y><Down><Down><Enter>");
    assert_eq!(stage.step(), Step::FinalChecks, "{}", stage.frame(80, 24));
    let stage = reopened(stage.record().clone());
    assert!(stage.shows("Guided walk") && stage.shows("A loose collar frees"), "{}", stage.frame(80, 24));
}

#[test]
fn a_long_table_shows_its_last_lines_and_pages_back() {
    let mut stage = ready();
    for tenth in 0..20 {
        stage.press(&format!("24.{}<Enter>", tenth % 10));
    }
    let numbered = |stage: &Stage, number: u16| {
        stage.frame(80, 24).lines().any(|line| line.trim_start().starts_with(&format!("{number} ")))
    };
    assert!(stage.shows("#20 24.9"), "{}", stage.frame(80, 24));
    stage.press("<PgUp>");
    assert!(!numbered(&stage, 1), "{}", stage.frame(80, 24));
    stage.press("<PgUp><PgUp><PgUp><PgUp>");
    assert!(numbered(&stage, 1) && !numbered(&stage, 20), "{}", stage.frame(80, 24));
}

#[test]
fn a_refusal_leaves_the_verdict_in_sight() {
    let mut stage = three();
    stage.press("520<Enter>");
    assert!(stage.shows("550 lb/in: two steps of 50"), "{}", stage.frame(80, 24));
}

#[test]
fn a_session_opens_again_where_its_work_was_last_done() {
    // Begun in quick trials, gone on with step by step.
    let mut stage = ready();
    stage.press("24.5<Enter>").press("<C-y><Enter>24<Enter>");
    let opened = reopened(stage.record().clone());
    assert!(matches!(opened.model.place(), Place::Guide(_)), "{}", opened.frame(80, 24));
    // And back in quick trials.
    stage.press("<C-y>24.5<Enter>");
    let opened = reopened(stage.record().clone());
    assert!(matches!(opened.model.place(), Place::Trials(_)), "{}", opened.frame(80, 24));
    // A remark or a step taken back is done in both and changes nothing.
    stage.press("note windy<Enter>");
    let opened = reopened(stage.record().clone());
    assert!(matches!(opened.model.place(), Place::Trials(_)), "{}", opened.frame(80, 24));
}

/// A record opened from the folder.
fn reopened(record: Record) -> Stage {
    let line = ListedSession {
        name: SessionName::new(&noon(), 3),
        summary: ListedSummary::Read {
            opened: noon(),
            customer: record.intake.customer.clone(),
            bike: record.intake.bike_name.clone(),
            origin: Origin::Workshop,
            progress: SessionProgress::Unfinished,
            work: WorkSummary {
                last_worked: noon(),
                step: Step::Unload,
                fitted: None,
                swaps: 0,
                sag: None,
                standing: None,
                target: None,
            },
        },
    };
    let mut stage = Stage::with(Memory { past: vec![(line, record)], ..Memory::default() }, Theme::DARK);
    stage.press("<Enter>");
    stage
}

#[test]
fn a_spring_is_named_with_its_stroke_as_in_the_details() {
    for line in ["s 550/70", "s 550, stroke 70", "550/70", "550 lb/in, stroke 70"] {
        let mut stage = three();
        stage.press(line).press("<Enter><Enter>");
        let refitted = Deed::Swapped { spring: SpringNumber(5), preload_turns: Turns::ZERO };
        assert_eq!(stage.last(), refitted, "{line}:\n{}", stage.frame(80, 24));
    }
    let mut stage = three();
    stage.press("s 475, stroke 68 t 1<Enter><Enter><Enter>");
    let joined = stage.record().entries.iter().find_map(|entry| match &entry.deed {
        Deed::Entered(Detail::Springs(list)) => list.last().copied(),
        _ => None,
    });
    let joined = joined.expect("it joins the list");
    assert_eq!(joined.stroke, Some(Length::mm(68.0)));
    assert_eq!(stage.last(), Deed::Swapped { spring: joined.number, preload_turns: Turns::of(1.0) });
}

#[test]
fn a_stroke_of_a_spring_whose_stroke_nobody_told_makes_no_second_one() {
    let mut stage = Stage::new();
    let intake = WHOLE_TRIALS.replace("350-600 by 50, stroke 70", "450 550");
    stage.press("<Down><Enter>").press(&intake).press("<Enter><Enter><Enter><Enter><Enter>s 550/70<Enter>");
    assert!(stage.shows("has no stroke entered. Type s #2"), "{}", stage.frame(80, 24));
}

#[test]
fn a_figure_as_the_reason_of_a_void_is_doubted_once() {
    let mut stage = three();
    stage.press("void 3 20.5<Enter>");
    assert!(stage.shows("20.5 looks like a reading, not a reason"), "{}", stage.frame(80, 24));
    stage.press("<C-w>bounced<Enter>");
    let Deed::Voided { because, .. } = stage.last() else { panic!("{:?}", stage.last()) };
    assert_eq!(because.as_typed(), "bounced");
}

#[test]
fn the_help_shows_the_forms_of_the_line_first_and_no_letter_that_is_text() {
    let help = ready().press("<F1>").frame(140, 40);
    let forms = ["17.5 ", "s 450 ", "t 1 ", "void 3 bounced", "note windy"];
    let places = forms.map(|form| help.find(form).unwrap_or_else(|| panic!("{form} is missing:\n{help}")));
    assert!(places.is_sorted(), "{help}");
    let help = ready().press("<F1>").frame(100, 200);
    assert!(help.contains("Ctrl-T ") && help.contains("Ctrl-W "), "{help}");
    assert!(!help.contains("t, Ctrl-T"), "{help}");
}
