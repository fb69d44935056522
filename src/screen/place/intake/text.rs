//! The text of a row and the detail it stands for, both ways.
//!
//! Text written for a row always carries its unit, so that it reads back the same whatever units are shown. Not here: what
//! is possible or unusual (`session::limits`), the line of springs (`spring_list`), and the leverage (`leverage`).

use super::leverage::{self, TypedLeverage};
use super::row::IntakeRow;
use super::spring_list::{self, SpringsFault};
use crate::mechanics::pairs::{NotFromFullExtension, PairsText};
use crate::phrase;
use crate::screen::place::typed_spring::{self, TypedSpring};
use crate::screen::place::typed_target;
use crate::session::limits::Figure;
use crate::session::shop_rack::free_numbers;
use crate::session::{
    Charge, Detail, Intake, LeverageKnowledge, Shape, Spring, SpringNumber, Target, Value, WheelLoad,
};
use crate::text::FreeText;
use crate::text::mark::Mark;
use crate::units::{
    Estimate, FigureFault, Force, Mass, Pressure, Quantity, Show, SpringRate, UnitSet, Unreadable, parse,
};

/// Why a text is no detail.
#[derive(Debug, Clone, PartialEq)]
pub enum Unread {
    /// A figure cannot be read.
    Figure(Unreadable),
    /// The line of springs cannot be read.
    Rack(SpringsFault),
    /// Leverage is two ratios, the start and the end, or measured pairs.
    Leverage,
    /// Measured pairs cannot be read.
    Pairs(PairsText),
    /// Heights of the axle do not begin at full extension.
    Heights(NotFromFullExtension),
    /// A file holds no pairs.
    EmptyTable,
    /// A file is asked for and not named.
    NoFile,
    /// No spring on the list has that number.
    NoSuchNumber,
}

impl From<Unreadable> for Unread {
    fn from(unreadable: Unreadable) -> Self {
        Self::Figure(unreadable)
    }
}

impl IntakeRow {
    /// Details entered, as text that reads back; empty while nothing was.
    pub fn entered(self, intake: &Intake, units: UnitSet) -> String {
        let Self::Of(fact) = self else { return String::new() };
        match intake.entered(fact) {
            None | Some(Value::Earlier(_)) => String::new(),
            Some(Value::WheelLoad(load)) => {
                let shown = load.shown;
                format!("{} ± {}", shown.value.written(units).figure, units.show(shown.uncertainty))
            }
            Some(Value::Charge(Charge::Pressure { pressure, rod })) => {
                format!("{:.0} psi {}", pressure.as_psi(), units.show(rod))
            }
            Some(Value::Charge(known)) => phrase::charge(known, units),
            Some(Value::Text(text)) => text.as_typed().to_owned(),
            Some(Value::Figure(figure)) => units.show(figure),
            Some(Value::Target(target)) => typed_target::written(target).into_owned(),
            Some(Value::Leverage(known)) => leverage::written(&known, units).unwrap_or_default(),
            Some(Value::Springs(springs)) => spring_list::written(&springs, units),
            Some(Value::Spring(number)) => fitted_text(number, intake, units),
        }
    }

    /// Reads a text into the details of this row, in the order they are to be told; none where the row has none. A spring
    /// on the bike that is not on the list joins it.
    ///
    /// # Errors
    /// When the text cannot be read.
    pub fn read(self, text: &str, intake: &Intake, units: UnitSet) -> Result<Vec<Detail>, Unread> {
        let Self::Of(fact) = self else { return Ok(Vec::new()) };
        let about = fact.about();
        if text.trim().is_empty() && about.lacking.is_none() && about.shape != Shape::Text {
            return Ok(vec![fact.detail(None).unwrap_or(Detail::Leverage(LeverageKnowledge::TravelOnly))]);
        }
        let value = match about.shape {
            Shape::Text => Value::Text(FreeText::new(text)),
            Shape::Figure(field) => Value::Figure(figure(text, field, units)?),
            Shape::Target => Value::Target(typed_target::read(text, as_wide_as(intake))?),
            Shape::Leverage => match leverage::read(text, units)? {
                TypedLeverage::Known(knowledge) => Value::Leverage(knowledge),
                TypedLeverage::Table { .. } => return Ok(Vec::new()),
            },
            Shape::Springs => {
                Value::Springs(spring_list::read_with_fitted(text, units, intake).map_err(Unread::Rack)?)
            }
            Shape::Spring => return Ok(fitted(text, intake, units)?.details()),
            Shape::WheelLoad => Value::WheelLoad(wheel_load(text, units)?),
            Shape::Charge => Value::Charge(charge(text, units)?),
            Shape::Earlier => return Ok(Vec::new()),
        };
        Ok(fact.detail(Some(value)).into_iter().collect())
    }

    /// How a text is understood, for the line below the field; none where there is nothing to add.
    pub fn understood(self, text: &str, intake: &Intake, units: UnitSet) -> Option<String> {
        if text.trim().is_empty() {
            return None;
        }
        match self.shape()? {
            Shape::Figure(field) => {
                let read = parse::quantity(text, field.limits().least.kind(), units).ok()?;
                Some(both_ways(read.value, units))
            }
            Shape::WheelLoad => {
                let shown = wheel_load(text, units).ok()?.shown;
                Some(format!("= {}", shown.shown(units)))
            }
            Shape::Charge => {
                let known = charge(text, units).ok()?;
                Some(format!("= {}", phrase::charge(known, units)))
            }
            Shape::Target => {
                let target = typed_target::read(text, as_wide_as(intake)).ok()?;
                Some(format!("= {}", phrase::target_range(target, units)))
            }
            Shape::Leverage => Some(leverage_understood(&leverage::read(text, units).ok()?, units)),
            Shape::Springs => {
                let springs = spring_list::read_with_fitted(text, units, intake).ok()?;
                Some(phrase::intake::springs_understood(&springs, units))
            }
            Shape::Spring => Some(fitted(text, intake, units).ok()?.understood(intake, units)),
            _ => None,
        }
    }
}

/// A quantity in the units shown, and in the other common one.
fn both_ways(quantity: Quantity, units: UnitSet) -> String {
    let shown = units.show(quantity);
    let other = [UnitSet::Metric, UnitSet::Imperial].map(|set| set.show(quantity));
    let other = other.into_iter().find(|other| *other != shown);
    other.map_or_else(|| format!("= {shown}"), |other| format!("= {shown} · {other}"))
}

fn leverage_understood(typed: &TypedLeverage, units: UnitSet) -> String {
    match typed {
        TypedLeverage::Known(LeverageKnowledge::TravelOnly) => String::new(),
        TypedLeverage::Known(LeverageKnowledge::Ends { start, end }) => {
            format!("= from {} to {}", units.show(*start), units.show(*end))
        }
        TypedLeverage::Known(LeverageKnowledge::Measured(pairs)) => {
            phrase::leverage::pairs_understood(pairs, units)
        }
        TypedLeverage::Table { .. } => "= a file of pairs; Enter reads it".to_owned(),
    }
}

/// What a target typed by its middle alone is as wide as.
fn as_wide_as(intake: &Intake) -> Target {
    intake.target.unwrap_or(Target::PLANTED)
}

/// What the scale showed; without a doubt of its own, a kilogram.
fn wheel_load(text: &str, units: UnitSet) -> Result<WheelLoad, Unreadable> {
    let plain = text.replace("+/-", "±").replace("+-", "±");
    let mass = |text: &str| Ok(parse::mass(text, units)?.value);
    let (shown, uncertainty) = match plain.split_once('±') {
        Some((shown, uncertainty)) => (mass(shown)?, mass(uncertainty)?),
        None => (mass(&plain)?, Mass::kg(1.0)),
    };
    Ok(WheelLoad { shown: Estimate::new(shown, uncertainty) })
}

/// "none", a force with its unit, or a pressure in psi or bar and the diameter of the shaft.
fn charge(text: &str, units: UnitSet) -> Result<Charge, Unread> {
    let plain = text.trim().to_lowercase();
    if ["none", "no", "0"].contains(&plain.as_str()) {
        return Ok(Charge::Nothing);
    }
    let number = |text: &str| parse::ratio(text.trim()).map(|ratio| ratio.value.value());
    let kilopascals_of_a_bar = 100.0;
    for (unit, one) in [("psi", Pressure::psi(1.0)), ("bar", Pressure::kilopascals(kilopascals_of_a_bar))] {
        if let Some((figure, rod)) = plain.split_once(unit) {
            let rod = parse::length(rod, units)?.value;
            return Ok(Charge::Pressure { pressure: one * number(figure)?, rod });
        }
    }
    for (unit, one) in [("lbf", Force::pounds_force(1.0)), ("n", Force::newtons(1.0))] {
        if let Some(figure) = plain.strip_suffix(unit) {
            return Ok(Charge::Weighed(one * number(figure)?));
        }
    }
    Ok(Charge::Weighed(parse::mass(&plain, units)?.value.weight()))
}

fn figure(text: &str, field: Figure, units: UnitSet) -> Result<Quantity, Unreadable> {
    let kind = field.limits().least.kind();
    match parse::quantity(text, kind, units)?.value {
        Quantity::Count(count) if u8::try_from(count).is_err() => {
            Err(Unreadable { expected: kind, fault: FigureFault::TooLarge(text.trim().to_owned()) })
        }
        figure => Ok(figure),
    }
}

/// The spring on the bike as it was typed.
enum OnTheBike {
    /// One of the list.
    Listed(SpringNumber),
    /// One that joins the list, or of which the list did not know the stroke; with the list as it is then.
    Changes(SpringNumber, Vec<Spring>),
}

impl OnTheBike {
    fn details(self) -> Vec<Detail> {
        match self {
            Self::Listed(number) => vec![Detail::SpringOnArrival(Some(number))],
            Self::Changes(number, list) => vec![Detail::Springs(list), Detail::SpringOnArrival(Some(number))],
        }
    }

    fn understood(&self, intake: &Intake, units: UnitSet) -> String {
        let (number, list) = match self {
            Self::Listed(number) => (*number, intake.springs.as_slice()),
            Self::Changes(number, list) => (*number, list.as_slice()),
        };
        let stroke = list.iter().find(|spring| spring.number == number).and_then(|spring| spring.stroke);
        let joins = list.len() > intake.springs.len();
        phrase::intake::on_the_bike(&phrase::spring(number, list, units), stroke, joins, units)
    }
}

/// The spring by its number, or by its rate and stroke; one that nobody named before joins the list.
fn fitted(text: &str, intake: &Intake, units: UnitSet) -> Result<OnTheBike, Unread> {
    let list = &intake.springs;
    if let Some(Ok(number)) = text.trim().strip_prefix('#').map(parse::count) {
        let number = SpringNumber(number.value);
        if list.iter().any(|spring| spring.number == number) {
            return Ok(OnTheBike::Listed(number));
        }
        // Behind # a rate may stand as well; what is too small for one is a number.
        let rate = SpringRate::lb_per_in(f64::from(number.0));
        Figure::Rate.check(Quantity::Rate(rate)).map_err(|_| Unread::NoSuchNumber)?;
    }
    if let Ok(mark) = Mark::read(text)
        && let Some(marked) = list.iter().find(|spring| spring.mark() == Some(mark))
    {
        return Ok(OnTheBike::Listed(marked.number));
    }
    let typed = typed_spring::read(text, units).and_then(TypedSpring::only_one);
    let typed = typed.map_err(|fault| Unread::Rack(SpringsFault::Spring(fault)))?;
    // One with a mark is meant by its mark only: a customer's own 450 is not the shop's A3.
    let shown = |spring: &&Spring| {
        spring.marked.is_none()
            && units.show(spring.label) == units.show(typed.rate)
            && spring.end_rate.is_some() == typed.end.is_some()
    };
    let alike: Vec<&Spring> = list.iter().filter(shown).collect();
    if let Some(listed) = alike.iter().find(|spring| typed.is_of(spring.stroke)) {
        return Ok(OnTheBike::Listed(listed.number));
    }
    let mut changed = list.clone();
    if let Some(unknown) = alike.iter().find(|spring| spring.stroke.is_none()) {
        let number = unknown.number;
        changed
            .iter_mut()
            .filter(|spring| spring.number == number)
            .for_each(|spring| spring.stroke = typed.stroke);
        return Ok(OnTheBike::Changes(number, changed));
    }
    let number = free_numbers(list).next().unwrap_or(SpringNumber(u16::MAX));
    changed.push(typed.numbered(number));
    Ok(OnTheBike::Changes(number, changed))
}

fn fitted_text(number: SpringNumber, intake: &Intake, units: UnitSet) -> String {
    let found = intake.springs.iter().find(|spring| spring.number == number);
    if let Some(mark) = found.and_then(Spring::mark) {
        return mark.to_string();
    }
    if let Some(progressive) = found.filter(|spring| spring.end_rate.is_some()) {
        return spring_list::written(std::slice::from_ref(progressive), units);
    }
    let label = found.map(|spring| units.show(spring.label));
    let first = label.as_ref().and_then(|label| {
        let alike = |spring: &&Spring| spring.marked.is_none() && units.show(spring.label) == *label;
        intake.springs.iter().find(alike).map(|spring| spring.number)
    });
    match label {
        Some(label) if first == Some(number) => label,
        _ => format!("#{}", number.0),
    }
}
