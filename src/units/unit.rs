//! The units people type and read, and the sets of them a shop works in.
//!
//! A [`Unit`] belongs to one [`Kind`] of quantity; a [`UnitSet`] names the unit each kind is shown in, which is also
//! what a bare figure is taken to be in. Not here: reading text (`parse`) and rounding for the eye (`display`).

/// What sort of quantity a field asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A length, travel, stroke or compression.
    Length,
    /// A mass.
    Mass,
    /// A spring rate.
    Rate,
    /// Turns of the collar.
    Turns,
    /// A share of a whole.
    Share,
    /// A leverage ratio.
    Ratio,
    /// A count of things.
    Count,
}

/// A unit as it stands behind a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Millimetre.
    Millimetre,
    /// Centimetre: typed by people with a tape measure, never shown.
    Centimetre,
    /// Inch.
    Inch,
    /// Kilogram.
    Kilogram,
    /// Pound.
    Pound,
    /// Pound-force per inch, lb/in for short, as springs are labelled.
    PoundPerInch,
    /// Newton per millimetre.
    NewtonPerMillimetre,
    /// Kilogram-force per millimetre, as some springs are printed: typed, never shown.
    KilogramForcePerMillimetre,
    /// Newton.
    Newton,
    /// Pound-force.
    PoundForce,
    /// One turn of the collar.
    Turn,
    /// Per cent.
    Percent,
    /// Joule.
    Joule,
    /// Hertz.
    Hertz,
    /// Degree of arc.
    Degree,
    /// None: a ratio or a count.
    One,
}

impl Unit {
    /// The sign behind a figure, in the plural where there is one; empty for a ratio or a count.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Inch => "in",
            Self::Kilogram => "kg",
            Self::Pound => "lb",
            Self::PoundPerInch => "lb/in",
            Self::NewtonPerMillimetre => "N/mm",
            Self::KilogramForcePerMillimetre => "kgf/mm",
            Self::Newton => "N",
            Self::PoundForce => "lbf",
            Self::Turn => "turns",
            Self::Percent => "%",
            Self::Joule => "J",
            Self::Hertz => "Hz",
            Self::Degree => "°",
            Self::One => "",
        }
    }
}

/// Which units figures are shown in, and what a bare figure is taken to be in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum UnitSet {
    /// Millimetres, kilograms and lb/in: how most workshops speak.
    #[default]
    Trade,
    /// Inches, pounds and lb/in.
    Imperial,
    /// Millimetres, kilograms and N/mm.
    Metric,
}

impl UnitSet {
    /// Every set, in the order [`Self::next`] goes through them.
    pub const ALL: [Self; 3] = [Self::Trade, Self::Imperial, Self::Metric];

    /// The set after this one, round and round.
    #[must_use]
    pub const fn next(self) -> Self {
        match self {
            Self::Trade => Self::Imperial,
            Self::Imperial => Self::Metric,
            Self::Metric => Self::Trade,
        }
    }

    /// The unit this set shows the kind in.
    pub const fn unit(self, kind: Kind) -> Unit {
        match (kind, self) {
            (Kind::Length, Self::Imperial) => Unit::Inch,
            (Kind::Length, Self::Trade | Self::Metric) => Unit::Millimetre,
            (Kind::Mass, Self::Imperial) => Unit::Pound,
            (Kind::Mass, Self::Trade | Self::Metric) => Unit::Kilogram,
            (Kind::Rate, Self::Metric) => Unit::NewtonPerMillimetre,
            (Kind::Rate, Self::Trade | Self::Imperial) => Unit::PoundPerInch,
            (Kind::Turns, _) => Unit::Turn,
            (Kind::Share, _) => Unit::Percent,
            (Kind::Ratio | Kind::Count, _) => Unit::One,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn next_goes_through_every_set_and_comes_back() {
        for (place, set) in UnitSet::ALL.into_iter().enumerate() {
            assert_eq!(set.next(), UnitSet::ALL[(place + 1) % UnitSet::ALL.len()]);
        }
    }

    #[test]
    fn every_workshop_starts_in_the_units_of_the_trade() {
        let set = UnitSet::default();
        let units = [Kind::Length, Kind::Mass, Kind::Rate].map(|kind| set.unit(kind).symbol());
        assert_eq!(units, ["mm", "kg", "lb/in"]);
    }
}
