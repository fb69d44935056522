//! The one table of keys: bindings, footer and help are the same rows.
//!
//! A key means the same thing in every place. Letters stand in for the Ctrl keys wherever no entry field is focused;
//! while one is, letters belong to the text. Which actions are live at a place is the place's to say (`place`); what they
//! do is in the update of the place. Not here: any drawing.

mod action;
mod edit;

pub use action::Action;
pub use edit::Edit;
use edit::edit;

use crossterm::event::{KeyCode, KeyEvent, KeyEventKind, KeyModifiers};

/// A key with or without Ctrl.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Key {
    code: KeyCode,
    held: Modifier,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Modifier {
    Nothing,
    Ctrl,
    Shift,
}

/// A row of the table.
#[derive(Debug, Clone, Copy)]
pub struct Binding {
    /// What it does.
    pub action: Action,
    /// The keys, the one to show first in front.
    pub keys: &'static [Key],
    /// A word or two for the footer.
    pub name: &'static str,
    /// A sentence for the help.
    pub meaning: &'static str,
}

/// What the focused field takes, which decides whom letters belong to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Typing {
    /// No field is focused: letters are keys.
    Nothing,
    /// A figure with its unit, or words that narrow a layer: letters belong to it, a question mark does not.
    Figure,
    /// Free text: every character belongs to it.
    Text,
}

/// What a key came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Pressed {
    /// An action of the table.
    Action(Action),
    /// A change to the focused field.
    Edit(Edit),
    /// A line of a list, clicked: its place in it.
    Line(usize),
}

const fn plain(code: KeyCode) -> Key {
    Key { code, held: Modifier::Nothing }
}
const fn letter(letter: char) -> Key {
    plain(KeyCode::Char(letter))
}
const fn ctrl(letter: char) -> Key {
    Key { code: KeyCode::Char(letter), held: Modifier::Ctrl }
}

const fn row(action: Action, keys: &'static [Key], name: &'static str, meaning: &'static str) -> Binding {
    Binding { action, keys, name, meaning }
}

/// Every key of the program, in the order of the footer.
pub const TABLE: &[Binding] = &[
    row(Action::Accept, &[plain(KeyCode::Enter)], "accept", "Confirms the field or the marked line."),
    row(
        Action::Next,
        &[plain(KeyCode::Tab), plain(KeyCode::Down)],
        "next line",
        "Next line. The field keeps its text.",
    ),
    row(
        Action::Previous,
        &[plain(KeyCode::Up), Key { code: KeyCode::BackTab, held: Modifier::Shift }],
        "line before",
        "Goes one line back.",
    ),
    row(Action::ChoiceRight, &[plain(KeyCode::Right)], "change", "Goes to the next choice of the line."),
    row(Action::ChoiceLeft, &[plain(KeyCode::Left)], "change back", "Goes to the choice before."),
    row(Action::PageDown, &[plain(KeyCode::PageDown)], "further", "Goes a page on."),
    row(Action::PageUp, &[plain(KeyCode::PageUp)], "back up", "Goes a page back."),
    row(
        Action::HasNone,
        &[letter('n'), ctrl('n')],
        "has none",
        "Answers a check with: this bike or shock has nothing of the kind.",
    ),
    row(
        Action::Skip,
        &[letter('p'), ctrl('p')],
        "skip",
        "Passes the check or step over. A reason is asked for; what guards from harm cannot be skipped.",
    ),
    row(
        Action::AllDone,
        &[letter('k')],
        "all done",
        "Answers every check left of the list with: done. What guards from harm is named first and asked about.",
    ),
    row(Action::Enough, &[letter('g'), ctrl('g')], "decide", "Ends the set of readings; on to the decision."),
    row(
        Action::Void,
        &[letter('x'), ctrl('x')],
        "void",
        "Says that a reading does not count, and why. It stays in the record.",
    ),
    row(
        Action::Undo,
        &[letter('t'), ctrl('t')],
        "undo",
        "Undoes the last step, starting again too, or the last change of a list. In the record it stays as undone.",
    ),
    row(
        Action::Redo,
        &[letter('e'), plain(KeyCode::F(8))],
        "redo",
        "Does again what was undone last, until something else is done.",
    ),
    row(
        Action::StartAgain,
        &[letter('r'), ctrl('r')],
        "restart",
        "Starts the present list or the present set of readings again. Readings are asked about first; undo brings them back.",
    ),
    row(
        Action::LateTrail,
        &[letter('l')],
        "late trail",
        "Takes down what the trail told after the session was closed.",
    ),
    row(Action::Note, &[letter('o'), ctrl('o')], "note", "Writes a note into the record."),
    row(
        Action::Sheet,
        &[letter('s'), ctrl('s')],
        "sheet",
        "Opens the sheet: how the bike was found and how it is left, clicks, pressures, fork; after a ride, what it told.",
    ),
    row(
        Action::OtherReading,
        &[letter('h'), plain(KeyCode::F(5))],
        "push/drag",
        "Changes how the indicator is read: dragged by the rider sitting down, or pushed to the seal by a helper while the rider \
         sits still, which reads truer. The two are never mixed in one set.",
    ),
    row(
        Action::Condition,
        &[letter('w'), plain(KeyCode::F(7))],
        "with",
        "Reads from now on under another condition: a pack, another rider, softer tyres. Its sets stand by themselves, with a load \
         of their own, and are never averaged with others.",
    ),
    row(Action::Details, &[letter('d'), ctrl('d')], "details", "Shows the details so you can change them."),
    row(
        Action::OtherMode,
        &[letter('y'), ctrl('y')],
        "quick/guided",
        "Goes between the guided walk and quick trials.",
    ),
    row(Action::Add, &[letter('a'), plain(KeyCode::Insert)], "add", "Adds a spring (or a line)."),
    row(
        Action::Remove,
        &[plain(KeyCode::Delete)],
        "remove",
        "Takes the marked line out of the list. Undo brings it back.",
    ),
    row(
        Action::GoOn,
        &[letter('c')],
        "continue",
        "Opens the past session for going on; what can be read of a damaged one goes on as a new record.",
    ),
    row(
        Action::ComeBack,
        &[letter('b'), ctrl('b')],
        "customer is back",
        "Begins a new session for the same rider and bike, with what the past one taught. The past one stays as it is.",
    ),
    row(
        Action::Pick,
        &[ctrl(' '), plain(KeyCode::F(4))],
        "pick",
        "Picks the marked session for comparing, or lets it go again.",
    ),
    row(
        Action::Compare,
        &[letter('v'), ctrl('v')],
        "compare",
        "Holds the picked sessions against each other; from one looked at, all of its customer and bike.",
    ),
    row(
        Action::Tally,
        &[letter('i'), plain(KeyCode::F(6))],
        "tally",
        "Shows what the finished sessions teach: forecasts against readings, the work by month, the rates to stock.",
    ),
    row(
        Action::Card,
        &[letter('w')],
        "write the card",
        "Writes the rider's setup card beside the records and opens it; where the settings name a printer, prints it.",
    ),
    row(
        Action::Watch,
        &[letter('m')],
        "watch",
        "Shows the session moment by moment on the screens where it was done. Nothing in it changes.",
    ),
    row(
        Action::Forget,
        &[plain(KeyCode::F(12))],
        "forget customer",
        "Shows everything that is saved of the customer of this session, so that it can be removed. Nothing goes before a word \
         is typed.",
    ),
    row(
        Action::Figures,
        &[letter('f'), ctrl('f')],
        "figures",
        "Shows the figures behind: what changes with the spring, the leverage curve, a worn spring from its wire.",
    ),
    row(
        Action::Units,
        &[letter('u'), plain(KeyCode::F(3))],
        "units",
        "Shows figures in mm, kg and lb/in; then in, lb and lb/in; then mm, kg and N/mm, until you leave. The record does not \
         change; which units the program starts with is in the settings.",
    ),
    row(
        Action::Mouse,
        &[plain(KeyCode::F(2))],
        "mouse",
        "Lets clicks and wheel work the screen, or gives them back to the terminal, until you leave. What it starts with is \
         in the settings.",
    ),
    row(
        Action::Palette,
        &[letter(':'), plain(KeyCode::F(9))],
        "find",
        "Lists everything that can be done now, past sessions and springs of the rack: type to narrow it, Enter does it.",
    ),
    row(
        Action::Help,
        &[letter('?'), plain(KeyCode::F(1))],
        "help",
        "Shows this help, or closes it. In free text a question mark is text: use F1 there.",
    ),
    row(Action::Back, &[plain(KeyCode::Esc)], "back", "Back one level. Nothing is lost."),
    row(
        Action::Repaint,
        &[ctrl('l')],
        "redraw",
        "Draws the screen again, should another program have written over it.",
    ),
    row(Action::Suspend, &[ctrl('z')], "pause", "Pauses the program; type fg to return."),
    row(Action::Leave, &[letter('q'), ctrl('c')], "quit", "Leaves the program. Everything is saved already."),
    row(Action::Quit, &[ctrl('c')], "quit", "Leaves at once. Every step accepted is saved already."),
];

/// The row of an action.
pub fn binding(action: Action) -> &'static Binding {
    TABLE.iter().find(|row| row.action == action).unwrap_or(&TABLE[0])
}

/// The action a key is bound to at some other place or moment, and what the key is called; none where it is bound nowhere, or
/// belongs to a field.
pub fn elsewhere(key: KeyEvent, typing: Typing) -> Option<(Action, String)> {
    TABLE.iter().find_map(|row| {
        let bound = row.keys.iter().find(|bound| bound.matches(key) && bound.free(typing))?;
        Some((row.action, bound.shown()))
    })
}

/// What a key comes to, given the actions that are live and what the focused field takes.
pub fn pressed(key: KeyEvent, live: &[Action], typing: Typing) -> Option<Pressed> {
    if key.kind == KeyEventKind::Release {
        return None;
    }
    let edit = edit(key, typing);
    let row = TABLE.iter().find(|row| {
        live.contains(&row.action) && row.keys.iter().any(|bound| bound.matches(key) && bound.free(typing))
    });
    match (row, edit) {
        (Some(row), _) => Some(Pressed::Action(row.action)),
        (None, Some(edit)) => Some(Pressed::Edit(edit)),
        (None, None) => None,
    }
}

/// The place in a numbered list that a numeral names, from nought, while no field takes it.
pub fn numbered(key: KeyEvent, typing: Typing) -> Option<usize> {
    let plain = key.kind != KeyEventKind::Release && key.modifiers.is_empty() && typing == Typing::Nothing;
    match key.code {
        KeyCode::Char(numeral @ '1'..='9') if plain => Some(numeral as usize - '1' as usize),
        _ => None,
    }
}

impl Binding {
    /// The key to show for it while a field takes this.
    pub fn shown(&self, typing: Typing) -> Option<String> {
        self.keys.iter().find(|key| key.free(typing)).map(|key| key.shown())
    }

    /// Every key of the row that works while a field takes this, for the help; empty where none does.
    pub fn all_shown(&self, typing: Typing) -> String {
        let free = self.keys.iter().filter(|key| key.free(typing));
        free.map(|key| key.shown()).collect::<Vec<_>>().join(", ")
    }
}

impl Key {
    fn matches(self, key: KeyEvent) -> bool {
        let ctrl = key.modifiers.contains(KeyModifiers::CONTROL);
        let alt = key.modifiers.contains(KeyModifiers::ALT);
        let code = match key.code {
            KeyCode::Char(letter) if ctrl => KeyCode::Char(letter.to_ascii_lowercase()),
            code => code,
        };
        code == self.code && ctrl == (self.held == Modifier::Ctrl) && !alt
    }

    /// Whether the key is not taken by the text of a field.
    fn free(self, typing: Typing) -> bool {
        match (self.code, self.held) {
            (KeyCode::Char('?'), Modifier::Nothing) => typing != Typing::Text,
            (KeyCode::Char(_) | KeyCode::Left | KeyCode::Right, Modifier::Nothing) => {
                typing == Typing::Nothing
            }
            _ => true,
        }
    }

    /// The key as it is called.
    fn shown(self) -> String {
        let name = match self.code {
            KeyCode::Char(' ') => "Space".to_owned(),
            KeyCode::Char(letter) if self.held == Modifier::Ctrl => letter.to_ascii_uppercase().to_string(),
            KeyCode::Char(letter) => letter.to_string(),
            KeyCode::F(number) => format!("F{number}"),
            KeyCode::PageDown => "PgDn".to_owned(),
            KeyCode::PageUp => "PgUp".to_owned(),
            KeyCode::Delete => "Del".to_owned(),
            KeyCode::Insert => "Ins".to_owned(),
            KeyCode::BackTab => "Tab".to_owned(),
            other => format!("{other:?}"),
        };
        match self.held {
            Modifier::Nothing => name,
            Modifier::Ctrl => format!("Ctrl-{name}"),
            Modifier::Shift => format!("Shift-{name}"),
        }
    }
}
