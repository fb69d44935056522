//! The real terminal: taken over and given back exactly as it was, whatever ends the program.
//!
//! Four ways lead out: an ordinary end, a panic, a signal, and a pause with Ctrl-Z. All go through [`leave`], which may be
//! called any number of times and from any thread. A signal acts from a thread of its own, because once the terminal is
//! gone a waiting read never comes back. Not here: what is drawn.

use std::io::{self, IsTerminal, Stdout, Write};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use crossterm::event::{self, DisableBracketedPaste, EnableBracketedPaste, Event};
use crossterm::terminal::{
    BeginSynchronizedUpdate, EndSynchronizedUpdate, EnterAlternateScreen, LeaveAlternateScreen,
    disable_raw_mode, enable_raw_mode,
};
use crossterm::{cursor, execute};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use ratatui::layout::{Position, Rect};

use super::model::Model;

/// Whether the screen is ours at present.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// Whether both ends are a terminal.
pub fn is_there() -> bool {
    io::stdin().is_terminal() && io::stdout().is_terminal()
}

/// The terminal, taken over until it is dropped.
#[derive(Debug)]
pub struct Console {
    terminal: Terminal<CrosstermBackend<Stdout>>,
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
        let terminal = Terminal::new(CrosstermBackend::new(io::stdout())).inspect_err(|_| leave())?;
        Ok(Self { terminal })
    }

    /// Draws the model, all at once where the terminal can.
    ///
    /// # Errors
    /// When the terminal does not obey.
    pub fn draw(&mut self, model: &Model) -> io::Result<()> {
        if !TAKEN.load(Ordering::SeqCst) {
            return Ok(());
        }
        execute!(io::stdout(), BeginSynchronizedUpdate)?;
        let drawn = self.terminal.draw(|frame| super::draw(frame, model)).map(drop);
        execute!(io::stdout(), EndSynchronizedUpdate)?;
        drawn
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
        self.wait_for(Duration::ZERO)
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
    execute!(io::stdout(), EnterAlternateScreen, EnableBracketedPaste)
}

/// Gives the terminal back as it was; once is enough, more do no harm. What cannot be undone any more is let be.
pub fn leave() {
    if !TAKEN.swap(false, Ordering::SeqCst) {
        return;
    }
    let _ = execute!(
        io::stdout(),
        EndSynchronizedUpdate,
        DisableBracketedPaste,
        LeaveAlternateScreen,
        cursor::Show
    );
    let _ = disable_raw_mode();
}

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
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;

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
