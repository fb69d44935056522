//! The figures behind: leverage measured on the bike, a spring from its wire, what changes with the spring.

use coilwright::screen::place::Place;
use coilwright::screen::theme::{Glyphs, Ink, Theme};
use coilwright::session::LeverageKnowledge;

use super::{Memory, Stage};

/// Pairs of a ratio that falls evenly from 3.0 to 2.0, to a tenth of a millimetre.
pub(crate) const PAIRS: &str = "10/29.2 20/56.7 30/82.5 40/106.7 50/129.2 60/150";

/// At the row of the leverage ratio, travel and stroke told.
fn at_the_leverage(shell: Memory, theme: Theme) -> Stage {
    let mut stage = Stage::with(shell, theme);
    stage.press("<Enter>82<Enter>150<Enter>60<Enter><Tab><Tab><Tab><Tab><Tab><Tab><Tab><Tab><Tab>");
    stage
}

pub(crate) fn usual() -> Stage {
    at_the_leverage(Memory::default(), Theme::DARK)
}

/// The form of a spring from its wire.
pub(crate) fn at_the_wire() -> Stage {
    let mut stage = Stage::new();
    stage.press("<Down><Down><Down><Down><Enter>");
    assert!(matches!(stage.model.place(), Place::Wire(_)));
    stage
}

pub(crate) fn calculated() -> Stage {
    let mut stage = at_the_wire();
    stage.press("9.4<Enter>58.6<Enter>7.5<Enter><Enter><Enter>150<Enter>");
    stage
}

/// What changes, after three trials with too little sag.
pub(crate) fn at_the_changes() -> Stage {
    let mut stage = Stage::new();
    stage.press(
        "<Down><Enter>60<Enter><Tab><Tab>82<Enter>150<Enter>350-600 by 25, stroke 65<Enter>15.5<Enter>\
         30 +- 1.5<Enter>0.5<Enter>3<Enter>1.5<Enter>2<Enter><Tab><Tab>1240<Enter>440<Enter>",
    );
    stage.press(&"<Up>".repeat(15)).press("450<Enter><Enter>");
    stage.press("<Enter><Enter><Enter>15<Enter>15.5<Enter>15<Enter><C-f>");
    assert!(matches!(stage.model.place(), Place::Changes(_)), "{}", stage.frame(80, 24));
    stage
}

fn knowledge(stage: &Stage) -> &LeverageKnowledge {
    &stage.record().intake.leverage
}

#[test]
fn typed_pairs_are_understood_in_words_and_taken_as_measured() {
    let mut stage = usual();
    assert!(stage.press(PAIRS).shows("= 6 measured pairs, up to 150.0 mm"), "{}", stage.frame(80, 24));
    assert_eq!(*knowledge(&stage), LeverageKnowledge::TravelOnly);
    stage.press("<Enter>");
    let LeverageKnowledge::Measured(pairs) = knowledge(&stage) else { panic!("{:?}", knowledge(&stage)) };
    assert_eq!(pairs.len(), 6);
}

#[test]
fn two_ratios_are_still_the_two_ends() {
    let mut stage = usual();
    stage.press("3.0 to 2.0<Enter>");
    assert!(matches!(knowledge(&stage), LeverageKnowledge::Ends { .. }));
}

#[test]
fn pairs_told_read_back_in_other_units_without_moving() {
    let mut stage = usual();
    stage.press(PAIRS).press("<Enter>");
    let entered = knowledge(&stage).clone();
    stage.press("<F3><Up>");
    assert!(stage.shows("in"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert_eq!(*knowledge(&stage), entered);
}

#[test]
fn pairs_that_cannot_be_a_curve_keep_their_text() {
    let mut stage = usual();
    stage.press("10/29.2 20/56.7 30/50 40/106.7 60/150<Enter>");
    assert!(stage.shows("Leverage pair 3 does not lie beyond"), "{}", stage.frame(80, 24));
    assert!(stage.shows("30/50 40/106.7 60/150"), "{}", stage.frame(80, 24));
    assert_eq!(*knowledge(&stage), LeverageKnowledge::TravelOnly);
}

#[test]
fn a_pair_that_cannot_be_read_is_named() {
    let mut stage = usual();
    stage.press("10/29.2 20/fifty<Enter>");
    assert!(stage.shows("Pair 2: \"fifty\" is not a number."), "{}", stage.frame(80, 24));
}

#[test]
fn a_file_is_read_into_the_row_to_be_looked_over_and_then_accepted() {
    let table = Some(("/tmp/lev.csv", "stroke;height\n0;340\n10;369,2\n20;396,7\n40;446,7\n60;490\n"));
    let mut stage = at_the_leverage(Memory { table, ..Memory::default() }, Theme::DARK);
    stage.press("heights file: /tmp/lev.csv<Enter>");
    assert!(stage.shows("5 pairs were read from the file."), "{}", stage.frame(80, 24));
    assert!(stage.shows("0/0 10/29.2 20/56.7 40/106.7 60/150"), "{}", stage.frame(80, 24));
    assert_eq!(*knowledge(&stage), LeverageKnowledge::TravelOnly);
    stage.press("<Enter>");
    assert!(matches!(knowledge(&stage), LeverageKnowledge::Measured(pairs) if pairs.len() == 5));
}

#[test]
fn a_file_that_cannot_be_used_is_said_and_the_text_stays() {
    let tables = [
        (None, "There is no such file."),
        (Some(("/tmp/lev.csv", "")), "The file has no pairs."),
        (Some(("/tmp/lev.csv", "10,27.5\n20\n")), "Line 2 does not hold two figures."),
        (Some(("/tmp/lev.csv", "10,27.5\n20,NaN\n")), "Line 2: \"NaN\" is not a number."),
    ];
    for (table, why) in tables {
        let mut stage = at_the_leverage(Memory { table, ..Memory::default() }, Theme::DARK);
        stage.press("file: /tmp/lev.csv<Enter>");
        assert!(stage.shows(why) && stage.shows("file: /tmp/lev.csv"), "{}", stage.frame(80, 24));
        assert_eq!(*knowledge(&stage), LeverageKnowledge::TravelOnly);
    }
    let mut stage = usual();
    stage.press("file:<Enter>");
    assert!(stage.shows("The name of a file is missing."), "{}", stage.frame(80, 24));
}

#[test]
fn heights_have_to_begin_at_full_extension() {
    let mut stage = usual();
    stage.press("heights 10/369 20/397 40/447 60/490<Enter>");
    assert!(stage.shows("Axle heights must start at full extension"), "{}", stage.frame(80, 24));
}

#[test]
fn looking_at_the_curve_loses_nothing_typed() {
    let mut stage = usual();
    stage.press(PAIRS).press("<C-f><Esc>");
    assert!(stage.shows("50/129.2 60/150"), "nothing typed is lost:\n{}", stage.frame(80, 24));
}

#[test]
fn the_curve_in_ascii_tells_points_from_line() {
    let theme = Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii };
    let frame = at_the_leverage(Memory::default(), theme).press(PAIRS).press("<C-f>").frame(80, 24);
    assert!(frame.is_ascii() && frame.contains('*') && frame.contains("..."), "{frame}");
    // What has no stand-in shows as a question mark; the one key of that name stands in the footer.
    assert_eq!(frame.matches('?').count(), 1, "{frame}");
}

#[test]
fn without_anything_told_the_curve_says_what_to_type() {
    let frame = usual().press("<C-f>").frame(80, 24);
    assert!(frame.contains("No leverage ratio entered."), "{frame}");
}

#[test]
fn a_form_still_empty_asks_for_the_wire_first() {
    assert!(at_the_wire().shows("Still needed: wire diameter."));
}

#[test]
fn a_figure_that_cannot_be_is_said_while_it_is_typed() {
    let mut stage = at_the_wire();
    stage.press("94<Enter>58.6<Enter>7.5");
    assert!(stage.shows("Wire diameter: on a shock spring this lies between"), "{}", stage.frame(80, 24));
    stage.press("<BSpace><BSpace><BSpace>many");
    assert!(stage.shows("\"many\" is not a number."), "{}", stage.frame(80, 24));
}

#[test]
fn a_doubtful_rate_and_the_caution_are_both_in_sight_on_the_least_screen() {
    let mut stage = at_the_wire();
    let frame = stage.press("12.4<Enter>62<Enter>7.25<Enter><Enter><Enter>150<Enter>").frame(80, 24);
    assert!(frame.contains("mostly lie between"), "{frame}");
    assert!(frame.contains("before fitting it."), "{frame}");
}

#[test]
fn another_set_of_units_leaves_the_spring_as_it_was() {
    let mut stage = calculated();
    let rate = |stage: &Stage| {
        let frame = stage.frame(80, 24);
        frame.lines().find(|line| line.contains("Spring rate")).map(str::to_owned)
    };
    let before = rate(&stage);
    assert!(before.is_some());
    for _ in 0..3 {
        stage.press("<F3>");
        assert_eq!(rate(&stage), before);
    }
}

#[test]
fn ends_and_material_change_the_rate() {
    let mut stage = calculated();
    stage.press("<Up><Up><Right><Right><Right><Right>");
    assert!(stage.shows("titanium 6-4") && stage.shows("366 ± "), "{}", stage.frame(80, 24));
    stage.press("<Left><Left><Left><Left><Up><Right><Right>");
    assert!(stage.shows("plain and ground"), "{}", stage.frame(80, 24));
}

#[test]
fn a_worn_spring_of_the_rack_is_reckoned_without_losing_the_row() {
    let mut stage = Stage::new();
    stage.press("<Enter>").press(&"<Tab>".repeat(5)).press("400 450<C-f>");
    assert!(matches!(stage.model.place(), Place::Wire(_)), "{}", stage.frame(80, 24));
    stage.press("<Esc>");
    assert!(stage.shows("400 450"), "{}", stage.frame(80, 24));
}

#[test]
fn what_changes_leads_back_to_the_trials() {
    let mut stage = at_the_changes();
    stage.press("<Esc>");
    assert!(matches!(stage.model.place(), Place::Trials(_)));
}

#[test]
fn a_figure_of_the_wire_typed_anew_replaces_the_one_before() {
    let mut stage = calculated();
    stage.press("<Up><Up><Up><Up><Up>60<Tab>");
    assert!(stage.shows("60 mm") && !stage.shows("58.6"), "{}", stage.frame(80, 24));
}
