//! Parts drawn at more than one place, each a free function over an area.

pub mod caution_box;
pub mod changes_table;
pub mod field;
pub mod footer;
pub mod large_figure;
pub mod leverage_chart;
pub mod notice;
pub mod set_table;
pub mod side_column;
pub mod spring_table;
pub mod title;

pub use crate::text::wrap;
