//! How a mass is known, and which can be.

use crate::error::MassError;
use crate::record::{End, Ends, Load};
use crate::units::{Length, Mass, Quantity, Share, Uncertain, check};

use super::{MOST_MASS_SI, MOST_WHEELBASE_SI};

/// Names a mass cannot have: `none` is the load of a wheel off the ground.
const RESERVED: [&str; 1] = [Load::NONE];

/// How one mass is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Weighing {
    /// By two scales, or as the difference they show.
    Scales(Ends<Mass>),
    /// By its total and its position.
    Position {
        /// The whole mass.
        total: Mass,
        /// Horizontal distance behind the front axle, bike level; negative in front of it.
        behind_front_axle: Length,
    },
    /// By its total, and the share of it that the front wheel takes.
    Total {
        /// The whole mass.
        total: Mass,
        /// The share on the front wheel.
        on_front: Uncertain<Share>,
        /// Is the share assumed, because nobody stated it?
        assumed: bool,
    },
}

impl Weighing {
    /// A mass of which nobody knows more than its total; how it is shared between the wheels is assumed.
    #[must_use]
    pub fn total(total: Mass) -> Self {
        let any = Share::from_si(0.5);
        Self::Total { total, on_front: Uncertain { value: any, standard_uncertainty: any }, assumed: true }
    }
}

pub(super) fn check_name(name: &str, used: bool) -> Result<(), MassError> {
    let bad = |reason| Err(MassError::BadName { name: name.to_owned(), reason });
    if name.trim() != name || name.is_empty() || name.contains('+') {
        return bad("a name is not empty, has no `+` and no space at its ends");
    }
    if RESERVED.contains(&name) {
        return bad("the word has a meaning of its own in a load");
    }
    if used {
        return bad("it is used twice");
    }
    Ok(())
}

pub(super) fn check_weighing(name: &str, weighing: &Weighing, wheelbase: Option<Length>) -> Result<(), MassError> {
    let most = Mass::from_si(MOST_MASS_SI);
    match *weighing {
        Weighing::Scales(shares) => {
            for end in End::BOTH {
                check::plausible(&format!("{name}.{end}"), *shares.at(end), -most, most)?;
            }
            check::positive(&format!("{name}: front + rear"), shares.front + shares.rear)?;
        }
        Weighing::Position { total, behind_front_axle } => {
            check::positive(&format!("{name}.total"), total)?;
            check::plausible(&format!("{name}.total"), total, Mass::from_si(1e-3), most)?;
            let reach = Length::from_si(MOST_WHEELBASE_SI);
            check::plausible(&format!("{name}.behind_front_axle"), behind_front_axle, -reach, reach)?;
            if wheelbase.is_none() {
                return Err(MassError::NoWheelbase { name: name.to_owned() });
            }
        }
        Weighing::Total { total, on_front, .. } => {
            check::positive(&format!("{name}.total"), total)?;
            check::plausible(&format!("{name}.total"), total, Mass::from_si(1e-3), most)?;
            let field = format!("{name}.on_front");
            check::plausible(&field, on_front.value, Share::from_si(-0.5), Share::from_si(1.5))?;
            check::plausible(&field, on_front.standard_uncertainty, Share::from_si(0.0), Share::from_si(0.5))?;
        }
    }
    Ok(())
}
