//! The key that writes the setup card: from a past session and from a closed one, with the head the settings give it.

use std::fs;

use super::review::TO_LIST;
use super::shopfloor::{Shopfloor, copy_demonstrations};

#[test]
fn one_key_writes_the_card_of_a_past_session_with_the_shops_head() {
    let mut shop = Shopfloor::with(|records| {
        copy_demonstrations(records);
        let settings = "(format: 1, shop: \"Invented Workshop\", mechanic: \"M. Example\")";
        fs::write(records.join("settings.ron"), settings).expect("it can be written");
    });
    shop.press(TO_LIST).press("<Enter>").press("w").must_show("Card written:");
    let cards = fs::read_dir(shop.records.join("cards")).expect("a folder of cards");
    let pages: Vec<_> = cards.map(|card| card.expect("a card").path()).collect();
    assert_eq!(pages.len(), 1);
    let page = fs::read_to_string(&pages[0]).expect("a page");
    assert!(page.contains("Invented Workshop; mechanic M. Example"), "{page}");
    // Once more writes over it: it is this program's own page of this session.
    shop.press("w").must_show("Card written:");
}
