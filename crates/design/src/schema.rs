//! The JSON Schema of a document, from types that mirror it. Never in the wasm: there the bounds
//! rows alone know the document. A test holds the two to the same leaves.

use quantities::{Kind, bounds};
use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::Value;

use crate::migrate::{FORMAT, VERSION};

/// The schema, with the hard limits of every number. What is unusual is the program's to say.
pub fn schema() -> Value {
    let settings =
        SchemaSettings::draft2020_12().with(|settings| settings.inline_subschemas = true);
    let root = settings
        .into_generator()
        .into_root_schema_for::<DesignDocument>();
    let mut schema = root.to_value();
    schema["properties"]["format"]["const"] = FORMAT.into();
    schema["properties"]["version"]["const"] = VERSION.into();
    visit_leaves(&mut schema, &mut |path, leaf| {
        let Some(row) = bounds::row(path) else {
            return;
        };
        match row.kind {
            Kind::Number | Kind::Whole => {
                leaf["minimum"] = row.hard_least.into();
                leaf["maximum"] = row.hard_most.into();
            }
            Kind::Words => leaf["maxLength"] = (row.hard_most as usize).into(),
            _ => {}
        }
    });
    schema
}

/// Calls `each` with the pattern path and the schema of every leaf.
fn visit_leaves(schema: &mut Value, each: &mut impl FnMut(&str, &mut Value)) {
    let mut open = vec![(String::new(), schema)];
    while let Some((path, node)) = open.pop() {
        if node.get("properties").is_some() {
            let properties = node["properties"].as_object_mut();
            for (key, child) in properties.into_iter().flatten() {
                let dot = if path.is_empty() { "" } else { "." };
                open.push((format!("{path}{dot}{key}"), child));
            }
        } else if node.get("items").is_some() {
            open.push((format!("{path}[]"), &mut node["items"]));
        } else {
            each(&path, node);
        }
    }
}

/// A battened lug rig on a boat. Lengths in metres, angles in degrees, shares in per cent; x aft
/// from the forward end of the waterline, heights above it. A value left out follows its rule.
#[derive(JsonSchema)]
#[schemars(title = "Battenwright design")]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct DesignDocument {
    /// Always the same word.
    format: String,
    /// Version of this format.
    version: u32,
    /// What the design is called.
    name: Option<String>,
    /// Whatever its owner wants remembered.
    note: Option<String>,
    /// The boat.
    boat: Option<BoatDocument>,
    /// Rules of the lines, one set for the boat.
    lines: Option<LinesRulesDocument>,
    /// Rules, materials and stock of the spars.
    spars: Option<SparsRulesDocument>,
    /// What holds for the cloth of all sails.
    cloth: Option<ClothRulesDocument>,
    /// One to three masts.
    #[schemars(length(max = 3))]
    masts: Option<Vec<MastDocument>>,
    /// The wind she is held against.
    wind: Option<WindDocument>,
    /// Order of reefing.
    reefs: Option<ReefsDocument>,
    /// Lessons given with her.
    #[schemars(length(max = 8))]
    lesson: Option<Vec<LessonDocument>>,
}

/// A lesson.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct LessonDocument {
    /// What it is called.
    title: Option<String>,
    /// What is shown, one after the other.
    #[schemars(length(max = 60))]
    steps: Option<Vec<LessonStepDocument>>,
}

/// A step of a lesson.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct LessonStepDocument {
    /// What it is called.
    title: Option<String>,
    /// What is said.
    words: Option<String>,
    /// What is drawn.
    drawing: Option<DrawingWord>,
    /// Part named on the drawing.
    part: Option<PartWord>,
    /// Line in hand.
    line: Option<LessonLineWord>,
    /// Step of the reef order that stands, or is gone to.
    reef: Option<u32>,
    /// Step of the reef order it is gone from.
    from: Option<u32>,
    /// Sail whose panels `reef` and `from` count, the others standing; `all`: steps of the reef order.
    sail: Option<LessonSailWord>,
    /// Whether the line is handled before or after the halyard.
    stage: Option<StageWord>,
    /// Mast that is looked at, 1 the first.
    mast: Option<u32>,
    /// Boom off the centreline, to starboard positive.
    sheet_deg: Option<f64>,
    /// True wind at 10 m.
    wind_kn: Option<f64>,
    /// Whether the reef advice is told.
    advice_told: Option<ToldWord>,
    /// Whether it is told how much of the line is handled.
    amount_told: Option<ToldWord>,
    /// Whether the area is told.
    area_told: Option<ToldWord>,
    /// Whether the chord balance is told.
    balance_told: Option<ToldWord>,
    /// Whether the place of the CE is told.
    centre_told: Option<ToldWord>,
    /// Whether the heel is told.
    heel_told: Option<ToldWord>,
    /// Whether the lead is told.
    lead_told: Option<ToldWord>,
}

/// The boat and what must be kept clear on her.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct BoatDocument {
    /// Length over all.
    loa_m: Option<f64>,
    /// Length of the waterline.
    lwl_m: Option<f64>,
    /// Greatest beam.
    beam_m: Option<f64>,
    /// Draught, keel included.
    draught_m: Option<f64>,
    /// Stem head ahead of the waterline.
    bow_overhang_m: Option<f64>,
    /// Deck at the bow above the waterline.
    freeboard_bow_m: Option<f64>,
    /// Deck amidships above the waterline.
    freeboard_mid_m: Option<f64>,
    /// Deck at the stern above the waterline.
    freeboard_stern_m: Option<f64>,
    /// Kind of keel.
    keel: Option<KeelWord>,
    /// Coachroof, if there is one.
    coachroof: Option<CoachroofDocument>,
    /// Cockpit, if there is one.
    cockpit: Option<CockpitDocument>,
    /// Least room between boom and coachroof.
    coachroof_clearance_m: Option<f64>,
    /// Least room between boom and cockpit seat.
    cockpit_clearance_m: Option<f64>,
    /// The helmsman's eye above the cockpit seat.
    eye_height_m: Option<f64>,
    /// Least height of the boom end above the water, squared off.
    boom_end_clearance_m: Option<f64>,
    /// Greatest height above the water that bridges allow.
    air_draught_m: Option<f64>,
    /// Beam of the waterline.
    bwl_m: Option<f64>,
    /// Draught of the canoe body.
    canoe_draught_m: Option<f64>,
    /// Mass in sailing trim.
    displacement_kg: Option<f64>,
    /// Fixed ballast.
    ballast_kg: Option<f64>,
    /// Sea or fresh water.
    water: Option<WaterWord>,
    /// Waterplane coefficient.
    waterplane_pct: Option<f64>,
    /// Second moment of the waterplane over L B³.
    inertia_pct: Option<f64>,
    /// Height of the centre of gravity over canoe body draught and freeboard.
    kg_pct: Option<f64>,
    /// Where the stability comes from.
    stability: Option<StabilityWord>,
    /// Inclining test at the dock.
    test: Option<TestDocument>,
    /// Time of one whole roll.
    roll_s: Option<f64>,
    /// Radius of gyration over the beam.
    gyration_pct: Option<f64>,
    /// Righting levers, upright first.
    gz: Option<Vec<LeverDocument>>,
    /// Loading worked with.
    loading: Option<LoadingWord>,
    /// Displacement, light.
    light_kg: Option<f64>,
    /// Displacement, laden.
    laden_kg: Option<f64>,
    /// Height of what is aboard less or more.
    stores_m: Option<f64>,
    /// How many sit to weather.
    crew_weather: Option<u32>,
    /// Mass of each.
    crew_kg: Option<f64>,
    /// How far out they sit, share of the beam.
    crew_arm_pct: Option<f64>,
    /// Greatest righting moment over m g GM sin 30°.
    greatest_factor: Option<f64>,
    /// Rig that comes off.
    old_rig: Option<Vec<PartDocument>>,
    /// Rig that goes on.
    new_rig: Option<Vec<PartDocument>>,
    /// Band of the displacement.
    displacement_band_pct: Option<f64>,
    /// Band of a GM from form.
    gm_band_pct: Option<f64>,
    /// How the CLR is found.
    clr: Option<ClrWord>,
    /// Underwater profile with keel and rudder.
    profile: Option<Vec<PointDocument>>,
    /// Traced line of deck and house.
    deck: Option<Vec<PointDocument>>,
    /// Fin of the extended keel.
    fin: Option<FinDocument>,
    /// Sails she carries now.
    sails: Option<Vec<SailNowDocument>>,
}

/// Coachroof in profile.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct CoachroofDocument {
    /// Fore end.
    from_m: Option<f64>,
    /// After end.
    to_m: Option<f64>,
    /// Height above the deck.
    height_m: Option<f64>,
}

/// Cockpit in profile.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct CockpitDocument {
    /// Fore end.
    from_m: Option<f64>,
    /// After end.
    to_m: Option<f64>,
    /// Seat above the waterline.
    seat_m: Option<f64>,
}

/// One mast.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct MastDocument {
    /// What it is called.
    name: Option<String>,
    /// Mast axis at the partners.
    position_m: Option<f64>,
    /// Partners above the waterline.
    partners_m: Option<f64>,
    /// Heel to partners.
    bury_m: Option<f64>,
    /// Partners to masthead.
    lap_m: Option<f64>,
    /// Rake, head aft positive.
    rake_deg: Option<f64>,
    /// Diameter at the partners.
    diameter_m: Option<f64>,
    /// Diameter at the masthead.
    top_diameter_m: Option<f64>,
    /// Share of the mast above the partners that is parallel.
    parallel_pct: Option<f64>,
    /// Foremost place where it may stand.
    from_m: Option<f64>,
    /// Aftermost place where it may stand.
    to_m: Option<f64>,
    /// The sail on it.
    sail: Option<SailDocument>,
    /// Its lines.
    lines: Option<LinesDocument>,
    /// What it and its spars are made of.
    spars: Option<MadeDocument>,
    /// How the cloth is shaped.
    cloth: Option<ClothDocument>,
    /// Weights of sail and spars.
    weights: Option<WeightsDocument>,
}

/// A sail, its spars and its lowering.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct SailDocument {
    /// How the spars are found.
    family: Option<FamilyWord>,
    /// Number of panels.
    panels: Option<u32>,
    /// Panels of a fanned head.
    head_panels: Option<u32>,
    /// Length of boom and lower battens.
    chord_m: Option<f64>,
    /// Luff width of a lower panel.
    panel_width_m: Option<f64>,
    /// Luff width of each turning panel, share of a lower panel's, upward.
    head_widths_pct: Option<Vec<f64>>,
    /// Relative steps of the angle from batten to yard, upward.
    head_steps: Option<Vec<f64>>,
    /// Angle of the lower battens above the horizontal, aft end up.
    rise_deg: Option<f64>,
    /// Angle of the boom.
    boom_rise_deg: Option<f64>,
    /// Angle of the yard.
    yard_angle_deg: Option<f64>,
    /// Length of the yard, share of the chord.
    yard_length_pct: Option<f64>,
    /// Luff against the mast, aft positive.
    luff_rake_deg: Option<f64>,
    /// Round (+) or hollow (-) of the luff, share of each edge.
    luff_round_pct: Option<f64>,
    /// Round (+) or hollow (-) of the leech, share of each edge.
    leech_round_pct: Option<f64>,
    /// Share of the boom ahead of the mast.
    balance_pct: Option<f64>,
    /// Boom above the partners where it crosses the mast.
    boom_height_m: Option<f64>,
    /// Sling point along the yard from the throat.
    sling_pct: Option<f64>,
    /// Side of the mast the sail stands on.
    side: Option<SideWord>,
    /// Sail plane from the mast axis.
    offset_m: Option<f64>,
    /// Construction of the cloth.
    cut: Option<CutWord>,
    /// Place of the wind's force along the chord.
    chord_share_pct: Option<f64>,
    /// Place of the force while the flow holds.
    attached_pct: Option<f64>,
    /// Coefficient of the force that heels her.
    side_force: Option<f64>,
    /// What it counts in the common centre.
    efficiency_pct: Option<f64>,
    /// Depth of a batten.
    batten_depth_m: Option<f64>,
    /// Depth of the boom.
    boom_depth_m: Option<f64>,
    /// Depth of the yard.
    yard_depth_m: Option<f64>,
    /// Folded cloth between two lying spars.
    folded_cloth_m: Option<f64>,
    /// Drop of the boom onto its lifts.
    drop_m: Option<f64>,
    /// Travel of the battens past the mast in all, share of the chord.
    travel_pct: Option<f64>,
    /// Halyard left block to block at full hoist.
    drift_m: Option<f64>,
    /// Room at the masthead.
    masthead_clearance_m: Option<f64>,
    /// Kink of the leech that is worth a look.
    leech_kink_deg: Option<f64>,
    /// Halyard angle off the mast that is worth a look.
    halyard_angle_deg: Option<f64>,
    /// Chord stays when an area is set.
    hold_chord: Option<bool>,
    /// Luff stays when an area is set.
    hold_luff: Option<bool>,
    /// Mast stays when an area is set.
    hold_mast: Option<bool>,
    /// Greatest sheeting angle.
    squared_off_deg: Option<f64>,
    /// Spars of a sail by the table, boom first.
    #[schemars(length(max = 13))]
    spars: Option<Vec<SparDocument>>,
}

/// One spar of the table.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct SparDocument {
    /// Luff end aft of the tack.
    aft_m: Option<f64>,
    /// Luff end above the tack.
    up_m: Option<f64>,
    /// Angle above the horizontal, aft end up.
    angle_deg: Option<f64>,
    /// Luff to leech.
    length_m: Option<f64>,
}

/// Order of reefing over all masts.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct ReefsDocument {
    /// Panels lowered per mast, step by step.
    sequence: Option<Vec<Vec<u32>>>,
}

/// Inclining test at the dock.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct TestDocument {
    /// Length of the pendulum.
    pendulum_m: Option<f64>,
    /// Readings, both sides.
    readings: Option<Vec<ReadingDocument>>,
}

/// One reading of the test.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct ReadingDocument {
    /// Weight moved.
    weight_kg: Option<f64>,
    /// Out of the centreline, starboard +.
    arm_m: Option<f64>,
    /// Deflection of the pendulum, starboard down +.
    deflection_m: Option<f64>,
}

/// One righting lever.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct LeverDocument {
    /// Heel.
    heel_deg: Option<f64>,
    /// Lever.
    gz_m: Option<f64>,
}

/// A part of the rig with its weight.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct PartDocument {
    /// What it is.
    name: Option<String>,
    /// Mass.
    mass_kg: Option<f64>,
    /// Its middle, aft.
    x_m: Option<f64>,
    /// Its middle above the waterline.
    z_m: Option<f64>,
}

/// A point of an outline.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct PointDocument {
    /// Aft from the forward end of the waterline.
    x_m: Option<f64>,
    /// Above the waterline.
    z_m: Option<f64>,
}

/// Fin of the extended keel.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct FinDocument {
    /// Leading edge at the root.
    root_from_m: Option<f64>,
    /// Trailing edge at the root.
    root_to_m: Option<f64>,
    /// Leading edge at the tip.
    tip_from_m: Option<f64>,
    /// Trailing edge at the tip.
    tip_to_m: Option<f64>,
}

/// A sail she carries now.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct SailNowDocument {
    /// What it is.
    name: Option<String>,
    /// Its outline.
    points: Option<Vec<PointDocument>>,
}

/// The wind she is held against.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct WindDocument {
    /// True wind off the bow.
    angle_deg: Option<f64>,
    /// Her speed.
    boat_speed_kn: Option<f64>,
    /// Exponent of the gradient.
    gradient_pct: Option<f64>,
    /// Heel at which to reef.
    comfort_deg: Option<f64>,
    /// Exponent of the heeling moment.
    exponent: Option<f64>,
    /// Coefficient before the wind.
    running_force: Option<f64>,
    /// Windage of the hull.
    hull_drag: Option<f64>,
    /// Windage of the bundle.
    bundle_drag: Option<f64>,
    /// Windage of the mast.
    mast_drag: Option<f64>,
    /// Margin against overbalance.
    overbalance_pct: Option<f64>,
    /// Tolerance of the shift of the CE.
    shift_pct: Option<f64>,
}

/// What holds for all lines.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct LinesRulesDocument {
    /// Boom off the centreline on the wind.
    close_deg: Option<f64>,
    /// Lost in a sheave.
    sheave_loss_pct: Option<f64>,
    /// Friction of a parrel.
    parrel_friction: Option<f64>,
    /// Strength left at a knot.
    knot_pct: Option<f64>,
    /// Factor of running lines.
    factor_running: Option<f64>,
    /// Factor of lifts and parrels.
    factor_fixed: Option<f64>,
    /// Factor of the halyard.
    factor_halyard: Option<f64>,
    /// Dynamic factor of the lifts.
    dynamic: Option<f64>,
    /// Steady pull by hand.
    hand_n: Option<f64>,
    /// Least rope a hand can hold.
    hand_rope_m: Option<f64>,
    /// Least distance block to block.
    block_to_block_m: Option<f64>,
    /// Stretch of the sheet at a fifth of its strength.
    stretch_pct: Option<f64>,
    /// Wet over dry cloth.
    wet: Option<f64>,
    /// Lifeline above the deck.
    lifeline_m: Option<f64>,
    /// Tail of the halyard.
    tail_halyard_m: Option<f64>,
    /// Tail of a sheet.
    tail_sheet_m: Option<f64>,
    /// Tail of a hauling line.
    tail_hauling_m: Option<f64>,
    /// Rope of a knot.
    tail_fixed_m: Option<f64>,
    /// Rope of the halyard.
    halyard_rope: Option<RopeWord>,
    /// Rope of sheets and spans.
    sheet_rope: Option<RopeWord>,
    /// Rope of the lifts.
    lift_rope: Option<RopeWord>,
    /// Rope of parrels and hauling lines.
    parrel_rope: Option<RopeWord>,
}

/// The lines of a sail.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct LinesDocument {
    /// Halyard.
    halyard: Option<HalyardDocument>,
    /// Sheets.
    sheet: Option<SheetDocument>,
    /// Spans of the sheets; without rows the usual ones.
    #[schemars(length(max = 64))]
    spans: Option<Vec<SpanDocument>>,
    /// Topping lifts.
    lifts: Option<LiftsDocument>,
    /// Batten parrels.
    parrels: Option<ParrelsDocument>,
    /// Yard hauling parrel.
    yard: Option<HaulingDocument>,
    /// Luff hauling parrel.
    luff: Option<HaulingDocument>,
    /// Throat parrel.
    throat: Option<HaulingDocument>,
    /// Tack line.
    tack: Option<HaulingDocument>,
    /// Boom restraint.
    restraint: Option<HaulingDocument>,
    /// Downhaul.
    down: Option<HaulingDocument>,
    /// Where hauling lines hold spars; a line without rows has the usual ones.
    #[schemars(length(max = 64))]
    holds: Option<Vec<HoldDocument>>,
}

/// The halyard.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct HalyardDocument {
    /// Whether there is one.
    r#use: Option<HalyardWord>,
    /// Parts.
    parts: Option<u32>,
    /// Lead, aft.
    lead_x_m: Option<f64>,
    /// Lead, to starboard.
    lead_y_m: Option<f64>,
    /// Lead, up.
    lead_z_m: Option<f64>,
    /// Cleat, aft.
    cleat_x_m: Option<f64>,
    /// Cleat, to starboard.
    cleat_y_m: Option<f64>,
    /// Cleat, up.
    cleat_z_m: Option<f64>,
}

/// The sheets.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct SheetDocument {
    /// How they are arranged.
    system: Option<SystemWord>,
    /// Batten ends to a span.
    gathers: Option<u32>,
    /// Parts.
    parts: Option<u32>,
    /// Deck block, aft.
    block_x_m: Option<f64>,
    /// Deck block, to starboard.
    block_y_m: Option<f64>,
    /// Deck block, up.
    block_z_m: Option<f64>,
    /// Second deck block, aft.
    block_2_x_m: Option<f64>,
    /// Second deck block, to starboard.
    block_2_y_m: Option<f64>,
    /// Second deck block, up.
    block_2_z_m: Option<f64>,
    /// Cleat, aft.
    cleat_x_m: Option<f64>,
    /// Cleat, to starboard.
    cleat_y_m: Option<f64>,
    /// Cleat, up.
    cleat_z_m: Option<f64>,
    /// Second cleat, aft.
    cleat_2_x_m: Option<f64>,
    /// Second cleat, to starboard.
    cleat_2_y_m: Option<f64>,
    /// Second cleat, up.
    cleat_2_z_m: Option<f64>,
    /// Batten end beyond the fastening.
    tip_m: Option<f64>,
}

/// One span.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct SpanDocument {
    /// Its sheet.
    sheet: Option<u32>,
    /// Batten of its uppermost end.
    top: Option<u32>,
    /// Ends, downward.
    ends: Option<u32>,
    /// Its rope.
    length_m: Option<f64>,
    /// Parts of the sheet.
    parts: Option<u32>,
}

/// Topping lifts.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct LiftsDocument {
    /// How they are rigged.
    r#use: Option<UseWord>,
    /// Height on the mast.
    height_m: Option<f64>,
    /// Cleat, aft.
    cleat_x_m: Option<f64>,
    /// Cleat, to starboard.
    cleat_y_m: Option<f64>,
    /// Cleat, up.
    cleat_z_m: Option<f64>,
    /// Catch points along the boom.
    #[schemars(length(max = 64))]
    catches_pct: Option<Vec<f64>>,
}

/// Batten parrels.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct ParrelsDocument {
    /// How they are rigged.
    r#use: Option<ParrelsWord>,
    /// Fore end ahead of the mast axis.
    ahead_m: Option<f64>,
    /// After end abaft it.
    abaft_m: Option<f64>,
}

/// A hauling line.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct HaulingDocument {
    /// How it is rigged.
    r#use: Option<UseWord>,
    /// Lead, aft.
    lead_x_m: Option<f64>,
    /// Lead, to starboard.
    lead_y_m: Option<f64>,
    /// Lead, up.
    lead_z_m: Option<f64>,
    /// Cleat, aft.
    cleat_x_m: Option<f64>,
    /// Cleat, to starboard.
    cleat_y_m: Option<f64>,
    /// Cleat, up.
    cleat_z_m: Option<f64>,
}

/// A hold of a line on a spar.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct HoldDocument {
    /// The line.
    line: Option<LineWord>,
    /// The spar.
    spar: Option<u32>,
    /// Place along it.
    along_pct: Option<f64>,
}

/// Weights of sail and spars.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct WeightsDocument {
    /// Cloth by its area.
    cloth_gsm: Option<f64>,
    /// Boom.
    boom_kg: Option<f64>,
    /// Each batten.
    batten_kg: Option<f64>,
    /// Yard.
    yard_kg: Option<f64>,
}

/// What holds for the spars of all masts.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct SparsRulesDocument {
    /// How the moment on the wind is taken.
    rule: Option<RuleWord>,
    /// On the greatest righting moment.
    dynamic: Option<f64>,
    /// Its place in full statics.
    statics: Option<f64>,
    /// Force coefficient for strength.
    coefficient: Option<f64>,
    /// Gust over the mean wind.
    gust: Option<f64>,
    /// Reefs taken late.
    late_reefs: Option<u32>,
    /// Least wind for strength, gust within.
    floor_kn: Option<f64>,
    /// Most wind for strength, gust within.
    cap_kn: Option<f64>,
    /// Gybe over squared off.
    gybe: Option<f64>,
    /// Storm on the bare pole.
    storm_kn: Option<f64>,
    /// Heel for weights.
    heel_deg: Option<f64>,
    /// Mast: factor on proof stress.
    mast_alloy: Option<f64>,
    /// Mast: factor on clear timber.
    mast_clear: Option<f64>,
    /// Mast: factor on a strength class.
    mast_class: Option<f64>,
    /// Mast: factor on a laminate.
    mast_laminate: Option<f64>,
    /// Other spars: factor on proof stress.
    spar_alloy: Option<f64>,
    /// Other spars: factor on clear timber.
    spar_clear: Option<f64>,
    /// Other spars: factor on a strength class.
    spar_class: Option<f64>,
    /// Other spars: factor on a laminate.
    spar_laminate: Option<f64>,
    /// Bend of the mast at the truck, share of the mast above partners.
    mast_bend_pct: Option<f64>,
    /// Bend of other spars, share of the chord.
    spar_bend_pct: Option<f64>,
    /// Pull in the cloth by its width over its stretch, kN/m.
    cloth_stiffness: Option<f64>,
    /// Saw cut.
    kerf_m: Option<f64>,
    /// Materials of the user's own; the first is the word `own-1`.
    #[schemars(length(max = 4))]
    materials: Option<Vec<MaterialDocument>>,
    /// Tubes and timber that can be bought.
    #[schemars(length(max = 64))]
    stock: Option<Vec<StockDocument>>,
}

/// A material of the user's own.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct MaterialDocument {
    /// What it is called.
    name: Option<String>,
    /// How its strength is told.
    kind: Option<StrengthWord>,
    /// Density, kg/m³.
    density: Option<f64>,
    /// Young's modulus along the spar, GPa.
    stiffness: Option<f64>,
    /// In bending, MPa.
    strength: Option<f64>,
    /// In compression, MPa.
    compression: Option<f64>,
    /// In shear, MPa.
    shear: Option<f64>,
    /// Across the spar, MPa.
    bearing: Option<f64>,
}

/// What can be bought.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct StockDocument {
    /// Tube or timber.
    form: Option<FormWord>,
    /// Of what.
    material: Option<MaterialWord>,
    /// Outside diameter, or side.
    diameter_m: Option<f64>,
    /// Wall; empty: solid.
    wall_m: Option<f64>,
    /// Length of one.
    length_m: Option<f64>,
    /// Price of one, in any money.
    price: Option<f64>,
}

/// What mast and spars are made of.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct MadeDocument {
    /// How the mast is made.
    mast_kind: Option<PoleWord>,
    /// Its material.
    mast_material: Option<MaterialWord>,
    /// Its wall.
    mast_wall_m: Option<f64>,
    /// Diameter at the heel of a timber mast, share of that at the partners.
    mast_heel_pct: Option<f64>,
    /// Staves of a hollow mast.
    mast_staves: Option<u32>,
    /// Where the alloy ends, above the partners.
    sleeve_m: Option<f64>,
    /// Timber within the alloy, share of the diameter.
    overlap_pct: Option<f64>,
    /// Timber above the alloy.
    upper_material: Option<TimberWord>,
    /// Height of partners and wedges.
    wedge_height_m: Option<f64>,
    /// Thickness of the wedges.
    wedge_thickness_m: Option<f64>,
    /// Fittings at the masthead.
    head_kg: Option<f64>,
    /// Halyard and lifts off the mast axis.
    fitting_m: Option<f64>,
    /// How the battens are made.
    battens_kind: Option<BeamWord>,
    /// Material of the battens.
    battens_material: Option<MaterialWord>,
    /// Wall of the battens.
    battens_wall_m: Option<f64>,
    /// How the boom is made.
    boom_kind: Option<BeamWord>,
    /// Material of the boom.
    boom_material: Option<MaterialWord>,
    /// Wall of the boom.
    boom_wall_m: Option<f64>,
    /// How the yard is made.
    yard_kind: Option<BeamWord>,
    /// Material of the yard.
    yard_material: Option<MaterialWord>,
    /// Wall of the yard.
    yard_wall_m: Option<f64>,
    /// Hinge above the partners.
    hinge_m: Option<f64>,
    /// Raising line on the mast, above the partners.
    raise_at_m: Option<f64>,
    /// Gin pole; nought: none.
    gin_m: Option<f64>,
    /// Tackle from the hinge.
    raise_x_m: Option<f64>,
    /// Tackle above the hinge.
    raise_z_m: Option<f64>,
    /// Parts of the tackle.
    raise_parts: Option<u32>,
    /// Pieces of the mast, from the heel.
    #[schemars(length(max = 8))]
    pieces: Option<Vec<PieceDocument>>,
    /// Plies of laminate tubes, from outside.
    #[schemars(length(max = 24))]
    plies: Option<Vec<PlyDocument>>,
    /// Places weaker than the spar around them.
    #[schemars(length(max = 16))]
    weak: Option<Vec<WeakDocument>>,
    /// Spars with a wall or material of their own.
    #[schemars(length(max = 16))]
    special: Option<Vec<SpecialDocument>>,
}

/// A piece of the mast.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct PieceDocument {
    /// Its length.
    length_m: Option<f64>,
    /// Outside diameter at its lower end.
    diameter_m: Option<f64>,
    /// Outside diameter at its upper end.
    top_diameter_m: Option<f64>,
    /// Wall; empty: solid.
    wall_m: Option<f64>,
    /// Its material.
    material: Option<MaterialWord>,
}

/// A ply of a laminate tube.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct PlyDocument {
    /// Of mast or battens.
    spar: Option<LaidWord>,
    /// Its fibres.
    ply: Option<PlyWord>,
    /// Fibres off the axis.
    angle_deg: Option<f64>,
    /// Thickness, of a pair both together.
    thickness_m: Option<f64>,
}

/// A place weaker than the spar around it.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct WeakDocument {
    /// The spar.
    spar: Option<OfWord>,
    /// Above the partners, or from the luff end.
    height_m: Option<f64>,
    /// What it is.
    what: Option<WeakWord>,
    /// Share of the strength left.
    left_pct: Option<f64>,
    /// Diameter of a hole.
    hole_m: Option<f64>,
}

/// A spar with a wall or material of its own.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct SpecialDocument {
    /// Boom 0, batten 1 the lowest, the yard last.
    spar: Option<u32>,
    /// Its wall.
    wall_m: Option<f64>,
    /// Its material.
    material: Option<MaterialWord>,
}

/// What holds for the cloth of all sails.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct ClothRulesDocument {
    /// Depth of a barrel over its width that is told.
    barrel_depth_pct: Option<f64>,
    /// Overlap of panel on panel at a batten.
    batten_seam_m: Option<f64>,
    /// Lacing eyes along boom and yard, one every.
    eye_pitch_m: Option<f64>,
    /// Gather that is told.
    gather_pct: Option<f64>,
    /// Hem at boom and yard.
    hem_m: Option<f64>,
    /// Parts of the chord that offsets go into.
    offsets: Option<u32>,
    /// Layers of a corner patch.
    patch_layers: Option<u32>,
    /// Size of a corner patch, share of the shorter edge.
    patch_pct: Option<f64>,
    /// What a layer may carry, kN/m.
    patch_strength: Option<f64>,
    /// Ease of a pocket on the batten's girth.
    pocket_ease_pct: Option<f64>,
    /// Pocket past luff and leech.
    pocket_end_m: Option<f64>,
    /// How battens are held.
    pockets: Option<PocketsWord>,
    /// Width of the roll.
    roll_m: Option<f64>,
    /// Overlap of a seam.
    seam_m: Option<f64>,
    /// Strain that is told.
    strain_pct: Option<f64>,
    /// Tabling of luff, leech and slot.
    tabling_m: Option<f64>,
    /// Thread to a length of seam.
    thread: Option<f64>,
    /// Way of the warp.
    warp: Option<WarpWord>,
    /// Mass of 100 m of webbing.
    webbing_kg: Option<f64>,
}

/// How the cloth of a sail is shaped.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct ClothDocument {
    /// What is done about a barrel's longer middle.
    barrel: Option<BarrelWord>,
    /// How camber is cut.
    camber_cut: Option<CamberCutWord>,
    /// Camber of the lower panels.
    camber_pct: Option<f64>,
    /// Camber of the fore part over that of the after part.
    fore_times: Option<f64>,
    /// Camber of the top panel.
    head_camber_pct: Option<f64>,
    /// Place of the camber in the top panel.
    head_place_pct: Option<f64>,
    /// Join of the wing from the luff.
    join_pct: Option<f64>,
    /// How camber is spread along the chord.
    line: Option<MeanLineWord>,
    /// Place of greatest camber from the luff.
    place_pct: Option<f64>,
    /// Room at the mast each side.
    room_m: Option<f64>,
    /// Shelves from the square to the sail.
    shelf_deg: Option<f64>,
    /// Slot at the mast.
    slot_pct: Option<f64>,
    /// Thickness of the wing.
    thickness_pct: Option<f64>,
    /// Fore part turned in from the boom.
    turn_deg: Option<f64>,
    /// Own ordinates of the mean line, luff to leech.
    #[schemars(length(max = 40))]
    ordinates: Option<Vec<OrdinateDocument>>,
    /// Panels shaped one by one.
    #[schemars(length(max = 12))]
    shapes: Option<Vec<ShapeDocument>>,
}

/// An ordinate of a mean line.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct OrdinateDocument {
    /// From the luff.
    along_pct: Option<f64>,
    /// Off the chord, in any measure.
    off_pct: Option<f64>,
}

/// A panel shaped by itself.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "read by the schema generator alone")]
struct ShapeDocument {
    /// Camber of this panel.
    camber_pct: Option<f64>,
    /// The panel, 1 the lowest.
    panel: Option<u32>,
    /// Place of its greatest camber.
    place_pct: Option<f64>,
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident: $($word:ident),*) => {
        $(#[$doc])*
        #[derive(JsonSchema)]
        #[schemars(rename_all = "kebab-case")]
        #[allow(dead_code, reason = "read by the schema generator alone")]
        enum $name { $($word),* }
    };
}

words! {
    /// What a step draws.
    DrawingWord: Profile, Above, Sections, Stern, Travel
}

words! {
    /// A part named on the drawing.
    PartWord: Sail, Yard, Battens, Boom, Panel, HeadPanels, Luff, Leech, Head, Foot, Peak, Throat, Clew, Tack, Sling, Bundle, Mast,
        Masthead, Partners, Step, Halyard, Sheet, Span, DeckBlock, Lifts, BattenParrel, YardParrel, LuffParrel, ThroatParrel, TackLine,
        Downhaul, Balance, Chord, Attached, Ce, Clr, Lead, Waterline
}

words! {
    /// A line in hand.
    LessonLineWord: Halyard, Sheet, SecondSheet, Lifts, Yard, Luff, Throat, Tack, Down, Restraint
}

words! {
    /// All sails in the reef order, or that of one mast alone.
    LessonSailWord: All, First, Second, Third
}

words! {
    /// Before or after the halyard.
    StageWord: Before, After
}

words! {
    /// Whether a number is told: at once, or once it is asked for.
    ToldWord: None, Shown, Asked
}

words! {
    /// Kind of keel.
    KeelWord: Fin, Long, Open
}
words! {
    /// How the spars of a sail are found.
    FamilyWord: FannedHead, FullFan, LowYard, Table
}
words! {
    /// Side of the mast.
    SideWord: Port, Starboard
}
words! {
    /// Construction of the cloth.
    CutWord: Flat, Cambered, Wing, Split, Paired
}

words! {
    /// Water she floats in.
    WaterWord: Sea, Fresh
}
words! {
    /// Where the stability comes from.
    StabilityWord: Form, Test, Table
}
words! {
    /// Loading worked with.
    LoadingWord: Light, Sailing, Laden
}
words! {
    /// How the CLR is found.
    ClrWord: Profile, Keel
}

words! {
    /// What a rope is made of.
    RopeWord: Polyester, Polyamide, Polypropylene, Braid, Hmpe
}
words! {
    /// Whether there is a halyard.
    HalyardWord: Running, None
}
words! {
    /// How a line is rigged.
    UseWord: Running, Standing, None
}
words! {
    /// How parrels are rigged.
    ParrelsWord: Short, Long, None
}
words! {
    /// How the sheets are arranged.
    SystemWord: Single, Divided, Pair, None
}
words! {
    /// A line that holds spars.
    LineWord: Yard, Luff, Throat, Tack, Restraint, Down
}

words! {
    /// How the moment on the wind is taken.
    RuleWord: A, B
}
words! {
    /// How the strength of a material is told.
    StrengthWord: Alloy, Clear, Class, Laminate
}
words! {
    /// What can be bought.
    FormWord: Tube, Timber
}
words! {
    /// How a mast is made.
    PoleWord: Tube, Pieces, Solid, Hollow, Sleeved, Laminate
}
words! {
    /// How another spar is made.
    BeamWord: Tube, Solid, Laminate
}
words! {
    /// A spar laid up of plies.
    LaidWord: Mast, Battens
}
words! {
    /// A spar.
    OfWord: Mast, Boom, Battens, Yard
}
words! {
    /// What makes a place weak.
    WeakWord: Weld, Hole, Tabernacle, Joint
}

words! {
    /// How battens are held.
    PocketsWord: Strips, Hems
}
words! {
    /// Way of the warp.
    WarpWord: Fitting, Battens, Leech
}
words! {
    /// What is done about a barrel's longer middle.
    BarrelWord: Added, Hollow
}
words! {
    /// How camber is cut.
    CamberCutWord: Barrel, Shelf
}
words! {
    /// How camber is spread along the chord.
    MeanLineWord: FourDigit, Parabola, Own
}

/// Words that are no names of a type: those of a list of the bounds.
macro_rules! listed {
    ($(#[$doc:meta])* $name:ident: $words:expr) => {
        $(#[$doc])*
        struct $name;

        impl JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({ "type": "string", "enum": $words })
            }
        }
    };
}

listed! {
    /// What a spar is made of.
    MaterialWord: bounds::MATERIALS
}
listed! {
    /// What stands above the alloy.
    TimberWord: bounds::TIMBERS
}
listed! {
    /// Fibres of a ply.
    PlyWord: bounds::PLIES
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    /// Pattern path to type words of every leaf.
    fn leaves() -> BTreeMap<String, Value> {
        let mut found = BTreeMap::new();
        visit_leaves(&mut schema(), &mut |path, leaf| {
            found.insert(path.to_owned(), leaf.clone());
        });
        found.remove("format");
        found.remove("version");
        found
    }

    #[test]
    fn types_and_bounds_rows_name_the_same_leaves() {
        let types: Vec<String> = leaves().into_keys().collect();
        let mut rows: Vec<&str> = bounds::ROWS.iter().map(|row| row.path).collect();
        rows.sort_unstable();
        assert_eq!(types, rows);
    }

    #[test]
    fn each_leaf_is_of_the_kind_of_its_row_and_within_its_hard_limits() {
        for (path, leaf) in leaves() {
            let row = bounds::row(&path).unwrap();
            let kind = leaf["type"].to_string();
            match row.kind {
                Kind::Number => assert!(kind.contains("number"), "{path} {leaf}"),
                Kind::Whole => assert!(kind.contains("integer"), "{path} {leaf}"),
                Kind::Words => assert!(kind.contains("string"), "{path} {leaf}"),
                Kind::Flag => assert!(kind.contains("boolean"), "{path} {leaf}"),
                Kind::Choice(words) => {
                    let listed = leaf.to_string();
                    for word in words {
                        assert!(listed.contains(&format!("\"{word}\"")), "{path} {leaf}");
                    }
                    assert_eq!(
                        listed.matches('-').count(),
                        words.join("").matches('-').count()
                    );
                }
            }
            if matches!(row.kind, Kind::Number | Kind::Whole) {
                assert_eq!(leaf["minimum"].as_f64(), Some(row.hard_least), "{path}");
                assert_eq!(leaf["maximum"].as_f64(), Some(row.hard_most), "{path}");
            }
        }
    }
}
