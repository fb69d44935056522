//! What every name in the JSON of an assessment, of a leverage curve, of a spring from its wire and of a tally means, and in what unit:
//! tables for the manual, held against the writers by tests.
//!
//! Not here: the figures themselves (`json`).

mod sets;

pub use sets::SETS;

/// A name in the JSON.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct JsonName {
    /// Where it stands: `sets[].sag_percent` is a member of every object in the list `sets`.
    pub path: &'static str,
    /// Its unit; empty for words, counts and ratios.
    pub unit: &'static str,
    /// What it means.
    pub meaning: &'static str,
}

const fn name(path: &'static str, unit: &'static str, meaning: &'static str) -> JsonName {
    JsonName { path, unit, meaning }
}

/// Every name of an assessment, in the order it is written.
pub const NAMES: &[JsonName] = &[
    name("schema", "", "number of this set of names; 1"),
    name("changed_outside", "", "whether the file is no longer as this program wrote it, by its check value"),
    name("step", "", "where the walk is: intake, bench_check, ... closed"),
    name("target_percent", "%", "middle of the target range"),
    name("tolerance_percent", "%", "room to either side of it"),
    name("fitted_lb_in", "lb/in", "label of the spring on the bike; null for none"),
    name("fitted_spring", "", "its number on the spring list"),
    name("swaps", "", "springs fitted since the bike came in"),
    name("sets[].number", "", "place among all sets of readings"),
    name("sets[].spring", "", "number of the spring on the spring list"),
    name("sets[].rate_lb_in", "lb/in", "label of the spring"),
    name("sets[].mounting", "", "which mounting of a spring it was read in, from one"),
    name(
        "sets[].indicator",
        "",
        "kept where sitting down drags it, pushed where somebody pushes it to the seal",
    ),
    name("sets[].posture", "", "seated or standing"),
    name(
        "sets[].condition",
        "",
        "number of what was different, as in conditions; 0 is rider and bike as entered",
    ),
    name("sets[].condition_rider_kg", "kg", "the rider then, where it was named"),
    name("sets[].preload_turns", "turns", "where the collar stood"),
    name("sets[].readings_used", "", "readings that count"),
    name("sets[].average_mm", "mm", "mean of the readings"),
    name("sets[].u_average_mm", "mm", "standard uncertainty of the mean"),
    name("sets[].scatter_mm", "mm", "standard deviation of the readings; null for a single one"),
    name("sets[].sag_percent", "%", "sag at the shock, as a share of its stroke"),
    name("sets[].u_sag_percent", "%", "standard uncertainty of the sag"),
    name(
        "sets[].ninety_percent_within",
        "%",
        "half of the interval that holds the sag with a chance of 90 %",
    ),
    name("sets[].wheel_sag_percent", "%", "sag at the rear wheel, as a share of its travel"),
    name("sets[].standing", "", "too_little_sag, on_target or too_much_sag"),
    name("load_n", "N", "sprung load on the rear wheel, from all readings and the weights together"),
    name("u_load_n", "N", "its standard uncertainty"),
    name("gas_n", "N", "force of the charge in the damper, as all readings have it"),
    name("u_gas_n", "N", "its standard uncertainty"),
    name("kept_mm", "mm", "how far a dragged indicator is beyond the rest"),
    name("u_kept_mm", "mm", "its standard uncertainty"),
    name(
        "friction_n",
        "N",
        "friction at the shock, from readings from above and from below; null without such a pair",
    ),
    name("falloff_percent", "%", "fall of the leverage ratio over the stroke, as a share of its mean"),
    name("u_falloff_percent", "%", "its standard uncertainty"),
    name("scatter_mm", "mm", "standard deviation of one reading about its set's mean, over all sets"),
    name("needed_rate_lb_in", "lb/in", "rate that would rest in the middle of the target range"),
    name("u_needed_rate_lb_in", "lb/in", "its standard uncertainty, that of a label included"),
    name("needed_low_lb_in", "lb/in", "softest rate that may turn out right, of an interval of 90 %"),
    name("needed_high_lb_in", "lb/in", "stiffest rate that may turn out right, of the same interval"),
    name("expected_reading_mm", "mm", "what the next reading should be; null where no spring is fitted"),
    name("u_expected_reading_mm", "mm", "standard uncertainty of one reading beside it"),
    name(
        "advice.kind",
        "",
        "first_spring, take_readings, check, read_again, keep, set_preload, swap, nothing_on_the_list or none_fits",
    ),
    name("advice.headline", "", "what to do, in words"),
    name("advice.reason", "", "why, in words"),
    name(
        "advice.enter.does",
        "",
        "what Enter does that takes the advice: keep, read, turn, swap, check or none",
    ),
    name("advice.enter.spring", "", "number of the spring that is then on the bike; null for none"),
    name("advice.enter.rate_lb_in", "lb/in", "its label"),
    name("advice.enter.preload_turns", "turns", "where its collar then is"),
    name(
        "advice.enter.chance_in_band",
        "parts of one",
        "its chance of being on target then; null where nothing says",
    ),
    name("advice.step_lb_in", "lb/in", "size of the next spring step, softer negative; null unless a swap"),
    name("advice.step_spring", "", "number of the spring that makes it"),
    name("advice.best_match_lb_in", "lb/in", "label of the spring that is worth most"),
    name("advice.best_match_spring", "", "its number"),
    name("advice.turns_to_tighten", "turns", "collar turns to add, back negative; null unless a trim"),
    name("advice.preload_turns", "turns", "preload then, in turns"),
    name("advice.nearest_lb_in", "lb/in", "nearest spring on the list where none lands"),
    name("advice.nearest_spring", "", "its number"),
    name("advice.needed_lb_in", "lb/in", "rate needed where no spring on the list reaches the target"),
    name(
        "advice.today_to_turns",
        "turns",
        "preload beyond what is planned that holds the fitted spring up for today",
    ),
    name(
        "advice.worth_of_stopping_min",
        "min",
        "worth of leaving the spring, the collar as is best; null before a reading",
    ),
    name("advice.worth_of_swapping_min", "min", "worth of fitting the spring that is worth most"),
    name("advice.worth_of_reading_min", "min", "worth of one more reading; null where none is asked for"),
    name("forecasts[].spring", "", "number of the spring on the spring list"),
    name("forecasts[].rate_lb_in", "lb/in", "label of the spring"),
    name("forecasts[].measured_lb_in", "lb/in", "its rate as somebody measured it; null where nobody did"),
    name("forecasts[].preload_turns", "turns", "collar calculated with"),
    name("forecasts[].sag_percent", "%", "sag it would give"),
    name("forecasts[].u_sag_percent", "%", "standard uncertainty of that"),
    name(
        "forecasts[].ninety_percent_half_width",
        "%",
        "half of the interval that holds the sag with a chance of 90 %",
    ),
    name("forecasts[].wheel_sag_percent", "%", "the same at the rear wheel"),
    name("forecasts[].chance_on_target", "parts of one", "chance of being on target"),
    name("forecasts[].chance_with_collar", "parts of one", "chance of being on target with a little preload"),
    name("forecasts[].fits", "", "whether nothing known speaks against fitting it"),
    name("forecasts[].fit", "", "fits, stroke_unknown, would_bind or too_narrow"),
    name(
        "forecasts[].rate_source",
        "",
        "on_the_bike, measured, found_before (by past sessions, of a marked spring) or by_label",
    ),
    name("forecasts[].energy_left_j", "J", "energy it can still take up from sag to full stroke"),
    name("forecasts[].bounce_hz", "Hz", "frequency of the bounce about the sag"),
    name("forecasts[].wheel_rate_n_mm", "N/mm", "spring rate as the rear wheel feels it"),
    name("forecasts[].breakaway_percent", "%", "share of the load that must arrive before the shock moves"),
    name("changes[].role", "", "fitted, step, best_match or nearest: why the spring is in the comparison"),
    name("changes[].spring", "", "number of the spring on the spring list"),
    name("changes[].rate_lb_in", "lb/in", "label of the spring"),
    name("changes[].measured_lb_in", "lb/in", "its rate as somebody measured it; null where nobody did"),
    name("changes[].sag_percent", "%", "sag it would give"),
    name("changes[].u_sag_percent", "%", "standard uncertainty of that"),
    name("changes[].chance_on_target", "parts of one", "chance of being on target"),
    name("changes[].axle_sinks_mm", "mm", "how far the rear axle sinks under the seated rider"),
    name("changes[].energy_left_j", "J", "energy it can still take up from sag to full stroke"),
    name("changes[].bounce_hz", "Hz", "frequency of the bounce about the sag"),
    name("changes[].breakaway_percent", "%", "share of the load that must arrive before the shock moves"),
    name(
        "changes[].rebound_more_percent",
        "%",
        "rebound damping needed beyond that of the fitted spring; less negative",
    ),
    name(
        "changes[].bottom_bracket_lower_mm",
        "mm",
        "how much lower the bottom bracket comes than with the fitted spring; null where the frame was not entered",
    ),
    name(
        "changes[].head_angle_slacker_degrees",
        "degrees",
        "how much slacker the head angle becomes; null where the wheelbase was not entered",
    ),
    name("around.rate_per_kg_lb_in", "lb/in", "how much stiffer a spring a kilogram more on the rider wants"),
    name("around.sag_per_kg_percent", "%", "how much more sag a kilogram makes on the spring that is fitted"),
    name("around.sag_per_turn_percent", "%", "how much sag a turn of the collar takes away"),
    name("around.sag_per_step_percent", "%", "how much sag a spring 25 lb/in stiffer takes away"),
    name(
        "around.rebound_percent",
        "%",
        "more rebound damping needed than with the spring the bike came with",
    ),
    name("around.rebound_clicks", "", "the same in clicks, towards closed positive; common practice"),
    name(
        "around.kerb_drop",
        "",
        "how the rear came back off the kerb last: once, bounces_on or slow; null where nobody rolled",
    ),
    name("around.kerb_clicks", "", "clicks of rebound by the kerb drop, towards closed positive"),
    name("around.deepest_mm", "mm", "deepest stroke of the last ride that told one"),
    name("around.deepest_on[].spring", "", "another spring on the list that fits"),
    name(
        "around.deepest_on[].stroke_mm",
        "mm",
        "how deep the same hit goes on it; null for all of the stroke",
    ),
    name("around.bothers", "", "what bothered most on the last ride, in words"),
    name("around.try_first", "", "what to try first for it, in words; common practice"),
    name("around.front_load_n", "N", "sprung load on the front wheel"),
    name("around.front_sag_percent", "%", "fork sag, as a share of its travel"),
    name("around.front_bounce_hz", "Hz", "bounce frequency of the front around sag"),
    name("around.rear_bounce_hz", "Hz", "the same of the rear"),
    name("around.head_angle_degrees", "degrees", "head angle at sag"),
    name("trail", "", "what the last trail check says, in words; null before one"),
    name("warnings[]", "", "what deserves a look, in words"),
];

/// Every name of a leverage curve.
pub const LEVERAGE: &[JsonName] = &[
    name("schema", "", "number of this set of names; 1"),
    name("start_ratio", "", "leverage ratio at full extension"),
    name("mean_ratio", "", "its mean over the stroke: wheel travel over shock stroke"),
    name("end_ratio", "", "leverage ratio at full compression"),
    name("falloff_percent", "%", "fall of the leverage ratio over the stroke, as a share of its mean"),
    name(
        "largest_misfit_mm",
        "mm",
        "how far the pair that lies farthest off is from a smooth curve, in wheel travel; null for too few pairs to tell",
    ),
    name("largest_misfit_pair", "", "which pair that is, from one"),
    name("pairs[].stroke_mm", "mm", "stroke of a measured pair"),
    name("pairs[].wheel_mm", "mm", "wheel travel of the pair"),
    name("curve[].stroke_mm", "mm", "a place along the stroke"),
    name("curve[].ratio", "", "leverage ratio there"),
];

/// Every name of a spring reckoned from its wire.
pub const WIRE: &[JsonName] = &[
    name("schema", "", "number of this set of names; 1"),
    name("rate_lb_in", "lb/in", "spring rate"),
    name("u_rate_lb_in", "lb/in", "its standard uncertainty, from the calipers and the material"),
    name("rate_n_mm", "N/mm", "the same rate"),
    name("u_rate_n_mm", "N/mm", "its standard uncertainty"),
    name("active_coils", "", "coils that give way: all of them less those the ends take"),
    name("solid_length_mm", "mm", "length with every coil touching"),
    name(
        "greatest_deflection_mm",
        "mm",
        "way from free length to solid; null where the free length was not entered",
    ),
    name("unusual", "", "what is unusual about the figures, in words; null for nothing"),
    name("mind", "", "whose figures come first, in words"),
];

/// Every name of the tally of the finished sessions.
pub const TALLY: &[JsonName] = &[
    name("schema", "", "number of this set of names; 1"),
    name("since", "", "the day from which on sessions are counted; null for all"),
    name("sessions", "", "finished sessions counted"),
    name("not_counted_open", "", "sessions that are not finished"),
    name("not_counted_demonstrations", "", "invented sessions"),
    name("before_any_reading.count", "", "first readings of a session that had a forecast"),
    name(
        "before_any_reading.bias_percent",
        "%",
        "average of reading less forecast, as a share of the shock stroke",
    ),
    name("before_any_reading.spread_percent", "%", "standard deviation of that; null for fewer than two"),
    name("before_any_reading.inside_ninety_percent", "", "readings inside the interval of 90 %"),
    name(
        "after_swap.count",
        "",
        "first readings of a spring newly fitted, with readings of another before it",
    ),
    name("after_swap.bias_percent", "%", "average of reading less forecast, as a share of the shock stroke"),
    name("after_swap.spread_percent", "%", "standard deviation of that; null for fewer than two"),
    name("after_swap.inside_ninety_percent", "", "readings inside the interval of 90 %"),
    name(
        "doubt_factor",
        "",
        "f: f squared is (20 + sum of z squared)/(20 + n), z being reading less forecast over its standard uncertainty, 3 at most",
    ),
    name("doubt_factor_swaps", "", "n, the swaps behind it"),
    name(
        "first_guess.count",
        "",
        "sessions with a rate calculated before any reading and a spring that stayed",
    ),
    name("first_guess.bias_percent", "%", "average of ln(rate calculated/rate that stayed)"),
    name("first_guess.spread_percent", "%", "standard deviation of that; null for fewer than two"),
    name("months[].month", "", "as in 2026-11, by the workshop's clock"),
    name("months[].sessions", "", "sessions opened in it"),
    name("months[].on_target", "", "those whose last sag was inside the target range"),
    name("months[].swaps", "", "springs fitted"),
    name("months[].sits", "", "readings taken, void ones too"),
    name("months[].minutes", "min", "time between steps, pauses of more than half an hour left out"),
    name("by_travel[].travel_mm", "mm", "rear wheel travel, to 10 mm"),
    name("by_travel[].rates[].rate_lb_in", "lb/in", "rate that stayed, to 25 lb/in"),
    name("by_travel[].rates[].stayed", "", "bikes on which it stayed"),
    name("by_travel[].rates[].fitted_here", "", "of these, those on which it was fitted in the session"),
    name("rates[].rate_lb_in", "lb/in", "rate that stayed, to 25 lb/in, softest first"),
    name("rates[].stayed", "", "bikes on which it stayed"),
    name("rates[].fitted_here", "", "of these, those on which it was fitted in the session"),
];
