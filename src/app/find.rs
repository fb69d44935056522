//! `coilwright find`: the sessions in which every word is found, the best first.

use super::list::listed;
use super::{WriteOutcome, index, print};
use crate::archive::{Archive, Finder};
use crate::failure::Failure;
use crate::units::UnitSet;

pub(super) fn find(
    archive: &Archive,
    words: &str,
    written: WriteOutcome,
    units: UnitSet,
) -> Result<(), Failure> {
    let index = index::up_to_date(archive)?;
    let places = Finder::new(&index).find(words);
    let found: Vec<_> = places.into_iter().map(|place| &index.sessions()[place]).collect();
    print(&listed(
        &found,
        written,
        units,
        "No session holds all of these words. Try fewer, or shorter ones.\n",
    )?)
}
