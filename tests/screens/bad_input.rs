//! What people type by mistake: a clear sentence, nothing lost, no panic, and nothing of it in the record.

use coilwright::session::Intake;
use crossterm::event::Event;

use super::Stage;

/// At the row of the rider, nothing entered yet.
fn at_the_rider() -> Stage {
    let mut stage = Stage::new();
    stage.press("<Enter><Enter><Enter><Enter>");
    stage
}

/// At the row of the shock stroke, with 60 mm of travel told.
fn at_the_stroke() -> Stage {
    let mut stage = at_the_rider();
    stage.press("82<Enter>15<Enter>60<Enter><Enter>");
    assert!(stage.shows("60.0 mm"), "{}", stage.frame(80, 24));
    stage
}

fn intake(stage: &Stage) -> Intake {
    stage.record().intake.clone()
}

#[test]
fn a_weight_that_is_none_is_refused_and_stays_in_the_field() {
    let typed = ["eighty", "-82", "0", "9999", "nan", "inf", "1e400", "82 mm", "1,500", "82 83"];
    for text in typed {
        let mut stage = at_the_rider();
        stage.press(text).press("<Enter>");
        assert_eq!(intake(&stage).rider, None, "{text} was taken");
        assert!(stage.shows(text), "{text} was lost:\n{}", stage.frame(80, 24));
        // The field still takes a sound figure in its place.
        stage.press(&"<BSpace>".repeat(text.chars().count())).press("82<Enter>");
        assert!(intake(&stage).rider.is_some(), "after {text}:\n{}", stage.frame(80, 24));
    }
}

#[test]
fn nothing_typed_says_what_is_wanted() {
    let mut stage = at_the_rider();
    stage.press("<Enter>");
    assert_eq!(intake(&stage).rider, None);
    assert!(stage.shows("Nothing is typed yet"), "{}", stage.frame(80, 24));
}

#[test]
fn a_stroke_greater_than_the_travel_is_refused() {
    let mut stage = at_the_stroke();
    stage.press("75<Enter>");
    assert_eq!(intake(&stage).stroke, None);
    assert!(stage.shows("75") && stage.shows("travel"), "{}", stage.frame(80, 24));
}

#[test]
fn a_long_name_with_slashes_escape_codes_and_emoji_is_kept_and_moves_no_pen() {
    let name: String = "../\u{1b}[31m\u{202e}🚲名/".chars().cycle().take(300).collect();
    let mut stage = Stage::new();
    stage.press("<Enter><Up>").take(Event::Paste(name.clone()));
    stage.press("<Enter>");
    // A paste is text: what would act as a key is turned into a mark on the way, the rest is kept as it came.
    let kept = intake(&stage).bike_name;
    assert_eq!(kept.as_typed().chars().count(), 300);
    assert!(kept.as_typed().starts_with("../") && kept.as_typed().contains("🚲名"));
    for (width, height) in [(80, 24), (140, 40)] {
        let frame = stage.frame(width, height);
        let acting = |letter: char| letter.is_control() && letter != '\n' || letter == '\u{202e}';
        assert!(!frame.contains(acting), "{frame:?}");
    }
}
