//! Floor 5: the only files the program keeps.

pub mod form;
