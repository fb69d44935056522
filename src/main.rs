//! The program: parse, run, say what went wrong, exit.

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;
use coilwright::{app, cli, cli::Cli};

fn main() -> ExitCode {
    let asked = match Cli::try_parse() {
        Ok(asked) => asked,
        Err(entered) if !entered.use_stderr() => entered.exit(),
        Err(refused) => {
            let _ = writeln!(std::io::stderr(), "{}", cli::cleaned(&refused));
            return ExitCode::from(2);
        }
    };
    match app::run(&asked) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            // A closed standard error leaves nobody to tell.
            let _ = writeln!(std::io::stderr(), "{failure}");
            failure.exit_code()
        }
    }
}
