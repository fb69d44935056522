//! Assessment of records of growing length, and the fold of the walk.

use chrono::DateTime;
use coilwright::assessment::assess;
use coilwright::assets;
use coilwright::mechanics::{Spring, SpringNumber};
use coilwright::session::{Caution, Deed, Intake, Record, Target, machine};
use coilwright::units::{Length, Mass, SpringRate, Turns};
use criterion::{BenchmarkId, Criterion};

/// A session of so many sets of three readings over a rack of forty springs.
pub(crate) fn session(sets: u16) -> Record {
    let mut record = Record::new(DateTime::default());
    record.intake = Intake {
        rider: Some(Mass::kg(82.0)),
        bike: Some(Mass::kg(15.6)),
        travel: Some(Length::mm(155.0)),
        stroke: Some(Length::mm(62.5)),
        collar_pitch: Some(Length::mm(1.25)),
        turns_limit: Some(Turns::of(2.0)),
        target: Some(Target::PLANTED),
        ruler: Some(Length::mm(0.5)),
        readings_each: Some(3),
        springs: (1..=40).map(spring).collect(),
        spring_on_arrival: Some(SpringNumber(20)),
        ..Intake::default()
    };
    let opening = [Deed::IntakeDone].into_iter().chain(Caution::ALL.map(Deed::CautionSeen));
    for deed in opening.chain([Deed::TrialsOpened { preload_turns: Turns::ZERO }]) {
        does(&mut record, deed);
    }
    for set in 0..sets {
        // Stiffer and softer in turn, as a mechanic who tries the whole rack would.
        let number = 1 + (set * 7) % 40;
        does(&mut record, Deed::CautionSeen(Caution::LoadedSpring));
        does(&mut record, Deed::CautionSeen(Caution::LooseBolts));
        does(&mut record, Deed::Swapped { spring: SpringNumber(number), preload_turns: Turns::ZERO });
        let near = 18.75 * 47.0 / (27.0 + f64::from(number));
        for off in [-0.5, 0.0, 0.5] {
            does(&mut record, Deed::Trial { reading: Length::mm(near + off) });
        }
    }
    record
}

fn spring(number: u16) -> Spring {
    let rate = SpringRate::lb_per_in(275.0 + 10.0 * f64::from(number));
    Spring { stroke: Some(Length::mm(67.0)), ..Spring::labelled(SpringNumber(number), rate) }
}

/// Refused deeds (the spring that is fitted already) are left out.
fn does(record: &mut Record, deed: Deed) {
    let _ = machine::advance(record, DateTime::default(), deed);
}

pub(crate) fn assessing(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("assess, rack of 40 springs");
    for sets in [1, 5, 10, 20, 30] {
        let record = session(sets);
        let state = machine::replay(&record).expect("a legal session");
        let setup = state.setup.as_ref().expect("a complete intake");
        group.bench_function(BenchmarkId::from_parameter(format!("{} sets", state.sets.len())), |bencher| {
            bencher.iter(|| assess(setup, &state, assets::doubts()));
        });
    }
    group.finish();
    let record = session(30);
    criterion.bench_function("fold the walk of 30 sets", |bencher| bencher.iter(|| machine::replay(&record)));
}
