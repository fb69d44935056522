//! One language everywhere: words that no sentence for a user may hold, because another word says it plainly.
//!
//! What a user reads lives in `src/phrase`, `assets`, the labels and hints of the table of facts, the help of the command line
//! and the names of the export. Not here: what the sentences say.

use std::fs;
use std::path::{Path, PathBuf};

/// A word that is not used, and the one that is.
const NOT_USED: [(&str, &str); 15] = [
    ("aim", "target"),
    ("aims", "target ranges"),
    ("band", "target range"),
    ("bands", "target ranges"),
    ("at hand", "on the list"),
    ("remark", "note"),
    ("reckon", "calculate"),
    ("reckoned", "calculated"),
    ("customary", "typical"),
    ("anew", "again"),
    ("mend", "fix"),
    ("wanted", "needed, or target"),
    ("stands", "is"),
    ("verdict", "decision, or advice"),
    ("past contact", "turns of preload"),
];

/// Sentences in which such a word has its plain meaning: a rubber band is one.
const EXCEPTIONS: [&str; 3] =
    ["How far the collar is turned past contact", "Every turn past contact", "stands on level pedals"];

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder of the project") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            files(&path, found);
        } else if path.extension().is_some_and(|end| end == "rs" || end == "ron") {
            found.push(path);
        }
    }
}

/// What stands between the quotes of the code of a file, its tests and comments left out.
fn sentences(text: &str) -> Vec<String> {
    let code = text.split("#[cfg(test)]").next().unwrap_or_default();
    let code: String = code
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .flat_map(|line| [line, "\n"])
        .collect();
    let mut found = Vec::new();
    let mut rest = code.as_str();
    while let Some(open) = rest.find('"') {
        let body = &rest[open + 1..];
        let close = (0..body.len()).find(|at| body.as_bytes()[*at] == b'"' && !body[..*at].ends_with('\\'));
        let Some(close) = close else { break };
        found.push(
            body[..close].split_whitespace().filter(|word| *word != "\\").collect::<Vec<_>>().join(" "),
        );
        rest = &body[close + 1..];
    }
    found
}

/// Whether the sentence holds the word as a word of its own.
fn holds(sentence: &str, word: &str) -> bool {
    // What is put in for a name in braces is no word of ours.
    let plain: String = sentence
        .split('{')
        .enumerate()
        .map(|(at, part)| if at == 0 { part } else { part.split_once('}').map_or("", |(_, rest)| rest) })
        .collect();
    let sentence = format!(
        " {} ",
        plain.to_lowercase().replace(|letter: char| !letter.is_alphanumeric() && letter != '_', " ")
    );
    sentence.contains(&format!(" {word} "))
}

#[test]
fn no_sentence_holds_a_word_that_another_says_plainly() {
    let mut homes = Vec::new();
    files(Path::new("src/phrase"), &mut homes);
    files(Path::new("assets"), &mut homes);
    homes.extend(
        ["src/phrase.rs", "src/session/facts.rs", "src/cli.rs", "src/screen/keys.rs", "src/report/names.rs"]
            .map(PathBuf::from),
    );
    homes.retain(|path| !path.ends_with("doubts.ron"));
    let mut faults = Vec::new();
    for home in &homes {
        for sentence in sentences(&fs::read_to_string(home).expect("text")) {
            // A name of a file or of a script is no sentence.
            if !sentence.contains(' ') || EXCEPTIONS.iter().any(|exception| sentence.contains(exception)) {
                continue;
            }
            let held = NOT_USED.iter().filter(|(word, _)| holds(&sentence, word));
            faults.extend(held.map(|(word, instead)| {
                format!("{}: \"{word}\" (say {instead}) in: {sentence}", home.display())
            }));
        }
    }
    assert!(homes.len() > 30 && faults.is_empty(), "{}", faults.join("\n"));
}
