//! The guided walk: every step, every kind of caution, list, figure and verdict, and where the record is kept.

use coilwright::screen::effect::StorageState;

use super::{Scene, staged};
use crate::screens::Stage;
use crate::screens::guide::choices::with_a_short_spring;
use crate::screens::guide::{WALK, at_leg, walked_with};

const WIPE: &str = "<BSpace><BSpace><BSpace><BSpace>";

pub(super) fn scenes() -> Vec<Scene> {
    steps().into_iter().chain(figures()).chain(verdicts()).chain(keeping()).collect()
}

fn steps() -> Vec<Scene> {
    vec![
        staged!("guide_bench_check_caution", at_leg(0)),
        staged!("guide_bench_check_list", at_leg(1)),
        staged!("guide_bench_check_last_line", at_leg(2)),
        staged!("guide_bench_check_passed_over", at_leg(1), "<Enter>pno gauge here<Enter>"),
        staged!("guide_unload_caution", at_leg(3)),
        staged!("guide_unload_turns", at_leg(4)),
        staged!("guide_seat_indicator_caution", at_leg(5)),
        staged!("guide_seat_indicator", at_leg(6)),
        staged!("guide_seated_reading_caution", at_leg(7)),
        staged!("guide_swap_caution", at_leg(11)),
        staged!("guide_swap_list", at_leg(12)),
        staged!("guide_swap_all_done", at_leg(12), "k"),
        staged!("guide_swap_half_done", at_leg(13)),
        staged!("guide_swap_last_caution", at_leg(14)),
        staged!("guide_trim", at_leg(10), "<Down><Down><Enter>1 1/2<Enter>"),
        staged!("guide_final_checks_caution", at_leg(21)),
        staged!("guide_final_checks_list", at_leg(22)),
        staged!("guide_kerb_drop_caution", at_leg(24)),
        staged!("guide_kerb_drop", at_leg(25)),
        staged!("guide_kerb_drop_bounces_on", at_leg(25), "<Down><Down><Enter>"),
        staged!("guide_trail_check", at_leg(27)),
        staged!("guide_after_trail", at_leg(28)),
        staged!(
            "guide_after_trail_moves_the_aim",
            at_leg(26),
            "<Left><Enter><Left><Enter><Left><Left><Enter><Enter>"
        ),
        staged!("guide_closed", at_leg(WALK.len() - 1)),
    ]
}

fn figures() -> Vec<Scene> {
    vec![
        staged!("guide_reading_empty", at_leg(7), "<Enter>"),
        staged!("guide_reading_typed", at_leg(8)),
        staged!("guide_reading_typed_in_the_band", at_leg(8), &format!("{WIPE}19.5")),
        staged!("guide_reading_no_figure", at_leg(8), "x<Enter>"),
        staged!("guide_reading_beyond_the_stroke", at_leg(8), &format!("{WIPE}70<Enter>")),
        staged!("guide_reading_unusual_is_asked_about", at_leg(8), &format!("{WIPE}2<Enter>")),
        staged!("guide_reading_more_of_the_set", at_leg(9), "<Enter>"),
        staged!("guide_collar_past_what_is_allowed", at_leg(4), "2.5<Enter>"),
        staged!("guide_a_reason_to_pass_over", at_leg(1), "<Enter>p"),
        staged!("guide_a_note_being_typed", at_leg(8), "<C-o>windy"),
        staged!("guide_a_reading_to_void", at_leg(10), "x<Up>"),
        staged!("guide_the_reason_of_a_void", at_leg(10), "x<Up><Enter>dropped in"),
        staged!("guide_a_key_that_does_nothing", at_leg(6), "7"),
        staged!("guide_what_guards_from_harm", at_leg(12), "<Enter>p"),
        Scene {
            name: "guide_one_answer_at_a_time",
            reach: || {
                let mut stage = at_leg(1);
                stage.burst("<Enter><Enter><Enter>");
                stage.model
            },
        },
    ]
}

fn verdicts() -> Vec<Scene> {
    vec![
        staged!("guide_verdict_swap", at_leg(10)),
        staged!("guide_verdict_with_a_void_reading", at_leg(10), "x<Up><Enter>dropped in<Enter>"),
        staged!("guide_verdict_choosing_a_spring", at_leg(10), "<Down><Down><Down><Enter>"),
        staged!(
            "guide_verdict_a_spring_that_hardly_lands",
            at_leg(10),
            "<Down><Down><Down><Enter><Up><Up><Up><Up><Up><Enter>"
        ),
        staged!("guide_verdict_own_turns", at_leg(10), "<Down><Down><Enter>1 1/2"),
        staged!("guide_verdict_of_a_spring_that_binds", crate::screens::safety::judged_binding()),
        staged!("guide_verdict_without_keeping", crate::screens::safety::judged_binding(), "<Enter>"),
        staged!("guide_verdict_starting_again_is_asked_about", at_leg(10), "r"),
        staged!("guide_verdict_own_turns_refused", at_leg(10), "<Down><Down><Enter>3<Enter>"),
        staged!("guide_verdict_on_the_second_spring", at_leg(18)),
        staged!("guide_verdict_keep", at_leg(20)),
        staged!("guide_condition_being_typed", at_leg(10), "w120 pack"),
        staged!(
            "guide_verdict_with_a_pack",
            at_leg(10),
            "w120 pack<Enter><Enter>26<Enter><Enter>26.5<Enter><Enter>26<Enter>"
        ),
        staged!("guide_verdict_trim", slightly_too_much()),
        staged!("guide_verdict_read_again", walked_with("350-600 by 50, stroke 70", ["18.5", "20.5", "23"])),
        staged!(
            "guide_verdict_check_a_reading",
            walked_with("350-600 by 50, stroke 70", ["20", "19.5", "7<Enter>"]),
            "<Enter>"
        ),
        staged!(
            "guide_verdict_nothing_on_the_rack",
            walked_with("300 350 450, stroke 70", ["24.5", "24", "24.5"])
        ),
        staged!("guide_verdict_a_spring_too_short", short_spring()),
        staged!("guide_first_spring_of_a_bike_without_one", without_a_spring()),
    ]
}

fn slightly_too_much() -> Stage {
    let mut stage = walked_with("350 450 550, stroke 70", ["21", "21", "21"]);
    for _ in 0..3 {
        if stage.shows("Take a further reading  advised") {
            stage.press("<Enter><Enter>21<Enter>");
        }
    }
    stage
}

fn short_spring() -> Stage {
    let mut stage = with_a_short_spring();
    for leg in &WALK[..=10] {
        stage.press(leg.keys);
    }
    stage.press("<Down><Down><Down><Down><Enter><Up><Up><Up><Down><Enter>");
    stage
}

fn without_a_spring() -> Stage {
    let mut stage = Stage::new();
    let intake = crate::screens::WHOLE_INTAKE.replace("450<Enter>", "<Enter>");
    stage.press("<Enter>").press(&intake).press("<Enter>");
    stage.press(WALK[1].keys).press(WALK[2].keys).press("<Enter>");
    stage
}

fn keeping() -> Vec<Scene> {
    vec![
        staged!("guide_read_only", kept(10, |because| StorageState::ReadOnly { because }), "<Enter>"),
        staged!("guide_kept_in_the_spool", kept(9, |because| StorageState::InSpool { because })),
        staged!("guide_in_memory_only", kept(9, |because| StorageState::OnlyInMemory { because })),
        Scene {
            name: "guide_leaving_would_lose_a_step",
            reach: || {
                let mut stage = kept(9, |because| StorageState::OnlyInMemory { because });
                stage.shell.fault = Some("The disk is full.".to_owned());
                stage.press("<C-c>");
                stage.model
            },
        },
    ]
}

/// The walk up to a leg, its record kept somewhere else.
fn kept(leg: usize, keeping: fn(String) -> StorageState) -> Stage {
    let mut stage = at_leg(leg);
    let session = stage.model.desk.session.as_mut().expect("a session is open");
    session.keeping = keeping("The disk is full.".to_owned());
    stage
}
