//! What a job costs in questions, keys and boxes of cautions, counted where they are pressed.
//!
//! The aims are the mechanic's: a spring named after six questions and twenty keys, a job with one swap in less than 120, four
//! boxes, no tick twice. Seven boxes are what it comes to: each stands where its danger does, and none was left out.

use coilwright::session::{Awaiting, Deed, Step};

use super::{Stage, events};

/// The four questions of a new bike: rider, travel, stroke, the spring on it with its stroke as printed.
const QUESTIONS: [&str; 4] = ["112<Enter>", "160<Enter>", "65<Enter>", "450x70<Enter>"];
/// The springs at hand, where the shop has no rack, and back to the row that begins the work.
const SPRINGS: &str = "<Tab>350-600 by 50, stroke 70<Enter><Up><Up>";

/// A mechanic at the keys, with everything counted.
struct Counted {
    stage: Stage,
    keys: usize,
    boxes: usize,
}

impl Counted {
    fn new() -> Self {
        Self { stage: Stage::new(), keys: 0, boxes: 0 }
    }

    fn press(&mut self, keys: &str) {
        self.keys += events(keys).len();
        self.stage.press(keys);
    }

    /// What the walk waits for is answered as it is advised, until it stands at that step. The lists are worked down at the
    /// bike and answered at once.
    fn answer_until(&mut self, step: Step, readings: &mut impl Iterator<Item = &'static str>) {
        while self.stage.step() != step {
            let keys = match self.stage.awaiting() {
                Awaiting::Acknowledgement(_) => {
                    self.boxes += 1;
                    "<Enter>".to_owned()
                }
                Awaiting::Tick(_) => {
                    self.press("k");
                    self.boxes += usize::from(self.stage.shows("┏━━"));
                    "<Enter>".to_owned()
                }
                Awaiting::Reading => format!("{}<Enter>", readings.next().expect("no more is asked for")),
                Awaiting::TrailReport => {
                    "<Right><Enter><Right><Right><Enter><Right><Right><Enter><Enter>".to_owned()
                }
                _ => "<Enter>".to_owned(),
            };
            self.press(&keys);
        }
    }

    /// The four questions of a new bike, from the first screen.
    fn asked(&mut self) {
        self.press("<Enter>");
        for question in QUESTIONS {
            self.press(question);
        }
    }
}

#[test]
fn a_spring_is_named_after_four_questions_and_nineteen_keys() {
    let mut counted = Counted::new();
    counted.asked();
    assert!(counted.stage.shows("about 538 lb/in would"), "{}", counted.stage.frame(80, 24));
    assert_eq!(counted.keys, 19);
}

#[test]
fn a_job_with_one_swap_takes_96_keys_and_seven_boxes_and_ticks_nothing_twice() {
    let mut counted = Counted::new();
    counted.asked();
    counted.press(SPRINGS);
    assert!(counted.stage.shows("Start with 550 lb/in"), "{}", counted.stage.frame(80, 24));
    counted.press("<Enter>");
    counted.answer_until(Step::Closed, &mut ["24.5", "24", "20", "19.5"].into_iter());
    assert_eq!((counted.keys, counted.boxes), (96, 7));
    let ticked = counted.stage.record().entries.iter().filter_map(|entry| match entry.deed {
        Deed::Ticked(check, _) => Some(check),
        _ => None,
    });
    let ticked: Vec<_> = ticked.collect();
    assert_eq!(ticked.len(), 19);
    assert!(
        ticked.iter().enumerate().all(|(index, check)| !ticked[index + 1..].contains(check)),
        "{ticked:?}"
    );
    assert_eq!(counted.stage.model.desk.session.as_ref().expect("open").state.on_bike.swaps, 1);
}
