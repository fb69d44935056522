//! The record reader on a corpus of odd files and on seeded changes of each: the short run of what `tests/fuzz` does for
//! hours under libFuzzer, which found most of the corpus.

mod reader;

use std::fs;
use std::path::Path;

use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::soak;
use reader::{Reached, take_in};

/// Seeded changes of one file of the corpus.
const CHANGES: u32 = 20;

fn corpus() -> Vec<(String, Vec<u8>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus");
    let mut files: Vec<_> = fs::read_dir(folder)
        .expect("the corpus")
        .map(|file| file.expect("a file").path())
        .map(|path| {
            (path.file_name().unwrap().to_string_lossy().into_owned(), fs::read(&path).expect("bytes"))
        })
        .collect();
    files.sort();
    files
}

/// The words a record is made of, as the fuzzer is given them.
fn words() -> Vec<&'static str> {
    let quoted = |line: &'static str| line.strip_prefix('"')?.strip_suffix('"');
    include_str!("fuzz/words.dict").lines().filter_map(quoted).collect()
}

#[test]
fn every_file_of_the_corpus_comes_to_what_it_should() {
    let mut reached: Vec<Reached> = corpus().iter().map(|(_, bytes)| take_in(bytes)).collect();
    reached.sort();
    reached.dedup();
    let all = [Reached::NoText, Reached::NoRecord, Reached::Damaged, Reached::Record, Reached::Assessed];
    assert_eq!(reached, all, "the corpus goes through every door");
}

#[test]
fn no_change_of_a_file_of_the_corpus_breaks_anything() {
    let (corpus, words) = (corpus(), words());
    let mut tried = 0_u64;
    let mut read = 0_u64;
    for (number, (_, bytes)) in corpus.iter().enumerate() {
        let mut random = StdRng::seed_from_u64(number as u64);
        for _ in 0..soak::rounds(CHANGES) {
            let mut changed = bytes.clone();
            for _ in 0..random.random_range(1..4) {
                let other = &corpus[random.random_range(0..corpus.len())].1;
                change(&mut changed, other, &words, &mut random);
            }
            tried += 1;
            read += u64::from(take_in(&changed) >= Reached::Record);
        }
    }
    soak::came_to(&format!("{tried} changed files taken in, {read} of them read as records"));
}

/// Makes one change such as a slip of the hand, a disk or a merge makes.
fn change(bytes: &mut Vec<u8>, other: &[u8], words: &[&str], random: &mut StdRng) {
    let from = random.random_range(0..=bytes.len());
    let to = (from + random.random_range(0..40)).min(bytes.len());
    match random.random_range(0..8) {
        0 => bytes.truncate(from),
        1 => drop(bytes.drain(from..to)),
        2 => drop(bytes.splice(from..from, bytes[from..to].to_vec())),
        3 => drop(bytes.splice(from..to, words[random.random_range(0..words.len())].bytes())),
        4 => drop(bytes.splice(from..to, other[from.min(other.len())..to.min(other.len())].to_vec())),
        5 => swap_lines(bytes, random),
        6 => change_number(bytes, from, random),
        _ => {
            if let Some(byte) = bytes.get_mut(from) {
                *byte ^= 1 << random.random_range(0..8);
            }
        }
    }
}

fn swap_lines(bytes: &mut Vec<u8>, random: &mut StdRng) {
    let mut lines: Vec<Vec<u8>> = bytes.split(|byte| *byte == b'\n').map(<[u8]>::to_vec).collect();
    let (one, other) = (random.random_range(0..lines.len()), random.random_range(0..lines.len()));
    lines.swap(one, other);
    *bytes = lines.join(&b'\n');
}

/// Puts another number in the place of the next one.
fn change_number(bytes: &mut Vec<u8>, from: usize, random: &mut StdRng) {
    const ODD: [&str; 9] = ["0", "-1", "1e308", "-0.0", "4294967296", "0.000001", "65536", "NaN", "99999"];
    let Some(start) = bytes[from..].iter().position(u8::is_ascii_digit).map(|offset| from + offset) else {
        return;
    };
    let length = bytes[start..].iter().take_while(|byte| byte.is_ascii_digit() || **byte == b'.').count();
    bytes.splice(start..start + length, ODD[random.random_range(0..ODD.len())].bytes());
}
