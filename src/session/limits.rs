//! What is possible and what is usual, for every figure a person enters.
//!
//! Impossible is refused; unusual is asked about once and then taken. The bounds are common practice, no source: wide
//! enough for a child's bike and a motor-assisted one, narrow enough to catch a slipped decimal or a wrong unit.

use super::earlier::{Earlier, EarlierGas};
use super::intake::{
    Charge, Detail, Fact, Intake, LeverageKnowledge, LeveragePair, Shape, Spring, Target, Value,
};
use super::refusal::{PairsFault, Refusal};
use super::shop_rack::mark_twice;
use crate::units::{Estimate, Force, Length, LeverageRatio, Mass, Quantity, Share, SpringRate, Turns};

macro_rules! figures {
    ($($(#[$doc:meta])* $Figure:ident: $unit:ident [$least:expr, $usual_least:expr, $usual_most:expr, $most:expr], $name:literal;)*) => {
        /// A figure with limits.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum Figure { $($(#[$doc])* $Figure),* }

        impl Figure {
            /// What it is called, in small letters.
            pub const fn name(self) -> &'static str {
                match self { $(Self::$Figure => $name),* }
            }

            /// Its bounds.
            pub const fn limits(self) -> Limits {
                match self {
                    $(Self::$Figure => Limits {
                        least: $unit($least), usual_least: $unit($usual_least), usual_most: $unit($usual_most), most: $unit($most),
                    }),*
                }
            }
        }
    };
}

const fn mm(value: f64) -> Quantity {
    Quantity::Length(Length::mm(value))
}
const fn kg(value: f64) -> Quantity {
    Quantity::Mass(Mass::kg(value))
}
const fn lb_in(value: f64) -> Quantity {
    Quantity::Rate(SpringRate::lb_per_in(value))
}
const fn turns(value: f64) -> Quantity {
    Quantity::Turns(Turns::of(value))
}
const fn percent(value: f64) -> Quantity {
    Quantity::Share(Share::percent(value))
}
const fn ratio(value: f64) -> Quantity {
    Quantity::Ratio(LeverageRatio::ratio(value))
}
const fn count(value: u16) -> Quantity {
    Quantity::Count(value)
}

figures! {
    /// Rider ready to ride.
    Rider: kg [20.0, 40.0, 130.0, 250.0], "rider";
    /// Bike alone.
    Bike: kg [5.0, 11.0, 30.0, 80.0], "bike";
    /// Scale under the rear wheel.
    WheelLoad: kg [10.0, 35.0, 130.0, 300.0], "scale under the rear wheel";
    /// Mass at the rear that does not rest on the spring.
    Unsprung: kg [1.0, 2.5, 12.0, 25.0], "wheel and half the swingarm";
    /// Saddle behind the bottom bracket.
    SaddleBehind: mm [-100.0, 80.0, 320.0, 500.0], "saddle behind bottom bracket";
    /// Shaft of the damper.
    Rod: mm [4.0, 8.0, 16.0, 30.0], "diameter of the damper shaft";
    /// Rear wheel travel.
    Travel: mm [50.0, 100.0, 220.0, 350.0], "rear wheel travel";
    /// Shock stroke.
    Stroke: mm [20.0, 37.0, 80.0, 120.0], "shock stroke";
    /// Travel over stroke.
    MeanLeverage: ratio [1.0, 1.9, 3.4, 6.0], "travel over stroke";
    /// Ratio at the start or end of the travel.
    LeverageEnd: ratio [0.8, 1.6, 4.0, 8.0], "leverage ratio at start or end";
    /// Collar pitch.
    CollarPitch: mm [0.4, 0.75, 2.0, 4.0], "collar thread pitch";
    /// Turns allowed past contact.
    TurnsLimit: turns [0.0, 0.5, 5.0, 20.0], "collar turns allowed";
    /// Turns past contact as they stand.
    PreloadTurns: turns [0.0, 0.0, 3.0, 25.0], "turns of preload";
    /// Shock body diameter.
    BodyDiameter: mm [20.0, 30.0, 45.0, 90.0], "shock body diameter";
    /// From axle to axle.
    Wheelbase: mm [700.0, 1_050.0, 1_400.0, 1_800.0], "wheelbase";
    /// From rear axle to bottom bracket.
    RearCentre: mm [280.0, 390.0, 500.0, 650.0], "rear centre";
    /// Sag aimed at.
    TargetSag: percent [8.0, 20.0, 38.0, 50.0], "target sag";
    /// Half-width of the band.
    Tolerance: percent [0.3, 1.0, 3.0, 6.0], "room to either side of the target sag";
    /// Ruler's resolution.
    Ruler: mm [0.01, 0.1, 1.0, 5.0], "finest mark of the ruler";
    /// Readings a set.
    ReadingsEach: count [1, 1, 5, 12], "readings with one spring";
    /// Spring rate.
    Rate: lb_in [50.0, 175.0, 800.0, 2_000.0], "spring rate";
    /// Labelled stroke of a spring.
    SpringStroke: mm [20.0, 37.0, 95.0, 150.0], "spring stroke";
    /// Inner diameter of a spring.
    SpringBore: mm [20.0, 30.0, 50.0, 90.0], "spring inner diameter";
    /// Free length of a spring.
    SpringLength: mm [50.0, 80.0, 220.0, 400.0], "spring free length";
    /// How far the indicator moved.
    Reading: mm [0.1, 3.0, 40.0, 120.0], "seated reading";
    /// Where the bumper begins, before the end of the stroke.
    Bumper: mm [1.0, 4.0, 25.0, 60.0], "bumper";
    /// Fork sag along the legs.
    ForkSag: mm [1.0, 15.0, 70.0, 200.0], "fork sag";
    /// Share of the seated rider on the rear wheel, as an earlier session found it.
    RiderShare: percent [30.0, 55.0, 80.0, 100.0], "share of the rider on the rear wheel";
    /// Rate of a marked spring as a part of its label, as past sessions found it.
    LearnedRate: percent [50.0, 85.0, 115.0, 200.0], "rate found, as a part of the label";
    /// Fall-off of the leverage ratio, as an earlier session found it.
    Falloff: percent [-100.0, -15.0, 50.0, 150.0], "fall-off of the leverage ratio";
}

/// The bounds of a figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Less is impossible.
    pub least: Quantity,
    /// More is impossible.
    pub most: Quantity,
    /// Less is unusual.
    pub usual_least: Quantity,
    /// More is unusual.
    pub usual_most: Quantity,
}

impl Figure {
    /// Whether the figure is possible.
    ///
    /// # Errors
    /// [`Refusal::Outside`] with the bounds.
    pub fn check(self, entered: Quantity) -> Result<(), Refusal> {
        let Limits { least, most, .. } = self.limits();
        if entered.value() >= least.value() && entered.value() <= most.value() {
            Ok(())
        } else {
            Err(Refusal::Outside { field: self, entered, least, most })
        }
    }

    /// Whether the figure, though possible, is one to ask about.
    pub fn is_unusual(self, entered: Quantity) -> bool {
        let Limits { usual_least, usual_most, .. } = self.limits();
        entered.value() < usual_least.value() || entered.value() > usual_most.value()
    }
}

/// Whether the indicator can have moved that far on a shock of this stroke.
///
/// # Errors
/// [`Refusal::BeyondStroke`], or [`Refusal::Outside`] with the stroke for the most.
pub fn check_reading(reading: Length, stroke: Length) -> Result<(), Refusal> {
    if reading > stroke {
        return Err(Refusal::BeyondStroke { reading, stroke });
    }
    let (field, entered, most) = (Figure::Reading, Quantity::Length(reading), Quantity::Length(stroke));
    let least = field.limits().least;
    field.check(entered).map_err(|_| Refusal::Outside { field, entered, least, most })
}

/// The most springs a rack may hold and the most pairs a leverage curve may have.
pub const MOST_SPRINGS: usize = 500;
/// The most measured pairs of a leverage curve.
pub const MOST_PAIRS: usize = 500;

/// Whether everything told is possible, alone and together.
pub(super) fn check(intake: &Intake) -> Result<(), Refusal> {
    for (field, entered) in figures(intake) {
        field.check(entered)?;
    }
    if let Some(load) = intake.wheel_load {
        check_uncertainty(Figure::WheelLoad, load.shown, Quantity::Mass)?;
    }
    if let Some(earlier) = intake.earlier {
        check_earlier(&earlier)?;
    }
    check_charge(intake.charge)?;
    for rate in intake.springs.iter().filter_map(|spring| spring.measured) {
        check_uncertainty(Figure::Rate, rate, Quantity::Rate)?;
    }
    if let (Some(travel), Some(stroke)) = (intake.travel, intake.stroke) {
        if stroke > travel {
            return Err(Refusal::StrokeBeyondTravel { stroke, travel });
        }
        Figure::MeanLeverage.check(Quantity::Ratio(LeverageRatio::ratio(travel / stroke)))?;
        check_leverage(&intake.leverage, travel, stroke)?;
    }
    for learned in intake.springs.iter().filter_map(Spring::learned) {
        Figure::LearnedRate.check(Quantity::Share(learned.ratio.value))?;
        check_doubt(Figure::LearnedRate, learned.ratio.uncertainty)?;
    }
    check_springs(&intake.springs)?;
    match intake.spring_on_arrival {
        Some(number) if !intake.springs.iter().any(|spring| spring.number == number) => {
            Err(Refusal::NoSuchSpring(number))
        }
        _ => Ok(()),
    }
}

/// Whether an earlier session can have taught this: doubts above zero, a correlation that is one.
fn check_earlier(earlier: &Earlier) -> Result<(), Refusal> {
    for (field, known) in [(Figure::RiderShare, earlier.rider_share), (Figure::Falloff, earlier.falloff)] {
        field.check(Quantity::Share(known.value))?;
        check_doubt(field, known.uncertainty)?;
    }
    if let Some(gas) = earlier.gas {
        check_earlier_gas(&gas)?;
    }
    let (entered, whole) = (earlier.correlation, Share::fraction(1.0));
    if entered.abs() > whole {
        let [entered, least, most] = [entered, -whole, whole].map(Quantity::Share);
        return Err(Refusal::Outside { field: Figure::Falloff, entered, least, most });
    }
    Ok(())
}

/// Whether something learned is known that well: never exactly.
fn check_doubt(field: Figure, doubt: Share) -> Result<(), Refusal> {
    let (least, most) = (Share::percent(0.01), Share::percent(100.0));
    if doubt >= least && doubt <= most {
        return Ok(());
    }
    let [entered, least, most] = [doubt, least, most].map(Quantity::Share);
    Err(Refusal::Outside { field, entered, least, most })
}

/// The most a charge can push with: beyond it a pressure was typed in another unit, or a force that is none.
pub const MOST_CHARGE: Force = Force::newtons(800.0);

/// Whether a damper can push with that.
fn check_charge(charge: Option<Charge>) -> Result<(), Refusal> {
    let force = match charge {
        None | Some(Charge::Nothing) => return Ok(()),
        Some(Charge::Weighed(force)) => force,
        Some(Charge::Pressure { pressure, rod }) => pressure.on_rod(rod),
    };
    let possible = force >= Force::ZERO && force <= MOST_CHARGE;
    if possible { Ok(()) } else { Err(Refusal::ChargeBeyond { force, most: MOST_CHARGE }) }
}

/// Whether an earlier session can have found that: a force some damper has, give or take its doubt, and that doubt above
/// nothing.
fn check_earlier_gas(gas: &EarlierGas) -> Result<(), Refusal> {
    let Estimate { value, uncertainty } = gas.force;
    let known = uncertainty > Force::ZERO && uncertainty <= MOST_CHARGE;
    let possible = value.abs() <= MOST_CHARGE && known;
    if possible { Ok(()) } else { Err(Refusal::ChargeBeyond { force: value, most: MOST_CHARGE }) }
}

/// Every figure of the intake that has been told, with the field it belongs to.
fn figures(intake: &Intake) -> Vec<(Figure, Quantity)> {
    let entered = Fact::ALL.iter().filter_map(|fact| Some((fact.about().shape, intake.entered(*fact)?)));
    entered
        .flat_map(|(shape, value)| match (shape, value) {
            (Shape::Figure(field), Value::Figure(figure)) => vec![(field, figure)],
            (_, Value::WheelLoad(load)) => vec![(Figure::WheelLoad, Quantity::Mass(load.shown.value))],
            (_, Value::Charge(Charge::Pressure { rod, .. })) => vec![(Figure::Rod, Quantity::Length(rod))],
            (_, Value::Target(target)) => target_figures(target).to_vec(),
            (_, Value::Springs(springs)) => springs.iter().flat_map(spring_figures).collect(),
            _ => Vec::new(),
        })
        .collect()
}

/// Whether an uncertainty lies between nothing and the figure it belongs to.
fn check_uncertainty<Q: Copy + PartialOrd + Default>(
    field: Figure,
    figure: Estimate<Q>,
    quantity: impl Fn(Q) -> Quantity,
) -> Result<(), Refusal> {
    let Estimate { value, uncertainty } = figure;
    if uncertainty >= Q::default() && uncertainty <= value {
        return Ok(());
    }
    let (entered, least, most) = (quantity(uncertainty), quantity(Q::default()), quantity(value));
    Err(Refusal::Outside { field, entered, least, most })
}

fn target_figures(target: Target) -> [(Figure, Quantity); 2] {
    [(Figure::TargetSag, Quantity::Share(target.sag)), (Figure::Tolerance, Quantity::Share(target.tolerance))]
}

/// Every figure told about a spring, with the field it belongs to.
pub fn spring_figures(spring: &Spring) -> Vec<(Figure, Quantity)> {
    let mut figures = vec![(Figure::Rate, Quantity::Rate(spring.label))];
    figures.extend(spring.measured.map(|rate| (Figure::Rate, Quantity::Rate(rate.value))));
    figures.extend(spring.end_rate.map(|rate| (Figure::Rate, Quantity::Rate(rate))));
    let lengths = [
        (Figure::SpringStroke, spring.stroke),
        (Figure::SpringBore, spring.bore),
        (Figure::SpringLength, spring.free_length),
    ];
    figures
        .extend(lengths.into_iter().filter_map(|(field, length)| Some((field, Quantity::Length(length?)))));
    figures
}

fn check_springs(springs: &[Spring]) -> Result<(), Refusal> {
    if springs.len() > MOST_SPRINGS {
        return Err(Refusal::RecordFull);
    }
    let mut numbers: Vec<_> = springs.iter().map(|spring| spring.number).collect();
    numbers.sort_unstable();
    if let Some(pair) = numbers.windows(2).find(|pair| pair[0] == pair[1]) {
        return Err(Refusal::SameNumberTwice(pair[0]));
    }
    mark_twice(springs.iter().filter_map(Spring::mark))
        .map_or(Ok(()), |mark| Err(Refusal::SameMarkTwice(mark)))
}

/// Whether what is known of the leverage goes with travel and stroke.
///
/// # Errors
/// With the refusal that the intake would answer with.
pub fn check_leverage(knowledge: &LeverageKnowledge, travel: Length, stroke: Length) -> Result<(), Refusal> {
    match knowledge {
        LeverageKnowledge::TravelOnly => Ok(()),
        LeverageKnowledge::Ends { start, end } => {
            for ratio in [*start, *end] {
                Figure::LeverageEnd.check(Quantity::Ratio(ratio))?;
            }
            // Travel over stroke is the mean ratio, which a straight curve has halfway between its ends; an eighth of the
            // mean is room enough for the belly of any frame (common practice, no source).
            let mean = travel / stroke;
            let halfway = (*start + *end).value() / 2.0;
            if (halfway - mean).abs() <= mean / 8.0 { Ok(()) } else { Err(Refusal::LeverageEndsOff) }
        }
        LeverageKnowledge::Measured(pairs) => {
            check_pairs(pairs, travel, stroke).map_err(Refusal::LeveragePairs)
        }
    }
}

/// Whether measured pairs can be a leverage curve of this travel and stroke.
///
/// # Errors
/// The first fault found, with the number of the pair at fault.
pub fn check_pairs(pairs: &[LeveragePair], travel: Length, stroke: Length) -> Result<(), PairsFault> {
    if pairs.len() > MOST_PAIRS {
        return Err(PairsFault::TooMany);
    }
    if pairs.len() < 4 {
        return Err(PairsFault::TooFew);
    }
    if pairs[0].stroke == Length::ZERO && pairs[0].wheel != Length::ZERO {
        return Err(PairsFault::NotZeroAtStart);
    }
    for (index, pair) in pairs.windows(2).enumerate() {
        if pair[1].stroke <= pair[0].stroke || pair[1].wheel <= pair[0].wheel {
            return Err(PairsFault::NotIncreasing(index + 2));
        }
    }
    let (first, last) = (pairs[0], pairs[pairs.len() - 1]);
    if first.stroke < Length::ZERO || first.wheel < Length::ZERO {
        return Err(PairsFault::NotIncreasing(1));
    }
    let reaches = (last.stroke - stroke).abs() <= stroke * 0.03;
    let ends = (last.wheel - travel).abs() <= travel * 0.03;
    if reaches && ends { Ok(()) } else { Err(PairsFault::EndOffTravel) }
}

/// The first figure of a detail that is possible but unusual, to be asked about once.
pub fn unusual(detail: &Detail, beside: &Intake) -> Option<(Figure, Quantity)> {
    let mut entered = Intake::default();
    entered.enter(detail.clone()).ok()?;
    let mut figures = figures(&entered);
    let travel = entered.travel.or(beside.travel);
    let stroke = entered.stroke.or(beside.stroke);
    if let (Some(travel), Some(stroke)) = (travel, stroke)
        && matches!(detail, Detail::Travel(_) | Detail::Stroke(_))
    {
        figures.push((Figure::MeanLeverage, Quantity::Ratio(LeverageRatio::ratio(travel / stroke))));
    }
    figures.into_iter().find(|(field, entered)| field.is_unusual(*entered))
}
