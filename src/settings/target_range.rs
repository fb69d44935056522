//! Bands of aim with a name, offered where a session asks for its aim.
//!
//! The trade's two are there from the start: about 30 % planted and about 25 % lively (common practice, no source). Not
//! here: how a band is typed (`screen`).

use crate::session::{Detail, Intake, Refusal, Target};
use crate::text::FreeText;

/// The most letters of a name: what fits beside its figures.
pub const LONGEST_NAME: usize = 24;
/// The most bands.
pub const MOST_BANDS: usize = 12;

/// A band of aim and what the shop calls it.
#[derive(Debug, Clone, PartialEq)]
pub struct TargetRange {
    name: FreeText,
    target: Target,
}

/// Why there can be no such band.
#[derive(Debug, Clone, PartialEq)]
pub enum TargetRangeFault {
    /// It has no name.
    Nameless,
    /// Its name begins with a figure and would be taken for an aim.
    FigureForName,
    /// Its name is longer than [`LONGEST_NAME`].
    LongName,
    /// Another band has this name.
    SameName(FreeText),
    /// There are [`MOST_BANDS`] already.
    TooMany,
    /// Nobody can aim at it.
    Impossible(Refusal),
}

impl TargetRange {
    /// A band.
    ///
    /// # Errors
    /// When its name cannot be told from a figure, or nobody can aim at it.
    pub fn new(name: &str, target: Target) -> Result<Self, TargetRangeFault> {
        let name = name.trim();
        if name.is_empty() {
            return Err(TargetRangeFault::Nameless);
        }
        if !name.starts_with(char::is_alphabetic) {
            return Err(TargetRangeFault::FigureForName);
        }
        if name.chars().count() > LONGEST_NAME {
            return Err(TargetRangeFault::LongName);
        }
        Intake::default().enter(Detail::Target(target)).map_err(TargetRangeFault::Impossible)?;
        Ok(Self { name: FreeText::new(name), target })
    }

    /// What the shop calls it.
    pub const fn name(&self) -> &FreeText {
        &self.name
    }

    /// The band.
    pub const fn target(&self) -> Target {
        self.target
    }

    /// Whether it goes by this name, large or small letters.
    pub fn is_called(&self, name: &str) -> bool {
        self.name.as_typed().to_lowercase() == name.trim().to_lowercase()
    }

    fn of_the_trade() -> [Self; 2] {
        [("planted", Target::PLANTED), ("lively", Target::LIVELY)]
            .map(|(name, target)| Self { name: FreeText::new(name), target })
    }
}

/// Bands of aim, each with a name of its own; the first is the one offered first.
#[derive(Debug, Clone, PartialEq)]
pub struct TargetRanges(Vec<TargetRange>);

impl Default for TargetRanges {
    fn default() -> Self {
        Self(TargetRange::of_the_trade().to_vec())
    }
}

impl TargetRanges {
    /// No band.
    pub const fn none() -> Self {
        Self(Vec::new())
    }

    /// The bands in their order.
    pub fn all(&self) -> &[TargetRange] {
        &self.0
    }

    /// The band of that name.
    pub fn called(&self, name: &str) -> Option<&TargetRange> {
        self.0.iter().find(|band| band.is_called(name))
    }

    /// Adds a band at the end.
    ///
    /// # Errors
    /// When its name is taken or there are too many.
    pub fn add(&mut self, band: TargetRange) -> Result<(), TargetRangeFault> {
        if self.0.len() >= MOST_BANDS {
            return Err(TargetRangeFault::TooMany);
        }
        if self.called(band.name.as_typed()).is_some() {
            return Err(TargetRangeFault::SameName(band.name));
        }
        self.0.push(band);
        Ok(())
    }

    /// Puts a band in the place of another.
    ///
    /// # Errors
    /// When its name is taken by a third.
    pub fn replace(&mut self, place: usize, band: TargetRange) -> Result<(), TargetRangeFault> {
        let taken =
            |(other, one): (usize, &TargetRange)| other != place && one.is_called(band.name.as_typed());
        if self.0.iter().enumerate().any(taken) {
            return Err(TargetRangeFault::SameName(band.name));
        }
        if let Some(there) = self.0.get_mut(place) {
            *there = band;
        }
        Ok(())
    }

    /// Takes a band out.
    pub fn remove(&mut self, place: usize) {
        if place < self.0.len() {
            self.0.remove(place);
        }
    }

    /// Whether a band of the trade is missing or was changed.
    pub fn lacks_the_trades(&self) -> bool {
        TargetRange::of_the_trade().iter().any(|band| !self.0.contains(band))
    }

    /// Brings the trade's bands back, in front; the shop's own stay, as many as there is room for.
    pub fn bring_back_the_trades(&mut self) {
        let mut bands = TargetRange::of_the_trade().to_vec();
        let own =
            self.0.drain(..).filter(|band| bands.iter().all(|one| !one.is_called(band.name.as_typed())));
        let own: Vec<_> = own.collect();
        bands.extend(own);
        bands.truncate(MOST_BANDS);
        self.0 = bands;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Share;

    fn band(name: &str) -> Result<TargetRange, TargetRangeFault> {
        TargetRange::new(name, Target { sag: Share::percent(28.0), tolerance: Share::percent(2.0) })
    }

    #[test]
    fn the_trades_two_are_there_from_the_start_and_come_back() {
        let mut bands = TargetRanges::default();
        bands.remove(0);
        bands.add(band("park").expect("possible")).expect("room");
        assert!(bands.lacks_the_trades());
        bands.bring_back_the_trades();
        assert!(!bands.lacks_the_trades());
        let names: Vec<&str> = bands.all().iter().map(|band| band.name().as_typed()).collect();
        assert_eq!(names, ["planted", "lively", "park"]);
    }

    #[test]
    fn a_name_is_taken_once_and_is_no_figure() {
        let mut bands = TargetRanges::default();
        let taken = bands.add(band("Lively").expect("possible"));
        assert!(matches!(taken, Err(TargetRangeFault::SameName(_))), "{taken:?}");
        assert_eq!(bands.replace(1, band("LIVELY").expect("possible")), Ok(()));
        assert_eq!(band("30"), Err(TargetRangeFault::FigureForName));
        assert_eq!(band("  "), Err(TargetRangeFault::Nameless));
        assert_eq!(band(&"x".repeat(25)), Err(TargetRangeFault::LongName));
    }

    #[test]
    fn nobody_aims_at_ninety_per_cent() {
        let target = Target { sag: Share::percent(90.0), tolerance: Share::percent(2.0) };
        assert!(matches!(TargetRange::new("deep", target), Err(TargetRangeFault::Impossible(_))));
    }
}
