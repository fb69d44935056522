//! What Enter does, followed default by default: the guided walk on one bike from the first question to the close.
//!
//! The record, the walk and the assessment are the program's own; a mechanic here presses Enter, types what is read and
//! types nothing else. Which choice Enter takes is told by the assessment itself.

use chrono::DateTime;
use coilwright::assessment::{Assessment, Does, Doubts, RateSource, assess};
use coilwright::session::{
    Awaiting, Bottoming, Decision, Deed, Feel, Indicator, KerbReturn, Posture, Record, RideHeight,
    SpringNumber, State, TickAnswer, TrailReport, machine,
};
use coilwright::text::FreeText;
use coilwright::units::{SpringRate, Turns};

use crate::setters::{MOST_SWAPS, Outcome};
use crate::stand::Stand;
use crate::world::{Arrival, Bike};

/// Whether 90 % intervals held the truth.
#[derive(Default)]
pub(crate) struct Held {
    /// The spring on the bike, at the close.
    pub(crate) fitted: Vec<bool>,
    /// Springs that were never on it, at the first verdict, within 100 lb/in of the one that is.
    pub(crate) others: Vec<bool>,
}

/// Deeds after which a walk that does not end is left.
const MOST_DEEDS: usize = 600;

/// One bike, set up by Enter.
pub(crate) fn walk(bike: &Bike, indicator: Indicator, doubts: &Doubts) -> (Outcome, Held) {
    let mut bench = Bench::opened(bike, indicator, doubts);
    while bench.record.entries.len() < MOST_DEEDS {
        let Some(deed) = bench.next() else { break };
        if !bench.does(deed) {
            break;
        }
    }
    bench.ended()
}

/// The session under way.
struct Bench<'a> {
    bike: &'a Bike,
    indicator: Indicator,
    stand: Stand<'a>,
    doubts: &'a Doubts,
    record: Record,
    state: State,
    sits: usize,
    collar_turned: usize,
    held: Held,
}

impl<'a> Bench<'a> {
    fn opened(bike: &'a Bike, indicator: Indicator, doubts: &'a Doubts) -> Self {
        let mut record = Record::new(DateTime::default());
        record.intake = bike.intake();
        let state = machine::replay(&record).expect("an empty walk");
        let stand = Stand::new(bike, indicator);
        Self {
            bike,
            indicator,
            stand,
            doubts,
            record,
            state,
            sits: 0,
            collar_turned: 0,
            held: Held::default(),
        }
    }

    /// Whether the walk took the deed; one it refuses ends the work.
    fn does(&mut self, deed: Deed) -> bool {
        let before = self.state.on_bike.fitted;
        let Ok(state) = machine::advance(&mut self.record, DateTime::default(), deed) else { return false };
        self.state = state;
        if before.is_some() && before != self.state.on_bike.fitted {
            self.stand.mounted_anew();
        }
        true
    }

    fn fitted(&self) -> SpringNumber {
        self.state.on_bike.fitted.expect("a spring is fitted")
    }

    fn preload_turns(&self) -> Turns {
        self.state.present_set().map_or(Turns::ZERO, |set| set.preload_turns)
    }

    fn next(&mut self) -> Option<Deed> {
        Some(match self.state.awaiting() {
            Awaiting::Details => Deed::IntakeDone,
            Awaiting::Acknowledgement(caution) => Deed::CautionSeen(caution),
            Awaiting::Tick(check) => Deed::Ticked(check, TickAnswer::Done),
            Awaiting::ContactTurns => self.finds_contact(),
            Awaiting::Indicator if self.state.how.indicator != self.indicator => {
                Deed::ReadHow { indicator: self.indicator, posture: Posture::Seated }
            }
            Awaiting::Indicator => Deed::IndicatorSeated,
            Awaiting::Reading => self.reads(),
            Awaiting::Decision | Awaiting::FirstSpring => self.decides(),
            Awaiting::PreloadTurns(preload_turns) => self.turns(preload_turns),
            Awaiting::KerbReturn => Deed::KerbDropped(KerbReturn::NotDone),
            Awaiting::TrailReport => Deed::from(TrailReport {
                bottoming: Bottoming::Never,
                ride_height: RideHeight::Right,
                feel: Feel::Right,
                note: FreeText::new(""),
            }),
            Awaiting::CloseOrAnotherRound => Deed::Closed,
            Awaiting::Nothing => return None,
        })
    }

    /// The collar is backed off to contact; before the first set it may stand as it came in.
    fn finds_contact(&mut self) -> Deed {
        self.stand.new_set();
        let preload_turns = match self.bike.arrives {
            Arrival::AsItStands(turns) if self.state.sets.is_empty() => turns,
            _ => Turns::ZERO,
        };
        Deed::Unloaded { preload_turns }
    }

    fn reads(&mut self) -> Deed {
        self.sits += 1;
        Deed::Read { reading: self.stand.read(self.fitted(), self.preload_turns()) }
    }

    fn turns(&mut self, preload_turns: Turns) -> Deed {
        self.stand.new_set();
        self.collar_turned += 1;
        Deed::PreloadSet { preload_turns }
    }

    fn decides(&mut self) -> Deed {
        let assessment = self.assessment();
        if self.held.others.is_empty() {
            self.held.others = self.others_held(&assessment);
        }
        let enter = assessment.enter;
        let may_swap = usize::from(self.state.on_bike.swaps) < MOST_SWAPS;
        Deed::Decided(match (enter.does, enter.spring) {
            (Does::Swap, Some(to)) if may_swap => Decision::Swap { to },
            (Does::Read | Does::Check, _) => Decision::ReadAgain,
            (Does::Turn, _) => Decision::SetPreload { to: enter.turns },
            // Where no spring at hand would do the mechanic leaves what is on the bike.
            (Does::Keep | Does::None | Does::Swap, _) => Decision::Keep,
        })
    }

    fn assessment(&self) -> Assessment {
        let setup = self.state.setup.as_ref().unwrap_or(&self.bike.setup);
        assess(setup, &self.state, self.doubts)
    }

    fn others_held(&self, assessment: &Assessment) -> Vec<bool> {
        let Some(present) = assessment.present() else { return Vec::new() };
        let near = |rate: SpringRate| (rate - present.rate).abs().as_lb_per_in() < 101.0;
        let others =
            assessment.forecasts.iter().filter(|one| one.known == RateSource::ByLabel && near(one.rate));
        others
            .map(|one| {
                // A spring that is not mounted yet has its contact called somewhere within half a turn.
                let contact = self.bike.contact_somewhere(one.spring);
                let truth = self.bike.true_sag(one.spring, contact);
                (one.sag.value.as_percent() - truth).abs() <= one.ninety_percent().as_percent()
            })
            .collect()
    }

    fn ended(mut self) -> (Outcome, Held) {
        let (spring, turns) = (self.fitted(), self.preload_turns());
        let sag = self.stand.true_sag(spring, turns);
        if let Some(present) = self.assessment().present() {
            let off = (present.sag.value.as_percent() - sag).abs();
            self.held.fitted.push(off <= present.ninety_percent().as_percent());
        }
        let outcome = Outcome {
            swaps: usize::from(self.state.on_bike.swaps),
            sits: self.sits,
            collar_turned: self.collar_turned,
            turns,
            in_range: self.bike.in_range(sag),
            binds: !self.bike.has_stroke_for(spring, turns),
        };
        (outcome, self.held)
    }
}
