//! Whatever is pressed, wherever: no panic, and what is shown as kept is what was kept.

use coilwright::screen::effect::StorageState;
use coilwright::screen::place::Place;
use coilwright::session::{Stamp, machine};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};

use super::{Stage, scenes};

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
        "<F3>",
        "<F9>",
        "<F9>",
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

/// What the screen shows as kept is what the shell keeps, and every record folds to the state shown.
pub(super) fn check(stage: &Stage) -> Result<(), TestCaseError> {
    let Some(session) = &stage.model.desk.session else { return Ok(()) };
    let replayed = machine::replay(&session.record);
    prop_assert_eq!(replayed.as_ref(), Ok(&session.state));
    prop_assert_eq!(session.assessment.is_some(), session.state.setup.is_some());
    match session.keeping {
        StorageState::Kept => prop_assert_eq!(stage.shell.kept.last(), Some(&session.record)),
        StorageState::NothingYet => prop_assert!(session.record.entries.is_empty()),
        _ => {}
    }
    Ok(())
}

proptest! {
    #![proptest_config(crate::soak::cases(48))]

    #[test]
    fn whatever_is_pressed_what_is_shown_as_kept_was_kept(
        scene in any::<prop::sample::Index>(),
        keys in prop::collection::vec(key(), 1..60),
    ) {
        let scenes = scenes::all();
        let mut stage = scenes[scene.index(scenes.len())].stage();
        for key in keys {
            stage.press(key);
            prop_assert!(!stage.frame(80, 24).trim().is_empty());
            check(&stage)?;
        }
    }
}

/// What begins the same run of keys again.
const SEED: u64 = 2026;

#[test]
fn five_hundred_keys_at_every_place_lose_no_entry() {
    let keys = key();
    for (place, scene) in (0..).zip(scenes::one_of_every_place()) {
        let seed = [SEED, place, 0, 0].map(u64::to_le_bytes).concat();
        let random = TestRng::from_seed(RngAlgorithm::ChaCha, &seed);
        let mut runner = TestRunner::new_with_rng(ProptestConfig::default(), random);
        let mut stage = scene.stage();
        for step in 0..500 {
            let key = keys.new_tree(&mut runner).expect("a key").current();
            let entered = || format!("{key} at step {step} from {} (seed {SEED})", scene.name);
            let before = entries(&stage);
            stage.press(key);
            let now = entries(&stage);
            // A session that is watched shows as much of its record as was done by then, and keeps nothing.
            let watched = matches!(stage.model.place(), Place::Replay(_));
            assert!(watched || before.0 != now.0 || before.1 <= now.1, "{} lost an entry", entered());
            check(&stage).unwrap_or_else(|fault| panic!("{}: {fault}", entered()));
        }
        assert!(!stage.frame(140, 40).trim().is_empty());
    }
}

/// When the open record was opened, and how many entries it has; what is taken back stays in it.
fn entries(stage: &Stage) -> (Option<Stamp>, usize) {
    let record = stage.model.desk.session.as_ref().map(|session| &session.record);
    (record.map(|record| record.opened), record.map_or(0, |record| record.entries.len()))
}
