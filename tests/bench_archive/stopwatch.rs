//! Time and memory, told one line each.

use std::fs;
use std::hint::black_box;
use std::process::Command;
use std::time::{Duration, Instant};

/// Runs something once and tells how long it took.
pub(crate) fn timed<T>(what: &str, run: impl FnOnce() -> T) -> T {
    let mut case = Case::new(what);
    let result = case.measure(run);
    case.enter();
    result
}

/// Something measured several times.
pub(crate) struct Case {
    what: String,
    times: Vec<Duration>,
}

impl Case {
    pub(crate) fn new(what: &str) -> Self {
        Self { what: what.to_owned(), times: Vec::new() }
    }

    pub(crate) fn measure<T>(&mut self, run: impl FnOnce() -> T) -> T {
        let start = Instant::now();
        let result = black_box(run());
        self.took(start.elapsed());
        result
    }

    /// Takes in what was measured elsewhere.
    pub(crate) fn took(&mut self, time: Duration) {
        self.times.push(time);
    }

    /// The median, the shortest and the longest time. On a machine that does other things as well the shortest is nearest
    /// to what the work takes.
    pub(crate) fn enter(mut self) {
        self.times.sort_unstable();
        let ms = |time: Duration| time.as_secs_f64() * 1e3;
        let [shortest, median, longest] =
            [0, self.times.len() / 2, self.times.len() - 1].map(|place| ms(self.times[place]));
        println!("{:<48}{median:>10.1} ms, {shortest:.1} to {longest:.1} ms", self.what);
    }
}

/// Something that took so long, once.
pub(crate) fn enter(what: &str, time: Duration) {
    println!("{what:<48}{:>10.1} ms", time.as_secs_f64() * 1e3);
}

/// Empties the system's file cache, or says that the figure that needs it is left out.
pub(crate) fn empty_file_cache() -> bool {
    // Only what is on disk can be dropped.
    let _ = Command::new("sync").status();
    let emptied = fs::write("/proc/sys/vm/drop_caches", "3");
    if let Err(error) = &emptied {
        println!("NOT MEASURED: the file cache cannot be emptied here ({error})");
    }
    emptied.is_ok()
}

/// What of this program lies in memory now, and at most lay there, where the system tells (Linux, proc(5)).
pub(crate) fn tell_memory(what: &str) {
    tell_memory_of(what, "self");
}

/// The same of another process.
pub(crate) fn tell_memory_of(what: &str, process: &str) {
    let Ok(status) = fs::read_to_string(format!("/proc/{process}/status")) else {
        return println!("NOT MEASURED: this system does not tell what lies in memory");
    };
    let figure = |name: &str| {
        status.lines().find_map(|line| line.strip_prefix(name)).unwrap_or(" unknown").trim().to_owned()
    };
    println!("{what:<48}{:>13}, at most {}", figure("VmRSS:"), figure("VmHWM:"));
}
