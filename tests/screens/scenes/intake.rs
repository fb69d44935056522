//! The details told before the work.

use coilwright::session::work_mode::WorkMode;

use super::home::unfinished;
use super::{Scene, Shopfloor, staged};
use crate::screens::figures::{PAIRS, usual};
use crate::screens::review::TO_LIST;
use crate::screens::{Stage, WHOLE_INTAKE};

const TO_RIDER: &str = "<Enter>";

pub(super) fn scenes() -> Vec<Scene> {
    vec![
        staged!("intake_empty", Stage::new(), "<Enter>"),
        staged!(
            "intake_half",
            Stage::new(),
            "<Enter><Up><Up>Invented Rider<Enter>Trail bike, blue<Enter>82<Enter>15"
        ),
        staged!("intake_opens_at_what_is_needed", unfinished(), "<Enter>82 kg"),
        staged!("intake_a_spring_that_binds", crate::screens::safety::told_that_it_binds(WorkMode::Guided)),
        staged!("intake_no_figure", Stage::new(), &format!("{TO_RIDER}eighty<Enter>")),
        staged!("intake_an_impossible_figure", Stage::new(), &format!("{TO_RIDER}820<Enter>")),
        staged!("intake_an_unusual_figure_is_asked_about", Stage::new(), &format!("{TO_RIDER}135<Enter>")),
        staged!("intake_a_text_not_accepted_waits", Stage::new(), &format!("{TO_RIDER}82<Tab>")),
        staged!("intake_leaving_asks_about_it", Stage::new(), &format!("{TO_RIDER}82<Esc>")),
        staged!("intake_the_leverage_ratio_being_typed", usual(), PAIRS),
        staged!("intake_a_leverage_pair_refused", usual(), "10/29.2 20/56.7 30/50 40/106.7 60/150<Enter>"),
        staged!("intake_the_rack_of_springs", Stage::new(), &format!("<Enter>{WHOLE_INTAKE}<Tab>")),
        staged!("intake_the_spring_on_the_bike", Stage::new(), &format!("<Enter>{WHOLE_INTAKE}<Up>")),
        staged!("intake_complete", Stage::new(), &format!("<Enter>{WHOLE_INTAKE}")),
        staged!("intake_in_inches_and_pounds", Stage::new(), &format!("<Enter>{WHOLE_INTAKE}<F3>")),
        staged!(
            "intake_a_customer_who_is_back",
            Shopfloor::of_demonstrations(),
            &format!("{TO_LIST}2025-09-20<Enter>b")
        ),
    ]
}
