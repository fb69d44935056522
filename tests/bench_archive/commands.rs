//! The commands without a screen on the large folder, as a person waits for them: the whole run of the built program.

use std::path::Path;
use std::process::{Command, Stdio};

use crate::stopwatch::timed;

/// Runs each once, with the index of the runs before.
pub(crate) fn commands(folder: &Path) {
    let out = folder.join("export.jsonl");
    let out = out.to_string_lossy();
    for arguments in [
        &["list"][..],
        &["list", "--json"],
        &["find", "enduro", "march"],
        &["check"],
        &["export", "--lines", "--out", &out, "--force"],
    ] {
        let mut program = Command::new(env!("CARGO_BIN_EXE_coilwright"));
        program.args(arguments).env_clear().env("HOME", folder.join("home"));
        program.env("COILWRIGHT_RECORDS", folder.join("records")).stdout(Stdio::null());
        let what = arguments.iter().take(2).copied().collect::<Vec<_>>().join(" ");
        let status = timed(&format!("command: {what}"), || program.status()).expect("the program runs");
        assert!(status.success(), "{what} failed");
    }
}
