//! How long a shop with many sessions waits: `cargo bench --bench archive`; timings are no tests.
//!
//! Makes 100,000 invented records in a folder beside the build, which stands on a real disk, and measures listing, finding,
//! checking and rebuilding, beside `rg` over the same folder, and the same through the screen of the built program. With
//! `-- --folder FOLDER` the records are made there, stay, and are used again by the next run (`coilwright --records
//! FOLDER/records` shows them); `-- --sessions N` makes another number. Where `rg` is missing or the system does not let us
//! empty its file cache, the figure is left out and that is said.

mod commands;
mod invented;
mod screen;
mod stopwatch;

use chrono::{DateTime, Utc};
use clap::Parser;
use coilwright::archive::index::ScanNews;
use coilwright::archive::{Archive, Finder, FolderIdentity, Index, RealDisk};
use std::path::{self, Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::{env, fs};
use stopwatch::{Case, empty_file_cache, timed};

/// Names the folder to a second copy of this program that only loads, so that its memory can be read.
const LOAD_ONLY: &str = "COILWRIGHT_BENCH_LOAD_ONLY";

/// How long a shop with many sessions waits.
#[derive(Parser)]
struct Options {
    /// Invented records.
    #[arg(long, default_value_t = 100_000)]
    sessions: u32,
    /// Keep the records in this folder, and use those that are there.
    #[arg(long)]
    folder: Option<PathBuf>,
    /// Handed over by `cargo bench`.
    #[arg(long, hide = true)]
    bench: bool,
}

fn main() {
    if let Some(folder) = env::var_os(LOAD_ONLY) {
        return load_only(Path::new(&folder));
    }
    let options = Options::parse();
    let passing = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder");
    // The program is started elsewhere.
    let folder =
        path::absolute(options.folder.as_deref().unwrap_or(passing.path())).expect("a working folder");
    let folder = folder.as_path();
    let archive = archive(folder);
    make(&archive, options.sessions);
    reading(folder, &archive);
    listing(folder, &archive);
    finding(&archive.index(&folder.join("cache")));
    memory(folder);
    screen::screen(folder, options.sessions);
    commands::commands(folder);
}

/// Makes the records that are not there yet.
fn make(archive: &Archive, sessions: u32) {
    let there = archive.list().expect("the folder is there").sessions.len();
    if there == sessions as usize {
        return println!("{there} invented records are there");
    }
    assert_eq!(there, 0, "this folder holds another number of records; name an empty one");
    timed(&format!("make {sessions} invented records"), || invented::fill(archive, sessions));
}

fn archive(folder: &Path) -> Archive {
    let (records, spool) = (folder.join("records"), folder.join("spool"));
    Archive::create(Arc::new(RealDisk), &records, &spool, FolderIdentity::new(7)).expect("a records folder")
}

fn now() -> DateTime<Utc> {
    Utc::now() + chrono::TimeDelta::minutes(1)
}

/// Looks at everything and takes in what is new.
fn check(archive: &Archive, index: &mut Index) -> usize {
    let checking = archive.check(index, now());
    let mut read = 0;
    let news: Vec<_> = checking.all_news().inspect(|piece| read += count(piece)).collect();
    index.take_in(news).expect("the folder is there");
    read
}

fn count(piece: &ScanNews) -> usize {
    match piece {
        ScanNews::Read(sessions) => sessions.len(),
        ScanNews::Failed(error) => panic!("{error}"),
        _ => 0,
    }
}

/// Everything read anew, beside `rg`, with the file cache full and empty.
fn reading(folder: &Path, archive: &Archive) {
    let records = folder.join("records");
    let rebuild = || {
        let mut index = Index::empty(archive.identity());
        check(archive, &mut index);
        index
    };
    // The empty cache comes first: after the writing the disk is still busy, and only an emptied cache waits for it.
    if empty_file_cache() {
        timed("rebuild, file cache empty", rebuild);
    }
    timed("rebuild, file cache full", rebuild);
    rg("rg, file cache full", &records);
    if empty_file_cache() {
        rg("rg, file cache empty", &records);
    }
}

fn rg(what: &str, records: &Path) {
    if let Err(error) = Command::new("rg").arg("--version").output() {
        return println!("NOT MEASURED: {what}: {error}; install ripgrep to compare with it");
    }
    let mut search = Command::new("rg");
    search.args(["--no-messages", "--count", "--hidden", "Invented rider Q"]).arg(records);
    timed(what, || search.output()).expect("it just ran");
}

fn listing(folder: &Path, archive: &Archive) {
    let cache = folder.join("cache");
    let mut index = Index::empty(archive.identity());
    check(archive, &mut index);
    timed("save the index", || index.save(&cache)).expect("a cache folder");
    let size = fs::read_dir(&cache)
        .expect("a folder")
        .map(|entry| entry.unwrap().metadata().unwrap().len())
        .sum::<u64>();
    println!("{:<48}{:>10.1} MB", "size of the index", size as f64 / 1e6);
    if empty_file_cache() {
        timed("load the index, file cache empty", || archive.index(&cache));
    }
    let mut case = Case::new("load the index, file cache full");
    (0..10).for_each(|_| drop(case.measure(|| archive.index(&cache))));
    case.enter();
    let mut case = Case::new("check that nothing changed");
    for _ in 0..5 {
        assert_eq!(case.measure(|| check(archive, &mut index)), 0, "nothing is read again");
    }
    case.enter();
}

/// Queries typed a key at a time, and words given at once.
fn finding(index: &Index) {
    let mut case = Case::new("read the words of all sessions");
    (0..10).for_each(|_| drop(case.measure(|| Finder::new(index))));
    case.enter();
    let mut finder = Finder::new(index);
    for query in
        ["a", "450 enduro march", "lukaszz tolbin", "2026-03 e", "job 00012", "katazryna 500 trail green"]
    {
        let mut case = Case::new(&format!("find \"{query}\", a key stroke"));
        for end in 1..=query.len() {
            case.measure(|| finder.find(&query[..end]));
        }
        println!("{:<48}{:>10}", "  found", finder.find(query).len());
        case.enter();
        finder.find("");
    }
    println!(
        "{:<48}{:>10}",
        "load of the machine",
        fs::read_to_string("/proc/loadavg").unwrap_or_default().trim()
    );
}

fn memory(folder: &Path) {
    let program = env::current_exe().expect("this program");
    let output = Command::new(program).env(LOAD_ONLY, folder).output().expect("it runs");
    print!("{}", String::from_utf8_lossy(&output.stdout));
}

fn load_only(folder: &Path) {
    let archive = archive(folder);
    let mut index = archive.index(&folder.join("cache"));
    let mut finder = Finder::new(&index);
    finder.find("e");
    stopwatch::tell_memory("memory, index and words of all sessions");
    check(&archive, &mut index);
    let mut rebuilt = Index::empty(archive.identity());
    check(&archive, &mut rebuilt);
    stopwatch::tell_memory("memory, after a check and a second index");
}
