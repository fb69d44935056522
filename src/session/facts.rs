//! The one table of what is told at the intake: a row a fact, with its name in a file, what it is called, what its row on
//! the form asks for, and whether the work can begin without it.
//!
//! The macro makes the typed part of each row: a field of [`Intake`], a variant of [`Detail`] and one of [`Fact`]. All that
//! does not care which fact it has before it (file, export, form, history) goes by [`Value`], which has a variant a *kind* of
//! value. Not here: limits (`limits`), which need more than one fact at a time, and the text of a row (`screen`).

use super::earlier::Earlier;
use super::intake::{Charge, LeverageKnowledge, Origin, Target, WheelLoad};
use super::limits::Figure;
use crate::mechanics::spring::{Spring, SpringNumber};
use crate::text::FreeText;
use crate::units::{Length, Mass, Quantity, Turns};

/// What there is to know of a fact besides its value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct About {
    /// Its names in a record's file; the first is its name everywhere else outside.
    pub keys: &'static [&'static str],
    /// What kind of value it takes.
    pub shape: Shape,
    /// What it is called in a sentence, in small letters.
    pub name: &'static str,
    /// How it is spoken of while it is missing; none for one the work can begin without.
    pub lacking: Option<&'static str>,
    /// Its row on the form; none where it has none.
    pub row: Option<FormRow>,
}

/// The row of a fact on the form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FormRow {
    /// The rows it stands among.
    pub group: Group,
    /// What it is called there, where that says more than the name.
    pub label: Option<&'static str>,
    /// What it takes, in a sentence.
    pub takes: &'static str,
    /// The same where figures are in inches and pounds, where that says it otherwise.
    pub imperial: Option<&'static str>,
}

/// The rows of the form that belong together, in their order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each is what it is called")]
pub enum Group {
    Customer,
    Weights,
    Travel,
    Shock,
    Target,
    Springs,
    Measured,
}

/// What kind of value a fact takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is a variant of `Value`")]
pub enum Shape {
    Text,
    Figure(Figure),
    Target,
    WheelLoad,
    Charge,
    Earlier,
    Leverage,
    Springs,
    Spring,
}

/// A value, whatever fact it is of.
#[derive(Debug, Clone, PartialEq)]
#[expect(missing_docs, reason = "each is what its type says")]
pub enum Value {
    Text(FreeText),
    Figure(Quantity),
    Target(Target),
    WheelLoad(WheelLoad),
    Charge(Charge),
    Earlier(Earlier),
    Leverage(LeverageKnowledge),
    Springs(Vec<Spring>),
    Spring(SpringNumber),
}

/// A type that is one kind of [`Value`].
macro_rules! values {
    ($($type:ty: $pattern:pat => $made:expr, $value:ident => $into:expr;)*) => {$(
        impl From<$type> for Value {
            fn from($value: $type) -> Self { $into }
        }
        impl TryFrom<Value> for $type {
            type Error = ();
            fn try_from(value: Value) -> Result<Self, ()> {
                match value { $pattern => Ok($made), _ => Err(()) }
            }
        }
    )*};
}

values! {
    FreeText: Value::Text(text) => text, text => Self::Text(text);
    Mass: Value::Figure(Quantity::Mass(mass)) => mass, mass => Self::Figure(Quantity::Mass(mass));
    Length: Value::Figure(Quantity::Length(length)) => length, length => Self::Figure(Quantity::Length(length));
    Turns: Value::Figure(Quantity::Turns(turns)) => turns, turns => Self::Figure(Quantity::Turns(turns));
    u8: Value::Figure(Quantity::Count(count)) => u8::try_from(count).map_err(drop)?,
        count => Self::Figure(Quantity::Count(u16::from(count)));
    Target: Value::Target(target) => target, target => Self::Target(target);
    WheelLoad: Value::WheelLoad(load) => load, load => Self::WheelLoad(load);
    Charge: Value::Charge(charge) => charge, charge => Self::Charge(charge);
    Earlier: Value::Earlier(earlier) => earlier, earlier => Self::Earlier(earlier);
    LeverageKnowledge: Value::Leverage(known) => known, known => Self::Leverage(known);
    Vec<Spring>: Value::Springs(springs) => springs, springs => Self::Springs(springs);
    SpringNumber: Value::Spring(number) => number, number => Self::Spring(number);
}

/// Three ways a fact stands in the intake: `needed` (once told, only another value takes its place), `optional` (may be
/// taken back), `plain` (its type has a value for nothing).
macro_rules! facts {
    ($($(#[$doc:meta])* $Fact:ident: $mode:ident $type:ty, $field:ident = $about:expr;)*) => {
        /// One of the things that can be told.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Fact { $($(#[$doc])* $Fact),* }

        /// What has been told so far.
        #[derive(Debug, Clone, PartialEq, Default)]
        pub struct Intake {
            /// Whether this is a real session or a demonstration.
            pub origin: Origin,
            $($(#[$doc])* pub $field: facts!(@stored $mode $type)),*
        }

        /// A fact with its value.
        #[derive(Debug, Clone, PartialEq)]
        pub enum Detail { $($(#[$doc])* $Fact(facts!(@entered $mode $type))),* }

        impl Fact {
            /// Every fact, in the order they stand in a file.
            pub const ALL: &[Self] = &[$(Self::$Fact),*];

            /// What there is to know of it.
            pub const fn about(self) -> About {
                match self { $(Self::$Fact => $about),* }
            }

            /// What it is called in a deed of a file.
            pub const fn variant(self) -> &'static str {
                match self { $(Self::$Fact => stringify!($Fact)),* }
            }

            /// The fact with this value; none where it is of another kind, or where the fact cannot be taken back.
            pub fn detail(self, value: Option<Value>) -> Option<Detail> {
                Some(match self { $(Self::$Fact => Detail::$Fact(facts!(@from $mode value))),* })
            }
        }

        impl Detail {
            /// Which fact it is.
            pub const fn fact(&self) -> Fact {
                match self { $(Self::$Fact(_) => Fact::$Fact),* }
            }

            /// Its value; none where it takes the fact back.
            pub fn value(&self) -> Option<Value> {
                match self.clone() { $(Self::$Fact(entered) => facts!(@value $mode entered)),* }
            }
        }

        impl Intake {
            /// A fact as it was told; none while it was not.
            pub fn entered(&self, fact: Fact) -> Option<Value> {
                let nothing = Self::default();
                match fact {
                    $(Fact::$Fact if self.$field == nothing.$field => None,
                      Fact::$Fact => facts!(@value_stored $mode self.$field.clone())),*
                }
            }

            pub(super) fn put(&mut self, detail: Detail) {
                match detail { $(Detail::$Fact(entered) => self.$field = entered.into()),* }
            }
        }
    };
    (@stored plain $type:ty) => { $type };
    (@stored needed $type:ty) => { Option<$type> };
    (@stored optional $type:ty) => { Option<$type> };
    (@entered optional $type:ty) => { Option<$type> };
    (@entered needed $type:ty) => { $type };
    (@entered plain $type:ty) => { $type };
    (@from optional $value:ident) => { match $value { Some(value) => Some(value.try_into().ok()?), None => None } };
    (@from $mode:ident $value:ident) => { $value?.try_into().ok()? };
    (@value optional $entered:expr) => { $entered.map(Into::into) };
    (@value $mode:ident $entered:expr) => { Some($entered.into()) };
    (@value_stored plain $stored:expr) => { Some($stored.into()) };
    (@value_stored $mode:ident $stored:expr) => { $stored.map(Into::into) };
}

impl About {
    const fn of(keys: &'static [&'static str], shape: Shape, name: &'static str) -> Self {
        Self { keys, shape, name, lacking: None, row: None }
    }

    /// A fact that is a single figure, called as the figure is.
    const fn figure(keys: &'static [&'static str], field: Figure) -> Self {
        Self::of(keys, Shape::Figure(field), field.name())
    }

    const fn needed(self, lacking: &'static str) -> Self {
        Self { lacking: Some(lacking), ..self }
    }

    const fn asked(self, group: Group, takes: &'static str) -> Self {
        Self { row: Some(FormRow { group, label: None, takes, imperial: None }), ..self }
    }

    const fn labelled(self, label: &'static str) -> Self {
        match self.row {
            Some(row) => Self { row: Some(FormRow { label: Some(label), ..row }), ..self },
            None => self,
        }
    }

    const fn imperial(self, takes: &'static str) -> Self {
        match self.row {
            Some(row) => Self { row: Some(FormRow { imperial: Some(takes), ..row }), ..self },
            None => self,
        }
    }
}

facts! {
    /// Name or reference of the customer.
    Customer: plain FreeText, customer = About::of(&["customer"], Shape::Text, "customer")
        .asked(Group::Customer, "A name or a job number. May stay empty.");
    /// Anything worth knowing.
    Notes: plain FreeText, notes = About::of(&["notes"], Shape::Text, "notes")
        .asked(Group::Customer, "Anything worth knowing. May stay empty.");
    /// The bike, in the shop's words.
    BikeName: plain FreeText, bike_name = About::of(&["bike_name"], Shape::Text, "bike")
        .asked(Group::Customer, "The bike in your own words. May stay empty.").labelled("which bike");
    /// Rider ready to ride, kit included.
    Rider: needed Mass, rider = About::figure(&["rider_kg"], Figure::Rider).needed("the rider's weight")
        .asked(Group::Weights, "Weight with helmet, shoes, pack and water: 82 or 180 lb.").labelled("rider, ready to ride")
        .imperial("Weight with helmet, shoes, pack and water: 180 or 82 kg.");
    /// The bike alone.
    Bike: needed Mass, bike = About::figure(&["bike_kg"], Figure::Bike).needed("the bike's weight")
        .asked(Group::Weights, "Weight of the bike as it is ridden: 15.5 or 34 lb.").labelled("bike alone")
        .imperial("Weight of the bike as it is ridden: 34 or 15.5 kg.");
    /// What a scale under the rear wheel showed with the rider seated, if it was tried.
    WheelLoad: optional WheelLoad, wheel_load = About::of(&["wheel_load"], Shape::WheelLoad, Figure::WheelLoad.name())
        .asked(Group::Measured, "What a scale under the rear wheel shows with the rider seated and the front wheel raised as high: \
                                62 or 62 +- 1. Empty: calculated from the weights.");
    /// Mass at the rear that does not rest on the spring: wheel, tyre, brake and half the swingarm.
    Unsprung: optional Mass, unsprung = About::figure(&["unsprung_kg"], Figure::Unsprung)
        .asked(Group::Measured, "Rear wheel with tyre, cassette, brake and half the swingarm; more with a motor in the hub: 4.2. \
                                Empty: as on most bikes.");
    /// How far the middle of the saddle stands behind the bottom bracket, by a plumb line.
    SaddleBehind: optional Length, saddle_behind = About::figure(&["saddle_behind_mm"], Figure::SaddleBehind)
        .asked(Group::Measured, "From bottom bracket back to the middle of the saddle, level, by a plumb line: 190. Empty: as on \
                                most bikes.");
    /// What an earlier session of the same rider and bike taught.
    Earlier: optional Earlier, earlier = About::of(&["earlier"], Shape::Earlier, "earlier session");
    /// Rear wheel travel.
    Travel: needed Length, travel = About::figure(&["travel_mm"], Figure::Travel).needed("the rear wheel travel")
        .asked(Group::Travel, "Total rear wheel travel, from the frame maker: 160 or 6.3 in.")
        .imperial("How far the rear wheel moves in all, from the frame maker: 6.3 or 160 mm.");
    /// Stroke of the shock.
    Stroke: needed Length, stroke = About::figure(&["stroke_mm"], Figure::Stroke).needed("the shock stroke")
        .asked(Group::Shock, "Total shock stroke, printed on it or from its maker: 65 or 2.5 in.")
        .imperial("Total shock stroke, printed on it or from its maker: 2.5 or 65 mm.");
    /// What is known of the leverage ratio.
    Leverage: plain LeverageKnowledge, leverage = About::of(&["leverage"], Shape::Leverage, "leverage ratio")
        .asked(Group::Travel, "From the frame maker: 3.0 to 2.5. Or pairs measured with the spring off (stroke/wheel): 10/27.5 20/54. Or file: lev.csv. Leave empty to use travel and stroke.");
    /// Thread pitch of the preload collar.
    CollarPitch: needed Length, collar_pitch = About::figure(&["collar_pitch_mm"], Figure::CollarPitch)
        .needed("the thread pitch of the collar").asked(Group::Shock, "How far the collar moves in one turn. If it is not listed, measure over several turns.");
    /// Collar turns past contact the maker of the shock allows.
    TurnsLimit: needed Turns, turns_limit = About::figure(&["turns_limit"], Figure::TurnsLimit)
        .needed("the collar turns allowed").asked(Group::Shock, "Turns of preload the maker of the shock allows.");
    /// Outer diameter of the shock body, where the spring has to pass over it.
    BodyDiameter: optional Length, body_diameter = About::figure(&["body_diameter_mm"], Figure::BodyDiameter)
        .asked(Group::Shock, "Outer diameter where the spring passes over. Leave empty to skip the fit check.");
    /// What is known of the charge in the damper.
    Charge: optional Charge, charge = About::of(&["charge"], Shape::Charge, "gas in the damper")
        .asked(Group::Measured, "none, or what the bare shaft pushes with on a scale: 110 N, or pressure and shaft: 170 psi 12.7 mm. \
                              Empty: not known.");
    /// From axle to axle.
    Wheelbase: optional Length, wheelbase = About::figure(&["wheelbase_mm"], Figure::Wheelbase)
        .asked(Group::Shock, "From axle to axle, from the frame maker: 1240. Leave empty if you do not need the head angle.")
        .imperial("From axle to axle, from the frame maker: 48.8. Leave empty if you do not need the head angle.");
    /// From rear axle to bottom bracket.
    RearCentre: optional Length, rear_centre = About::figure(&["rear_centre_mm"], Figure::RearCentre)
        .asked(Group::Shock, "Rear axle to bottom bracket, from the frame maker: 440. Leave empty if you do not need the bottom bracket height.")
        .imperial("Rear axle to bottom bracket, from the frame maker: 17.3. Leave empty if you do not need the bottom bracket height.");
    /// The band wanted.
    Target: needed Target, target = About::of(&["target_percent", "target_share", "tolerance_percent", "tolerance_share"], Shape::Target,
        Figure::TargetSag.name()).needed("the target sag")
        .asked(Group::Target, "25-30 is usual: less sag is firmer. Type a range, or 30 +- 1.5.");
    /// The least difference the ruler shows.
    Ruler: needed Length, ruler = About::figure(&["ruler_mm"], Figure::Ruler).needed("the finest mark of the ruler")
        .asked(Group::Target, "The smallest step on your ruler: 0.5 or 1 mm.")
        .imperial("The least difference you can read off: 1/32 or 1/16.");
    /// Readings to take with one spring before the verdict.
    ReadingsEach: needed u8, readings_each = About::figure(&["readings_each"], Figure::ReadingsEach)
        .needed("the readings to take with one spring")
        .asked(Group::Target, "Readings to take before a recommendation: 3.");
    /// The springs at hand.
    Springs: plain Vec<Spring>, springs = About::of(&["springs"], Shape::Springs, "springs on the list").needed("the springs on the list")
        .asked(Group::Springs, "Rates with the stroke printed on them, x2 for two: 400x65 450x65 x2, or 350-600 by 50.")
        .imperial("Rates with the stroke printed on them, x2 for two: 400x2.5 450x2.5 x2, or 350-600 by 50.");
    /// The spring on the bike as it comes in; none when the shock has none yet.
    SpringOnArrival: optional SpringNumber, spring_on_arrival = About::of(&["spring_on_arrival"], Shape::Spring, "spring on the bike as it came in")
        .asked(Group::Springs, "Its rate and stroke as printed: 450x65; or its number as #2. Empty: none is fitted yet.").labelled("spring on the bike now")
        .imperial("Its rate and stroke as printed: 450x2.5; or its number as #2. Empty: none is fitted yet.");
}

impl Intake {
    /// Everything that was told, in the order of the table.
    pub fn details(&self) -> Vec<Detail> {
        Fact::ALL.iter().filter_map(|fact| fact.detail(Some(self.entered(*fact)?))).collect()
    }

    /// What is still needed before the work can begin, and nothing typical can stand for.
    pub fn missing(&self) -> Vec<Fact> {
        let stood_for = self.not_entered();
        let lacks = |fact: &Fact| {
            fact.about().lacking.is_some() && self.entered(*fact).is_none() && !stood_for.contains(fact)
        };
        Fact::ALL.iter().copied().filter(lacks).collect()
    }

    /// Whether everything told in the other stands here as well.
    pub fn holds_all_of(&self, other: &Self) -> bool {
        let held =
            |fact: &Fact| other.entered(*fact).is_none_or(|entered| self.entered(*fact) == Some(entered));
        (other.origin == Origin::default() || self.origin == other.origin) && Fact::ALL.iter().all(held)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Estimate, Share};

    /// A value of a shape, whatever it is.
    fn any(shape: Shape) -> Value {
        let rear = Estimate::new(Share::percent(60.0), Share::percent(1.0));
        let opened = chrono::DateTime::UNIX_EPOCH.into();
        match shape {
            Shape::Text => Value::Text(FreeText::new("x")),
            Shape::Figure(field) => Value::Figure(field.limits().usual_least),
            Shape::Target => Value::Target(Target::PLANTED),
            Shape::WheelLoad => {
                Value::WheelLoad(WheelLoad { shown: Estimate::new(Mass::kg(60.0), Mass::kg(1.0)) })
            }
            Shape::Charge => Value::Charge(Charge::Nothing),
            Shape::Earlier => Value::Earlier(Earlier {
                opened,
                rider_share: rear,
                falloff: rear,
                correlation: Share::ZERO,
                gas: None,
                learned_on: None,
                spring: None,
            }),
            Shape::Leverage => Value::Leverage(LeverageKnowledge::Measured(Vec::new())),
            Shape::Springs => Value::Springs(vec![Spring::labelled(
                SpringNumber(1),
                crate::units::SpringRate::lb_per_in(450.0),
            )]),
            Shape::Spring => Value::Spring(SpringNumber(1)),
        }
    }

    #[test]
    fn the_type_of_every_row_is_that_of_its_shape() {
        let mut intake = Intake::default();
        for fact in Fact::ALL {
            let value = any(fact.about().shape);
            let detail = fact.detail(Some(value.clone()));
            intake.put(detail.unwrap_or_else(|| panic!("{fact:?} does not take {value:?}")));
            assert_eq!(intake.entered(*fact), Some(value));
        }
    }

    #[test]
    fn no_name_in_a_file_stands_for_two_facts() {
        let mut names: Vec<&str> = Fact::ALL.iter().flat_map(|fact| fact.about().keys).copied().collect();
        names.sort_unstable();
        assert!(names.windows(2).all(|pair| pair[0] != pair[1]), "{names:?}");
    }
}
