//! The built program in a pseudo-terminal: from start to the first frame, and what it holds in memory.

use std::fs;
use std::io::Read;
use std::time::{Duration, Instant};

use criterion::Criterion;
use portable_pty::{CommandBuilder, PtySize, native_pty_system};

const PROGRAM: &str = env!("CARGO_BIN_EXE_coilwright");

/// Time until the first frame is out, and the kilobytes resident then (Linux only).
fn started(home: &std::path::Path) -> (Duration, Option<u64>) {
    let size = PtySize { rows: 40, cols: 140, pixel_width: 0, pixel_height: 0 };
    let pair = native_pty_system().openpty(size).expect("a pseudo-terminal");
    let mut command = CommandBuilder::new(PROGRAM);
    command.env("HOME", home);
    command.env("LANG", "C.UTF-8");
    command.env("TERM", "xterm-256color");
    command.env("COILWRIGHT_RECORDS", home.join("records"));
    let mut out = pair.master.try_clone_reader().expect("a reader");
    let start = Instant::now();
    let mut child = pair.slave.spawn_command(command).expect("the program starts");
    let mut seen = Vec::new();
    let mut buffer = [0; 4096];
    while !seen.windows(4).any(|piece| piece == b"Quit") {
        let count = out.read(&mut buffer).expect("the program draws");
        seen.extend_from_slice(&buffer[..count]);
    }
    let taken = start.elapsed();
    let resident = child.process_id().and_then(resident);
    child.kill().expect("it can be stopped");
    child.wait().expect("it ends");
    (taken, resident)
}

fn resident(process: u32) -> Option<u64> {
    let status = fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    status.lines().find_map(|line| line.strip_prefix("VmRSS:"))?.trim().strip_suffix(" kB")?.parse().ok()
}

pub(crate) fn program(criterion: &mut Criterion) {
    let home = tempfile::tempdir().expect("a folder");
    if let (_, Some(kilobytes)) = started(home.path()) {
        println!("resident on the first screen: {:.1} MiB", kilobytes as f64 / 1024.0);
    }
    let mut group = criterion.benchmark_group("program");
    group.sample_size(20);
    group.bench_function("start to first frame", |bencher| {
        bencher.iter_custom(|rounds| (0..rounds).map(|_| started(home.path()).0).sum());
    });
    group.finish();
}
