//! Belief and decision against a scalar reference of the same model, written apart from this program.
//!
//! `decision/vectors.json` holds sixty invented sessions with the reference's answers: the rest at every turn allowed, its
//! doubt and chance, the worth of stopping, swapping and reading in minutes, and what is done. Computed, not published: a
//! cross-check of code, held to a millionth of a millimetre and a thousandth of a minute. The reference reckons two minutes
//! for a turn of preload where the program asks more, so that price is handed in.

use std::collections::BTreeMap;

use chrono::DateTime;
use coilwright::assessment::choice::NextMove;
use coilwright::assessment::{Assessment, Doubts, Prices, assess};
use coilwright::assets;
use coilwright::mechanics::{Spring, SpringNumber};
use coilwright::session::{Caution, Deed, Indicator, Intake, Posture, Record, State, Target, machine};
use coilwright::units::{Length, Mass, Minutes, Share, SpringRate, Turns};
use serde::Deserialize;
use serde_json::Value;

#[derive(Deserialize)]
struct Vector {
    bike: Bike,
    sets: Vec<Set>,
    action: String,
    argument: Value,
    figures: Figures,
}

#[derive(Deserialize)]
struct Bike {
    rider: f64,
    #[serde(rename = "bike")]
    weight: f64,
    stroke: f64,
    travel: f64,
    pitch: f64,
    #[serde(rename = "aim")]
    target: f64,
    half: f64,
    #[serde(rename = "turns_allowed")]
    turns_limit: f64,
    pushed: bool,
    rack: BTreeMap<u16, f64>,
    spring_stroke: BTreeMap<u16, f64>,
}

#[derive(Deserialize)]
struct Set {
    spring: u16,
    mount: u16,
    turns: f64,
    y: Vec<f64>,
}

/// Under the turns: the rest in millimetres, its doubt, the chance, the degrees of freedom. Under the springs: the same two
/// and the worth of fitting.
#[derive(Deserialize)]
struct Figures {
    stop: f64,
    swap: f64,
    read: f64,
    best: u16,
    #[serde(rename = "F")]
    turns: BTreeMap<String, [f64; 4]>,
    load: f64,
    gas: f64,
    falloff: f64,
    ring: f64,
    scatter: f64,
    others: BTreeMap<u16, [f64; 3]>,
}

impl Bike {
    fn intake(&self, fitted: u16) -> Intake {
        let spring = |(number, rate): (&u16, &f64)| Spring {
            stroke: Some(Length::mm(self.spring_stroke[number])),
            ..Spring::labelled(SpringNumber(*number), SpringRate::n_per_mm(*rate))
        };
        Intake {
            rider: Some(Mass::kg(self.rider)),
            bike: Some(Mass::kg(self.weight)),
            travel: Some(Length::mm(self.travel)),
            stroke: Some(Length::mm(self.stroke)),
            collar_pitch: Some(Length::mm(self.pitch)),
            turns_limit: Some(Turns::of(self.turns_limit)),
            target: Some(Target { sag: Share::fraction(self.target), tolerance: Share::fraction(self.half) }),
            ruler: Some(Length::mm(0.5)),
            readings_each: Some(2),
            springs: self.rack.iter().map(spring).collect(),
            spring_on_arrival: Some(SpringNumber(fitted)),
            ..Intake::default()
        }
    }
}

impl Vector {
    /// The session as it would have been gone through.
    fn state(&self) -> State {
        let first = &self.sets[0];
        let mut record = Record::new(DateTime::default());
        record.intake = self.bike.intake(first.spring);
        let indicator = if self.bike.pushed { Indicator::Pushed } else { Indicator::Kept };
        let mut deeds = vec![Deed::IntakeDone];
        deeds.extend(Caution::ALL.map(Deed::CautionSeen));
        deeds.push(Deed::ReadHow { indicator, posture: Posture::Seated });
        deeds.push(Deed::TrialsOpened { preload_turns: Turns::of(first.turns) });
        for (place, set) in self.sets.iter().enumerate() {
            let before = place.checked_sub(1).map(|before| &self.sets[before]);
            let preload_turns = Turns::of(set.turns);
            match before {
                Some(before) if before.mount != set.mount => {
                    let seen = [Caution::LoadedSpring, Caution::LooseBolts].map(Deed::CautionSeen);
                    deeds.extend(seen);
                    deeds.push(Deed::Swapped { spring: SpringNumber(set.spring), preload_turns });
                }
                Some(_) => deeds.push(Deed::PreloadSet { preload_turns }),
                None => {}
            }
            deeds.extend(set.y.iter().map(|moved| Deed::Trial { reading: Length::mm(*moved) }));
        }
        for deed in deeds {
            machine::advance(&mut record, DateTime::default(), deed).expect("a legal deed");
        }
        machine::replay(&record).expect("a legal walk")
    }

    fn assessed(&self) -> Assessment {
        let state = self.state();
        let table = *assets::doubts();
        let prices = Prices { preload: Minutes::of(2.0), ..table.prices };
        assess(state.setup.as_ref().expect("complete"), &state, &Doubts { prices, ..table })
    }

    fn now(&self) -> Turns {
        self.sets.last().map_or(Turns::ZERO, |set| Turns::of(set.turns))
    }
}

fn vectors() -> Vec<Vector> {
    serde_json::from_str(include_str!("decision/vectors.json")).expect("sound vectors")
}

#[track_caller]
fn close(found: f64, expected: f64, within: f64, what: &str) {
    assert!((found - expected).abs() <= within, "{what}: {found} instead of {expected}");
}

#[test]
fn what_is_learned_is_what_the_reference_learns() {
    for (place, vector) in vectors().iter().enumerate() {
        let (found, figures) = (vector.assessed(), &vector.figures);
        let findings = &found.findings;
        let named = |what: &str| format!("session {place}, {what}");
        close(findings.load.value.as_newtons(), figures.load, 1e-5, &named("load"));
        close(findings.gas.value.as_newtons(), figures.gas, 1e-5, &named("gas"));
        close(findings.falloff.value.as_fraction(), figures.falloff, 1e-8, &named("fall-off"));
        close(findings.kept.value.as_mm(), figures.ring, 1e-6, &named("ring"));
        close(findings.scatter.as_mm(), figures.scatter, 1e-7, &named("scatter"));
    }
}

#[test]
fn every_rest_and_its_chance_is_that_of_the_reference() {
    for (place, vector) in vectors().iter().enumerate() {
        let found = vector.assessed();
        let at_turns: Vec<_> = found.weighed.at_turns().collect();
        assert_eq!(at_turns.len(), vector.figures.turns.len(), "session {place}");
        for (turns, used, chance) in at_turns {
            let name = format!("{:?}", turns.value());
            let [mean, doubt, likely, _] = vector.figures.turns[&name];
            close(used.value.as_mm(), mean, 1e-6, &format!("session {place}, rest at {name}"));
            close(used.uncertainty.as_mm(), doubt, 1e-6, &format!("session {place}, doubt at {name}"));
            close(chance.as_fraction(), likely, 1e-6, &format!("session {place}, chance at {name}"));
        }
        for (number, [mean, doubt, worth]) in &vector.figures.others {
            let spring = SpringNumber(*number);
            let forecast = found.forecasts.iter().find(|one| one.spring == spring).expect("on the rack");
            let stroke = vector.bike.stroke;
            close(
                forecast.sag.value.as_fraction() * stroke,
                *mean,
                1e-6,
                &format!("session {place}, {number}"),
            );
            close(
                forecast.sag.uncertainty.as_fraction() * stroke,
                *doubt,
                1e-6,
                &format!("session {place}, u {number}"),
            );
            let found = found.weighed.worth_of_fitting(spring).expect("it fits").value();
            close(found, *worth, 1e-3, &format!("session {place}, worth of {number}"));
        }
    }
}

#[test]
fn every_decision_is_that_of_the_reference() {
    for (place, vector) in vectors().iter().enumerate() {
        let weighed = vector.assessed().weighed;
        let minutes = |worth: Option<Minutes>| worth.map_or(-1e9, Minutes::value);
        close(
            minutes(weighed.stop.map(|(_, worth)| worth)),
            vector.figures.stop,
            1e-3,
            &format!("session {place}, stop"),
        );
        close(
            minutes(weighed.swap.map(|(_, worth)| worth)),
            vector.figures.swap,
            1e-3,
            &format!("session {place}, swap"),
        );
        close(minutes(weighed.read), vector.figures.read, 1e-3, &format!("session {place}, read"));
        assert_eq!(weighed.swap.map(|(spring, _)| spring.0), Some(vector.figures.best), "session {place}");
        let (name, argument) = match weighed.next_move(vector.now()) {
            NextMove::Read => ("read", Value::Null),
            NextMove::Keep => ("keep", Value::Null),
            NextMove::Swap(spring) => ("swap", spring.0.into()),
            NextMove::Turn(turns) => ("turn", turns.value().into()),
        };
        assert_eq!((name, &argument), (vector.action.as_str(), &vector.argument), "session {place}");
    }
}
