//! Every scene at every size: no panic, and below the least size a sentence.

use super::{Stage, drawn, scenes};

#[test]
fn every_place_survives_every_size_up_to_the_least() {
    for scene in scenes::one_of_every_place() {
        let model = scene.model();
        for width in 1..=80 {
            for height in 1..=24 {
                let frame = drawn(&model, width, height);
                assert!(!frame.trim().is_empty(), "nothing of {} at {width} by {height}", scene.name);
            }
        }
    }
}

#[test]
fn every_scene_survives_odd_large_sizes_and_always_shows_a_way_on() {
    for scene in scenes::all() {
        let model = scene.model();
        for (width, height) in [(81, 24), (80, 25), (115, 24), (116, 24), (131, 33), (300, 24), (80, 120)] {
            let frame = drawn(&model, width, height);
            let shows = frame.contains("help") || frame.contains("back");
            assert!(shows, "no way on from {} at {width} by {height}:\n{frame}", scene.name);
        }
    }
}

#[test]
fn a_window_too_small_says_so_in_a_plain_sentence() {
    let frame = Stage::new().frame(40, 8).replace('\n', " ");
    let sentence = "The window is 40 by 8 cells; this needs 40 by 12. Make it larger: the work is saved.";
    assert_eq!(frame.trim(), sentence);
}

#[test]
fn quick_trials_are_drawn_at_every_size() {
    let mut stage = super::trials::begun();
    for keys in [
        "",
        "<Enter>",
        "<Enter>",
        "<Enter>",
        "24.5<Enter>24<Enter>",
        "550<Enter>",
        "<Enter>",
        "20<Enter>void 3 fell<Enter>",
    ] {
        stage.press(keys);
        for width in [1, 2, 20, 79, 80, 81, 100, 119, 120, 121, 140, 170, 200] {
            for height in [1, 2, 5, 12, 23, 24, 25, 30, 40, 60] {
                assert!(!stage.frame(width, height).is_empty());
            }
        }
    }
}
