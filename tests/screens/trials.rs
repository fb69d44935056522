//! Quick trials driven by keys: one line for everything, and cautions before the first trial and every change of spring.

use coilwright::session::{Caution, Deed, ReadingNumber, SpringNumber, Step};
use coilwright::units::{Length, Turns};

use super::{Stage, WHOLE_INTAKE};

/// Quick trials, the intake done.
pub(crate) fn begun() -> Stage {
    let mut stage = Stage::new();
    stage.press("<Down><Enter>").press(WHOLE_INTAKE).press("<Enter>");
    stage
}

/// Ready for the first line.
pub(crate) fn ready() -> Stage {
    let mut stage = begun();
    stage.press("<Enter><Enter>");
    stage
}

#[test]
#[ignore]
fn look() {
    let mut stage = begun();
    for keys in [
        "",
        "<Enter>",
        "<Enter>",
        "24.5",
        "<Enter>24<Enter>24.5<Enter>",
        "550<Enter>",
        "<Enter>",
        "19.5<Enter>20<Enter>23<Enter>19.5<Enter>void 6 bounced",
        "<Enter>t 1<Enter>",
        "s 5",
        "00<Enter>",
        "<Esc>",
        "<C-y>",
    ] {
        stage.press(keys);
        println!("=== {keys:?}\n{}\n{}", stage.frame(80, 24), stage.frame(140, 40));
    }
}
