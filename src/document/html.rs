//! A document as one self-contained HTML page that prints on one sheet of A4 or Letter, black on white.
//!
//! No script, no picture from elsewhere, no font to load: the page may be mailed, kept for years and opened anywhere,
//! and its own policy forbids whatever somebody might smuggle in. Not here: escaping (`markup`).

mod drawing;
mod markup;

use unicode_width::UnicodeWidthStr;

use super::{Block, Picture, Size, Table, Tone};
use drawing::drawing;
use markup::Markup;

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

/// Lines of rows and lists that stay on one sheet in large letters; with more, small ones are needed.
const ROOMY: usize = 10;
/// Cells of text that surely fit on a line of large letters.
const LINE_CELLS: usize = 90;

/// What the page may do: be styled by its own style sheet, nothing else.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'";

/// The document as a page.
pub fn as_html(document: &[Block]) -> String {
    let title = match document.first() {
        Some(Block::Title(title, aside)) => format!("{title}, {aside}"),
        _ => String::new(),
    };
    let head = [
        Markup::fixed("<meta charset=\"utf-8\">"),
        Markup::fixed("<meta name=\"viewport\" content=\"width=device-width\">"),
        Markup::fixed("<meta http-equiv=\"Content-Security-Policy\" content=\""),
        Markup::text(POLICY),
        Markup::fixed("\">"),
        block("title", &title),
        Markup::element("style", &[], &[Markup::fixed(STYLE)]),
    ];
    let class = if document.iter().map(lines).sum::<usize>() > ROOMY { "full" } else { "roomy" };
    let pieces = document.iter().flat_map(set).flat_map(|piece| [piece, Markup::fixed("\n")]);
    let body = Markup::element("body", &[("class", class)], &pieces.collect::<Vec<_>>());
    let page = [Markup::element("head", &[], &head), Markup::fixed("\n"), body];
    let html = Markup::element("html", &[("lang", "en-GB")], &page);
    format!("<!DOCTYPE html>\n{}\n", html.finished())
}

/// Lines a block takes in large letters, those aside that stand on every sheet.
fn lines(block: &Block) -> usize {
    match block {
        Block::List(_, items, Size::Plain) => {
            items.iter().map(|item| item.width().div_ceil(LINE_CELLS)).sum()
        }
        Block::Table(table) => table.rows.len(),
        _ => 0,
    }
}

fn set(piece: &Block) -> Vec<Markup> {
    match piece {
        Block::Title(title, aside) => {
            vec![Markup::element("header", &[], &[block("h1", title), block("p", aside)])]
        }
        Block::Mark(mark) => vec![classed("p", "mark", mark)],
        Block::Heading(text) => vec![block("h2", text)],
        Block::Text(tone, text) => vec![classed("p", class(*tone), text)],
        Block::Facts(facts) => {
            let facts = facts.iter().flat_map(|(name, value)| [block("dt", name), block("dd", value)]);
            vec![Markup::element("dl", &[], &facts.collect::<Vec<_>>())]
        }
        Block::Figure(name, Ok([figure, says, interval])) => vec![Markup::element(
            "div",
            &[("class", "sag")],
            &[
                classed("p", "figure", &format!("{name} {figure}")),
                classed("p", "standing", says),
                block("p", &format!("{interval}.")),
            ],
        )],
        Block::Figure(name, Err(none)) => {
            let words = classed("p", "standing", &format!("{name} {none}"));
            vec![Markup::element("div", &[("class", "sag")], &[words])]
        }
        Block::List(title, items, size) if !items.is_empty() => {
            let class = if *size == Size::Small { "small" } else { "plain" };
            let items: Vec<Markup> = items.iter().map(|item| block("li", item)).collect();
            vec![block("h2", title), Markup::element("ul", &[("class", class)], &items)]
        }
        Block::Lines(lines) => {
            let row = |(lead, tone, text): &(String, Tone, String)| {
                Markup::element("tr", &[], &[block("td", lead), classed("td", class(*tone), text)])
            };
            vec![Markup::element("table", &[], &lines.iter().map(row).collect::<Vec<_>>())]
        }
        Block::Table(table) => set_table(table),
        Block::Picture(Picture::Travel(travel)) => vec![drawing(travel)],
        Block::List(..) | Block::Picture(Picture::Sets | Picture::Ladder) => Vec::new(),
        Block::Beside(blocks) => {
            let columns = blocks.iter().map(|block| Markup::element("section", &[], &set(block)));
            vec![Markup::element("div", &[("class", "pair")], &columns.collect::<Vec<_>>())]
        }
        Block::Last(text) => vec![block("footer", text)],
    }
}

const fn class(tone: Tone) -> &'static str {
    match tone {
        Tone::Plain => "plain",
        Tone::Strong => "strong",
        Tone::Quiet => "quiet",
        Tone::Alert => "mark",
        Tone::Void => "void",
    }
}

fn set_table(table: &Table) -> Vec<Markup> {
    let above = table.above.iter().map(|above| block("p", above));
    let rows = table.rows.iter().enumerate().map(|(index, row)| {
        let class = if index + 1 == table.rows.len() { "now" } else { "" };
        Markup::element("tr", &[], &row.iter().map(|cell| classed("td", class, cell)).collect::<Vec<_>>())
    });
    let heads: Vec<Markup> = table.columns.iter().map(|(head, _)| block("th", head)).collect();
    let body = if table.rows.is_empty() {
        block("p", table.none)
    } else {
        let all: Vec<Markup> = std::iter::once(Markup::element("tr", &[], &heads)).chain(rows).collect();
        Markup::element("table", &[], &all)
    };
    let notes = table.notes.iter().map(|note| block("p", note));
    std::iter::once(block("h2", table.title)).chain(above).chain([body]).chain(notes).collect()
}

fn block(tag: &'static str, text: &str) -> Markup {
    Markup::element(tag, &[], &[Markup::text(text)])
}

fn classed(tag: &'static str, class: &str, text: &str) -> Markup {
    Markup::element(tag, &[("class", class)], &[Markup::text(text)])
}
