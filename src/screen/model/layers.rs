//! What lies beneath a layer: the place that help and palette are opened over, and what is chosen for it in the palette.
//!
//! Not here: how a layer is drawn and narrowed (`control::Layer`).

use super::{Go, Model};
use crate::screen::effect::Effect;
use crate::screen::place::Place;
use crate::screen::place::palette::PaletteChoice;
use crate::screen::place::rack::RackPlace;

impl Model {
    /// The place one works at: the uppermost that is no layer.
    pub fn ground(&self) -> &Place {
        self.further.iter().rev().find(|place| !place.is_layer()).unwrap_or(&self.home)
    }

    /// Opens a layer over the place one works at; of two only the later one is open.
    pub(in crate::screen) fn open_layer(&mut self, layer: Place) {
        let is_open = self.place().is_layer();
        self.go(if is_open { Go::Instead(layer) } else { Go::To(layer) });
    }

    /// Closes the palette and gives what was chosen in it; none where nothing was.
    pub(in crate::screen) fn take_choice(&mut self) -> Option<PaletteChoice> {
        let Place::Palette(palette) = self.place() else { return None };
        let choice = palette.choice(&self.desk)?;
        // What comes of it has not been on the screen yet.
        self.sight.answered();
        self.go(Go::Back);
        Some(choice)
    }

    /// Takes a spring of the rack to where it can be used: the place itself, or else the rack.
    pub(in crate::screen) fn take_spring(&mut self, spring: usize) -> Vec<Effect> {
        if self.ground().takes_spring(&self.desk) {
            let place = self.further.last_mut().unwrap_or(&mut self.home);
            place.take_spring(&self.desk, spring);
            return Vec::new();
        }
        self.go(Go::To(RackPlace::at(spring).into()));
        vec![Effect::TakeStock, Effect::ReadRack]
    }
}
