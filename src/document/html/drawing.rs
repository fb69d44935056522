//! The drawing on the card: the shock's travel to scale, with the band wanted, the sag reached and how sure it is.
//!
//! Made of black lines and light greys, so that it prints on anything. Not here: the page round it (`card_page`).

use super::markup::Markup;
use crate::document::Travel;
use crate::units::Share;

/// Width and height of the drawing, in its own units.
const SIZE: (f64, f64) = (700.0, 104.0);
/// Where the stroke begins and ends, from the left.
const ENDS: (f64, f64) = (20.0, 680.0);
/// Top and height of the bar.
const BAR: (f64, f64) = (34.0, 26.0);

/// The travel as an SVG element.
pub(super) fn drawing(travel: &Travel) -> Markup {
    let (width, height) = SIZE;
    let mut pieces = band(travel);
    pieces.push(rectangle((ENDS.0, ENDS.1), BAR, "none", "1.2"));
    pieces.extend(scale());
    pieces.push(words(ENDS.1, 96.0, "end", &format!("whole stroke {}", travel.stroke)));
    pieces.extend(sag(travel));
    let view = format!("0 0 {width} {height}");
    let label =
        format!("Travel of the shock, {} in all, with the target range {}", travel.stroke, travel.band_words);
    let attributes = [
        ("class", "travel"),
        ("viewBox", view.as_str()),
        ("xmlns", "http://www.w3.org/2000/svg"),
        ("role", "img"),
        ("aria-label", label.as_str()),
    ];
    Markup::element("svg", &attributes, &pieces)
}

/// A share of the stroke as a place from the left; more than the whole stays at its end.
fn place(share: Share) -> f64 {
    ENDS.0 + share.as_fraction().clamp(0.0, 1.0) * (ENDS.1 - ENDS.0)
}

fn band(travel: &Travel) -> Vec<Markup> {
    let [low, high] = travel.band.map(place);
    let words_at = f64::midpoint(low, high);
    vec![
        rectangle((low, high), BAR, "#d4d4d4", "0.6"),
        words(words_at, 12.0, "middle", &format!("needed {}", travel.band_words)),
        line((words_at, 16.0), (words_at, BAR.0), "0.6"),
    ]
}

/// A mark every ten per cent, with a figure every twenty.
fn scale() -> Vec<Markup> {
    let bottom = BAR.0 + BAR.1;
    let mut pieces = Vec::new();
    for tenth in 0..=10_u8 {
        let at = place(Share::percent(f64::from(tenth) * 10.0));
        let long = tenth % 2 == 0;
        pieces.push(line((at, bottom), (at, bottom + if long { 7.0 } else { 4.0 }), "0.8"));
        if long {
            pieces.push(words(at, bottom + 19.0, "middle", &format!("{} %", tenth * 10)));
        }
    }
    pieces
}

fn sag(travel: &Travel) -> Vec<Markup> {
    let Some(sag) = travel.sag else { return Vec::new() };
    let at = place(sag.value);
    let (low, high) = (place(sag.value - sag.uncertainty), place(sag.value + sag.uncertainty));
    let middle = BAR.0 + BAR.1 / 2.0;
    vec![
        line((low, middle), (high, middle), "1.6"),
        line((low, middle - 5.0), (low, middle + 5.0), "1.6"),
        line((high, middle - 5.0), (high, middle + 5.0), "1.6"),
        line((at, BAR.0 - 6.0), (at, BAR.0 + BAR.1 + 6.0), "3"),
        words(
            ENDS.0,
            96.0,
            "start",
            &format!("thick line: sag, {} of shock travel; thin: 90 % interval", travel.moved),
        ),
    ]
}

fn rectangle((left, right): (f64, f64), (top, height): (f64, f64), fill: &str, stroke: &str) -> Markup {
    let [x, y, width, height] = [left, top, right - left, height].map(figure);
    let attributes = [
        ("x", x.as_str()),
        ("y", y.as_str()),
        ("width", width.as_str()),
        ("height", height.as_str()),
        ("fill", fill),
        ("stroke", "#000"),
        ("stroke-width", stroke),
    ];
    Markup::element("rect", &attributes, &[])
}

fn line(from: (f64, f64), to: (f64, f64), width: &str) -> Markup {
    let [x1, y1, x2, y2] = [from.0, from.1, to.0, to.1].map(figure);
    let attributes = [
        ("x1", x1.as_str()),
        ("y1", y1.as_str()),
        ("x2", x2.as_str()),
        ("y2", y2.as_str()),
        ("stroke", "#000"),
        ("stroke-width", width),
    ];
    Markup::element("line", &attributes, &[])
}

fn words(x: f64, y: f64, anchor: &str, text: &str) -> Markup {
    let [x, y] = [x, y].map(figure);
    let attributes = [("x", x.as_str()), ("y", y.as_str()), ("text-anchor", anchor)];
    Markup::element("text", &attributes, &[Markup::text(text)])
}

fn figure(value: f64) -> String {
    format!("{value:.1}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Estimate;

    #[test]
    fn a_quarter_of_the_stroke_lies_a_quarter_along_the_bar() {
        assert!((place(Share::percent(25.0)) - 185.0).abs() < 1e-9);
    }

    #[test]
    fn a_sag_beyond_the_stroke_stays_on_the_sheet() {
        let travel = Travel {
            stroke: "60.0 mm".to_owned(),
            band: [Share::percent(28.5), Share::percent(31.5)],
            band_words: "28.5 % to 31.5 %".to_owned(),
            sag: Some(Estimate::new(Share::percent(130.0), Share::percent(4.0))),
            moved: "78.0 mm".to_owned(),
        };
        let svg = drawing(&travel).finished();
        let starts =
            svg.split("x1=\"").skip(1).filter_map(|rest| rest.split('"').next()?.parse::<f64>().ok());
        let furthest = starts.fold(0.0, f64::max);
        assert!((furthest - ENDS.1).abs() < 1e-9, "{svg}");
    }
}
