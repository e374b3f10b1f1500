//! geometry
