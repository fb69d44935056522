//! Colours as light: linear sRGB, contrast, how they look without one kind of cone, and how far apart two of them look.
//!
//! Sources: sRGB as IEC 61966-2-1 has it, relative luminance and contrast ratio as WCAG 2.2 defines them (read in W3C's
//! text); CIELAB for the D65 white of sRGB (CIE 15, from memory); the other figures are files of `tests/published`.

use std::f64::consts::PI;

/// A colour as a screen is told it.
pub(super) type Rgb = [u8; 3];

/// How somebody sees.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Vision {
    Usual,
    Protanopia,
    Deuteranopia,
    Tritanopia,
}

impl Vision {
    pub(super) const ALL: [Self; 4] = [Self::Usual, Self::Protanopia, Self::Deuteranopia, Self::Tritanopia];

    /// Light as it looks to this vision.
    fn seen(self, [red, green, blue]: [f64; 3]) -> [f64; 3] {
        let name = match self {
            Self::Usual => return [red, green, blue],
            Self::Protanopia => "protanopia",
            Self::Deuteranopia => "deuteranopia",
            Self::Tritanopia => "tritanopia",
        };
        let table = include_str!("../../published/colour_vision_matrices.csv");
        let rows = figures(table, name);
        let row = |place: usize| rows[place][0] * red + rows[place][1] * green + rows[place][2] * blue;
        [row(0), row(1), row(2)].map(|part: f64| part.clamp(0.0, 1.0))
    }
}

/// The figures of the rows that begin with this word, or of all rows of figures.
fn figures(table: &str, word: &str) -> Vec<Vec<f64>> {
    let rows = table.lines().filter(|line| !line.starts_with('#') && line.starts_with(word));
    rows.map(|row| row.split(',').filter_map(|cell| cell.parse().ok()).collect()).collect()
}

fn linear([red, green, blue]: Rgb) -> [f64; 3] {
    [red, green, blue].map(|part| {
        let part = f64::from(part) / 255.0;
        if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    })
}

fn luminance([red, green, blue]: [f64; 3]) -> f64 {
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// Contrast ratio of two colours, from 1 to 21 (WCAG 2.2, "contrast ratio").
pub(super) fn contrast(one: Rgb, other: Rgb) -> f64 {
    let (one, other) = (luminance(linear(one)), luminance(linear(other)));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// How far apart two colours look to this vision (CIEDE2000).
pub(super) fn apart(one: Rgb, other: Rgb, vision: Vision) -> f64 {
    let lab = |colour| lab(vision.seen(linear(colour)));
    difference(lab(one), lab(other))
}

/// CIELAB of linear sRGB under its own white.
fn lab([red, green, blue]: [f64; 3]) -> [f64; 3] {
    let x = (0.412_456_4 * red + 0.357_576_1 * green + 0.180_437_5 * blue) / 0.950_47;
    let y = 0.212_672_9 * red + 0.715_152_2 * green + 0.072_175_0 * blue;
    let z = (0.019_333_9 * red + 0.119_192_0 * green + 0.950_304_1 * blue) / 1.088_83;
    let bent = |t: f64| if t > 216.0 / 24389.0 { t.cbrt() } else { (24389.0 / 27.0 * t + 16.0) / 116.0 };
    let (x, y, z) = (bent(x), bent(y), bent(z));
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

/// CIEDE2000 with all weights 1, in the steps and letters of the paper.
fn difference([l1, a1, b1]: [f64; 3], [l2, a2, b2]: [f64; 3]) -> f64 {
    let seventh = |c: f64| (c.powi(7) / (c.powi(7) + 25_f64.powi(7))).sqrt();
    let stretch = 0.5 * (1.0 - seventh(f64::midpoint(a1.hypot(b1), a2.hypot(b2))));
    let (a1, a2) = (a1 * (1.0 + stretch), a2 * (1.0 + stretch));
    let (c1, c2) = (a1.hypot(b1), a2.hypot(b2));
    let hue =
        |a: f64, b: f64| if a == 0.0 && b == 0.0 { 0.0 } else { b.atan2(a).to_degrees().rem_euclid(360.0) };
    let (h1, h2) = (hue(a1, b1), hue(a2, b2));
    let grey = c1 * c2 == 0.0;
    let turn = match h2 - h1 {
        _ if grey => 0.0,
        turn if turn > 180.0 => turn - 360.0,
        turn if turn < -180.0 => turn + 360.0,
        turn => turn,
    };
    let dh = 2.0 * (c1 * c2).sqrt() * (turn / 2.0).to_radians().sin();
    let (lightness, chroma) = (f64::midpoint(l1, l2), f64::midpoint(c1, c2));
    let h = match h1 + h2 {
        sum if grey => sum,
        sum if (h1 - h2).abs() <= 180.0 => sum / 2.0,
        sum if sum < 360.0 => f64::midpoint(sum, 360.0),
        sum => f64::midpoint(sum, -360.0),
    };
    let wave = |factor: f64, shift: f64| ((factor * h + shift) * PI / 180.0).cos();
    let t = 1.0 - 0.17 * wave(1.0, -30.0) + 0.24 * wave(2.0, 0.0) + 0.32 * wave(3.0, 6.0)
        - 0.20 * wave(4.0, -63.0);
    let from_50 = (lightness - 50.0).powi(2);
    let dl = (l2 - l1) / (1.0 + 0.015 * from_50 / (20.0 + from_50).sqrt());
    let dc = (c2 - c1) / (1.0 + 0.045 * chroma);
    let dh = dh / (1.0 + 0.015 * chroma * t);
    let rotation = (60.0 * (-((h - 275.0) / 25.0).powi(2)).exp()).to_radians().sin();
    (dl.powi(2) + dc.powi(2) + dh.powi(2) - 2.0 * seventh(chroma) * rotation * dc * dh).sqrt()
}

#[test]
fn the_difference_agrees_with_the_pairs_of_its_paper() {
    let rows = figures(include_str!("../../published/ciede2000_pairs.csv"), "");
    let rows: Vec<_> = rows.into_iter().filter(|row| row.len() == 7).collect();
    assert_eq!(rows.len(), 16);
    for row in rows {
        let (one, other) = ([row[0], row[1], row[2]], [row[3], row[4], row[5]]);
        // Printed to four decimals; half of the last digit, and a rounding.
        assert!((difference(one, other) - row[6]).abs() < 5.1e-5, "{row:?}: {}", difference(one, other));
        assert!((difference(other, one) - row[6]).abs() < 5.1e-5, "{row:?} the other way round");
    }
}

#[test]
fn contrast_goes_from_one_to_twenty_one() {
    // WCAG 2.2, definition of contrast ratio: "can range from 1 to 21".
    assert!((contrast([0; 3], [255; 3]) - 21.0).abs() < 1e-9);
    assert!((contrast([120; 3], [120; 3]) - 1.0).abs() < 1e-9);
}

#[test]
fn grey_looks_grey_to_everybody_and_red_is_dark_without_its_cone() {
    for vision in Vision::ALL {
        let [red, green, blue] = vision.seen(linear([128; 3]));
        // The rows of each matrix add up to one.
        assert!((red - green).abs() < 1e-4 && (green - blue).abs() < 1e-4, "{vision:?}");
    }
    let red = linear([255, 0, 0]);
    assert!(luminance(Vision::Protanopia.seen(red)) < 0.6 * luminance(red));
}
