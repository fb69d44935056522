//! The springs at hand as one line of text, and back; what the line takes is in `typed_spring::list`.
//!
//! Springs that stay on the line keep their number and what else is known of them, so that correcting the rack does not
//! make another spring of one that was measured. A spring with a mark stands there by its mark: `400 500 A3 B1`. Not here: what is possible (`session::limits`).

pub use crate::screen::place::typed_spring::list::SpringsFault;

use crate::phrase;
use crate::screen::place::typed_spring::{MOST_COUNTED, TypedSpring, list};
use crate::session::shop_rack::{free_numbers, same_length};
use crate::session::{Intake, Spring, SpringNumber};
use crate::text::mark::Mark;
use crate::units::{Length, Show, UnitSet};

/// Reads the line; springs already on the rack keep their number and what is known of them.
///
/// # Errors
/// With the part that cannot be read.
pub fn read(text: &str, units: UnitSet, springs: &[Spring]) -> Result<Vec<Spring>, SpringsFault> {
    let (marked, unmarked): (Vec<&Spring>, Vec<&Spring>) =
        springs.iter().partition(|spring| spring.marked.is_some());
    let (meant, rest) = by_mark(text, &marked);
    if rest.trim().is_empty() && !meant.is_empty() {
        return Ok(meant);
    }
    let typed = list::read(&rest, units)?;
    if let Some(none) = typed.iter().find(|spring| spring.count == Some(0)) {
        return Err(SpringsFault::Count(units.show(none.rate)));
    }
    let taken: Vec<SpringNumber> = marked.iter().map(|spring| spring.number).collect();
    let unmarked: Vec<Spring> = unmarked.into_iter().copied().collect();
    Ok(numbered(&one_by_one(&typed), &unmarked, &taken).into_iter().chain(meant).collect())
}

/// The springs whose marks are words of a text, each once, and the text without these words.
fn by_mark(text: &str, marked: &[&Spring]) -> (Vec<Spring>, String) {
    let mut meant: Vec<Spring> = Vec::new();
    let mut rest: Vec<&str> = Vec::new();
    for word in text.split_whitespace() {
        let mark = Mark::read(word.trim_matches([',', ';'])).ok();
        match marked.iter().find(|spring| spring.mark() == mark) {
            Some(spring) if meant.contains(spring) => {}
            Some(spring) => meant.push(**spring),
            None => rest.push(word),
        }
    }
    (meant, rest.join(" "))
}

/// Reads the line as the whole list; the spring on the bike stays on it, first, where the line leaves it out: it can be
/// kept, and its readings are of it.
///
/// # Errors
/// With the part that cannot be read.
pub fn read_with_fitted(text: &str, units: UnitSet, intake: &Intake) -> Result<Vec<Spring>, SpringsFault> {
    let listed = read(text, units, &intake.springs)?;
    let fitted = intake.springs.iter().find(|spring| Some(spring.number) == intake.spring_on_arrival);
    let left_out = fitted.filter(|fitted| listed.iter().all(|spring| spring.number != fitted.number));
    Ok(left_out.copied().into_iter().chain(listed).collect())
}

/// What is to be asked once about a line that reads in two ways; none where it does not.
pub fn question(text: &str, units: UnitSet) -> Option<String> {
    let listed = list::read(text, units).ok()?;
    let count_or_stroke = listed.iter().find_map(|spring| {
        let TypedSpring { rate, count, or_stroke, .. } = *spring;
        Some(phrase::springs::count_or_stroke(rate, count?, or_stroke?, units))
    });
    count_or_stroke.or_else(|| {
        let [before @ .., last] = listed.as_slice() else { return None };
        let only_the_last = !before.is_empty() && before.iter().all(|spring| spring.stroke.is_none());
        Some(phrase::springs::stroke_of_the_last(last.rate, last.stroke.filter(|_| only_the_last)?, units))
    })
}

/// Every spring by itself.
fn one_by_one(typed: &[TypedSpring]) -> Vec<TypedSpring> {
    let each = |spring: &TypedSpring| std::iter::repeat_n(*spring, usize::from(spring.count.unwrap_or(1)));
    typed.iter().flat_map(each).collect()
}

/// Springs the line shows as they were on the rack keep all that is known of them; the others get numbers of their own.
fn numbered(listed: &[TypedSpring], springs: &[Spring], taken: &[SpringNumber]) -> Vec<Spring> {
    let mut left = springs.to_vec();
    let mut free = free_numbers(springs).filter(|number| !taken.contains(number));
    let mut one = |listed: &TypedSpring| {
        let kept = left.iter().position(|spring| listed.bears(spring.label, spring.end_rate));
        if let Some(kept) = kept {
            let mut spring = left.remove(kept);
            spring.stroke = listed.stroke.map(|stroke| nearest(spring.stroke, stroke));
            return spring;
        }
        let number = free.next().unwrap_or(SpringNumber(u16::MAX));
        listed.numbered(number)
    };
    listed.iter().map(&mut one).collect()
}

/// The stroke as it was, where the line only shows it rounded.
fn nearest(known: Option<Length>, read: Length) -> Length {
    known.filter(|known| same_length(*known, read)).unwrap_or(read)
}

/// The rack as a line that [`read`] takes back.
pub fn written(springs: &[Spring], units: UnitSet) -> String {
    let marks = springs.iter().filter_map(Spring::mark).map(|mark| mark.to_string());
    let unmarked: Vec<Spring> = springs.iter().filter(|spring| spring.marked.is_none()).copied().collect();
    let rates = Some(written_by_rate(&unmarked, units)).filter(|rates| !rates.is_empty());
    rates.into_iter().chain(marks).collect::<Vec<_>>().join(" ")
}

/// Springs without a mark.
fn written_by_rate(springs: &[Spring], units: UnitSet) -> String {
    let Some(first) = springs.first() else { return String::new() };
    let shared = first.stroke.filter(|_| springs.iter().all(|spring| spring.stroke == first.stroke));
    let mut words: Vec<String> = Vec::new();
    let mut index = 0;
    while index < springs.len() {
        let spring = &springs[index];
        let kind = |one: &Spring| (one.label, one.end_rate, one.stroke);
        let same = |other: &&Spring| kind(other) == kind(spring);
        let count = springs[index..].iter().take_while(same).take(usize::from(MOST_COUNTED)).count();
        let mut word = spring.label.written(units).figure;
        if let Some(end) = spring.end_rate {
            word = format!("{word}-{}", end.written(units).figure);
        }
        if count > 1 {
            word = format!("{word} x{count}");
        }
        // The rate of a progressive spring rises over its stroke, so the two stand together.
        if let (true, Some(stroke)) = (shared.is_none() || spring.end_rate.is_some(), spring.stroke) {
            word = format!("{word}/{}", tight(stroke, units));
        }
        words.push(word);
        index += count;
    }
    let unit = first.label.written(units).unit;
    let stroke = shared.map(|stroke| {
        let written = stroke.written(units);
        format!(", stroke {} {}", written.figure.trim_end_matches(".0"), written.unit)
    });
    let stroke = stroke.unwrap_or_default();
    format!("{} {unit}{stroke}", words.join(" "))
}

/// A length without the blank before its unit.
fn tight(length: Length, units: UnitSet) -> String {
    let written = length.written(units);
    format!("{}{}", written.figure.trim_end_matches(".0"), written.unit)
}

#[cfg(test)]
mod tests;
