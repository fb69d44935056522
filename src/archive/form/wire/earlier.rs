//! What an earlier session taught, as it stands in a file.

use serde::{Deserialize, Serialize};

use super::figure::{Figure, Moment};
use crate::session;
use crate::units::{Estimate, Share};

/// What an earlier session of the same rider and bike taught; shares as parts of one.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Earlier {
    opened: Moment,
    rider_share: Figure,
    rider_share_uncertainty: Figure,
    falloff: Figure,
    falloff_uncertainty: Figure,
    correlation: Figure,
}

impl From<session::Earlier> for Earlier {
    fn from(earlier: session::Earlier) -> Self {
        let figure = |share: Share| Figure(share.as_fraction());
        Self {
            opened: Moment(earlier.opened),
            rider_share: figure(earlier.rider_share.value),
            rider_share_uncertainty: figure(earlier.rider_share.uncertainty),
            falloff: figure(earlier.falloff.value),
            falloff_uncertainty: figure(earlier.falloff.uncertainty),
            correlation: figure(earlier.correlation),
        }
    }
}

impl From<Earlier> for session::Earlier {
    fn from(earlier: Earlier) -> Self {
        let share = |figure: Figure| Share::fraction(figure.0);
        let estimate = |value, uncertainty| Estimate::new(share(value), share(uncertainty));
        Self {
            opened: earlier.opened.0,
            rider_share: estimate(earlier.rider_share, earlier.rider_share_uncertainty),
            falloff: estimate(earlier.falloff, earlier.falloff_uncertainty),
            correlation: share(earlier.correlation),
        }
    }
}
