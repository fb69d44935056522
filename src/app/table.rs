//! A table of figures from a file that somebody named on the screen.
//!
//! Not here: what the figures mean (`mechanics::pairs`).

use std::path::{Path, PathBuf};

use directories::BaseDirs;

use super::said::sentence;
use crate::archive::{RealDisk, open};
use crate::screen::effect::Answer;

/// The text of the file, or a sentence on why it cannot be read.
pub(super) fn read(path: &Path) -> Answer {
    match open::read_text(&RealDisk, &at_home(path)) {
        Ok(opened) => Answer::TableRead(opened.text),
        Err(error) => Answer::Failed(sentence(&error)),
    }
}

/// The path with a leading `~` as a shell would read it.
pub(super) fn at_home(path: &Path) -> PathBuf {
    match (path.strip_prefix("~"), BaseDirs::new()) {
        (Ok(rest), Some(own)) => own.home_dir().join(rest),
        _ => path.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_is_read_whole() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("lev.csv");
        std::fs::write(&path, "10,27.5\r\n20,54\r\n").expect("it can be written");
        assert_eq!(read(&path), Answer::TableRead("10,27.5\n20,54\n".to_owned()));
    }

    #[test]
    fn a_file_that_is_not_there_is_named_in_a_sentence() {
        let Answer::Failed(sentence) = read(Path::new("/nowhere/lev.csv")) else {
            panic!("nothing is there")
        };
        assert!(sentence.contains("/nowhere/lev.csv") && sentence.ends_with('.'), "{sentence}");
    }

    #[test]
    fn a_tilde_is_the_users_own_folder() {
        if let Some(own) = BaseDirs::new() {
            assert_eq!(at_home(Path::new("~/lev.csv")), own.home_dir().join("lev.csv"));
        }
        assert_eq!(at_home(Path::new("lev.csv")), PathBuf::from("lev.csv"));
    }
}
