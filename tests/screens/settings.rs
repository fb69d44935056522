//! The settings on the screen and in their file, and the intake that starts from them.

use std::fs;
use std::path::PathBuf;

use coilwright::screen::place::Place;
use coilwright::screen::theme::{Glyphs, Ink, Theme, ThemeChoice};
use coilwright::session::Target;
use coilwright::settings::Mouse;
use coilwright::units::{Length, Share, UnitSet};
use insta::assert_snapshot;

use super::shopfloor::Shopfloor;

/// From the first screen to the settings.
pub(super) const TO_SETTINGS: &str = "<Up><Up><Up><Up><Enter>";
/// From the first screen with the settings marked to a new session, at its first row.
const TO_INTAKE: &str = "<Esc><Up><Up><Up><Up><Up><Enter>";

fn file(shop: &Shopfloor) -> PathBuf {
    shop.records.join("settings.ron")
}

fn text(shop: &Shopfloor) -> String {
    fs::read_to_string(file(shop)).expect("it is there")
}

/// A shop with this text as its settings, started under it.
fn shop_under(text: Option<&str>, look: ThemeChoice) -> Shopfloor {
    let mut shop = Shopfloor::with(|records| {
        if let Some(text) = text {
            fs::write(records.join("settings.ron"), text).expect("it can be written");
        }
    });
    shop.start_under(look);
    shop
}

/// The settings of a shop that never changed one.
fn opened() -> Shopfloor {
    let mut shop = shop_under(None, ThemeChoice::found(Theme::DARK));
    shop.press(TO_SETTINGS);
    shop
}

#[test]
fn a_change_is_taken_back_and_a_line_left_early_opens_again() {
    let mut shop = opened();
    shop.press("<Right>");
    assert_eq!(shop.model.desk.units, UnitSet::Imperial);
    shop.press("<Down><Down><Down><Down><Down><Down><Del>");
    let bands = |shop: &Shopfloor| shop.model.desk.settled.settings().target_ranges.all().len();
    assert_eq!(bands(&shop), 1);
    shop.press("t");
    assert_eq!(bands(&shop), 2);
    shop.press("t");
    assert_eq!(shop.model.desk.units, UnitSet::Trade);
    assert!(text(&shop).contains("units: Trade") && text(&shop).contains("planted"), "{}", text(&shop));
    assert!(!shop.shows("t undo "));
    shop.press("apark, 27<Esc>").must_show("Your text is not lost");
    shop.press("a +- 2<Enter>").must_show("25.0–29.0 %");
}

#[test]
fn nothing_is_written_until_something_is_changed() {
    let mut shop = opened();
    shop.press("<Down><Enter><Esc><Down><Up><Enter><Enter><Esc>");
    assert!(!file(&shop).exists());
    shop.press("<Enter><Right>");
    assert!(text(&shop).contains("units: Imperial"));
}

#[test]
fn a_change_of_theme_glyphs_and_units_holds_in_the_same_frame() {
    let mut shop = opened();
    shop.press("<Right>").must_show("0.0197 in");
    shop.press("<Down><Down><Right><Right><Right>");
    assert_eq!(shop.model.desk.theme.ink, Ink::HighContrast);
    shop.press("<Down><Left>");
    assert_eq!(shop.model.desk.theme.glyphs, Glyphs::Ascii);
    assert!(shop.frame(140, 40).is_ascii());
    assert_snapshot!(text(&shop));
}

#[test]
fn the_next_start_begins_with_what_was_chosen() {
    let mut shop = opened();
    shop.press("<Right><Right><Down><Down><Right><Right><Down><Down><Right>");
    shop.start_under(ThemeChoice::found(Theme::DARK));
    let desk = &shop.model.desk;
    assert_eq!((desk.units, desk.theme.ink, desk.mouse), (UnitSet::Metric, Ink::Light, Mouse::Program));
}

#[test]
fn the_command_line_wins_and_the_settings_say_so() {
    let look =
        ThemeChoice { found: Theme::DARK, asked_ink: Some(Ink::Plain), asked_glyphs: Some(Glyphs::Ascii) };
    let mut shop = shop_under(Some("(format: 1, theme: Light, glyphs: Full)"), look);
    assert_eq!(shop.model.desk.theme, Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii });
    shop.press(TO_SETTINGS).must_show("this run plain, by --theme");
    shop.must_show("this run ASCII, by --ascii");
    shop.press("<Down><Down><Right>");
    assert_eq!(shop.model.desk.theme.ink, Ink::Plain);
    assert!(text(&shop).contains("theme: HighContrast"));
}

#[test]
fn the_key_for_units_holds_until_one_leaves_and_the_setting_for_good() {
    let mut shop = opened();
    shop.press("u").must_show("now in, lb, lb/in");
    assert!(!file(&shop).exists());
    let help = shop.press("<F1>units").frame(140, 40);
    assert!(help.contains("until you leave"), "{help}");
    shop.start_under(ThemeChoice::found(Theme::DARK));
    assert_eq!(shop.model.desk.units, UnitSet::Trade);
}

#[test]
fn a_file_with_faults_is_told_at_the_start_shown_with_all_of_them_and_never_written_over() {
    let broken = "(\n  format: 1,\n  units: Inches,\n  ruler_mm: 90,5,\n)";
    let mut shop = shop_under(Some(broken), ThemeChoice::found(Theme::DARK));
    shop.must_show("cannot be read; open Settings to see why");
    shop.press(TO_SETTINGS);
    assert_snapshot!(shop.frame(80, 24));
    shop.press("<Right><Enter>a<Down><Right>");
    assert_eq!(text(&shop), broken);
    // Mended by hand, it is taken in as the settings are opened again.
    fs::write(file(&shop), "(format: 1, units: Metric)").expect("it can be written");
    shop.press("<Esc><Enter>").must_show("mm, kg, N/mm");
    assert_eq!(shop.model.desk.units, UnitSet::Metric);
}

#[test]
fn a_newer_file_is_refused_and_left_alone() {
    let newer = "(format: 2, wheels: [27, 29])";
    let mut shop = shop_under(Some(newer), ThemeChoice::found(Theme::DARK));
    shop.press(TO_SETTINGS).must_show("in format 2 and this program reads format 1");
    shop.press("<Right>");
    assert_eq!(text(&shop), newer);
}

#[test]
fn settings_somebody_else_changed_meanwhile_are_left_alone() {
    let mut shop = opened();
    let theirs = "(format: 1, units: Metric)";
    fs::write(file(&shop), theirs).expect("it can be written");
    shop.press("<Down><Down><Right>").must_show("was not saved");
    assert_eq!(text(&shop), theirs);
    assert_eq!(shop.model.desk.theme.ink, Ink::Dark);
    shop.press("<Esc><Enter>").must_show("mm, kg, N/mm");
}

#[test]
fn a_band_is_added_changed_removed_and_the_trades_two_come_back() {
    let mut shop = opened();
    shop.press("apark, 27 +- 2<Enter>").must_show("25.0–29.0 %");
    shop.press("<Enter><C-w><C-w>26-30<Enter>").must_show("26.0–30.0 %");
    shop.press("<Up><Del><Up><Del>");
    assert!(!shop.shows("planted") || shop.shows("Bring back planted and lively"));
    assert_eq!(shop.model.desk.settled.settings().target_ranges.all().len(), 1);
    shop.press("<Down><Enter>");
    let names: Vec<String> = shop
        .model
        .desk
        .settled
        .settings()
        .target_ranges
        .all()
        .iter()
        .map(|band| band.name().shown().to_string())
        .collect();
    assert_eq!(names, ["planted", "lively", "park"]);
    assert!(text(&shop).contains("name: \"park\", sag_percent: 28.0"));
}

#[test]
fn a_line_that_cannot_be_read_stays_and_says_what_is_taken() {
    let mut shop = opened();
    shop.press("alively, 26<Enter>").must_show("A target range called lively is there already");
    shop.must_show("lively, 26");
    shop.press("<Esc><Down><Enter><C-w><C-w>fine<Enter>").must_show("fine");
    assert!(!file(&shop).exists());
    shop.press("<C-w>300<Enter>").must_show("must be between");
}

#[test]
fn the_intake_offers_ruler_bands_and_springs_of_the_settings() {
    let settings = "(format: 1, ruler_mm: 1.0, springs: Row(from_lb_in: 400, to_lb_in: 500, step_lb_in: 25), aims: [\
                    (name: \"park\", sag_percent: 27.25, half_width_percent: 2), \
                    (name: \"race\", sag_percent: 24, half_width_percent: 1)])";
    let mut shop = shop_under(Some(settings), ThemeChoice::found(Theme::DARK));
    shop.press(TO_SETTINGS).press(TO_INTAKE);
    shop.must_show("25.3–29.3 %  from settings");
    shop.must_show("1.0 mm  from settings");
    shop.must_show("5 springs, 400 to 500 lb/in  from settings");
    shop.press(&"<Tab>".repeat(7)).must_show("Target range: park 25.3–29.3 %. Enter goes");
    shop.press("RACE").must_show("= 23.0–25.0 %");
    shop.press("<Enter>").must_show("From settings: 1.0 mm.");
    let entered = &shop.record().intake;
    assert_eq!(entered.target, Some(Target { sag: Share::percent(24.0), tolerance: Share::percent(1.0) }));
    assert_eq!((entered.ruler, entered.springs.len()), (None, 0));
    // The shop's own values enter the record as the work begins, because the settings may change after it.
    shop.press(&"<Up>".repeat(8)).press("82<Enter>160<Enter>65<Enter><Tab><Enter>");
    let entered = &shop.record().intake;
    assert_eq!((entered.ruler, entered.springs.len()), (Some(Length::mm(1.0)), 5));
}

#[test]
fn the_first_range_of_the_settings_is_taken_to_every_digit() {
    let settings = "(format: 1, aims: [(name: \"park\", sag_percent: 27.25, half_width_percent: 2)])";
    let mut shop = shop_under(Some(settings), ThemeChoice::found(Theme::DARK));
    shop.press(TO_SETTINGS).press(TO_INTAKE).press("82<Enter>160<Enter>65<Enter>450x65<Enter><Enter>");
    assert_eq!(shop.record().intake.target.map(|target| target.sag), Some(Share::percent(27.25)));
}

#[test]
fn without_bands_and_springs_the_intake_offers_none() {
    let mut shop =
        shop_under(Some("(format: 1, springs: Nothing, aims: [])"), ThemeChoice::found(Theme::DARK));
    shop.press(TO_SETTINGS).must_show("Type the target each time.");
    shop.press(TO_INTAKE).press(&"<Tab>".repeat(7));
    assert!(!shop.shows("settings"));
    shop.press("<Enter>");
    assert_eq!(shop.record().intake.target, None);
    assert!(!shop.shows("from the rack"));
}

#[test]
fn the_settings_are_drawn_at_every_size() {
    for keys in ["", "a", "<Down><Enter>", "<Down><Down><Down><Down><Down><Enter>"] {
        let mut shop = opened();
        shop.press(keys);
        for width in (1..=90).chain([116, 140, 200]) {
            for height in [1, 2, 3, 5, 8, 12, 23, 24, 25, 40, 60] {
                assert!(!shop.frame(width, height).trim().is_empty(), "{width} by {height}");
            }
        }
    }
}

#[test]
fn the_way_back_leads_home() {
    let mut shop = opened();
    shop.press("<Esc>");
    assert!(matches!(shop.model.place(), Place::Home(_)));
}

#[test]
fn every_step_names_the_mechanic_of_the_settings_and_the_history_says_where_the_hand_changes() {
    let mut shop = shop_under(Some("(format: 1, mechanic: \"Cleo\")"), ThemeChoice::found(Theme::DARK));
    shop.press("<Enter>84<Enter>150<Enter>60<Enter>450<Enter><Enter><Enter><Enter>");
    let named = |shop: &Shopfloor| -> Vec<String> {
        shop.record().entries.iter().map(|entry| entry.by.shown().to_string()).collect()
    };
    let of_cleo = named(&shop).len();
    assert!(of_cleo > 2 && named(&shop).iter().all(|by| by == "Cleo"), "{:?}", named(&shop));
    fs::write(file(&shop), "(format: 1, mechanic: \"Ben\")").expect("it can be written");
    shop.start_under(ThemeChoice::found(Theme::DARK));
    shop.press("<Enter><Enter>");
    assert_eq!(named(&shop).last().map(String::as_str), Some("Ben"));
    assert!(named(&shop)[..of_cleo].iter().all(|by| by == "Cleo"));
    // Nobody is named by a shop that names nobody.
    fs::write(file(&shop), "(format: 1)").expect("it can be written");
    shop.start_under(ThemeChoice::found(Theme::DARK));
    shop.press("<Enter><Enter>");
    assert_eq!(named(&shop).last().map(String::as_str), Some(""));
    shop.start_under(ThemeChoice::found(Theme::DARK));
    shop.press("<Down><Down><Down><Enter><Enter>");
    let history = shop.frame(100, 60);
    assert!(history.contains("by Cleo") && history.contains("by Ben"), "{history}");
}
