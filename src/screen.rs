//! Floor 6: the full screen. Read, update, hand the effects out, draw.
//!
//! ```text
//!   Details · Invented Rider · Trail bike · 65.0 mm stroke · aim 30.0 ± 1.5 %   ✓ kept       part/title.rs
//! ────────────────────────────────────────────────────────────────────────────────
//!   ▸ Shock stroke                  6500__________________ mm                              place/*.rs, part/field.rs
//!                                   = 6500.0 mm · 255.906 in
//!
//!   Shock stroke 6500.0 mm is not possible: it must lie between 20.0 mm and 120.0 mm.           part/notice.rs
//! ────────────────────────────────────────────────────────────────────────────────
//!   Enter accept   Tab next line   Up line before   Esc back   ? help   Ctrl-U units        part/footer.rs
//! ```
//!
//! A key becomes an action (`keys`), the place's update changes the model and returns effects (`update`, `place`), the
//! shell performs them and answers before the next frame is drawn (`effect`). Not here: files and clocks (`app`), and
//! wording (`phrase`).

pub mod catalogue;
pub mod click_targets;
pub mod control;
pub mod effect;
mod fuzzy;
pub mod keys;
pub mod model;
pub mod part;
pub mod place;
mod repeat_guard;
pub mod settings_in_force;
pub mod surface;
pub mod terminal;
pub mod theme;
pub mod update;

use std::io;
use std::time::Duration;

use crossterm::event::Event;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::widgets::{Paragraph, Wrap};

use crate::phrase;

use click_targets::{ClickTargets, Extent};
use effect::{Behind, Effect, Shell, StorageState};
use model::Model;
use part::{footer, notice, title};
use terminal::Console;

/// The least window anything is laid out for; the places that matter at the bike work from here on.
pub const LEAST: (u16, u16) = (40, 12);
/// From this size on there is room for every place, for rules between the parts, and for all keys.
pub const FULL: (u16, u16) = (80, 24);

/// How long a frame stands while news may come from behind it.
const BETWEEN_NEWS: Duration = Duration::from_millis(60);

/// What the loop does after an event.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flow {
    /// Go on.
    On,
    /// Paint every cell anew.
    Repaint,
    /// Give the terminal back for a while.
    Suspend,
    /// End.
    Leave,
}

/// Runs the screen until somebody leaves it.
///
/// # Errors
/// When the terminal does not obey or is gone.
pub fn run(console: &mut Console, shell: &mut impl Shell, model: &mut Model) -> io::Result<()> {
    loop {
        let work = take_news(model, shell);
        let click_targets = console.draw(model)?;
        model.was_drawn_with(click_targets);
        let mut event = match work {
            BackgroundWork::None => Some(console.wait()?),
            BackgroundWork::UnderWay => console.wait_for(BETWEEN_NEWS)?,
        };
        // The queue is drained before anything is drawn, so that a held key or a paste costs one frame.
        while let Some(next) = event {
            match take_in(model, shell, next) {
                Flow::On => {}
                Flow::Repaint => console.repaint()?,
                Flow::Suspend => console.pause()?,
                Flow::Leave => return Ok(()),
            }
            event = console.waiting()?;
        }
    }
}

/// Whether something is going on behind the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BackgroundWork {
    /// Nothing.
    None,
    /// Something, whose news will come.
    UnderWay,
}

/// Takes in what came of work behind the screen.
pub fn take_news(model: &mut Model, shell: &mut impl Shell) -> BackgroundWork {
    match shell.behind() {
        Behind::Nothing => BackgroundWork::None,
        Behind::News(news) => {
            let effects = update::news(model, news);
            perform(model, shell, effects);
            BackgroundWork::UnderWay
        }
    }
}

/// Takes one event in: updates the model, has every effect performed, and takes the answers in.
pub fn take_in(model: &mut Model, shell: &mut impl Shell, event: Event) -> Flow {
    let effects = update::event(model, event, shell.now());
    perform(model, shell, effects)
}

/// Has effects performed and takes the answers in.
pub fn perform(model: &mut Model, shell: &mut impl Shell, effects: Vec<Effect>) -> Flow {
    let mut flow = Flow::On;
    for effect in effects {
        match effect {
            Effect::Repaint => flow = Flow::Repaint,
            Effect::Suspend => flow = Flow::Suspend,
            Effect::Leave => return Flow::Leave,
            effect => {
                let answer = shell.perform(effect);
                update::answer(model, answer);
            }
        }
    }
    flow
}

/// Draws a whole frame.
pub fn draw(frame: &mut Frame<'_>, model: &Model) {
    draw_noting(frame, model, &mut ClickTargets::default());
}

/// Draws a whole frame and notes what in it can be clicked.
pub fn draw_noting(frame: &mut Frame<'_>, model: &Model, click_targets: &mut ClickTargets) {
    let area = frame.area();
    let is_below = |(width, height): (u16, u16)| area.width < width || area.height < height;
    let least = model.place().least();
    if is_below(LEAST) {
        click_targets.shows(Extent::Nothing);
        draw_too_small(frame, area, least, "", model);
    } else if is_below(least) {
        click_targets.shows(Extent::OnlyTheWayBack);
        draw_too_small(frame, area, least, phrase::places::ESC_GOES_BACK, model);
    } else {
        draw_regions(frame, area, model, click_targets);
    }
    model.desk.theme.finish(frame.buffer_mut());
}

fn draw_regions(frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
    let margin = margin(area);
    let [top, middle, said, bottom] = Layout::vertical([
        Constraint::Length(if is_full(area) { 2 } else { 1 }),
        Constraint::Min(1),
        Constraint::Length(notice::height(area, model)),
        Constraint::Length(footer::height(area)),
    ])
    .areas(area);
    title::draw(frame, top, model);
    let inner = Rect { x: middle.x + margin, width: middle.width.saturating_sub(2 * margin), ..middle };
    model.place().draw(frame, inner, model, click_targets);
    notice::draw(frame, said, model);
    footer::draw(frame, bottom, model, click_targets);
}

/// Whether there is room for rules between the parts, and for all keys.
pub const fn is_full(window: Rect) -> bool {
    window.width >= FULL.0 && window.height >= FULL.1
}

/// Cells kept free at either side.
pub const fn margin(window: Rect) -> u16 {
    if window.width < FULL.0 { 1 } else { 2 }
}

fn draw_too_small(frame: &mut Frame<'_>, area: Rect, least: (u16, u16), way_out: &str, model: &Model) {
    let kept = match model.desk.session.as_ref().map(|session| &session.keeping) {
        Some(StorageState::OnlyInMemory { .. }) => "the last step is in memory only, so do not leave",
        _ => "the work is saved",
    };
    let sentence = format!(
        "The window is {} by {} cells; this needs {} by {}. Make it larger: {kept}.{way_out}",
        area.width, area.height, least.0, least.1
    );
    frame.render_widget(Paragraph::new(sentence).wrap(Wrap { trim: true }), area);
}

#[cfg(test)]
mod tests {
    use ratatui::Terminal;
    use ratatui::backend::TestBackend;

    use super::*;
    use crate::screen::effect::StorageState;
    use crate::screen::model::{Go, Shelf};
    use crate::screen::place::{
        Place, changes::Changes, curve::Curve, guide::Guide, help::Help, intake::Form, rack::RackPlace,
        review::Review, settings::SettingsList, trials::Trials, wire::WireForm,
    };
    use crate::screen::theme::{Glyphs, Ink, Theme};
    use crate::session::{Intake, LeverageKnowledge, Record};
    use crate::units::UnitSet;

    /// A model at every place, with nothing told.
    fn everywhere() -> Vec<Model> {
        let opened = chrono::DateTime::parse_from_rfc3339("2026-11-25T12:00:00+01:00").expect("a time");
        let ascii = Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii };
        let places: [Option<Place>; 11] = [
            None,
            Some(Form::new(&Intake::default()).into()),
            Some(Guide::default().into()),
            Some(Trials::default().into()),
            Some(RackPlace::default().into()),
            Some(SettingsList::default().into()),
            Some(Review::default().into()),
            Some(Help::default().into()),
            Some(Curve { knowledge: LeverageKnowledge::TravelOnly }.into()),
            Some(Changes.into()),
            Some(WireForm::new(UnitSet::Trade).into()),
        ];
        let at = |place: Option<Place>| {
            let mut model = Model::new(Shelf::default(), UnitSet::Trade, ascii);
            let because = "The disk is full.".to_owned();
            model
                .desk
                .lay_out(Record::new(opened), StorageState::OnlyInMemory { because })
                .expect("nothing to misfit");
            if let Some(place) = place {
                model.go(Go::To(place));
            }
            model
        };
        places.into_iter().map(at).collect()
    }

    #[test]
    fn the_regions_of_every_place_survive_sizes_far_below_the_least() {
        for model in everywhere() {
            for (width, height) in (1..=44).flat_map(|width| (1..=14).map(move |height| (width, height))) {
                let mut terminal =
                    Terminal::new(TestBackend::new(width, height)).expect("the test terminal always works");
                terminal
                    .draw(|frame| draw_regions(frame, frame.area(), &model, &mut ClickTargets::default()))
                    .expect("the test terminal always works");
            }
        }
    }
}
