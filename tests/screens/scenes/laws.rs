//! What holds of every scene: it looks as it was found good, in text and in inks, and the four themes say the same.

use coilwright::screen::place::Place;
use coilwright::screen::theme::{Glyphs, Ink, Theme};
use insta::{assert_snapshot, with_settings};
use ratatui::style::{Color, Modifier};

use super::{SIZES, Scene, all, buffer, drawn};

const INKS: [Ink; 4] = [Ink::Dark, Ink::Light, Ink::HighContrast, Ink::Plain];

fn looks_as_found_good(scenes: Vec<Scene>) {
    for scene in scenes {
        let model = scene.model();
        with_settings!({ prepend_module_to_snapshot => false, snapshot_path => "snapshots", omit_expression => true }, {
            assert_snapshot!(scene.name, drawn::text(&model));
            assert_snapshot!(format!("{}.inks", scene.name), drawn::inks(&model));
        });
    }
}

#[test]
fn the_first_screen_and_the_help_look_as_they_were_found_good() {
    looks_as_found_good(super::home::scenes());
}

#[test]
fn the_intake_looks_as_it_was_found_good() {
    looks_as_found_good(super::intake::scenes());
}

#[test]
fn the_guide_looks_as_it_was_found_good() {
    looks_as_found_good(super::guide::scenes());
}

#[test]
fn quick_trials_look_as_they_were_found_good() {
    looks_as_found_good(super::trials::scenes());
}

#[test]
fn the_shop_looks_as_it_was_found_good() {
    looks_as_found_good(super::shop::scenes());
}

#[test]
fn past_sessions_look_as_they_were_found_good() {
    looks_as_found_good(super::record::scenes());
}

#[test]
fn the_figures_behind_look_as_they_were_found_good() {
    looks_as_found_good(super::bench::scenes());
}

#[test]
fn every_theme_says_the_same() {
    for scene in all() {
        let mut model = scene.model();
        let texts = INKS.map(|ink| {
            model.desk.theme = Theme { ink, glyphs: Glyphs::Full };
            // Only the settings name the theme itself.
            let is_settings = matches!(model.place(), Place::Settings(_));
            let named = |line: &&str| is_settings && line.contains("Theme  ");
            let text = drawn::text(&model);
            // Without colour lines edge what has a ground of its own otherwise.
            let text =
                if ink == Ink::Plain { without_edges(&text, &drawn::text(&scene.model())) } else { text };
            text.lines().filter(|line| !named(line)).collect::<Vec<_>>().join("\n")
        });
        for (ink, text) in INKS.iter().zip(&texts) {
            assert!(*text == texts[0], "{} says other things in {ink:?}:\n{text}", scene.name);
        }
    }
}

/// The text with blanks for the lines that stand where the other has blanks.
fn without_edges(text: &str, other: &str) -> String {
    let edge = |(one, other): (char, char)| if other == ' ' && "│─".contains(one) { ' ' } else { one };
    let line = |(line, other): (&str, &str)| {
        let other = other.chars().chain(std::iter::repeat(' '));
        line.chars().zip(other).map(edge).collect::<String>().trim_end().to_owned()
    };
    text.lines().zip(other.lines()).map(line).collect::<Vec<_>>().join("\n")
}

/// A sign that colour gives two meanings would have only one for those who see no colour: whatever stands in two inks in one
/// frame has to differ in weight, dimness or ground as well, as it does in the plain theme.
#[test]
fn no_sign_is_told_apart_by_colour_alone() {
    let mut faults: Vec<String> = Vec::new();
    for scene in all() {
        let model = scene.model();
        for size in SIZES {
            let buffer = buffer(&model, size);
            let signs = buffer.content.iter().filter(|cell| is_sign(cell.symbol()));
            let mut seen: Vec<(&str, (Modifier, Color), Color)> =
                signs.map(|cell| (cell.symbol(), (cell.modifier, cell.bg), cell.fg)).collect();
            seen.sort_by_key(|sign| format!("{sign:?}"));
            seen.dedup();
            let pairs = seen.windows(2).filter(|pair| (pair[0].0, pair[0].1) == (pair[1].0, pair[1].1));
            faults.extend(pairs.map(|pair| format!("{} at {size:?}: {pair:?}", scene.name)));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Signs and shapes that mean something. Not letters and figures: words say what they mean; not lines and dots: they make
/// frames, rules and intervals, whose form says which.
fn is_sign(symbol: &str) -> bool {
    let means = |letter: char| {
        !letter.is_ascii()
            && !letter.is_alphanumeric()
            && letter != '·'
            && !('\u{2500}'..='\u{257f}').contains(&letter)
    };
    symbol.chars().all(means)
}

#[test]
fn the_plain_theme_sets_no_ink_and_no_ground() {
    for scene in all() {
        for glyphs in [Glyphs::Full, Glyphs::Ascii] {
            let model = scene.themed(Theme { ink: Ink::Plain, glyphs });
            let buffer = buffer(&model, (140, 40));
            let own = |cell: &ratatui::buffer::Cell| (cell.fg, cell.bg) == (Color::Reset, Color::Reset);
            assert!(buffer.content.iter().all(own), "{}", scene.name);
        }
    }
}
