//! Parts drawn at more than one place, each a free function over an area.

pub mod caution_box;
pub mod changes_table;
pub mod condition_line;
pub mod document;
pub mod field;
pub mod footer;
pub mod hazard_box;
pub mod large_figure;
pub mod leverage_chart;
pub mod notice;
pub mod rate_chart;
pub mod sag_columns;
pub mod sag_scale;
pub mod session_preview;
pub mod set_chart;
pub mod set_table;
pub mod shock_picture;
pub mod side_column;
pub mod spring_bars;
pub mod spring_ladder;
pub mod target;
pub mod title;
pub mod warnings;
