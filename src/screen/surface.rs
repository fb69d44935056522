//! The surface frames are drawn on: one frame is one burst of bytes between the marks of a synchronised update, so that a
//! terminal that knows them never shows half a frame; and where nothing changed nothing is written at all.
//!
//! The marks are private mode 2026, "synchronized output"; a terminal that does not know it passes over them. Bytes are held
//! back until the burst is whole, because a burst begun and not ended would hold up whatever the terminal shows next. Not
//! here: what is drawn, and who has the terminal (`terminal`).

use std::cell::RefCell;
use std::io::{self, Write};
use std::rc::Rc;

use crossterm::queue;
use crossterm::terminal::{BeginSynchronizedUpdate, EndSynchronizedUpdate};
use ratatui::backend::{Backend, ClearType, CrosstermBackend, WindowSize};
use ratatui::buffer::Cell;
use ratatui::layout::{Position, Size};

/// The most cells a window is believed to have in a row or a column: more is a slip of the terminal, and memory for all of
/// them would end the program.
const MOST_CELLS: u16 = 1_000;

/// A terminal to draw on.
#[derive(Debug)]
pub struct Surface<W: Write> {
    inner: CrosstermBackend<HeldBytes>,
    held: HeldBytes,
    out: W,
    burst: Burst,
    cursor: Cursor,
}

/// Bytes held back; flushing lets go of nothing.
#[derive(Debug, Clone, Default)]
struct HeldBytes(Rc<RefCell<Vec<u8>>>);

impl Write for HeldBytes {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// Whether a burst has begun.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Burst {
    NotBegun,
    Begun,
}

/// What the terminal's cursor is known to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Cursor {
    Unknown,
    Hidden,
    /// Shown, and nobody knows where.
    Shown,
    ShownAt(Position),
}

impl<W: Write> Surface<W> {
    /// A surface over what takes the bytes.
    pub fn new(out: W) -> Self {
        let held = HeldBytes::default();
        let inner = CrosstermBackend::new(held.clone());
        Self { inner, held, out, burst: Burst::NotBegun, cursor: Cursor::Unknown }
    }

    /// Forgets what the terminal was left with, because somebody else had it meanwhile.
    pub fn forget(&mut self) {
        (self.burst, self.cursor) = (Burst::NotBegun, Cursor::Unknown);
        self.held.0.take();
    }

    /// What is written next, in a burst.
    fn in_burst(&mut self) -> io::Result<&mut CrosstermBackend<HeldBytes>> {
        if self.burst == Burst::NotBegun {
            queue!(self.inner, BeginSynchronizedUpdate)?;
            self.burst = Burst::Begun;
        }
        Ok(&mut self.inner)
    }

    /// The cursor was moved by what was drawn.
    fn lose_cursor(&mut self) {
        if let Cursor::ShownAt(_) = self.cursor {
            self.cursor = Cursor::Shown;
        }
    }
}

impl<W: Write> Backend for Surface<W> {
    type Error = io::Error;

    fn draw<'a, I>(&mut self, content: I) -> io::Result<()>
    where
        I: Iterator<Item = (u16, u16, &'a Cell)>,
    {
        let mut content = content.peekable();
        if content.peek().is_none() {
            return Ok(());
        }
        self.lose_cursor();
        self.in_burst()?.draw(content)
    }

    fn hide_cursor(&mut self) -> io::Result<()> {
        if self.cursor == Cursor::Hidden {
            return Ok(());
        }
        self.cursor = Cursor::Hidden;
        self.in_burst()?.hide_cursor()
    }

    fn show_cursor(&mut self) -> io::Result<()> {
        if let Cursor::Shown | Cursor::ShownAt(_) = self.cursor {
            return Ok(());
        }
        self.cursor = Cursor::Shown;
        self.in_burst()?.show_cursor()
    }

    fn get_cursor_position(&mut self) -> io::Result<Position> {
        self.inner.get_cursor_position()
    }

    fn set_cursor_position<P: Into<Position>>(&mut self, position: P) -> io::Result<()> {
        let position = position.into();
        match self.cursor {
            Cursor::ShownAt(at) if at == position => return Ok(()),
            Cursor::Shown | Cursor::ShownAt(_) => self.cursor = Cursor::ShownAt(position),
            Cursor::Unknown | Cursor::Hidden => {}
        }
        self.in_burst()?.set_cursor_position(position)
    }

    fn clear(&mut self) -> io::Result<()> {
        self.clear_region(ClearType::All)
    }

    fn clear_region(&mut self, region: ClearType) -> io::Result<()> {
        self.lose_cursor();
        self.in_burst()?.clear_region(region)
    }

    fn size(&self) -> io::Result<Size> {
        let Size { width, height } = self.inner.size()?;
        Ok(Size { width: width.min(MOST_CELLS), height: height.min(MOST_CELLS) })
    }

    fn window_size(&mut self) -> io::Result<WindowSize> {
        self.inner.window_size()
    }

    fn flush(&mut self) -> io::Result<()> {
        if self.burst == Burst::NotBegun {
            return Ok(());
        }
        self.burst = Burst::NotBegun;
        queue!(self.inner, EndSynchronizedUpdate)?;
        let burst = self.held.0.take();
        self.out.write_all(&burst)?;
        self.out.flush()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BEGIN: &[u8] = b"\x1b[?2026h";
    const END: &[u8] = b"\x1b[?2026l";

    /// Takes the bytes, and hands over those since it was last asked.
    #[derive(Clone, Default)]
    struct Tape(std::rc::Rc<std::cell::RefCell<Vec<u8>>>);

    impl Write for Tape {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.0.borrow_mut().write(bytes)
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    fn frame(surface: &mut Surface<Tape>, tape: &Tape, cells: &[(u16, u16, Cell)]) -> Vec<u8> {
        surface.draw(cells.iter().map(|(x, y, cell)| (*x, *y, cell))).expect("memory");
        surface.show_cursor().expect("memory");
        surface.set_cursor_position(Position::new(4, 2)).expect("memory");
        Backend::flush(surface).expect("memory");
        tape.0.take()
    }

    #[test]
    fn a_frame_is_one_burst_and_an_unchanged_one_is_nothing() {
        let tape = Tape::default();
        let mut surface = Surface::new(tape.clone());
        let cells = [(0, 0, Cell::new("a"))];
        surface.draw(cells.iter().map(|(x, y, cell)| (*x, *y, cell))).expect("memory");
        assert!(tape.0.take().is_empty(), "half a burst went out");
        let first = frame(&mut surface, &tape, &cells);
        assert!(first.starts_with(BEGIN) && first.ends_with(END), "{first:?}");
        assert!(frame(&mut surface, &tape, &[]).is_empty());
        // Drawing moves the terminal's cursor, so it has to be put back.
        let again = frame(&mut surface, &tape, &cells);
        assert!(String::from_utf8_lossy(&again).contains("\x1b[3;5H"), "{again:?}");
        surface.forget();
        assert!(!frame(&mut surface, &tape, &[]).is_empty());
    }
}
