//! The setup card as one self-contained HTML page that prints on one sheet of A4 or Letter, black on white.
//!
//! No script, no picture from elsewhere, no font to load: the page may be mailed, kept for years and opened anywhere,
//! and its own policy forbids whatever somebody might smuggle in. Not here: what the card says (`card`), escaping
//! (`markup`).

use unicode_width::UnicodeWidthStr;

use super::Subject;
use super::card::{Card, Tried};
use super::card_drawing::drawing;
use super::markup::Markup;
use crate::phrase;
use crate::session::Stamp;
use crate::units::UnitSet;

const STYLE: &str = "
@page { margin: 10mm 13mm; }
* { box-sizing: border-box; margin: 0; padding: 0; }
body { font: 10pt/1.36 'Helvetica Neue', Helvetica, Arial, 'Liberation Sans', sans-serif; color: #000; background: #fff;
  max-width: 184mm; margin: 0 auto; overflow-wrap: anywhere; }
header { display: flex; justify-content: space-between; align-items: baseline; border-bottom: 1.5pt solid #000;
  padding-bottom: 1mm; margin-bottom: 2mm; }
h1 { font-size: 15pt; letter-spacing: .02em; }
h2 { font-size: 1em; margin: .9em 0 .2em; border-bottom: .4pt solid #000; }
.mark { border: 1pt solid #000; padding: .1em 2mm; margin-bottom: .5em; font-weight: bold; }
dl { display: grid; grid-template-columns: 25mm 1fr 25mm 1fr; gap: .1em 2mm; }
dt { color: #333; }
dd { font-weight: bold; }
.sag { display: flex; align-items: baseline; gap: 4mm; margin-top: 2mm; }
.figure { font-size: 2.2em; line-height: 1.1; font-weight: bold; font-variant-numeric: tabular-nums; white-space: nowrap; }
.standing { font-size: 1.35em; font-weight: bold; white-space: nowrap; }
.travel { display: block; width: 100%; margin-top: .5em; font-size: 12px; }
table { width: 100%; border-collapse: collapse; font-variant-numeric: tabular-nums; }
th { text-align: left; font-weight: normal; color: #333; }
td, th { padding: .06em 2mm .06em 0; vertical-align: top; border-bottom: .3pt solid #999; }
td.now { font-weight: bold; }
ul { list-style: none; }
li { padding-left: 3mm; text-indent: -3mm; margin-bottom: .06em; }
li::before { content: '\\2013\\00a0'; }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 0 6mm; }
.small { font-size: .88em; line-height: 1.27; }
footer { border-top: 1.5pt solid #000; margin-top: .8em; padding-top: 1mm; font-weight: bold; }
.full { font-size: 8pt; line-height: 1.23; }
.full h2 { margin-top: .55em; }
@media screen { body { padding: 12mm 0; } }
";

/// Lines of sets and lists that stay on one sheet in large letters; with more, small ones are needed.
const ROOMY: usize = 10;
/// Cells of text that surely fit on a line of large letters.
const LINE_CELLS: usize = 90;

/// What the page may do: be styled by its own style sheet, nothing else.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'";

/// The setup card of a session as a page, in the units of the set.
pub fn card_as_page(subject: &Subject<'_>, opened: Stamp, units: UnitSet) -> String {
    let card = Card::new(subject, opened, units);
    let title = format!("Setup card, {}", card.date);
    let head = [
        Markup::fixed("<meta charset=\"utf-8\">"),
        Markup::fixed("<meta name=\"viewport\" content=\"width=device-width\">"),
        Markup::fixed("<meta http-equiv=\"Content-Security-Policy\" content=\""),
        Markup::text(POLICY),
        Markup::fixed("\">"),
        block("title", &title),
        Markup::element("style", &[], &[Markup::fixed(STYLE)]),
    ];
    let class = if lines(&card) > ROOMY { "full" } else { "roomy" };
    let body = Markup::element("body", &[("class", class)], &body(&card));
    let page = [Markup::element("head", &[], &head), Markup::fixed("\n"), body];
    let html = Markup::element("html", &[("lang", "en-GB")], &page);
    format!("<!DOCTYPE html>\n{}\n", html.finished())
}

/// Lines that sets and lists take in large letters.
fn lines(card: &Card) -> usize {
    let open = card.open.as_ref().map(|open| &open.reason);
    let told = card.trail.iter().chain(&card.warnings).chain(open);
    card.tried.len() + told.map(|text| text.width().div_ceil(LINE_CELLS)).sum::<usize>()
}

fn body(card: &Card) -> Vec<Markup> {
    let mut body = vec![Markup::element("header", &[], &[block("h1", "Setup card"), block("p", &card.date)])];
    body.extend(card.marks.iter().map(|mark| classed("p", "mark", mark)));
    let facts = card.facts.iter().flat_map(|(name, value)| [block("dt", name), block("dd", value)]);
    body.push(Markup::element("dl", &[], &facts.collect::<Vec<_>>()));
    body.push(sag(card));
    body.push(drawing(&card.travel));
    body.push(block("h2", "Tried"));
    body.push(tried(card));
    body.extend(list("On the trail", &card.trail, "plain"));
    if let Some(open) = &card.open {
        body.extend(list("Still open", &[format!("{}. {}", open.headline, open.reason)], "plain"));
    }
    body.extend(list("Mind", &card.warnings, "plain"));
    let cautions: Vec<String> =
        card.cautions.iter().map(|caution| format!("{}. {}", caution.headline, caution.text)).collect();
    let columns: Vec<Markup> = [
        list("Cautions", &cautions, "small"),
        list("After the first ride, look again at (common practice)", &phrase::RECHECK, "plain"),
    ]
    .into_iter()
    .map(|section| Markup::element("section", &[], &section))
    .collect();
    body.push(Markup::element("div", &[("class", "pair")], &columns));
    body.push(block("footer", phrase::MAKERS_FIRST));
    body.into_iter().flat_map(|piece| [piece, Markup::fixed("\n")]).collect()
}

fn sag(card: &Card) -> Markup {
    let pieces = match &card.sag {
        Some(sag) => vec![
            classed("p", "figure", &format!("Sag {}", sag.figure)),
            classed("p", "standing", sag.standing),
            block("p", &format!("{}. {}", sag.interval, phrase::SPREAD)),
        ],
        None => vec![classed("p", "standing", "Sag not measured with this spring and collar yet")],
    };
    Markup::element("div", &[("class", "sag")], &pieces)
}

fn tried(card: &Card) -> Markup {
    if card.tried.is_empty() {
        return block("p", "Nothing yet.");
    }
    let names = ["Set", "Spring", "Past contact", "Readings (in brackets: does not count)", "Sag", ""];
    let heading = Markup::element("tr", &[], &names.map(|name| block("th", name)));
    let last = card.tried.len() - 1;
    let rows =
        card.tried.iter().enumerate().map(|(index, set)| row(set, if index == last { "now" } else { "" }));
    let table = Markup::element("table", &[], &[heading, rows.collect()]);
    let left_out = (card.sets_left_out > 0)
        .then(|| block("p", &format!("{} earlier sets are in the record.", card.sets_left_out)));
    left_out.into_iter().chain([table]).collect()
}

fn row(set: &Tried, class: &str) -> Markup {
    let number = set.number.to_string();
    let cells = [&number, &set.spring, &set.turns, &set.readings, &set.sag, set.standing];
    Markup::element("tr", &[], &cells.map(|cell| classed("td", class, cell)))
}

/// A titled list; nothing for an empty one.
fn list<T: AsRef<str>>(title: &str, items: &[T], class: &str) -> Vec<Markup> {
    if items.is_empty() {
        return Vec::new();
    }
    let items: Vec<Markup> = items.iter().map(|item| block("li", item.as_ref())).collect();
    vec![block("h2", title), Markup::element("ul", &[("class", class)], &items)]
}

fn block(tag: &'static str, text: &str) -> Markup {
    Markup::element(tag, &[], &[Markup::text(text)])
}

fn classed(tag: &'static str, class: &str, text: &str) -> Markup {
    Markup::element(tag, &[("class", class)], &[Markup::text(text)])
}
