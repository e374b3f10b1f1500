/** What is looked at; never part of the design. */
export interface View {
  units: "m" | "ft";
  /** Mast being worked on, from 0. */
  mast: number;
  /** Panels lowered per mast, with fractions. */
  hoist: number[];
  /** Sheeting angle, boom to starboard positive. */
  sheet_deg: number;
  dark: boolean;
  shown: { dimensions: boolean; parrels: boolean; lifts: boolean; trail: boolean; curves?: boolean; heel?: boolean };
  /** 1 = all of the drawing fits. */
  zoom: number;
  /** CSS px. */
  pan_x: number;
  /** CSS px. */
  pan_y: number;
  /** Handle in the hand, or "". */
  active: string;
  /** Whether there are handles to take hold of. */
  hands: boolean;
  /** True wind at 10 m. */
  wind_kn: number;
  /** Part of the drawing that is pointed at, or "". */
  pointed: string;
  /** Keys of `named_parts` that are named on the drawing, with blanks between, or "". */
  named: string;
  /** The line in hand, of the mast being worked on, or "". */
  line: string;
  /** All lines are drawn: while they are worked on. */
  lines: boolean;
}

/** One field of a form; texts are finished, numbers in document units. */
export interface FieldRow {
  path: string;
  label: string;
  /** Value as typed or chosen; where nothing is, what the rule gives. */
  text: string;
  unit: string;
  /** Usual value, without unit. */
  usual: string;
  /** The document says nothing, so the usual value or the rule holds. */
  by_rule: boolean;
  problem: string;
  /** Left out, as basis, range and words to choose from are, while a handle is held. */
  help?: string;
  basis?: string;
  kind: "number" | "whole" | "words" | "choice" | "flag";
  options: { value: string; label: string }[];
  inputmode: "decimal" | "numeric" | "text";
  least?: string;
  most?: string;
  step: number;
  number?: number;
}

/** One of the numbers that matter now. */
export interface Figure {
  key: string;
  label: string;
  value: string;
  unit: string;
  /** Left out while a handle is held, as basis is. */
  help?: string;
  basis?: string;
}

/** One thing that needs attention. */
export interface Attention {
  /** Passed only in the list of all checks. */
  severity: "passed" | "look" | "danger";
  title: string;
  text: string;
  /** Field to go to, or "". */
  path: string;
  /** Part of the drawing, or "". */
  part: string;
  /** The mast it concerns. */
  mast?: number;
  /** Panels lowered per mast where it was found. */
  hoist?: number[];
}

export interface Column {
  key: string;
  label: string;
  unit: string;
  help: string;
}

/** A table of finished words; the first cell names the row. */
export interface Detail {
  columns: Column[];
  rows: string[][];
}

export interface ReefRow {
  id: string;
  name: string;
  hoist: number[];
  cells: string[];
  now: boolean;
  detail: Detail;
}

export interface ReefTable {
  columns: Column[];
  rows: ReefRow[];
}

/** Section Balance. */
export interface Balance {
  /** Knots, Beaufort, metres a second. */
  wind: string;
  /** Panels lowered per mast that stand in this wind; empty where nobody knows. */
  hoist: number[];
  /** Label and sentence. */
  advice: string[][];
  needs: Attention[];
  figures: Figure[];
  reefs: ReefTable;
  loadings: Detail;
  swap: Detail;
  checks: Attention[];
}

/** Section Lines, of the mast being worked on. */
export interface Lines {
  /** Where the sheeting control rests [deg]: on the wind, squared off; empty without a sail. */
  angles: number[];
  lowered: number;
  panels: number;
  /** Line, group, name, what it is made of; then a cell for each column. */
  list: Detail;
  loads: ReefTable;
}

/** The line in hand. */
export interface LineInHand {
  id: string;
  name: string;
  /** Point by point: what is there, the parts that lead on. */
  path: string[][];
  /** The way a sheet is rove, in words; else empty. */
  rove: string;
  facts: Figure[];
  lengths: Detail;
}

/** A lesson, ready or the teacher's own. */
export interface LessonRow {
  title: string;
  /** Path of the teacher's own in the document; "" of a ready one. */
  path: string;
  steps: LessonStepRow[];
}

/** A step of a lesson: what the view takes to show it, and what is told. */
export interface LessonStepRow {
  title: string;
  words: string;
  /** Plot, or "" for the sail plan. */
  plot: string;
  /** From 0. */
  mast: number;
  hoist: number[];
  sheet_deg: number;
  wind_kn: number;
  /** Part named, or "". */
  part: string;
  /** Line in hand, or "". */
  line: string;
  /** How that line is handled. */
  handled?: Figure;
  /** Keys of the numbers told, and `shown` or `asked`. */
  told: [string, "shown" | "asked"][];
  /** Whether it asks for more than she has. */
  past: boolean;
}

/** A sheet of the dossier. */
export interface PaperSheet {
  part: string;
  title: string;
  blocks: PaperBlock[];
}

/** One thing on a sheet. */
export interface PaperBlock {
  kind: "table" | "notes" | "drawing";
  title: string;
  /** Label and unit of each column; none where the first cell of a row names the others. */
  heads: [string, string][];
  rows: string[][];
  svg?: string;
}

/** A list for the locker or the cockpit. */
export interface Paper {
  title: string;
  detail: Detail;
}

/** One scale of the hoist control; mast -1 = all of them by the reef sequence. */
export interface HoistScale {
  mast: number;
  label: string;
  panels: number;
  value: number;
  valuetext: string;
}

/** Something on the drawing that a hand can hold; places in CSS px, values in document units. */
export interface Handle {
  id: string;
  /** Left out, as its value in words is, while another handle is held. */
  label?: string;
  valuetext?: string;
  x: number;
  y: number;
  min: number;
  max: number;
  now: number;
  step: number;
  axis: "x" | "y" | "turn";
}

/** A quick check. */
export interface Quick {
  /** What it asks for, of a list the row in sight. */
  fields: FieldRow[];
  /** Rows of its list that hold something, and the most there may be; nought without a list. */
  rows: number;
  most: number;
  /** What comes out, the answer first. */
  figures: Figure[];
  /** What is wanted or worth knowing. */
  told: string[];
  /** What can be written: word of the button, fields, edits as text. */
  writes: string[][];
}

/** What became of something typed. */
export type TypedIn = { edits: string } | { problem: string };
