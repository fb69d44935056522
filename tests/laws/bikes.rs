//! Random but possible bikes, racks and sessions.

use chrono::DateTime;
use coilwright::mechanics::LeverageCurve;
use coilwright::mechanics::{SeatedBalance, Spring, SpringNumber};
use coilwright::session::{Caution, Deed, Intake, Record, State, Target, machine};
use coilwright::units::{Force, Length, Mass, Share, SpringRate, Turns};
use proptest::prelude::*;

/// A bike, its rider and its rack.
pub(super) fn intake() -> impl Strategy<Value = Intake> {
    let frame = (110.0..200.0f64, 1.9..3.2f64);
    let people = (45.0..125.0f64, 12.0..25.0f64);
    let target = prop_oneof![Just(Target::PLANTED), Just(Target::LIVELY)];
    let springs = proptest::collection::vec((8u16..30, proptest::option::of(40.0..90.0f64)), 1..14);
    (frame, people, target, springs, 0.1..1.5f64).prop_map(
        |((travel, ratio), (rider, bike), target, springs, ruler)| {
            let springs = springs.iter().enumerate().map(|(index, (steps, stroke))| Spring {
                stroke: stroke.map(Length::mm),
                ..Spring::labelled(
                    SpringNumber(u16::try_from(index + 1).expect("a small rack")),
                    SpringRate::lb_per_in(f64::from(*steps) * 25.0),
                )
            });
            Intake {
                rider: Some(Mass::kg(rider)),
                bike: Some(Mass::kg(bike)),
                travel: Some(Length::mm(travel)),
                stroke: Some(Length::mm(travel / ratio)),
                collar_pitch: Some(Length::mm(1.25)),
                turns_limit: Some(Turns::of(2.0)),
                target: Some(target),
                ruler: Some(Length::mm(ruler)),
                readings_each: Some(3),
                springs: springs.collect(),
                spring_on_arrival: Some(SpringNumber(1)),
                ..Intake::default()
            }
        },
    )
}

/// One deed of a session in quick trials, before the rack's springs are known by number.
#[derive(Debug, Clone)]
pub(super) enum Move {
    /// A reading at this share of the stroke.
    Read(f64),
    /// The spring at this place of the rack, counted round.
    Fit(usize),
    /// The collar at this many quarter turns.
    Turn(u8),
}

pub(super) fn moves() -> impl Strategy<Value = Vec<Move>> {
    let one = prop_oneof![
        6 => (0.05..0.9f64).prop_map(Move::Read),
        1 => (0usize..14).prop_map(Move::Fit),
        1 => (0u8..9).prop_map(Move::Turn),
    ];
    proptest::collection::vec(one, 0..25)
}

/// The record of a session; moves the walk refuses are left out.
pub(super) fn played(intake: &Intake, moves: &[Move]) -> (Record, State) {
    let mut record = Record::new(DateTime::default());
    record.intake = intake.clone();
    let mut state = machine::replay(&record).expect("an empty walk");
    let opening = [Deed::IntakeDone]
        .into_iter()
        .chain(Caution::ALL.map(Deed::CautionSeen))
        .chain([Deed::TrialsOpened { preload_turns: Turns::ZERO }]);
    for deed in opening.chain(moves.iter().flat_map(|step| deeds(step, intake))) {
        if let Ok(next) = machine::advance(&mut record, DateTime::default(), deed) {
            state = next;
        }
    }
    (record, state)
}

fn deeds(step: &Move, intake: &Intake) -> Vec<Deed> {
    let stroke = intake.stroke.expect("told");
    match step {
        Move::Read(share) => vec![Deed::Trial { reading: stroke * *share }],
        Move::Fit(place) => {
            let cautions = [Caution::LoadedSpring, Caution::LooseBolts, Caution::SpringBinds];
            let spring = intake.springs[place % intake.springs.len()].number;
            let fit = Deed::Swapped { spring, preload_turns: Turns::ZERO };
            cautions.into_iter().map(Deed::CautionSeen).chain([fit]).collect()
        }
        Move::Turn(quarters) => {
            vec![Deed::PreloadSet { preload_turns: Turns::of(f64::from(*quarters) / 4.0) }]
        }
    }
}

/// One rider at rest.
#[derive(Debug, Clone)]
pub(super) struct Seat {
    pub(super) load: f64,
    pub(super) rate: f64,
    pub(super) preload: f64,
    pub(super) curve: LeverageCurve,
}

impl Seat {
    pub(super) fn balance(&self) -> SeatedBalance<'_> {
        SeatedBalance::of(
            Force::newtons(self.load),
            SpringRate::n_per_mm(self.rate),
            Length::mm(self.preload),
            &self.curve,
        )
    }

    pub(super) fn used(&self) -> f64 {
        self.balance().stroke_used().as_mm()
    }
}

/// A seat that rests inside the stroke for most draws.
pub(super) fn seat() -> impl Strategy<Value = Seat> {
    (110.0..200.0f64, 1.9..3.2f64, -0.1..0.45f64, 350.0..900.0f64, 40.0..130.0f64, 0.0..3.0f64).prop_map(
        |(travel, ratio, falloff, load, rate, preload)| Seat {
            load,
            rate,
            preload,
            curve: LeverageCurve::linear(
                Length::mm(travel),
                Length::mm(travel / ratio),
                Share::fraction(falloff),
            ),
        },
    )
}
