//! What a typed digit costs on the wire where the pictures move with it: small over a slow line.

use std::cell::RefCell;
use std::io::{self, Write};
use std::rc::Rc;

use coilwright::screen::surface::Surface;
use coilwright::screen::{self};
use ratatui::layout::Rect;
use ratatui::{Terminal, TerminalOptions, Viewport};

use super::{Stage, guide, trials};

/// The most bytes of a frame after one digit: about what one packet carries. Measured: up to 545 in the guide at 80 by 24, and
/// 1,464 at 200 by 60, where the figure that changes is thirteen lines high.
const MOST: usize = 1_500;

/// Takes bytes, and hands over those since it was last asked.
#[derive(Clone, Default)]
struct Tape(Rc<RefCell<Vec<u8>>>);

impl Write for Tape {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// The bytes each key costs at a size.
fn costs(stage: &mut Stage, keys: &[&str], (width, height): (u16, u16)) -> Vec<usize> {
    let tape = Tape::default();
    let viewport = Viewport::Fixed(Rect::new(0, 0, width, height));
    let mut terminal = Terminal::with_options(Surface::new(tape.clone()), TerminalOptions { viewport })
        .expect("a tape always works");
    let mut frame = |stage: &Stage| {
        terminal.draw(|frame| screen::draw(frame, &stage.model)).expect("a tape always works");
        tape.0.take().len()
    };
    frame(stage);
    keys.iter().map(|key| frame(stage.press(key))).collect()
}

#[test]
fn a_digit_of_a_reading_costs_few_bytes_though_the_pictures_move() {
    let at_a_reading = || {
        let mut legs = (0..guide::WALK.len()).map(guide::at_leg);
        let mut stage = legs.find(|stage| stage.shows("Type the distance")).expect("the walk reads");
        stage.press("<C-w>");
        stage
    };
    for size in [(80, 24), (200, 60)] {
        for mut stage in [at_a_reading(), trials::ready()] {
            let costs = costs(&mut stage, &["1", "6", ".", "5"], size);
            assert!(costs.iter().all(|cost| (1..=MOST).contains(cost)), "{costs:?} at {size:?}");
        }
    }
}
