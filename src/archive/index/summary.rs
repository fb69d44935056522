//! What a list wants to know of a session, taken from its record by the same way as everything else: read, walked, assessed.
//!
//! No figure is taken from a part of the text: a record that does not read, or does not fit the walk, has no figures but a
//! reason. Not here: how the summary is kept (`encoding`), and the words of a list (`report`).

use super::encoding;
use crate::archive::form::{self, FormError, ReadRecord};
use crate::archive::{OpenError, OpenedSession, Seal};
use crate::assessment::marks::{self, MarkEvidence, MarkedSession};
use crate::assessment::{Standing, evidence};
use crate::assets;
use crate::session::{Intake, Origin, Stamp, State, Step};
use crate::text::FreeText;
use crate::units::{Share, SpringRate};
use serde::{Deserialize, Serialize};

/// What is known of a session without opening it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Contents {
    /// Its record was read.
    Read(Box<SessionSummary>),
    /// Its record cannot be read.
    Unreadable {
        /// In what way.
        trouble: Trouble,
        /// Why, in words for the user; safe to show only through [`crate::text::Shown`].
        because: String,
    },
}

/// In what way a record cannot be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Trouble {
    /// A later program wrote it.
    Newer,
    /// Something in it cannot be.
    Damaged,
    /// It is something else under a record's name.
    NotARecord,
    /// The system did not let us read it; it may the next time.
    OutOfReach,
}

/// What a list shows of a record that was read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SessionSummary {
    /// When it was opened.
    #[serde(with = "encoding::moment")]
    pub opened: Stamp,
    /// Whose bike.
    #[serde(with = "encoding::typed")]
    pub customer: FreeText,
    /// Which bike.
    #[serde(with = "encoding::typed")]
    pub bike: FreeText,
    /// A real session or a demonstration.
    pub origin: Origin,
    /// Whether the text is as this program wrote it, and its revision.
    pub seal: Seal,
    /// How far the work has come.
    pub work: WorkSummary,
    /// What it says of the marked springs read in it, once it is finished.
    pub marked: Option<Box<MarkedReadings>>,
}

/// What a session says of the marked springs read in it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MarkedReadings {
    /// When the session was opened from whose findings it began.
    #[serde(with = "encoding::maybe_moment")]
    pub began_from: Option<Stamp>,
    /// What it says.
    pub evidence: MarkEvidence,
}

impl SessionSummary {
    /// The session as one of those that teach what the marked springs are; none where it says nothing of any.
    pub fn teaches(&self) -> Option<MarkedSession<'_>> {
        let marked = self.marked.as_ref()?;
        Some(MarkedSession {
            opened: self.opened,
            began_from: marked.began_from,
            customer: self.customer.as_typed(),
            bike: self.bike.as_typed(),
            evidence: &marked.evidence,
        })
    }
}

/// How far the work of a session has come.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct WorkSummary {
    /// When something was last done.
    #[serde(with = "encoding::moment")]
    pub last_worked: Stamp,
    /// The step the walk is at.
    #[serde(with = "encoding::word")]
    pub step: Step,
    /// The label of the spring on the bike.
    #[serde(with = "encoding::rate")]
    pub fitted: Option<SpringRate>,
    /// Springs fitted since the bike came in.
    pub swaps: u16,
    /// Sag of the last set of readings, as the assessment has it.
    #[serde(with = "encoding::share")]
    pub sag: Option<Share>,
    /// How that sag is to the target range.
    pub standing: Option<Standing>,
    /// Middle of the target range.
    #[serde(with = "encoding::share")]
    pub target: Option<Share>,
}

impl Contents {
    /// What a record says, or why it says nothing.
    pub(super) fn of(opened: Result<&OpenedSession, &OpenError>) -> Self {
        match opened {
            Ok(opened) => match form::read(&opened.text) {
                Ok(read) => Self::of_read(read, opened.seal),
                Err(error) => Self::unreadable(trouble_of(&error), &error),
            },
            Err(error @ (OpenError::NotPlain { .. } | OpenError::TooLarge { .. })) => {
                Self::unreadable(Trouble::NotARecord, error)
            }
            Err(error @ OpenError::NotText { .. }) => Self::unreadable(Trouble::Damaged, error),
            Err(error) => Self::unreadable(Trouble::OutOfReach, error),
        }
    }

    fn of_read(ReadRecord { record, state, .. }: ReadRecord, seal: Seal) -> Self {
        let last_worked = record.entries.last().map_or(record.opened, |entry| entry.at);
        let work = WorkSummary::of(&state, last_worked);
        let began_from = state.entered.earlier.map(|earlier| earlier.opened);
        let evidence = marks::evidence(&state, assets::doubts());
        let marked = evidence.map(|evidence| Box::new(MarkedReadings { began_from, evidence }));
        let Intake { customer, bike_name: bike, origin, .. } = state.entered;
        Self::Read(Box::new(SessionSummary {
            opened: record.opened,
            customer,
            bike,
            origin,
            seal,
            work,
            marked,
        }))
    }

    fn unreadable(trouble: Trouble, error: &dyn std::error::Error) -> Self {
        let because =
            error.source().map_or_else(|| error.to_string(), |source| format!("{error} ({source})"));
        Self::Unreadable { trouble, because }
    }
}

fn trouble_of(error: &FormError) -> Trouble {
    match error {
        FormError::Newer { .. } => Trouble::Newer,
        FormError::NotARecord => Trouble::NotARecord,
        FormError::Damaged(_) | FormError::Unwritable(_) => Trouble::Damaged,
    }
}

impl WorkSummary {
    fn of(state: &State, last_worked: Stamp) -> Self {
        let setup = state.setup.as_ref();
        let sag = setup.and_then(|setup| evidence::last_sag(setup, &state.sets, assets::doubts()));
        Self {
            last_worked,
            step: state.step,
            fitted: state.fitted().map(|spring| spring.label),
            swaps: state.on_bike.swaps,
            sag,
            standing: sag.zip(setup).map(|(sag, setup)| Standing::of(sag, setup)),
            target: setup.map(|setup| setup.target.sag),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::archive::seal::read_seal;
    use crate::assessment::assess;
    use crate::session::machine;

    fn opened(text: &str) -> OpenedSession {
        OpenedSession { text: text.to_owned(), seal: read_seal(text), fingerprint: 0 }
    }

    fn read(text: &str) -> SessionSummary {
        match Contents::of(Ok(&opened(text))) {
            Contents::Read(summary) => *summary,
            unreadable @ Contents::Unreadable { .. } => panic!("{unreadable:?}"),
        }
    }

    #[test]
    fn a_typical_target_is_the_target_of_the_session() {
        let text = assets::DEMONSTRATIONS[0].text;
        let kept = |line: &&str| !line.contains("target_percent") && !line.contains("tolerance_percent");
        let without = text.lines().filter(kept).collect::<Vec<_>>().join("\n");
        let summary = read(&without);
        assert!(summary.work.sag.is_some());
        assert_eq!(summary.work.target, Some(crate::session::Target::PLANTED.sag));
    }

    #[test]
    fn every_figure_is_the_one_the_assessment_gives() {
        for demonstration in assets::DEMONSTRATIONS {
            let record = form::read(demonstration.text).expect("it reads").record;
            let state = machine::replay(&record).expect("it fits");
            let setup = state.setup.as_ref().expect("a complete intake");
            let assessment = assess(setup, &state, assets::doubts());
            let summary = read(demonstration.text);
            assert_eq!(summary.work.sag, assessment.sets.last().map(|set| set.sag.value));
            assert_eq!(summary.work.fitted, state.fitted().map(|spring| spring.label));
            assert_eq!((summary.work.step, summary.work.swaps), (state.step, state.on_bike.swaps));
            assert_eq!(summary.origin, Origin::Demonstration);
            assert!(summary.seal.is_sound());
        }
    }

    #[test]
    fn a_record_edited_outside_is_read_and_says_so() {
        let text = assets::DEMONSTRATIONS[0].text.replace("rider_kg: 98.0", "rider_kg: 99.0");
        assert!(matches!(read(&text).seal, Seal::EditedOutside { .. }));
    }

    #[test]
    fn what_cannot_be_read_says_in_what_way() {
        let whole = assets::DEMONSTRATIONS[0].text;
        let cut = &whole[..whole.len() / 2];
        for (text, expected) in [
            (cut, Trouble::Damaged),
            (&whole.replace("format: 2", "format: 9"), Trouble::Newer),
            ("a shopping list", Trouble::NotARecord),
        ] {
            let Contents::Unreadable { trouble, because } = Contents::of(Ok(&opened(text))) else {
                panic!("{text} is no record")
            };
            assert_eq!(trouble, expected, "{because}");
        }
    }
}
