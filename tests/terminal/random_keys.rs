//! Random keys in the built program: it goes on or leaves in order, no entry is lost, and what the screen shows is what the
//! record on disk says.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use coilwright::archive::form;
use coilwright::archive::seal::read_seal;
use coilwright::phrase;
use coilwright::session::machine;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use super::{Running, home, pictures::shown, whole_session};

/// What begins the same run of keys again.
const SEED: u64 = 2026;
/// Keys in all, and how many are sent at once.
const KEYS: usize = 500;
const AT_ONCE: usize = 20;

/// Keys a hand may hit; none that leaves, so that a run does not end early more often than it goes on.
const HIT: [&str; 40] = [
    "\r",
    "\r",
    "\r",
    "\r",
    "\r",
    "\r",
    "\u{1b}",
    "\t",
    "\u{1b}[A",
    "\u{1b}[B",
    "\u{1b}[C",
    "\u{1b}[D",
    "\u{1b}[5~",
    "\u{1b}[6~",
    "\u{1b}[H",
    "\u{1b}[F",
    "\u{7f}",
    "\u{1b}[3~",
    "\u{6}",
    "\u{7}",
    "\u{b}",
    "\u{c}",
    "\u{e}",
    "\u{f}",
    "\u{10}",
    "\u{12}",
    "\u{14}",
    "\u{15}",
    "\u{17}",
    "\u{18}",
    "\u{19}",
    "0",
    "16.5",
    "19",
    "82",
    "450",
    "s 500",
    "n",
    "v",
    "Ü漢",
];

/// Entries of every record of the folder, each of which has to be sound and a legal walk.
fn entries(records: &Path) -> BTreeMap<String, usize> {
    let read = |path: std::path::PathBuf| {
        let text = fs::read_to_string(&path).expect("readable");
        assert!(read_seal(&text).is_sound(), "{} is not as it was written", path.display());
        let record = form::read(&text).expect("a sound record").record;
        machine::replay(&record).expect("a legal walk");
        (path.file_name().expect("a name").to_string_lossy().into_owned(), record.entries.len())
    };
    whole_session::record_files(records).into_iter().map(read).collect()
}

/// Whether the step of some record stands on the screen of the guide.
fn shows_a_step_of(records: &Path, screen: &str) -> bool {
    let steps = entries(records).into_keys().map(|name| {
        let text = fs::read_to_string(records.join(name)).expect("readable");
        machine::replay(&form::read(&text).expect("sound").record).expect("legal").step
    });
    steps.into_iter().any(|step| screen.contains(&format!("▶ {}", phrase::step(step).title)))
}

/// Sends random keys and looks at disk and screen after each handful.
fn hit(running: &mut Running, records: &Path, random: &mut StdRng, keys: usize) {
    let mut before = entries(records);
    for _ in 0..keys / AT_ONCE {
        let handful: Vec<&str> = (0..AT_ONCE).map(|_| HIT[random.random_range(0..HIT.len())]).collect();
        running.type_keys(&handful.concat());
        running.settle();
        if running.child.try_wait().expect("it can be asked").is_some() {
            return;
        }
        let now = entries(records);
        for (name, count) in &before {
            let left = now.get(name);
            assert!(left.is_some_and(|left| left >= count), "{name}: {left:?} of {count} after {handful:?}");
        }
        let screen = running.contents();
        assert!(!screen.contains("broke down"), "{screen}");
        let at_a_step = screen.contains("Guided walk") && screen.contains("✓ saved") && screen.contains('▶');
        assert!(!at_a_step || shows_a_step_of(records, &screen), "after {handful:?}:\n{screen}");
        before = now;
    }
}

#[test]
fn random_keys_lose_no_entry_and_leave_every_record_sound() {
    println!("seed {SEED}");
    let mut random = StdRng::seed_from_u64(SEED);
    // From the first screen of a shop with past sessions, and from the middle of the guide.
    for begun in [0, 1] {
        let home = home();
        let mut running = if begun == 0 {
            shown::keep_demonstrations(home.path());
            Running::start(home.path(), &[])
        } else {
            whole_session::at_the_bench(home.path())
        };
        running.settle();
        hit(&mut running, &home.path().join("records"), &mut random, KEYS / 2);
        if running.child.try_wait().expect("it can be asked").is_none() {
            running.type_keys("\u{3}\u{3}");
        }
        assert!(running.gave_the_terminal_back().success(), "{}", running.contents());
        entries(&home.path().join("records"));
    }
}
