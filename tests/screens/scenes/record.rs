//! One past session, and the sessions of one bike side by side.

use super::shop::troubled;
use super::{Scene, Shopfloor, staged};
use crate::screens::compare::compared;
use crate::screens::forget::two_customers;
use crate::screens::review::TO_LIST;
use crate::screens::versions::{other_details, two_notes};

pub(super) fn scenes() -> Vec<Scene> {
    vec![
        staged!("past_session", Shopfloor::of_demonstrations(), &format!("{TO_LIST}<Enter>")),
        staged!(
            "past_session_further",
            Shopfloor::of_demonstrations(),
            &format!("{TO_LIST}<Enter><PgDn><PgDn>")
        ),
        staged!(
            "past_session_its_end",
            Shopfloor::of_demonstrations(),
            &format!("{TO_LIST}<Enter><End>{}", "<PgDn>".repeat(14))
        ),
        staged!("replay", Shopfloor::of_demonstrations(), &format!("{TO_LIST}2026-03<Enter>m<PgDn><Enter>")),
        staged!("past_session_damaged", Shopfloor::with(troubled), &format!("{TO_LIST}2026-06<Enter>")),
        staged!("past_session_edited", Shopfloor::with(troubled), &format!("{TO_LIST}2026-05<Enter>")),
        staged!(
            "past_session_of_a_newer_program",
            Shopfloor::with(troubled),
            &format!("{TO_LIST}2026-04<Enter>")
        ),
        staged!(
            "past_session_nothing_to_compare",
            Shopfloor::of_demonstrations(),
            &format!("{TO_LIST}enduro<Enter>v")
        ),
        staged!("versions_to_bring_together", Shopfloor::with(two_notes), "2"),
        staged!("versions_that_do_not_go_together", Shopfloor::with(other_details), "2"),
        staged!("forget_a_customer", Shopfloor::with(two_customers), &format!("{TO_LIST}<F12>")),
        staged!("forget_a_word_typed", Shopfloor::with(two_customers), &format!("{TO_LIST}<F12>remove")),
        staged!("forget_done", Shopfloor::with(two_customers), &format!("{TO_LIST}<F12>remove<Enter>")),
        staged!("compare_two_visits", compared()),
        staged!("compare_further", compared(), "<PgDn><PgDn>"),
    ]
}
