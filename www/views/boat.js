/**
 * Section Boat: the design's name, the hull, what stands on deck, the masts.
 * @module
 */
import { make, setText } from "../elements.js";
import { say } from "../words.js";
import { FieldSection, listAt, makeMastChooser, mastNames } from "./fields.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../types/rows.d.ts").Path} Path */

const MOST_MASTS = 3;
/** Steps of the dock test: how to do it safely, and what spoils it. */
const HOW_TO = ["still", "loose", "quiet", "pendulum", "weights", "both", "safe"];

/**
 * @param {HTMLElement} root
 * @param {Desk} desk
 */
export function makeBoat(root, desk) {
  const chooser = makeMastChooser(desk);
  const addMast = make("button", { type: "button", class: "button", id: "add-mast", word: "page.mast.add", onclick: () => add() });
  const removeMast = make("button", { type: "button", class: "button", id: "remove-mast", word: "page.mast.remove", onclick: () => remove() });
  const mastButtons = make("div", { class: "group-buttons" }, addMast, removeMast);
  const noCoachroof = make("button", { type: "button", class: "button", id: "no-coachroof", word: "page.coachroof.none", onclick: () => desk.commit('[["boat.coachroof",null]]') });
  const noCockpit = make("button", { type: "button", class: "button", id: "no-cockpit", word: "page.cockpit.none", onclick: () => desk.commit('[["boat.cockpit",null]]') });

  const howTo = make("details", { class: "how-to" }, make("summary", { word: "page.test.how" }), make("ol", {}, ...HOW_TO.map((step) => make("li", { word: `page.test.how.${step}` }))));
  const offTitle = make("h3", { word: "page.group.swap.off" });
  const onTitle = make("h3", { word: "page.group.swap.on" });
  const addSail = make("button", { type: "button", class: "button", word: "page.sails_now.add", onclick: () => desk.commit(JSON.stringify([[`boat.sails.${listAt(desk.text, "boat.sails").length}`, {}]])) });
  const removeSail = make("button", { type: "button", class: "button", word: "page.sails_now.remove", onclick: () => desk.commit(JSON.stringify([[`boat.sails.${listAt(desk.text, "boat.sails").length - 1}`, null]])) });
  /** What comes of the numbers typed above it, where they are typed. @param {string[]} keys */
  const result = (...keys) => ({ keys, root: make("p", { class: "result", role: "status" }) });
  const results = [result("stiffness", "gm", "scatter", "list"), result("clr", "lead"), result("now_area", "now_ce", "now_lead"), result("sinkage", "trim")];
  const [ofTest, ofProfile, ofSails, ofSwap] = results.map(({ root: element }) => ({ element }));
  const sailButtons = make("div", { class: "group-buttons" }, addSail, removeSail);
  // Filled once the page has started: few want it, and nobody at once.
  const photo = make("div");

  function add() {
    const { tree, names } = mastNames(desk.text);
    const last = tree.masts?.at(-1);
    if (!last || desk.lookOnly) return;
    // A copy of the last one, a little aft: the fields below put it right.
    const mast = structuredClone(last);
    mast.name = say("page.mast.numbered", { number: names.length + 1 });
    const lwl = Number(tree.boat?.lwl_m) || 6;
    mast.position_m = Math.round((Number(last.position_m) + lwl * 0.45) * 100) / 100;
    const edits = [[`masts.${names.length}`, mast]];
    if (tree.reefs) edits.push(["reefs", null]);
    if (desk.commit(JSON.stringify(edits))) desk.setView({ mast: names.length });
  }

  function remove() {
    const { tree, names } = mastNames(desk.text);
    if (names.length < 2 || desk.lookOnly) return;
    const edits = [[`masts.${desk.view.mast}`, null]];
    if (tree.reefs) edits.push(["reefs", null]);
    desk.commit(JSON.stringify(edits));
  }

  const section = new FieldSection(desk, root, () => {
    const { names, tree } = mastNames(desk.text);
    const mast = Math.min(desk.view.mast, Math.max(0, names.length - 1));
    const hasRoof = tree.boat?.coachroof !== undefined;
    const hasCockpit = tree.boat?.cockpit !== undefined;
    const stability = tree.boat?.stability;
    const sailsNow = listAt(desk.text, "boat.sails");
    removeSail.hidden = sailsNow.length === 0;
    /** @param {string} path @param {string[]} leaves */
    const rows = (path, leaves) => ({ rows: path, leaves, add: "page.rows.add" });
    const counts = ["boat.gz", "boat.test.readings", "boat.profile", "boat.old_rig", "boat.new_rig", ...sailsNow.map((_, sail) => `boat.sails.${sail}.points`)].map((path) => listAt(desk.text, path).length);
    /** @param {string} leaf @returns {Path} */
    const at = (leaf) => /** @type {Path} */ (`masts.${mast}.${leaf}`);
    return {
      key: JSON.stringify([mast, names.length, hasRoof, hasCockpit, stability, tree.boat?.clr, counts]),
      groups: [
        { key: "design", title: "page.group.design", open: true, items: ["name", "note"] },
        {
          key: "hull",
          title: "page.group.hull",
          open: true,
          items: ["boat.loa_m", "boat.lwl_m", "boat.bow_overhang_m", "boat.beam_m", "boat.bwl_m", "boat.draught_m", "boat.canoe_draught_m", "boat.keel", "boat.freeboard_bow_m", "boat.freeboard_mid_m", "boat.freeboard_stern_m"],
        },
        {
          key: "mast",
          title: "page.group.mast",
          open: true,
          items: [
            { element: chooser.root },
            ...(names.length > 1 ? [at("name")] : []),
            at("position_m"),
            at("partners_m"),
            { path: at("lap_m"), lock: at("sail.hold_mast") },
            at("bury_m"),
            at("rake_deg"),
            at("diameter_m"),
            at("top_diameter_m"),
            at("parallel_pct"),
            at("from_m"),
            at("to_m"),
            { element: mastButtons },
          ],
        },
        {
          key: "deck",
          title: "page.group.deck",
          items: [
            "boat.coachroof.from_m",
            "boat.coachroof.to_m",
            "boat.coachroof.height_m",
            ...(hasRoof ? [{ element: noCoachroof }] : []),
            "boat.cockpit.from_m",
            "boat.cockpit.to_m",
            "boat.cockpit.seat_m",
            ...(hasCockpit ? [{ element: noCockpit }] : []),
          ],
        },
        {
          key: "clearances",
          title: "page.group.clearances",
          items: ["boat.coachroof_clearance_m", "boat.cockpit_clearance_m", "boat.eye_height_m", "boat.air_draught_m"],
        },
        {
          key: "weight",
          title: "page.group.weight",
          items: ["boat.displacement_kg", "boat.displacement_band_pct", "boat.ballast_kg", "boat.loading", "boat.light_kg", "boat.laden_kg", "boat.stores_m", "boat.water", "boat.crew_weather", "boat.crew_kg", "boat.crew_arm_pct"],
        },
        {
          key: "stability",
          title: "page.group.stability",
          items: [
            "boat.stability",
            ...(stability === "table"
              ? [rows("boat.gz", ["heel_deg", "gz_m"])]
              : stability === "test"
                ? [{ element: howTo }, /** @type {Path} */ ("boat.test.pendulum_m"), rows("boat.test.readings", ["weight_kg", "arm_m", "deflection_m"]), /** @type {Path} */ ("boat.roll_s"), /** @type {Path} */ ("boat.gyration_pct"), /** @type {Path} */ ("boat.greatest_factor")]
                : /** @type {Path[]} */ (["boat.waterplane_pct", "boat.inertia_pct", "boat.kg_pct", "boat.gm_band_pct", "boat.roll_s", "boat.gyration_pct", "boat.greatest_factor"])),
            ofTest,
          ],
        },
        { key: "photo", title: "page.group.photo", items: [{ element: photo }] },
        {
          key: "clr",
          title: "page.group.clr",
          items: ["boat.clr", ...(tree.boat?.clr === "keel" ? /** @type {Path[]} */ (["boat.fin.root_from_m", "boat.fin.root_to_m", "boat.fin.tip_from_m", "boat.fin.tip_to_m"]) : [rows("boat.profile", ["x_m", "z_m"])]), ofProfile],
        },
        {
          key: "sails-now",
          title: "page.group.sails_now",
          note: "page.group.sails_now.note",
          items: [...sailsNow.flatMap((_, sail) => [/** @type {Path} */ (`boat.sails.${sail}.name`), rows(`boat.sails.${sail}.points`, ["x_m", "z_m"])]), { element: sailButtons }, ofSails],
        },
        {
          key: "swap",
          title: "page.group.swap",
          note: "page.group.swap.note",
          items: [{ element: offTitle }, rows("boat.old_rig", ["name", "mass_kg", "x_m", "z_m"]), { element: onTitle }, rows("boat.new_rig", ["name", "mass_kg", "x_m", "z_m"]), ofSwap],
        },
        {
          key: "wind",
          title: "page.group.wind",
          items: ["wind.comfort_deg", "wind.boat_speed_kn", "wind.angle_deg", "wind.gradient_pct", "wind.exponent", "wind.running_force", "wind.hull_drag", "wind.bundle_drag", "wind.mast_drag", "wind.overbalance_pct", "wind.shift_pct"],
        },
      ],
    };
  });

  return {
    photo,
    /** @param {import("../desk.js").Change} change */
    update(change) {
      section.update(change);
      if (change.dragging) return;
      const { names } = mastNames(desk.text);
      chooser.update(names);
      addMast.hidden = names.length >= MOST_MASTS;
      removeMast.hidden = names.length < 2;
      mastButtons.hidden = desk.lookOnly;
      sailButtons.hidden = desk.lookOnly;
      const figures = desk.ask("balance", (bench) => bench.balance(), /** @type {import("../engine.js").Balance | null} */ (null))?.figures ?? [];
      for (const { keys, root: element } of results) {
        const told = figures.filter(({ key }) => keys.includes(key)).map(({ label, value, unit }) => `${label} ${value}${/^[°%]/.test(unit) ? "" : " "}${unit}`);
        setText(element, told.join(" · "));
        element.hidden = told.length === 0;
      }
      noCoachroof.hidden = desk.lookOnly;
      noCockpit.hidden = desk.lookOnly;
    },
    /** @param {string} path */
    find: (path) => section.find(path),
  };
}
