//! The account of the lines against things outside it: closed forms, statics, brute force, tables, common practice.
#![allow(missing_docs, clippy::unwrap_used)]

mod carried;
mod choices;
mod paths;
mod rigs;
mod spans;
mod statics;
mod totality;
