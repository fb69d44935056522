//! Who sets the bikes up: the program's advice, two rules of thumb, and an oracle.

use chrono::DateTime;
use coilwright::assessment::{Advice, Doubts, assess};
use coilwright::session::{Caution, Deed, Record, SpringNumber, State, machine};
use coilwright::units::{SpringRate, Turns};

use crate::world::{Bike, Stand};

/// Swaps after which any mechanic gives up.
const MOST_SWAPS: usize = 6;

/// One way of going about it.
#[derive(Clone, Copy)]
pub(crate) enum Setter {
    /// The program's advice, taken to the landing spring at once.
    Advice,
    /// 50 lb/in, or 25 when within three points; stop when inside the band (common practice, no source).
    TradeRule,
    /// Rate times measured sag over wanted sag, nearest on the rack; stop when inside the band.
    Proportional,
    /// Sees the truth: a swap only where the spring and its collar cannot reach the band, and then the right one.
    Oracle,
}

/// How a setup ended.
pub(crate) struct Outcome {
    pub(crate) swaps: usize,
    pub(crate) readings: usize,
    pub(crate) in_band: bool,
}

impl Setter {
    pub(crate) const ALL: [Self; 4] = [Self::Advice, Self::TradeRule, Self::Proportional, Self::Oracle];

    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Advice => "coilwright",
            Self::TradeRule => "trade's rule 50/25",
            Self::Proportional => "proportional rule",
            Self::Oracle => "oracle",
        }
    }

    pub(crate) fn set_up(self, bike: &Bike, doubts: &Doubts) -> Outcome {
        match self {
            Self::Advice => by_advice(bike, doubts),
            Self::TradeRule => by_rule(bike, |spring, sag| trade_rule(bike, spring, sag)),
            Self::Proportional => by_rule(bike, |spring, sag| proportional(bike, spring, sag)),
            Self::Oracle => oracle(bike),
        }
    }
}

/// The session as the program keeps it, worked by a mechanic who does what the advice says.
pub(crate) struct Bench<'a> {
    bike: &'a Bike,
    stand: Stand<'a>,
    record: Record,
    pub(crate) state: State,
    pub(crate) readings: usize,
}

impl<'a> Bench<'a> {
    pub(crate) fn opened(bike: &'a Bike) -> Self {
        let mut record = Record::new(DateTime::default());
        record.intake = bike.intake();
        let state = machine::replay(&record).expect("an empty walk");
        let mut bench = Self { bike, stand: bike.on_the_stand(), record, state, readings: 0 };
        bench.does(Deed::IntakeDone);
        for caution in Caution::ALL {
            bench.does(Deed::CautionSeen(caution));
        }
        bench.does(Deed::TrialsOpened { preload_turns: Turns::ZERO });
        bench.stand.new_set();
        bench
    }

    fn does(&mut self, deed: Deed) {
        self.state = machine::advance(&mut self.record, DateTime::default(), deed).expect("a legal deed");
    }

    fn fitted(&self) -> SpringNumber {
        self.state.on_bike.fitted.expect("a spring is fitted")
    }

    pub(crate) fn preload_turns(&self) -> Turns {
        self.state.present_set().map_or(Turns::ZERO, |set| set.preload_turns)
    }

    pub(crate) fn reads(&mut self) {
        let moved = self.stand.read(self.fitted(), self.preload_turns());
        self.readings += 1;
        self.does(Deed::Trial { reading: moved });
    }

    fn trims(&mut self, to: Turns) {
        self.does(Deed::PreloadSet { preload_turns: to });
        self.stand.new_set();
    }

    fn fits(&mut self, spring: SpringNumber) {
        self.does(Deed::CautionSeen(Caution::LoadedSpring));
        self.does(Deed::CautionSeen(Caution::LooseBolts));
        self.does(Deed::Swapped { spring, preload_turns: Turns::ZERO });
        self.stand.mounted_anew();
        self.stand.new_set();
    }

    pub(crate) fn true_sag(&self) -> f64 {
        self.bike.true_sag(self.fitted(), self.stand.true_preload(self.preload_turns()))
    }

    fn ended(&self) -> Outcome {
        Outcome {
            swaps: usize::from(self.state.on_bike.swaps),
            readings: self.readings,
            in_band: self.bike.in_band(self.true_sag()),
        }
    }
}

fn by_advice(bike: &Bike, doubts: &Doubts) -> Outcome {
    let mut bench = Bench::opened(bike);
    for _ in 0..80 {
        match assess(&bike.setup, &bench.state, doubts).advice {
            Advice::TakeReadings { .. } | Advice::Check { .. } | Advice::ReadAgain { .. } => bench.reads(),
            Advice::SetPreload(plan) => bench.trims(plan.to),
            Advice::Swap { best_match: next, .. } | Advice::NothingOnTheList { nearest: Some(next), .. }
                if usize::from(bench.state.on_bike.swaps) < MOST_SWAPS =>
            {
                bench.fits(next);
            }
            _ => break,
        }
    }
    bench.ended()
}

/// Three readings, their mean, and a rule that names the next spring or is content.
fn by_rule(bike: &Bike, next: impl Fn(SpringNumber, f64) -> Option<SpringNumber>) -> Outcome {
    let mut stand = bike.on_the_stand();
    let (mut spring, mut swaps, mut readings) = (bike.fitted, 0, 0);
    loop {
        stand.new_set();
        let total: f64 = (0..3).map(|_| stand.read(spring, Turns::ZERO).as_mm()).sum();
        readings += 3;
        let sag = 100.0 * total / 3.0 / bike.setup.shock.stroke.as_mm();
        match next(spring, sag).filter(|_| swaps < MOST_SWAPS) {
            Some(other) => {
                spring = other;
                swaps += 1;
                stand.mounted_anew();
            }
            None => break,
        }
    }
    let sag = bike.true_sag(spring, stand.true_preload(Turns::ZERO));
    Outcome { swaps, readings, in_band: bike.in_band(sag) }
}

fn trade_rule(bike: &Bike, spring: SpringNumber, sag: f64) -> Option<SpringNumber> {
    let off = sag - bike.setup.target.sag.as_percent();
    if bike.in_band(sag) {
        return None;
    }
    let size = if off.abs() <= 3.0 { 25.0 } else { 50.0 };
    nearest(bike, spring, bike.setup.spring(spring)?.label + SpringRate::lb_per_in(size * off.signum()))
}

fn proportional(bike: &Bike, spring: SpringNumber, sag: f64) -> Option<SpringNumber> {
    if bike.in_band(sag) {
        return None;
    }
    nearest(bike, spring, bike.setup.spring(spring)?.label * (sag / bike.setup.target.sag.as_percent()))
}

/// The spring on the rack nearest to a rate; none where that is the one on the bike.
fn nearest(bike: &Bike, fitted: SpringNumber, rate: SpringRate) -> Option<SpringNumber> {
    let distance = |other: SpringRate| (other - rate).abs().value();
    let springs = bike.setup.springs.iter();
    let nearest = springs.min_by(|one, other| distance(one.label).total_cmp(&distance(other.label)))?;
    (nearest.number != fitted).then_some(nearest.number)
}

fn oracle(bike: &Bike) -> Outcome {
    if bike.reaches_band(bike.fitted) {
        return Outcome { swaps: 0, readings: 0, in_band: true };
    }
    let able = bike.can_be_set_up();
    Outcome { swaps: usize::from(able), readings: 0, in_band: able }
}
