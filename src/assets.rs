//! Floor 4: what ships inside the program, read from the RON files in `assets/`.
//!
//! The files are embedded at build time and read once; a test reads every one of them, so a slip of the pen is found
//! before a mechanic does. Not here: files of the user's own.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::assessment::Doubts;
use crate::assessment::doubts::{DecisionLimits, LeverageDoubts, LoadDoubts, ReadingDoubts};
use crate::units::{Length, Mass, Share, Turns};

static DOUBTS: LazyLock<Doubts> = LazyLock::new(|| {
    read_doubts(include_str!("../assets/doubts.ron")).expect("assets/doubts.ron is read by a test")
});

/// The table of how far off things may be.
pub fn doubts() -> &'static Doubts {
    &DOUBTS
}

/// An invented session to look at.
#[derive(Debug, Clone, Copy)]
pub struct Demonstration {
    /// What it shows, in a few words.
    pub title: &'static str,
    /// Its record, as a file holds it.
    pub text: &'static str,
}

/// The invented sessions that ship with the program.
pub const DEMONSTRATIONS: [Demonstration; 5] = [
    Demonstration {
        title: "Enduro bike: too little sag on the stiffest spring",
        text: include_str!("../sessions/2026-03-14-1005-3f9a2c.ron"),
    },
    Demonstration {
        title: "Small trail bike: the softest spring may not be soft enough",
        text: include_str!("../sessions/2026-04-02-1640-81d0b7.ron"),
    },
    Demonstration {
        title: "Park bike: readings that do not go together",
        text: include_str!("../sessions/2026-05-23-0915-5c117e.ron"),
    },
    Demonstration {
        title: "All-mountain bike: the first visit",
        text: include_str!("../sessions/2025-09-20-1420-a240f6.ron"),
    },
    Demonstration {
        title: "All-mountain bike: back with heavier kit, and livelier",
        text: include_str!("../sessions/2026-06-11-1130-a27713.ron"),
    },
];

/// Reads a table of doubts, so that the swap study can try another one.
///
/// # Errors
/// When the text is not a table of doubts, with line and column.
pub fn read_doubts(text: &str) -> Result<Doubts, ron::error::SpannedError> {
    ron::from_str::<DoubtsFile>(text).map(Doubts::from)
}

/// A figure with the reason it is what it is.
type Reasoned<Figure> = (Figure, String);

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct DoubtsFile {
    reading_scatter_mm: Reasoned<f64>,
    scatter_start_weight: Reasoned<f64>,
    posture_percent: Reasoned<f64>,
    contact_turns: Reasoned<f64>,
    label_percent: Reasoned<f64>,
    rider_share: Reasoned<f64>,
    u_rider_share: Reasoned<f64>,
    season_drift: Reasoned<f64>,
    bike_share: Reasoned<f64>,
    unsprung_rear_kg: Reasoned<f64>,
    u_unsprung_rear_kg: Reasoned<f64>,
    falloff_percent: Reasoned<f64>,
    u_falloff_percent: Reasoned<f64>,
    u_falloff_ends_percent: Reasoned<f64>,
    u_falloff_measured_percent: Reasoned<f64>,
    far_spring_percent: Reasoned<f64>,
    settled_percent: Reasoned<f64>,
    most_readings: Reasoned<u8>,
    better_by_percent: Reasoned<f64>,
    preload_gain_percent: Reasoned<f64>,
    little_preload_turns: Reasoned<f64>,
    rescue_share: Reasoned<f64>,
    stands_apart: Reasoned<f64>,
    disagree_percent: Reasoned<f64>,
    lands_percent: Reasoned<f64>,
    typical_bike_doubt_kg: Reasoned<f64>,
    load_unknown_percent: Reasoned<f64>,
}

impl From<DoubtsFile> for Doubts {
    fn from(file: DoubtsFile) -> Self {
        Self {
            reading: ReadingDoubts {
                scatter: Length::mm(file.reading_scatter_mm.0),
                start_weight: file.scatter_start_weight.0,
                posture: Share::percent(file.posture_percent.0),
                contact: Turns::of(file.contact_turns.0),
                stands_apart: file.stands_apart.0,
                disagree: Share::percent(file.disagree_percent.0),
            },
            label: Share::percent(file.label_percent.0),
            load: LoadDoubts {
                rider_share: Share::fraction(file.rider_share.0),
                u_rider_share: Share::fraction(file.u_rider_share.0),
                season_drift: Share::fraction(file.season_drift.0),
                bike_share: Share::fraction(file.bike_share.0),
                unsprung: Mass::kg(file.unsprung_rear_kg.0),
                u_unsprung: Mass::kg(file.u_unsprung_rear_kg.0),
                typical_bike_doubt: Mass::kg(file.typical_bike_doubt_kg.0),
                load_unknown: Share::percent(file.load_unknown_percent.0),
            },
            leverage: LeverageDoubts {
                falloff: Share::percent(file.falloff_percent.0),
                travel_only: Share::percent(file.u_falloff_percent.0),
                ends: Share::percent(file.u_falloff_ends_percent.0),
                measured: Share::percent(file.u_falloff_measured_percent.0),
                far_spring: Share::percent(file.far_spring_percent.0),
            },
            decision: DecisionLimits {
                settled: Share::percent(file.settled_percent.0),
                most_readings: file.most_readings.0,
                better_by: Share::percent(file.better_by_percent.0),
                preload_gain: Share::percent(file.preload_gain_percent.0),
                little_preload: Turns::of(file.little_preload_turns.0),
                rescue: Share::fraction(file.rescue_share.0),
                lands: Share::percent(file.lands_percent.0),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn every_embedded_file_is_read() {
        assert!(super::doubts().label.as_percent() > 0.0);
    }
}
