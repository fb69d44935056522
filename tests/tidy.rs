//! The rules of the house as a test: floors, forbidden imports, module docs, lengths, the top level as designed.
//!
//! A rule that only a reviewer keeps is broken within a month. DEVELOPERS.md tells the reasons.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Floors from the bottom; a module may use its own floor and every lower one.
const FLOORS: [(&str, u8); 18] = [
    ("units", 0),
    ("statistics", 0),
    ("text", 0),
    ("mechanics", 1),
    ("session", 2),
    ("assessment", 3),
    ("settings", 3),
    ("assets", 4),
    ("document", 4),
    ("phrase", 4),
    ("archive", 5),
    ("report", 5),
    ("screen", 6),
    ("cli", 7),
    ("failure", 7),
    ("app", 8),
    ("lib", 9),
    ("main", 9),
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn sources(folder: &str) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut open = vec![root().join(folder)];
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(&folder).expect("a folder of the project") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let text = fs::read_to_string(&path).expect("source text");
                found.push((path.strip_prefix(root()).expect("below the root").to_owned(), text));
            }
        }
    }
    assert!(!found.is_empty());
    found
}

/// The module a source file belongs to: `src/units/parse.rs` is of `units`.
fn module(path: &Path) -> String {
    let second = path.iter().nth(1).expect("a file below src").to_string_lossy();
    second.trim_end_matches(".rs").to_owned()
}

fn floor(module: &str) -> u8 {
    let known = FLOORS.iter().find(|(name, _)| *name == module);
    known.unwrap_or_else(|| panic!("{module} has no floor: add it to the table and to DEVELOPERS.md")).1
}

/// The text without its comments: a rule is about code.
fn code(text: &str) -> String {
    text.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n")
}

/// The crate's modules a text speaks of.
fn modules_used(text: &str) -> Vec<String> {
    let code = code(text);
    let mut used = Vec::new();
    for (place, _) in code.match_indices("crate::") {
        let rest = &code[place + "crate::".len()..];
        match rest.strip_prefix('{') {
            Some(group) => used.extend(top_names(group)),
            None => used.push(first_name(rest)),
        }
    }
    used.retain(|name| !name.is_empty() && name.chars().all(|letter| letter.is_lowercase() || letter == '_'));
    used
}

fn first_name(text: &str) -> String {
    text.chars().take_while(|letter| letter.is_alphanumeric() || *letter == '_').collect()
}

/// The names at the top of a group of imports: `a::b, c::{d, e}}` gives a and c.
fn top_names(group: &str) -> Vec<String> {
    let mut depth = 1;
    let mut names = vec![String::new()];
    for letter in group.chars() {
        match letter {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 1 => names.push(String::new()),
            _ if depth == 1 => names.last_mut().expect("never empty").push(letter),
            _ => {}
        }
        if depth == 0 {
            break;
        }
    }
    names.iter().map(|name| first_name(name.trim())).collect()
}

#[test]
fn no_floor_leans_on_a_higher_one() {
    for (path, text) in sources("src") {
        let own = module(&path);
        for used in modules_used(&text).into_iter().filter(|used| *used != own) {
            let path = path.display();
            assert!(floor(&used) <= floor(&own), "{path} leans on {used}, which is above it");
        }
    }
}

#[test]
fn report_and_screen_do_not_see_each_other() {
    for (path, text) in sources("src") {
        let (own, used) = (module(&path), modules_used(&text));
        for (one, other) in [("report", "screen"), ("screen", "report")] {
            assert!(!(own == one && used.contains(&other.to_owned())), "{} sees {other}", path.display());
        }
    }
}

#[test]
fn the_core_does_no_input_or_output_and_reads_no_clock() {
    let forbidden = [
        ("std::fs", 5),
        ("std::env", 7),
        ("std::process", 5),
        ("std::time", 6),
        ("Local::now", 7),
        ("Utc::now", 7),
        ("serde::", 1),
        ("serde_json", 5),
        ("ron::", 4),
        ("ratatui", 6),
        ("crossterm", 6),
        ("clap", 7),
    ];
    for (path, text) in sources("src") {
        let own = floor(&module(&path));
        let code = code(&text);
        for (word, least) in forbidden {
            assert!(own >= least || !code.contains(word), "{} uses {word}", path.display());
        }
    }
}

#[test]
fn every_file_says_what_it_is_for() {
    for (path, text) in sources("src").into_iter().chain(sources("tests")) {
        assert!(text.starts_with("//!"), "{} does not open with what lives there", path.display());
    }
}

#[test]
fn no_file_grows_past_four_hundred_lines() {
    for (path, text) in sources("src").into_iter().chain(sources("tests")) {
        let lines = text.lines().count();
        assert!(lines <= 400, "{} has {lines} lines; what is it hiding?", path.display());
    }
}

/// A source without its unit tests.
fn outside_tests(text: &str) -> &str {
    text.split("#[cfg(test)]\nmod tests").next().unwrap_or_default()
}

/// A line without what says who sees the item on it.
fn item(line: &str) -> &str {
    let line = line.trim_start();
    let Some(seen) = line.strip_prefix("pub") else { return line };
    let behind =
        seen.strip_prefix('(').and_then(|within| within.split_once(')')).map_or(seen, |(_, item)| item);
    behind.trim_start()
}

/// The types that a source defines; those that a trait asks for by name are not among them.
fn types(text: &str) -> impl Iterator<Item = String> + '_ {
    outside_tests(text).lines().filter_map(|line| {
        let kinds = ["struct ", "enum ", "trait "].into_iter();
        let aliases = (!line.starts_with(' ')).then_some("type ");
        let name = kinds.chain(aliases).find_map(|kind| item(line).strip_prefix(kind))?;
        Some(first_name(name)).filter(|name| name.chars().next().is_some_and(char::is_uppercase))
    })
}

#[test]
fn a_name_belongs_to_one_type() {
    let mut found: BTreeMap<String, PathBuf> = BTreeMap::new();
    for (path, text) in sources("src").into_iter().filter(|(path, _)| !path.ends_with("tests.rs")) {
        for name in types(&text) {
            if let Some(first) = found.insert(name.clone(), path.clone()) {
                panic!("{name} is a type of {} and of {}", first.display(), path.display());
            }
        }
    }
    assert!(found.len() > 300, "{} types found; does this still read the sources?", found.len());
}

#[test]
fn no_function_grows_past_sixty_lines() {
    for (path, text) in sources("src") {
        let mut begun: Option<(usize, String)> = None;
        for (number, line) in outside_tests(&text).lines().enumerate() {
            let indent = line.len() - line.trim_start().len();
            let function =
                item(line).trim_start_matches("const ").starts_with("fn ") && !line.ends_with(['}', ';']);
            match &begun {
                None if function => begun = Some((number, format!("{}}}", " ".repeat(indent)))),
                Some((first, end)) if line.starts_with(end.as_str()) => {
                    let lines = number - first + 1;
                    assert!(
                        lines <= 60,
                        "{}:{} has {lines} lines; what is it hiding?",
                        path.display(),
                        first + 1
                    );
                    begun = None;
                }
                _ => {}
            }
        }
    }
}

#[test]
fn nothing_is_left_for_later() {
    // Put together here so that this file does not find itself.
    let words =
        [["to", "do!"], ["unimple", "mented!"], ["FIX", "ME"], ["TO", "DO"], ["XX", "X"], ["db", "g!("]];
    for (path, text) in sources("src").into_iter().chain(sources("tests")) {
        for word in words.map(|parts| parts.concat()) {
            assert!(!text.contains(&word), "{} says {word}", path.display());
        }
    }
}

#[test]
fn the_top_level_is_as_designed() {
    let designed = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "src",
        "assets",
        "tests",
        "sessions",
    ];
    for name in designed {
        assert!(root().join(name).exists(), "{name} is missing");
    }
    for entry in fs::read_dir(root()).expect("the project") {
        let name = entry.expect("an entry").file_name().to_string_lossy().into_owned();
        let build = ["target", "shots", "proptest-regressions"].contains(&name.as_str());
        assert!(
            build || name.starts_with('.') || designed.contains(&name.as_str()),
            "{name} is not in the design"
        );
    }
}

#[test]
fn every_test_file_is_part_of_a_binary() {
    let texts = sources("tests");
    for (path, _) in &texts {
        let name = path.file_stem().expect("a name").to_string_lossy();
        let declared = format!("mod {name};");
        let parent = path.parent().expect("a folder");
        let roots = [parent.with_extension("rs"), parent.join("main.rs")];
        let is_root = name == "main";
        let named = texts.iter().any(|(other, text)| roots.contains(other) && text.contains(&declared));
        assert!(is_root || named, "{} belongs to no test binary", path.display());
    }
}
