//! The shop's rack between its file and the screen.
//!
//! Not here: the form of the file and how it is written (`archive::rack_file`).

use crate::archive::{Archive, rack_file};
use crate::phrase::sentence;
use crate::screen::effect::{Answer, ShopRack};
use crate::session::ShopSpring;

/// What was read last, so that nothing somebody else wrote since is written over.
#[derive(Debug, Default)]
pub(super) struct Springs {
    text: Option<String>,
}

impl Springs {
    /// Reads the rack; without a file it is an empty one.
    pub(super) fn read(&mut self, archive: &Archive) -> ShopRack {
        self.text = None;
        match archive.rack_text() {
            Ok(None) => ShopRack::default(),
            Ok(Some(text)) => {
                let read = rack_file::read(&text);
                self.text = Some(text);
                read.map_or_else(
                    |faults| {
                        ShopRack::Unreadable(
                            faults.iter().map(|fault| sentence(&fault.to_string())).collect(),
                        )
                    },
                    ShopRack::Read,
                )
            }
            Err(error) => ShopRack::Unreadable(vec![sentence(&error.to_string())]),
        }
    }

    /// Writes the rack.
    pub(super) fn keep(&mut self, archive: &Archive, springs: Vec<ShopSpring>) -> Answer {
        let kept = rack_file::write(&springs).map_err(|error| error.to_string()).and_then(|text| {
            archive.keep_rack(&text, self.text.as_deref()).map_err(|error| said(&error))?;
            self.text = Some(text);
            Ok(())
        });
        match kept {
            Ok(()) => Answer::RackKept(springs),
            Err(because) => Answer::Failed(sentence(&because)),
        }
    }
}

/// An error with its cause.
fn said(error: &rack_file::RackError) -> String {
    use std::error::Error;
    error.source().map_or_else(|| error.to_string(), |source| format!("{error} ({source})"))
}
