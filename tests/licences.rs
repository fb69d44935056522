//! Every crate that is built here, for the program or its tests, has a licence that lets us give the program away.
//!
//! Asks `cargo tree`, which knows what is truly built on this system; `cargo metadata` also names what no feature turns on.
//! Not here: the texts of the licences, which `.ci/bundle` puts beside the program.

use std::process::Command;

/// Enough for each crate: one that offers a choice needs one of them. MPL-2.0 asks nothing of a crate that is used unchanged.
const ALLOWED: [&str; 5] = ["MIT", "Apache-2.0", "Zlib", "Unicode-3.0", "MPL-2.0"];

/// Whether an SPDX expression can be met by licences of the list; the older `/` is an `OR`.
fn allowed(expression: &str) -> bool {
    let mut text = expression.replace('/', " OR ");
    while let Some(closing) = text.find(')') {
        let Some(opening) = text[..closing].rfind('(') else { return false };
        let group = if met(&text[opening + 1..closing]) { ALLOWED[0] } else { "none" };
        text.replace_range(opening..=closing, group);
    }
    met(&text)
}

/// The same without brackets, where AND binds before OR. An exception after WITH only ever allows more.
fn met(text: &str) -> bool {
    let listed = |name: &str| ALLOWED.contains(&name.split(" WITH ").next().unwrap_or(name).trim());
    text.split(" OR ").any(|way| way.split(" AND ").all(listed))
}

#[test]
fn every_crate_may_be_given_away() {
    let tree = Command::new(env!("CARGO"))
        .args(["tree", "--locked", "--offline", "--prefix", "none", "--format", "{l}|{p}"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo is there");
    assert!(tree.status.success(), "{}", String::from_utf8_lossy(&tree.stderr));
    let crates = String::from_utf8(tree.stdout).expect("text");
    assert!(crates.contains("|ratatui v"), "the crates of the program are among them: {crates}");
    for line in crates.lines().filter(|line| !line.is_empty()) {
        let (licence, name) = line.split_once('|').expect("licence and name");
        assert!(allowed(licence), "{name} has the licence \"{licence}\", which is not on the list");
    }
}

#[test]
fn an_expression_is_read_as_spdx_means_it() {
    let met =
        ["MIT", "MIT/GPL-3.0-only", "(MIT OR Apache-2.0) AND Unicode-3.0", "GPL-3.0-only AND MIT OR Zlib"];
    let unmet =
        ["", "GPL-3.0-only", "MIT AND GPL-3.0-only", "Zlib AND (GPL-3.0-only OR WTFPL)", "(MIT", "MIT MIT"];
    assert!(met.into_iter().chain(["Apache-2.0 WITH LLVM-exception"]).all(allowed));
    for expression in unmet {
        assert!(!allowed(expression), "{expression}");
    }
}
