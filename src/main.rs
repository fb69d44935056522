//! The program: parse, run, say what went wrong, exit.

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;
use coilwright::{app, cli::Cli};

fn main() -> ExitCode {
    match app::run(&Cli::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            // A closed standard error leaves nobody to tell.
            let _ = writeln!(std::io::stderr(), "{failure}");
            failure.exit_code()
        }
    }
}
