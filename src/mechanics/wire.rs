//! A spring from its wire: rate, solid length and greatest deflection, for a spring whose print has worn off.
//!
//! `k = G d⁴ / (8 D³ n)`: G shear modulus, d wire diameter, D mean coil diameter, n active coils. Source: Shigley's
//! Mechanical Engineering Design, 9th ed., equation 10-9; coils and solid length by end type, table 10-1.
//! Linear, small pitch angle. Not here: stress and life, which are the maker's business.

use super::whole_spring::{self, UnmarkedStroke};
use crate::statistics;
use crate::units::{Estimate, Length, Quantity, Share, SpringRate, Turns};

/// How the ends of a spring are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EndType {
    /// Cut off, nothing more.
    Plain,
    /// Cut off and ground flat.
    PlainGround,
    /// Last coil laid against its neighbour.
    Closed,
    /// The same, ground flat: what nearly every shock spring has.
    ClosedGround,
}

/// What the wire is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Material {
    /// Chrome-silicon steel, ASTM A401.
    ChromeSilicon,
    /// Chrome-vanadium steel, ASTM A231/A232.
    ChromeVanadium,
    /// Oil-tempered carbon steel.
    OilTempered,
    /// Music wire over 3 mm, ASTM A228.
    MusicWire,
    /// Titanium Ti-6Al-4V.
    TitaniumSixFour,
    /// Titanium Ti-3Al-8V-6Cr-4Mo-4Zr, titanium grade 19.
    Titanium38644,
}

/// A spring as calipers and eye find it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WireSpring {
    /// Wire diameter.
    pub wire: Length,
    /// Mean coil diameter: outer diameter less the wire.
    pub mean_diameter: Length,
    /// All coils, ends included.
    pub total_coils: f64,
    /// How the ends are made.
    pub ends: EndType,
    /// What it is made of.
    pub material: Material,
    /// Length unloaded, where it was measured.
    pub free_length: Option<Length>,
    /// Standard uncertainty of a diameter taken with the calipers.
    pub calipers: Length,
}

/// A shock spring as it is measured with calipers: over the outside, because nobody can reach the middle of the wire.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CaliperedSpring {
    /// Wire diameter.
    pub wire: Length,
    /// Outer diameter of the coils.
    pub outer: Length,
    /// All coils, ends included, as turns of wire.
    pub coils: Turns,
    /// How the ends are made.
    pub ends: EndType,
    /// What it is made of.
    pub material: Material,
    /// Length unloaded, where it was measured.
    pub free_length: Option<Length>,
    /// Standard uncertainty of a diameter taken with the calipers.
    pub calipers: Length,
}

/// A figure of a calipered spring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WireFigure {
    /// Wire diameter.
    Wire,
    /// Outer diameter.
    Outer,
    /// All coils.
    Coils,
    /// Free length.
    FreeLength,
    /// Uncertainty of the calipers.
    Calipers,
}

impl WireFigure {
    /// The least and the most that is possible on a shock spring (common practice, no source: wide enough for any, narrow
    /// enough to catch a slipped decimal or a wrong unit).
    pub const fn bounds(self) -> (Quantity, Quantity) {
        match self {
            Self::Wire => mm(4.0, 25.0),
            Self::Outer => mm(20.0, 150.0),
            Self::Coils => (Quantity::Turns(Turns::of(3.0)), Quantity::Turns(Turns::of(30.0))),
            Self::FreeLength => mm(40.0, 400.0),
            Self::Calipers => mm(0.001, 1.0),
        }
    }

    fn check(self, entered: Quantity) -> Result<(), WireFault> {
        let (least, most) = self.bounds();
        let possible = entered.value() >= least.value() && entered.value() <= most.value();
        if possible { Ok(()) } else { Err(WireFault::Impossible(self)) }
    }
}

const fn mm(least: f64, most: f64) -> (Quantity, Quantity) {
    (Quantity::Length(Length::mm(least)), Quantity::Length(Length::mm(most)))
}

impl CaliperedSpring {
    /// What its wire says.
    ///
    /// # Errors
    /// When a figure is not possible on a shock spring, or the figures cannot belong to one spring.
    pub fn figures(&self) -> Result<WireFigures, WireFault> {
        WireFigure::Wire.check(Quantity::Length(self.wire))?;
        WireFigure::Outer.check(Quantity::Length(self.outer))?;
        WireFigure::Coils.check(Quantity::Turns(self.coils))?;
        WireFigure::Calipers.check(Quantity::Length(self.calipers))?;
        if let Some(free_length) = self.free_length {
            WireFigure::FreeLength.check(Quantity::Length(free_length))?;
        }
        figures(&WireSpring {
            wire: self.wire,
            mean_diameter: self.outer - self.wire,
            total_coils: self.coils.value(),
            ends: self.ends,
            material: self.material,
            free_length: self.free_length,
            calipers: self.calipers,
        })
    }
}

/// What the wire says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WireFigures {
    /// Spring rate.
    pub rate: Estimate<SpringRate>,
    /// Coils that deflect.
    pub active_coils: f64,
    /// Length with all coils touching.
    pub solid_length: Length,
    /// How far it can be compressed until it is solid; the maker's stroke is less.
    pub greatest_deflection: Option<Length>,
    /// What its printed stroke may have been; none where its length was not told or nothing is left.
    pub stroke: Option<UnmarkedStroke>,
    /// How much its outer diameter grows from free to solid.
    pub growth: Option<Length>,
}

/// Why a spring cannot be reckoned from what was entered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WireFault {
    /// This figure is not possible on a shock spring.
    Impossible(WireFigure),
    /// The wire is as thick as the coil is wide, or a figure is not above zero.
    NoSuchCoil,
    /// Too few coils for this end type.
    TooFewCoils,
    /// The free length is less than the solid length.
    ShorterThanSolid,
}

/// Standard uncertainty of a count of coils by eye: an eighth of a coil.
const COIL_UNCERTAINTY: f64 = 0.125;
/// Standard uncertainty of how many coils a closed end takes out of the work. The table has two in all, which is what a
/// cold-coiled spring has; a hot-coiled one has 1.5 (EN 13906-1), and the eye cannot tell: rectangular, half a coil wide.
const CLOSED_END_DOUBT: f64 = 0.144_337_567_297_406;

impl EndType {
    /// Every one, what nearly every shock spring has in front.
    pub const ALL: [Self; 4] = [Self::ClosedGround, Self::Closed, Self::PlainGround, Self::Plain];

    /// Coils at the ends that do not deflect (Shigley 9th ed., table 10-1).
    const fn dead_coils(self) -> f64 {
        match self {
            Self::Plain => 0.0,
            Self::PlainGround => 1.0,
            Self::Closed | Self::ClosedGround => 2.0,
        }
    }

    /// Standard uncertainty of the dead coils.
    const fn dead_coils_doubt(self) -> f64 {
        match self {
            Self::Plain | Self::PlainGround => 0.0,
            Self::Closed | Self::ClosedGround => CLOSED_END_DOUBT,
        }
    }

    /// Wire diameters the solid length has beyond one a coil (the same table).
    const fn solid_extra(self) -> f64 {
        match self {
            Self::Plain | Self::Closed => 1.0,
            Self::PlainGround | Self::ClosedGround => 0.0,
        }
    }
}

impl Material {
    /// Every one, the usual steel in front.
    pub const ALL: [Self; 6] = [
        Self::ChromeSilicon,
        Self::ChromeVanadium,
        Self::OilTempered,
        Self::MusicWire,
        Self::TitaniumSixFour,
        Self::Titanium38644,
    ];

    /// The least and the most that published tables print for the shear modulus, in N/mm², each as it was read.
    ///
    /// Alloy and oil-tempered steels: 11.2 Mpsi (Shigley 9th ed., table 10-5) to 11.5 Mpsi (two makers' wire tables).
    /// Music wire over 3 mm: 11.5 to 11.75 Mpsi (the same tables; Shigley's 11.6 lies between). Ti-6Al-4V: 41 to 45 GPa (a
    /// data sheet; a materials database prints 44). Ti-3Al-8V-6Cr-4Mo-4Zr: 47 GPa (a materials database) is all that was
    /// found for the alloy, so that commercially pure titanium's 41.4 (a design guide) stands at the other end.
    const fn printed_moduli(self) -> (f64, f64) {
        match self {
            Self::ChromeSilicon | Self::ChromeVanadium | Self::OilTempered => (77_200.0, 79_300.0),
            Self::MusicWire => (79_300.0, 81_000.0),
            Self::TitaniumSixFour => (41_000.0, 45_000.0),
            Self::Titanium38644 => (41_400.0, 47_000.0),
        }
    }

    /// Shear modulus in N/mm²: the middle of what is printed. Its standard uncertainty is half the distance: tables give
    /// usual values, and a wire may lie outside them.
    pub const fn shear_modulus(self) -> Estimate<f64> {
        let (least, most) = self.printed_moduli();
        Estimate { value: 0.5 * (least + most), uncertainty: 0.5 * (most - least) }
    }
}

/// `k = G d⁴ / (8 D³ n)` with every figure given: for holding against worked examples that print their own modulus.
pub fn rate_from_modulus(modulus: f64, wire: Length, mean_diameter: Length, active_coils: f64) -> SpringRate {
    let (d, mean) = (wire.as_mm(), mean_diameter.as_mm());
    SpringRate::n_per_mm(modulus * d.powi(4) / (8.0 * mean.powi(3) * active_coils))
}

/// What a spring's wire says of it.
///
/// # Errors
/// When the figures cannot belong to one spring.
pub fn figures(spring: &WireSpring) -> Result<WireFigures, WireFault> {
    let (wire, mean) = (spring.wire, spring.mean_diameter);
    if wire <= Length::ZERO
        || mean <= wire
        || spring.calipers < Length::ZERO
        || !spring.total_coils.is_finite()
    {
        return Err(WireFault::NoSuchCoil);
    }
    let active_coils = spring.total_coils - spring.ends.dead_coils();
    if active_coils < 1.0 {
        return Err(WireFault::TooFewCoils);
    }
    let rate = rate_from_modulus(spring.material.shear_modulus().value, wire, mean, active_coils);
    let solid_length = wire * (spring.total_coils + spring.ends.solid_extra());
    let room = spring.free_length.map(|free| free - solid_length);
    if room.is_some_and(|room| room <= Length::ZERO) {
        return Err(WireFault::ShorterThanSolid);
    }
    let doubt = relative_uncertainty(spring, active_coils);
    Ok(WireFigures {
        rate: Estimate::new(rate, rate * doubt.as_fraction()),
        active_coils,
        solid_length,
        greatest_deflection: room,
        stroke: room.and_then(|room| whole_spring::unmarked_stroke(spring, active_coils, room)),
        growth: whole_spring::pitch(spring, active_coils)
            .map(|pitch| whole_spring::growth(pitch, spring.wire, spring.mean_diameter)),
    })
}

/// Relative standard uncertainty of the rate: powers of the formula times the relative doubts, in quadrature
/// (GUM 5.1.6). The mean diameter is an outer diameter less the wire, so a thick reading of the wire counts twice.
fn relative_uncertainty(spring: &WireSpring, active_coils: f64) -> Share {
    let calipers = spring.calipers.as_mm();
    let by_wire = (4.0 / spring.wire.as_mm() + 3.0 / spring.mean_diameter.as_mm()) * calipers;
    let by_outer = 3.0 / spring.mean_diameter.as_mm() * calipers;
    let by_coils = COIL_UNCERTAINTY / active_coils;
    let by_ends = spring.ends.dead_coils_doubt() / active_coils;
    let modulus = spring.material.shear_modulus();
    let parts = [by_wire, by_outer, by_coils, by_ends, modulus.uncertainty / modulus.value];
    // Figures of a checked spring are finite and above zero, and so is what they come to.
    Share::fraction(statistics::in_quadrature(&parts).unwrap_or(f64::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn measured() -> WireSpring {
        WireSpring {
            wire: Length::mm(12.0),
            mean_diameter: Length::mm(50.0),
            total_coils: 7.0,
            ends: EndType::ClosedGround,
            material: Material::ChromeSilicon,
            free_length: Some(Length::mm(150.0)),
            calipers: Length::mm(0.05),
        }
    }

    #[test]
    fn closed_and_ground_ends_take_two_coils_out_of_the_work() {
        let figures = figures(&measured()).expect("a sound spring");
        assert!((figures.active_coils - 5.0).abs() < 1e-12);
        assert!((figures.solid_length.as_mm() - 84.0).abs() < 1e-12);
        assert!((figures.greatest_deflection.expect("free length told").as_mm() - 66.0).abs() < 1e-12);
    }

    fn calipered() -> CaliperedSpring {
        CaliperedSpring {
            wire: Length::mm(12.0),
            outer: Length::mm(62.0),
            coils: Turns::of(7.0),
            ends: EndType::ClosedGround,
            material: Material::ChromeSilicon,
            free_length: Some(Length::mm(150.0)),
            calipers: Length::mm(0.05),
        }
    }

    #[test]
    fn the_outer_diameter_less_the_wire_is_the_mean_one() {
        assert_eq!(calipered().figures(), figures(&measured()));
    }

    #[test]
    fn a_slipped_decimal_is_named() {
        let slipped = CaliperedSpring { wire: Length::mm(1.2), ..calipered() };
        assert_eq!(slipped.figures(), Err(WireFault::Impossible(WireFigure::Wire)));
        let inches = CaliperedSpring { outer: Length::mm(2.44), ..calipered() };
        assert_eq!(inches.figures(), Err(WireFault::Impossible(WireFigure::Outer)));
    }

    #[test]
    fn titanium_is_little_more_than_half_as_stiff_as_steel() {
        let titanium = WireSpring { material: Material::TitaniumSixFour, ..measured() };
        let ratio =
            figures(&titanium).expect("sound").rate.value / figures(&measured()).expect("sound").rate.value;
        assert!((ratio - 43.0 / 78.25).abs() < 1e-12);
    }

    #[test]
    fn figures_that_belong_to_no_spring_are_refused() {
        let faults = [
            (WireSpring { mean_diameter: Length::mm(11.0), ..measured() }, WireFault::NoSuchCoil),
            (WireSpring { total_coils: 2.5, ..measured() }, WireFault::TooFewCoils),
            (WireSpring { free_length: Some(Length::mm(80.0)), ..measured() }, WireFault::ShorterThanSolid),
        ];
        for (spring, fault) in faults {
            assert_eq!(figures(&spring), Err(fault));
        }
    }
}
