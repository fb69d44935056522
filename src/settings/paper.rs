//! What stands at the head of a card, and where its text is printed: the shop's name and address, the mechanic, a command.
//!
//! Not here: what else stands on a card (`report`), and how the command is run (`app`).

use crate::text::FreeText;

/// The shop on paper; an empty one leaves the head of a card as it is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Paper {
    /// The shop's name.
    pub shop: FreeText,
    /// Its address, on one line.
    pub address: FreeText,
    /// Who did the work.
    pub mechanic: FreeText,
    /// The command that prints a text it reads, such as `lp`; nothing is printed without one.
    pub printer: FreeText,
}

/// A line of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PaperLine {
    /// [`Paper::shop`].
    Shop,
    /// [`Paper::address`].
    Address,
    /// [`Paper::mechanic`].
    Mechanic,
    /// [`Paper::printer`].
    Printer,
}

impl PaperLine {
    /// Every one.
    pub const ALL: [Self; 4] = [Self::Shop, Self::Address, Self::Mechanic, Self::Printer];
}

impl Paper {
    /// What stands in a line.
    pub const fn line(&self, line: PaperLine) -> &FreeText {
        match line {
            PaperLine::Shop => &self.shop,
            PaperLine::Address => &self.address,
            PaperLine::Mechanic => &self.mechanic,
            PaperLine::Printer => &self.printer,
        }
    }

    /// Puts a text in a line.
    pub fn put(&mut self, line: PaperLine, text: FreeText) {
        match line {
            PaperLine::Shop => self.shop = text,
            PaperLine::Address => self.address = text,
            PaperLine::Mechanic => self.mechanic = text,
            PaperLine::Printer => self.printer = text,
        }
    }
}
