//! coilwright: a full-screen assistant for fitting the right coil spring to a mountain bike's rear shock.
//!
//! The floors, from the bottom; a module leans on its own floor and on lower ones only (`tests/tidy.rs` holds it):
//!
//! | floor | modules | what they know |
//! | --- | --- | --- |
//! | 0 | [`units`], [`statistics`], [`text`] | figures with units, readings, text safe to show |
//! | 1 | [`mechanics`] | one rider, one spring, one moment |
//! | 2 | [`session`] | the record and the walk |
//! | 3 | [`assessment`], [`settings`] | what the record means and what to do next; what a shop chooses once |
//! | 4 | [`phrase`], [`assets`] | words for people; what ships inside |
//! | 5 | [`archive`], [`report`] | files; paper |
//! | 6 | [`screen`] | places, keys, pictures |
//! | 7, 8 | [`cli`], [`failure`], [`app`] | the command line, errors as users see them, the wiring |
//!
//! Floors 0 to 3 do no input or output, read no clock and know no terminal. A record holds measurements and choices only;
//! everything else is recomputed from it after every entry. Every accepted step is on disk before the screen shows it as
//! done. What the parts of the screen are and which file draws each stands in [`screen`].

pub mod app;
pub mod archive;
pub mod assessment;
pub mod assets;
pub mod cli;
pub mod document;
pub mod failure;
pub mod mechanics;
pub mod phrase;
pub mod report;
pub mod screen;
pub mod session;
pub mod settings;
pub mod statistics;
pub mod text;
pub mod units;
