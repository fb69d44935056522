//! Quick trials.

use super::{Scene, staged};
use crate::screens::trials::{begun, ready, three};

pub(super) fn scenes() -> Vec<Scene> {
    vec![
        staged!("trials_cautions", begun()),
        staged!("trials_cautions_of_the_measuring", begun(), "<Enter>"),
        staged!("trials_opening", begun(), "<Enter><Enter>"),
        staged!("trials_collar_past_what_is_allowed", begun(), "<Enter><Enter>2.5<Enter>"),
        staged!("trials_none_yet", ready()),
        staged!("trials_a_reading_being_typed", ready(), "24.5"),
        staged!("trials_three", three()),
        staged!("trials_another_spring_being_typed", three(), "s 550"),
        staged!("trials_another_spring_is_asked_about", three(), "s 550<Enter>"),
        staged!(
            "trials_a_second_spring",
            three(),
            "s 550<Enter><Enter>20<Enter>23<Enter><Enter>19.5<Enter>void 5 bounced<Enter>t 1"
        ),
        staged!(
            "trials_with_a_pack",
            three(),
            "s 550<Enter><Enter>20<Enter>19.5<Enter>15 bounced<Enter>w 120 pack<Enter>21<Enter>21.5<Enter>w 11"
        ),
        staged!(
            "trials_ten_sets",
            three(),
            "s 550<Enter><Enter>20<Enter>t 1/4<Enter>19.5<Enter>t 1/2<Enter>19<Enter>t 3/4<Enter>18.5<Enter>t 1<Enter>\
             18<Enter>t 0<Enter>20<Enter>s 600<Enter><Enter>18<Enter>t 1/4<Enter>17.5<Enter>w 120 pack<Enter>19<Enter>18"
        ),
        staged!(
            "trials_the_collar_turned",
            three(),
            "s 500 t 1<Enter><Enter>20<Enter>19.5<Enter>19.5<Enter>"
        ),
        staged!("trials_a_figure_refused", three(), "520<Enter>"),
        staged!("trials_an_unusual_figure", three(), "60<Enter>"),
        staged!("trials_nothing_that_is_taken", three(), "hello<Enter>"),
        staged!("trials_many", ready(), &"24.5<Enter>24<Enter>".repeat(12)),
    ]
}
