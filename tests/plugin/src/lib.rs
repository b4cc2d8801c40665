//! How another crate brings its own parts into a bike of wheelrate: a bump stop of rubber, a spring wound in a cone, and a
//! leading-link front end.
//!
//! A part along one axis is an [`AxialElement`]: force, rate and energy over its stroke, and the strokes at which its rate
//! jumps. Put into a shock or a fork leg with [`OwnElement`](wheelrate::axial::OwnElement) it acts beside springs and gas;
//! made a spring with [`OwnSpring`](wheelrate::spring::OwnSpring) it has a preload and a rate that the fit varies. A whole end
//! is a [`Wheel`](wheelrate::wheel::Wheel), put into the bike with [`OwnEnd`](wheelrate::wheel::OwnEnd). Each is checked when
//! it is taken: a slip in a law of force is an error with its place, before it is a wrong sag.
//!
//! ```
//! use wheelrate::axial::{AxialElement, OwnElement};
//! use wheelrate::shock::{Shock, ShockParts};
//! use wheelrate::spring::{OwnSpring, Preloaded};
//! use wheelrate::units::parse;
//! use wheelrate_plugin_example::{Cone, Rubber};
//!
//! let cone = OwnSpring::new(Cone::new("48 N/mm".parse()?, parse("240 mm")?))?;
//! let rubber = Rubber::new(parse("118 mm")?, parse("20 mm")?, parse("6 kN")?);
//! let parts = ShockParts::new()
//!     .with_spring(Preloaded::new(cone, parse("14 mm")?)?)
//!     .with_element(OwnElement::new(rubber)?);
//! let shock = Shock::new(parse("468.7 mm")?, parse("118 mm")?, parts, 1)?;
//! assert!(shock.at(parse("118 mm")?)?.force > parse("6 kN")?);
//! # Ok::<(), wheelrate::Error>(())
//! ```

mod cone;
mod leading_link;
mod rubber;

pub use cone::Cone;
pub use leading_link::LeadingLink;
pub use rubber::Rubber;
