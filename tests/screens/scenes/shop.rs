//! What a shop keeps: its rack of springs and the list of past sessions.

use std::fs;
use std::path::Path;

use super::{Scene, Shopfloor, Stage, staged};
use crate::screens::marks::{TO_RACK, marked_shop};
use crate::screens::rack::{THREE, shop};
use crate::screens::review::TO_LIST;
use crate::screens::settings::TO_SETTINGS;
use crate::screens::shopfloor::{copy_demonstrations, fill_with};

const FAULTY: &str = "(\n  format: 1,\n  springs: [\n    (rate_lb_in: 45000.0),\n    \
                      (rate_lb_in: 450.0, stroke_mm: 9000.0),\n    (rate_lb_in: 500,0),\n  ],\n)";

pub(super) fn scenes() -> Vec<Scene> {
    vec![
        staged!("rack_empty", shop(None)),
        staged!("rack_kept", shop(None), THREE),
        staged!("rack_the_file_did_not_take_it", changed_by_somebody(), "<Right>"),
        staged!("rack_a_spring_being_typed", shop(None), "a450 x2, stroke 65"),
        staged!("rack_a_line_refused", shop(None), "a450, colour red<Enter>"),
        staged!("rack_a_line_set_aside", shop(None), "a450 x2, stroke<Esc>"),
        staged!("rack_a_file_with_faults", shop(Some(FAULTY))),
        staged!("rack_marked_and_learned", marked_shop(), TO_RACK),
        staged!("settings", Shopfloor::with(|_| {}), TO_SETTINGS),
        staged!(
            "settings_aim_bands",
            Shopfloor::with(|_| {}),
            &format!("{TO_SETTINGS}<Down><Down><Down><Down>")
        ),
        staged!(
            "settings_a_band_being_typed",
            Shopfloor::with(|_| {}),
            &format!("{TO_SETTINGS}<Down><Down><Down><Down>apark, 27 +- 2")
        ),
        staged!("tally", marked_shop(), "i"),
        staged!("tally_of_twelve_months_further_down", marked_shop(), "i<Right><PgDn>"),
        staged!("tally_nothing_yet", Shopfloor::of_demonstrations(), "i"),
        staged!("tally_being_read", Stage::new(), "i"),
        staged!(
            "review_picked",
            Shopfloor::of_demonstrations(),
            &format!("{TO_LIST}<C- ><Down><C- ><Down><Down>")
        ),
        staged!("review_empty", Shopfloor::with(|_| {}), TO_LIST),
        staged!("review_some", Shopfloor::of_demonstrations(), TO_LIST),
        staged!("review_searching", Shopfloor::of_demonstrations(), &format!("{TO_LIST}mountain")),
        staged!("review_nothing_found", Shopfloor::of_demonstrations(), &format!("{TO_LIST}xyzzyx")),
        staged!(
            "review_many",
            Shopfloor::with(|records| fill_with(records, 300)),
            &format!("{TO_LIST}<PgDn><PgDn><Down>")
        ),
        staged!("review_damaged_edited_and_newer", Shopfloor::with(troubled), TO_LIST),
    ]
}

/// A rack that somebody else changed since it was read.
fn changed_by_somebody() -> Shopfloor {
    let shop = shop(Some("(format: 1, springs: [(rate_lb_in: 450.0, stroke_mm: 65.0)])"));
    fs::write(shop.records.join("rack.ron"), "(format: 1, springs: [])").expect("it can be written");
    shop
}

/// The demonstrations, of which one is damaged, one was edited and one is of a newer program.
pub(super) fn troubled(records: &Path) {
    copy_demonstrations(records);
    let changes = [
        ("2026-06-11-1130-a27713.ron", "Read(reading_mm: 14.0)", "Read(reading_mm: x)"),
        ("2026-05-23-0915-5c117e.ron", "rider_kg: ", "rider_kg: 1"),
        ("2026-04-02-1640-81d0b7.ron", "format: 2", "format: 9"),
    ];
    for (name, old, new) in changes {
        let text = fs::read_to_string(records.join(name)).expect("it ships");
        assert!(text.contains(old), "{old} is not in {name}");
        fs::write(records.join(name), text.replacen(old, new, 1)).expect("it can be written");
    }
}
