//! What a number is (floor 0: knows no other crate).
//!
//! Every number a user sees or types goes through here: its name, symbol and unit kind
//! ([`quantity`]), how it is parsed and spelled ([`units`]), the range it is usual in and the
//! range in which the geometry holds ([`bounds`]), the words said about it ([`text`]), and what
//! is wrong with it or worth a look ([`problem`]).
//!
//! Numbers pass through in *document units*: metres, square metres, kilograms, degrees, per cent.
//! The crates above compute in SI and radians; [`units::si_from_document`] and
//! [`units::document_from_si`] stand at their door.

// A panic ends the page's instance: no document may reach one. Tests may.
#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::unreachable,
        clippy::todo,
        clippy::indexing_slicing
    )
)]

pub mod units;

pub mod quantity;

pub mod bounds;
pub mod csv;
pub mod listed;

pub mod text;

pub mod problem;

pub use bounds::{Kind, ROWS, Row, Usual, row};
pub use problem::{Basis, Check, Part, Problem, Severity};
pub use quantity::Quantity;
pub use text::{Arg, Catalogue, Text};
pub use units::{Measures, UnitKind, Units};
