//! Python bindings of `wheelrate`: one file per file of the core.
#![forbid(unsafe_code)]

mod errors;
mod units;

/// Bindings of the Rust crate `wheelrate`; import them from the package.
#[pyo3::pymodule]
mod _core {
    #[pymodule_export]
    #[allow(non_upper_case_globals)]
    const __version__: &str = env!("CARGO_PKG_VERSION");

    #[pymodule_export]
    use super::units::{quantity, unit_tables};
}
