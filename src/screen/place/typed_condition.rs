//! A condition as it is typed, wherever one is: a weight where one leads, and what it is of: `86 pack`, `190 lb pack`, `pack`.
//!
//! Not here: which weights are possible (`session::limits`), and the line of quick trials it stands on (`trials`).

use crate::session::Condition;
use crate::text::FreeText;
use crate::units::{UnitSet, parse};

/// A weight stands there and nothing says what it is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Unnamed;

/// Reads a condition; nothing is rider and bike as entered.
///
/// # Errors
/// Where it has no name.
pub(super) fn read(text: &str, units: UnitSet) -> Result<Option<Condition>, Unnamed> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let ends = text.match_indices(char::is_whitespace).map(|(at, _)| at).chain([text.len()]).take(2);
    let weighed =
        ends.filter_map(|end| Some((parse::mass(&text[..end], units).ok()?.value, text[end..].trim())));
    let (rider, name) = weighed.last().map_or((None, text), |(rider, name)| (Some(rider), name));
    if name.is_empty() { Err(Unnamed) } else { Ok(Some(Condition { name: FreeText::new(name), rider })) }
}
