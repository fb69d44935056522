//! A question asked once: the same answer coming again is a yes.

/// What has been asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Confirm<Question>(Option<Question>);

impl<Question> Default for Confirm<Question> {
    fn default() -> Self {
        Self(None)
    }
}

impl<Question: PartialEq> Confirm<Question> {
    /// Whether this was asked just before; where it was not, it is now.
    pub fn once(&mut self, question: Question) -> bool {
        let asked = self.0.as_ref() == Some(&question);
        self.0 = Some(question);
        asked
    }

    /// Forgets the question: something else came between.
    pub fn forget(&mut self) {
        self.0 = None;
    }

    /// Whether a question stands.
    pub const fn stands(&self) -> bool {
        self.0.is_some()
    }
}
