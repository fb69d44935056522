//! The front beside the rear, from what the rear readings taught and four rows of the sheet.
//!
//! Not here: the formulas (`mechanics::front`), and words (`phrase::front`).

use super::doubts::Doubts;
use super::forecast::RateSource;
use super::{BikeFindings, Forecast};
use crate::mechanics::front::{self, Fork, Front};
use crate::mechanics::geometry::{Sinking, head_angle_slackens};
use crate::session::{Setup, Sheet, State};
use crate::text::FreeText;
use crate::units::{Angle, Frequency, Share, SpringRate, UnitSet, parse};

/// Front and rear under the rider.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    /// The front.
    pub front: Front,
    /// Bounce frequency of the rear.
    pub rear_bounce: Frequency,
    /// Sag of the rear at the wheel, as a share of its travel.
    pub rear_sag: Share,
    /// Head angle at sag; none where the wheelbase was not told.
    pub head_angle: Option<Angle>,
    /// The fork spring of the maker's list that comes nearest to the sag customary at the front; none without a list.
    pub fork_spring: Option<SpringRate>,
}

/// Unsprung at the front: wheel, brake and lowers (common practice, no source).
const FRONT_UNSPRUNG_SHARE: f64 = 0.95;
/// Sag customary at the front (common practice, no source).
pub const CUSTOMARY: Share = Share::percent(20.0);

/// Front and rear together; none before a reading, or while fork travel, sag and head angle are not all told.
pub(super) fn balance(
    setup: &Setup,
    state: &State,
    findings: &BikeFindings,
    forecasts: &[Forecast],
    doubts: &Doubts,
) -> Option<Balance> {
    state.present_set()?.counting().next()?;
    let rear = forecasts.iter().find(|forecast| forecast.known == RateSource::OnTheBike)?;
    let row = |of: fn(&Sheet) -> Option<crate::units::Length>| of(&state.left).or(of(&state.found));
    let unladen = state.left.head_angle_degrees.or(state.found.head_angle_degrees)?;
    let fork = Fork {
        travel: row(|sheet| sheet.fork_travel_mm)?,
        sag: row(|sheet| sheet.fork_sag_mm)?,
        head_angle: unladen,
    };
    let unsprung = doubts.load.unsprung.value * (1.0 + FRONT_UNSPRUNG_SHARE);
    let load = front::front_load(setup.rider + setup.bike - unsprung, findings.load.value);
    let front = fork.under(load)?;
    let sinking = Sinking { rear: rear.ride.axle_sinks, front: front.sinks };
    let list = rates(state.left.fork_springs.as_ref().or(state.found.fork_springs.as_ref()));
    Some(Balance {
        front,
        rear_bounce: rear.ride.bounce,
        rear_sag: rear.wheel_sag,
        head_angle: setup.frame.wheelbase.map(|base| unladen - head_angle_slackens(sinking, base)),
        fork_spring: front::nearest(fork.rate_for(load, CUSTOMARY), &list),
    })
}

/// The rates of a typed list; what is no rate is passed over.
fn rates(list: Option<&FreeText>) -> Vec<SpringRate> {
    let words = list.map_or("", FreeText::as_typed).split([',', ';', ' ']);
    words.filter_map(|word| parse::rate(word, UnitSet::Trade).ok()).map(|rate| rate.value).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_typed_list_of_fork_springs_is_read() {
        let list = FreeText::new("45, 50 55; soft 60 lb/in");
        assert_eq!(rates(Some(&list)), [45.0, 50.0, 55.0, 60.0].map(SpringRate::lb_per_in));
    }
}
