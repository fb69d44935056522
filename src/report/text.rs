//! The assessment as plain text, for a terminal without a screen, a mail or a printer.

use std::fmt::Write;

use super::Subject;
use super::changes::write_changes;
use crate::assessment::{Forecast, RateSource, SetFinding};
use crate::mechanics::Fit;
use crate::phrase;
use crate::session::Step;
use crate::session::facts::Fact;
use crate::units::UnitSet;
use crate::units::display::Show;

/// The whole assessment as lines of text in the units of the set; ends with a line break.
pub fn as_text(subject: &Subject<'_>, units: UnitSet) -> String {
    let mut text = String::new();
    // Writing to a String cannot fail.
    let _ = write_all(&mut text, subject, units);
    text
}

fn write_all(text: &mut String, subject: &Subject<'_>, units: UnitSet) -> std::fmt::Result {
    let Subject { setup, state, assessment, .. } = *subject;
    write_heading(text, subject, units)?;
    writeln!(text, "\nReadings")?;
    if assessment.sets.is_empty() {
        writeln!(text, "  none yet")?;
    }
    for set in &assessment.sets {
        writeln!(text, "  {}", set_line(set, subject, units))?;
    }
    let words = phrase::advice(assessment, setup, units);
    let heading = if state.step == Step::Closed { "At the close" } else { "Next" };
    writeln!(text, "\n{heading}: {}\n  {}", words.headline, words.reason)?;
    writeln!(text, "\nSpring list     sag             on target   fit")?;
    for forecast in &assessment.forecasts {
        writeln!(text, "  {}", forecast_line(forecast, units))?;
    }
    writeln!(
        text,
        "  > on the bike, at its collar position; * measured; all but > with the collar at contact."
    )?;
    writeln!(
        text,
        "  After ± is what holds the sag in 9 of 10 cases; of load and rate, one standard uncertainty."
    )?;
    write_changes(text, subject, units)?;
    let findings = &assessment.findings;
    writeln!(
        text,
        "\nLoad on the rear wheel {} (the readings and the weights together)",
        findings.load.shown(units)
    )?;
    writeln!(text, "Rate for the middle of the target range {}", findings.needed_rate.shown(units))?;
    if let Some(finding) = &assessment.trail {
        writeln!(text, "Trail: {}", phrase::trail_finding(finding, units))?;
    }
    for warning in &assessment.warnings {
        writeln!(text, "Mind: {}", phrase::warning(warning, setup, units))?;
    }
    writeln!(text, "\nStep: {}", phrase::step(state.step).title)
}

fn write_heading(text: &mut String, subject: &Subject<'_>, units: UnitSet) -> std::fmt::Result {
    let Subject { setup, state, .. } = *subject;
    let name = [state.entered.customer.shown().to_string(), state.entered.bike_name.shown().to_string()];
    let name: Vec<&str> = name.iter().map(String::as_str).filter(|part| !part.is_empty()).collect();
    if !name.is_empty() {
        writeln!(text, "{}", name.join(", "))?;
    }
    let entered = |fact: Fact, figure: String| match fact {
        fact if setup.is_entered(fact) => figure,
        Fact::Bike => format!("{figure} ({})", phrase::intake::TYPICAL),
        _ => phrase::NOT_ENTERED.to_owned(),
    };
    writeln!(
        text,
        "Rider {}, bike {}, travel {}, stroke {}; target {}",
        entered(Fact::Rider, units.show(setup.rider)),
        entered(Fact::Bike, units.show(setup.bike)),
        entered(Fact::Travel, units.show(setup.travel)),
        units.show(setup.shock.stroke),
        phrase::target_range(setup.target, units),
    )
}

fn set_line(set: &SetFinding, subject: &Subject<'_>, units: UnitSet) -> String {
    let spring = phrase::spring(set.spring, &subject.setup.springs, units);
    let scatter = set.scatter.map_or_else(String::new, |scatter| format!(", spread {}", scatter.even(units)));
    let count = if set.readings_used == 1 { "reading" } else { "readings" };
    format!(
        "set {}: {} at {} of preload, {} {count}, average {}{scatter}: sag {} ({}), at the wheel {}",
        set.number,
        phrase::condition::behind(spring, set.how.condition.on(&subject.state.conditions)),
        units.show(set.preload_turns),
        set.readings_used,
        set.average.value.even(units),
        set.sag_to_tell().shown(units),
        phrase::standing(set.standing),
        units.show(set.wheel_sag),
    )
}

fn forecast_line(forecast: &Forecast, units: UnitSet) -> String {
    let mark = match forecast.known {
        RateSource::OnTheBike => '>',
        RateSource::Measured => '*',
        RateSource::FoundBefore | RateSource::ByLabel => ' ',
    };
    let fit = match forecast.fit {
        Fit::Fits => "fits".to_owned(),
        Fit::StrokeUnknown => "stroke unknown: check before fitting".to_owned(),
        Fit::WouldBind { needed } => format!("would bind: needs {}", units.show(needed)),
        Fit::TooNarrow => "too narrow for the shock body".to_owned(),
    };
    let rate = forecast.rate.written(units).to_string();
    let chance = phrase::in_tens(forecast.chance);
    format!("{mark} {rate:<15} {:<15} {chance:>6}   {fit}", forecast.sag_to_tell().shown(units))
}
