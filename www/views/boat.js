/**
 * Section Boat: the design's name, the hull, what stands on deck, the masts.
 * @module
 */
import { make } from "../elements.js";
import { say } from "../words.js";
import { FieldSection, makeMastChooser, mastNames } from "./fields.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../types/rows.d.ts").Path} Path */

const MOST_MASTS = 3;

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
    /** @param {string} leaf @returns {Path} */
    const at = (leaf) => /** @type {Path} */ (`masts.${mast}.${leaf}`);
    return {
      key: JSON.stringify([mast, names.length, hasRoof, hasCockpit]),
      groups: [
        { key: "design", title: "page.group.design", open: true, items: ["name", "note"] },
        {
          key: "hull",
          title: "page.group.hull",
          open: true,
          items: ["boat.loa_m", "boat.lwl_m", "boat.bow_overhang_m", "boat.beam_m", "boat.draught_m", "boat.keel", "boat.freeboard_bow_m", "boat.freeboard_mid_m", "boat.freeboard_stern_m"],
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
        { key: "photo", title: "page.group.photo", items: [{ element: photo }] },
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
      noCoachroof.hidden = desk.lookOnly;
      noCockpit.hidden = desk.lookOnly;
    },
    /** @param {string} path */
    find: (path) => section.find(path),
  };
}
