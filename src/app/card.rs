//! The command that writes a setup card.
//!
//! Not here: what a card says and looks like (`report`).

use std::path::{Path, PathBuf};

use super::outlet::Outlet;
use super::{existing_records, read_sitting};
use crate::archive::SessionName;
use crate::assessment::assess;
use crate::assets;
use crate::cli::CardOptions;
use crate::failure::Failure;
use crate::report::{Subject, card_as_page, card_as_text};

/// Writes the card of one session to where it is wanted.
pub(super) fn write(options: &CardOptions, records: Option<&Path>) -> Result<(), Failure> {
    let sitting = read_sitting(&place_of(&options.session, records)?)?;
    let (setup, state) = (sitting.setup()?, &sitting.state);
    let assessment = assess(setup, state, assets::doubts());
    let subject = Subject { setup, state, assessment: &assessment };
    let lay_out = if options.html { card_as_page } else { card_as_text };
    let card = lay_out(&subject, sitting.record.opened, options.units.into());
    let mut outlet = Outlet::open(&options.to)?;
    outlet.write(&card)?;
    outlet.finish()
}

/// Where the record of a session lies that was named by its file or by its name alone. A file that is there goes first.
fn place_of(session: &Path, records: Option<&Path>) -> Result<PathBuf, Failure> {
    let name = session.to_string_lossy();
    let stem = name.strip_suffix(".ron").unwrap_or(&name);
    match format!("{stem}.ron").parse::<SessionName>() {
        Ok(name) if !session.exists() => Ok(existing_records(records)?.record_path(&name)),
        _ => Ok(session.to_owned()),
    }
}
