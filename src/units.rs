//! Floor 0: quantities that know their unit, text read into them, and figures shown for people.
//!
//! Inside the program there are millimetres, newtons, kilograms and newtons per millimetre, and no bare number crosses
//! a module border. The factors are exact by definition (see [`quantity`]). What is not here: any physics.

pub mod quantity;

pub use quantity::{
    Angle, Energy, Estimate, Force, Frequency, Length, LeverageRatio, Mass, NotANumber, Quantity, Share,
    SpringRate, Turns,
};
