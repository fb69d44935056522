//! Parts drawn at more than one place, each a free function over an area.

pub mod field;
pub mod footer;
pub mod large_figure;
pub mod notice;
pub mod title;

pub use crate::text::wrap;
