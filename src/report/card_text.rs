//! The setup card as plain text, no line wider than 72 columns: for a mail, a message or a plain printer.
//!
//! Not here: what the card says (`card`).

use unicode_width::UnicodeWidthStr;

use super::Subject;
use super::card::{Card, Travel, Tried};
use crate::phrase;
use crate::session::Stamp;
use crate::text::wrap::wrap;
use crate::units::UnitSet;

/// Columns of the card.
const COLUMNS: usize = 72;
/// Columns the names of facts take.
const NAMES: usize = 15;
/// Places of the drawing: one for every 2 % of the stroke, and one for its end.
const PLACES: usize = 51;

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
                let words = format!("{} ({}); {}", sag.figure, sag.standing, sag.interval);
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

/// The travel of the shock to scale: the band between brackets, the sag as a cross.
fn drawing(travel: &Travel) -> [String; 3] {
    let place = |share: crate::units::Share| {
        // Clamped to the scale, so the cast is exact.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 50 after the clamp")]
        let place = (share.as_fraction() * (PLACES - 1) as f64).round().clamp(0.0, (PLACES - 1) as f64) as usize;
        place
    };
    let mut scale: Vec<char> = (0..PLACES).map(|place| if place % 5 == 0 { '+' } else { '-' }).collect();
    let [low, high] = travel.band.map(place);
    scale[low] = '[';
    scale[high] = ']';
    if let Some(sag) = travel.sag {
        scale[place(sag.value)] = 'X';
    }
    let ends = format!("  0 {:>rest$}", format!("stroke {}", travel.stroke), rest = PLACES - 2);
    let legend = match travel.sag {
        Some(_) => format!("  X sag ({} of shock travel)   [ ] band wanted", travel.moved),
        None => "  [ ] band wanted".to_owned(),
    };
    [ends, format!("  {}", scale.into_iter().collect::<String>()), legend]
}
