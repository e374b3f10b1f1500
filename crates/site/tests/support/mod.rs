//! What the native tests and those in the browser share.
// Each test file uses its own part of this.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    dead_code,
    unreachable_pub
)]

/// Names of the fields of one interface of `rows.ts`, of its nested objects too.
pub fn fields_of(interface: &str) -> Vec<String> {
    let types = include_str!("../../src/rows.ts");
    let from = types
        .find(&format!("export interface {interface} {{"))
        .unwrap();
    let body = types[from..].split("\n}").next().unwrap();
    let lines = body
        .lines()
        .skip(1)
        .map(str::trim)
        .filter(|line| !line.starts_with("/*"));
    let names = lines.filter_map(|line| line.split(':').next());
    let mut names: Vec<String> = names
        .map(|name| name.trim_end_matches('?').to_owned())
        .collect();
    names.sort();
    names
}

/// Parts of the dossier.
pub const DOSSIER: [&str; 9] = [
    "title",
    "particulars",
    "plan",
    "reefs",
    "lines",
    "spars",
    "cloth",
    "checks",
    "sources",
];

/// Tables of section Cloth.
pub const CLOTH: [&str; 10] = [
    "sewn.sail",
    "sewn.panels",
    "sewn.verdict",
    "sewn.bill",
    "sewn.roll",
    "sewn.sticks",
    "sewn.pieces",
    "sewn.edges",
    "sewn.offsets",
    "sewn.ways",
];
