//! Text that wants to be more than text: markup, formulas and escape codes in every field that takes words.

use coilwright::report::Personal;
use coilwright::units::UnitSet;
use proptest::prelude::*;

use super::told_everywhere;

/// What people have tried elsewhere, and anything at all around it.
fn hostile() -> impl Strategy<Value = String> {
    let known = prop::sample::select(vec![
        "<script>alert(1)</script>",
        "\"><img src=x onerror=alert(1)>",
        "' onload='alert(1)",
        "</style><style>*{display:none}</style>",
        "</svg></td><!-- -->&lt;b&gt;",
        "]]><![CDATA[",
        "=HYPERLINK(\"http://example.invalid\",\"click\")",
        "+1+1",
        "-2+3",
        "@SUM(A1:A9)",
        "\u{1b}[2J\u{1b}]0;title\u{7}",
        "\u{9b}31m",
        "\u{202e}gpj.exe",
        "\u{200b}=1",
        "a\r\nb,\"c\"\u{0}",
    ]);
    (".{0,6}", known, ".{0,6}").prop_map(|(before, text, after)| format!("{before}{text}{after}"))
}

/// Whether a character moves the pen, hides, or turns the reading direction.
fn acts(letter: char) -> bool {
    letter.is_control()
        || matches!(letter, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

/// The tags of a page with their attributes, its text left out.
fn tags(page: &str) -> Vec<&str> {
    page.split('<').skip(1).map(|piece| piece.split_once('>').expect("every tag is closed").0).collect()
}

/// The text of a page, its tags left out.
fn text(page: &str) -> String {
    let body = page.split_once("</head>").expect("a head").1;
    body.split('<').filter_map(|piece| piece.split_once('>')).map(|(_, text)| text).collect()
}

/// The text as an independent reader of HTML would show it.
fn unescaped(text: &str) -> String {
    let named = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#39;", "'"), ("&amp;", "&")];
    named.into_iter().fold(text.to_owned(), |text, (name, letter)| text.replace(name, letter))
}

proptest! {
    #![proptest_config(crate::soak::cases(48))]

    #[test]
    fn no_text_becomes_markup(entered in hostile()) {
        let (page, plain) = (told_everywhere(&entered).page(), told_everywhere("plain").page());
        prop_assert_eq!(tags(&page), tags(&plain));
        prop_assert!(!text(&page).contains('"') && !text(&page).contains('\''));
    }

    #[test]
    fn what_was_typed_is_read_on_the_page_as_it_was_typed(entered in "[a-z][a-z<>&\"';/= ]{0,19}") {
        let page = told_everywhere(&entered).page();
        prop_assert!(unescaped(&text(&page)).contains(entered.trim()), "{}", page);
    }

    #[test]
    fn no_text_moves_the_pen(entered in hostile()) {
        let session = told_everywhere(&entered);
        let written = [
            session.card(UnitSet::Trade),
            session.page(),
            session.line(Personal::Kept),
            coilwright::report::as_text(&session.subject(), UnitSet::Trade),
        ];
        for text in written {
            prop_assert!(!text.chars().any(|letter| letter != '\n' && acts(letter)), "{}", text);
        }
        let rows = session.rows(Personal::Kept);
        prop_assert!(!rows.replace("\r\n", "").chars().any(acts), "{}", rows);
    }

    #[test]
    fn no_text_leaves_its_line(entered in hostile()) {
        let session = told_everywhere(&entered);
        prop_assert!(!session.line(Personal::Kept).contains('\n'));
        prop_assert_eq!(session.rows(Personal::Kept).lines().count(), session.state.sets.len());
    }
}
