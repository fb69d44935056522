//! What the user sees of an error: what happened, why, the way out; and the exit code.
//!
//! Codes: 1 something failed, 2 the command cannot be done like this. Not here: refusals of the walk, which are said on the
//! screen (`phrase::refusal`).

use std::error::Error;
use std::fmt;
use std::io;
use std::process::ExitCode;

use crate::archive::write::said;
use crate::text::Shown;

/// An error on its way to the user.
#[derive(Debug)]
pub struct Failure {
    sentence: String,
    cause: Option<anyhow::Error>,
    listed: Vec<String>,
    way_out: Option<&'static str>,
    code: u8,
}

impl Failure {
    /// Something failed, in a sentence.
    pub fn new(sentence: impl Into<String>) -> Self {
        Self { sentence: sentence.into(), cause: None, listed: Vec::new(), way_out: None, code: 1 }
    }

    /// The command cannot be done like this, in a sentence.
    pub fn of_use(sentence: impl Into<String>) -> Self {
        Self { code: 2, ..Self::new(sentence) }
    }

    /// With what lay behind it.
    #[must_use]
    pub fn because(self, cause: impl Into<anyhow::Error>) -> Self {
        Self { cause: Some(cause.into()), ..self }
    }

    /// With what there is to choose from, a line each.
    #[must_use]
    pub fn listing<'a>(self, lines: impl Iterator<Item = &'a str>) -> Self {
        Self { listed: lines.map(str::to_owned).collect(), ..self }
    }

    /// With what to do about it, in a sentence.
    #[must_use]
    pub fn way_out(self, way_out: &'static str) -> Self {
        Self { way_out: Some(way_out), ..self }
    }

    /// The exit code of the program.
    pub fn exit_code(&self) -> ExitCode {
        ExitCode::from(self.code)
    }
}

/// Why the system would not let a folder or file be used, in plain words that follow a "because".
pub fn plainly(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::AlreadyExists | io::ErrorKind::NotADirectory => {
            "a file is where a folder is needed".to_owned()
        }
        io::ErrorKind::NotFound => "no folder can be made there".to_owned(),
        io::ErrorKind::PermissionDenied => "you are not allowed to use it".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "its disk can only be read".to_owned(),
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "its disk is full".to_owned(),
        _ => said(error),
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "coilwright: {}", Shown::from(self.sentence.as_str()))?;
        for error in self.cause.iter().flat_map(anyhow::Error::chain) {
            write!(f, "\n  because {}", Shown::from(error.to_string().as_str()))?;
        }
        for line in &self.listed {
            write!(f, "\n  {}", Shown::from(line.as_str()))?;
        }
        match self.way_out {
            Some(way_out) => write!(f, "\n  {way_out}"),
            None => Ok(()),
        }
    }
}

impl Error for Failure {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_error_says_what_why_and_the_way_out() {
        let missing = std::io::Error::other("no such folder");
        let failure = Failure::new("the records cannot be opened")
            .because(missing)
            .way_out("Name another with --records.");
        assert_eq!(
            failure.to_string(),
            "coilwright: the records cannot be opened\n  because no such folder\n  Name another with --records."
        );
    }
}
