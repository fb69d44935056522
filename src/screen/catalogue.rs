//! All sessions of the folder, as far as they are known: the index, what a query finds in it, and how far the check behind
//! it has come.
//!
//! News of a check change the index and with it what a query finds. On a first look at a large folder they come by the
//! thousand, so portions are held back until they are worth the reckoning. Not here: reading records (`archive`), and how
//! the list looks (`place::review`).

use std::cell::OnceCell;
use std::sync::Arc;

use crate::archive::index::{Contents, IndexedSession, ScanNews};
use crate::archive::{Finder, Index, Register};
use crate::assessment::marks::MarkBook;
use crate::assets;
use crate::phrase;
use crate::session::ShopSpring;

/// News are taken in once they are this part of what is known: the reckoning then grows with the folder, not its square.
const WORTH_IT: usize = 2;

/// What is known of all sessions.
#[derive(Debug)]
pub struct Catalogue {
    index: Arc<Index>,
    finder: Finder,
    query: String,
    /// Places in the index of what the query finds, best first.
    found: Vec<usize>,
    held_back: Vec<ScanNews>,
    check: ScanProgress,
    /// Whether the index is no longer the one that was remembered.
    different: bool,
    /// Its customers, once somebody asks for them.
    register: OnceCell<Register>,
}

/// How far the check has come.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ScanProgress {
    /// So many of all files were looked at; of none while they are being listed.
    UnderWay {
        /// So far.
        files: usize,
        /// In all.
        of: usize,
    },
    /// Everything was looked at.
    Done,
    /// The folder could not be listed; a sentence.
    Failed(String),
}

impl Catalogue {
    /// What is remembered, with a check under way.
    pub fn new(index: Index) -> Self {
        let index = Arc::new(index);
        let mut catalogue = Self {
            finder: Finder::behind(&index),
            index,
            query: String::new(),
            found: Vec::new(),
            held_back: Vec::new(),
            check: ScanProgress::UnderWay { files: 0, of: 0 },
            different: false,
            register: OnceCell::new(),
        };
        catalogue.find_again();
        catalogue
    }

    /// Finds by other words.
    pub fn ask(&mut self, query: &str) {
        if self.query != query {
            query.clone_into(&mut self.query);
            self.find_again();
        }
    }

    /// The places in [`Catalogue::all`] of what other words find, best first; what was asked for stays as it is.
    pub fn find(&mut self, query: &str) -> Vec<usize> {
        self.finder.find(query)
    }

    /// How many sessions the words find.
    pub fn found(&self) -> usize {
        self.found.len()
    }

    /// How many sessions there are.
    pub fn all(&self) -> &[IndexedSession] {
        self.index.sessions()
    }

    /// The session at a place of what was found.
    pub fn at(&self, place: usize) -> Option<&IndexedSession> {
        self.index.sessions().get(*self.found.get(place)?)
    }

    /// The customers of all sessions.
    pub fn register(&self) -> &Register {
        self.register.get_or_init(|| Register::of(&self.index))
    }

    /// What all sessions teach of marked springs, those of the rack among them.
    pub fn marks(&self, rack: &[ShopSpring]) -> MarkBook {
        let teach = self.index.sessions().iter().filter_map(|session| match &session.contents {
            Contents::Read(summary) => summary.teaches(),
            Contents::Unreadable { .. } => None,
        });
        MarkBook::of(teach.collect(), rack, assets::doubts())
    }

    /// How far the check has come.
    pub fn check(&self) -> &ScanProgress {
        &self.check
    }

    /// Takes in what a check found. At its end gives back what is to be remembered, if anything is new.
    pub fn take_in(&mut self, news: Vec<ScanNews>) -> Option<Arc<Index>> {
        for piece in news {
            match piece {
                ScanNews::Looked { files, of } => self.looked(files, of),
                ScanNews::Done => self.check = ScanProgress::Done,
                ScanNews::Failed(error) => {
                    self.check = ScanProgress::Failed(phrase::sentence(&error.to_string()));
                }
                found => self.held_back.push(found),
            }
        }
        let ended = !matches!(self.check, ScanProgress::UnderWay { .. });
        if ended || self.is_worth_it() {
            self.take_in_held_back();
        }
        (ended && std::mem::take(&mut self.different)).then(|| Arc::clone(&self.index))
    }

    /// Portions of several threads arrive out of order; the count never goes back.
    fn looked(&mut self, files: usize, of: usize) {
        if let ScanProgress::UnderWay { files: before, .. } = self.check {
            self.check = ScanProgress::UnderWay { files: files.max(before), of };
        }
    }

    fn is_worth_it(&self) -> bool {
        let count = |piece: &ScanNews| match piece {
            ScanNews::Read(sessions) => sessions.len(),
            ScanNews::Gone(names) => names.len(),
            _ => 0,
        };
        let waiting: usize = self.held_back.iter().map(count).sum();
        waiting > 0 && waiting * WORTH_IT >= self.index.sessions().len()
    }

    fn take_in_held_back(&mut self) {
        let news = std::mem::take(&mut self.held_back);
        // An index that a thread still reads would be copied whole to be changed.
        self.finder.settle();
        // Only a listing that failed is an error, and that is never held back.
        if Arc::make_mut(&mut self.index).take_in(news).unwrap_or(false) {
            self.different = true;
            self.register = OnceCell::new();
            self.finder = Finder::behind(&self.index);
            self.find_again();
        }
    }

    fn find_again(&mut self) {
        self.found = self.finder.find(&self.query);
    }
}
