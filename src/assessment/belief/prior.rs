//! What is known of load, gas, leverage and indicator before any reading.
//!
//! The load comes from the weights and where the saddle stands, a scale under the wheel or an earlier session; the gas from
//! what was told of the charge; the leverage from the grade of knowledge. Not here: what the readings make of it (`learn`).

use crate::assessment::doubts::Doubts;
use crate::assessment::next_visit;
use crate::mechanics::spring::LearnedRate;
use crate::mechanics::{LeverageCurve, Spring};
use crate::session::{Charge, Condition, Fact, FoundSpring, LeverageKnowledge, Setup};
use crate::units::quantity::GRAVITY;
use crate::units::{Estimate, Force, Share, SpringRate};

/// How many unknowns every reading shares.
pub(super) const COMMON: usize = 7;
/// ln of the load in the saddle, in newtons; the places of the others follow.
pub(in crate::assessment) const SEATED: usize = 0;
/// ln of the load standing.
pub(super) const STANDING: usize = 1;
/// Gas force, in newtons.
pub(in crate::assessment) const GAS: usize = 2;
/// Fall-off of the leverage ratio.
pub(in crate::assessment) const FALLOFF: usize = 3;
/// Belly of the leverage curve.
pub(super) const BELLY: usize = 4;
/// How far a dragged indicator stands beyond the rest, in millimetres.
pub(super) const KEPT: usize = 5;
/// The same of one pushed against the seal.
pub(super) const PUSHED: usize = 6;

/// What an earlier session knew together.
pub(super) const TOGETHER: [usize; 3] = [SEATED, FALLOFF, GAS];

/// Gaussian prior of what every reading shares; only what an earlier session knew together hangs together.
pub(super) struct Prior {
    pub(super) means: [f64; COMMON],
    pub(super) variances: [f64; COMMON],
    /// The inverse of the covariance of `TOGETHER`.
    pub(super) together: [[f64; 3]; 3],
}

impl Prior {
    pub(super) fn of(setup: &Setup, doubts: &Doubts) -> Self {
        let [seated, standing] = [load(setup, doubts), standing_load(setup, doubts)];
        let (gas, falloff) = (gas(setup, doubts), falloff(setup, doubts));
        let belly = match setup.leverage {
            LeverageKnowledge::Measured(_) => doubts.leverage.belly_measured,
            LeverageKnowledge::TravelOnly | LeverageKnowledge::Ends { .. } => doubts.leverage.belly,
        };
        let [kept, pushed] = [doubts.reading.ring_kept, doubts.reading.ring_pushed];
        let relative = |load: Estimate<Force>| load.uncertainty / load.value;
        let known = [
            (seated.value.as_newtons().ln(), relative(seated)),
            (standing.value.as_newtons().ln(), relative(standing)),
            (gas.value.as_newtons(), gas.uncertainty.as_newtons()),
            (falloff.value.as_fraction(), falloff.uncertainty.as_fraction()),
            (0.0, belly.as_fraction()),
            (kept.value.as_mm(), kept.uncertainty.as_mm()),
            (pushed.value.as_mm(), pushed.uncertainty.as_mm()),
        ];
        let variances = known.map(|(_, uncertainty)| uncertainty * uncertainty);
        let doubts = TOGETHER.map(|place| known[place].1);
        let together = inverse(covariance(doubts, correlations(setup)));
        Self { means: known.map(|(mean, _)| mean), variances, together }
    }
}

/// Correlations of load and fall-off, load and gas, fall-off and gas. What is told by itself (a scale under the wheel, a
/// leverage curve, a charge) hangs together with nothing.
fn correlations(setup: &Setup) -> [f64; 3] {
    let Some(earlier) = setup.earlier else { return [0.0; 3] };
    let (rider, frame) = (setup.earlier_of_rider().is_some(), setup.earlier_of_frame().is_some());
    let by_earlier = [
        rider && setup.wheel_load.is_none(),
        knows_falloff_by_earlier(setup),
        frame && setup.charge.is_none(),
    ];
    let gas = earlier.gas.map_or([Share::ZERO; 2], |gas| [gas.with_share, gas.with_falloff]);
    let of = |correlation: Share, one: usize, other: usize| {
        let both = by_earlier[one] && by_earlier[other];
        if both { correlation.as_fraction().clamp(-0.99, 0.99) } else { 0.0 }
    };
    [of(earlier.correlation, 0, 1), of(gas[0], 0, 2), of(gas[1], 1, 2)]
}

/// The covariance of three with these doubts. Correlations that no three quantities have are left out.
fn covariance(doubts: [f64; 3], [first, second, third]: [f64; 3]) -> [[f64; 3]; 3] {
    let rest = 1.0 - first * first - second * second - third * third + 2.0 * first * second * third;
    let [first, second, third] = if rest > 1e-6 { [first, second, third] } else { [0.0; 3] };
    let correlation = [[1.0, first, second], [first, 1.0, third], [second, third, 1.0]];
    let entry = |row: usize, column: usize| correlation[row][column] * doubts[row] * doubts[column];
    [0, 1, 2].map(|row| [0, 1, 2].map(|column| entry(row, column)))
}

/// The inverse of a symmetric positive definite matrix, by cofactors.
fn inverse(matrix: [[f64; 3]; 3]) -> [[f64; 3]; 3] {
    let minor = |row: usize, column: usize| {
        let (up, down) = ((row + 1) % 3, (row + 2) % 3);
        let (left, right) = ((column + 1) % 3, (column + 2) % 3);
        matrix[up][left] * matrix[down][right] - matrix[up][right] * matrix[down][left]
    };
    let determinant: f64 = (0..3).map(|column| matrix[0][column] * minor(0, column)).sum();
    [0, 1, 2].map(|row| [0, 1, 2].map(|column| minor(column, row) / determinant))
}

/// The sprung load before any reading: shares of rider and bike, or a scale under the wheel where it was tried.
pub(crate) fn load(setup: &Setup, doubts: &Doubts) -> Estimate<Force> {
    let Some(load) = setup.wheel_load else { return by_weights(setup, rider_share(setup, doubts), doubts) };
    let unsprung = next_visit::unsprung(setup, doubts);
    let uncertainty = load.shown.uncertainty.as_kg().hypot(unsprung.uncertainty.as_kg());
    as_load((load.shown.value - unsprung.value).as_kg(), uncertainty)
}

/// The load of the rider standing on level pedals: the mass over the bottom bracket, where the lengths say where that is.
fn standing_load(setup: &Setup, doubts: &Doubts) -> Estimate<Force> {
    let usual = doubts.load.standing_share;
    let lengths = setup.frame.rear_centre.zip(setup.frame.wheelbase);
    let share = lengths.map_or(usual, |(rear_centre, wheelbase)| {
        Estimate::new(Share::fraction(1.0 - rear_centre / wheelbase), doubts.load.measured_share_doubt)
    });
    by_weights(setup, share, doubts)
}

/// What a condition adds to ln W: the rider's share of what sits on the bike besides, and how far off that may be. One
/// whose weight nobody named may do either.
pub(super) fn shift(condition: &Condition, setup: &Setup, doubts: &Doubts) -> Estimate<Share> {
    let table = &doubts.load;
    let weighed = condition.rider.filter(|_| setup.is_entered(Fact::Rider));
    let Some(rider) = weighed else { return Estimate::new(Share::ZERO, table.condition_unweighed) };
    let more = (rider - setup.rider).weight() * rider_share(setup, doubts).value.as_fraction();
    // Rider and pack together put something on the rear wheel, however light.
    let shift = (more / load(setup, doubts).value).max(-0.9).ln_1p();
    let doubt = table.condition.as_fraction().hypot(table.condition_by_weight.as_fraction() * shift);
    Estimate::new(Share::fraction(shift), Share::fraction(doubt))
}

fn by_weights(setup: &Setup, share: Estimate<Share>, doubts: &Doubts) -> Estimate<Force> {
    let table = &doubts.load;
    let (rider, bike) = (setup.rider.as_kg(), setup.bike.as_kg());
    let (part, uncertainty) = (share.value.as_fraction(), share.uncertainty.as_fraction());
    let mass = part * rider + next_visit::bike_load(setup, doubts).as_mass().as_kg();
    let parts = [
        uncertainty * rider,
        table.bike_share.uncertainty.as_fraction() * bike,
        next_visit::unsprung(setup, doubts).uncertainty.as_kg(),
        part * table.rider_doubt.as_kg(),
        table.bike_share.value.as_fraction() * bike_doubt(setup, doubts),
        if setup.knows_the_load() { 0.0 } else { table.load_unknown.as_fraction() * mass },
    ];
    as_load(mass, parts.iter().map(|part| part * part).sum::<f64>().sqrt())
}

/// How far off the bike's weight may be, in kilograms: not at all where it was entered.
fn bike_doubt(setup: &Setup, doubts: &Doubts) -> f64 {
    if setup.is_entered(Fact::Bike) { 0.0 } else { doubts.load.typical_bike_doubt.as_kg() }
}

/// A scale that shows less than the wheel weighs is a wrong entry; a small load keeps the figures finite.
fn as_load(mass: f64, uncertainty: f64) -> Estimate<Force> {
    Estimate::new(Force::newtons(GRAVITY * mass.max(5.0)), Force::newtons(GRAVITY * uncertainty.max(0.1)))
}

/// Share of the seated rider on the rear wheel: an earlier session's, that of measured lengths, or anybody's.
fn rider_share(setup: &Setup, doubts: &Doubts) -> Estimate<Share> {
    let table = &doubts.load;
    if let Some(earlier) = setup.earlier_of_rider() {
        let (known, drift) = (earlier.rider_share, table.season_drift.as_fraction());
        return Estimate::new(known.value, Share::fraction(known.uncertainty.as_fraction().hypot(drift)));
    }
    let measured = setup.share_by_lengths();
    measured.map_or(table.rider_share, |share| Estimate::new(share, table.measured_share_doubt))
}

/// The gas force before any reading.
fn gas(setup: &Setup, doubts: &Doubts) -> Estimate<Force> {
    match setup.charge {
        None => setup
            .earlier_of_frame()
            .and_then(|earlier| earlier.gas)
            .map_or(doubts.gas.unknown, |gas| gas.force),
        Some(Charge::Nothing) => Estimate::new(Force::ZERO, doubts.gas.none),
        Some(Charge::Weighed(force)) => Estimate::new(force, doubts.gas.entered),
        Some(Charge::Pressure { pressure, rod }) => Estimate::new(pressure.on_rod(rod), doubts.gas.entered),
    }
}

/// The linear fall-off before any reading: by the grade of knowledge, or what an earlier session made of it.
fn falloff(setup: &Setup, doubts: &Doubts) -> Estimate<Share> {
    let table = &doubts.leverage;
    match (setup.earlier_of_frame(), &setup.leverage) {
        (Some(earlier), LeverageKnowledge::TravelOnly) => earlier.falloff,
        (None, LeverageKnowledge::TravelOnly) => table.falloff,
        _ => Estimate::new(curve(setup, doubts).falloff(), table.entered),
    }
}

fn knows_falloff_by_earlier(setup: &Setup) -> bool {
    setup.earlier_of_frame().is_some() && matches!(setup.leverage, LeverageKnowledge::TravelOnly)
}

/// The curve as it is known before any reading.
pub(crate) fn curve(setup: &Setup, doubts: &Doubts) -> LeverageCurve {
    let (travel, stroke) = (setup.travel, setup.shock.stroke);
    let straight = || LeverageCurve::linear(travel, stroke, doubts.leverage.falloff.value);
    match &setup.leverage {
        LeverageKnowledge::TravelOnly => straight(),
        LeverageKnowledge::Ends { start, end } => LeverageCurve::between_ends(travel, stroke, *start, *end),
        LeverageKnowledge::Measured(pairs) => {
            LeverageCurve::measured(travel, stroke, pairs).unwrap_or_else(|_| straight())
        }
    }
}

/// ln(rate) of a spring beside the rate it is reckoned with, which is its label or what somebody measured: nought, give or
/// take how well that is known; of the spring an earlier session left on the bike what that session found, of a marked one what
/// past sessions taught. Where more than one of these is known they are not independent, and the surest one holds.
pub(super) fn label(spring: &Spring, setup: &Setup, doubts: &Doubts) -> Estimate<Share> {
    let known = by_itself(spring, setup, doubts);
    let learned = spring.learned().map(|LearnedRate { ratio, .. }| {
        let beside = spring.label * ratio.value.as_fraction() / spring.rate();
        Estimate::new(Share::fraction(beside.ln()), Share::fraction(ratio.uncertainty / ratio.value))
    });
    learned.filter(|learned| learned.uncertainty < known.uncertainty).unwrap_or(known)
}

/// The same without what past sessions taught of a mark.
fn by_itself(spring: &Spring, setup: &Setup, doubts: &Doubts) -> Estimate<Share> {
    // A measured rate said to be exact would leave nothing to learn; a millionth keeps the system regular.
    let about_nought = |uncertainty: f64| Estimate::new(Share::ZERO, Share::fraction(uncertainty.max(1e-6)));
    if let Some(one) = spring.measured {
        return about_nought(one.uncertainty / one.value);
    }
    let Some(found) = found_earlier(spring, setup) else { return about_nought(doubts.label.as_fraction()) };
    let (ratio, learned) = (found.ratio.value.as_fraction(), found.ratio.uncertainty / found.ratio.value);
    let (least, since) = (doubts.label_least.as_fraction(), doubts.label_a_use.as_fraction());
    let uncertainty = learned.max(least).hypot(since).min(doubts.label.as_fraction());
    Estimate::new(Share::fraction(ratio.ln()), Share::fraction(uncertainty))
}

/// What an earlier session found of a spring: of the one it left on the bike, if that is still the one the bike came with.
fn found_earlier(spring: &Spring, setup: &Setup) -> Option<FoundSpring> {
    let found = setup.earlier?.spring?;
    let same = (found.label - spring.label).abs() < SpringRate::lb_per_in(0.5);
    (same && setup.spring_on_arrival == Some(spring.number)).then_some(found)
}
