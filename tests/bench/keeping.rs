//! Writing a step: text of the record, check value, sync, rename, sync of the folder.

use std::sync::Arc;

use chrono::DateTime;
use coilwright::archive::form::{self, Unknown};
use coilwright::archive::{Archive, FolderIdentity, RealDisk, SessionName};
use criterion::Criterion;

use crate::assessing::session;

pub(crate) fn keeping(criterion: &mut Criterion) {
    let record = session(30);
    let body = form::write(&record, &Unknown::default()).expect("a writable record");
    criterion.bench_function("text of a record of 30 sets", |bencher| {
        bencher.iter(|| form::write(&record, &Unknown::default()));
    });
    criterion.bench_function("read a record of 30 sets", |bencher| bencher.iter(|| form::read(&body)));
    // Beside the build, which stands on a real disk; a temporary folder may be memory.
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder");
    let (records, spool) = (folder.path().join("records"), folder.path().join("spool"));
    let archive =
        Archive::create(Arc::new(RealDisk), &records, &spool, FolderIdentity::new(7)).expect("a folder");
    let mut held =
        archive.begin(SessionName::new(&DateTime::<chrono::Utc>::default(), 1)).expect("a session");
    criterion.bench_function("keep a step on disk, with fsync", |bencher| bencher.iter(|| held.keep(&body)));
}
