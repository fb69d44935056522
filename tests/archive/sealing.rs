//! The check line: its published check value, and every way to cut or flip a sealed text.

use super::simulated::{Remains, SimulatedDisk};
use coilwright::archive::seal::{read_seal, seal};
use coilwright::archive::{Revision, Seal, open::read_text};
use std::path::{Path, PathBuf};

const BODY: &str = "(\n    rate: 450,\n)\n";
const TWELVE: Seal = Seal::Sound { revision: Revision::new(12) };
const EDITED: Seal = Seal::EditedOutside { revision: Revision::new(12) };

/// CRC-32 bit by bit, from its definition in IEEE 802.3 clause 3.2.9 (polynomial 04C11DB7, reflected).
fn crc32_by_definition(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| (crc >> 1) ^ (0xEDB8_8320 & (crc & 1).wrapping_neg()))
    })
}

#[test]
fn the_check_line_is_the_published_crc_of_what_stands_before_it() {
    // Check value of CRC-32/ISO-HDLC for "123456789", as printed in catalogues of CRCs (from memory).
    assert_eq!(crc32_by_definition(b"123456789"), 0xCBF4_3926);
    let guarded = format!("{BODY}// rev 12");
    let expected = format!("{guarded} crc32 {:08X}\n", crc32_by_definition(guarded.as_bytes()));
    assert_eq!(seal(BODY, Revision::new(12)), expected);
    // From Python: "%08X" % zlib.crc32(b"(\n    rate: 450,\n)\n// rev 12")
    assert!(expected.ends_with(" crc32 408A6BE1\n"), "{expected}");
}

#[test]
fn to_ron_the_check_line_is_a_comment() {
    let sealed = seal(BODY, Revision::new(12));
    let value: ron::Value = ron::from_str(&sealed).expect("still RON");
    assert_eq!(value, ron::from_str(BODY).unwrap());
}

#[test]
fn a_sealed_text_reads_as_sound() {
    for body in ["", "()", "()\n", BODY, "// rev 3 crc32 00000000\n()\n", "(note: \"Zoë: fast\")"] {
        for revision in [0, 1, 12, u64::MAX] {
            let revision = Revision::new(revision);
            assert_eq!(read_seal(&seal(body, revision)), Seal::Sound { revision }, "{body:?}");
        }
    }
}

#[test]
fn a_text_without_check_line_has_none() {
    for text in
        ["", BODY, "// rev 12", "// rev 12 crc32 ", "// rev 012 crc32 00000000", "// rev +1 crc32 00000000"]
    {
        assert_eq!(read_seal(text), Seal::None, "{text:?}");
    }
    assert_eq!(read_seal("// rev 1 crc32 1a2b3c4d"), Seal::None, "small letters are not how it is written");
}

#[test]
fn an_edit_above_or_below_the_check_line_shows() {
    let sealed = seal(BODY, Revision::new(12));
    assert_eq!(read_seal(&sealed.replace("450", "500")), EDITED);
    assert_eq!(read_seal(&format!("{sealed}// looks right to me\n")), EDITED);
    assert_eq!(read_seal(&format!("{sealed}\n \t\n")), TWELVE, "white space below means nothing");
}

#[test]
fn the_last_revision_there_is_stays() {
    assert_eq!(Revision::new(u64::MAX).next(), Revision::new(u64::MAX));
}

/// What the file reads as, through the same door as every other.
fn read(bytes: &[u8]) -> Option<(Seal, String)> {
    let path = PathBuf::from("/record.ron");
    let disk = SimulatedDisk::rebooted(&Remains::from([(path.clone(), bytes.to_owned())]));
    read_text(&disk, Path::new(&path)).ok().map(|opened| (opened.seal, opened.text))
}

#[test]
fn a_file_cut_anywhere_is_never_sound_with_other_content() {
    let sealed = seal(BODY, Revision::new(12));
    for length in 0..sealed.len() - 1 {
        let (seal, _) = read(&sealed.as_bytes()[..length]).expect("ASCII is text");
        assert!(!seal.is_sound(), "cut to {length} bytes");
    }
    assert_eq!(
        read(&sealed.as_bytes()[..sealed.len() - 1]).unwrap().0,
        TWELVE,
        "only the last line feed is gone"
    );
}

#[test]
fn a_file_with_any_one_byte_lost_is_never_sound_with_other_content() {
    let sealed = seal("(\n    rate: 455,\n\n    note: \"ééé\",\n)\n", Revision::new(1122));
    for lost in 0..sealed.len() - 1 {
        let mut bytes = sealed.clone().into_bytes();
        bytes.remove(lost);
        assert!(read(&bytes).is_none_or(|(seal, _)| !seal.is_sound()), "byte {lost} lost");
    }
}

#[test]
fn a_file_with_any_bit_flipped_is_never_sound_with_other_content() {
    let sealed = seal("(\r\n    maker: \"M\nM\n\",\n    rate: 450,\n)\n", Revision::new(12));
    let mut still_sound = 0;
    for bit in 0..sealed.len() * 8 {
        let mut bytes = sealed.clone().into_bytes();
        bytes[bit / 8] ^= 1 << (bit % 8);
        if let Some((seal, text)) = read(&bytes)
            && seal.is_sound()
        {
            assert_eq!((seal, text.trim_end()), (TWELVE, sealed.trim_end()), "bit {bit}");
            still_sound += 1;
        }
    }
    assert_eq!(
        still_sound, 0,
        "a flip goes unseen only in white space after the check line, and one bit does not get there"
    );
}
