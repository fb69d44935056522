//! A document as plain text, no line wider than 72 columns: for a mail, a message or a plain printer.

use unicode_width::UnicodeWidthStr;

use super::{Block, Cells, Picture, Table, Travel};
use crate::text::wrap::wrap;
use crate::units::Share;

/// Columns of the text.
const COLUMNS: usize = 72;
/// Columns the names of facts take.
const NAMES: usize = 15;
/// Places of a drawing: six for every 10 % of the stroke, and one for its end.
const PLACES: usize = 61;

/// The document; ends with a line break.
pub fn as_text(document: &[Block]) -> String {
    let mut sheet = String::new();
    for block in document {
        put(block, &mut sheet);
    }
    sheet
}

fn put(block: &Block, sheet: &mut String) {
    match block {
        Block::Title(title, aside) => {
            let title = title.to_uppercase();
            line(sheet, &format!("{title}{aside:>rest$}", rest = COLUMNS - title.width()));
            line(sheet, &"-".repeat(COLUMNS));
        }
        Block::Mark(mark) => paragraph(sheet, "! ", mark),
        Block::Heading(text) => line(sheet, &format!("\n{text}")),
        Block::Text(_, text) => paragraph(sheet, "", text),
        Block::Facts(facts) => {
            for (name, value) in facts {
                paragraph(sheet, &format!("{name:<NAMES$}"), value);
            }
        }
        Block::Figure(name, Ok([figure, says, interval])) => {
            paragraph(sheet, &format!("{name:<NAMES$}"), &format!("{figure}, {says}; {interval}"));
        }
        Block::Figure(name, Err(none)) => paragraph(sheet, &format!("{name:<NAMES$}"), none),
        Block::List(title, items, _) if !items.is_empty() => {
            line(sheet, &format!("\n{title}"));
            for item in items {
                paragraph(sheet, "  - ", item);
            }
        }
        Block::Lines(lines) => {
            for (lead, _, text) in lines {
                paragraph(sheet, &format!("{lead:<7}"), text);
            }
        }
        Block::Table(table) => put_table(table, sheet),
        Block::Picture(Picture::Travel(travel)) => {
            std::iter::once(String::new()).chain(drawing(travel)).for_each(|one| line(sheet, &one));
        }
        Block::List(..) | Block::Picture(Picture::Sets | Picture::Ladder) => {}
        Block::Beside(blocks) => blocks.iter().for_each(|block| put(block, sheet)),
        Block::Last(text) => {
            line(sheet, &"-".repeat(COLUMNS));
            paragraph(sheet, "", text);
        }
    }
}

fn line(sheet: &mut String, line: &str) {
    sheet.push_str(line.trim_end());
    sheet.push('\n');
}

/// A text behind a lead, its further lines set in under the first.
fn paragraph(sheet: &mut String, lead: &str, text: &str) {
    let indent = lead.width();
    for (index, words) in wrap(text, COLUMNS - indent).iter().enumerate() {
        let before = if index == 0 { lead.to_owned() } else { " ".repeat(indent) };
        line(sheet, &format!("{before}{words}"));
    }
}

fn put_table(table: &Table, sheet: &mut String) {
    line(sheet, &format!("\n{}", table.title));
    if table.rows.is_empty() {
        line(sheet, &format!("  {}", table.none));
    }
    table.above.iter().for_each(|above| line(sheet, &format!("  {above}")));
    for row in &table.rows {
        let (mut beside, mut below) = (Vec::new(), Vec::new());
        for (text, (head, cells)) in row.iter().zip(&table.columns) {
            match cells {
                Cells::Left(cells) => beside.push(format!("{text:<cells$}")),
                Cells::Right(cells) => beside.push(format!("{text:>cells$} ")),
                Cells::Below => below.push(format!("{head} {text}")),
            }
        }
        line(sheet, &beside.join(" "));
        for text in below {
            paragraph(sheet, "     ", &text);
        }
    }
    table.notes.iter().for_each(|note| paragraph(sheet, "  ", note));
}

/// The travel of the shock to scale: the band between brackets, the sag pointed at.
fn drawing(travel: &Travel) -> [String; 3] {
    let mut scale: Vec<char> = (0..PLACES).map(|place| if place % 6 == 0 { '+' } else { '-' }).collect();
    let [low, high] = travel.band.map(place);
    scale[low] = '[';
    scale[high.max(low + 1)] = ']';
    let legend = "0   [ ] needed";
    let ends =
        format!("  {legend}{:>rest$}", format!("stroke {}", travel.stroke), rest = PLACES - legend.len());
    let pointer = match travel.sag {
        Some(sag) => pointer(place(sag.value), &travel.moved),
        None => String::new(),
    };
    [ends, format!("  {}", scale.into_iter().collect::<String>()), pointer]
}

/// The place of a share of the stroke on the scale; more than the whole stays at its end.
fn place(share: Share) -> usize {
    let last = PLACES - 1;
    (0..last).find(|&place| share.as_fraction() * (last as f64) < place as f64 + 0.5).unwrap_or(last)
}

/// The line below the scale: a mark under the sag, and what it is on the side where there is room.
fn pointer(place: usize, moved: &str) -> String {
    let words = format!("sag, {moved} of shock travel");
    if place < PLACES / 2 {
        format!("  {}^ {words}", " ".repeat(place))
    } else {
        format!("  {:>place$} ^", words, place = place - 1)
    }
}
