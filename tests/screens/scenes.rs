//! The catalogue of scenes: every place and every state of it worth telling apart, and the keys or records that lead there.
//!
//! One list for everything that is held of all screens: their snapshots, that no size breaks them, that the four themes say
//! the same, that every key is in footer and help, that random keys lose nothing. A new place or state is a line in the
//! module of its place. Not here: what a key does to the record (the tests of each place).

mod bench;
mod drawn;
mod guide;
mod home;
mod intake;
mod laws;
mod record;
mod shop;
mod trials;

pub(crate) use drawn::{SIZES, buffer};

use coilwright::screen::model::Model;
use coilwright::screen::place::Place;
use coilwright::screen::theme::Theme;

use super::shopfloor::Shopfloor;
use super::{Flow, Memory, Stage};

/// A scene: what it is called and the way there.
pub(crate) struct Scene {
    pub(crate) name: &'static str,
    reach: fn() -> Model,
}

impl Scene {
    /// The screen there, in the usual theme.
    pub(crate) fn model(&self) -> Model {
        (self.reach)()
    }

    /// The screen there in another theme; the theme changes nothing but the drawing.
    pub(crate) fn themed(&self, theme: Theme) -> Model {
        let mut model = self.model();
        model.desk.theme = theme;
        model
    }

    /// Somebody at the keys there, in front of a shell in memory that has kept what the scene has kept.
    pub(crate) fn stage(&self) -> Stage {
        let model = self.model();
        let kept = model.desk.session.iter().map(|session| session.record.clone()).collect();
        Stage { model, shell: Memory { kept, ..Memory::default() }, flow: Flow::On }
    }
}

/// A scene reached with a shell in memory.
macro_rules! staged {
    ($name:expr, $stage:expr) => {
        $crate::screens::scenes::Scene { name: $name, reach: || $stage.model }
    };
    ($name:expr, $stage:expr, $keys:expr) => {
        $crate::screens::scenes::Scene {
            name: $name,
            reach: || {
                let mut stage = $stage;
                stage.press($keys);
                stage.model
            },
        }
    };
}
pub(crate) use staged;

/// Every scene.
pub(crate) fn all() -> Vec<Scene> {
    [
        home::scenes(),
        intake::scenes(),
        guide::scenes(),
        trials::scenes(),
        shop::scenes(),
        record::scenes(),
        bench::scenes(),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The first scene at each place, by what the place is called.
pub(crate) fn one_of_every_place() -> Vec<Scene> {
    let mut seen = Vec::new();
    let mut scenes = all();
    scenes.retain(|scene| {
        let title = scene.model().place().title();
        let new = !seen.contains(&title);
        seen.push(title);
        new
    });
    scenes
}

#[test]
fn every_place_has_a_scene_and_no_name_stands_twice() {
    let scenes = all();
    for (index, scene) in scenes.iter().enumerate() {
        assert!(scenes[index + 1..].iter().all(|other| other.name != scene.name), "{} twice", scene.name);
    }
    let mut titles: Vec<&str> = scenes.iter().map(|scene| scene.model().place().title()).collect();
    titles.sort_unstable();
    titles.dedup();
    assert_eq!(titles.len(), PLACES, "{titles:?}");
}

/// How many places there are; the compiler asks for a number here as soon as there is a place more.
const PLACES: usize = 20;

/// The number of a place, for the count above only.
#[allow(dead_code)]
const fn number(place: &Place) -> usize {
    match place {
        Place::Home(_) => 1,
        Place::Intake(_) => 2,
        Place::Guide(_) => 3,
        Place::Trials(_) => 4,
        Place::Rack(_) => 5,
        Place::Review(_) => 6,
        Place::PastSession(_) => 7,
        Place::Compare(_) => 8,
        Place::Help(_) => 9,
        Place::Curve(_) => 10,
        Place::Changes(_) => 11,
        Place::Wire(_) => 12,
        Place::Versions(_) => 18,
        Place::Forget(_) => 20,
        Place::Palette(_) => 17,
        Place::Settings(_) => 13,
        Place::Around(_) => 14,
        Place::Sheet(_) => 15,
        Place::Tally(_) => 16,
        Place::Replay(_) => PLACES,
    }
}
