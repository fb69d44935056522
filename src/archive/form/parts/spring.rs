//! A spring as it stands in a file: its two rates, what was measured, its lengths, its mark and what was learned of it.
//!
//! A spring without a mark is written as it was before there were any. Not here: a list of springs, and which spring is on
//! the bike (`value`).

use serde::{Deserialize, Serialize};

use super::{InEitherUnit, RATE, one, rate};
use crate::mechanics::spring::{LearnedRate, Marked};
use crate::session::{Spring, SpringNumber};
use crate::text::mark::Mark;
use crate::units::{Estimate, Length, Share, SpringRate};

fields!(SpringFields {
    number: SpringNumber,
    rate_lb_in: f64,
    rate_n_mm: f64,
    measured: MeasuredFields,
    stroke_mm: Length,
    bore_mm: Length,
    free_length_mm: Length,
    end_rate_lb_in: f64,
    end_rate_n_mm: f64,
    mark: Mark,
    learned: LearnedFields,
});
fields!(MeasuredFields { rate_lb_in: f64, rate_n_mm: f64, u_rate_lb_in: f64, u_rate_n_mm: f64 });

impl From<Spring> for SpringFields {
    fn from(spring: Spring) -> Self {
        let [rate_lb_in, rate_n_mm] = rate(spring.label);
        let measured = spring.measured.map(|measured| {
            let ([rate_lb_in, rate_n_mm], [u_rate_lb_in, u_rate_n_mm]) =
                (rate(measured.value), rate(measured.uncertainty));
            MeasuredFields { rate_lb_in, rate_n_mm, u_rate_lb_in, u_rate_n_mm }
        });
        let (stroke_mm, bore_mm, free_length_mm) = (spring.stroke, spring.bore, spring.free_length);
        let [end_rate_lb_in, end_rate_n_mm] = spring.end_rate.map_or([None; 2], rate);
        let learned = spring.learned().map(LearnedFields::from);
        Self {
            number: Some(spring.number),
            rate_lb_in,
            rate_n_mm,
            measured,
            stroke_mm,
            bore_mm,
            free_length_mm,
            end_rate_lb_in,
            end_rate_n_mm,
            mark: spring.mark(),
            learned,
        }
    }
}

impl TryFrom<SpringFields> for Spring {
    type Error = &'static str;
    fn try_from(fields: SpringFields) -> Result<Self, Self::Error> {
        let measured = fields.measured.map(|one_of| {
            let value = one(
                [one_of.rate_lb_in, one_of.rate_n_mm],
                RATE,
                "a measured rate is given once, as rate_lb_in or as rate_n_mm",
            )?;
            let uncertainty = one(
                [one_of.u_rate_lb_in, one_of.u_rate_n_mm],
                RATE,
                "a measured rate needs its uncertainty once, as u_rate_lb_in or as u_rate_n_mm",
            )?;
            Ok::<_, &'static str>(Estimate::new(value, uncertainty))
        });
        Ok(Self {
            number: fields.number.ok_or("the field number is missing")?,
            label: one(
                [fields.rate_lb_in, fields.rate_n_mm],
                RATE,
                "a spring needs its rate once, as rate_lb_in or as rate_n_mm",
            )?,
            measured: measured.transpose()?,
            stroke: fields.stroke_mm,
            bore: fields.bore_mm,
            free_length: fields.free_length_mm,
            end_rate: end_rate([fields.end_rate_lb_in, fields.end_rate_n_mm])?,
            marked: marked(fields.mark, fields.learned.map(LearnedRate::from))?,
        })
    }
}

fn end_rate(entered: InEitherUnit) -> Result<Option<SpringRate>, &'static str> {
    let given = entered.iter().any(Option::is_some);
    let or = "the rate at the end is given once, as end_rate_lb_in or as end_rate_n_mm";
    given.then(|| one(entered, RATE, or)).transpose()
}

fn marked(mark: Option<Mark>, learned: Option<LearnedRate>) -> Result<Option<Marked>, &'static str> {
    match (mark, learned) {
        (None, Some(_)) => Err("only of a spring with a mark something is learned"),
        (mark, learned) => Ok(mark.map(|mark| Marked { mark, learned })),
    }
}

/// What past sessions found a spring to be, as parts of its label.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct LearnedFields {
    ratio: Share,
    u_ratio: Share,
    bikes: u16,
}

impl From<LearnedRate> for LearnedFields {
    fn from(LearnedRate { ratio, bikes }: LearnedRate) -> Self {
        Self { ratio: ratio.value, u_ratio: ratio.uncertainty, bikes }
    }
}

impl From<LearnedFields> for LearnedRate {
    fn from(LearnedFields { ratio, u_ratio, bikes }: LearnedFields) -> Self {
        Self { ratio: Estimate::new(ratio, u_ratio), bikes }
    }
}
