//! The table of quantities: one row for each number (or word) a user sees.

use crate::problem::Basis;
use crate::units::{self, UnitKind, Units};

/// Name, symbol and spelling of one quantity. Statics only: compared by key.
#[derive(Debug)]
pub struct Quantity {
    /// Catalogue key of its label: `label.` and its short name, unique in the table.
    pub label: &'static str,
    /// The trade's symbol; empty where there is none.
    pub symbol: &'static str,
    /// Kind of unit.
    pub kind: UnitKind,
    /// Decimals shown in metric units (of mm for [`UnitKind::Fine`]).
    pub decimals: u8,
    /// What the number, or its usual value, rests on.
    pub basis: Basis,
}

impl PartialEq for Quantity {
    fn eq(&self, other: &Quantity) -> bool {
        self.label == other.label
    }
}

impl Eq for Quantity {}

/// A quantity is written as its key.
#[cfg(feature = "serde")]
impl serde::Serialize for Quantity {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.key())
    }
}

impl Quantity {
    /// Short name.
    pub fn key(&self) -> &'static str {
        self.label.get("label.".len()..).unwrap_or("")
    }

    /// Catalogue key of its help: meaning, equation, basis.
    pub fn help(&self) -> String {
        ["help.", self.key()].concat()
    }

    /// Spelled number alone; `value` in document units.
    pub fn spell(&self, value: f64, units: Units) -> String {
        units::spell(self.kind, self.decimals, value, units)
    }

    /// Unit that follows the spelled number, empty if none.
    pub const fn unit(&self, units: Units) -> &'static str {
        units::label(self.kind, units)
    }

    /// Number and unit, as in a sentence; `value` in document units.
    pub fn say(&self, value: f64, units: Units) -> String {
        with_unit(self.spell(value, units), self.unit(units))
    }

    /// Number and unit with every digit that was given, up to three more than usual.
    pub fn say_given(&self, value: f64, units: Units) -> String {
        let number = units::spell_given(self.kind, self.decimals, self.decimals + 3, value, units);
        with_unit(number, self.unit(units))
    }

    /// From SI (radians, shares of one) to this quantity's document unit.
    pub fn document_from_si(&self, si: f64) -> f64 {
        units::document_from_si(self.kind, si)
    }

    /// From this quantity's document unit to SI (radians, shares of one).
    pub fn si_from_document(&self, value: f64) -> f64 {
        units::si_from_document(self.kind, value)
    }
}

fn with_unit(number: String, unit: &str) -> String {
    // Nor must inches from their feet.
    let mut number = number.replace(' ', "\u{a0}");
    if !unit.is_empty() {
        // The trade writes 8° and 10% close up; other units must not break from their number.
        if !matches!(unit, "°" | "%") {
            number.push('\u{a0}');
        }
        number.push_str(unit);
    }
    number
}

/// The quantity of a key.
pub fn quantity(key: &str) -> Option<&'static Quantity> {
    ALL.iter().find(|quantity| quantity.key() == key).copied()
}

macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident $key:literal $symbol:literal $kind:ident $decimals:literal $basis:ident $(($source:literal))?;)*) => {
        $(
            $(#[$doc])*
            pub static $name: Quantity = Quantity {
                label: concat!("label.", $key),
                symbol: $symbol,
                kind: UnitKind::$kind,
                decimals: $decimals,
                basis: Basis::$basis $(($source))?,
            };
        )*
        /// Every quantity, inputs first.
        pub static ALL: &[&Quantity] = &[$(&$name),*];
    };
}

quantities! {
    // Inputs: the project.
    /// Name of the project or of a mast.
    NAME "name" "" Count 0 CommonPractice;
    /// Notes to the project.
    NOTE "note" "" Count 0 CommonPractice;

    // Inputs: lessons.
    /// Title of a lesson or of a step.
    LESSON_TITLE "lesson_title" "" Count 0 CommonPractice;
    /// Words of a step.
    LESSON_WORDS "lesson_words" "" Count 0 CommonPractice;
    /// What a step draws.
    LESSON_DRAWING "lesson_drawing" "" Count 0 CommonPractice;
    /// Part named on the drawing.
    LESSON_PART "lesson_part" "" Count 0 CommonPractice;
    /// Line in hand.
    LESSON_LINE "lesson_line" "" Count 0 CommonPractice;
    /// Step of the reef order that stands or is gone to.
    LESSON_REEF "lesson_reef" "" Count 0 CommonPractice;
    /// Step of the reef order it is gone from.
    LESSON_FROM "lesson_from" "" Count 0 CommonPractice;
    /// Sail whose panels a reef counts, or all in their order.
    LESSON_SAIL "lesson_sail" "" Count 0 CommonPractice;
    /// Before or after the halyard.
    LESSON_STAGE "lesson_stage" "" Count 0 CommonPractice;
    /// Mast that is looked at.
    LESSON_MAST "lesson_mast" "" Count 0 CommonPractice;
    /// Reef advice on the wind and running.
    LESSON_ADVICE "lesson_advice" "" Count 0 CommonPractice;
    /// Centre of effort, aft and up.
    LESSON_CENTRE "lesson_centre" "" Count 0 CommonPractice;

    // Inputs: the boat.
    /// Length over all.
    LOA "loa" "LOA" Length 2 CommonPractice;
    /// Length of the waterline.
    LWL "lwl" "LWL" Length 2 CommonPractice;
    /// Greatest beam.
    BEAM "beam" "" Length 2 CommonPractice;
    /// Draught of hull and keel.
    DRAUGHT "draught" "" Length 2 CommonPractice;
    /// How far the stem head lies ahead of the waterline.
    BOW_OVERHANG "bow_overhang" "" Length 2 CommonPractice;
    /// Deck at the bow above the waterline.
    FREEBOARD_BOW "freeboard_bow" "" Length 2 CommonPractice;
    /// Deck amidships above the waterline.
    FREEBOARD_MID "freeboard_mid" "" Length 2 CommonPractice;
    /// Deck at the stern above the waterline.
    FREEBOARD_STERN "freeboard_stern" "" Length 2 CommonPractice;
    /// Kind of keel.
    KEEL "keel" "" Count 0 CommonPractice;
    /// Fore end of the coachroof, aft from the forward end of the waterline.
    COACHROOF_FROM "coachroof_from" "" Length 2 CommonPractice;
    /// After end of the coachroof.
    COACHROOF_TO "coachroof_to" "" Length 2 CommonPractice;
    /// Height of the coachroof above the deck.
    COACHROOF_HEIGHT "coachroof_height" "" Length 2 CommonPractice;
    /// Room wanted between boom and coachroof.
    COACHROOF_CLEARANCE "coachroof_clearance" "" Length 2 CommonPractice;
    /// Fore end of the cockpit.
    COCKPIT_FROM "cockpit_from" "" Length 2 CommonPractice;
    /// After end of the cockpit.
    COCKPIT_TO "cockpit_to" "" Length 2 CommonPractice;
    /// Cockpit seat above the waterline.
    COCKPIT_SEAT "cockpit_seat" "" Length 2 CommonPractice;
    /// Room wanted between cockpit seat and boom.
    COCKPIT_CLEARANCE "cockpit_clearance" "" Length 2 CommonPractice;
    /// The helmsman's eye above the cockpit seat.
    EYE_HEIGHT "eye_height" "" Length 2 CommonPractice;
    /// Greatest height above the water that bridges allow.
    AIR_DRAUGHT_LIMIT "air_draught_limit" "" Length 2 CommonPractice;
    /// Room wanted between water and boom end, squared off.
    BOOM_END_CLEARANCE "boom_end_clearance" "" Length 2 CommonPractice;

    // Inputs: the mast.
    /// Mast axis at the partners, aft from the forward end of the waterline.
    MAST_POSITION "mast_position" "" Length 2 CommonPractice;
    /// Partners above the waterline.
    PARTNERS "partners" "" Length 2 Derived;
    /// Heel to partners.
    BURY "bury" "" Length 2 CommonPractice;
    /// Mast above the partners.
    LAP "lap" "LAP" Length 2 Derived;
    /// Mast rake, aft positive.
    MAST_RAKE "mast_rake" "" Angle 1 CommonPractice;
    /// Mast diameter at the partners.
    MAST_DIAMETER "mast_diameter" "D" Fine 0 CommonPractice;
    /// Mast diameter at the top.
    MAST_TOP_DIAMETER "mast_top_diameter" "" Fine 0 CommonPractice;
    /// Parallel part of the mast above the partners, share of LAP.
    MAST_PARALLEL "mast_parallel" "" Percent 0 CommonPractice;

    // Inputs: the sail plan.
    /// Plan family.
    FAMILY "family" "" Count 0 CommonPractice;
    /// Number of panels.
    PANELS "panels" "N" Count 0 CommonPractice;
    /// Panels in the head.
    HEAD_PANELS "head_panels" "" Count 0 CommonPractice;
    /// Length of boom and lower battens.
    CHORD "chord" "B" Length 2 CommonPractice;
    /// Luff width of a lower panel.
    PANEL_WIDTH "panel_width" "P" Length 2 CommonPractice;
    /// Luff width of a head panel, share of a lower panel's.
    HEAD_WIDTH "head_width" "" Percent 0 CommonPractice;
    /// Step of the spar angle in the head, relative to the other steps.
    HEAD_STEP "head_step" "" Ratio 1 CommonPractice;
    /// Batten rise.
    RISE "rise" "" Angle 1 CommonPractice;
    /// Rise of the boom.
    BOOM_RISE "boom_rise" "" Angle 1 CommonPractice;
    /// Angle of the yard above the horizontal.
    YARD_ANGLE "yard_angle" "" Angle 1 CommonPractice;
    /// Length of the yard, share of the chord.
    YARD_LENGTH "yard_length" "" Percent 0 CommonPractice;
    /// Lean of the luff against the mast, aft positive.
    LUFF_RAKE "luff_rake" "" Angle 1 CommonPractice;
    /// Round of the luff, share of each panel's luff.
    LUFF_ROUND "luff_round" "" Percent 1 CommonPractice;
    /// Round of the leech, share of each panel's leech.
    LEECH_ROUND "leech_round" "" Percent 1 CommonPractice;
    /// Chord ahead of the mast, set for the lower battens.
    BALANCE "balance" "" Percent 1 CommonPractice;
    /// Boom above the partners where it crosses the mast.
    BOOM_HEIGHT "boom_height" "" Length 2 CommonPractice;
    /// Sling point along the yard from the throat.
    SLING_POINT "sling_point" "" Percent 0 CommonPractice;
    /// Side of the mast on which the sail hangs.
    SIDE "side" "" Count 0 CommonPractice;
    /// Sail plane from the mast axis.
    OFFSET "offset" "e" Fine 0 Derived;
    /// Construction of the cloth.
    CUT "cut" "" Count 0 CommonPractice;
    /// Place of the wind's force along the chord.
    CHORD_SHARE "chord_share" "" Percent 0 CommonPractice;
    /// Depth of a batten.
    BATTEN_DEPTH "batten_depth" "" Fine 0 CommonPractice;
    /// Depth of the boom.
    BOOM_DEPTH "boom_depth" "" Fine 0 CommonPractice;
    /// Depth of the yard.
    YARD_DEPTH "yard_depth" "" Fine 0 CommonPractice;
    /// Folded cloth added in the bundle per batten.
    FOLDED_CLOTH "folded_cloth" "" Fine 0 CommonPractice;
    /// Drop of the boom onto the lifts at first ease.
    DROP "drop" "" Fine 0 CommonPractice;
    /// Fore-and-aft travel wanted along the battens, share of the chord.
    TRAVEL "travel" "" Percent 1 CommonPractice;
    /// Halyard left block to block at full hoist.
    DRIFT "drift" "" Length 2 CommonPractice;
    /// Room wanted between yard and masthead.
    MASTHEAD_CLEARANCE "masthead_clearance" "" Fine 0 CommonPractice;
    /// Kink of the leech at a batten end above which to warn.
    LEECH_KINK_LIMIT "leech_kink_limit" "" Angle 1 CommonPractice;
    /// Halyard angle off the mast above which to warn.
    HALYARD_ANGLE_LIMIT "halyard_angle_limit" "" Angle 1 CommonPractice;
    /// Keep the chord when an area is set.
    HOLD_CHORD "hold_chord" "" Count 0 CommonPractice;
    /// Keep the luff when an area is set.
    HOLD_LUFF "hold_luff" "" Count 0 CommonPractice;
    /// Keep the mast when an area is set.
    HOLD_MAST "hold_mast" "" Count 0 CommonPractice;
    /// Furthest the boom is eased.
    SQUARED_OFF "squared_off" "" Angle 0 CommonPractice;
    /// Luff end of a spar, aft of the tack.
    SPAR_AFT "spar_aft" "" Length 2 CommonPractice;
    /// Luff end of a spar, above the tack.
    SPAR_UP "spar_up" "" Length 2 CommonPractice;
    /// Angle of a spar above the horizontal.
    SPAR_ANGLE "spar_angle" "" Angle 1 CommonPractice;
    /// Length of a spar, luff to leech.
    SPAR_LENGTH "spar_length" "" Length 2 CommonPractice;
    /// Panels lowered.
    PANELS_LOWERED "panels_lowered" "" Count 0 CommonPractice;

    // Inputs: what she weighs, what rights her, and the wind.
    /// Mass in sailing trim.
    DISPLACEMENT "displacement" "" Mass 0 CommonPractice;
    /// Fixed ballast.
    BALLAST "ballast" "" Mass 0 CommonPractice;
    /// Beam of the waterline.
    BWL "bwl" "" Length 2 CommonPractice;
    /// Draught of the canoe body.
    CANOE_DRAUGHT "canoe_draught" "" Length 2 CommonPractice;
    /// Sea or fresh water.
    WATER "water" "" Count 0 CommonPractice;
    /// Waterplane coefficient.
    WATERPLANE "waterplane" "" Percent 0 CommonPractice;
    /// Second moment of the waterplane.
    INERTIA "inertia" "" Percent 1 CommonPractice;
    /// Height of the centre of gravity.
    KG_SHARE "kg_share" "" Percent 0 CommonPractice;
    /// Where the stability comes from.
    STABILITY "stability" "" Count 0 CommonPractice;
    /// Length of the pendulum.
    PENDULUM "pendulum" "" Length 2 CommonPractice;
    /// Weight moved in the test.
    TEST_WEIGHT "test_weight" "" Mass 0 CommonPractice;
    /// Arm of the weight.
    TEST_ARM "test_arm" "" Length 2 CommonPractice;
    /// Deflection of the pendulum.
    DEFLECTION "deflection" "" Fine 0 CommonPractice;
    /// Time of one whole roll.
    ROLL_PERIOD "roll_period" "" Time 1 CommonPractice;
    /// Radius of gyration over beam.
    GYRATION "gyration" "" Percent 0 CommonPractice;
    /// Heel of a row of the table.
    TABLE_HEEL "table_heel" "" Angle 0 CommonPractice;
    /// Righting lever of a row.
    TABLE_GZ "table_gz" "" Length 3 CommonPractice;
    /// Loading worked with.
    LOADING "loading" "" Count 0 CommonPractice;
    /// Displacement, light.
    LIGHT "light" "" Mass 0 CommonPractice;
    /// Displacement, laden.
    LADEN "laden" "" Mass 0 CommonPractice;
    /// Height of stores.
    STORES_HEIGHT "stores_height" "" Length 2 CommonPractice;
    /// Crew sitting to weather.
    CREW_WEATHER "crew_weather" "" Count 0 CommonPractice;
    /// Mass of each of the crew.
    CREW_MASS "crew_mass" "" Mass 0 Published("ISO 12217");
    /// Arm of the crew over beam.
    CREW_ARM "crew_arm" "" Percent 0 CommonPractice;
    /// Factor of the greatest moment.
    GREATEST_FACTOR "greatest_factor" "" Ratio 1 CommonPractice;
    /// Mass of a part of the rig.
    PART_MASS "part_mass" "" Mass 1 CommonPractice;
    /// Part of the rig, place aft.
    PART_X "part_x" "" Length 2 CommonPractice;
    /// Part of the rig, height.
    PART_Z "part_z" "" Length 2 CommonPractice;
    /// Band of the displacement.
    DISPLACEMENT_BAND "displacement_band" "" Percent 0 CommonPractice;
    /// Band of the estimate.
    GM_BAND "gm_band" "" Percent 0 CommonPractice;
    /// Method of the CLR.
    CLR_METHOD "clr_method" "" Count 0 CommonPractice;
    /// Point of an outline, aft.
    POINT_X "point_x" "" Length 2 CommonPractice;
    /// Point of an outline, up.
    POINT_Z "point_z" "" Length 2 CommonPractice;
    /// Leading edge at the root.
    FIN_ROOT_FROM "fin_root_from" "" Length 2 CommonPractice;
    /// Trailing edge at the root.
    FIN_ROOT_TO "fin_root_to" "" Length 2 CommonPractice;
    /// Leading edge at the tip.
    FIN_TIP_FROM "fin_tip_from" "" Length 2 CommonPractice;
    /// Trailing edge at the tip.
    FIN_TIP_TO "fin_tip_to" "" Length 2 CommonPractice;
    /// Foremost place of the mast.
    MAST_FROM "mast_from" "" Length 2 CommonPractice;
    /// Aftermost place of the mast.
    MAST_TO "mast_to" "" Length 2 CommonPractice;
    /// Coefficient of the heeling force.
    SIDE_FORCE "side_force" "" Ratio 2 CommonPractice;
    /// Place of the attached force.
    ATTACHED "attached" "" Percent 0 CommonPractice;
    /// Weight of a sail in the lead.
    EFFICIENCY "efficiency" "" Percent 0 CommonPractice;
    /// Boat speed.
    BOAT_SPEED "boat_speed" "" Speed 1 CommonPractice;
    /// True wind angle.
    WIND_ANGLE "wind_angle" "" Angle 0 CommonPractice;
    /// Exponent of the gradient.
    GRADIENT "gradient" "" Percent 1 Published("46 CFR 28.575");
    /// Heel at which to reef.
    COMFORT_HEEL "comfort_heel" "" Angle 0 CommonPractice;
    /// Exponent of the heeling moment.
    HEEL_EXPONENT "heel_exponent" "" Ratio 1 Published("MCA Passenger Yacht Code, 14.6");
    /// Coefficient before the wind.
    RUNNING_FORCE "running_force" "" Ratio 2 CommonPractice;
    /// Windage of the hull.
    HULL_DRAG "hull_drag" "" Ratio 2 Published("MCA Passenger Yacht Code, 14.6");
    /// Windage of the bundle.
    BUNDLE_DRAG "bundle_drag" "" Ratio 2 CommonPractice;
    /// Windage of the mast.
    MAST_DRAG "mast_drag" "" Ratio 2 CommonPractice;
    /// Margin against overbalance.
    OVERBALANCE_MARGIN "overbalance_margin" "" Percent 0 CommonPractice;
    /// Tolerance of the shift.
    SHIFT_LIMIT "shift_limit" "" Percent 1 CommonPractice;

    // Inputs: the lines.
    /// Sheeting angle on the wind.
    CLOSE_ANGLE "close_angle" "" Angle 0 CommonPractice;
    /// Share of the pull lost in a sheave.
    SHEAVE_LOSS "sheave_loss" "" Percent 0 CommonPractice;
    /// Friction of a parrel on the mast.
    PARREL_FRICTION "parrel_friction" "µ" Ratio 2 CommonPractice;
    /// Strength left at a knot.
    KNOT_STRENGTH "knot_strength" "" Percent 0 CommonPractice;
    /// Factor on strength, running lines.
    FACTOR_RUNNING "factor_running" "" Ratio 1 CommonPractice;
    /// Factor on strength, lifts and parrels.
    FACTOR_FIXED "factor_fixed" "" Ratio 1 CommonPractice;
    /// Factor on strength, halyard.
    FACTOR_HALYARD "factor_halyard" "" Ratio 1 CommonPractice;
    /// Dynamic factor on the lifts.
    LIFT_DYNAMIC "lift_dynamic" "" Ratio 1 CommonPractice;
    /// Steady pull by hand.
    HAND_LIMIT "hand_limit" "" Force 0 CommonPractice;
    /// Least rope a hand can hold.
    HAND_ROPE "hand_rope" "" Fine 0 CommonPractice;
    /// Least distance block to block.
    BLOCK_TO_BLOCK "block_to_block" "" Fine 0 CommonPractice;
    /// Stretch of the sheet.
    SHEET_STRETCH "sheet_stretch" "" Percent 1 CommonPractice;
    /// Wet over dry cloth.
    WET "wet" "" Ratio 1 CommonPractice;
    /// Lifeline above the deck.
    LIFELINE "lifeline" "" Length 2 CommonPractice;
    /// Tail of the halyard.
    TAIL_HALYARD "tail_halyard" "" Length 1 CommonPractice;
    /// Tail of a sheet.
    TAIL_SHEET "tail_sheet" "" Length 1 CommonPractice;
    /// Tail of a hauling line.
    TAIL_HAULING "tail_hauling" "" Length 1 CommonPractice;
    /// Rope in the knots of fixed lines.
    TAIL_FIXED "tail_fixed" "" Length 1 CommonPractice;
    /// Rope of the halyard.
    HALYARD_ROPE "halyard_rope" "" Count 0 CommonPractice;
    /// Rope of sheets and spans.
    SHEET_ROPE "sheet_rope" "" Count 0 CommonPractice;
    /// Rope of the lifts.
    LIFT_ROPE "lift_rope" "" Count 0 CommonPractice;
    /// Rope of parrels and hauling lines.
    PARREL_ROPE "parrel_rope" "" Count 0 CommonPractice;
    /// How a line is rigged.
    LINE_USE "line_use" "" Count 0 CommonPractice;
    /// Parts of a tackle.
    LINE_PARTS "line_parts" "" Count 0 CommonPractice;
    /// Lead at the deck, aft.
    LEAD_X "lead_x" "" Length 2 CommonPractice;
    /// Lead at the deck, to starboard.
    LEAD_Y "lead_y" "" Length 2 CommonPractice;
    /// Lead at the deck, up.
    LEAD_Z "lead_z" "" Length 2 CommonPractice;
    /// Cleat, aft.
    CLEAT_X "cleat_x" "" Length 2 CommonPractice;
    /// Cleat, to starboard.
    CLEAT_Y "cleat_y" "" Length 2 CommonPractice;
    /// Cleat, up.
    CLEAT_Z "cleat_z" "" Length 2 CommonPractice;
    /// Deck block of a sheet, aft.
    BLOCK_X "block_x" "" Length 2 CommonPractice;
    /// Deck block of a sheet, to starboard.
    BLOCK_Y "block_y" "" Length 2 CommonPractice;
    /// Deck block of a sheet, up.
    BLOCK_Z "block_z" "" Length 2 CommonPractice;
    /// How the sheets are arranged.
    SHEET_SYSTEM "sheet_system" "" Count 0 CommonPractice;
    /// Batten ends a span gathers.
    SHEET_GATHERS "sheet_gathers" "" Count 0 CommonPractice;
    /// Batten end beyond the sheet's fastening.
    SHEET_TIP "sheet_tip" "" Fine 0 CommonPractice;
    /// Sheet a span belongs to.
    SPAN_SHEET "span_sheet" "" Count 0 CommonPractice;
    /// Uppermost batten end of a span.
    SPAN_TOP "span_top" "" Count 0 CommonPractice;
    /// Batten ends of a span, downward.
    SPAN_ENDS "span_ends" "" Count 0 CommonPractice;
    /// Rope of a span.
    SPAN_LENGTH "span_length" "" Length 2 CommonPractice;
    /// Lifts at the mast, above the partners.
    LIFT_HEIGHT "lift_height" "" Length 2 CommonPractice;
    /// Catch point of the lifts along the boom.
    CATCH "catch" "" Percent 0 CommonPractice;
    /// Fore end of the parrels ahead of the mast axis.
    PARREL_AHEAD "parrel_ahead" "" Length 2 CommonPractice;
    /// After end of the parrels abaft the mast axis.
    PARREL_ABAFT "parrel_abaft" "" Length 2 CommonPractice;
    /// Line that holds.
    HOLD_LINE "hold_line" "" Count 0 CommonPractice;
    /// Spar it holds.
    HOLD_SPAR "hold_spar" "" Count 0 CommonPractice;
    /// Where along that spar.
    HOLD_ALONG "hold_along" "" Percent 0 CommonPractice;
    /// Cloth by the square metre.
    CLOTH_WEIGHT "cloth_weight" "" Cloth 0 CommonPractice;
    /// Mass of the boom.
    BOOM_MASS "boom_mass" "" Mass 1 CommonPractice;
    /// Mass of each batten.
    BATTEN_MASS "batten_mass" "" Mass 1 CommonPractice;
    /// Mass of the yard.
    YARD_MASS "yard_mass" "" Mass 1 CommonPractice;

    // Inputs: the spars.
    /// How the moment on the wind is taken.
    MAST_RULE "mast_rule" "" Count 0 CommonPractice;
    /// Dynamic factor on the righting moment.
    SPAR_DYNAMIC "spar_dynamic" "" Ratio 2 CommonPractice;
    /// Factor of full statics.
    SPAR_STATICS "spar_statics" "" Ratio 2 CommonPractice;
    /// Force coefficient for strength.
    STRENGTH_COEFFICIENT "strength_coefficient" "" Ratio 2 CommonPractice;
    /// Gust factor on speed.
    GUST "gust" "" Ratio 2 CommonPractice;
    /// States that reefing comes late.
    LATE_REEFS "late_reefs" "" Count 0 CommonPractice;
    /// Least design wind.
    WIND_FLOOR "wind_floor" "" Speed 0 CommonPractice;
    /// Greatest design wind.
    WIND_CAP "wind_cap" "" Speed 0 CommonPractice;
    /// Gybe over squared off.
    GYBE_FACTOR "gybe_factor" "" Ratio 2 CommonPractice;
    /// Storm on the bare pole.
    STORM_WIND "storm_wind" "" Speed 0 Published("WMO, Manual on Codes, table 1100");
    /// Heel for weights.
    STRENGTH_HEEL "strength_heel" "" Angle 0 CommonPractice;
    /// Factor on proof stress.
    FACTOR_ALLOY "factor_alloy" "" Ratio 2 CommonPractice;
    /// Factor on clear timber.
    FACTOR_CLEAR "factor_clear" "" Ratio 2 CommonPractice;
    /// Factor on a strength class.
    FACTOR_CLASS "factor_class" "" Ratio 2 CommonPractice;
    /// Factor on a laminate.
    FACTOR_LAMINATE "factor_laminate" "" Ratio 2 CommonPractice;
    /// Bend above which to warn.
    BEND_LIMIT "bend_limit" "" Percent 1 CommonPractice;
    // Inputs: cloth.
    /// Depth of a barrel over its width that is told.
    BARREL_DEPTH "barrel_depth" "" Percent 0 CommonPractice;
    /// Overlap of panel on panel at a batten.
    BATTEN_SEAM "batten_seam" "" Fine 0 CommonPractice;
    /// Lacing eyes along boom and yard, one every.
    EYE_PITCH "eye_pitch" "" Fine 0 CommonPractice;
    /// Gather that is told.
    GATHER "gather" "" Percent 1 CommonPractice;
    /// Hem at boom and yard.
    HEM "hem" "" Fine 0 CommonPractice;
    /// Parts of the chord that offsets go into.
    OFFSETS "offsets" "" Count 0 CommonPractice;
    /// Layers of a corner patch.
    PATCH_LAYERS "patch_layers" "" Count 0 CommonPractice;
    /// Size of a corner patch, share of the shorter edge.
    PATCH_SIZE "patch_size" "" Percent 0 CommonPractice;
    /// What a layer may carry, kN/m.
    PATCH_STRENGTH "patch_strength" "" Spring 1 CommonPractice;
    /// Ease of a pocket on the batten's girth.
    POCKET_EASE "pocket_ease" "" Percent 0 CommonPractice;
    /// Pocket past luff and leech.
    POCKET_END "pocket_end" "" Fine 0 CommonPractice;
    /// How battens are held.
    POCKETS "pockets" "" Count 0 CommonPractice;
    /// Width of the roll.
    ROLL_WIDTH "roll_width" "" Length 2 CommonPractice;
    /// Overlap of a seam.
    SEAM "seam" "" Fine 0 CommonPractice;
    /// Strain that is told.
    STRAIN "strain" "" Percent 1 CommonPractice;
    /// Tabling of luff, leech and slot.
    TABLING "tabling" "" Fine 0 CommonPractice;
    /// Thread to a length of seam.
    THREAD "thread" "" Ratio 0 CommonPractice;
    /// Way of the warp.
    WARP "warp" "" Count 0 CommonPractice;
    /// Mass of 100 m of webbing.
    WEBBING "webbing" "" Mass 1 CommonPractice;
    /// What is done about a barrel's longer middle.
    BARREL "barrel" "" Count 0 CommonPractice;
    /// How camber is cut.
    CAMBER_CUT "camber_cut" "" Count 0 CommonPractice;
    /// Camber of the lower panels.
    CAMBER "camber" "" Percent 1 CommonPractice;
    /// Camber of the fore part over that of the after part.
    FORE_CAMBER "fore_camber" "" Ratio 1 CommonPractice;
    /// Camber of the top panel.
    HEAD_CAMBER "head_camber" "" Percent 1 CommonPractice;
    /// Place of the camber in the top panel.
    HEAD_PLACE "head_place" "" Percent 0 CommonPractice;
    /// Join of the wing from the luff.
    JOIN "join" "" Percent 0 CommonPractice;
    /// How camber is spread along the chord.
    MEAN_LINE "mean_line" "" Count 0 Published("NASA TM-4741");
    /// From the luff.
    MEAN_ALONG "mean_along" "" Percent 1 CommonPractice;
    /// Off the chord, in any measure.
    MEAN_OFF "mean_off" "" Percent 1 CommonPractice;
    /// Place of greatest camber from the luff.
    CAMBER_PLACE "camber_place" "" Percent 0 CommonPractice;
    /// Room at the mast each side.
    BATTEN_ROOM "batten_room" "" Fine 0 CommonPractice;
    /// Camber of this panel.
    PANEL_CAMBER "panel_camber" "" Percent 1 CommonPractice;
    /// The panel, 1 the lowest.
    SHAPED_PANEL "shaped_panel" "" Count 0 CommonPractice;
    /// Place of its greatest camber.
    PANEL_PLACE "panel_place" "" Percent 0 CommonPractice;
    /// Shelves from the square to the sail.
    SHELF_ANGLE "shelf_angle" "" Angle 0 CommonPractice;
    /// Slot at the mast.
    SLOT "slot" "" Percent 1 CommonPractice;
    /// Thickness of the wing.
    WING_THICKNESS "wing_thickness" "" Percent 0 CommonPractice;
    /// Fore part turned in from the boom.
    FORE_TURN "fore_turn" "" Angle 0 CommonPractice;
    /// Stiffness of the cloth, E t.
    CLOTH_STIFFNESS "cloth_stiffness" "" Spring 0 CommonPractice;
    /// Kerf.
    KERF "kerf" "" Fine 1 CommonPractice;
    /// How the strength is told.
    MATERIAL_KIND "material_kind" "" Count 0 CommonPractice;
    /// Density.
    MATERIAL_DENSITY "material_density" "" Density 0 CommonPractice;
    /// Young's modulus.
    MATERIAL_STIFFNESS "material_stiffness" "" Modulus 1 CommonPractice;
    /// Strength in bending.
    MATERIAL_STRENGTH "material_strength" "" Stress 0 CommonPractice;
    /// Strength in compression.
    MATERIAL_COMPRESSION "material_compression" "" Stress 0 CommonPractice;
    /// Strength in shear.
    MATERIAL_SHEAR "material_shear" "" Stress 1 CommonPractice;
    /// Strength across the spar.
    MATERIAL_BEARING "material_bearing" "" Stress 1 CommonPractice;
    /// Material of a spar.
    MATERIAL "material" "" Count 0 CommonPractice;
    /// Form of stock.
    STOCK_FORM "stock_form" "" Count 0 CommonPractice;
    /// Diameter of a piece or of stock.
    SPAR_DIAMETER "spar_diameter" "" Fine 0 CommonPractice;
    /// Length of a piece or of stock.
    PIECE_LENGTH "piece_length" "" Length 2 CommonPractice;
    /// Price of one length.
    PRICE "price" "" Ratio 2 CommonPractice;
    /// How a spar is made.
    SPAR_KIND "spar_kind" "" Count 0 CommonPractice;
    /// Wall of a spar.
    WALL "wall" "" Fine 1 CommonPractice;
    /// Heel over partners diameter.
    MAST_HEEL "mast_heel" "" Percent 0 CommonPractice;
    /// Staves of a hollow mast.
    STAVES "staves" "" Count 0 CommonPractice;
    /// End of the alloy.
    SLEEVE "sleeve" "" Length 2 CommonPractice;
    /// Overlap of a sleeve.
    OVERLAP "overlap" "" Percent 0 CommonPractice;
    /// Timber above the alloy.
    UPPER_MATERIAL "upper_material" "" Count 0 CommonPractice;
    /// Height of the wedges.
    WEDGE_HEIGHT "wedge_height" "" Fine 0 CommonPractice;
    /// Thickness of the wedges.
    WEDGE_THICKNESS "wedge_thickness" "" Fine 0 CommonPractice;
    /// Mass of the masthead's fittings.
    HEAD_MASS "head_mass" "" Mass 1 CommonPractice;
    /// Halyard off the axis.
    FITTING_OUT "fitting_out" "" Fine 0 CommonPractice;
    /// Hinge above partners.
    HINGE "hinge" "" Length 2 CommonPractice;
    /// Raising line on the mast.
    RAISE_AT "raise_at" "" Length 2 CommonPractice;
    /// Length of the gin pole.
    GIN_POLE "gin_pole" "" Length 2 CommonPractice;
    /// Tackle from the hinge.
    RAISE_X "raise_x" "" Length 2 CommonPractice;
    /// Tackle above the hinge.
    RAISE_Z "raise_z" "" Length 2 CommonPractice;
    /// Spar a row belongs to.
    OF_SPAR "of_spar" "" Count 0 CommonPractice;
    /// Ply of a laminate.
    PLY "ply" "" Count 0 CommonPractice;
    /// Angle of a ply.
    PLY_ANGLE "ply_angle" "" Angle 0 CommonPractice;
    /// Thickness of a ply.
    PLY_THICKNESS "ply_thickness" "" Fine 2 CommonPractice;
    /// Place of a weakness.
    WEAK_AT "weak_at" "" Length 2 CommonPractice;
    /// What makes a place weak.
    WEAKNESS "weakness" "" Count 0 CommonPractice;
    /// Strength left at a weak place.
    STRENGTH_LEFT "strength_left" "" Percent 0 CommonPractice;
    /// Diameter of a hole.
    HOLE "hole" "" Fine 1 CommonPractice;
    /// Upper diameter of a piece.
    PIECE_TOP "piece_top" "" Fine 0 CommonPractice;

    // Results: the outline.
    /// Sail area, or area hoisted.
    AREA "area" "A" Area 1 Derived;
    /// Area of one panel.
    PANEL_AREA "panel_area" "" Area 2 Derived;
    /// Area of all sails together.
    TOTAL_AREA "total_area" "" Area 1 Derived;
    /// Hoisted area, share of the full sail.
    AREA_SHARE "area_share" "" Percent 0 Derived;
    /// Length of the outline.
    PERIMETER "perimeter" "" Length 2 Derived;
    /// Aspect ratio.
    ASPECT "aspect" "" Ratio 2 Derived;
    /// Second moment of area about the horizontal through the centre of area.
    SECOND_MOMENT_UP "second_moment_up" "" SecondMoment 2 Derived;
    /// Second moment of area about the upright through the centre of area.
    SECOND_MOMENT_AFT "second_moment_aft" "" SecondMoment 2 Derived;
    /// Tack to throat.
    LUFF_LENGTH "luff_length" "" Length 2 Derived;
    /// Clew to peak.
    LEECH_LENGTH "leech_length" "" Length 2 Derived;
    /// Kink of the leech at a batten end.
    LEECH_KINK "leech_kink" "" Angle 1 Derived;
    /// Leech width of a panel.
    LEECH_WIDTH "leech_width" "" Length 2 Derived;
    /// Luff width of a panel.
    LUFF_WIDTH "luff_width" "" Length 2 Derived;
    /// A diagonal of a panel.
    PANEL_DIAGONAL "panel_diagonal" "" Length 3 Derived;

    // Results: a state.
    /// Centre of effort aft of the mast axis.
    CE_AFT "ce_aft" "CE" Length 2 Derived;
    /// Centre of effort above the waterline.
    CE_UP "ce_up" "CE" Length 2 Derived;
    /// Centre of effort aft of the forward end of the waterline.
    CE_AFT_WATERLINE "ce_aft_waterline" "CE" Length 2 Derived;
    /// Centre of effort aft of the mast axis, at the place of the wind's force along each chord.
    CE_WIND_AFT "ce_wind_aft" "" Length 2 Derived;
    /// Height of that centre above the waterline.
    CE_WIND_UP "ce_wind_up" "" Length 2 Derived;
    /// Share of the chord ahead of the mast axis.
    CHORD_BALANCE "chord_balance" "" Percent 1 Derived;
    /// Share of the hoisted area ahead of the mast axis.
    AREA_BALANCE "area_balance" "" Percent 1 Derived;
    /// Highest point of the yard above the waterline.
    YARD_HEIGHT "yard_height" "" Length 2 Derived;
    /// Peak above the waterline.
    PEAK_HEIGHT "peak_height" "" Length 2 Derived;
    /// Sling point above the waterline.
    SLING_HEIGHT "sling_height" "" Length 2 Derived;
    /// Sling point abaft the mast axis.
    SLING_OFFSET "sling_offset" "" Length 2 Derived;
    /// Depth of boom and bundle together.
    BUNDLE_HEIGHT "bundle_height" "" Length 2 Derived;
    /// From one spar to the next in the bundle.
    BUNDLE_PITCH "bundle_pitch" "" Fine 0 Derived;
    /// Boom and bundle moved aft against full sail.
    BOOM_SHIFT "boom_shift" "" Length 2 Derived;
    /// Boom at the mast, above the partners.
    BOOM_AT_MAST "boom_at_mast" "" Length 2 Derived;
    /// Turn of the standing part.
    TURN "turn" "" Angle 1 Derived;
    /// Slide of a spar on the one below it, aft positive.
    SLIDE "slide" "s" Fine 0 Derived;
    /// Least slide the cloth allows.
    SLIDE_LEAST "slide_least" "" Fine 0 Derived;
    /// Greatest slide the cloth allows.
    SLIDE_MOST "slide_most" "" Fine 0 Derived;
    /// Halyard off the mast axis.
    HALYARD_ANGLE "halyard_angle" "" Angle 1 Derived;
    /// Length of halyard between masthead and sling point.
    HALYARD_SPAN "halyard_span" "" Length 2 Derived;

    // Results: parrels.
    /// Parrel on the mast, above the partners.
    PARREL_HEIGHT "parrel_height" "" Length 2 Derived;
    /// Length of a parrel.
    PARREL_LENGTH "parrel_length" "" Length 2 Derived;
    /// Batten ahead of the mast axis.
    BATTEN_AHEAD "batten_ahead" "a" Length 2 Derived;
    /// Batten abaft the mast axis.
    BATTEN_ABAFT "batten_abaft" "b" Length 2 Derived;
    /// Travel along the battens that the reefs ask for.
    TRAVEL_NEEDED "travel_needed" "" Length 2 Derived;
    /// Travel that the reefs ask for beyond what the parrels let.
    TRAVEL_MISSING "travel_missing" "" Length 2 Derived;
    /// How far a batten stands off in the middle of its travel.
    STAND_OFF "stand_off" "" Fine 0 Derived;
    /// Mast diameter at a height.
    DIAMETER_AT "diameter_at" "" Fine 0 Derived;

    // Results: clearances.
    /// Masthead above the waterline.
    AIR_DRAUGHT "air_draught" "" Length 2 Derived;
    /// Boom above the coachroof.
    CLEARANCE_COACHROOF "clearance_coachroof" "" Length 2 Derived;
    /// Boom above the cockpit seat.
    CLEARANCE_COCKPIT "clearance_cockpit" "" Length 2 Derived;
    /// Boom above the deck.
    CLEARANCE_DECK "clearance_deck" "" Length 2 Derived;
    /// Yard or sling below the masthead.
    CLEARANCE_MASTHEAD "clearance_masthead" "" Length 2 Derived;
    /// Sail clear of the next mast aft and its sail; negative where they overlap.
    CLEARANCE_SAILS "clearance_sails" "" Length 2 Derived;
    /// Boom above the sight line; negative hides the view.
    CLEARANCE_SIGHT "clearance_sight" "" Length 2 Derived;
    /// Centre of effort to the side, squared off.
    SQUARED_OFF_OFFSET "squared_off_offset" "" Length 2 Derived;
    /// Boom end above the water, squared off.
    BOOM_END_HEIGHT "boom_end_height" "" Length 2 Derived;
    /// Boom end from the centreline, squared off.
    BOOM_END_OUT "boom_end_out" "" Length 2 Derived;
    /// Sheeting angle.
    SHEETING_ANGLE "sheeting_angle" "" Angle 0 CommonPractice;
    /// Centre of effort moved against full sail.
    CE_SHIFT "ce_shift" "" Length 2 Derived;

    // Results: stability, balance, wind.
    /// Metacentric height.
    GM "gm" "" Length 2 Derived;
    /// Righting moment per sin of heel.
    STIFFNESS "stiffness" "" Moment 1 Derived;
    /// The rig, old or new.
    RIG "rig" "" Count 0 Derived;
    /// GM from a timed roll.
    GM_ROLLED "gm_rolled" "" Length 2 Derived;
    /// Beaufort number of the true wind.
    BEAUFORT "beaufort" "" Count 0 Published("WMO, Manual on Codes, table 1100");
    /// Lead of the rig she has now.
    NOW_LEAD "now_lead" "" Percent 1 Derived;
    /// Sail area over wetted surface.
    WETTED_RATIO "wetted_ratio" "" Ratio 2 Derived;
    /// Half width of the band of m g GM.
    STIFFNESS_BAND "stiffness_band" "" Percent 0 Derived;
    /// Righting moment.
    RIGHTING_MOMENT "righting_moment" "" Moment 2 Derived;
    /// Greatest righting moment.
    GREATEST_MOMENT "greatest_moment" "" Moment 1 Derived;
    /// Heel under a wind.
    HEEL "heel" "" Angle 0 Derived;
    /// Apparent wind at the CE.
    APPARENT_WIND "apparent_wind" "" Speed 0 Derived;
    /// True wind at 10 m.
    TRUE_WIND "true_wind" "" Speed 0 Derived;
    /// True wind before the wind.
    TRUE_WIND_RUNNING "true_wind_running" "" Speed 0 Derived;
    /// Centre of lateral resistance.
    CLR "clr" "" Length 2 Derived;
    /// Lead of the CE.
    LEAD "lead" "" Percent 1 Derived;
    /// Shift of the CE over LWL.
    LEAD_SHIFT "lead_shift" "" Percent 1 Derived;
    /// Force aft of the mast.
    OVERBALANCE "overbalance" "" Percent 1 Derived;
    /// Yaw arm squared off.
    YAW_ARM "yaw_arm" "" Length 2 Derived;
    /// Sail area over displacement.
    SAIL_AREA_RATIO "sail_area_ratio" "" Ratio 1 Derived;
    /// Displacement over length.
    LENGTH_RATIO "length_ratio" "" Ratio 0 Derived;
    /// Roll period from GM.
    ROLL "roll" "" Time 1 Derived;
    /// Sinkage.
    SINKAGE "sinkage" "" Fine 0 Derived;
    /// Change of trim.
    TRIM "trim" "" Fine 0 Derived;
    /// Area of the present rig.
    NOW_AREA "now_area" "" Area 1 Derived;
    /// CE of the present rig.
    NOW_CE "now_ce" "" Length 2 Derived;
    /// List in the test.
    LIST "list" "" Angle 1 Derived;
    /// Greatest heel in the test.
    TEST_HEEL "test_heel" "" Angle 1 Derived;
    /// Scatter of the readings.
    SCATTER "scatter" "" Percent 1 Derived;
    /// Angle of vanishing stability.
    VANISHING "vanishing" "" Angle 0 Derived;
    /// Limit of the wall-sided curve.
    LIMIT_HEEL "limit_heel" "" Angle 0 Derived;

    // Results: lines.
    /// Rope in use at a state.
    LINE_LENGTH "line_length" "" Length 2 Derived;
    /// Rope that goes through the cleat from one state to the next.
    LINE_MOVEMENT "line_movement" "" Length 2 Derived;
    /// Rope to buy.
    LINE_BUY "line_buy" "" Length 1 Derived;
    /// Pull in the rope.
    LINE_PULL "line_pull" "" Force 0 Derived;
    /// Force on hull or deck.
    HULL_FORCE "hull_force" "" GreatForce 1 Derived;
    /// Rope diameter.
    ROPE_DIAMETER "rope_diameter" "" Fine 0 Derived;
    /// Pull at the tail.
    HAND_PULL "hand_pull" "" Force 0 Derived;
    /// How many times over a rope bears a gybe.
    GYBE_LEFT "gybe_left" "" Ratio 1 CommonPractice;
    /// Block to block.
    BLOCKS_APART "blocks_apart" "" Fine 0 Derived;
    /// By how much a line fouls or falls short.
    LINE_OFF "line_off" "" Fine 0 Derived;
    /// Apparent wind up to which the sail comes down.
    COMES_DOWN "comes_down" "" Speed 0 Derived;
    /// Work of the crew.
    EFFORT "effort" "" Work 0 Derived;

    // Quick checks.
    /// Lower edge of a sail measured.
    FOOT_EDGE "foot_edge" "" Length 2 CommonPractice;
    /// Upper edge of a sail of four sides.
    HEAD_EDGE "head_edge" "" Length 2 CommonPractice;
    /// A diagonal of it.
    THROAT_CLEW "throat_clew" "" Length 2 CommonPractice;
    /// The other.
    TACK_PEAK "tack_peak" "" Length 2 CommonPractice;
    /// Tack of a sail measured, aft of the forward end of the waterline.
    TACK_X "tack_x" "" Length 2 CommonPractice;
    /// The same, above the waterline.
    TACK_Z "tack_z" "" Length 2 CommonPractice;
    /// Lean of its luff.
    LUFF_LEAN "luff_lean" "" Angle 1 CommonPractice;
    /// How the load on a mast is told.
    LOAD_BY "load_by" "" Count 0 CommonPractice;
    /// Moment at the partners.
    BENDING_MOMENT "bending_moment" "" Moment 2 CommonPractice;
    /// Centre of effort above the partners.
    CE_LEVER "ce_lever" "" Length 2 CommonPractice;
    /// Wind the sail is carried up to.
    WIND_CARRIED "wind_carried" "" Speed 0 CommonPractice;
    /// Line to cut.
    LINE_RUN "line_run" "" Count 0 CommonPractice;
    /// Batten across the sail.
    BATTEN_THICKNESS "batten_thickness" "" Fine 0 CommonPractice;
    /// Room between mast and batten.
    PARREL_ROOM "parrel_room" "" Fine 0 CommonPractice;
    /// Greatest distance between the blocks of a tackle.
    REACH "reach" "" Length 2 CommonPractice;
    /// Rope from the tackle to its cleat.
    LEAD_LENGTH "lead_length" "" Length 2 CommonPractice;
    /// Unit that cloth is sold by.
    CLOTH_SOLD "cloth_sold" "" Count 0 CommonPractice;
    /// Area of a sail measured.
    AREA_MEASURED "area_measured" "" Area 2 Derived;
    /// Area of all of them.
    AREAS_MEASURED "areas_measured" "" Area 2 Derived;
    /// Diagonal off that of a plane sail.
    DIAGONAL_OFF "diagonal_off" "" Fine 0 Derived;
    /// Bending moment over the moment allowed.
    MOMENT_SHARE "moment_share" "" Percent 0 Derived;
    /// Stress by the bending moment.
    BENDING_STRESS "bending_stress" "" Stress 0 Derived;
    /// Stress allowed in bending.
    STRESS_ALLOWED "stress_allowed" "" Stress 0 Derived;
    /// Least wall that bears the moment.
    WALL_NEEDED "wall_needed" "" Fine 1 Derived;
    /// Push of the mast's heel on its step.
    STEP_PUSH "step_push" "" GreatForce 1 Derived;
    /// Rope to cut off.
    LINE_CUT "line_cut" "" Length 2 Derived;
    /// Cloth in US sailmaker's ounces.
    CLOTH_US "cloth_us" "" Ratio 1 Derived;
    /// Cloth in UK ounces.
    CLOTH_UK "cloth_uk" "" Ratio 1 Derived;
    /// Mass of bare cloth of the sail's area.
    CLOTH_BARE "cloth_bare" "" Mass 1 Derived;
    /// Mass of the sail made up.
    SAIL_MADE_UP "sail_made_up" "" Mass 1 CommonPractice;
}
