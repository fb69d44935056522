//! Floor 4: what is told of a session as blocks, chosen and worded once; the screen, a text and a page set them.
//!
//! A block says what a piece *is*, never how wide or how inked. Every text in it is safe to show; a page escapes on top.
//! Not here: figures for scripts (`report::json`), and places that take keys (`screen`).

mod html;
mod text;

pub use html::as_html;
pub use text::as_text;

use crate::units::{Estimate, Share};

/// A piece of a document.
#[derive(Debug, Clone)]
pub enum Block {
    /// What the whole is called, and what stands at its other end.
    Title(String, String),
    /// What has to be known before anything else.
    Mark(&'static str),
    /// The head of what follows.
    Heading(String),
    /// A paragraph.
    Text(Tone, String),
    /// Names and values.
    Facts(Vec<(&'static str, String)>),
    /// The one figure that matters, and what is said of it; or why there is none.
    Figure(&'static str, Result<[String; 3], &'static str>),
    /// Paragraphs below one another under a head of their own; nothing where there are none.
    List(&'static str, Vec<String>, Size),
    /// Lines with a lead, such as a time of day.
    Lines(Vec<(String, Tone, String)>),
    /// Rows in columns.
    Table(Table),
    /// A picture; each writer draws it in its own way.
    Picture(Picture),
    /// Lists beside one another where there is room.
    Beside(Vec<Block>),
    /// What comes last.
    Last(&'static str),
}

/// How a text is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// Plainly.
    Plain,
    /// As what matters most.
    Strong,
    /// As what may be passed over.
    Quiet,
    /// As what needs care.
    Alert,
    /// As what no longer holds.
    Void,
}

/// How large a list is set where sizes differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Size {
    /// As other text.
    Plain,
    /// Smaller.
    Small,
}

/// Where a column stands in a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cells {
    /// To the left of so many cells.
    Left(usize),
    /// To the right of them.
    Right(usize),
    /// On a line of its own below the others.
    Below,
}

/// Rows in columns.
#[derive(Debug, Clone)]
pub struct Table {
    /// What it is called.
    pub title: &'static str,
    /// The heads of the columns, and where each stands in a text.
    pub columns: Vec<(&'static str, Cells)>,
    /// The rows.
    pub rows: Vec<Vec<String>>,
    /// What is said where there are none.
    pub none: &'static str,
    /// What was left out above.
    pub above: Option<String>,
    /// What has to be known in reading it.
    pub notes: Vec<&'static str>,
}

/// A picture, as the figures it is drawn from.
#[derive(Debug, Clone)]
pub enum Picture {
    /// The shock's travel, with the band wanted and the sag reached.
    Travel(Travel),
    /// The sets of the session on the desk, one line each.
    Sets,
    /// Its springs across the band.
    Ladder,
}

/// The shock's travel: places as shares of the stroke.
#[derive(Debug, Clone)]
pub struct Travel {
    /// The whole stroke, in words.
    pub stroke: String,
    /// Ends of the band.
    pub band: [Share; 2],
    /// The band, in words.
    pub band_words: String,
    /// Sag, and half the interval that holds it with a chance of 90 %.
    pub sag: Option<Estimate<Share>>,
    /// The mean reading, in words.
    pub moved: String,
}
