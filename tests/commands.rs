//! The built program without a screen: what each command says, and how it refuses what it cannot take.

mod assess;
mod backup;
mod folder;
mod forget;
mod hostile;
mod leverage;
mod merge;
#[cfg(unix)]
mod shared;
mod tally;
mod wire;

use std::io::Write;
use std::process::{Command, Stdio};

use serde_json::Value;

/// What a command came to.
struct Ran {
    code: Option<i32>,
    said: String,
    complained: String,
}

/// Runs the program with these arguments, and with this on standard input.
fn run(arguments: &[&str], input: &str) -> Ran {
    let mut child = Command::new(env!("CARGO_BIN_EXE_coilwright"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    // A command that refuses before it reads has closed the pipe; that is no fault of the test.
    let _ = child.stdin.take().expect("a pipe").write_all(input.as_bytes());
    let output = child.wait_with_output().expect("the program ends");
    let text = |bytes| String::from_utf8(bytes).expect("text");
    Ran { code: output.status.code(), said: text(output.stdout), complained: text(output.stderr) }
}

impl Ran {
    /// The sentence of a refusal; panics where the command was done or did not refuse in a sentence.
    #[track_caller]
    fn refusal(self) -> String {
        assert_eq!((self.code, self.said.as_str()), (Some(1), ""), "{}", self.complained);
        let sentence = self.complained.trim_end().to_owned();
        assert!(sentence.starts_with("coilwright: ") && !sentence.contains("panicked"), "{sentence}");
        sentence
    }

    /// What it said, having succeeded.
    #[track_caller]
    fn success(self) -> String {
        assert_eq!((self.code, self.complained.as_str()), (Some(0), ""));
        self.said
    }

    #[track_caller]
    fn json(self) -> Value {
        serde_json::from_str(&self.success()).expect("JSON")
    }
}

#[track_caller]
fn assert_near(found: &Value, expected: f64, tolerance: f64) {
    let found = found.as_f64().expect("a number");
    assert!((found - expected).abs() <= tolerance, "{found} is not {expected}");
}
