//! Whatever is pressed, wherever: no panic, and what is shown as kept is what was kept.

use coilwright::screen::effect::Keeping;
use coilwright::session::machine;
use proptest::prelude::*;

use super::{Stage, WHOLE_INTAKE};

/// Keys a hand may hit, and some that lead somewhere.
fn key() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![
        "<Enter>",
        "<Enter>",
        "<Enter>",
        "<Esc>",
        "<Tab>",
        "<Down>",
        "<Up>",
        "<BackTab>",
        "<Left>",
        "<Right>",
        "<PgDn>",
        "<PgUp>",
        "<Home>",
        "<End>",
        "<BSpace>",
        "<F1>",
        "<F2>",
        "<C-k>",
        "<C-u>",
        "<C-t>",
        "<C-r>",
        "<C-d>",
        "<C-g>",
        "<C-n>",
        "<C-p>",
        "<C-x>",
        "<C-o>",
        "<C-y>",
        "<C-l>",
        "<C-w>",
        "<C-a>",
        "<C-e>",
        "?",
        "u",
        "n",
        "0",
        "1",
        "12.5",
        "16",
        "82",
        "450",
        "500 lb/in",
        "350-600 by 50",
        "30 +- 1",
        "Ü漢\u{202e}",
        " ",
        "/",
        "x",
        "keep",
    ])
}

pub(super) fn check(stage: &Stage) -> Result<(), TestCaseError> {
    prop_assert!(!stage.frame(80, 24).trim().is_empty());
    let Some(session) = &stage.model.desk.session else { return Ok(()) };
    let replayed = machine::replay(&session.record);
    prop_assert_eq!(replayed.as_ref(), Ok(&session.state));
    prop_assert_eq!(session.assessment.is_some(), session.state.setup.is_some());
    match session.keeping {
        Keeping::Kept => prop_assert_eq!(stage.shell.kept.last(), Some(&session.record)),
        _ => prop_assert!(session.record.entries.is_empty()),
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_pressed_what_is_shown_as_kept_was_kept(
        begun in any::<bool>(),
        keys in prop::collection::vec(key(), 1..60),
    ) {
        let mut stage = Stage::new();
        if begun {
            stage.press("<Enter>").press(WHOLE_INTAKE).press("<Enter>");
        }
        for key in keys {
            stage.press(key);
            check(&stage)?;
        }
    }
}
