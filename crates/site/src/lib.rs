//! Floor 6: the only door to JavaScript and the browser.
//!
//! [`Workbench`] is what the page holds: one design, asked for finished rows of text and told of
//! edits. Behind it stands [`bench::Bench`], which needs no browser. Documents cross as text only;
//! errors cross as JavaScript errors with the path of the offending field. No panic can be
//! reached from the page; should one be, the page starts a fresh instance from the last text.

#![deny(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::unreachable,
    clippy::indexing_slicing
)]

/// Half the size of the standard library's own, and faster.
#[cfg(target_family = "wasm")]
#[global_allocator]
static MEMORY: talc::wasm::WasmDynamicTalc = talc::wasm::new_wasm_dynamic_allocator();

mod workbench;

pub mod rows;

pub mod bench;

mod place;

mod fields;

mod typing;

mod headline;

mod attention;

mod balance;

mod lines;

mod lesson;

mod spars;

mod cloth;

mod quick;

mod reef_table;

mod csv;

mod dossier;

pub mod sources;

mod reading;

mod guide;

mod compare;

mod hoist_scale;

mod hand;

pub mod painter;

#[cfg(feature = "speed")]
pub mod speed;

pub use workbench::{Workbench, blank_text, demo_keys, demo_text, text_of_short};
