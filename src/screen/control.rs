//! What a place is put together from that takes keys: a list with a mark, a text that scrolls, a line that is typed, a
//! question asked once, a layer over the screen. Each has its state, what a key does to it, and how it is drawn, in a file of its own.
//!
//! Not here: the entry field inside a line (`part::field`), and pictures (`part`).

mod confirm;
mod layer;
mod line;
mod list;
mod scroll;

pub use confirm::Confirm;
pub use layer::{Layer, LayerKey, LayerRoom};
pub use line::{TypedKey, TypedLine};
pub use list::{List, ListLine};
pub use scroll::Scroll;
