//! How the frame tips, on bicycles as they were measured: the formulas against the frame turned as a rigid body.

use std::f64::consts::FRAC_PI_2;

use super::{Row, Table, assert_absolute};
use coilwright::mechanics::geometry::{Sinking, bottom_bracket_drop, head_angle_slackens};
use coilwright::units::Length;

/// How far the wheels sink in these checks, rear and front, in millimetres: planted, lively, and a fork left alone.
const SINKINGS: [(f64, f64); 3] = [(48.0, 30.0), (36.0, 28.0), (45.0, 0.0)];

fn geometry() -> Table {
    Table::new(include_str!("bicycle_geometry_measured.csv"))
}

fn sinking((rear, front): (f64, f64)) -> Sinking {
    Sinking { rear: Length::mm(rear), front: Length::mm(front) }
}

/// Angle by which a rigid frame turns when its axles, a wheelbase apart along the ground, come down by different amounts.
/// The axles' distance along the frame stays what it was, so the sine belongs to it, not the tangent.
fn turned((rear, front): (f64, f64), wheelbase: f64) -> f64 {
    ((rear - front) / wheelbase).asin()
}

#[test]
fn the_bottom_bracket_comes_down_as_that_of_a_frame_turned_as_a_whole() {
    let table = geometry();
    for row in &table.rows {
        let wheelbase = table.number(row, "wheelbase_m") * 1000.0;
        let (rear_centre, drop) =
            (table.number(row, "rear_centre_horizontal_mm"), table.number(row, "bb_drop_mm"));
        for sunk in SINKINGS {
            let angle = turned(sunk, wheelbase);
            // The bracket stands rear_centre ahead of the rear axle and drop below it; the frame turns nose up.
            let before = -drop;
            let after = rear_centre * angle.sin() - drop * angle.cos() - sunk.0;
            let (wheelbase, rear_centre) = (Length::mm(wheelbase), Length::mm(rear_centre));
            let found = bottom_bracket_drop(sinking(sunk), wheelbase, rear_centre);
            // What the small angle leaves out: drop (1 - cos) is under 0.1 mm at 45 mm of difference.
            assert_absolute(found.as_mm(), before - after, 0.1, table.text(row, "bicycle"));
        }
    }
}

#[test]
fn sinking_at_the_rear_alone_counts_by_the_published_front_centre() {
    let table = geometry();
    for row in &table.rows {
        let wheelbase = table.number(row, "wheelbase_m") * 1000.0;
        let rear_centre = Length::mm(table.number(row, "rear_centre_horizontal_mm"));
        let one_percent = sinking((wheelbase / 100.0, 0.0));
        let found = bottom_bracket_drop(one_percent, Length::mm(wheelbase), rear_centre);
        // Printed to a ten-thousandth of a millimetre, here a hundredth of it twice.
        let expected = table.number(row, "front_centre_horizontal_mm") / 100.0;
        assert_absolute(found.as_mm(), expected, 2e-6, table.text(row, "bicycle"));
    }
}

/// The wheelbase of a bicycle of the other table, where it stands there.
fn wheelbase_of(name: &str, table: &Table) -> Option<f64> {
    let row: Option<&Row> = table.rows.iter().find(|row| table.text(row, "bicycle") == name);
    row.map(|row| table.number(row, "wheelbase_m") * 1000.0)
}

#[test]
fn the_head_angle_slackens_as_the_steering_axis_of_a_turned_frame() {
    let (geometry, steering) = (geometry(), Table::new(include_str!("bicycle_trail_measured.csv")));
    let mut checked = 0;
    for row in &steering.rows {
        let name = steering.text(row, "bicycle");
        let Some(wheelbase) = wheelbase_of(name, &geometry) else { continue };
        let tilt = steering.number(row, "steer_axis_tilt_rad");
        for sunk in SINKINGS {
            // The axis from the ground up leans back by the tilt; turning nose up leans it further.
            let (sin, cos) = turned(sunk, wheelbase).sin_cos();
            let (along, up) = (-tilt.sin(), tilt.cos());
            let (along, up) = (along * cos - up * sin, along * sin + up * cos);
            let after = up.atan2(-along).to_degrees();
            let slackened = head_angle_slackens(sinking(sunk), Length::mm(wheelbase));
            // Against the tilt as published, in radians to 12 decimals; tangent for sine is off by half the cube of 0.046, 0.003°.
            let expected = (FRAC_PI_2 - tilt).to_degrees() - slackened.value();
            assert_absolute(after, expected, 0.003, name);
        }
        checked += 1;
    }
    assert_eq!(checked, 3, "bicycles that stand in both tables");
}
