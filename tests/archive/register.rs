//! The register: each customer once, however their sessions spell the name, found with a slip or two.

use coilwright::archive::{Index, Register};

use super::searching::index;

fn names(index: &Index, typed: &str) -> Vec<String> {
    let register = Register::of(index);
    register.like(typed, 9).into_iter().map(|one| one.name.as_typed().to_owned()).collect()
}

#[test]
fn one_customer_in_several_spellings_is_one_and_spelt_as_last_time() {
    let sessions = [
        ("jorg gross", "park bike", 450.0),
        ("Ana Karager", "trail bike", 500.0),
        ("JÖRG-GROSS", "trail bike", 450.0),
        ("", "nobody's bike", 450.0),
        ("Jörg Groß", "Park Bike", 475.0),
    ];
    let index = index(&sessions);
    let register = Register::of(&index);
    let found = register.like("gross", 9);
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].name.as_typed(), found[0].visits), ("Jörg Groß", 3));
    let bikes: Vec<&str> = found[0].bikes.iter().map(|bike| bike.name.as_typed()).collect();
    assert_eq!(bikes, ["Park Bike", "trail bike"]);
    assert_eq!(found[0].bikes[0].newest, index.sessions()[0].name);
    assert!(register.like("", 9).is_empty() && register.like("nobody", 9).is_empty());
}

#[test]
fn a_slip_finds_the_customer_and_the_best_comes_first() {
    let index = index(&[
        ("Anna Kovačić", "a", 450.0),
        ("Ana Kovacs", "b", 450.0),
        ("Hanna Novak", "c", 450.0),
        ("Jürgen Lindqvist", "d", 450.0),
    ]);
    for typed in ["Anna Kovacic", "anna kovacik", "ana kovacic", "kovačič anna", "an kovaci"] {
        assert_eq!(names(&index, typed).first().map(String::as_str), Some("Anna Kovačić"), "{typed}");
    }
    assert_eq!(names(&index, "juergen lindquist"), ["Jürgen Lindqvist"]);
    // A short word on its own has to be right.
    assert!(names(&index, "ena").is_empty());
    assert_eq!(names(&index, "hanna"), ["Hanna Novak", "Anna Kovačić"]);
}
