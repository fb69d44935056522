//! Floor 4: what ships inside the program, read from the RON files in `assets/`.
//!
//! The files are embedded at build time and read once; a test reads every one of them, so a slip of the pen is found
//! before a mechanic does. Not here: files of the user's own.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::assessment::doubts::{GasDoubts, LeverageDoubts, LoadDoubts, ReadingDoubts};
use crate::assessment::{Doubts, Measuring, Prices};
use crate::units::{Estimate, Force, Length, Mass, Minutes, Share, Turns};

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
    least_scatter_mm: Reasoned<f64>,
    posture_percent: Reasoned<f64>,
    contact_turns: Reasoned<f64>,
    ring_kept_mm: Reasoned<f64>,
    ring_kept_doubt_mm: Reasoned<f64>,
    ring_pushed_mm: Reasoned<f64>,
    ring_pushed_doubt_mm: Reasoned<f64>,
    label_percent: Reasoned<f64>,
    label_least_percent: Reasoned<f64>,
    label_a_use_percent: Reasoned<f64>,
    rider_share: Reasoned<f64>,
    u_rider_share: Reasoned<f64>,
    rider_share_measured_doubt: Reasoned<f64>,
    standing_share: Reasoned<f64>,
    standing_share_doubt: Reasoned<f64>,
    condition_percent: Reasoned<f64>,
    condition_by_weight_percent: Reasoned<f64>,
    condition_unweighed_percent: Reasoned<f64>,
    season_drift: Reasoned<f64>,
    bike_share: Reasoned<f64>,
    bike_share_doubt: Reasoned<f64>,
    unsprung_rear_kg: Reasoned<f64>,
    u_unsprung_rear_kg: Reasoned<f64>,
    rider_doubt_kg: Reasoned<f64>,
    gas_n: Reasoned<f64>,
    gas_doubt_n: Reasoned<f64>,
    gas_none_doubt_n: Reasoned<f64>,
    gas_told_doubt_n: Reasoned<f64>,
    falloff_percent: Reasoned<f64>,
    u_falloff_percent: Reasoned<f64>,
    falloff_told_doubt_percent: Reasoned<f64>,
    belly_percent: Reasoned<f64>,
    belly_measured_percent: Reasoned<f64>,
    stands_apart: Reasoned<f64>,
    most_readings: Reasoned<u8>,
    lands_percent: Reasoned<f64>,
    typical_bike_doubt_kg: Reasoned<f64>,
    load_unknown_percent: Reasoned<f64>,
    in_range_minutes: Reasoned<f64>,
    swap_minutes: Reasoned<f64>,
    sit_minutes: Reasoned<f64>,
    turn_minutes: Reasoned<f64>,
    preload_minutes: Reasoned<f64>,
    most_turns: Reasoned<f64>,
    weigh_minutes: Reasoned<f64>,
    look_up_minutes: Reasoned<f64>,
    wheel_scale_minutes: Reasoned<f64>,
    wheel_scale_doubt_kg: Reasoned<f64>,
    gas_scale_minutes: Reasoned<f64>,
    pushed_minutes: Reasoned<f64>,
    rate_minutes: Reasoned<f64>,
    rate_doubt_percent: Reasoned<f64>,
    order_minutes: Reasoned<f64>,
    ordered_in_range_minutes: Reasoned<f64>,
}

impl DoubtsFile {
    /// What the work costs.
    const fn prices(&self) -> Prices {
        Prices {
            in_range: Minutes::of(self.in_range_minutes.0),
            swap: Minutes::of(self.swap_minutes.0),
            sit: Minutes::of(self.sit_minutes.0),
            turn: Minutes::of(self.turn_minutes.0),
            preload: Minutes::of(self.preload_minutes.0),
            most_turns: Turns::of(self.most_turns.0),
        }
    }

    /// What measuring costs, and what it tells.
    fn measuring(&self) -> Measuring {
        Measuring {
            weigh: Minutes::of(self.weigh_minutes.0),
            look_up: Minutes::of(self.look_up_minutes.0),
            wheel: Minutes::of(self.wheel_scale_minutes.0),
            wheel_doubt: Mass::kg(self.wheel_scale_doubt_kg.0),
            gas: Minutes::of(self.gas_scale_minutes.0),
            pushed: Minutes::of(self.pushed_minutes.0),
            rate: Minutes::of(self.rate_minutes.0),
            rate_doubt: Share::percent(self.rate_doubt_percent.0),
            order: Minutes::of(self.order_minutes.0),
            ordered_in_range: Minutes::of(self.ordered_in_range_minutes.0),
        }
    }
}

impl From<DoubtsFile> for Doubts {
    fn from(file: DoubtsFile) -> Self {
        let (mm, parts, percent) = (Length::mm, Share::fraction, Share::percent);
        Self {
            reading: ReadingDoubts {
                scatter: mm(file.reading_scatter_mm.0),
                start_weight: file.scatter_start_weight.0,
                least_scatter: mm(file.least_scatter_mm.0),
                posture: percent(file.posture_percent.0),
                contact: Turns::of(file.contact_turns.0),
                ring_kept: Estimate::new(mm(file.ring_kept_mm.0), mm(file.ring_kept_doubt_mm.0)),
                ring_pushed: Estimate::new(mm(file.ring_pushed_mm.0), mm(file.ring_pushed_doubt_mm.0)),
                stands_apart: file.stands_apart.0,
                most: file.most_readings.0,
            },
            label: percent(file.label_percent.0),
            label_least: percent(file.label_least_percent.0),
            label_a_use: percent(file.label_a_use_percent.0),
            load: LoadDoubts {
                rider_share: Estimate::new(parts(file.rider_share.0), parts(file.u_rider_share.0)),
                measured_share_doubt: parts(file.rider_share_measured_doubt.0),
                standing_share: Estimate::new(
                    parts(file.standing_share.0),
                    parts(file.standing_share_doubt.0),
                ),
                condition: percent(file.condition_percent.0),
                condition_by_weight: percent(file.condition_by_weight_percent.0),
                condition_unweighed: percent(file.condition_unweighed_percent.0),
                season_drift: parts(file.season_drift.0),
                bike_share: Estimate::new(parts(file.bike_share.0), parts(file.bike_share_doubt.0)),
                unsprung: Estimate::new(
                    Mass::kg(file.unsprung_rear_kg.0),
                    Mass::kg(file.u_unsprung_rear_kg.0),
                ),
                rider_doubt: Mass::kg(file.rider_doubt_kg.0),
                typical_bike_doubt: Mass::kg(file.typical_bike_doubt_kg.0),
                load_unknown: percent(file.load_unknown_percent.0),
            },
            gas: GasDoubts {
                unknown: Estimate::new(Force::newtons(file.gas_n.0), Force::newtons(file.gas_doubt_n.0)),
                none: Force::newtons(file.gas_none_doubt_n.0),
                entered: Force::newtons(file.gas_told_doubt_n.0),
            },
            leverage: LeverageDoubts {
                falloff: Estimate::new(percent(file.falloff_percent.0), percent(file.u_falloff_percent.0)),
                entered: percent(file.falloff_told_doubt_percent.0),
                belly: percent(file.belly_percent.0),
                belly_measured: percent(file.belly_measured_percent.0),
            },
            lands: percent(file.lands_percent.0),
            prices: file.prices(),
            measuring: file.measuring(),
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
