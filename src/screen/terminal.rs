//! The real terminal: taken over and given back exactly as it was, whatever ends the program.
//!
//! Five ways lead out: an ordinary end, a panic, a signal, a pause with Ctrl-Z, and a stop from outside. All go through
//! [`leave`], which may be called any number of times and from any thread. Not here: what is drawn, and the bytes that take
//! and give (`line`).

mod line;
#[cfg(unix)]
mod signals;

use std::io::{self, IsTerminal, Write};
use std::time::Duration;

use crossterm::QueueableCommand;
use crossterm::event::{self, Event};
use crossterm::style::force_color_output;
use ratatui::Terminal;
use ratatui::layout::{Position, Rect};

use super::click_targets::ClickTargets;
use super::model::Model;
use super::surface::Surface;
use crate::settings::Mouse;
pub use line::leave;

/// Whether both ends are a terminal.
pub fn is_there() -> bool {
    io::stdin().is_terminal() && io::stdout().is_terminal()
}

/// Hardly any time. Asked to wait for none at all, crossterm's poll of the terminal does not even look.
const AT_ONCE: Duration = Duration::from_micros(100);

/// The terminal, taken over until it is dropped.
#[derive(Debug)]
pub struct Console {
    terminal: Terminal<Surface<FrameOutput>>,
    mouse: Mouse,
}

/// Where frames go.
#[derive(Debug)]
struct FrameOutput;

impl Write for FrameOutput {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        line::send(bytes).map(|()| bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Console {
    /// Takes the terminal over. `reassurance` is said on it should the program break down.
    ///
    /// # Errors
    /// When the terminal does not obey.
    pub fn take(reassurance: String) -> io::Result<Self> {
        leave_on_panic(reassurance);
        #[cfg(unix)]
        signals::watch()?;
        line::take().inspect_err(|_| leave())?;
        // The theme knows of NO_COLOR. Left to itself, crossterm would write a reset in the place of every colour there, and
        // bold and reverse would go with it.
        force_color_output(true);
        let terminal = Terminal::new(Surface::new(FrameOutput)).inspect_err(|_| leave())?;
        Ok(Self { terminal, mouse: Mouse::Terminal })
    }

    /// Draws the model, all at once where the terminal can; returns what in the frame can be clicked.
    ///
    /// # Errors
    /// When the terminal does not obey.
    pub fn draw(&mut self, model: &Model) -> io::Result<ClickTargets> {
        let mut click_targets = ClickTargets::default();
        if !line::is_ours() {
            return Ok(click_targets);
        }
        if line::was_written_over() {
            self.mouse = Mouse::Terminal;
            self.terminal.backend_mut().forget();
            self.repaint()?;
        }
        self.hand_over_mouse(model.desk.mouse)?;
        self.terminal.draw(|frame| super::draw_noting(frame, model, &mut click_targets))?;
        Ok(click_targets)
    }

    fn hand_over_mouse(&mut self, to: Mouse) -> io::Result<()> {
        let mut bytes = Vec::new();
        match to {
            to if to == self.mouse => return Ok(()),
            Mouse::Program => bytes.queue(line::TakeMouse)?,
            Mouse::Terminal => bytes.queue(line::GiveMouseBack)?,
        };
        self.mouse = to;
        line::send(&bytes)
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
        #[cfg(unix)]
        {
            signals::stop();
            if line::is_in_foreground() {
                line::take()?;
            }
        }
        Ok(())
    }
}

impl Drop for Console {
    fn drop(&mut self) {
        leave();
    }
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
