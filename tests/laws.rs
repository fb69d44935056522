//! Laws that hold for every bike, rider and record, tried on random ones.

mod assessment;
mod balance;
mod bikes;
mod figures;
mod marks;
mod measurements;
mod virtual_shop;
