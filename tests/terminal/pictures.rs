//! The pictures of the README, made from the running program; here they are held to be those of the program as it is.
//!
//! `COILWRIGHT_PICTURES=write cargo test pictures` makes them anew. They show invented riders only, no clock, no folder and
//! no version.

pub(super) mod shown;

use std::path::{Path, PathBuf};
use std::{env, fs};

use shown::PICTURES;

use super::{Running, home, svg};

/// The variable that has the pictures written instead of compared.
const WRITE: &str = "COILWRIGHT_PICTURES";

fn assets() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("assets")
}

#[test]
fn the_pictures_of_the_readme_are_those_of_the_program() {
    let write = env::var(WRITE).is_ok_and(|value| value == "write");
    for picture in PICTURES {
        let home = home();
        shown::keep_demonstrations(home.path());
        let mut running = Running::start_in(home.path(), &[("COLORTERM", "truecolor")], picture.size());
        shown::lead_to(picture, &mut running);
        let seen = running.screen.lock().expect("nobody panicked");
        let made = svg::picture(seen.screen.screen(), picture.title);
        let file = assets().join(picture.file);
        if write {
            fs::write(&file, &made).expect("it can be written");
        }
        let kept = fs::read_to_string(&file).unwrap_or_default();
        assert!(
            kept == made,
            "assets/{} does not show the program as it is: {WRITE}=write cargo test pictures makes it again.\n{}",
            picture.file,
            seen.screen.screen().contents()
        );
    }
}

#[test]
fn every_picture_is_in_the_readme_with_words_and_no_other_is_kept() {
    let readme = fs::read_to_string(assets().with_file_name("README.md")).expect("it is there");
    let kept = fs::read_dir(assets()).expect("a folder").map(|file| file.expect("a file").file_name());
    let mut kept: Vec<String> = kept.map(|name| name.to_string_lossy().into_owned()).collect();
    kept.retain(|name| Path::new(name).extension().is_some_and(|end| end == "svg"));
    kept.sort();
    let mut made: Vec<&str> = PICTURES.iter().map(|picture| picture.file).collect();
    made.sort_unstable();
    assert_eq!(kept, made);
    for file in made {
        let (before, _) =
            readme.split_once(&format!("](assets/{file})")).unwrap_or_else(|| panic!("{file} is not shown"));
        let (_, words) = before.rsplit_once("![").expect("an image");
        assert!(words.len() > 30, "{file} is not told in words: {words:?}");
    }
}

#[test]
fn the_pictures_are_small() {
    for picture in PICTURES {
        let bytes = fs::metadata(assets().join(picture.file)).expect("it is there").len();
        assert!(bytes < 60_000, "{} has {bytes} bytes", picture.file);
    }
}
