//! The first screen, the help, and the sentence of a window too small.

use coilwright::archive::SessionName;
use coilwright::archive::index::WorkSummary;
use coilwright::assessment::Standing;
use coilwright::screen::effect::{ListedSession, ListedSummary, SessionProgress};
use coilwright::screen::theme::Theme;
use coilwright::session::{Detail, Record, Step};
use coilwright::text::FreeText;
use coilwright::units::{Share, SpringRate};

use super::{Scene, Shopfloor, staged};
use crate::screens::versions::two_notes;
use crate::screens::{Memory, Stage, noon};

pub(super) fn scenes() -> Vec<Scene> {
    vec![
        staged!("home_a_session_in_two_versions", Shopfloor::with(two_notes)),
        staged!("home_empty", Stage::new()),
        staged!("home_an_unfinished_session_is_offered", unfinished()),
        staged!("home_records_found_elsewhere", found()),
        staged!("home_with_past_sessions", Shopfloor::of_demonstrations()),
        staged!("home_demonstrations", Shopfloor::of_demonstrations(), "<Up><Up><Up><Enter>"),
        staged!("help_from_home", Stage::new(), "?"),
        staged!("help_from_a_text_field", Stage::new(), "<Enter><F1>"),
        staged!("help_from_the_guide", super::super::guide::at_leg(10), "?"),
        staged!(
            "help_its_end",
            super::super::guide::at_leg(10),
            "?<PgDn><PgDn><PgDn><PgDn><PgDn><PgDn><PgDn><PgDn>"
        ),
        staged!("help_words_of_the_trade", super::super::guide::at_leg(10), "?<Enter>"),
        staged!("help_narrowed", super::super::guide::at_leg(10), "?preload"),
        staged!("help_found_on_the_other_page_only", super::super::guide::at_leg(10), "?coil bind"),
        staged!("help_nothing_found", Stage::new(), "?xyzzyx"),
        staged!("palette_from_home", Shopfloor::of_demonstrations(), ":"),
        staged!("palette_narrowed_to_sessions", Shopfloor::of_demonstrations(), ":mountain"),
        staged!("palette_in_the_guide", super::super::guide::at_leg(10), "<F9>"),
        staged!("palette_letters_hit", super::super::guide::at_leg(10), "<F9>un"),
        staged!("palette_nothing_found", Stage::new(), ":xyzzyx"),
    ]
}

/// A shop with a session of which only the customer was told.
pub(crate) fn unfinished() -> Stage {
    listing(&[(7, "Invented Rider", SessionProgress::Unfinished)])
}

fn found() -> Stage {
    listing(&[
        (7, "Invented Rider", SessionProgress::Closed),
        (8, "Invented Rider of a very long name, and of a longer family name", SessionProgress::FoundInSpool),
        (9, "", SessionProgress::FoundBeside),
    ])
}

fn listing(lines: &[(u32, &str, SessionProgress)]) -> Stage {
    let past = lines.iter().map(|(number, customer, progress)| {
        let mut record = Record::new(noon());
        record.intake.enter(Detail::Customer(FreeText::new(customer))).expect("possible");
        let summary = ListedSummary::Read {
            opened: noon(),
            customer: record.intake.customer.clone(),
            bike: FreeText::default(),
            origin: record.intake.origin,
            progress: *progress,
            work: WorkSummary {
                last_worked: noon(),
                step: Step::Decision,
                fitted: Some(SpringRate::lb_per_in(450.0)),
                swaps: 1,
                sag: Some(Share::percent(30.6)),
                standing: Some(Standing::Inside),
                target: Some(Share::percent(30.0)),
            },
        };
        (ListedSession { name: SessionName::new(&noon(), *number), summary }, record)
    });
    Stage::with(Memory { past: past.collect(), ..Memory::default() }, Theme::DARK)
}
