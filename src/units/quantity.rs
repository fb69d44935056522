//! Checked newtypes, one a quantity, each stored in one unit and built from any the trade uses.
//!
//! Exact definitions: 1 in = 25.4 mm, 1 lb = 0.453 592 37 kg (international yard and pound agreement of 1959),
//! standard gravity 9.806 65 m/s² (3rd CGPM, 1901); 1 lbf and 1 lbf/in follow from them, as NIST SP 811 (2008),
//! appendix B lists them. Not here: limits of what is sensible for a bike (`session::record`), and rounding for the
//! eye (`units::display`).

use std::fmt;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

use super::unit::Kind;

/// Millimetres in an inch, exact by definition.
pub const MM_PER_INCH: f64 = 25.4;
/// Kilograms in a pound, exact by definition.
pub const KG_PER_POUND: f64 = 0.453_592_37;
/// Standard gravity in m/s², exact by definition (3rd CGPM, 1901).
pub const GRAVITY: f64 = 9.806_65;
/// Newtons in a pound-force: the pound times standard gravity.
pub const NEWTONS_PER_POUND_FORCE: f64 = KG_PER_POUND * GRAVITY;
/// Kilopascals in a pound-force per square inch: 6.894 757 293… (NIST SP 811, appendix B.8, prints 6.894 757).
pub const KILOPASCALS_PER_PSI: f64 = NEWTONS_PER_POUND_FORCE / (MM_PER_INCH * MM_PER_INCH) * 1_000.0;
/// N/mm in one lbf/in: 0.175 126 835 246 476… (NIST SP 811 rounds it to 0.175 126 8).
pub const N_MM_PER_LB_IN: f64 = NEWTONS_PER_POUND_FORCE / MM_PER_INCH;

/// A figure that is not a finite number was offered as a quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotANumber;

impl fmt::Display for NotANumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("this is not a finite number")
    }
}

impl std::error::Error for NotANumber {}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident: $base:ident = $unit:literal $(, $other:ident = $factor:expr, $other_unit:literal)*) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            #[doc = concat!("From ", $unit, ". The figure must be finite; figures from outside go through [`Self::checked`].")]
            pub const fn $base(value: f64) -> Self {
                debug_assert!(value.is_finite());
                Self(value)
            }

            #[doc = concat!("From ", $unit, " of any origin.\n\n# Errors\nWhen the figure is infinite or not a number.")]
            pub fn checked(value: f64) -> Result<Self, NotANumber> {
                if value.is_finite() { Ok(Self(value)) } else { Err(NotANumber) }
            }

            #[doc = concat!("The figure in ", $unit, ".")]
            pub const fn value(self) -> f64 {
                self.0
            }

            /// Its size without its sign.
            #[must_use]
            pub fn abs(self) -> Self {
                Self(self.0.abs())
            }

            $(
                #[doc = concat!("From ", $other_unit, ".")]
                pub const fn $other(value: f64) -> Self {
                    Self::$base(value * $factor)
                }
            )*
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
    };
}

quantity! {
    /// A length, travel, stroke or compression, in millimetres.
    Length: mm = "millimetres", inches = MM_PER_INCH, "inches"
}
quantity! {
    /// A mass, in kilograms: what a bathroom or luggage scale shows.
    Mass: kg = "kilograms", pounds = KG_PER_POUND, "pounds"
}
quantity! {
    /// A force, in newtons.
    Force: newtons = "newtons", pounds_force = NEWTONS_PER_POUND_FORCE, "pounds-force"
}
quantity! {
    /// A spring rate, force per deflection, in N/mm; springs are labelled in lb/in (pounds-force per inch).
    SpringRate: n_per_mm = "N/mm", lb_per_in = N_MM_PER_LB_IN, "lb/in", kgf_per_mm = GRAVITY, "kgf/mm"
}
quantity! {
    /// Turns of the preload collar.
    Turns: of = "turns"
}
quantity! {
    /// A share of a whole: 0.30 of the shock stroke is 30 % sag.
    Share: fraction = "parts of one", percent = 0.01, "per cent"
}
quantity! {
    /// Wheel movement over shock movement at one place in the travel.
    LeverageRatio: ratio = "millimetres of wheel per millimetre of shock"
}
quantity! {
    /// Energy, in joules (newton metres).
    Energy: joules = "joules"
}
quantity! {
    /// A frequency, in hertz.
    Frequency: hertz = "hertz"
}
quantity! {
    /// A time at the bench, in minutes: what a piece of work takes, and what an outcome is worth in work.
    Minutes: of = "minutes"
}
quantity! {
    /// A gas pressure above that of the air, in kilopascals; pumps show pounds-force per square inch.
    Pressure: kilopascals = "kilopascals", psi = KILOPASCALS_PER_PSI, "pounds-force per square inch"
}
quantity! {
    /// An angle, in degrees.
    Angle: degrees = "degrees"
}

impl Length {
    /// The figure in millimetres.
    pub const fn as_mm(self) -> f64 {
        self.0
    }
    /// The figure in inches.
    pub const fn as_inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }
}

impl Mass {
    /// The figure in kilograms.
    pub const fn as_kg(self) -> f64 {
        self.0
    }
    /// The figure in pounds.
    pub const fn as_pounds(self) -> f64 {
        self.0 / KG_PER_POUND
    }
    /// The force standard gravity puts on it.
    pub const fn weight(self) -> Force {
        Force(self.0 * GRAVITY)
    }
}

impl Force {
    /// The figure in newtons.
    pub const fn as_newtons(self) -> f64 {
        self.0
    }
    /// The figure in pounds-force.
    pub const fn as_pounds_force(self) -> f64 {
        self.0 / NEWTONS_PER_POUND_FORCE
    }
    /// The mass that weighs this much under standard gravity.
    pub const fn as_mass(self) -> Mass {
        Mass(self.0 / GRAVITY)
    }
}

impl Pressure {
    /// The figure in kilopascals.
    pub const fn as_kilopascals(self) -> f64 {
        self.0
    }
    /// The figure in pounds-force per square inch.
    pub const fn as_psi(self) -> f64 {
        self.0 / KILOPASCALS_PER_PSI
    }
    /// The force it puts on a round rod of this diameter: pressure times area.
    pub fn on_rod(self, diameter: Length) -> Force {
        Force(self.0 / 1_000.0 * std::f64::consts::FRAC_PI_4 * diameter.0 * diameter.0)
    }
}

impl SpringRate {
    /// The figure in N/mm.
    pub const fn as_n_per_mm(self) -> f64 {
        self.0
    }
    /// The figure in lb/in.
    pub const fn as_lb_per_in(self) -> f64 {
        self.0 / N_MM_PER_LB_IN
    }
}

impl Mul<Length> for SpringRate {
    type Output = Force;
    fn mul(self, compression: Length) -> Force {
        Force(self.0 * compression.0)
    }
}

impl Share {
    /// The figure in per cent.
    pub const fn as_percent(self) -> f64 {
        self.0 * 100.0
    }
    /// The figure as parts of one.
    pub const fn as_fraction(self) -> f64 {
        self.0
    }
    /// This share of a length.
    pub fn of(self, whole: Length) -> Length {
        Length(self.0 * whole.0)
    }
}

/// Any of the quantities a person types or reads, for limits and refusals that speak of several kinds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Quantity {
    /// A length.
    Length(Length),
    /// A mass.
    Mass(Mass),
    /// A spring rate.
    Rate(SpringRate),
    /// Collar turns.
    Turns(Turns),
    /// A share, shown in per cent.
    Share(Share),
    /// A leverage ratio.
    Ratio(LeverageRatio),
    /// A count of things.
    Count(u16),
}

impl Quantity {
    /// The quantity of a measured kind with this figure in the unit the program reckons in; none for a count, which is
    /// no measured figure.
    ///
    /// # Errors
    /// When the figure is not finite.
    pub fn calculated(kind: Kind, figure: f64) -> Result<Option<Self>, NotANumber> {
        Ok(Some(match kind {
            Kind::Length => Self::Length(Length::checked(figure)?),
            Kind::Mass => Self::Mass(Mass::checked(figure)?),
            Kind::Rate => Self::Rate(SpringRate::checked(figure)?),
            Kind::Turns => Self::Turns(Turns::checked(figure)?),
            Kind::Share => Self::Share(Share::checked(figure)?),
            Kind::Ratio => Self::Ratio(LeverageRatio::checked(figure)?),
            Kind::Count => return Ok(None),
        }))
    }

    /// What sort of quantity it is.
    pub const fn kind(self) -> Kind {
        match self {
            Self::Length(_) => Kind::Length,
            Self::Mass(_) => Kind::Mass,
            Self::Rate(_) => Kind::Rate,
            Self::Turns(_) => Kind::Turns,
            Self::Share(_) => Kind::Share,
            Self::Ratio(_) => Kind::Ratio,
            Self::Count(_) => Kind::Count,
        }
    }

    /// The figure in the unit the program reckons in, to compare two quantities of one kind.
    pub fn value(self) -> f64 {
        match self {
            Self::Length(length) => length.value(),
            Self::Mass(mass) => mass.value(),
            Self::Rate(rate) => rate.value(),
            Self::Turns(turns) => turns.value(),
            Self::Share(share) => share.value(),
            Self::Ratio(ratio) => ratio.value(),
            Self::Count(count) => f64::from(count),
        }
    }
}

/// A value with its standard uncertainty (GUM 2.3.1: an uncertainty stated as a standard deviation), in the same unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate<Q> {
    /// The best value.
    pub value: Q,
    /// Its standard uncertainty.
    pub uncertainty: Q,
}

impl<Q> Estimate<Q> {
    /// A value with its standard uncertainty.
    pub const fn new(value: Q, uncertainty: Q) -> Self {
        Self { value, uncertainty }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_pound_per_inch_is_the_factor_of_sp_811() {
        // NIST SP 811 (2008), appendix B.8, prints seven figures: 175.1268 N/m.
        assert!((SpringRate::lb_per_in(1.0).as_n_per_mm() - 0.175_126_8).abs() < 5e-8);
    }

    #[test]
    fn a_gas_spring_of_ten_millimetres_at_a_thousand_psi_pushes_with_a_hundred_and_twenty_pounds() {
        // Pressure times area of the rod, as makers of gas springs reckon: 121.8 lbf for 10 mm at 1000 psi, recomputed.
        let force = Pressure::psi(1_000.0).on_rod(Length::mm(10.0));
        assert!((force.as_pounds_force() - 121.8).abs() < 0.1);
    }

    #[test]
    fn what_is_not_finite_is_refused() {
        assert_eq!(Length::checked(f64::NAN), Err(NotANumber));
        assert_eq!(Mass::checked(f64::INFINITY), Err(NotANumber));
    }

    #[test]
    fn fifteen_of_sixty_millimetres_is_a_quarter() {
        // Common practice, no source.
        assert!((Length::mm(15.0) / Length::mm(60.0) - 0.25).abs() < 1e-15);
    }
}
