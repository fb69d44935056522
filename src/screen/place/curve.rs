//! The leverage curve over the whole screen, as told in the details or as it is being typed there.
//!
//! Not here: the chart (`part::leverage_chart`), and reading the pairs (`intake::leverage`).

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

use super::Component;
use crate::mechanics::LeverageCurve;
use crate::mechanics::survey::{LeverageSurvey, survey};
use crate::phrase;
use crate::phrase::places;
use crate::screen::click_targets::ClickTargets;
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Model, Reply};
use crate::screen::part::leverage_chart;
use crate::session::{Intake, LeverageKnowledge, Stamp, limits};
use crate::text::wrap::wrap;
use crate::units::UnitSet;

/// What is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// What is known of the leverage.
    pub knowledge: LeverageKnowledge,
}

impl Component for Curve {
    fn title(&self) -> &'static str {
        places::CURVE
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        vec![Action::Accept, Action::Back]
    }

    fn enter(&self, _: &Desk) -> Option<String> {
        Some(phrase::enter::BACK.to_owned())
    }

    fn update(&mut self, _: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        match pressed {
            Pressed::Action(Action::Accept | Action::Back) => Reply::going(Go::Back),
            _ => Reply::stay(),
        }
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, _: &mut ClickTargets) {
        draw(frame, area, self, &model.desk);
    }
}

/// Draws it, or says what is needed first.
pub fn draw(frame: &mut Frame<'_>, area: Rect, curve: &Curve, desk: &Desk) {
    let Some(session) = &desk.session else { return };
    match surveyed(&curve.knowledge, &session.state.entered, desk.units) {
        Ok(survey) => leverage_chart::draw(frame, area, &survey, desk),
        Err(sentence) => {
            let lines = wrap(&sentence, usize::from(area.width)).into_iter().map(Line::raw);
            frame.render_widget(Paragraph::new(lines.collect::<Vec<_>>()), area);
        }
    }
}

/// The figures of what is known, beside the travel and stroke told.
///
/// # Errors
/// With a sentence on what is needed, or on what does not go together.
pub fn surveyed(
    knowledge: &LeverageKnowledge,
    entered: &Intake,
    units: UnitSet,
) -> Result<LeverageSurvey, String> {
    let (Some(travel), Some(stroke)) = (entered.travel, entered.stroke) else {
        return Err(phrase::leverage::TRAVEL_AND_STROKE_FIRST.to_owned());
    };
    limits::check_leverage(knowledge, travel, stroke).map_err(|refusal| phrase::refusal(&refusal, units))?;
    match knowledge {
        LeverageKnowledge::TravelOnly => Err(phrase::leverage::NOTHING_ENTERED.to_owned()),
        LeverageKnowledge::Ends { start, end } => {
            Ok(survey(&LeverageCurve::between_ends(travel, stroke, *start, *end), &[]))
        }
        LeverageKnowledge::Measured(pairs) => LeverageCurve::measured(travel, stroke, pairs)
            .map(|curve| survey(&curve, pairs))
            .map_err(|_| phrase::leverage::NO_CURVE.to_owned()),
    }
}
