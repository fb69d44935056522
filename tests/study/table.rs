//! What a kind of bikes came to, as rows of figures for the terminal or for the README.

use crate::enter::Held;
use crate::kind::Kind;
use crate::setters::Outcome;
use crate::stand::name;
use coilwright::session::Indicator;

/// What a setter came to on one kind of bikes.
pub(crate) struct Tally {
    pub(crate) swaps: f64,
    pub(crate) sits: f64,
    pub(crate) minutes: f64,
    /// In range with one turn at most on a spring that fits, in per cent of all.
    pub(crate) set_up: f64,
    /// The same of the bikes that anybody could set up.
    pub(crate) of_able: f64,
    /// In range, however.
    pub(crate) in_range: f64,
    /// Turns of preload at the end, mean.
    pub(crate) turns: f64,
    /// Left on a spring of too little stroke.
    pub(crate) binds: f64,
}

impl Tally {
    /// Outcomes in the order of the bikes, and which of those could be set up.
    pub(crate) fn of(outcomes: &[Outcome], able: &[bool]) -> Self {
        let count = outcomes.len() as f64;
        let mean = |of: &dyn Fn(&Outcome) -> f64| outcomes.iter().map(of).sum::<f64>() / count;
        let percent = |of: fn(&Outcome) -> bool| 100.0 * mean(&|one| f64::from(u8::from(of(one))));
        let of_able: Vec<bool> =
            outcomes.iter().zip(able).filter(|(_, able)| **able).map(|(one, _)| one.is_set_up()).collect();
        Self {
            swaps: mean(&|one| one.swaps as f64),
            sits: mean(&|one| one.sits as f64),
            minutes: mean(&Outcome::minutes),
            set_up: percent(Outcome::is_set_up),
            of_able: held_in_percent(&of_able),
            in_range: percent(|one| one.in_range),
            turns: mean(&|one| one.turns.value()),
            binds: percent(|one| one.binds),
        }
    }
}

/// How many of them are so, in per cent.
pub(crate) fn held_in_percent(held: &[bool]) -> f64 {
    100.0 * held.iter().filter(|held| **held).count() as f64 / held.len() as f64
}

/// Everything about one kind of bikes read in one way.
pub(crate) struct Chapter {
    pub(crate) kind: Kind,
    pub(crate) indicator: Indicator,
    /// Bikes that anybody could set up, in per cent.
    pub(crate) able: f64,
    pub(crate) coilwright: Tally,
    pub(crate) by_fifties: Tally,
    pub(crate) in_proportion: Tally,
    pub(crate) oracle: Tally,
    pub(crate) held: Held,
}

impl Chapter {
    /// A few lines for the terminal.
    pub(crate) fn print(&self) {
        let (kind, indicator) = (self.kind.name(), name(self.indicator));
        println!("{kind}, indicator {indicator}: {:.0} % can be set up with one turn", self.able);
        let (fitted, others) = (held_in_percent(&self.held.fitted), held_in_percent(&self.held.others));
        for (customer, tally) in [
            ("coilwright", &self.coilwright),
            ("rule 50/25", &self.by_fifties),
            ("in proportion", &self.in_proportion),
            ("oracle", &self.oracle),
        ] {
            println!(
                "  {customer:<14}{:>6.2}{:>7.1}{:>8.1}{:>8.1} %{:>8.1} %{:>8.1} %{:>7.2}{:>6.1} %",
                tally.swaps,
                tally.sits,
                tally.minutes,
                tally.set_up,
                tally.of_able,
                tally.in_range,
                tally.turns,
                tally.binds,
            );
        }
        println!("  90 % intervals: fitted {fitted:.1} %, others {others:.1} %\n");
    }

    /// One row of the README's table.
    pub(crate) fn markdown(&self) -> String {
        let own = &self.coilwright;
        format!(
            "| {}, {} | {:.2} | {:.1} | {:.0} | {:.0} % | {:.0} % | {:.0} % | {:.2} | {:.0}, {:.0} % | {:.0} %, {:.0} min | {:.0} %, {:.0} min | {:.2} |",
            self.kind.name(),
            name(self.indicator),
            own.swaps,
            own.sits,
            own.minutes,
            own.of_able,
            own.in_range,
            self.able,
            own.turns,
            held_in_percent(&self.held.fitted),
            held_in_percent(&self.held.others),
            self.by_fifties.of_able,
            self.by_fifties.minutes,
            self.in_proportion.of_able,
            self.in_proportion.minutes,
            self.oracle.swaps,
        )
    }
}

/// What stands above the figures on the terminal.
pub(crate) const HEADING: &str =
    "                  swaps   sits minutes    set up   of able  in range  turns  binds";

/// The same for the README.
pub(crate) const MARKDOWN_HEADING: &str = "\
| bikes, indicator | swaps | sits | minutes | set up, of those that can be | in range with any preload, of all | can be set up | turns of preload | 90 % intervals held: fitted, others | 50 or 25 lb/in: set up, minutes | rate times sag over target: set up, minutes | oracle's swaps |
| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |";
