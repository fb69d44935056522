//! The record open on the desk, and what it means.
//!
//! What can be derived is not stored: the state and the assessment stand beside the record only because they are asked for
//! in every frame, and they change together in one function. Not here: the other things on the desk (`model`).

use crate::assessment::{Assessment, SetFinding, ShopAlternatives, assess, shop_alternatives};
use crate::assets;
use crate::screen::effect::StorageState;
use crate::session::machine::{self, EntryMisfit};
use crate::session::{Deed, Intake, Reading, Record, Setup, ShopSpring, Stamp, State};
use crate::units::Length;

/// A record on the desk, with what it folds to.
#[derive(Debug)]
pub struct OpenSession {
    /// Details entered and done.
    pub record: Record,
    /// What it folds to.
    pub state: State,
    /// What it means, once the intake is done.
    pub assessment: Option<Assessment>,
    /// What the shop's rack holds beyond the list of the session, where that matters.
    pub shop_alternatives: Option<ShopAlternatives>,
    /// What it would mean to begin with no spring fitted, while the intake is open and nothing is missing in it.
    pub outlook: Option<FirstSpringForecast>,
    /// Where it is kept.
    pub keeping: StorageState,
}

/// What can be said before the work begins.
#[derive(Debug)]
pub struct FirstSpringForecast {
    /// The details, complete.
    pub setup: Setup,
    /// What they mean with no spring fitted.
    pub assessment: Assessment,
}

impl FirstSpringForecast {
    /// Nothing while the weights are open: no spring can be named from typical ones.
    fn of(entered: &Intake, opened: Stamp) -> Option<Self> {
        entered.rider.and(entered.travel)?;
        let mut record = Record::new(opened);
        record.intake = Intake { spring_on_arrival: None, ..entered.clone() };
        let state = machine::advance(&mut record, opened, Deed::IntakeDone).ok()?;
        let setup = state.setup.clone()?;
        let assessment = assess(&setup, &state, assets::doubts());
        Some(Self { setup, assessment })
    }
}

impl OpenSession {
    /// A record to look at, not on the desk.
    ///
    /// # Errors
    /// When its entries do not fit the walk.
    pub fn to_look_at(record: Record) -> Result<Self, EntryMisfit> {
        let state = machine::replay(&record)?;
        Ok(Self::folded(record, state, StorageState::Kept))
    }

    pub(super) fn folded(record: Record, state: State, keeping: StorageState) -> Self {
        let mut session =
            Self { record, state, assessment: None, shop_alternatives: None, outlook: None, keeping };
        session.reassess();
        session
    }

    /// What the last set says, once a reading of it counts.
    pub fn present_finding(&self) -> Option<&SetFinding> {
        let number = self.state.sets.len();
        self.assessment.as_ref()?.sets.iter().find(|set| set.number == number)
    }

    /// What a reading was expected to show, where this one is far from that: more than so many doubts of the forecast and
    /// of a single reading as make a reading stand apart. One that goes with a reading of its set is not asked about again.
    pub fn expected_instead_of(&self, moved: Length) -> Option<Length> {
        let (setup, assessment) = (self.state.setup.as_ref()?, self.assessment.as_ref()?);
        let doubts = &assets::doubts().reading;
        let (forecast, scatter) = (assessment.present()?.sag, assessment.findings.scatter.as_mm());
        let expected = forecast.value.of(setup.shock.stroke);
        let uncertainty = forecast.uncertainty.of(setup.shock.stroke).as_mm();
        let posture = doubts.posture.of(expected).as_mm();
        let far = |from: Length, parts: [f64; 3]| {
            let deviation = parts.iter().map(|part| part.powi(2)).sum::<f64>().sqrt();
            (moved - from).abs().as_mm() > doubts.stands_apart * deviation
        };
        let alike = |reading: &Reading| !far(reading.distance, [scatter, scatter, 0.0]);
        let is_repeated = self.state.present_set().is_some_and(|set| set.counting().any(alike));
        (!is_repeated && far(expected, [uncertainty, scatter, posture])).then_some(expected)
    }

    /// Whether nothing was told or done yet.
    pub(super) fn is_blank(&self) -> bool {
        self.record.entries.is_empty() && self.record.intake == Intake::default()
    }

    /// The spring of the shop that is offered for the list.
    pub fn offered(&self) -> Option<ShopSpring> {
        self.shop_alternatives.as_ref()?.offered().map(|held| held.kind)
    }

    pub(super) fn look_beyond(&mut self, shop: &[ShopSpring]) {
        let assessed = self.state.setup.as_ref().zip(self.assessment.as_ref());
        self.shop_alternatives = assessed.and_then(|(setup, assessment)| {
            shop_alternatives(setup, &self.state, assessment, shop, assets::doubts())
        });
    }

    pub(super) fn reassess(&mut self) {
        let setup = self.state.setup.as_ref();
        self.assessment = setup.map(|setup| assess(setup, &self.state, assets::doubts()));
        let is_open = setup.is_none();
        self.outlook =
            is_open.then(|| FirstSpringForecast::of(&self.state.entered, self.record.opened)).flatten();
    }
}
