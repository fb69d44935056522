//! The setup card as plain text, no line wider than 72 columns: for a mail, a message or a plain printer.
//!
//! Not here: what the card says (`card`).

use unicode_width::UnicodeWidthStr;

use super::Subject;
use super::card::{Card, Travel, Tried};
use crate::phrase;
use crate::session::Stamp;
use crate::text::wrap::wrap;
use crate::units::{Share, UnitSet};

/// Columns of the card.
const COLUMNS: usize = 72;
/// Columns the names of facts take.
const NAMES: usize = 15;
/// Places of the drawing: six for every 10 % of the stroke, and one for its end.
const PLACES: usize = 61;

/// The setup card of a session in the units of the set; ends with a line break.
pub fn card_as_text(subject: &Subject<'_>, opened: Stamp, units: UnitSet) -> String {
    let card = Card::new(subject, opened, units);
    let mut sheet = Sheet::default();
    sheet.heading(&card);
    sheet.sag(&card);
    sheet.tried(&card);
    sheet.list("On the trail", &card.trail);
    if let Some(open) = &card.open {
        sheet.list("Still open", &[format!("{}. {}", open.headline, open.reason)]);
    }
    sheet.list("Mind", &card.warnings);
    let cautions = card.cautions.iter().map(|caution| format!("{}. {}", caution.headline, caution.text));
    sheet.list("Cautions", &cautions.collect::<Vec<_>>());
    sheet.list("After the first ride, look again at (common practice)", &phrase::RECHECK);
    sheet.rule();
    sheet.paragraph("", phrase::MAKERS_FIRST);
    sheet.text
}

/// The card as far as it is written.
#[derive(Default)]
struct Sheet {
    text: String,
}

impl Sheet {
    fn line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    fn rule(&mut self) {
        self.line(&"-".repeat(COLUMNS));
    }

    /// A text behind a lead, its further lines set in under the first.
    fn paragraph(&mut self, lead: &str, text: &str) {
        let indent = lead.width();
        for (index, line) in wrap(text, COLUMNS - indent).iter().enumerate() {
            let before = if index == 0 { lead.to_owned() } else { " ".repeat(indent) };
            self.line(&format!("{before}{line}"));
        }
    }

    fn list<T: AsRef<str>>(&mut self, title: &str, items: &[T]) {
        if items.is_empty() {
            return;
        }
        self.line("");
        self.line(title);
        for item in items {
            self.paragraph("  - ", item.as_ref());
        }
    }

    fn heading(&mut self, card: &Card) {
        let title = "SETUP CARD";
        self.line(&format!("{title}{:>rest$}", card.date, rest = COLUMNS - title.len()));
        self.rule();
        for mark in &card.marks {
            self.paragraph("! ", mark);
        }
        for (name, value) in &card.facts {
            self.paragraph(&format!("{name:<NAMES$}"), value);
        }
    }

    fn sag(&mut self, card: &Card) {
        match &card.sag {
            Some(sag) => {
                let words = format!("{}, {}; {}", sag.figure, sag.standing, sag.interval);
                self.paragraph(&format!("{:<NAMES$}", "Sag"), &words);
            }
            None => self.line(&format!("{:<NAMES$}not measured with this spring and collar yet", "Sag")),
        }
        self.line("");
        for line in drawing(&card.travel) {
            self.line(&line);
        }
    }

    fn tried(&mut self, card: &Card) {
        self.line("");
        self.line("Tried");
        if card.tried.is_empty() {
            self.line("  nothing yet");
        }
        if card.sets_left_out > 0 {
            self.line(&format!("  {} earlier sets are in the record.", card.sets_left_out));
        }
        for set in &card.tried {
            self.line(&set_line(set));
            self.paragraph("     ", &format!("readings {}", set.readings));
        }
        if card.tried.iter().any(|set| set.readings.contains('(')) {
            self.line("  A reading in brackets does not count.");
        }
        self.paragraph("  ", phrase::SPREAD);
    }
}

fn set_line(set: &Tried) -> String {
    format!("{:>3}  {:<21} {:<12} {:<14} {}", set.number, set.spring, set.turns, set.sag, set.standing)
}

/// The travel of the shock to scale: the band between brackets, the sag pointed at.
fn drawing(travel: &Travel) -> [String; 3] {
    let mut scale: Vec<char> = (0..PLACES).map(|place| if place % 6 == 0 { '+' } else { '-' }).collect();
    let [low, high] = travel.band.map(place);
    scale[low] = '[';
    scale[high.max(low + 1)] = ']';
    let legend = "0   [ ] wanted";
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Estimate;

    #[test]
    fn a_sag_of_half_the_stroke_is_pointed_at_in_the_middle() {
        let travel = Travel {
            stroke: "60.0 mm".to_owned(),
            band: [Share::percent(28.5), Share::percent(31.5)],
            band_words: String::new(),
            sag: Some(Estimate::new(Share::percent(50.0), Share::percent(1.0))),
            moved: "30.0 mm".to_owned(),
        };
        let [ends, scale, pointer] = drawing(&travel);
        let column = |line: &str, mark: char| line.find(mark).expect("it is there");
        assert_eq!(column(&pointer, '^') - column(&scale, '+'), PLACES / 2);
        assert_eq!(ends.trim_end().len(), 2 + PLACES);
        assert_eq!(column(&scale, ']') - column(&scale, '['), 2);
    }

    #[test]
    fn the_ends_of_the_stroke_are_the_ends_of_the_scale() {
        assert_eq!([0.0, 100.0, 250.0].map(|percent| place(Share::percent(percent))), [0, 60, 60]);
    }
}
