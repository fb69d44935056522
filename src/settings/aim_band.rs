//! Bands of aim with a name, offered where a session asks for its aim.
//!
//! The trade's two are there from the start: about 30 % planted and about 25 % lively (common practice, no source). Not
//! here: how a band is typed (`screen`).

use crate::session::{Aim, Detail, Intake, Refusal};
use crate::text::FreeText;

/// The most letters of a name: what fits beside its figures.
pub const LONGEST_NAME: usize = 24;
/// The most bands.
pub const MOST_BANDS: usize = 12;

/// A band of aim and what the shop calls it.
#[derive(Debug, Clone, PartialEq)]
pub struct AimBand {
    name: FreeText,
    aim: Aim,
}

/// Why there can be no such band.
#[derive(Debug, Clone, PartialEq)]
pub enum BandFault {
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

impl AimBand {
    /// A band.
    ///
    /// # Errors
    /// When its name cannot be told from a figure, or nobody can aim at it.
    pub fn new(name: &str, aim: Aim) -> Result<Self, BandFault> {
        let name = name.trim();
        if name.is_empty() {
            return Err(BandFault::Nameless);
        }
        if !name.starts_with(char::is_alphabetic) {
            return Err(BandFault::FigureForName);
        }
        if name.chars().count() > LONGEST_NAME {
            return Err(BandFault::LongName);
        }
        Intake::default().tell(Detail::Aim(aim)).map_err(BandFault::Impossible)?;
        Ok(Self { name: FreeText::new(name), aim })
    }

    /// What the shop calls it.
    pub const fn name(&self) -> &FreeText {
        &self.name
    }

    /// The band.
    pub const fn aim(&self) -> Aim {
        self.aim
    }

    /// Whether it goes by this name, large or small letters.
    pub fn is_called(&self, name: &str) -> bool {
        self.name.as_typed().to_lowercase() == name.trim().to_lowercase()
    }

    fn of_the_trade() -> [Self; 2] {
        [("planted", Aim::PLANTED), ("lively", Aim::LIVELY)]
            .map(|(name, aim)| Self { name: FreeText::new(name), aim })
    }
}

/// Bands of aim, each with a name of its own; the first is the one offered first.
#[derive(Debug, Clone, PartialEq)]
pub struct AimBands(Vec<AimBand>);

impl Default for AimBands {
    fn default() -> Self {
        Self(AimBand::of_the_trade().to_vec())
    }
}

impl AimBands {
    /// No band.
    pub const fn none() -> Self {
        Self(Vec::new())
    }

    /// The bands in their order.
    pub fn all(&self) -> &[AimBand] {
        &self.0
    }

    /// The band of that name.
    pub fn called(&self, name: &str) -> Option<&AimBand> {
        self.0.iter().find(|band| band.is_called(name))
    }

    /// Adds a band at the end.
    ///
    /// # Errors
    /// When its name is taken or there are too many.
    pub fn add(&mut self, band: AimBand) -> Result<(), BandFault> {
        if self.0.len() >= MOST_BANDS {
            return Err(BandFault::TooMany);
        }
        if self.called(band.name.as_typed()).is_some() {
            return Err(BandFault::SameName(band.name));
        }
        self.0.push(band);
        Ok(())
    }

    /// Puts a band in the place of another.
    ///
    /// # Errors
    /// When its name is taken by a third.
    pub fn replace(&mut self, place: usize, band: AimBand) -> Result<(), BandFault> {
        let taken = |(other, one): (usize, &AimBand)| other != place && one.is_called(band.name.as_typed());
        if self.0.iter().enumerate().any(taken) {
            return Err(BandFault::SameName(band.name));
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
        AimBand::of_the_trade().iter().any(|band| !self.0.contains(band))
    }

    /// Brings the trade's bands back, in front; the shop's own stay, as many as there is room for.
    pub fn bring_back_the_trades(&mut self) {
        let mut bands = AimBand::of_the_trade().to_vec();
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

    fn band(name: &str) -> Result<AimBand, BandFault> {
        AimBand::new(name, Aim { sag: Share::percent(28.0), half_width: Share::percent(2.0) })
    }

    #[test]
    fn the_trades_two_are_there_from_the_start_and_come_back() {
        let mut bands = AimBands::default();
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
        let mut bands = AimBands::default();
        let taken = bands.add(band("Lively").expect("possible"));
        assert!(matches!(taken, Err(BandFault::SameName(_))), "{taken:?}");
        assert_eq!(bands.replace(1, band("LIVELY").expect("possible")), Ok(()));
        assert_eq!(band("30"), Err(BandFault::FigureForName));
        assert_eq!(band("  "), Err(BandFault::Nameless));
        assert_eq!(band(&"x".repeat(25)), Err(BandFault::LongName));
    }

    #[test]
    fn nobody_aims_at_ninety_per_cent() {
        let aim = Aim { sag: Share::percent(90.0), half_width: Share::percent(2.0) };
        assert!(matches!(AimBand::new("deep", aim), Err(BandFault::Impossible(_))));
    }
}
