/**
 * Section Sail: the plan's family and measures, its shape, its place on the mast.
 * @module
 */
import { say } from "../words.js";
import { make } from "../elements.js";
import { FieldSection, makeMastChooser, mastNames } from "./fields.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").FieldRow} FieldRow */
/** @typedef {import("../types/rows.d.ts").Path} Path */

const MOST_PANELS = 12;

/**
 * @param {HTMLElement} root
 * @param {Desk} desk
 */
export function makeSail(root, desk) {
  const chooser = makeMastChooser(desk);
  const fields = make("div", { class: "groups" });
  root.append(chooser.root, fields);

  const section = new FieldSection(desk, fields, () => {
    const { names } = mastNames(desk.text);
    const mast = Math.min(desk.view.mast, Math.max(0, names.length - 1));
    /** @param {string} leaf @returns {Path} */
    const at = (leaf) => /** @type {Path} */ (`masts.${mast}.sail.${leaf}`);
    const [family, panels, head] = desk.ask("fields", (bench) => bench.fields([at("family"), at("panels"), at("head_panels")]), /** @type {FieldRow[]} */ ([]));
    const byTable = family?.text === "table";
    /** @param {FieldRow | undefined} row */
    const count = (row) => Math.max(0, Math.min(MOST_PANELS, Math.round(Number(row?.number ?? row?.text) || 0)));
    const panelCount = Math.max(1, count(panels));
    // In a full fan and under a low yard every panel turns.
    const fannedHead = family?.text === "fanned-head";
    const headCount = fannedHead ? Math.min(count(head), panelCount) : panelCount;
    /** @param {string} leaf @param {number} length */
    const list = (leaf, length) => (length > 0 ? [{ list: Array.from({ length }, (_, index) => at(`${leaf}.${index}`)) }] : []);
    const plan = byTable
      ? [
          at("family"),
          at("panels"),
          at("area"),
          {
            spars: Array.from({ length: panelCount + 1 }, (_, spar) => ["aft_m", "up_m", "angle_deg", "length_m"].map((leaf) => at(`spars.${spar}.${leaf}`))),
            names: Array.from({ length: panelCount + 1 }, (_, spar) => (spar === 0 ? say("page.boom") : spar === panelCount ? say("page.yard") : say("page.batten", { number: spar }))),
          },
        ]
      : [
          at("family"),
          at("area"),
          { path: at("chord_m"), lock: at("hold_chord") },
          { path: at("panel_width_m"), lock: at("hold_luff") },
          at("panels"),
          ...(fannedHead ? [at("head_panels")] : []),
        ];
    const shape = byTable
      ? [at("luff_round_pct"), at("leech_round_pct")]
      : [
          at("rise_deg"),
          at("boom_rise_deg"),
          at("yard_angle_deg"),
          at("yard_length_pct"),
          ...list("head_widths_pct", headCount),
          ...list("head_steps", headCount),
          at("luff_rake_deg"),
          at("luff_round_pct"),
          at("leech_round_pct"),
        ];
    return {
      key: JSON.stringify([mast, names.length, family?.text, panelCount, headCount]),
      groups: [
        { key: "plan", title: "page.group.plan", open: true, items: plan },
        { key: "shape", title: "page.group.shape", open: true, items: shape },
        { key: "place", title: "page.group.place", open: true, items: [at("balance_pct"), at("boom_height_m"), at("sling_pct"), at("side"), at("offset_m")] },
        { key: "cloth", title: "page.group.cloth", items: [at("cut"), at("chord_share_pct"), at("attached_pct"), at("side_force"), at("efficiency_pct"), at("batten_depth_m"), at("boom_depth_m"), at("yard_depth_m"), at("folded_cloth_m")] },
        { key: "allowances", title: "page.group.allowances", items: [at("drop_m"), at("travel_pct"), at("drift_m"), at("masthead_clearance_m"), at("leech_kink_deg"), at("squared_off_deg")] },
      ],
    };
  });

  return {
    /** @param {import("../desk.js").Change} change */
    update(change) {
      section.update(change);
      if (!change.dragging) chooser.update(mastNames(desk.text).names);
    },
    /** @param {string} path */
    find: (path) => section.find(path),
  };
}
