//! What a key can ask for, wherever one is.
//!
//! Not here: which key it is (`keys`), where it is live and what it does (`place`).

/// Something a key asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Action {
    /// Accept what stands there.
    Accept,
    /// One row on.
    Next,
    /// One row back.
    Previous,
    /// A page on.
    PageDown,
    /// A page back.
    PageUp,
    /// The next choice of a row.
    ChoiceRight,
    /// The choice before.
    ChoiceLeft,
    /// This bike has nothing of the kind.
    HasNone,
    /// Pass the check or step over, with a reason.
    Skip,
    /// Every check left of the list is done.
    AllDone,
    /// Take back the last step.
    Undo,
    /// Do again what was taken back.
    Redo,
    /// Start the present step anew.
    StartAgain,
    /// A reading does not count.
    Void,
    /// Enough readings: on to the verdict.
    Enough,
    /// Write a remark.
    Note,
    /// What the trail told, after the session was closed.
    LateTrail,
    /// Write the sheet of the bike: as found, as left, the ride.
    Sheet,
    /// Read the indicator in the other way: dragged by sitting down, or pushed while the rider sits.
    OtherReading,
    /// Read under another condition: a pack, another rider.
    Condition,
    /// Look at the details told, and correct them.
    Details,
    /// Go between the guided walk and quick trials.
    OtherMode,
    /// Add one to the list.
    Add,
    /// Take one out of the list.
    Remove,
    /// Go on with a past session.
    GoOn,
    /// Pick a past session for comparing, or let it go.
    Pick,
    /// Go to the tally of the finished sessions.
    Tally,
    /// Hold sessions against each other.
    Compare,
    /// The customer is back: a new session from a past one.
    ComeBack,
    /// Write the setup card, and show it.
    Card,
    /// Watch the session moment by moment.
    Watch,
    /// Forget the customer: see what there is of them, and remove it on a word.
    Forget,
    /// The figures behind what stands here.
    Figures,
    /// The next set of units.
    Units,
    /// The mouse changes hands.
    Mouse,
    /// Help.
    Help,
    /// The list of everything that can be done now.
    Palette,
    /// One level back.
    Back,
    /// Draw the screen anew.
    Repaint,
    /// Give the terminal back for a while.
    Suspend,
    /// Leave the program, from the first screen.
    Leave,
    /// Leave the program, from anywhere.
    Quit,
}

impl Action {
    /// Whether it can answer a question yes, so that what it answers must have been read.
    pub const fn answers(self) -> bool {
        matches!(self, Self::Accept | Self::HasNone)
    }

    /// Whether it only moves the mark or the text.
    pub const fn moves(self) -> bool {
        matches!(self, Self::Next | Self::Previous | Self::PageDown | Self::PageUp)
    }

    /// Whether it adds to the record of the guided walk or of quick trials.
    pub const fn writes(self) -> bool {
        matches!(
            self,
            Self::Accept
                | Self::HasNone
                | Self::Skip
                | Self::Enough
                | Self::Void
                | Self::AllDone
                | Self::Undo
                | Self::Redo
                | Self::LateTrail
                | Self::StartAgain
                | Self::OtherReading
                | Self::Condition
                | Self::Note
                | Self::Add
                | Self::ChoiceRight
                | Self::ChoiceLeft
        )
    }

    /// Which come first where the footer has no room for all: what Enter does and help, then what only this moment offers,
    /// then undo, then what most places have; forgetting comes last.
    pub const fn footer_rank(self) -> u8 {
        match self {
            Self::Accept | Self::Help => 0,
            Self::HasNone
            | Self::AllDone
            | Self::Enough
            | Self::Add
            | Self::ChoiceRight
            | Self::Card
            | Self::GoOn
            | Self::ComeBack
            | Self::Compare
            | Self::Leave
            | Self::LateTrail
            | Self::Watch => 1,
            Self::Undo => 2,
            Self::Void | Self::Skip | Self::OtherReading | Self::Pick | Self::Remove => 3,
            Self::Back | Self::Figures | Self::Sheet | Self::Palette | Self::Tally => 4,
            Self::Condition | Self::Details | Self::Redo | Self::Next | Self::PageDown | Self::OtherMode => 5,
            Self::Forget => 7,
            _ => 6,
        }
    }

    /// Whether the footer shows it. The way back of a movement goes without saying, and what few ever press (redraw,
    /// pause, mouse) would crowd out what a mechanic needs; the help has them all.
    pub const fn in_footer(self) -> bool {
        !matches!(
            self,
            Self::Previous | Self::ChoiceLeft | Self::PageUp | Self::Mouse | Self::Repaint | Self::Suspend
        )
    }
}
