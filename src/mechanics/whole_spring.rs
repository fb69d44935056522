//! Whether a spring fits as a whole: its inner diameter on body and seat, its free length on the collar's thread, its outer
//! diameter under load in the frame, and the stroke of one without a print.
//!
//! What nobody told is not judged. Coils grow as they are compressed and have to keep a gap when they are shortest: both by
//! EN 13906-1, formulas from memory. Not here: whether coils touch before the stroke ends at the stroke printed (`spring`).

use super::wire::{EndType, WireSpring};
use crate::units::Length;

/// Room between spring and body below which it may rub (common practice, no source).
const LEAST_PLAY: Length = Length::mm(0.3);
/// Room beyond which a spring sits off its middle, rattles and marks its seat (common practice, no source).
const MOST_PLAY: Length = Length::mm(1.5);

/// How the inner diameter sits on what it has to go round.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bore {
    /// It does not go over.
    TooNarrow,
    /// It goes over, and may rub.
    Tight,
    /// As it should.
    Right,
    /// It sits off its middle: it wants the maker's adapter, or it rattles and marks the seat.
    TooWide,
}

/// How an inner diameter sits on a body or seat of this diameter.
pub fn bore(inner: Length, seat: Length) -> Bore {
    match inner - seat {
        play if play < Length::ZERO => Bore::TooNarrow,
        play if play < LEAST_PLAY => Bore::Tight,
        play if play <= MOST_PLAY => Bore::Right,
        _ => Bore::TooWide,
    }
}

/// How a free length stands between the retainer and the two ends of the collar's thread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FreeLengthFit {
    /// The collar cannot go back far enough for it.
    TooLong {
        /// By how much.
        by: Length,
    },
    /// The collar runs out of thread before it holds the spring.
    TooShort {
        /// By how much.
        by: Length,
    },
    /// The collar holds it.
    Held,
}

/// Whether the collar holds a spring of this length. The least and the most are from the retainer to the collar at either
/// end of its thread; `least_preload` is what the maker wants at least, or what it takes that nothing rattles.
pub fn standing(free_length: Length, least: Length, most: Length, least_preload: Length) -> FreeLengthFit {
    if free_length > most {
        return FreeLengthFit::TooLong { by: free_length - most };
    }
    match least - (free_length - least_preload) {
        missing if missing > Length::ZERO => FreeLengthFit::TooShort { by: missing },
        _ => FreeLengthFit::Held,
    }
}

/// How much the outer diameter grows from free to solid: `0.1 (m² - 0.8 m d - 0.2 d²) / D`.
///
/// m pitch between active coils, d wire, D mean diameter. EN 13906-1 (2002), for ends that cannot turn; from memory.
pub fn growth(pitch: Length, wire: Length, mean_diameter: Length) -> Length {
    let (m, d) = (pitch.as_mm(), wire.as_mm());
    Length::mm((0.1 * (m * m - 0.8 * m * d - 0.2 * d * d) / mean_diameter.as_mm()).max(0.0))
}

/// The pitch between the active coils of a spring of this free length, its ends taken off; none for a shape that has none.
pub fn pitch(spring: &WireSpring, active_coils: f64) -> Option<Length> {
    let free_length = spring.free_length?;
    let ends = match spring.ends {
        EndType::ClosedGround => 2.0,
        EndType::Closed => 3.0,
        EndType::Plain | EndType::PlainGround => 1.0,
    };
    let pitch = (free_length - spring.wire * ends) / active_coils;
    (active_coils >= 1.0 && pitch > spring.wire).then_some(pitch)
}

/// The gaps that all active coils together must keep when the spring is shortest: `n (0.0015 D²/d + 0.1 d)`, half as much
/// again for a spring that works hard.
///
/// EN 13906-1 (2002), static and dynamic loading; from memory.
pub fn least_gaps(spring: &WireSpring, active_coils: f64, worked: Worked) -> Length {
    let (mean, d) = (spring.mean_diameter.as_mm(), spring.wire.as_mm());
    let gaps = active_coils * (0.0015 * mean * mean / d + 0.1 * d);
    Length::mm(match worked {
        Worked::Still => gaps,
        Worked::Hard => 1.5 * gaps,
    })
}

/// How a spring is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Worked {
    /// Seldom moved.
    Still,
    /// Moved all the time, as on a bike.
    Hard,
}

/// What the stroke printed on a spring would be, between the two: the way to solid less the gaps that must stay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnmarkedStroke {
    /// With the gaps of a spring that works hard.
    pub careful: Length,
    /// With the least gaps.
    pub most: Length,
}

/// The stroke of a spring without a print, from its way to solid; none where nothing is left.
pub fn unmarked_stroke(
    spring: &WireSpring,
    active_coils: f64,
    way_to_solid: Length,
) -> Option<UnmarkedStroke> {
    let left = |worked| way_to_solid - least_gaps(spring, active_coils, worked);
    let stroke = UnmarkedStroke { careful: left(Worked::Hard), most: left(Worked::Still) };
    (stroke.careful > Length::ZERO).then_some(stroke)
}

#[cfg(test)]
mod tests {
    use super::super::wire::{self, Material};
    use super::*;

    fn mm(value: f64) -> Length {
        Length::mm(value)
    }

    /// A shock spring as one is found in a drawer, invented.
    fn unmarked() -> WireSpring {
        WireSpring {
            wire: mm(9.0),
            mean_diameter: mm(46.0),
            total_coils: 8.5,
            ends: EndType::ClosedGround,
            material: Material::ChromeSilicon,
            free_length: Some(mm(152.3)),
            calipers: mm(0.05),
        }
    }

    #[test]
    fn a_bore_is_too_narrow_tight_right_or_too_wide() {
        let seat = mm(36.0);
        let found = [35.9, 36.1, 36.8, 38.5].map(|inner| bore(mm(inner), seat));
        assert_eq!(found, [Bore::TooNarrow, Bore::Tight, Bore::Right, Bore::TooWide]);
    }

    #[test]
    fn a_spring_stands_within_the_thread_or_not() {
        let held = |free: f64| standing(mm(free), mm(130.0), mm(145.0), mm(1.0));
        assert_eq!(held(140.0), FreeLengthFit::Held);
        assert_eq!(held(147.0), FreeLengthFit::TooLong { by: mm(2.0) });
        // A millimetre of preload is wanted besides: 130.5 long holds only with 129.5 between.
        assert_eq!(held(130.5), FreeLengthFit::TooShort { by: mm(0.5) });
    }

    #[test]
    fn an_unmarked_spring_keeps_the_gaps_of_the_standard() {
        let spring = unmarked();
        let figures = wire::figures(&spring).expect("a sound spring");
        let solid = figures.greatest_deflection.expect("its length is told");
        let stroke = unmarked_stroke(&spring, figures.active_coils, solid).expect("room is left");
        // By hand: n = 6.5, gaps 6.5 (0.0015 · 46²/9 + 0.9) = 8.14 mm, half as much again 12.21 mm; solid after 75.8 mm.
        assert!((solid.as_mm() - 75.8).abs() < 1e-9, "{solid:?}");
        assert!((stroke.most.as_mm() - 67.658).abs() < 1e-2, "{stroke:?}");
        assert!((stroke.careful.as_mm() - 63.587).abs() < 1e-2, "{stroke:?}");
    }

    #[test]
    fn coils_grow_by_half_a_millimetre_or_so() {
        let spring = unmarked();
        let pitch = pitch(&spring, 6.5).expect("a pitch");
        // By hand: m = (152.3 - 18)/6.5 = 20.66; 0.1 (426.9 - 148.8 - 16.2)/46 = 0.569 mm.
        assert!((growth(pitch, spring.wire, spring.mean_diameter).as_mm() - 0.569).abs() < 1e-3);
    }
}
