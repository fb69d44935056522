//! How much of bike and rider stands on the rear wheel, on bicycles as they were measured.

use super::{Table, assert_absolute};
use chrono::DateTime;
use coilwright::assessment::{Warning, assess};
use coilwright::assets;
use coilwright::session::{Deed, Intake, Record, Spring, SpringNumber, Target, WheelLoad, machine};
use coilwright::units::{Estimate, Length, Mass, SpringRate, Turns};

fn sets() -> Table {
    Table::new(include_str!("bicycle_rider_load_share.csv"))
}

/// Whether the program doubts a scale that shows this share of bike and rider, so many kilograms in all, at the rear.
fn is_doubted(share: f64, total: f64) -> bool {
    let bike = 15.0;
    let mut record = Record::new(DateTime::default());
    record.intake = Intake {
        rider: Some(Mass::kg(total - bike)),
        bike: Some(Mass::kg(bike)),
        wheel_load: Some(WheelLoad { shown: Estimate::new(Mass::kg(share * total), Mass::kg(1.0)) }),
        travel: Some(Length::mm(150.0)),
        stroke: Some(Length::mm(60.0)),
        collar_pitch: Some(Length::mm(1.5)),
        turns_limit: Some(Turns::of(2.0)),
        target: Some(Target::PLANTED),
        ruler: Some(Length::mm(0.5)),
        readings_each: Some(3),
        springs: vec![Spring::labelled(SpringNumber(1), SpringRate::lb_per_in(450.0))],
        spring_on_arrival: Some(SpringNumber(1)),
        ..Intake::default()
    };
    let state = machine::advance(&mut record, DateTime::default(), Deed::IntakeDone).expect("complete");
    let setup = state.setup.as_ref().expect("complete");
    let warnings = assess(setup, &state, assets::doubts()).warnings;
    warnings.iter().any(|warning| matches!(warning, Warning::RearShareHigh(_)))
}

#[test]
fn the_shares_follow_from_the_centres_of_mass() {
    let table = sets();
    for row in &table.rows {
        // Plane statics: share = 1 - x/w, x ahead of the rear contact. Lengths are kept to a micrometre.
        let ahead = table.number(row, "mass_centre_from_rear_contact_m") / table.number(row, "wheelbase_m");
        assert_absolute(1.0 - ahead, table.number(row, "rear_share"), 1.5e-6, table.text(row, "set"));
    }
}

#[test]
fn no_measured_bicycle_with_its_rider_is_doubted() {
    let table = sets();
    for row in &table.rows {
        let share = table.number(row, "rear_share");
        assert!(!is_doubted(share, table.number(row, "total_kg")), "{share} of {}", table.text(row, "set"));
    }
}

#[test]
fn less_than_a_quarter_on_the_front_wheel_is_doubted() {
    // ISO 4210-2:2014, 4.7.5: at least 25 % of the mass of bicycle and rider on the front wheel, the rider seated as far
    // back as possible.
    assert!(!is_doubted(0.7499, 95.0));
    assert!(is_doubted(0.7501, 95.0));
}
