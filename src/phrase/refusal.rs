//! Refusals of the walk in words: the thing, the place and the way out, in one or two plain sentences.
//!
//! One match over every refusal, so that a new one cannot be without words. Not here: when something is refused
//! (`session::machine`).

use crate::mechanics::damper::Knob;
use crate::session::limits::{Figure, MOST_PAIRS};
use crate::session::refusal::PairsFault;
use crate::session::{Check, Fact, Hazard, LimitFrom, Refusal, SpringNumber, Step};
use crate::text::mark::Mark;
use crate::units::{Force, Length, Quantity, Turns, UnitSet};

use super::hazard::turn_limit;
use super::walk::{caution, check, step};
use super::{field, listed, missing, opening};

/// Why something was not accepted, and what to do instead.
pub fn refusal(refusal: &Refusal, units: UnitSet) -> String {
    match refusal {
        Refusal::NotAtThisStep { step } => not_at_this_step(*step),
        Refusal::CautionFirst(due) => {
            format!("A caution comes first, \"{}\". Read it and acknowledge it.", caution(*due).headline)
        }
        Refusal::CheckFirst(due) => {
            format!("\"{}\" comes first on this list. Do it and tick it.", check(*due).line)
        }
        Refusal::EveryBikeHasIt(due) => every_bike_has_it(*due),
        Refusal::CannotBeSkipped(due) => cannot_be_skipped(*due),
        Refusal::StepCannotBeSkipped(at) => step_cannot_be_skipped(*at),
        Refusal::ReasonNeeded => REASON_NEEDED.to_owned(),
        Refusal::IntakeIncomplete(lacking) => intake_incomplete(lacking),
        Refusal::Outside { field, entered, least, most } => outside(*field, [*entered, *least, *most], units),
        Refusal::StrokeBeyondTravel { stroke, travel } => stroke_beyond_travel(*stroke, *travel, units),
        Refusal::BeyondStroke { reading, stroke } => beyond_stroke(*reading, *stroke, units),
        Refusal::ChargeBeyond { force, most } => charge_beyond(*force, *most, units),
        Refusal::LeverageEndsOff => LEVERAGE_ENDS_OFF.to_owned(),
        Refusal::ClicksBeyondAll(knob) => clicks_beyond_all(*knob),
        Refusal::NoHeadAngle(angle) => {
            format!("{} is no head angle. Type it in degrees, such as 64.5.", units.show(*angle))
        }
        Refusal::LeveragePairs(fault) => leverage_pairs(*fault),
        Refusal::BeyondTurnsLimit { asked, allowed, from } => beyond_turns(*asked, *allowed, *from, units),
        Refusal::Unfit(hazard) => unfit(*hazard, units),
        Refusal::NoSuchSpring(number) => {
            format!("There is no spring {} on the list. Choose one that is, or add it first.", number.0)
        }
        Refusal::SameNumberTwice(number) => {
            format!("Spring {} is on the spring list twice. Give one of the two another number.", number.0)
        }
        Refusal::SameMarkTwice(mark) => {
            format!("Two springs have the mark {mark}. Give one of the two another mark.")
        }
        Refusal::MarkOfSeveral(mark) => mark_of_several(*mark),
        Refusal::AlreadyFitted(number) => {
            format!("Spring {} is on the bike already. Choose another, or keep this one.", number.0)
        }
        Refusal::WouldBind { spring, spring_stroke, needed } => {
            would_bind(*spring, *spring_stroke, *needed, units)
        }
        Refusal::TooNarrow { spring } => too_narrow(*spring),
        Refusal::SpringInUse(number) => spring_in_use(*number),
        Refusal::NoSuchReading(number) => {
            format!("There is no reading {}. Look up its number in the list of readings.", number.0)
        }
        Refusal::AlreadyVoid(number) => {
            format!("Reading {} is already marked as not counting. Nothing more needs doing.", number.0)
        }
        Refusal::NoReadingYet => NO_READING_YET.to_owned(),
        Refusal::NothingToUndo => NOTHING_TO_UNDO.to_owned(),
        Refusal::NothingToRedo => NOTHING_TO_REDO.to_owned(),
        Refusal::ConditionUnnamed => CONDITION_UNNAMED.to_owned(),
        Refusal::ConditionsFull => CONDITIONS_FULL.to_owned(),
        Refusal::SessionClosed => SESSION_CLOSED.to_owned(),
        Refusal::RecordFull => RECORD_FULL.to_owned(),
    }
}

const REASON_NEEDED: &str = "A reason is needed. Type a few words for whoever opens this record later.";
const LEVERAGE_ENDS_OFF: &str = "The start and end ratios do not match travel divided by stroke. Check them, or leave them empty and use travel and stroke.";
const NO_READING_YET: &str = "There is no reading yet that counts. Take a seated reading first.";
const NOTHING_TO_UNDO: &str = "There is nothing here to undo. Go on, or correct the details of the intake.";
const NOTHING_TO_REDO: &str =
    "There is nothing to redo: redo brings back what was just undone. Go on from here.";
const CONDITION_UNNAMED: &str =
    "What is different has no name. Type one behind the weight, such as w 86 pack.";
const CONDITIONS_FULL: &str = "This session holds no further condition. Begin another session for it.";
const SESSION_CLOSED: &str = "This session is closed; it takes notes, a corrected name and what the trail told. \
                              Undo the closing, or open a new one for the same bike.";
const RECORD_FULL: &str =
    "This session is full. Keep fewer springs on the list, or open a new session for the same bike.";

fn not_at_this_step(at: Step) -> String {
    let words = step(at);
    format!("That does not belong to this step, \"{}\". {}", words.title, words.entry)
}

fn step_cannot_be_skipped(at: Step) -> String {
    let words = step(at);
    format!("\"{}\" cannot be skipped: what follows needs it. {}", words.title, words.entry)
}

fn every_bike_has_it(due: Check) -> String {
    let or_skip = if due.guards_from_harm() { "" } else { ", or skip it with a reason" };
    format!("\"{}\" applies to every bike. Do it and tick it{or_skip}.", check(due).line)
}

fn cannot_be_skipped(due: Check) -> String {
    let line = &check(due).line;
    format!(
        "\"{line}\" guards against harm and cannot be skipped. Do it and tick it, or stop and ask a qualified mechanic."
    )
}

fn intake_incomplete(lacking: &[Fact]) -> String {
    let names: Vec<_> = lacking.iter().map(|lacking| missing(*lacking)).collect();
    format!("The intake still needs {}. Fill in what is open, then go on.", listed(&names))
}

fn outside(which: Figure, figures: [Quantity; 3], units: UnitSet) -> String {
    let [entered, least, most] = figures.map(|figure| units.show(figure));
    let name = opening(field(which));
    format!("{name} must be between {least} and {most}, not {entered}. Check the number and its unit.")
}

fn charge_beyond(force: Force, most: Force, units: UnitSet) -> String {
    let [force, most] = [force, most].map(|force| units.show(force));
    format!(
        "The gas would push with {force}; no damper known pushes with more than {most}. Check pressure, its unit and the shaft."
    )
}

fn clicks_beyond_all(knob: Knob) -> String {
    format!(
        "{} clicks from closed, of {}: it cannot stand beyond its last click. Count again from fully closed.",
        knob.from_closed,
        knob.of.unwrap_or_default()
    )
}

fn too_narrow(spring: SpringNumber) -> String {
    let number = spring.0;
    format!(
        "Spring {number} does not pass over the shock body. Choose a wider one, or correct the diameters."
    )
}

fn spring_in_use(spring: SpringNumber) -> String {
    let number = spring.0;
    format!("Spring {number} was fitted in this session and stays on the spring list. Add others beside it.")
}

fn mark_of_several(mark: Mark) -> String {
    format!("{mark} is the mark of one spring. Enter the others on a line of their own, each with its mark.")
}

fn stroke_beyond_travel(stroke: Length, travel: Length, units: UnitSet) -> String {
    let [stroke, travel] = [stroke, travel].map(|length| units.show(length));
    format!(
        "Shock stroke {stroke} is more than rear wheel travel {travel}. Check whether you swapped the two."
    )
}

fn beyond_stroke(reading: Length, stroke: Length, units: UnitSet) -> String {
    let [reading, stroke] = [reading, stroke].map(|length| units.show(length));
    format!(
        "A reading of {reading} is more than the shock stroke of {stroke}. \
         Measure again from seal to indicator, or correct the stroke."
    )
}

fn beyond_turns(asked: Turns, allowed: Turns, from: LimitFrom, units: UnitSet) -> String {
    format!(
        "The collar at {} of preload is too far: {}. Stay within it, or fit a stiffer spring.",
        units.show(asked),
        turn_limit(allowed, from, units)
    )
}

fn unfit(hazard: Hazard, units: UnitSet) -> String {
    let what = super::hazard::figures(hazard, None, units);
    let way_out = match hazard {
        Hazard::Binds { .. } => "fit one with more stroke, or back the collar off if that is enough",
        Hazard::TooNarrow { .. } => "fit a wider one, or correct the diameters",
        Hazard::CollarBeyondLimit { .. } => "turn it back, or correct the limit from the shock's maker",
        Hazard::StrokeUnknown { .. } => "read it off the spring and correct the details",
    };
    format!("{what} Do not ride it: at the decision, {way_out}.")
}

fn would_bind(spring: SpringNumber, spring_stroke: Length, needed: Length, units: UnitSet) -> String {
    let [may, needed] = [spring_stroke, needed].map(|length| units.show(length));
    format!(
        "Spring {} may be compressed {may} and the shock would compress it {needed}, so its coils would close first. \
         Choose a spring with more stroke, or fewer turns of preload.",
        spring.0
    )
}

fn leverage_pairs(fault: PairsFault) -> String {
    match fault {
        PairsFault::TooFew => {
            "A leverage curve needs at least four measured pairs. Measure more, or leave them out.".to_owned()
        }
        PairsFault::TooMany => {
            format!("A leverage curve takes {MOST_PAIRS} measured pairs at most. Leave some out.")
        }
        PairsFault::NotIncreasing(pair) => format!(
            "Leverage pair {pair} does not lie beyond the one before it, in stroke and in wheel travel. \
             Check its figures and the order of the pairs."
        ),
        PairsFault::NotZeroAtStart => {
            "The first leverage pair has wheel travel at no stroke. Wheel travel counts from full extension; \
             say so if the second figures are heights of the axle."
                .to_owned()
        }
        PairsFault::EndOffTravel => {
            "The last leverage pair does not end at the shock stroke and the wheel travel, within 3 %. \
             Measure it again, or correct stroke and travel."
                .to_owned()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::{Caution, ReadingNumber};
    use crate::units::Mass;

    const UNITS: UnitSet = UnitSet::Trade;

    /// One of every refusal, and every check and fault where the words depend on it.
    fn all() -> Vec<Refusal> {
        let (short, long) = (Length::mm(57.0), Length::mm(62.5));
        let number = SpringNumber(3);
        let rider = |value| Quantity::Mass(Mass::kg(value));
        let mut all = vec![
            Refusal::NotAtThisStep { step: Step::SeatedReading },
            Refusal::CautionFirst(Caution::LoadedSpring),
            Refusal::CheckFirst(Check::CollarFullyOff),
            Refusal::StepCannotBeSkipped(Step::Unload),
            Refusal::ReasonNeeded,
            Refusal::IntakeIncomplete(vec![Fact::Rider, Fact::Stroke, Fact::Springs]),
            Refusal::Outside {
                field: Figure::Rider,
                entered: rider(310.0),
                least: rider(20.0),
                most: rider(250.0),
            },
            Refusal::StrokeBeyondTravel { stroke: long, travel: short },
            Refusal::BeyondStroke { reading: long, stroke: short },
            Refusal::ChargeBeyond { force: Force::newtons(900.0), most: Force::newtons(800.0) },
            Refusal::LeverageEndsOff,
            Refusal::BeyondTurnsLimit {
                asked: Turns::of(3.0),
                allowed: Turns::of(2.0),
                from: LimitFrom::Typical,
            },
            Refusal::Unfit(Hazard::Binds { spring: number, spring_stroke: short, needed: long }),
            Refusal::Unfit(Hazard::TooNarrow { spring: number, bore: short, body: long }),
            Refusal::Unfit(Hazard::CollarBeyondLimit { at: Turns::of(3.0), limit: Turns::of(2.0) }),
            Refusal::Unfit(Hazard::StrokeUnknown { spring: number }),
            Refusal::NothingToRedo,
            Refusal::NoSuchSpring(number),
            Refusal::SameNumberTwice(number),
            Refusal::AlreadyFitted(number),
            Refusal::WouldBind { spring: number, spring_stroke: short, needed: long },
            Refusal::TooNarrow { spring: number },
            Refusal::SpringInUse(number),
            Refusal::NoSuchReading(ReadingNumber(7)),
            Refusal::AlreadyVoid(ReadingNumber(7)),
            Refusal::NoReadingYet,
            Refusal::NothingToUndo,
            Refusal::ConditionUnnamed,
            Refusal::ConditionsFull,
            Refusal::SessionClosed,
            Refusal::RecordFull,
        ];
        let checks = Step::ALL.iter().flat_map(|step| step.checks()).copied();
        all.extend(checks.flat_map(|due| [Refusal::EveryBikeHasIt(due), Refusal::CannotBeSkipped(due)]));
        let faults = [
            PairsFault::TooFew,
            PairsFault::TooMany,
            PairsFault::NotIncreasing(4),
            PairsFault::NotZeroAtStart,
            PairsFault::EndOffTravel,
        ];
        all.extend(faults.map(Refusal::LeveragePairs));
        all
    }

    #[test]
    fn every_refusal_says_what_is_wrong_and_then_the_way_out() {
        for refused in all() {
            let words = refusal(&refused, UNITS);
            assert!(words.ends_with('.') && words.matches(". ").count() >= 1, "no way out: {words}");
            assert!(words.chars().count() <= 200, "too long to be read: {words}");
            assert!(words.starts_with(|c: char| c.is_uppercase() || c == '"'), "{words}");
            assert!(!words.contains('!') && !words.contains("  "), "{words}");
        }
    }

    #[test]
    fn no_two_refusals_read_alike() {
        let mut words: Vec<_> = all().iter().map(|refused| refusal(refused, UNITS)).collect();
        words.sort_unstable();
        let many = words.len();
        words.dedup();
        assert_eq!(words.len(), many);
    }

    #[test]
    fn an_impossible_rider_is_told_the_bounds_in_the_units_of_the_set() {
        let [entered, least, most] = [310.0, 20.0, 250.0].map(|kg| Quantity::Mass(Mass::kg(kg)));
        let refused = Refusal::Outside { field: Figure::Rider, entered, least, most };
        let said = |units| refusal(&refused, units);
        let expected = "Rider must be between 20 kg and 250 kg, not 310 kg. Check the number and its unit.";
        assert_eq!(said(UnitSet::Trade), expected);
        assert!(said(UnitSet::Imperial).contains("between 44.1 lb and 551.2 lb"));
    }

    #[test]
    fn a_gap_in_the_intake_is_named() {
        let refused = Refusal::IntakeIncomplete(vec![Fact::Rider, Fact::Springs]);
        let expected = "The intake still needs the rider's weight and the springs on the list. Fill in what is open, then go on.";
        assert_eq!(refusal(&refused, UNITS), expected);
    }

    #[test]
    fn a_check_that_guards_from_harm_is_never_offered_to_be_skipped() {
        let words = refusal(&Refusal::EveryBikeHasIt(Check::BoltsToFigure), UNITS);
        assert!(!words.contains("skip"), "{words}");
        assert!(
            refusal(&Refusal::EveryBikeHasIt(Check::TyresAtPressure), UNITS)
                .contains("skip it with a reason")
        );
    }

    #[test]
    fn too_much_preload_is_answered_with_a_stiffer_spring_and_no_maker_is_quoted_who_said_nothing() {
        // Preload takes sag away, so whoever wants more of it than is allowed needs a stiffer spring.
        let refused =
            |from| Refusal::BeyondTurnsLimit { asked: Turns::of(3.0), allowed: Turns::of(2.0), from };
        let typical = "The collar at 3 turns of preload is too far: typical limit 2 turns; the shock maker's figure goes first. \
                       Stay within it, or fit a stiffer spring.";
        assert_eq!(refusal(&refused(LimitFrom::Typical), UNITS), typical);
        let entered = "The collar at 3 turns of preload is too far: the limit entered is 2 turns. \
                       Stay within it, or fit a stiffer spring.";
        assert_eq!(refusal(&refused(LimitFrom::Entered), UNITS), entered);
    }
}
