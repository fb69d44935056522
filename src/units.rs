//! Floor 0: quantities that know their unit, text read into them, and figures shown for people.
//!
//! Inside the program there are millimetres, newtons, kilograms and newtons per millimetre, and no bare number crosses
//! a module border. The factors are exact by definition (see [`quantity`]). [`parse`] reads what people type, taking a
//! bare figure in the unit of the chosen [`UnitSet`]; [`display`] shows figures in it. What is not here: any physics,
//! and sentences (`phrase`).

pub mod display;
pub mod parse;
pub mod quantity;
pub mod unit;

pub use display::{FigureText, Show};
pub use parse::{FigureFault, ParsedFigure, Unreadable};
pub use quantity::{
    Angle, Energy, Estimate, Force, Frequency, Length, LeverageRatio, Mass, Minutes, NotANumber, Pressure,
    Quantity, Share, SpringRate, Turns,
};
pub use unit::{Kind, Unit, UnitSet};
