//! The demo sessions: an invented workshop, its figures from the study's physical model with scatter.
//!
//! `cargo bench --bench study -- --demos sessions` writes them anew. Riders, bikes and springs are made up; each file
//! says so in its first line and in its notes.

use std::path::Path;

use anyhow::Context;
use chrono::{DateTime, FixedOffset, TimeDelta};
use coilwright::archive::form::{self, Unknown};
use coilwright::archive::{Revision, SessionName, seal};
use coilwright::assessment::{Advice, Suspect, assess};
use coilwright::assets;
use coilwright::mechanics::{Shock, Spring, SpringNumber};
use coilwright::session::{
    Awaiting, Bottoming, Caution, Check, Decision, Deed, Feel, FrameLengths, KerbReturn, LeverageKnowledge,
    Origin, Record, RideHeight, Setup, State, Target, TickAnswer, TrailReport, machine,
};
use coilwright::text::FreeText;
use coilwright::units::{Length, Mass, SpringRate, Turns};

use crate::stand::Stand;
use crate::world::{Bike, Truth};
use coilwright::session::Indicator;

/// One demo session, as it is told.
struct Story {
    opened: &'static str,
    random: u32,
    customer: &'static str,
    notes: &'static str,
    bike_name: &'static str,
    bike: Bike,
    /// Where the mechanic goes when a swap is advised.
    taste: Taste,
    /// What goes wrong in the first set.
    mishap: Mishap,
    /// Where the story ends, if not at its close.
    left_at: Option<Awaiting>,
    trail: TrailReport,
}

/// Step by step, or to the landing spring at once.
#[derive(Clone, Copy, PartialEq)]
enum Taste {
    StepByStep,
    AtOnce,
}

/// What goes wrong at the bike.
#[derive(Clone, Copy, PartialEq)]
enum Mishap {
    Nothing,
    /// The second reading of all is bounced.
    Bounce,
}

/// Writes every demo session into the folder.
pub(crate) fn write_all(folder: &Path) -> anyhow::Result<()> {
    for story in [heavy_rider()?, light_rider()?, disagreeing_rider()?, first_visit()?, second_visit()?] {
        let (record, name) = played(&story)?;
        let text = form::write(&record, &Unknown::default())?;
        let body =
            format!("// An invented workshop, rider and bike: a demonstration, not a real session.\n{text}");
        let revision = Revision::new(u64::try_from(record.entries.len())?);
        let path = folder.join(name.record());
        std::fs::write(&path, seal::seal(&body, revision)).with_context(|| path.display().to_string())?;
        println!("{}", path.display());
    }
    Ok(())
}

fn shock(stroke: f64, pitch: f64) -> Shock {
    Shock {
        stroke: Length::mm(stroke),
        collar_pitch: Length::mm(pitch),
        turns_limit: Turns::of(2.0),
        body_diameter: None,
    }
}

fn springs(rates: &[u16], stroke: f64) -> Vec<Spring> {
    let numbered = rates.iter().zip(1u16..);
    numbered
        .map(|(rate, number)| Spring {
            stroke: Some(Length::mm(stroke)),
            ..Spring::labelled(SpringNumber(number), SpringRate::lb_per_in(f64::from(*rate)))
        })
        .collect()
}

fn setup(rider: f64, bike: f64, travel: f64, shock: Shock, target: Target, springs: Vec<Spring>) -> Setup {
    Setup {
        rider: Mass::kg(rider),
        bike: Mass::kg(bike),
        wheel_load: None,
        earlier: None,
        spring_on_arrival: None,
        unsprung: None,
        charge: None,
        saddle_behind: None,
        travel: Length::mm(travel),
        leverage: LeverageKnowledge::TravelOnly,
        shock,
        frame: FrameLengths::default(),
        target,
        ruler: Length::mm(0.5),
        readings_each: 3,
        springs,
        typical: Vec::new(),
    }
}

/// Truth about a setup: rear share of the rider, fall-off and belly of the ratio, how far each label lies.
fn truth(setup: &Setup, rider_share: f64, falloff: f64, belly: f64, labels: &[f64]) -> Truth {
    let rates = setup.springs.iter().zip(labels.iter().cycle());
    Truth {
        load: 9.806_65 * (rider_share * setup.rider.as_kg() + 0.5 * setup.bike.as_kg() - 4.2),
        squat: 0.0,
        gas: 100.0,
        mean_ratio: setup.travel / setup.shock.stroke,
        falloff,
        belly,
        rates: rates.map(|(spring, off)| spring.label.as_n_per_mm() * (1.0 + off)).collect(),
        friction: 30.0,
        scatter: 0.6,
        posture: 0.012,
        overshoot: 0.3,
        slips: 0.0,
    }
}

fn trail(bottoming: Bottoming, ride_height: RideHeight, feel: Feel, note: &str) -> TrailReport {
    TrailReport { bottoming, ride_height, feel, note: FreeText::new(note) }
}

const LABELS: [f64; 5] = [0.018, -0.012, 0.021, -0.026, 0.009];

fn heavy_rider() -> anyhow::Result<Story> {
    let springs = springs(&[450, 475, 500, 525, 550, 575, 600, 650], 67.0);
    let setup = setup(98.0, 16.8, 155.0, shock(62.5, 1.25), Target::PLANTED, springs);
    let truth = truth(&setup, 0.67, 0.25, 0.1, &LABELS);
    let fitted = number_of(&setup, 650.0)?;
    Ok(Story {
        opened: "2026-03-14T10:05:00+01:00",
        random: 0x3f_9a2c,
        customer: "Invented rider A",
        notes: "Invented workshop. Came in with the stiffest spring of the shop and too little sag.",
        bike_name: "enduro bike, green",
        bike: Bike::invented(setup, fitted, truth, 11),
        taste: Taste::StepByStep,
        mishap: Mishap::Nothing,
        left_at: None,
        trail: trail(Bottoming::NowAndThen, RideHeight::Right, Feel::Right, "two laps, one big landing"),
    })
}

fn light_rider() -> anyhow::Result<Story> {
    let springs = springs(&[375, 400, 425, 450, 475, 500], 60.0);
    let setup = setup(46.0, 14.2, 150.0, shock(57.5, 1.25), Target::PLANTED, springs);
    let truth = truth(&setup, 0.68, 0.2, -0.05, &LABELS);
    let fitted = number_of(&setup, 425.0)?;
    Ok(Story {
        opened: "2026-04-02T16:40:00+02:00",
        random: 0x81_d0b7,
        customer: "Invented rider B",
        notes: "Invented workshop. Light rider; the softest spring at hand may not be soft enough.",
        bike_name: "trail bike, small frame",
        bike: Bike::invented(setup, fitted, truth, 23),
        taste: Taste::AtOnce,
        mishap: Mishap::Nothing,
        left_at: Some(Awaiting::Decision),
        trail: trail(Bottoming::Never, RideHeight::High, Feel::Dull, ""),
    })
}

fn disagreeing_rider() -> anyhow::Result<Story> {
    let springs = springs(&[400, 425, 450, 475, 500, 525, 550], 65.0);
    let setup = setup(79.0, 15.9, 155.0, shock(60.0, 1.5), Target::PLANTED, springs);
    let truth = truth(&setup, 0.7, 0.3, 0.0, &LABELS);
    let fitted = number_of(&setup, 450.0)?;
    Ok(Story {
        opened: "2026-05-23T09:15:00+02:00",
        random: 0x5c_117e,
        customer: "Invented rider C",
        notes: "Invented workshop. Dropped in once; that reading was voided and taken again.",
        bike_name: "park bike on loan",
        bike: Bike::invented(setup, fitted, truth, 40),
        taste: Taste::AtOnce,
        mishap: Mishap::Bounce,
        left_at: None,
        trail: trail(Bottoming::Never, RideHeight::Right, Feel::Right, ""),
    })
}

fn returning(rider: f64, fitted: f64, target: Target, seed: u64) -> anyhow::Result<Bike> {
    let springs = springs(&[350, 375, 400, 425, 450, 475, 500], 62.0);
    let setup = setup(rider, 14.9, 145.0, shock(57.5, 1.0), target, springs);
    let truth = truth(&setup, 0.665, 0.18, 0.08, &LABELS);
    let fitted = number_of(&setup, fitted)?;
    Ok(Bike::invented(setup, fitted, truth, seed))
}

fn first_visit() -> anyhow::Result<Story> {
    Ok(Story {
        opened: "2025-09-20T14:20:00+02:00",
        random: 0xa2_40f6,
        customer: "Invented rider D",
        notes: "Invented workshop. First visit.",
        bike_name: "all-mountain bike, blue",
        bike: returning(74.0, 475.0, Target::PLANTED, 41)?,
        taste: Taste::AtOnce,
        mishap: Mishap::Nothing,
        left_at: None,
        trail: trail(Bottoming::Never, RideHeight::Right, Feel::Right, "fine everywhere"),
    })
}

fn second_visit() -> anyhow::Result<Story> {
    Ok(Story {
        opened: "2026-06-11T11:30:00+02:00",
        random: 0xa2_7713,
        customer: "Invented rider D",
        notes: "Invented workshop. Second visit: heavier kit, wants it livelier for flow trails.",
        bike_name: "all-mountain bike, blue",
        bike: returning(78.5, 375.0, Target::LIVELY, 43)?,
        taste: Taste::AtOnce,
        mishap: Mishap::Nothing,
        left_at: None,
        trail: trail(Bottoming::Never, RideHeight::Right, Feel::Right, "livelier, as wanted"),
    })
}

fn number_of(setup: &Setup, rate: f64) -> anyhow::Result<SpringNumber> {
    let spring = setup.springs.iter().find(|spring| (spring.label.as_lb_per_in() - rate).abs() < 0.5);
    Ok(spring.context("a spring of the rack")?.number)
}

/// A story under way.
struct Telling<'a> {
    story: &'a Story,
    stand: Stand<'a>,
    record: Record,
    state: State,
    clock: DateTime<FixedOffset>,
}

fn played(story: &Story) -> anyhow::Result<(Record, SessionName)> {
    let clock: DateTime<FixedOffset> = story.opened.parse()?;
    let mut record = Record::new(clock);
    record.intake = story.bike.intake();
    record.intake.origin = Origin::Demonstration;
    record.intake.customer = FreeText::new(story.customer);
    record.intake.notes = FreeText::new(story.notes);
    record.intake.bike_name = FreeText::new(story.bike_name);
    let state = machine::replay(&record).map_err(|misfit| anyhow::anyhow!("{misfit:?}"))?;
    let mut telling =
        Telling { story, stand: Stand::new(&story.bike, Indicator::Kept), record, state, clock };
    telling.does(Deed::IntakeDone, 240)?;
    while let Some((deed, seconds)) = telling.next()? {
        telling.does(deed, seconds)?;
    }
    let name = SessionName::new(&clock, story.random);
    Ok((telling.record, name))
}

impl Telling<'_> {
    fn does(&mut self, deed: Deed, seconds: i64) -> anyhow::Result<()> {
        self.clock += TimeDelta::seconds(seconds);
        self.state = machine::advance(&mut self.record, self.clock, deed)
            .map_err(|refusal| anyhow::anyhow!("{refusal:?}"))?;
        Ok(())
    }

    /// What the mechanic does next and how long it takes; none at the end of the story.
    fn next(&mut self) -> anyhow::Result<Option<(Deed, i64)>> {
        let awaiting = self.state.awaiting();
        if Some(awaiting) == self.story.left_at && self.finished_looking() {
            return Ok(None);
        }
        Ok(match awaiting {
            // These stories go from the final checks to the trail; nobody rolled off a kerb.
            Awaiting::Acknowledgement(Caution::KerbDrop) => Some((Deed::CautionSeen(Caution::FirstRide), 6)),
            Awaiting::Acknowledgement(caution) => Some((Deed::CautionSeen(caution), 6)),
            Awaiting::Tick(check) => Some((Deed::Ticked(check, how(check)), 75)),
            Awaiting::ContactTurns => {
                self.stand.new_set();
                Some((Deed::Unloaded { preload_turns: Turns::ZERO }, 60))
            }
            Awaiting::Indicator => Some((Deed::IndicatorSeated, 12)),
            Awaiting::Reading => Some((Deed::Read { reading: self.reads()? }, 35)),
            Awaiting::Decision | Awaiting::FirstSpring => Some((self.decides(), 40)),
            Awaiting::PreloadTurns(turns) => {
                self.stand.new_set();
                Some((Deed::PreloadSet { preload_turns: turns }, 45))
            }
            Awaiting::KerbReturn => Some((Deed::KerbDropped(KerbReturn::NotDone), 6)),
            Awaiting::TrailReport => Some((Deed::from(self.story.trail.clone()), 2_700)),
            Awaiting::CloseOrAnotherRound => Some((Deed::Closed, 60)),
            Awaiting::Details | Awaiting::Nothing => None,
        })
    }

    /// A story that is left at the verdict is left once nothing at hand helps.
    fn finished_looking(&self) -> bool {
        let setup = &self.story.bike.setup;
        matches!(
            assess(setup, &self.state, assets::doubts()).advice,
            Advice::NothingOnTheList { nearest: None, .. }
        )
    }

    fn reads(&mut self) -> anyhow::Result<Length> {
        let set = self.state.present_set().context("a set is open")?;
        let (spring, turns, second) = (set.spring, set.preload_turns, set.readings.len() == 1);
        let moved = self.stand.read(spring, turns);
        let bounced = self.story.mishap == Mishap::Bounce && second && self.state.sets.len() == 1;
        Ok(if bounced { moved + Length::mm(6.0) } else { moved })
    }

    fn decides(&mut self) -> Deed {
        let assessment = assess(&self.story.bike.setup, &self.state, assets::doubts());
        let decision = match assessment.advice {
            Advice::Swap { step, best_match, .. } => {
                let to = if self.story.taste == Taste::StepByStep { step.to } else { best_match };
                self.stand.mounted_anew();
                Decision::Swap { to }
            }
            Advice::FirstSpring { best_match, .. } => Decision::Swap { to: best_match },
            Advice::NothingOnTheList { nearest: Some(to), .. } => {
                self.stand.mounted_anew();
                Decision::Swap { to }
            }
            Advice::SetPreload(plan) => Decision::SetPreload { to: plan.to },
            Advice::Check { suspect: Suspect::Reading(reading), .. } => {
                return Deed::Voided { reading, because: FreeText::new("rider dropped in") };
            }
            Advice::Check { .. } | Advice::ReadAgain { .. } | Advice::TakeReadings { .. } => {
                Decision::ReadAgain
            }
            Advice::Keep { .. } | Advice::NothingOnTheList { .. } | Advice::NoneFits { .. } => Decision::Keep,
        };
        Deed::Decided(decision)
    }
}

/// This workshop's shocks have a clip and no knob.
fn how(check: Check) -> TickAnswer {
    if check == Check::KnobSnug { TickAnswer::HasNone } else { TickAnswer::Done }
}
