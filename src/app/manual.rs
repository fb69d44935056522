//! The manual page and the completions of shells, both made from the command line as it is declared.
//!
//! Not here: the options themselves (`cli`), names of the JSON (`report::names`), words of the cautions (`phrase`).

use std::io;

use clap::{Arg, Command, CommandFactory};
use clap_complete::Shell;
use clap_mangen::Man;
use clap_mangen::roff::{Inline, Roff, bold, italic, roman};

use crate::archive::{known_folders, rack_file, settings_file};
use crate::cli::Cli;
use crate::failure::Failure;
use crate::phrase;
use crate::report::names::{self, JsonName};
use crate::session::Caution;

/// A heading and what is told below it: a term and its meaning.
type TermList = (&'static str, &'static [(&'static str, &'static str)]);

const BEFORE_THE_NAMES: [TermList; 3] = [
    (
        "FILES",
        &[
            (
                "records folder",
                "One RON file a session, named by date, time and a random part. Without --records and \
                 COILWRIGHT_RECORDS it lies in the data folder of your user account: ~/.local/share/coilwright/records \
                 on Linux.",
            ),
            ("coilwright-records.txt", "The marker in it; the program knows the folder by this file."),
            (rack_file::NAME, "The shop's own springs, in the same folder."),
            (
                "spool",
                "In the same data folder: takes a step that the records folder could not take, until it can again.",
            ),
            (
                known_folders::FILE,
                "Beside the spool: by it an empty mount point is entered from a records folder that was never used.",
            ),
            (
                settings_file::NAME,
                "Without --settings and COILWRIGHT_SETTINGS it lies in the configuration folder of your user account: \
                 ~/.config/coilwright on Linux.",
            ),
        ],
    ),
    (
        "ENVIRONMENT",
        &[
            ("COILWRIGHT_RECORDS", "The records folder, where --records names none."),
            ("COILWRIGHT_SETTINGS", "The file of the settings, where --settings names none."),
            (
                "NO_COLOR",
                "Set to anything: the screen is drawn without colours, unless --theme or the settings name a theme.",
            ),
            (
                "LC_ALL, LC_CTYPE, LANG",
                "The first that is set decides: without UTF-8 in it, the screen is drawn with ASCII.",
            ),
        ],
    ),
    (
        "EXIT STATUS",
        &[
            ("0", "All was done."),
            (
                "1",
                "Something failed, and standard error says what; an export that had to leave a damaged record out ends so, \
                 too.",
            ),
            (
                "2",
                "The command cannot be done like this: a wrong option, or a file that would be written over.",
            ),
        ],
    ),
];

/// What is written as JSON: a heading, where it comes from, and its names.
const JSON: [(&str, &str, &[JsonName]); 5] = [
    (
        "Of an assessment",
        "The object that `assess --json` writes, and that is as `assessment` in each line of `export --lines`.",
        names::NAMES,
    ),
    (
        "Of a set",
        "Each line of `export --sets`, and each row of `export --csv`. A name may be added at the end.",
        names::SETS,
    ),
    ("Of a leverage curve", "The object that `leverage --json` writes.", names::LEVERAGE),
    ("Of a spring from its wire", "The object that `wire --json` writes.", names::WIRE),
    ("Of the finished sessions together", "The object that `tally --json` writes.", names::TALLY),
];

/// Completions for a shell.
pub(super) fn completions(shell: Shell) -> String {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "coilwright", &mut script);
    String::from_utf8_lossy(&script).into_owned()
}

/// The manual page, as source for man.
pub(super) fn page() -> Result<String, Failure> {
    let mut page = Vec::new();
    let written = render(&mut page);
    written.map_err(|error| Failure::new("the manual page cannot be written").because(error))?;
    Ok(String::from_utf8_lossy(&page).into_owned())
}

fn render(page: &mut Vec<u8>) -> io::Result<()> {
    let mut command = Cli::command();
    command.build();
    let man = Man::new(command.clone());
    man.render_title(page)?;
    man.render_name_section(page)?;
    man.render_synopsis_section(page)?;
    man.render_description_section(page)?;
    man.render_options_section(page)?;
    let mut roff = Roff::new();
    commands(&mut roff, &command);
    for (title, terms) in BEFORE_THE_NAMES {
        roff.control("SH", [title]);
        for (term, meaning) in terms {
            entered(&mut roff, vec![bold(*term)], meaning);
        }
    }
    json_names(&mut roff);
    cautions(&mut roff, &command);
    roff.to_writer(page)
}

/// A term, and its meaning set in below it.
fn entered(roff: &mut Roff, term: Vec<Inline>, meaning: &str) {
    roff.control("TP", []);
    roff.text(term);
    roff.text([roman(meaning)]);
}

fn commands(roff: &mut Roff, command: &Command) {
    roff.control("SH", ["COMMANDS"]);
    for command in command.get_subcommands().filter(|command| command.get_name() != "help") {
        let usage = command.clone().render_usage().to_string();
        roff.control("SS", [usage.trim_start_matches("Usage: ")]);
        roff.text([roman(command.get_about().map(ToString::to_string).unwrap_or_default())]);
        for argument in command.get_arguments().filter(|argument| own(argument)) {
            entered(roff, term(argument), &help(argument));
        }
    }
}

/// Whether an argument is the command's own and not one of the whole program.
fn own(argument: &Arg) -> bool {
    !argument.is_global_set() && argument.get_id() != "help"
}

/// What an argument is for, and what it may be where that is a choice.
fn help(argument: &Arg) -> String {
    let help = argument.get_help().map(ToString::to_string).unwrap_or_default();
    let values = argument.get_possible_values();
    let names: Vec<&str> = values.iter().map(clap::builder::PossibleValue::get_name).collect();
    if names.is_empty() || !argument.get_action().takes_values() {
        return help;
    }
    format!("{help}: {}", names.join(", "))
}

/// An argument as it is typed.
fn term(argument: &Arg) -> Vec<Inline> {
    let values = argument.get_value_names().map(|names| names.join(" "));
    let takes_values = argument.get_action().takes_values();
    match (argument.get_long(), values.filter(|_| takes_values)) {
        (Some(long), Some(values)) => vec![bold(format!("--{long}")), roman(" "), italic(values)],
        (Some(long), None) => vec![bold(format!("--{long}"))],
        (None, values) => vec![italic(values.unwrap_or_default())],
    }
}

fn json_names(roff: &mut Roff) {
    roff.control("SH", ["JSON"]);
    roff.text([roman(
        "A name ends in the unit of its figure, u_ opens a standard uncertainty, null is for no value and never for zero. \
         A name may be added; none changes its meaning.",
    )]);
    for (title, opening, names) in JSON {
        roff.control("SS", [title]);
        roff.text([roman(opening)]);
        for name in names {
            let unit = if name.unit.is_empty() { String::new() } else { format!("  [{}]", name.unit) };
            entered(roff, vec![bold(name.path), roman(unit)], name.meaning);
        }
    }
}

fn cautions(roff: &mut Roff, command: &Command) {
    roff.control("SH", ["CAUTIONS"]);
    for caution in Caution::ALL.map(phrase::caution) {
        entered(roff, vec![bold(caution.headline.as_str())], &caution.text);
    }
    roff.control("PP", []);
    roff.text([roman(command.get_after_help().map(ToString::to_string).unwrap_or_default())]);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variable_the_command_line_reads_is_told() {
        let [.., (_, variables), _] = BEFORE_THE_NAMES;
        let command = Cli::command();
        let read: Vec<_> = command.get_arguments().filter_map(Arg::get_env).collect();
        assert!(!read.is_empty());
        for name in read {
            assert!(variables.iter().any(|(entered, _)| name == *entered), "{name:?} is not in the manual");
        }
    }
}
