//! The inks of every theme under common palettes: read against their ground, and told apart by those who see two of three
//! colours.
//!
//! Colour only repeats what words and shapes say (`scenes/laws.rs`), so this is about comfort; the bounds are those of
//! WCAG 2.2 all the same: 1.4.3 Contrast (Minimum), 4.5 to 1 for text, and 1.4.11 Non-text Contrast, 3 to 1 for signs.

mod light;

use coilwright::screen::theme::{Glyphs, Ink, Theme};
use ratatui::style::{Color, Modifier, Style};

use light::{Rgb, Vision, apart, contrast};

/// Sixteen colours as a terminal shows them, and its usual text on a dark ground.
struct Palette {
    name: &'static str,
    colours: [Rgb; 16],
}

/// Palettes from memory; the grounds are black and white.
const XTERM: Palette = Palette {
    name: "xterm",
    colours: [
        [0, 0, 0],
        [205, 0, 0],
        [0, 205, 0],
        [205, 205, 0],
        [0, 0, 238],
        [205, 0, 205],
        [0, 205, 205],
        [229, 229, 229],
        [127, 127, 127],
        [255, 0, 0],
        [0, 255, 0],
        [255, 255, 0],
        [92, 92, 255],
        [255, 0, 255],
        [0, 255, 255],
        [255, 255, 255],
    ],
};
const TANGO: Palette = Palette {
    name: "Tango",
    colours: [
        [46, 52, 54],
        [204, 0, 0],
        [78, 154, 6],
        [196, 160, 0],
        [52, 101, 164],
        [117, 80, 123],
        [6, 152, 154],
        [211, 215, 207],
        [85, 87, 83],
        [239, 41, 41],
        [138, 226, 52],
        [252, 233, 79],
        [114, 159, 207],
        [173, 127, 168],
        [52, 226, 226],
        [238, 238, 236],
    ],
};
const CONSOLE: Palette = Palette {
    name: "Linux console",
    colours: [
        [0, 0, 0],
        [170, 0, 0],
        [0, 170, 0],
        [170, 85, 0],
        [0, 0, 170],
        [170, 0, 170],
        [0, 170, 170],
        [170, 170, 170],
        [85, 85, 85],
        [255, 85, 85],
        [85, 255, 85],
        [255, 255, 85],
        [85, 85, 255],
        [255, 85, 255],
        [85, 255, 255],
        [255, 255, 255],
    ],
};

/// Text, and signs or shapes, against what they stand on.
const TEXT: f64 = 4.5;
const SIGN: f64 = 3.0;
/// How far apart inks of different meaning have to look; a difference of 1 is just seen on large fields that touch, and
/// thin signs need several times that (common practice, no source).
const APART: f64 = 12.0;

/// A theme where it is used: under which palette, on which ground, with which usual text.
struct Setting {
    theme: Theme,
    palette: Palette,
    ground: Rgb,
    text: Rgb,
}

fn settings() -> Vec<Setting> {
    let themed = |ink| Theme { ink, glyphs: Glyphs::Full };
    let mut settings = Vec::new();
    for palette in [XTERM, TANGO] {
        let Palette { name, colours } = palette;
        let at = |ink, ground, text| Setting {
            theme: themed(ink),
            palette: Palette { name, colours },
            ground,
            text,
        };
        settings.push(at(Ink::Dark, [0; 3], colours[7]));
        settings.push(at(Ink::Light, [255; 3], colours[0]));
    }
    for palette in [XTERM, CONSOLE] {
        // It brings its own ground and text out of the sixteen.
        let (ground, text) = (palette.colours[0], palette.colours[7]);
        settings.push(Setting { theme: themed(Ink::HighContrast), palette, ground, text });
    }
    settings
}

impl Setting {
    /// A style as it is seen; dimmed text is two thirds of its ink, as most terminals have it (from memory).
    fn seen(&self, style: Style) -> Rgb {
        let ink = style.fg.map_or(self.text, |colour| self.palette.colours[number(colour)]);
        if style.add_modifier.contains(Modifier::DIM) { self.mixed(ink, [2, 3]) } else { ink }
    }

    /// The ground of the target range, and what stands on it.
    fn target(&self) -> [Rgb; 2] {
        let style = self.theme.ground().expect("a theme of colours");
        [style.bg, style.fg].map(|colour| self.palette.colours[number(colour.expect("a colour"))])
    }

    /// So many parts ink of so many, the rest ground.
    fn mixed(&self, ink: Rgb, [parts, of]: [u16; 2]) -> Rgb {
        std::array::from_fn(|part| {
            let mixed = (u16::from(ink[part]) * parts + u16::from(self.ground[part]) * (of - parts)) / of;
            u8::try_from(mixed).expect("between two")
        })
    }

    fn entered(&self) -> String {
        format!("{:?} under {}", self.theme.ink, self.palette.name)
    }
}

/// The place of a colour among the sixteen; the themes use no others.
fn number(colour: Color) -> usize {
    match colour {
        Color::Black => 0,
        Color::Red => 1,
        Color::Blue => 4,
        Color::Cyan => 6,
        Color::LightRed => 9,
        Color::LightBlue => 12,
        Color::LightCyan => 14,
        Color::White => 15,
        other => panic!("{other:?} is no ink of a theme"),
    }
}

#[test]
fn words_can_be_read_on_their_ground() {
    for setting in settings() {
        let theme = setting.theme;
        let words = [
            ("text", theme.text()),
            ("quiet", theme.quiet()),
            ("title", theme.title()),
            ("good", theme.good()),
            ("alert", theme.alert()),
            ("void", theme.void()),
        ];
        for (name, style) in words {
            let ratio = contrast(setting.seen(style), setting.ground);
            // WCAG 2.2, 1.4.3 Contrast (Minimum).
            assert!(ratio >= TEXT, "{name} of {}: {ratio:.2} to 1", setting.entered());
        }
    }
}

#[test]
fn signs_can_be_seen_on_their_ground() {
    for setting in settings() {
        let [target, on_target] = setting.target();
        let mark = (setting.seen(setting.theme.accent()), setting.ground);
        for (name, (sign, ground)) in [("mark", mark), ("mark on the target", (on_target, target))] {
            let ratio = contrast(sign, ground);
            // WCAG 2.2, 1.4.11 Non-text Contrast.
            assert!(ratio >= SIGN, "{name} of {}: {ratio:.2} to 1", setting.entered());
        }
    }
}

#[test]
fn inks_of_different_meaning_look_different_to_everybody() {
    for setting in settings() {
        let theme = setting.theme;
        let [mark, good, alert, text] =
            [theme.accent(), theme.good(), theme.alert(), theme.text()].map(|style| setting.seen(style));
        let pairs = [
            ("mark and alert", mark, alert),
            ("good and alert", good, alert),
            ("alert and text", alert, text),
            ("target and the ground around it", setting.target()[0], setting.ground),
        ];
        for vision in Vision::ALL {
            for (name, one, other) in pairs {
                let apart = apart(one, other, vision);
                assert!(apart >= APART, "{name} of {} with {vision:?}: {apart:.1} apart", setting.entered());
            }
        }
    }
}

#[test]
fn red_against_green_would_not_have_passed() {
    // What the bound is for: the usual pair of good and bad.
    let [red, green] = [XTERM.colours[1], [0x40, 0x70, 0]];
    assert!(apart(red, green, Vision::Usual) > 2.0 * APART);
    assert!(apart(red, green, Vision::Protanopia).min(apart(red, green, Vision::Deuteranopia)) < APART);
}
