//! The keys that change the text of a focused field: those that line editors share.
//!
//! Not here: the table of actions, which comes first.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::Typing;

/// A change to the text of a field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Edit {
    /// Text typed or pasted.
    Insert(String),
    /// The character before the cursor goes.
    Backspace,
    /// The character after the cursor goes.
    Delete,
    /// All before the cursor back to the last blank goes.
    DeleteWord,
    /// All of it goes.
    DeleteAll,
    /// All behind the cursor goes.
    DeleteRest,
    /// The last change is taken back.
    Undo,
    /// The cursor goes left.
    Left,
    /// The cursor goes right.
    Right,
    /// The cursor goes to the start.
    Start,
    /// The cursor goes to the end.
    End,
}

/// The change a key makes to the text of a field, if a field is focused.
pub(super) fn edit(key: KeyEvent, typing: Typing) -> Option<Edit> {
    if typing == Typing::Nothing {
        return None;
    }
    let ctrl = key.modifiers.contains(KeyModifiers::CONTROL);
    // AltGr arrives as Ctrl with Alt on Windows and is part of a character, not a command.
    let commanded = key.modifiers.intersects(KeyModifiers::CONTROL | KeyModifiers::ALT)
        && !key.modifiers.contains(KeyModifiers::CONTROL | KeyModifiers::ALT);
    match key.code {
        KeyCode::Char('w') | KeyCode::Backspace if ctrl => Some(Edit::DeleteWord),
        KeyCode::Char('u') if ctrl => Some(Edit::DeleteAll),
        KeyCode::Char('k') if ctrl => Some(Edit::DeleteRest),
        // Terminals send Ctrl-_ and Ctrl-/ as one byte, which crossterm calls Ctrl-7.
        KeyCode::Char('7' | '_' | '/') if ctrl => Some(Edit::Undo),
        KeyCode::Char('a') if ctrl => Some(Edit::Start),
        KeyCode::Char('e') if ctrl => Some(Edit::End),
        KeyCode::Char('h') if ctrl => Some(Edit::Backspace),
        KeyCode::Char(typed) if !commanded => Some(Edit::Insert(typed.to_string())),
        KeyCode::Backspace => Some(Edit::Backspace),
        KeyCode::Delete => Some(Edit::Delete),
        KeyCode::Left => Some(Edit::Left),
        KeyCode::Right => Some(Edit::Right),
        KeyCode::Home => Some(Edit::Start),
        KeyCode::End => Some(Edit::End),
        _ => None,
    }
}
