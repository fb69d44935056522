//! A disk in memory that knows, after every operation, what a power cut may leave.
//!
//! The model is meaner than any one file system: names made since the last sync of their folder may each have lasted or
//! not, in any combination; a file written since its last sync may be empty, cut, all zeros, as before or whole. Syncing a
//! file does not make its name last.

use coilwright::archive::lock::LockAnswer;
use coilwright::archive::{Disk, FileKind, RealDisk};
use rand::RngExt;
use rand::rngs::StdRng;
use std::collections::{BTreeMap, BTreeSet};
use std::ffi::OsString;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard};
use tempfile::TempDir;

/// What is left on a disk: path and bytes.
pub(crate) type Remains = BTreeMap<PathBuf, Vec<u8>>;

/// A mistake that a writer could make, built into the disk.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Defect {
    None,
    NoFileSync,
    NoFolderSync,
    TruncateInPlace,
}

#[derive(Clone, Debug)]
struct Inode {
    now: Vec<u8>,
    lasting: Option<Vec<u8>>,
    synced: bool,
}

/// One change of names that lasts or not as a whole.
type Change = Vec<(PathBuf, Option<usize>)>;

/// The state of the disk at one moment, and how far the writer had been told its steps were safe.
#[derive(Clone, Debug, Default)]
pub(crate) struct Moment {
    inodes: Vec<Inode>,
    names: BTreeMap<PathBuf, usize>,
    lasting: BTreeMap<PathBuf, usize>,
    pending: Vec<(PathBuf, Change)>,
    pub(crate) acknowledged: u64,
}

#[derive(Debug)]
pub(crate) struct SimulatedDisk {
    now: Mutex<Moment>,
    moments: Mutex<Vec<Moment>>,
    defect: Mutex<Defect>,
    /// Folders in which there is no room left.
    full: Mutex<Option<PathBuf>>,
    locks: TempDir,
}

impl SimulatedDisk {
    pub(crate) fn new() -> Self {
        let locks = tempfile::tempdir().expect("a folder for locks");
        let (now, moments, full) = (Mutex::default(), Mutex::default(), Mutex::default());
        Self { now, moments, defect: Mutex::new(Defect::None), full, locks }
    }

    /// The disk as found when the power is back.
    pub(crate) fn rebooted(remains: &Remains) -> Self {
        let disk = Self::new();
        let mut now = disk.now();
        for (path, bytes) in remains {
            now.inodes.push(Inode { now: bytes.clone(), lasting: None, synced: true });
            let inode = now.inodes.len() - 1;
            now.names.insert(path.clone(), inode);
        }
        now.lasting = now.names.clone();
        drop(now);
        disk
    }

    /// From now on the disk makes this mistake.
    pub(crate) fn spoil(&self, defect: Defect) {
        *self.defect.lock().unwrap() = defect;
    }

    /// From now on there is no room in this folder, or in none such.
    pub(crate) fn fill_up(&self, folder: Option<&Path>) {
        *self.full.lock().unwrap() = folder.map(Path::to_owned);
    }

    fn defect(&self) -> Defect {
        *self.defect.lock().unwrap()
    }

    pub(crate) fn acknowledge(&self, revision: u64) {
        self.now().acknowledged = revision;
        self.moment();
    }

    pub(crate) fn moments(&self) -> Vec<Moment> {
        self.moments.lock().unwrap().clone()
    }

    fn now(&self) -> MutexGuard<'_, Moment> {
        self.now.lock().unwrap()
    }

    fn moment(&self) {
        let now = self.now().clone();
        self.moments.lock().unwrap().push(now);
    }

    fn rename_names(&self, change: Change) {
        let mut now = self.now();
        for (path, inode) in &change {
            match inode {
                Some(inode) => now.names.insert(path.clone(), *inode),
                None => now.names.remove(path),
            };
        }
        let folder = change[0].0.parent().unwrap().to_owned();
        now.pending.push((folder, change));
        drop(now);
        self.moment();
    }

    /// Writes half, then all, then syncs, each a moment.
    fn fill(&self, inode: usize, bytes: &[u8]) {
        for part in [&bytes[..bytes.len() / 2], bytes] {
            part.clone_into(&mut self.now().inodes[inode].now);
            self.now().inodes[inode].synced = false;
            self.moment();
        }
        if self.defect() != Defect::NoFileSync {
            let inode = &mut self.now().inodes[inode];
            inode.synced = true;
            inode.lasting = Some(inode.now.clone());
        }
        self.moment();
    }

    fn inode(&self, path: &Path) -> io::Result<usize> {
        self.now().names.get(path).copied().ok_or_else(|| io::ErrorKind::NotFound.into())
    }
}

impl Moment {
    /// Every state a power cut at this moment may leave.
    pub(crate) fn remains(&self) -> BTreeSet<Remains> {
        let mut all = BTreeSet::new();
        for chosen in 0..1_u32 << self.pending.len() {
            let mut names = self.lasting.clone();
            for (number, (_, change)) in self.pending.iter().enumerate() {
                if chosen & (1 << number) != 0 {
                    for (path, inode) in change {
                        match inode {
                            Some(inode) => names.insert(path.clone(), *inode),
                            None => names.remove(path),
                        };
                    }
                }
            }
            all.extend(self.fill_in(&names));
        }
        all
    }

    /// One of the states a power cut at this moment may leave, drawn at random.
    pub(crate) fn some_remains(&self, random: &mut StdRng) -> Remains {
        let mut names = self.lasting.clone();
        for (path, inode) in
            self.pending.iter().filter(|_| random.random_bool(0.5)).flat_map(|(_, change)| change)
        {
            match inode {
                Some(inode) => names.insert(path.clone(), *inode),
                None => names.remove(path),
            };
        }
        let mut contents: BTreeMap<usize, Vec<u8>> = BTreeMap::new();
        for inode in names.values() {
            let choices = self.inodes[*inode].after_a_cut();
            let chosen = random.random_range(0..choices.len());
            contents.entry(*inode).or_insert_with(|| choices.into_iter().nth(chosen).expect("one of them"));
        }
        names.into_iter().map(|(path, inode)| (path, contents[&inode].clone())).collect()
    }

    /// The names with every content each file may have; two names of one file share it.
    fn fill_in(&self, names: &BTreeMap<PathBuf, usize>) -> Vec<Remains> {
        let mut worlds: Vec<BTreeMap<usize, Vec<u8>>> = vec![BTreeMap::new()];
        for inode in names.values().collect::<BTreeSet<_>>() {
            let contents = self.inodes[*inode].after_a_cut();
            worlds = worlds
                .iter()
                .flat_map(|world| contents.iter().map(move |content| (world.clone(), content.clone())))
                .map(|(mut world, content)| {
                    world.insert(*inode, content);
                    world
                })
                .collect();
        }
        let with_contents = |world: &BTreeMap<usize, Vec<u8>>| {
            names.iter().map(|(path, inode)| (path.clone(), world[inode].clone())).collect()
        };
        worlds.iter().map(with_contents).collect()
    }
}

impl Inode {
    fn after_a_cut(&self) -> BTreeSet<Vec<u8>> {
        let mut contents = BTreeSet::from([self.now.clone()]);
        if !self.synced {
            contents.extend([Vec::new(), self.now[..self.now.len() / 2].to_vec(), vec![0; self.now.len()]]);
            contents.extend(self.lasting.clone());
        }
        contents
    }
}

impl Disk for SimulatedDisk {
    fn create_new(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        if self.inode(path).is_ok() {
            return Err(io::ErrorKind::AlreadyExists.into());
        }
        let inode = self.now().inodes.len();
        self.now().inodes.push(Inode { now: Vec::new(), lasting: None, synced: false });
        self.rename_names(vec![(path.to_owned(), Some(inode))]);
        if self.full.lock().unwrap().as_deref() == path.parent() {
            bytes[..bytes.len() / 2].clone_into(&mut self.now().inodes[inode].now);
            self.moment();
            return Err(io::ErrorKind::StorageFull.into());
        }
        self.fill(inode, bytes);
        Ok(())
    }

    fn link_or_copy(&self, from: &Path, to: &Path) -> io::Result<()> {
        let inode = self.inode(from)?;
        if self.inode(to).is_ok() {
            return Err(io::ErrorKind::AlreadyExists.into());
        }
        self.rename_names(vec![(to.to_owned(), Some(inode))]);
        Ok(())
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        let inode = self.inode(from)?;
        match self.inode(to) {
            Ok(there) if there == inode => return Ok(()),
            Ok(there) if self.defect() == Defect::TruncateInPlace => {
                let bytes = self.now().inodes[inode].now.clone();
                self.fill(there, &bytes);
                return self.remove(from);
            }
            _ => {}
        }
        self.rename_names(vec![(to.to_owned(), Some(inode)), (from.to_owned(), None)]);
        Ok(())
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.inode(path)?;
        self.rename_names(vec![(path.to_owned(), None)]);
        Ok(())
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        if self.defect() != Defect::NoFolderSync {
            let mut now = self.now();
            let (settled, open): (Vec<_>, Vec<_>) =
                std::mem::take(&mut now.pending).into_iter().partition(|(place, _)| place == folder);
            now.pending = open;
            for (path, inode) in settled.into_iter().flat_map(|(_, change)| change) {
                match inode {
                    Some(inode) => now.lasting.insert(path, inode),
                    None => now.lasting.remove(&path),
                };
            }
        }
        self.moment();
        Ok(())
    }

    fn create_folder(&self, _: &Path) -> io::Result<()> {
        Ok(())
    }

    fn look(&self, path: &Path) -> io::Result<FileKind> {
        let inode = self.inode(path)?;
        Ok(FileKind::Plain { length: self.now().inodes[inode].now.len() as u64 })
    }

    fn read(&self, path: &Path, _: u64) -> io::Result<Vec<u8>> {
        let inode = self.inode(path)?;
        Ok(self.now().inodes[inode].now.clone())
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<OsString>> {
        let inside = |path: &&PathBuf| path.parent() == Some(folder);
        Ok(self
            .now()
            .names
            .keys()
            .filter(inside)
            .filter_map(|path| path.file_name().map(OsString::from))
            .collect())
    }

    /// Locks are no part of what a power cut leaves; real ones in a folder of our own serve.
    fn lock(&self, path: &Path) -> LockAnswer {
        RealDisk.lock(&self.locks.path().join(path.to_string_lossy().replace('/', "_")))
    }
}
