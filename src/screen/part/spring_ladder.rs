//! The springs at hand as the rungs of a ladder across the aim band: where each would rest, how sure that is, and its chance.
//!
//! A rung is thick over the standard interval and thin over that of 90 %; its mark tells by shape which spring is on the
//! bike, which were measured and which lands best. Not here: the forecasts themselves.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::sag_columns::{SagColumns, SagLine};
use super::target;
use crate::assessment::{Advice, Assessment, Forecast, RateSource};
use crate::mechanics::Fit;
use crate::phrase;
use crate::screen::model::OpenSession;
use crate::screen::theme::Theme;
use crate::session::{Spring, SpringNumber};
use crate::units::UnitSet;

const FITTED: &str = "▶";
const MEASURED: &str = "■";
const BEST_MATCH: &str = "◆";
const BY_LABEL: &str = "○";

/// What the ladder is drawn from.
#[derive(Debug, Clone, Copy)]
pub struct LadderSprings<'a> {
    /// Every spring, softest first.
    forecasts: &'a [Forecast],
    /// The springs as told.
    springs: &'a [Spring],
    /// The one with the best chance, where the advice names one.
    best_match: Option<SpringNumber>,
    /// The line under the choosing mark, where there is one.
    marked: Option<usize>,
}

impl<'a> LadderSprings<'a> {
    /// The rack of a session; none while the intake is open.
    pub fn of(session: &'a OpenSession, marked: Option<usize>) -> Option<Self> {
        let assessment = session.assessment.as_ref()?;
        let forecasts = &assessment.forecasts;
        Some(Self {
            forecasts,
            springs: &session.state.entered.springs,
            best_match: best_match(assessment),
            marked,
        })
    }

    /// The place of the first rung in sight where so many are.
    fn first_of(self, visible: usize) -> usize {
        self.centre(visible).saturating_sub(visible / 2).min(self.forecasts.len().saturating_sub(visible))
    }

    /// The rung that has to be in sight: the one under the choosing mark, else one midway between the fitted and the best
    /// match where both are in sight then, else the best match.
    fn centre(self, visible: usize) -> usize {
        let place = |wanted: &dyn Fn(&Forecast) -> bool| self.forecasts.iter().position(wanted);
        let fitted = place(&|forecast| forecast.known == RateSource::OnTheBike);
        let best_match = place(&|forecast| Some(forecast.spring) == self.best_match);
        let between = fitted.zip(best_match).map(|(fitted, best_match)| {
            if fitted.abs_diff(best_match) < visible {
                usize::midpoint(fitted, best_match)
            } else {
                best_match
            }
        });
        self.marked.or(between).or(fitted).or(best_match).unwrap_or(0)
    }
}

/// The spring the advice leads to in the end; none while it asks for no other spring.
pub fn best_match(assessment: &Assessment) -> Option<SpringNumber> {
    match &assessment.advice {
        Advice::Swap { best_match, .. } | Advice::FirstSpring { best_match, .. } => Some(*best_match),
        Advice::NothingOnTheList { nearest, .. } => *nearest,
        _ => None,
    }
}

/// The ladder in lines.
pub struct Ladder {
    /// A title, with the ticks of the scale.
    pub heading: Line<'static>,
    /// The rungs in sight.
    pub rungs: Vec<Line<'static>>,
    /// The place of the first of them.
    pub first: usize,
    /// What the marks mean.
    pub legend: Line<'static>,
}

impl Ladder {
    /// All of it.
    pub fn lines(self) -> impl Iterator<Item = Line<'static>> {
        std::iter::once(self.heading).chain(self.rungs).chain([self.legend])
    }
}

/// The ladder with the rungs that fit into the room beside the legend, those that matter first.
pub fn ladder(
    springs: LadderSprings<'_>,
    columns: SagColumns,
    title: &str,
    room: usize,
    units: UnitSet,
    theme: Theme,
) -> Ladder {
    let visible = room.saturating_sub(1).max(1).min(springs.forecasts.len());
    let first = springs.first_of(visible);
    let shown = springs.forecasts.iter().enumerate().skip(first).take(visible);
    let drawn = shown.map(|(index, forecast)| {
        let name = phrase::spring(forecast.spring, springs.springs, units);
        columns.line(rung(springs, index, forecast, name, columns, theme))
    });
    let rungs: Vec<Line<'static>> = drawn.collect();
    let legend = legend(springs, springs.forecasts.len() - rungs.len(), theme);
    let heading = columns.heading(title, phrase::guide::SPRING_COLUMNS, theme);
    Ladder { heading, rungs, first, legend }
}

fn rung(
    springs: LadderSprings<'_>,
    index: usize,
    forecast: &Forecast,
    name: String,
    columns: SagColumns,
    theme: Theme,
) -> SagLine {
    let (shape, ink) = shape(springs.best_match, forecast, theme);
    let possible = forecast.fit.is_possible();
    let style = match forecast.known {
        _ if !possible => theme.quiet(),
        RateSource::OnTheBike => theme.strong(),
        _ => theme.text(),
    };
    let mut row = columns.scale.row(theme);
    row.interval(forecast.sag.value, forecast.sag.uncertainty, forecast.ninety_percent(), style);
    row.mark(forecast.sag.value, shape, ink);
    let named = if springs.marked == Some(index) { theme.marked() } else { style };
    let column = if shape == BY_LABEL { " " } else { shape };
    SagLine {
        mark: Span::styled(column, ink),
        name: Span::styled(name, named),
        row,
        sag: (forecast.sag_to_tell(), style),
        tail: tail(forecast, style),
    }
}

/// Chance of the band, and what is in the way of fitting it.
fn tail(forecast: &Forecast, style: Style) -> Vec<Span<'static>> {
    let chance = format!("{:>7}", phrase::in_tens(forecast.chance));
    let fit = match forecast.fit {
        Fit::Fits => String::new(),
        doubtful => format!(" {}", phrase::guide::fit(doubtful)),
    };
    vec![Span::styled(chance, style), Span::styled(fit, style)]
}

/// The mark of a spring and its ink, given which spring the advice leads to.
pub fn shape(best_match: Option<SpringNumber>, forecast: &Forecast, theme: Theme) -> (&'static str, Style) {
    match forecast.known {
        RateSource::OnTheBike => (FITTED, theme.accent()),
        _ if best_match == Some(forecast.spring) => (BEST_MATCH, theme.good()),
        RateSource::Measured => (MEASURED, theme.strong()),
        RateSource::FoundBefore | RateSource::ByLabel => (BY_LABEL, theme.text()),
    }
}

/// How the landing spring lands: the chances beside the rungs are those with the collar left alone.
fn lands(springs: LadderSprings<'_>, best_match: SpringNumber) -> &'static str {
    let chance = |forecast: &&Forecast| forecast.spring == best_match;
    let of_best_match = springs.forecasts.iter().find(chance).map(|forecast| forecast.chance);
    let is_beaten = |other: &Forecast| of_best_match.is_some_and(|best_match| other.chance > best_match);
    if springs.forecasts.iter().any(|other| other.fit.is_possible() && is_beaten(other)) {
        phrase::guide::BEST_MATCH_WITH_COLLAR
    } else {
        phrase::guide::BEST_MATCH
    }
}

/// What the marks in sight mean.
fn legend(springs: LadderSprings<'_>, unseen: usize, theme: Theme) -> Line<'static> {
    let has = |known| springs.forecasts.iter().any(|forecast| forecast.known == known);
    let named = |mark: &str, known| {
        let words = phrase::guide::known(known).filter(|_| has(known))?;
        Some(format!("{mark} {words}"))
    };
    let best_match =
        springs.best_match.map(|best_match| format!("{BEST_MATCH} {}", lands(springs, best_match)));
    let more = (unseen > 0).then(|| phrase::guide::unseen(unseen));
    let parts =
        [named(FITTED, RateSource::OnTheBike), named(MEASURED, RateSource::Measured), best_match, more];
    let band = Span::styled(format!(" {}", phrase::guide::BAND), theme.quiet());
    let parts = parts.into_iter().flatten().map(|part| Span::styled(format!("   {part}"), theme.quiet()));
    [target::sample(theme), band].into_iter().chain(parts).collect()
}
