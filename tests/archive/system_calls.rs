//! What the real disk asks of the system, as `strace` sees it: no test inside the program can tell whether a sync was
//! really asked for.

use super::{Shop, a_name, body, carries_on};
use coilwright::archive::{Archive, HoldOutcome, KeepError, RealDisk, StoredIn};
use std::fs;
use std::path::Path;
use std::process::Command;
use std::sync::Arc;

/// Set in the child: the folder that holds records and spool, and whether the write must fail.
const FOLDER: &str = "COILWRIGHT_TEST_TRACED_FOLDER";
const MUST_FAIL: &str = "COILWRIGHT_TEST_TRACED_FAILS";

/// The child's part: one step more of the session that is there.
fn keep_one_step(folder: &Path) {
    let archive =
        Archive::open(Arc::new(RealDisk), &folder.join("records"), &folder.join("spool"), None).unwrap();
    let Ok(HoldOutcome::Ours { mut held, .. }) = archive.hold(&a_name(), &carries_on) else {
        panic!("not to be held")
    };
    match (held.keep(&body(3)), std::env::var_os(MUST_FAIL)) {
        (Ok(StoredIn::InRecords { .. }), None) | (Err(KeepError::Nowhere { .. }), Some(_)) => {}
        other => panic!("{other:?}"),
    }
}

/// Runs `test` again under `strace` with `options` and returns the trace; `None` where nothing can be traced.
fn traced(shop: &Shop, test: &str, options: &[&str], must_fail: Option<&str>) -> Option<String> {
    let trace = shop.folder.path().join("trace");
    let mut strace = Command::new("strace");
    strace.args(["-f", "-y", "-qq", "-o"]).arg(&trace).args(options);
    strace.arg(std::env::current_exe().unwrap()).args(["--exact", test]).env(FOLDER, shop.folder.path());
    strace.envs(must_fail.map(|value| (MUST_FAIL, value)));
    match strace.output() {
        Ok(output) if String::from_utf8_lossy(&output.stdout).contains("running 1 test") => {
            assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stdout));
            fs::read_to_string(trace).ok()
        }
        other => {
            eprintln!("SKIPPED: nothing can be traced here: {other:?}");
            None
        }
    }
}

#[test]
fn the_file_is_synced_before_the_rename_and_the_folder_after_it() {
    if let Some(folder) = std::env::var_os(FOLDER) {
        return keep_one_step(Path::new(&folder));
    }
    let shop = Shop::with_steps(2);
    let calls = ["-e", "trace=fsync,link,linkat,rename,renameat,renameat2"];
    let test = "archive::system_calls::the_file_is_synced_before_the_rename_and_the_folder_after_it";
    let Some(trace) = traced(&shop, test, &calls, None) else { return };
    let steps: Vec<&str> = trace.lines().filter(|line| line.contains("/records")).map(kind).collect();
    assert_eq!(steps, ["sync file", "link", "rename to older", "rename to record", "sync folder"], "{trace}");
}

/// What a line of the trace did to the records folder.
fn kind(line: &str) -> &'static str {
    match line {
        _ if line.contains("fsync(") && line.contains(".tmp-") => "sync file",
        _ if line.contains("fsync(") && line.contains("/records>") => "sync folder",
        _ if line.contains("link") => "link",
        _ if line.contains("rename") && line.contains(".older\"") => "rename to older",
        _ if line.contains("rename") && line.contains(".ron\"") => "rename to record",
        _ => "something else",
    }
}

#[test]
fn a_sync_that_fails_in_the_system_is_not_taken_for_kept() {
    if let Some(folder) = std::env::var_os(FOLDER) {
        return keep_one_step(Path::new(&folder));
    }
    let shop = Shop::with_steps(2);
    let before = fs::read(shop.beside(&a_name().record())).unwrap();
    let inject = ["-e", "trace=fsync", "-e", "inject=fsync:error=EIO"];
    let test = "archive::system_calls::a_sync_that_fails_in_the_system_is_not_taken_for_kept";
    let Some(trace) = traced(&shop, test, &inject, Some("yes")) else { return };
    assert!(trace.contains("EIO"), "{trace}");
    assert_eq!(fs::read(shop.beside(&a_name().record())).unwrap(), before);
    assert!(!shop.spooled(&a_name()).exists());
}
