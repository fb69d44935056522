//! Format 1, until the program's words became the mechanic's own: `aim` for the target, `rack` for the list of springs,
//! `turns_past_contact` for preload, `Told` for what was entered.
//!
//! Only names changed, so the text is lifted name by name and everything else stays as it was: figures to the last digit,
//! comments, line breaks (a fault keeps its line) and whatever no program of format 1 knew. Not here: what a name means (`record`).

use super::lexer::{Part, parts};

/// Fields of the record itself.
const FIELDS: &[(&str, &str)] = &[
    ("who", "customer"),
    ("bike_label", "bike_name"),
    ("turns_allowed", "turns_limit"),
    ("aim_percent", "target_percent"),
    ("aim_share", "target_share"),
    ("half_width_percent", "tolerance_percent"),
    ("half_width_share", "tolerance_share"),
    ("readings_wanted", "readings_each"),
    ("rack", "springs"),
    ("fitted", "spring_on_arrival"),
];

/// Fields within a value that format 1 knew.
const INNER_FIELDS: &[(&str, &str)] = &[
    ("turns_past_contact", "preload_turns"),
    ("moved_mm", "reading_mm"),
    ("aim_percent", "target_percent"),
    ("aim_share", "target_share"),
    ("half_width_percent", "tolerance_percent"),
    ("half_width_share", "tolerance_share"),
    ("uncertainty_lb_in", "u_rate_lb_in"),
    ("uncertainty_n_mm", "u_rate_n_mm"),
    ("uncertainty_kg", "u_shown_kg"),
    ("rider_share_uncertainty", "u_rider_share"),
    ("falloff_uncertainty", "u_falloff"),
];

/// Deeds, decisions and facts within an entry.
const VARIANTS: &[(&str, &str)] = &[
    ("Told", "Entered"),
    ("Back", "TakenBack"),
    ("Redo", "StartedAgain"),
    ("Trimmed", "PreloadSet"),
    ("Refitted", "Swapped"),
    ("Trim", "SetPreload"),
    ("Who", "Customer"),
    ("BikeLabel", "BikeName"),
    ("TurnsAllowed", "TurnsLimit"),
    ("Aim", "Target"),
    ("ReadingsWanted", "ReadingsEach"),
    ("Rack", "Springs"),
    ("Fitted", "SpringOnArrival"),
];

/// Fields whose values are lifted too; what stands in a field nobody knows stays as somebody wrote it.
const LIFTED_WITHIN: [&str; 4] = ["rack", "wheel_load", "earlier", "entries"];

/// The text in format 2.
pub(super) fn lifted(text: &str) -> String {
    let mut field = "";
    parts(text).map(|part| lifted_part(part, &mut field)).collect()
}

fn lifted_part<'t>(part: Part<'t>, field: &mut &'t str) -> String {
    match part {
        Part::Field { name, depth: 1 } => {
            *field = plain(name);
            // A field of format 2 that stands in format 1 is one nobody knew; it must not be taken for what it is called.
            let taken = FIELDS.iter().any(|(_, new)| new == field);
            if taken { format!("{field}_of_format_1") } else { renamed(FIELDS, name).to_owned() }
        }
        Part::Field { name, .. } if LIFTED_WITHIN.contains(field) => renamed(INNER_FIELDS, name).to_owned(),
        Part::Word { name, .. } if *field == "entries" => renamed(VARIANTS, name).to_owned(),
        Part::Word { name, depth: 1 } if *field == "format" => {
            // Whatever way the number was spelled, it is this format's.
            if name.starts_with(|first: char| first.is_ascii_digit()) {
                "2".to_owned()
            } else {
                name.to_owned()
            }
        }
        Part::Field { name, .. } | Part::Word { name, .. } | Part::Other(name) => name.to_owned(),
    }
}

fn renamed<'n>(table: &[(&'n str, &'n str)], name: &'n str) -> &'n str {
    table.iter().find(|(old, _)| *old == plain(name)).map_or(name, |(_, new)| new)
}

/// A name without the mark that allows any word for one: `r#who` is `who`.
fn plain(name: &str) -> &str {
    name.strip_prefix("r#").unwrap_or(name)
}

#[cfg(test)]
mod tests {
    use super::lifted;

    #[test]
    fn names_are_lifted_and_texts_comments_and_unknown_fields_are_not() {
        let text = "(format: 1, r#who: \"aim_percent: Told(\", /* who: */ aim_percent: 3e1, // rack: [\n rack: [(number: 1)],\
                    \n weather: Told(who: 'w', moved_mm: 1), customer: \"9\", r#bike-lock: r#\"who: \"\"#,\
                    \n entries: [(at: \"\", did: Told(Who(\"Who: Back\"))), (did: Read(moved_mm: 1.5))])";
        let expected = "(format: 2, customer: \"aim_percent: Told(\", /* who: */ target_percent: 3e1, // rack: [\n springs: [(number: 1)],\
                    \n weather: Told(who: 'w', moved_mm: 1), customer_of_format_1: \"9\", r#bike-lock: r#\"who: \"\"#,\
                    \n entries: [(at: \"\", did: Entered(Customer(\"Who: Back\"))), (did: Read(reading_mm: 1.5))])";
        assert_eq!(lifted(text), expected);
    }

    #[test]
    fn a_text_cut_anywhere_is_lifted_as_far_as_it_goes() {
        let text = include_str!("../../../../tests/records/format-1.ron");
        for end in (0..text.len()).filter(|end| text.is_char_boundary(*end)) {
            assert_eq!(lifted(&text[..end]).lines().count(), text[..end].lines().count(), "cut at {end}");
        }
    }
}
