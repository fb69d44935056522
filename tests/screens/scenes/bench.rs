//! The figures behind: the leverage curve, what changes with the spring, a spring from its wire.

use super::{Scene, staged};
use crate::screens::figures::{PAIRS, at_the_changes, at_the_wire, calculated, usual};
use crate::screens::sheet::{found, ridden};

pub(super) fn scenes() -> Vec<Scene> {
    vec![
        staged!("curve_nothing_told", usual(), "<C-f>"),
        staged!("curve_measured", usual(), &format!("{PAIRS}<C-f>")),
        staged!("curve_of_two_ends", usual(), "3.0 to 2.0<C-f>"),
        staged!("changes_with_the_spring", at_the_changes()),
        staged!("around_the_spring", ridden(), "<Esc>f"),
        staged!("sheet_as_found", found(), "s"),
        staged!("sheet_after_a_ride", ridden()),
        staged!("sheet_not_understood", found(), "s<Down>eight<Esc>"),
        staged!("wire_empty", at_the_wire()),
        staged!("wire_a_choice", at_the_wire(), "<Tab><Tab><Tab>"),
        staged!("wire_no_figure", at_the_wire(), "94<Enter>58.6<Enter>many"),
        staged!("wire_reckoned", calculated()),
        staged!(
            "wire_a_doubtful_rate",
            at_the_wire(),
            "12.4<Enter>62<Enter>7.25<Enter><Enter><Enter>150<Enter>"
        ),
    ]
}
