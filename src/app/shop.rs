//! The shell of the screen: begins, opens, keeps and lists records through the archive, and reads the clock.
//!
//! Not here: the steps of a write (`archive::write`) and the form of a record (`archive::form`).

use std::error::Error;
use std::path::PathBuf;

use chrono::{Local, SubsecRound};

use super::look::{self, Looking};
use super::springs::Springs;
use super::{random, stock, table};
use crate::archive::form::{self, Unknown};
use crate::archive::{Archive, Held, HoldError, Holding, Kept, ReadOnly, Seal, SessionName, Settled};
use crate::assets;
use crate::phrase;
use crate::screen::effect::{Answer, Behind, Effect, Keeping, Shell};
use crate::screen::model::Shelf;
use crate::session::{Intake, Record, Stamp};

/// How often another random part is drawn for a name that is taken.
const DRAWS: u32 = 32;

/// The workshop round the screen.
#[derive(Debug)]
pub struct Shop {
    archive: Archive,
    looking: Looking,
    springs: Springs,
    open: Option<Open>,
}

/// The record held for writing.
#[derive(Debug)]
struct Open {
    held: Held,
    /// What a later program wrote into it and this one does not know; it goes back with every save.
    unknown: Unknown,
}

impl Shop {
    /// A workshop with its records, remembering what it knows of them in the cache folder, if there is one.
    pub fn new(archive: Archive, cache: Option<PathBuf>) -> Self {
        Self { archive, looking: Looking::new(cache), springs: Springs::default(), open: None }
    }

    /// What the first screen lists.
    pub fn shelf(&mut self, folder: String) -> Shelf {
        let past = stock::past(&self.archive).unwrap_or_default();
        let demonstrations = assets::DEMONSTRATIONS.iter().map(|one| one.title.to_owned()).collect();
        Shelf { folder, past, rack: self.springs.read(&self.archive), demonstrations }
    }

    fn begin(&mut self, opened: Stamp) -> Answer {
        for _ in 0..DRAWS {
            // The name keeps the low 24 bits.
            let drawn = u32::try_from(random() & 0x00ff_ffff).unwrap_or_default();
            match self.archive.begin(SessionName::new(&opened, drawn)) {
                Ok(held) => {
                    self.open = Some(Open { held, unknown: Unknown::default() });
                    return Answer::Done;
                }
                Err(HoldError::Taken { .. }) => {}
                Err(error) => return Answer::Kept(Keeping::OnlyInMemory { because: sentence(&error) }),
            }
        }
        Answer::Kept(Keeping::OnlyInMemory { because: "No free name was found for a new record.".to_owned() })
    }

    fn open(&mut self, name: &SessionName) -> Answer {
        // The lock of a record held before must go first, or it would refuse this one.
        self.open = None;
        match self.archive.hold(name, &carries_on) {
            Ok(Holding::Ours { held, opened, settled }) => match form::read(&opened.text) {
                Ok(read) => {
                    self.open = Some(Open { held: *held, unknown: read.unknown });
                    let remark = remark(opened.seal, &settled);
                    Answer::Opened { record: Box::new(read.record), keeping: Keeping::Kept, remark }
                }
                Err(error) => Answer::Failed(sentence(&error)),
            },
            Ok(Holding::ReadOnly { why, opened }) => match form::read(&opened.text) {
                Ok(read) => Answer::Opened {
                    record: Box::new(read.record),
                    keeping: Keeping::ReadOnly { because: read_only(&why) },
                    remark: None,
                },
                Err(error) => Answer::Failed(sentence(&error)),
            },
            Err(error) => Answer::Failed(sentence(&error)),
        }
    }

    fn keep(&mut self, record: &Record) -> Keeping {
        if self.open.is_none() {
            // Beginning failed before; what stood in the way may be gone.
            self.begin(record.opened);
        }
        let Some(open) = &mut self.open else {
            return Keeping::OnlyInMemory { because: "No record is held for writing.".to_owned() };
        };
        let body = match form::write(record, &open.unknown) {
            Ok(body) => body,
            Err(error) => return Keeping::OnlyInMemory { because: sentence(&error) },
        };
        match open.held.keep(&body) {
            Ok(Kept::InRecords { .. }) => Keeping::Kept,
            Ok(Kept::InSpool { reason, .. }) => Keeping::InSpool { because: sentence(&reason) },
            Err(error) => Keeping::OnlyInMemory { because: sentence(&error) },
        }
    }
}

impl Shell for Shop {
    fn now(&self) -> Stamp {
        // Whole seconds: nobody sits down more precisely than that.
        Local::now().fixed_offset().trunc_subsecs(0)
    }

    fn perform(&mut self, effect: Effect) -> Answer {
        match effect {
            Effect::Begin { opened } => self.begin(opened),
            Effect::Open(name) => self.open(&name),
            Effect::OpenDemonstration(index) => demonstration(index),
            Effect::Keep(record) => Answer::Kept(self.keep(&record)),
            Effect::ReadTable(path) => table::read(&path),
            Effect::LetGo => {
                self.open = None;
                Answer::Done
            }
            Effect::List => stock::past(&self.archive).map_or_else(Answer::Failed, Answer::Listed),
            Effect::TakeStock => Answer::Stock(Box::new(self.looking.begin(&self.archive))),
            Effect::Remember(index) => {
                self.looking.remember(&index);
                Answer::Done
            }
            Effect::ReadRack => Answer::Rack(self.springs.read(&self.archive)),
            Effect::KeepRack(springs) => self.springs.keep(&self.archive, springs),
            Effect::Compare(names) => {
                Answer::Compared(names.into_iter().map(|name| look::at(&self.archive, name)).collect())
            }
            Effect::LookAt(name) => Answer::LookedAt(Box::new(look::at(&self.archive, name))),
            Effect::Repaint | Effect::Suspend | Effect::Leave => Answer::Done,
        }
    }

    fn behind(&mut self) -> Behind {
        self.looking.behind()
    }
}

fn demonstration(index: usize) -> Answer {
    let Some(demonstration) = assets::DEMONSTRATIONS.get(index) else {
        return Answer::Failed("There is no such demonstration.".to_owned());
    };
    match form::read(demonstration.text) {
        Ok(read) => Answer::Opened {
            record: Box::new(read.record),
            keeping: Keeping::ReadOnly {
                because: "This is a demonstration with invented figures, only to look at.".to_owned(),
            },
            remark: None,
        },
        Err(error) => Answer::Failed(sentence(&error)),
    }
}

/// What came to light when a record was opened.
fn remark(seal: Seal, settled: &Settled) -> Option<String> {
    let edited = matches!(seal, Seal::EditedOutside { .. } | Seal::None)
        .then_some("This record was changed outside the program; what stands in it now is what counts.");
    let taken_over = settled
        .taken_over
        .as_ref()
        .map(|_| "A later version of this record was found beside it and taken over; nothing of the earlier one is lost.");
    let rivals = (!settled.rivals.is_empty()).then_some(
        "Another version of this record was found that differs; it was kept beside it under its own name.",
    );
    let said: Vec<&str> = [edited, taken_over, rivals].into_iter().flatten().collect();
    (!said.is_empty()).then(|| said.join(" "))
}

fn read_only(why: &ReadOnly) -> String {
    match why {
        ReadOnly::InUse => {
            "Another program has this session open, so it can only be looked at here.".to_owned()
        }
        ReadOnly::NoLocks { source } => {
            format!(
                "The records folder lets nobody lock a file ({source}), so it can only be looked at here."
            )
        }
    }
}

/// An error as a sentence of its own.
pub(super) fn sentence(error: &dyn Error) -> String {
    phrase::sentence(&error.to_string())
}

/// Whether one version of a record holds all that another does, in its order.
fn carries_on(one: &str, other: &str) -> bool {
    let (Ok(one), Ok(other)) = (form::read(one), form::read(other)) else { return false };
    one.record.opened == other.record.opened
        && one.record.entries.starts_with(&other.record.entries)
        && holds_all_of(&one.record.intake, &other.record.intake)
}

/// Whether everything told in one intake stands in the other as well.
fn holds_all_of(one: &Intake, other: &Intake) -> bool {
    fn held<T: PartialEq>(other: &T, one: &T, nothing: &T) -> bool {
        other == nothing || other == one
    }
    let nothing = Intake::default();
    macro_rules! all_held {
        ($($field:ident),* $(,)?) => {{
            // Without `..`: a new field of the intake has to be named here before this compiles.
            let Intake { $($field: _),* } = &nothing;
            $(held(&other.$field, &one.$field, &nothing.$field))&&*
        }};
    }
    all_held!(
        origin,
        who,
        notes,
        bike_label,
        rider,
        bike,
        wheel_load,
        earlier,
        travel,
        leverage,
        stroke,
        collar_pitch,
        turns_allowed,
        body_diameter,
        frame,
        aim,
        ruler,
        readings_wanted,
        rack,
        fitted,
    )
}

#[cfg(test)]
mod tests {
    use std::path::Path;
    use std::sync::Arc;

    use chrono::DateTime;

    use super::*;
    use crate::archive::{FolderIdentity, RealDisk};
    use crate::session::Detail;
    use crate::units::Mass;

    fn text(details: &[Detail]) -> String {
        let mut record =
            Record::new(DateTime::parse_from_rfc3339("2026-11-25T10:00:00+01:00").expect("a time"));
        for detail in details {
            record.intake.tell(detail.clone()).expect("possible");
        }
        form::write(&record, &Unknown::default()).expect("it can be written")
    }

    fn shop(records: &Path) -> Shop {
        let spool = records.join("../spool");
        let archive = Archive::create(Arc::new(RealDisk), records, &spool, FolderIdentity::new(7));
        Shop::new(archive.expect("a records folder"), None)
    }

    /// A shop with a record begun and kept in it, and the record.
    fn shop_with_a_record(records: &Path) -> (Shop, Record) {
        let mut shop = shop(records);
        let mut record = Record::new(shop.now());
        record.intake.tell(Detail::Rider(Mass::kg(82.0))).expect("possible");
        assert_eq!(shop.perform(Effect::Begin { opened: record.opened }), Answer::Done);
        assert_eq!(shop.perform(Effect::Keep(Box::new(record.clone()))), Answer::Kept(Keeping::Kept));
        (shop, record)
    }

    fn only_session(shop: &mut Shop) -> SessionName {
        let Answer::Listed(past) = shop.perform(Effect::List) else { panic!("it lists") };
        let [only] = &past.newest[..] else { panic!("one session, not {past:?}") };
        only.name.clone()
    }

    #[test]
    fn what_was_kept_is_listed_and_opens_as_it_was() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let (mut shop, record) = shop_with_a_record(&folder.path().join("records"));
        shop.perform(Effect::LetGo);
        let name = only_session(&mut shop);
        let opened = Answer::Opened { record: Box::new(record), keeping: Keeping::Kept, remark: None };
        assert_eq!(shop.perform(Effect::Open(name)), opened);
    }

    #[test]
    fn a_session_open_elsewhere_can_only_be_looked_at() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let records = folder.path().join("records");
        let (mut first, _) = shop_with_a_record(&records);
        let name = only_session(&mut first);
        let Answer::Opened { keeping, .. } = shop(&records).perform(Effect::Open(name)) else {
            panic!("it opens")
        };
        assert!(matches!(keeping, Keeping::ReadOnly { .. }), "{keeping:?}");
    }

    #[test]
    fn a_records_folder_that_went_away_sends_the_step_to_the_spool() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let records = folder.path().join("records");
        let (mut shop, record) = shop_with_a_record(&records);
        std::fs::rename(&records, folder.path().join("away")).expect("it can be moved");
        let kept = shop.perform(Effect::Keep(Box::new(record)));
        assert!(matches!(kept, Answer::Kept(Keeping::InSpool { .. })), "{kept:?}");
    }

    #[test]
    fn every_demonstration_opens_and_says_that_it_is_one() {
        for index in 0..assets::DEMONSTRATIONS.len() {
            let Answer::Opened { record, keeping, .. } = demonstration(index) else {
                panic!("{index} opens")
            };
            assert_eq!(record.intake.origin, crate::session::Origin::Demonstration);
            assert!(matches!(keeping, Keeping::ReadOnly { .. }));
        }
    }

    #[test]
    fn every_session_that_ships_is_a_demonstration() {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sessions");
        let files = std::fs::read_dir(folder).expect("the folder of demonstrations is there");
        assert_eq!(files.count(), assets::DEMONSTRATIONS.len());
    }

    #[test]
    fn a_version_with_one_more_detail_carries_the_other_on() {
        let (earlier, later) = (text(&[]), text(&[Detail::Rider(Mass::kg(82.0))]));
        assert!(carries_on(&later, &earlier));
        assert!(!carries_on(&earlier, &later));
    }

    #[test]
    fn two_versions_that_differ_in_a_detail_carry_neither_on() {
        let [one, other] = [82.0, 84.0].map(|kg| text(&[Detail::Rider(Mass::kg(kg))]));
        assert!(!carries_on(&one, &other) && !carries_on(&other, &one));
    }
}
