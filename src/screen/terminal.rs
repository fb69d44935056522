//! The real terminal: taken over and given back exactly as it was, whatever ends the program.
//!
//! Four ways lead out: an ordinary end, a panic, a signal, and a pause with Ctrl-Z. All go through [`leave`], which may be
//! called any number of times and from any thread. A signal acts from a thread of its own, because once the terminal is
//! gone a waiting read never comes back. Not here: what is drawn.

use std::fmt;
use std::io::{self, IsTerminal, Stdout, Write};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use crossterm::event::{self, DisableBracketedPaste, EnableBracketedPaste, Event};
use crossterm::style::force_color_output;
use crossterm::terminal::{
    EndSynchronizedUpdate, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
};
use crossterm::{Command, cursor, execute};
use ratatui::Terminal;
use ratatui::layout::{Position, Rect};

use super::click_targets::ClickTargets;
use super::model::Model;
use super::surface::Surface;
use crate::settings::Mouse;

/// Whether the screen is ours at present.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// Whether both ends are a terminal.
pub fn is_there() -> bool {
    io::stdin().is_terminal() && io::stdout().is_terminal()
}

/// Hardly any time. Asked to wait for none at all, crossterm's poll of the terminal does not even look.
const AT_ONCE: Duration = Duration::from_micros(100);

/// The terminal, taken over until it is dropped.
#[derive(Debug)]
pub struct Console {
    terminal: Terminal<Surface<Stdout>>,
    mouse: Mouse,
}

impl Console {
    /// Takes the terminal over. `reassurance` is said on it should the program break down.
    ///
    /// # Errors
    /// When the terminal does not obey.
    pub fn take(reassurance: String) -> io::Result<Self> {
        leave_on_panic(reassurance);
        leave_on_signals()?;
        enter().inspect_err(|_| leave())?;
        // The theme knows of NO_COLOR. Left to itself, crossterm would write a reset in the place of every colour there, and
        // bold and reverse would go with it.
        force_color_output(true);
        let terminal = Terminal::new(Surface::new(io::stdout())).inspect_err(|_| leave())?;
        Ok(Self { terminal, mouse: Mouse::Terminal })
    }

    /// Draws the model, all at once where the terminal can; returns what in the frame can be clicked.
    ///
    /// # Errors
    /// When the terminal does not obey.
    pub fn draw(&mut self, model: &Model) -> io::Result<ClickTargets> {
        let mut click_targets = ClickTargets::default();
        if !TAKEN.load(Ordering::SeqCst) {
            return Ok(click_targets);
        }
        self.hand_over_mouse(model.desk.mouse)?;
        self.terminal.draw(|frame| super::draw_noting(frame, model, &mut click_targets))?;
        Ok(click_targets)
    }

    fn hand_over_mouse(&mut self, to: Mouse) -> io::Result<()> {
        match to {
            to if to == self.mouse => {}
            Mouse::Program => execute!(io::stdout(), TakeMouse)?,
            Mouse::Terminal => execute!(io::stdout(), GiveMouseBack)?,
        }
        self.mouse = to;
        Ok(())
    }

    /// Waits for the next event.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn wait(&mut self) -> io::Result<Event> {
        event::read()
    }

    /// The next event if one has come already.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn waiting(&mut self) -> io::Result<Option<Event>> {
        self.wait_for(AT_ONCE)
    }

    /// The next event if one comes within so long.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn wait_for(&mut self, time: Duration) -> io::Result<Option<Event>> {
        if event::poll(time)? { event::read().map(Some) } else { Ok(None) }
    }

    /// Forgets what is drawn, so that the next frame paints every cell.
    ///
    /// # Errors
    /// When the terminal does not obey.
    pub fn repaint(&mut self) -> io::Result<()> {
        // Not `clear`: that asks the terminal where its cursor is, and fails where the answer is slow or never comes.
        let size = self.terminal.size()?;
        self.terminal.resize(Rect::from((Position::ORIGIN, size)))
    }

    /// Gives the terminal back and stops, until the program is called to the foreground again.
    ///
    /// # Errors
    /// When the terminal does not obey.
    pub fn pause(&mut self) -> io::Result<()> {
        leave();
        self.mouse = Mouse::Terminal;
        self.terminal.backend_mut().forget();
        #[cfg(unix)]
        signal_hook::low_level::raise(signal_hook::consts::SIGTSTP)?;
        enter()?;
        self.repaint()
    }
}

impl Drop for Console {
    fn drop(&mut self) {
        leave();
    }
}

fn enter() -> io::Result<()> {
    // First, so that a signal in between gives back what is taken by then.
    TAKEN.store(true, Ordering::SeqCst);
    enable_raw_mode()?;
    execute!(io::stdout(), WheelAsArrows, EnterAlternateScreen, EnableBracketedPaste)
}

/// Gives the terminal back as it was; once is enough, more do no harm. What cannot be undone any more is let be.
pub fn leave() {
    if !TAKEN.swap(false, Ordering::SeqCst) {
        return;
    }
    let _ = execute!(
        io::stdout(),
        EndSynchronizedUpdate,
        GiveMouseBack,
        DisableBracketedPaste,
        LeaveAlternateScreen,
        WheelAsBefore,
        cursor::Show
    );
    let _ = disable_raw_mode();
}

/// Clicks and the wheel come to the program. Only presses are asked for: crossterm's own command asks for every movement as
/// well, which would cost bytes on a slow line.
struct TakeMouse;

/// They are the terminal's again.
struct GiveMouseBack;

/// While the other screen is shown the wheel sends arrow keys, without the mouse being taken: private mode 1007, "alternate
/// scroll". What it was before is saved first.
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

command!(TakeMouse, "\x1b[?1000h\x1b[?1006h", crossterm::event::EnableMouseCapture.execute_winapi());
command!(GiveMouseBack, "\x1b[?1006l\x1b[?1000l", crossterm::event::DisableMouseCapture.execute_winapi());
command!(WheelAsArrows, "\x1b[?1007s\x1b[?1007h", Ok(()));
command!(WheelAsBefore, "\x1b[?1007r", Ok(()));

fn leave_on_panic(reassurance: String) {
    let usual = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |panic| {
        leave();
        let _ =
            writeln!(io::stderr(), "coilwright broke down; this is a fault of the program. {reassurance}");
        usual(panic);
    }));
}

#[cfg(unix)]
fn leave_on_signals() -> io::Result<()> {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM, SIGXFSZ};
    use signal_hook::iterator::Signals;

    // Noticed and nothing more: a limit on the size of files then fails the write, which is said and goes on like a full
    // disk, where the signal would end the program in the middle of a step.
    signal_hook::flag::register(SIGXFSZ, std::sync::Arc::default())?;

    let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT])?;
    std::thread::Builder::new().name("signals".to_owned()).spawn(move || {
        for signal in signals.forever() {
            leave();
            let _ = signal_hook::low_level::emulate_default_handler(signal);
        }
    })?;
    Ok(())
}

#[cfg(not(unix))]
fn leave_on_signals() -> io::Result<()> {
    Ok(())
}
