//! The account of a boat against things outside it: textbooks, rules, exact geometry, drawn samples.
#![allow(missing_docs, clippy::unwrap_used)]

mod balance;
mod bands;
mod boats;
mod box_vessel;
mod published;
mod reefs;
mod rig_swap;
mod totality;
