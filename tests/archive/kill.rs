//! A program killed at random while it writes, forty times over, and more often in the soak. (This proves nothing about
//! syncing: that is `power_cut`.)

use super::{a_name, body, carries_on};
use crate::soak;
use coilwright::archive::seal::seal;
use coilwright::archive::{
    Archive, FolderIdentity, HoldOutcome, RealDisk, Revision, SessionWriter, StoredIn,
};
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::time::Duration;

/// Set in the child: the folder to write in.
const FOLDER: &str = "COILWRIGHT_TEST_KILL_FOLDER";
const TEST: &str = "archive::kill::a_killed_program_loses_no_acknowledged_step";
const ROUNDS: u32 = 40;

/// The parent runs this very test again as the child, which writes until it is killed.
#[test]
fn a_killed_program_loses_no_acknowledged_step() {
    if let Ok(folder) = std::env::var(FOLDER) {
        write_for_ever(Path::new(&folder));
    }
    let folder = tempfile::tempdir().unwrap();
    let mut last = 0;
    let rounds = soak::rounds(ROUNDS);
    for round in 0..rounds {
        let acknowledged =
            run_and_kill(folder.path(), Duration::from_micros(u64::from(round) * 7919 % 20_000));
        assert!(acknowledged > last, "round {round}: the child got nowhere past step {last}");
        let (held, text) = take_over(&archive(folder.path()));
        assert!(held.revision() >= Revision::new(acknowledged), "round {round}: step {acknowledged} is lost");
        assert_eq!(text, seal(&body(held.revision().get()), held.revision()), "round {round}");
        last = acknowledged;
        drop(held);
        assert_eq!(archive(folder.path()).list().unwrap().unsettled, [], "round {round}");
    }
    soak::came_to(&format!("killed {rounds} times, {last} acknowledged steps, none lost"));
}

fn archive(folder: &Path) -> Archive {
    let (records, spool) = (folder.join("records"), folder.join("spool"));
    Archive::create(Arc::new(RealDisk), &records, &spool, FolderIdentity::new(7)).unwrap()
}

fn take_over(archive: &Archive) -> (Box<SessionWriter>, String) {
    match archive.hold(&a_name(), &carries_on) {
        Ok(HoldOutcome::Ours { held, opened, settled }) if settled.rivals.is_empty() => (held, opened.text),
        other => panic!("the session cannot be taken over: {other:?}"),
    }
}

fn write_for_ever(folder: &Path) -> ! {
    let archive = archive(folder);
    let mut held = match archive.begin(a_name()) {
        Ok(held) => Box::new(held),
        Err(_) => take_over(&archive).0,
    };
    loop {
        let step = held.revision().next().get();
        let kept = held.keep(&body(step)).unwrap();
        assert!(matches!(kept, StoredIn::InRecords { set_aside: None, .. }), "{kept:?}");
        let mut out = std::io::stdout().lock();
        writeln!(out, "kept {step}").unwrap();
        out.flush().unwrap();
    }
}

/// Returns the last step the child said was kept.
fn run_and_kill(folder: &Path, after: Duration) -> u64 {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", TEST, "--nocapture"])
        .env(FOLDER, folder)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
    // What the test harness prints may stand before the first word of the child on its line.
    let step = |line: String| line.rsplit_once("kept ")?.1.parse::<u64>().ok();
    let first = lines.by_ref().find_map(step);
    std::thread::sleep(after);
    child.kill().unwrap();
    child.wait().unwrap();
    lines.filter_map(step).last().or(first).expect("the child kept at least one step")
}
