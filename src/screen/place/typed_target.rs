//! A target range as it is typed, wherever one is: `28.5-31.5`, `25 to 30 %`, `30 ± 1.5`, `30 +- 1.5`, or its middle alone.
//!
//! Not here: the names a shop gives its ranges (`settings`), and which targets are possible (`session::limits`).

use std::borrow::Cow;

use crate::session::Target;
use crate::units::{Share, Unreadable, parse};

/// Reads a target range; one whose middle alone is typed is as wide as another.
///
/// # Errors
/// When one of its figures cannot be read.
pub(super) fn read(text: &str, as_wide_as: Target) -> Result<Target, Unreadable> {
    let plain = text.replace("+-", "±").replace("+/-", "±").replace(['–', '−'], "-").replace(" to ", "-");
    let share = |text: &str| -> Result<Share, Unreadable> { Ok(parse::share(text)?.value) };
    if let Some((sag, tolerance)) = plain.split_once('±') {
        return Ok(Target { sag: share(sag)?, tolerance: share(tolerance)? });
    }
    match plain.split_once('-') {
        Some((low, high)) if !low.trim().is_empty() => {
            let (low, high) = (share(low)?, share(high)?);
            // A hair beside the figure typed would be asked about as unusual.
            let half = |share: Share| Share::percent((share.as_percent() * 5e5).round() / 1e6);
            Ok(Target { sag: half(low + high), tolerance: half((high - low).abs()) })
        }
        _ => Ok(Target { sag: share(&plain)?, ..as_wide_as }),
    }
}

/// A target range with every digit of it, so that it reads back to itself.
pub(super) fn written(target: Target) -> Cow<'static, str> {
    let percent = |share: Share| (share.as_percent() * 1e6).round() / 1e6;
    Cow::Owned(format!("{}–{} %", percent(target.low()), percent(target.high())))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(sag: f64, tolerance: f64) -> Target {
        Target { sag: Share::percent(sag), tolerance: Share::percent(tolerance) }
    }

    fn same(text: &str, target: Target) {
        let read = read(text, Target::PLANTED).expect(text);
        let off = |a: Share, b: Share| (a.as_percent() - b.as_percent()).abs();
        assert!(
            off(read.sag, target.sag) < 1e-9 && off(read.tolerance, target.tolerance) < 1e-9,
            "{text}: {read:?}"
        );
    }

    #[test]
    fn a_range_is_typed_by_its_ends_or_by_its_middle() {
        for text in ["25-30", "25–30 %", "25 to 30", "30-25", "27.5 ± 2.5", "27.5 +- 2.5 %", "27,5 +/- 2,5"]
        {
            same(text, of(27.5, 2.5));
        }
        same("30", of(30.0, 1.5));
    }

    #[test]
    fn what_is_no_range_is_refused() {
        for text in ["", "a-b", "25-", "soft"] {
            assert!(read(text, Target::PLANTED).is_err(), "{text}");
        }
    }

    #[test]
    fn a_range_reads_back_to_itself() {
        for target in [of(30.0, 1.5), of(27.125, 1.25), of(25.0, 0.75)] {
            same(&written(target), target);
        }
    }
}
