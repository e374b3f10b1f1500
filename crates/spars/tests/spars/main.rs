//! The spars held against closed forms, handbooks, a finite-element library, statics and hostile numbers.

#![allow(clippy::unwrap_used)]

mod beams;
mod hostile;
mod masts;
mod reference;
mod sails;
mod sections;
mod yard;
