//! Do the forecast's intervals hold the truth as often as they say?

use coilwright::assessment::{Doubts, RateSource, assess};
use coilwright::units::SpringRate;

use crate::setters::Bench;
use crate::world::Bike;

/// Share of forecasts whose interval held the truth, in per cent.
pub(crate) struct Coverage {
    pub(crate) forecasts: usize,
    pub(crate) half: f64,
    pub(crate) ninety: f64,
    pub(crate) new_half: f64,
    pub(crate) new_ninety: f64,
}

/// Standardised distances of truth from forecast: the spring on the bike, and the rack's springs within 100 lb/in of it.
pub(crate) fn coverage(bikes: &[Bike], doubts: &Doubts) -> Coverage {
    let distances: Vec<(RateSource, f64)> = bikes.iter().flat_map(|bike| distances(bike, doubts)).collect();
    let share = |new_only: bool, limit: f64| {
        let counted = distances.iter().filter(|(known, _)| !new_only || *known == RateSource::ByLabel);
        let (all, held) = counted
            .fold((0usize, 0usize), |(all, held), (_, z)| (all + 1, held + usize::from(z.abs() < limit)));
        100.0 * held as f64 / all as f64
    };
    Coverage {
        forecasts: distances.len(),
        half: share(false, 0.674_49),
        ninety: share(false, 1.644_85),
        new_half: share(true, 0.674_49),
        new_ninety: share(true, 1.644_85),
    }
}

fn distances(bike: &Bike, doubts: &Doubts) -> Vec<(RateSource, f64)> {
    let mut bench = Bench::opened(bike);
    for _ in 0..3 {
        bench.reads();
    }
    let assessment = assess(&bike.setup, &bench.state, doubts);
    let Some(present) = assessment.present().copied() else { return Vec::new() };
    let near = |rate: SpringRate| (rate - present.rate).abs().as_lb_per_in() < 101.0;
    let forecasts = assessment.forecasts.iter().filter(|forecast| near(forecast.rate));
    forecasts
        .map(|forecast| {
            let truth = match forecast.known {
                RateSource::OnTheBike => bench.true_sag(),
                // A spring that is not mounted yet has its contact called somewhere within half a turn.
                _ => bike.true_sag(forecast.spring, bike.contact_somewhere(forecast.spring)),
            };
            let off = forecast.sag.value.as_percent() - truth;
            (forecast.known, off / forecast.sag.uncertainty.as_percent())
        })
        .collect()
}
