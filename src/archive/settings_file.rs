//! The settings in a file, `settings.ron`, to be changed on the screen or by hand.
//!
//! ```text
//! (
//!     format: 1,
//!     units: Trade,
//!     ruler_mm: 0.5,
//!     theme: AsTerminal,
//!     glyphs: AsLocale,
//!     mouse: Off,
//!     springs: Row(from_lb_in: 350.0, to_lb_in: 600.0, step_lb_in: 50.0),
//!     aims: [
//!         (name: "planted", sag_percent: 30.0, half_width_percent: 1.5),
//!     ],
//! )
//! ```
//!
//! A field that is left out is as the program brings it. A field it does not know is refused, because the next change on
//! the screen writes the file anew and would lose it. Every fault is told at once, with its line. Not here: what is
//! possible (`settings`), and where the file lies (`app`).

mod words;

use std::path::{Path, PathBuf};

use serde::Deserialize;

use super::own_file::{self, LineFault, NO_FIGURE, spaced, tidy};
use crate::phrase;
use crate::session::Target;
use crate::settings::{
    PaperLine, RateRow, RateStep, RowFault, Ruler, Settings, StartingSprings, TargetRange, TargetRanges,
};
use crate::text::{FreeText, Shown};
use crate::units::{Length, Share, SpringRate, UnitSet};
use words::{Band, GlyphSet, Springs, Switch, ThemeWord, UnitsWord};

/// What the file is called.
pub const NAME: &str = "settings.ron";
/// The format this program writes and reads.
const FORMAT: u32 = 1;
/// The fields, in the order they are written.
const FIELDS: [&str; 13] = [
    "format", "units", "ruler_mm", "theme", "glyphs", "mouse", "springs", "aims", "shop", "address",
    "mechanic", "printer", RECORDS,
];
/// The field that names the records folder.
const RECORDS: &str = "records";

/// The lines of the shop's paper, by their fields.
const PAPER: [(&str, PaperLine); 4] = [
    ("shop", PaperLine::Shop),
    ("address", PaperLine::Address),
    ("mechanic", PaperLine::Mechanic),
    ("printer", PaperLine::Printer),
];

/// Reads the text of settings.
///
/// # Errors
/// With every fault in it.
pub fn read(text: &str) -> Result<Settings, Vec<LineFault>> {
    own_file::check_format(text, FORMAT)?;
    let (fields, broken) = own_file::fields(text);
    let mut sheet = SettingsText { text, settings: Settings::default(), faults: Vec::new() };
    for (place, &(name, value)) in fields.iter().enumerate() {
        if fields[..place].iter().any(|(before, _)| *before == name) {
            sheet.fault(value, format!("the field {name} is here twice"));
        } else if let Err(faults) = sheet.take(name, value) {
            sheet.faults.extend(faults);
        }
    }
    if broken.is_none() && sheet.faults.is_empty() && fields.iter().all(|(name, _)| *name != "format") {
        sheet.fault(text, format!("the field format is missing; write format: {FORMAT}"));
    }
    if let Some(broken) = broken {
        // What stands on a broken line was cut short there and says nothing.
        sheet.faults.retain(|fault| fault.line != broken.line);
        sheet.faults.push(broken);
    }
    sheet.faults.sort_by_key(|fault| fault.line);
    if sheet.faults.is_empty() { Ok(sheet.settings) } else { Err(sheet.faults) }
}

/// The records folder that a text of settings names, whatever else is wrong in it; none where it names none.
///
/// # Errors
/// Where the text speaks of one and cannot be read that far: another folder would be the wrong one.
pub fn records_in(text: &str) -> Result<Option<PathBuf>, Vec<LineFault>> {
    let (fields, broken) = own_file::fields(text);
    let Some((_, value)) = fields.iter().find(|(name, _)| *name == RECORDS) else {
        return broken.filter(|_| text.contains(RECORDS)).map_or(Ok(None), |fault| Err(vec![fault]));
    };
    let sheet = SettingsText { text, settings: Settings::default(), faults: Vec::new() };
    let named = PathBuf::from(sheet.text(value)?.as_typed());
    match is_whole(&named) {
        _ if named.as_os_str().is_empty() => Ok(None),
        true => Ok(Some(named)),
        false => Err(vec![sheet.at(value, phrase::settings::RECORDS_NOT_WHOLE.to_owned())]),
    }
}

/// Whether a folder is named from its root or from the home of the user, or not at all.
fn is_whole(folder: &Path) -> bool {
    folder.as_os_str().is_empty() || folder.is_absolute() || folder.starts_with("~")
}

/// What was read so far.
struct SettingsText<'a> {
    text: &'a str,
    settings: Settings,
    faults: Vec<LineFault>,
}

impl SettingsText<'_> {
    fn fault(&mut self, part: &str, reason: String) {
        let fault = self.at(part, reason);
        self.faults.push(fault);
    }

    fn at(&self, part: &str, reason: String) -> LineFault {
        LineFault { line: own_file::line_of(self.text, part), reason }
    }

    fn part<'de, T: Deserialize<'de>>(&self, part: &'de str) -> Result<T, Vec<LineFault>> {
        own_file::part(self.text, part).map_err(|fault| vec![fault])
    }

    /// Takes the value of one field in.
    fn take(&mut self, name: &str, value: &str) -> Result<(), Vec<LineFault>> {
        match name {
            "format" => {
                self.part::<u32>(value)?;
            }
            "units" => self.settings.units = self.part::<UnitsWord>(value)?.into(),
            "theme" => self.settings.ink = self.part::<ThemeWord>(value)?.into(),
            "glyphs" => self.settings.glyphs = self.part::<GlyphSet>(value)?.into(),
            "mouse" => self.settings.mouse = self.part::<Switch>(value)?.into(),
            "ruler_mm" => self.settings.ruler = self.ruler(value)?,
            "springs" => self.settings.springs = self.springs(value)?,
            "aims" => self.settings.target_ranges = self.target_ranges(value)?,
            "shop" => self.settings.paper.shop = self.text(value)?,
            "address" => self.settings.paper.address = self.text(value)?,
            "mechanic" => self.settings.paper.mechanic = self.text(value)?,
            "printer" => self.settings.paper.printer = self.text(value)?,
            RECORDS => {
                self.settings.records = self.text(value)?;
                let named = Path::new(self.settings.records.as_typed());
                if !is_whole(named) {
                    return Err(vec![self.at(value, phrase::settings::RECORDS_NOT_WHOLE.to_owned())]);
                }
            }
            unknown => {
                let reason = format!("{unknown} is not known here; known are {}", FIELDS.join(", "));
                return Err(vec![self.at(value, Shown::from(reason.as_str()).to_string())]);
            }
        }
        Ok(())
    }

    /// Refuses figures that are none, which RON can write and no quantity can hold.
    fn finite<const COUNT: usize>(
        &self,
        part: &str,
        figures: [f64; COUNT],
    ) -> Result<[f64; COUNT], Vec<LineFault>> {
        if figures.iter().all(|figure| figure.is_finite()) {
            Ok(figures)
        } else {
            Err(vec![self.at(part, NO_FIGURE.to_owned())])
        }
    }

    fn text(&self, value: &str) -> Result<FreeText, Vec<LineFault>> {
        self.part::<String>(value).map(|text| FreeText::new(&text))
    }

    fn ruler(&self, value: &str) -> Result<Ruler, Vec<LineFault>> {
        let [figure] = self.finite(value, [self.part(value)?])?;
        let ruler = Ruler::new(Length::mm(figure));
        ruler.map_err(|refusal| vec![self.at(value, phrase::refusal(&refusal, UnitSet::Trade))])
    }

    fn springs(&self, value: &str) -> Result<StartingSprings, Vec<LineFault>> {
        let Springs::Row { from_lb_in, to_lb_in, step_lb_in } = self.part(value)? else {
            return Ok(match self.part(value)? {
                Springs::Nothing => StartingSprings::Nothing,
                _ => StartingSprings::ShopRack,
            });
        };
        let [from, to, step] =
            self.finite(value, [from_lb_in, to_lb_in, step_lb_in])?.map(SpringRate::lb_per_in);
        let step = RateStep::ALL.into_iter().find(|known| known.rate() == step);
        step.ok_or(RowFault::OddStep)
            .and_then(|step| RateRow::new(from, to, step))
            .map(StartingSprings::Row)
            .map_err(|fault| vec![self.at(value, phrase::settings::row_fault(&fault, UnitSet::Trade))])
    }

    fn target_ranges(&self, value: &str) -> Result<TargetRanges, Vec<LineFault>> {
        let raws: Vec<&ron::value::RawValue> = self.part(value)?;
        let (mut bands, mut faults) = (TargetRanges::none(), Vec::new());
        for part in raws.into_iter().map(own_file::value) {
            let read = self.part::<Band>(part).and_then(|band| {
                let [sag, tolerance] =
                    self.finite(part, [band.sag_percent, band.half_width_percent])?.map(Share::percent);
                TargetRange::new(&band.name, Target { sag, tolerance })
                    .and_then(|band| bands.add(band))
                    .map_err(|fault| {
                        vec![self.at(part, phrase::settings::band_fault(&fault, UnitSet::Trade))]
                    })
            });
            faults.extend(read.err().into_iter().flatten());
        }
        if faults.is_empty() { Ok(bands) } else { Err(faults) }
    }
}

/// The text of settings, with a word behind each field for whoever changes it by hand.
///
/// # Errors
/// Only when a figure cannot be written, which no checked quantity can cause.
pub fn write(settings: &Settings) -> Result<String, ron::Error> {
    let options = super::form::options();
    let mut lines = vec!["(".to_owned(), format!("    format: {FORMAT},")];
    let mut line = |name: &str, value: String, comment: &str| {
        lines.push(format!("    {name}: {value}, // {comment}"));
    };
    line("units", options.to_string(&UnitsWord::from(settings.units))?, phrase::settings::UNITS_IN_FILE);
    let ruler = tidy(settings.ruler.least_difference().as_mm());
    line("ruler_mm", options.to_string(&ruler)?, phrase::settings::RULER_IN_FILE);
    line("theme", options.to_string(&ThemeWord::from(settings.ink))?, phrase::settings::THEME_IN_FILE);
    line("glyphs", options.to_string(&GlyphSet::from(settings.glyphs))?, phrase::settings::GLYPHS_IN_FILE);
    line("mouse", options.to_string(&Switch::from(settings.mouse))?, phrase::settings::MOUSE_IN_FILE);
    let springs = options.to_string(&Springs::from(settings.springs))?;
    line("springs", spaced(&springs), phrase::settings::SPRINGS_IN_FILE);
    // A shop that has no paper of its own has no lines for it.
    for (name, paper) in PAPER {
        let text = settings.paper.line(paper);
        if !text.is_empty() {
            line(name, options.to_string(text.as_typed())?, phrase::settings::paper_in_file(paper));
        }
    }
    if !settings.records.is_empty() {
        line(RECORDS, options.to_string(settings.records.as_typed())?, phrase::settings::RECORDS_IN_FILE);
    }
    lines.push(format!("    aims: [ // {}", phrase::settings::RANGES_IN_FILE));
    for band in settings.target_ranges.all() {
        // A name may hold commas and colons, which stay as they are.
        let (name, target) = (options.to_string(band.name().as_typed())?, band.target());
        let [sag, tolerance] =
            [target.sag, target.tolerance].map(|share| options.to_string(&tidy(share.as_percent())));
        lines.push(format!(
            "        (name: {name}, sag_percent: {}, half_width_percent: {}),",
            sag?, tolerance?
        ));
    }
    lines.extend(["    ],".to_owned(), ")\n".to_owned()]);
    Ok(lines.join("\n"))
}

#[cfg(test)]
mod tests;
