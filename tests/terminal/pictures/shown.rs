//! What the pictures show, and the keys that lead there. Riders and bikes are invented.

use std::fs;
use std::path::Path;

use portable_pty::PtySize;

use super::super::Running;

/// A picture: its file, what it is called, its size and the way there.
pub(super) struct Picture {
    pub(super) file: &'static str,
    pub(super) title: &'static str,
    /// Cells across and down, no more than what is to be seen needs.
    cells: (u16, u16),
    /// Stretches of the way, one after another.
    way: &'static [&'static [Leg]],
}

/// A piece of the screen that is waited for, and the keys pressed then.
type Leg = (&'static str, &'static str);

const NEW: Leg = ("New session", "\u{1b}[B\r");
const DETAILS: Leg = (
    "▸ Rider, ready",
    "\u{1b}[A\u{1b}[AInvented rider E\rtrail bike, red\r82\r150\r60\r\t\t400-550 by 25, stroke 65\r15.5\r\u{1b}[A\u{1b}[A\u{1b}[A\u{1b}[A450\r",
);
const DETAILS_OF_TRIALS: Leg = (
    "▸ Shock stroke",
    "\u{1b}[A\u{1b}[AInvented rider E\rtrail bike, red\r60\r\t\t82\r150\r400-550 by 25, stroke 65\r15.5\r\u{1b}[A\u{1b}[A\u{1b}[A\u{1b}[A\u{1b}[A\u{1b}[A450\r",
);
const BEGIN: Leg = ("▸ Begin the work", "\r");
const UNDERSTOOD: &str = "Enter: read and understood";
const QUICK: Leg = ("New session", "\u{1b}[B\u{1b}[B\r");
const PAST: Leg = ("New session", "\u{1b}[B\u{1b}[B\u{1b}[B\r");

/// From the first screen to the first reading.
const TO_THE_READINGS: &[Leg] = &[
    NEW,
    DETAILS,
    BEGIN,
    (UNDERSTOOD, "\r"),
    ("1 of 6", "\r"),
    ("2 of 6", "\r"),
    ("3 of 6", "\r"),
    ("4 of 6", "\r"),
    ("5 of 6", "\r"),
    ("6 of 6", "\r"),
    (UNDERSTOOD, "\r"),
    ("Press Enter for", "\r"),
    (UNDERSTOOD, "\r"),
    ("Press Enter once", "\r"),
    (UNDERSTOOD, "\r"),
];

pub(super) const PICTURES: &[Picture] = &[
    Picture {
        file: "reading.svg",
        title: "coilwright: a seated reading is being typed, the shock drawn to scale",
        cells: (110, 30),
        way: &[
            TO_THE_READINGS,
            &[
                ("Type the distance", "16\r"),
                ("Press Enter once", "\r"),
                ("Type the distance", "15.5"),
                ("= 15.5 mm", ""),
            ],
        ],
    },
    Picture {
        file: "verdict.svg",
        title: "coilwright: the decision after two readings, the springs on the list across the target range",
        cells: (132, 34),
        way: &[
            TO_THE_READINGS,
            &[
                ("Type the distance", "15.5\r"),
                ("Press Enter once", "\r"),
                ("Type the distance", "14.5\r"),
                ("advised", ""),
            ],
        ],
    },
    Picture {
        file: "trials.svg",
        title: "coilwright: quick trials on two springs, mean, spread and decision beside them",
        cells: (132, 34),
        way: &[&[
            QUICK,
            DETAILS_OF_TRIALS,
            BEGIN,
            (UNDERSTOOD, "\r"),
            ("Sit down gently", "\r"),
            ("Press Enter for", "\r"),
            ("w alone = as entered", "16\r15.5\r16\r"),
            ("#3 16.0", "s 425\r"),
            ("Esc: not yet", "\r"),
            ("425 lb/in", "17.5\r19\rvoid 5 bounced\r18\r"),
            ("(19.0)", "17.5"),
            ("= 17.5 mm", ""),
        ]],
    },
    Picture {
        file: "past.svg",
        title: "coilwright: a past session looked at, what it came to beside what was done",
        cells: (124, 34),
        way: &[&[PAST, ("5 sessions", "2026-06\r"), ("Result", "")]],
    },
    Picture {
        file: "compare.svg",
        title: "coilwright: two visits of one bike side by side",
        cells: (100, 27),
        way: &[&[PAST, ("5 sessions", "2026-06\r"), ("Result", "v"), ("Sag against date", "")]],
    },
];

impl Picture {
    pub(super) fn size(&self) -> PtySize {
        let (cols, rows) = self.cells;
        PtySize { rows, cols, pixel_width: 0, pixel_height: 0 }
    }
}

/// The sessions that ship, as the records of a shop.
pub(in super::super) fn keep_demonstrations(home: &Path) {
    let records = home.join("records");
    fs::create_dir(&records).expect("a new folder");
    for file in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("sessions")).expect("they ship") {
        let file = file.expect("a file");
        fs::copy(file.path(), records.join(file.file_name())).expect("it can be copied");
    }
}

/// Goes the way, and waits until the last frame stands.
pub(super) fn lead_to(picture: &Picture, running: &mut Running) {
    for (piece, keys) in picture.way.concat() {
        running.wait_for(piece);
        running.settle();
        for line in keys.split_inclusive('\r') {
            running.type_keys(line);
            running.settle();
            // A caution is not taken as read sooner than anybody can read.
            Running::take_time_to_read();
        }
    }
    running.settle();
}
