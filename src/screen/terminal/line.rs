//! The line to the terminal: the one owner of standard output while the screen is ours, and the one way out of it.
//!
//! Every byte goes through here, a whole frame at a time and under one lock. So the farewell never falls into the middle of a
//! frame, and nothing follows it: what comes later is dropped. A signal waits for that lock no longer than [`DEADLINE`],
//! because a terminal that reads no more would hold it for ever. Not here: what is drawn (`surface`).

use std::fmt;
use std::io::{self, Write};
use std::sync::atomic::{AtomicBool, Ordering};
#[cfg(unix)]
use std::sync::mpsc;
use std::sync::{Mutex, MutexGuard, PoisonError};
#[cfg(unix)]
use std::time::Duration;

use crossterm::terminal::{
    EndSynchronizedUpdate, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
};
use crossterm::{Command, QueueableCommand, cursor, event};

/// How long a signal waits for a terminal to take the farewell.
#[cfg(unix)]
const DEADLINE: Duration = Duration::from_millis(700);

/// Whose the terminal is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Owner {
    Program,
    Others,
}

/// Held while bytes are written.
static OWNER: Mutex<Owner> = Mutex::new(Owner::Others);

/// Whether somebody else may have written over the screen since the last frame.
static WRITTEN_OVER: AtomicBool = AtomicBool::new(false);

fn owner() -> MutexGuard<'static, Owner> {
    OWNER.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Whether the terminal is ours.
pub(super) fn is_ours() -> bool {
    *owner() == Owner::Program
}

/// Whether the screen may have been written over since this was last asked.
pub(super) fn was_written_over() -> bool {
    WRITTEN_OVER.swap(false, Ordering::SeqCst)
}

/// Writes bytes, all of them together; drops them where the terminal is not ours any more.
///
/// # Errors
/// When the terminal does not obey.
pub(super) fn send(bytes: &[u8]) -> io::Result<()> {
    let owner = owner();
    if *owner == Owner::Program { put(bytes) } else { Ok(()) }
}

fn put(bytes: &[u8]) -> io::Result<()> {
    let mut out = io::stdout().lock();
    out.write_all(bytes)?;
    out.flush()
}

/// Takes the terminal, or takes it again after somebody else may have had it.
///
/// # Errors
/// When the terminal does not obey.
pub(super) fn take() -> io::Result<()> {
    let mut owner = owner();
    // Off before on: whoever had the terminal meanwhile set its modes, and crossterm believes they are still its own.
    disable_raw_mode()?;
    enable_raw_mode()?;
    let mut bytes = Vec::new();
    if *owner == Owner::Others {
        bytes.queue(SaveWheel)?;
    }
    bytes.queue(WheelAsArrows)?.queue(EnterAlternateScreen)?.queue(event::EnableBracketedPaste)?;
    *owner = Owner::Program;
    WRITTEN_OVER.store(true, Ordering::SeqCst);
    put(&bytes)
}

/// Gives the terminal back as it was; once is enough, more do no harm. What cannot be undone any more is let be, and so is a
/// terminal that somebody else works on while the program lies in the background.
pub fn leave() {
    let ours_to_touch = is_in_foreground();
    if ours_to_touch {
        // Without the lock, which a terminal that reads no more may hold: this much it gets back in any case.
        let _ = disable_raw_mode();
    }
    let mut owner = owner();
    if std::mem::replace(&mut *owner, Owner::Others) == Owner::Program && ours_to_touch {
        let _ = farewell().and_then(|bytes| put(&bytes));
    }
}

fn farewell() -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    bytes
        .queue(EndSynchronizedUpdate)?
        .queue(GiveMouseBack)?
        .queue(event::DisableBracketedPaste)?
        .queue(LeaveAlternateScreen)?
        .queue(WheelAsBefore)?
        .queue(cursor::Show)?;
    Ok(bytes)
}

/// Gives the terminal back if it takes the farewell within the deadline.
#[cfg(unix)]
pub(super) fn leave_in_time() {
    let (enter, entered) = mpsc::channel();
    let _ = std::thread::Builder::new().name("farewell".to_owned()).spawn(move || {
        leave();
        enter.send(())
    });
    let _ = entered.recv_timeout(DEADLINE);
}

/// Whether keys typed now come to this program. Where nobody can say, they do.
#[cfg(unix)]
pub(super) fn is_in_foreground() -> bool {
    rustix::termios::tcgetpgrp(io::stdin()).map_or(true, |group| group == rustix::process::getpgrp())
}

#[cfg(not(unix))]
pub(super) fn is_in_foreground() -> bool {
    true
}

/// Clicks and the wheel come to the program. Only presses are asked for: crossterm's own command asks for every movement as
/// well, which would cost bytes on a slow line.
pub(super) struct TakeMouse;

/// They are the terminal's again.
pub(super) struct GiveMouseBack;

/// What the wheel does on the other screen is remembered by the terminal.
struct SaveWheel;

/// While the other screen is shown the wheel sends arrow keys, without the mouse being taken: private mode 1007, "alternate
/// scroll".
struct WheelAsArrows;

/// The wheel does what it did before. A terminal that cannot save and restore modes keeps its own default or ours; both
/// matter on the other screen only.
struct WheelAsBefore;

/// A command of bytes, and what it is on Windows.
macro_rules! command {
    ($name:ident, $bytes:literal, $windows:expr) => {
        impl Command for $name {
            fn write_ansi(&self, f: &mut impl fmt::Write) -> fmt::Result {
                f.write_str($bytes)
            }

            #[cfg(windows)]
            fn execute_winapi(&self) -> io::Result<()> {
                $windows
            }

            #[cfg(windows)]
            fn is_ansi_code_supported(&self) -> bool {
                // A console hands over its mouse by a call and not by bytes, and its wheel sends arrows as it is.
                false
            }
        }
    };
}

command!(TakeMouse, "\x1b[?1000h\x1b[?1006h", event::EnableMouseCapture.execute_winapi());
command!(GiveMouseBack, "\x1b[?1006l\x1b[?1000l", event::DisableMouseCapture.execute_winapi());
command!(SaveWheel, "\x1b[?1007s", Ok(()));
command!(WheelAsArrows, "\x1b[?1007h", Ok(()));
command!(WheelAsBefore, "\x1b[?1007r", Ok(()));
