//! The spring and the shock it goes on, and whether they fit: stroke enough, wide enough, and at what preload it still does.
//!
//! Not here: fit of the free length within perch and collar range, which only the shock's maker states.

use crate::text::mark::Mark;
use crate::units::{Estimate, Length, Share, SpringRate, Turns};

/// The number of a spring on this session's rack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
#[serde(transparent)]
pub struct SpringNumber(pub u16);

/// One physical spring at hand. Two springs with one label are two springs: labels lie a little, each its own way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spring {
    /// Its number on the rack.
    pub number: SpringNumber,
    /// The rate printed on it.
    pub label: SpringRate,
    /// Its rate as somebody measured it, with the standard uncertainty of that.
    pub measured: Option<Estimate<SpringRate>>,
    /// The stroke printed on it: how far it may be compressed.
    pub stroke: Option<Length>,
    /// Inner diameter.
    pub bore: Option<Length>,
    /// Free length.
    pub free_length: Option<Length>,
    /// The rate of a progressive spring at the end of its stroke; the label is then the rate it begins with.
    pub end_rate: Option<SpringRate>,
    /// What its shop wrote on the coil; none where the shop does not know it from others of its kind.
    pub marked: Option<Marked>,
}

/// A spring its shop knows from every other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Marked {
    /// The word on the coil.
    pub mark: Mark,
    /// What past sessions found it to be; none before one has.
    pub learned: Option<LearnedRate>,
}

/// What the past sessions of a marked spring found it to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LearnedRate {
    /// Its rate as a part of the label.
    pub ratio: Estimate<Share>,
    /// On how many bikes.
    pub bikes: u16,
}

/// How the rate of a spring grows with its compression: by so many parts of its first rate a millimetre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stiffening(f64);

impl Stiffening {
    /// One rate all along.
    pub const NONE: Self = Self(0.0);

    /// From one rate at no compression to another at this one, evenly.
    pub fn between(first: SpringRate, last: SpringRate, over: Length) -> Self {
        Self((last / first - 1.0) / over.as_mm())
    }

    /// Parts of the first rate a millimetre.
    pub(super) const fn per_mm(self) -> f64 {
        self.0
    }
}

impl Spring {
    /// A spring of which only the printed rate is known.
    pub const fn labelled(number: SpringNumber, label: SpringRate) -> Self {
        Self {
            number,
            label,
            measured: None,
            stroke: None,
            bore: None,
            free_length: None,
            end_rate: None,
            marked: None,
        }
    }

    /// The word on its coil.
    pub fn mark(&self) -> Option<Mark> {
        self.marked.map(|marked| marked.mark)
    }

    /// What past sessions found it to be.
    pub fn learned(&self) -> Option<LearnedRate> {
        self.marked?.learned
    }

    /// The rate to reckon with: measured where somebody did, else the label.
    pub fn rate(&self) -> SpringRate {
        self.measured.map_or(self.label, |measured| measured.value)
    }

    /// How its rate grows: as its two printed rates say, over its stroke. Without a printed stroke nobody knows how fast,
    /// and it counts as one of its first rate.
    pub fn stiffening(&self) -> Stiffening {
        let ends = self.end_rate.zip(self.stroke);
        ends.map_or(Stiffening::NONE, |(end, stroke)| Stiffening::between(self.label, end, stroke))
    }

    /// The one rate that would push as hard at this compression.
    pub fn rate_to(&self, compression: Length) -> SpringRate {
        self.rate() * (1.0 + 0.5 * self.stiffening().per_mm() * compression.as_mm())
    }
}

/// The shock as far as the setup cares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shock {
    /// Stroke.
    pub stroke: Length,
    /// Collar thread pitch.
    pub collar_pitch: Length,
    /// Collar turns allowed past contact.
    pub turns_limit: Turns,
    /// Outer diameter of the body.
    pub body_diameter: Option<Length>,
}

impl Shock {
    /// Compression of the spring at full extension: collar turns past contact times the pitch.
    pub fn preload(&self, preload_turns: Turns) -> Length {
        self.collar_pitch * preload_turns.value()
    }
}

/// Whether a spring can be fitted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fit {
    /// Stroke and bore are known and enough.
    Fits,
    /// Its stroke is not on the rack's list: measure it, or read it off the spring, before fitting.
    StrokeUnknown,
    /// The coils would touch before the shock's stroke ends (coil bind): never fit it.
    WouldBind {
        /// How far the shock would compress it.
        needed: Length,
    },
    /// Its inner diameter does not clear the shock body.
    TooNarrow,
}

impl Fit {
    /// Whether nothing known speaks against fitting it.
    pub const fn is_possible(self) -> bool {
        matches!(self, Self::Fits | Self::StrokeUnknown)
    }
}

/// Whether the spring fits the shock with the collar this far past contact: labelled stroke at least shock stroke
/// plus preload, inner diameter at least the body's.
pub fn fit(spring: &Spring, shock: &Shock, preload_turns: Turns) -> Fit {
    let needed = shock.stroke + shock.preload(preload_turns);
    let narrow = matches!((spring.bore, shock.body_diameter), (Some(bore), Some(body)) if bore < body);
    match spring.stroke {
        _ if narrow => Fit::TooNarrow,
        Some(stroke) if stroke < needed => Fit::WouldBind { needed },
        Some(_) => Fit::Fits,
        None => Fit::StrokeUnknown,
    }
}

/// The most turns past contact this spring and the maker of the shock both allow.
pub fn most_turns(spring: &Spring, shock: &Shock) -> Turns {
    let by_spring = spring.stroke.map(|stroke| (stroke - shock.stroke) / shock.collar_pitch);
    let most = by_spring.map_or(shock.turns_limit.value(), |turns| turns.min(shock.turns_limit.value()));
    Turns::of(most.max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shock() -> Shock {
        Shock {
            stroke: Length::mm(60.0),
            collar_pitch: Length::mm(1.5),
            turns_limit: Turns::of(2.0),
            body_diameter: Some(Length::mm(36.0)),
        }
    }

    fn spring(stroke: Option<f64>) -> Spring {
        let spring = Spring::labelled(SpringNumber(1), SpringRate::lb_per_in(450.0));
        Spring { stroke: stroke.map(Length::mm), ..spring }
    }

    #[test]
    fn a_spring_with_the_shocks_own_stroke_binds_as_soon_as_it_is_preloaded() {
        assert_eq!(fit(&spring(Some(60.0)), &shock(), Turns::ZERO), Fit::Fits);
        let needed = Length::mm(61.5);
        assert_eq!(fit(&spring(Some(60.0)), &shock(), Turns::of(1.0)), Fit::WouldBind { needed });
        assert_eq!(most_turns(&spring(Some(60.0)), &shock()), Turns::ZERO);
    }

    #[test]
    fn a_spring_narrower_than_the_body_does_not_fit() {
        let narrow = Spring { bore: Some(Length::mm(35.0)), ..spring(Some(65.0)) };
        assert_eq!(fit(&narrow, &shock(), Turns::ZERO), Fit::TooNarrow);
    }

    #[test]
    fn an_unprinted_stroke_is_not_taken_for_enough() {
        assert_eq!(fit(&spring(None), &shock(), Turns::ZERO), Fit::StrokeUnknown);
        assert_eq!(most_turns(&spring(None), &shock()), Turns::of(2.0));
    }
}
