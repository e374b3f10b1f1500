//! quantities
