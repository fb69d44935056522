//! The check behind a list that is shown already: which files are no longer those that were read, read anew by many threads.
//!
//! One thread lists the folder; the workers take the names one after another, look at each file, and read and walk only what
//! changed. What they find comes over a channel in portions, so a screen can take in a portion a frame. Dropping the check
//! ends it soon; what came before stays good. Fetching a text waits for the disk or the network most of the time, which is
//! why there are more threads than cores.

use super::location::FolderListing;
use super::{FileStamp, Index, IndexedSession};
use crate::archive::{Archive, FolderError, SessionName};
use chrono::{DateTime, TimeDelta, Utc};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, SyncSender};
use std::thread;

/// Threads that read, for each core. Cold reads gain from many, and waiting threads cost next to nothing.
const THREADS: usize = 4;

/// How many files a worker takes at a time.
const PORTION: usize = 64;

/// Portions that may wait to be taken in; then the workers wait, so that a slow taker costs no memory.
const WAITING: usize = 64;

/// A piece of what a check finds.
#[derive(Debug)]
pub enum ScanNews {
    /// So many of all files were looked at. Portions of several threads may arrive out of order.
    Looked {
        /// So far.
        files: usize,
        /// In all.
        of: usize,
    },
    /// These were read, because they are new or changed.
    Read(Vec<IndexedSession>),
    /// These are no longer there.
    Gone(Vec<SessionName>),
    /// Everything was looked at; nothing comes after this.
    Done,
    /// The folder could not be listed; nothing was learned, and nothing comes after this.
    Failed(FolderError),
}

/// A check under way. Ends soon when dropped.
#[derive(Debug)]
pub struct FolderScan {
    news: Receiver<ScanNews>,
    left: Arc<AtomicBool>,
}

impl FolderScan {
    /// What was found since the last call, without waiting.
    pub fn news(&self) -> impl Iterator<Item = ScanNews> + '_ {
        self.news.try_iter()
    }

    /// What is found next, waiting so long at most.
    ///
    /// # Errors
    /// Where nothing came, or the check has ended.
    pub fn next(&self, wait: TimeDelta) -> Result<ScanNews, RecvTimeoutError> {
        self.news.recv_timeout(wait.to_std().unwrap_or_default())
    }

    /// What is found from here on, waiting for each piece; ends with the check.
    pub fn all_news(&self) -> impl Iterator<Item = ScanNews> + '_ {
        self.news.iter()
    }
}

impl Drop for FolderScan {
    fn drop(&mut self) {
        self.left.store(true, Ordering::Relaxed);
    }
}

impl Archive {
    /// Begins to look, in the background, what of `index` no longer holds. `now` is the time by our clock.
    pub fn check(&self, index: &Index, now: DateTime<Utc>) -> FolderScan {
        let (sender, news) = mpsc::sync_channel(WAITING);
        let left = Arc::new(AtomicBool::new(false));
        let known = index.traces();
        let (archive, ended) = (self.clone(), Arc::clone(&left));
        thread::spawn(move || match archive.there() {
            Ok(there) => {
                ScanRound { archive, known, there, now, left: ended }.go(&sender);
            }
            Err(error) => drop(sender.send(ScanNews::Failed(error))),
        });
        FolderScan { news, left }
    }
}

/// What the workers of one check share.
struct ScanRound {
    archive: Archive,
    /// Newest name first.
    known: Vec<(SessionName, Option<FileStamp>)>,
    there: FolderListing,
    now: DateTime<Utc>,
    left: Arc<AtomicBool>,
}

impl ScanRound {
    fn go(self, sender: &SyncSender<ScanNews>) {
        let (next, looked) = (AtomicUsize::new(0), AtomicUsize::new(0));
        let threads = THREADS * thread::available_parallelism().map_or(1, usize::from);
        thread::scope(|scope| {
            for _ in 0..threads.min(1 + self.there.recorded.len() / PORTION) {
                let sender = sender.clone();
                let (round, next, looked) = (&self, &next, &looked);
                scope.spawn(move || round.work(next, looked, &sender));
            }
        });
        if !self.is_left() {
            let without =
                self.there.left.iter().map(|(name, files)| self.archive.read_what_is_left(name, files));
            let without: Vec<_> = without.collect();
            let news = [ScanNews::Read(without), ScanNews::Gone(self.gone()), ScanNews::Done];
            // Nobody may listen any more.
            let _ = news.into_iter().try_for_each(|piece| sender.send(piece));
        }
    }

    fn is_left(&self) -> bool {
        self.left.load(Ordering::Relaxed)
    }

    fn work(&self, next: &AtomicUsize, looked: &AtomicUsize, sender: &SyncSender<ScanNews>) {
        let all = &self.there.recorded;
        loop {
            let start = next.fetch_add(PORTION, Ordering::Relaxed);
            let Some(names) = all.get(start..all.len().min(start + PORTION)) else { return };
            if names.is_empty() || self.is_left() {
                return;
            }
            let read: Vec<_> = names.iter().filter_map(|name| self.read(name)).collect();
            let files = looked.fetch_add(names.len(), Ordering::Relaxed) + names.len();
            let news = [ScanNews::Looked { files, of: all.len() }, ScanNews::Read(read)];
            let worth_telling =
                news.into_iter().filter(|piece| !matches!(piece, ScanNews::Read(read) if read.is_empty()));
            for piece in worth_telling {
                // Nobody listens any more: the check was left.
                if sender.send(piece).is_err() {
                    return;
                }
            }
        }
    }

    /// A session from its record, unless its file is the one that was read.
    fn read(&self, name: &SessionName) -> Option<IndexedSession> {
        let known = self.known.binary_search_by(|(other, _)| name.cmp(other)).ok();
        self.archive.read_record(name, known.and_then(|place| self.known[place].1), self.now)
    }

    fn gone(&self) -> Vec<SessionName> {
        let known = self.known.iter().map(|(name, _)| name);
        known.filter(|name| !self.there.has(name)).cloned().collect()
    }
}
