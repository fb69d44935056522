//! What signals do: those that end the program give the terminal back first, a stop does so for a while, and whoever comes
//! back from one takes it again.
//!
//! They act from a thread of their own: once the terminal is gone a waiting read never comes back. Not here: how the
//! terminal is given back (`line`).

use std::io;

use rustix::event::{PollFd, PollFlags, poll};
use rustix::io::Errno;
use signal_hook::consts::{
    SIGABRT, SIGALRM, SIGCONT, SIGHUP, SIGINT, SIGPROF, SIGQUIT, SIGTERM, SIGTSTP, SIGUSR1, SIGUSR2,
    SIGVTALRM, SIGWINCH, SIGXCPU, SIGXFSZ,
};
use signal_hook::iterator::Signals;
use signal_hook::low_level::{emulate_default_handler, raise};

use super::line;

/// Signals that end the program.
const ENDS: [i32; 11] =
    [SIGTERM, SIGHUP, SIGINT, SIGQUIT, SIGABRT, SIGUSR1, SIGUSR2, SIGALRM, SIGVTALRM, SIGPROF, SIGXCPU];

/// Watches for signals from now on.
///
/// # Errors
/// When the system does not let the program do so.
pub(super) fn watch() -> io::Result<()> {
    // Noticed and nothing more: a limit on the size of files then fails the write, which is said and goes on like a full
    // disk, where the signal would end the program in the middle of a step.
    signal_hook::flag::register(SIGXFSZ, std::sync::Arc::default())?;

    let mut signals = Signals::new(ENDS.into_iter().chain([SIGTSTP, SIGCONT]))?;
    std::thread::Builder::new().name("signals".to_owned()).spawn(move || {
        for signal in signals.forever() {
            match signal {
                SIGTSTP => stop(),
                SIGCONT => go_on(),
                ending => {
                    line::leave_in_time();
                    let _ = emulate_default_handler(ending);
                }
            }
        }
    })?;
    std::thread::Builder::new().name("hang-up".to_owned()).spawn(end_with_the_terminal)?;
    Ok(())
}

/// Waits until the terminal is gone, and ends as when it hangs up. A program that is in no terminal's session, as one started
/// through `su -c`, is not told by a signal: it would wait for keys for ever, and hold its session.
fn end_with_the_terminal() {
    let stdin = io::stdin();
    loop {
        let mut terminal = [PollFd::new(&stdin, PollFlags::empty())];
        match poll(&mut terminal, None) {
            Err(Errno::INTR) => {}
            Ok(_) if terminal[0].revents().intersects(PollFlags::HUP | PollFlags::ERR) => {
                let _ = raise(SIGHUP);
                return;
            }
            // Nothing that can be watched.
            _ => return,
        }
    }
}

/// Gives the terminal back and stops; returns once the program goes on.
pub(super) fn stop() {
    line::leave_in_time();
    let _ = emulate_default_handler(SIGTSTP);
}

/// Takes the terminal again, where it is this program's turn, and has the waiting loop draw: it wakes up when it is told that
/// the window may have changed.
fn go_on() {
    if line::is_in_foreground() && line::take().is_ok() {
        let _ = raise(SIGWINCH);
    }
}
