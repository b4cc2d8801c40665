//! The bodies: what is fuzzed, and what must hold.

mod files;
mod mechanisms;
mod springs;
mod texts;

use crate::choices::Choices;

/// A body takes its choices, and panics where something does not hold.
pub type Body = fn(&mut Choices<'_>);

/// Every body by its name, the fast ones first.
pub const BODIES: &[(&str, Body)] = &[
    ("unit text", texts::unit),
    ("address", texts::address),
    ("spring stack", springs::spring),
    ("mechanism", mechanisms::drawn),
    ("measured table", mechanisms::measured),
    ("bike file", files::file),
    ("edit", files::edit),
    ("log", files::log),
    ("decision", files::decision),
];
