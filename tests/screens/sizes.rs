//! Every place at every size: no panic, and below the least size a sentence.

use super::{Stage, WHOLE_INTAKE};

/// One stage at every place.
fn everywhere() -> Vec<Stage> {
    let keys =
        ["", "<Enter>", "<Enter><C-k>", "<Down><Enter>", "<Up><Up><Up><Enter>", "<Up><Up><Up><Enter>a"];
    let mut stages: Vec<Stage> = keys
        .into_iter()
        .map(|keys| {
            let mut stage = Stage::new();
            stage.press(keys);
            stage
        })
        .collect();
    for first in ["<Enter>", "<Down><Enter>"] {
        let mut stage = Stage::new();
        stage.press(first).press(WHOLE_INTAKE).press("<Enter><Enter>");
        stages.push(stage);
    }
    stages.extend(super::figures::everywhere());
    stages
}

#[test]
fn every_place_survives_every_size_up_to_the_least() {
    for stage in everywhere() {
        for width in 1..=80 {
            for height in 1..=24 {
                let frame = stage.frame(width, height);
                assert!(!frame.trim().is_empty(), "nothing at {width} by {height}");
            }
        }
    }
}

#[test]
fn every_place_survives_odd_large_sizes() {
    for stage in everywhere() {
        for (width, height) in
            [(81, 24), (80, 25), (115, 24), (116, 24), (120, 24), (140, 40), (300, 24), (80, 120)]
        {
            assert!(
                stage.frame(width, height).contains("help") || stage.frame(width, height).contains("back")
            );
        }
    }
}
