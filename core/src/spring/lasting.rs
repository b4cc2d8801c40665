//! Will the spring last: the stress in the wire against what the wire stands, once and ten million times.
//!
//! `1/n_f = τ_a/S_se + τ_m/S_su` (Goodman), `S_se = S_sa/(1 − S_sm/S_su)`, `S_su = 0.67·R_m`,
//!
//! with the alternating and the mean shear stress `τ_a`, `τ_m` between the two ends of the stroke, each corrected for the wire's
//! curvature (Bergsträsser, as in EN 13906-1), and Zimmerli's strengths of spring steel for endless life: `S_sa` 241 MPa about
//! `S_sm` 379 MPa, of peened wire 398 MPa about 534 MPa (Shigley, *Mechanical Engineering Design*, ch. 10, from memory).
//!
//! The spring *sets* (comes out shorter) where the stress passes a share of `R_m` that depends on the wire, and on whether the maker
//! pressed it solid (Shigley, table 10-6, from memory). EN 13906-1 permits `0.56·R_m` with the coils touching, uncorrected, for
//! cold-coiled springs (from memory).
//!
//! **Where it fails.** Rust, a scratch, a nick from a tool, a coil that rubs: most springs that break do so there, far below what
//! clean wire stands. Zimmerli tested wire up to 10 mm; above it the factor compares springs, and promises nothing. No such test of
//! titanium is known here: its life is left open. Impact and surge are not in it.

use crate::error::{Result, SpringError};
use crate::units::{Length, Quantity, Share, Stress, brief, check};

use super::{CoilGeometry, SpringWire, StressFactor};

/// Zimmerli's strengths for endless life, in MPa: alternating, and the mean it was found about.
const UNPEENED: [f64; 2] = [241.0, 379.0];
const PEENED: [f64; 2] = [398.0, 534.0];
/// Torsional strength over tensile strength.
const TORSIONAL: f64 = 0.67;
/// Permitted at solid length, over tensile strength, by EN 13906-1.
const SOLID: f64 = 0.56;
/// Thickest wire that Zimmerli tested, in metres.
const TESTED: f64 = 0.010;
/// A factor within this of one, either way, says neither: the wire read to 2 % is 6 % of stress, its strength is known to 10 %,
/// tests of endless life scatter by 10 %.
const TOO_CLOSE: f64 = 1.2;
/// Density (kg/m³) between titanium and steel.
const HEAVY: f64 = 6000.0;

/// Between what compressions a spring works, and how it was made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpringDuty {
    /// Least compression that it comes back to: at rest under the rider, or its preload.
    pub least: Length,
    /// Most compression: preload and full stroke.
    pub most: Length,
    /// Shot-peened.
    pub is_peened: bool,
    /// Pressed solid by its maker until it set no further.
    pub is_pressed: bool,
}

/// What the stress says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "kebab-case"))]
pub enum SpringVerdict {
    /// It stands the stroke for good, clean and undamaged.
    Lasts,
    /// Too close for what is known of wire and strength.
    TooClose,
    /// It comes out shorter.
    MaySet,
    /// It breaks in the end.
    MayBreak,
    /// It does not set; how often it can be pressed is not known of this wire.
    LifeUnknown,
}

/// The stress of a spring, held against its wire.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct SpringLife {
    /// Tensile strength of the wire.
    pub tensile_strength: Stress,
    /// Shear stress at the least compression, corrected for curvature.
    pub least_stress: Stress,
    /// And at the most.
    pub most_stress: Stress,
    /// The stress at most compression over that at which the spring sets.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub set_share: Share,
    /// The stress with the coils touching over what EN 13906-1 permits there; `None` without a free length.
    pub solid_share: Option<Share>,
    /// Goodman's factor of safety for endless life; `None` for wire that no test is known of.
    pub fatigue_factor: Option<f64>,
    /// What follows.
    pub verdict: SpringVerdict,
    /// What to mind beside the numbers.
    pub cautions: Vec<String>,
}

impl CoilGeometry {
    /// Will the spring last, its wire of this kind.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for compressions below zero or over 1 m, [`SpringError::Order`] where the most is
    /// not above the least, or the most is beyond solid, [`SpringError::Description`] where wire and material are not
    /// both steel; as [`SpringWire::tensile_strength`].
    pub fn life(&self, wire: SpringWire, duty: &SpringDuty) -> Result<SpringLife> {
        self.check_duty(wire, duty)?;
        let tensile = wire.tensile_strength(self.wire())?;
        let stress = |compression: Length, factor| self.shear_stress(self.rate() * compression, factor);
        let least_stress = stress(duty.least, StressFactor::Bergstrasser);
        let most_stress = stress(duty.most, StressFactor::Bergstrasser);
        let sets = wire.set_shares();
        let set_share = if duty.is_pressed {
            stress(duty.most, StressFactor::DirectShear) / (tensile * sets.pressed)
        } else {
            most_stress / (tensile * sets.as_wound)
        };
        let solid_share = self.solid_stress(StressFactor::Torsion).map(|solid| solid / (tensile * SOLID));
        let fatigue_factor = wire.is_steel().then(|| goodman(tensile, [least_stress, most_stress], duty.is_peened));
        Ok(SpringLife {
            tensile_strength: tensile,
            least_stress,
            most_stress,
            set_share: Share::from_si(set_share),
            solid_share: solid_share.map(Share::from_si),
            fatigue_factor,
            verdict: verdict(set_share, fatigue_factor),
            cautions: self.cautions(wire, duty),
        })
    }

    fn check_duty(&self, wire: SpringWire, duty: &SpringDuty) -> Result<()> {
        let longest = Length::from_si(1.0);
        check::plausible("least", duty.least, Length::from_si(0.0), longest)?;
        check::plausible("most", duty.most, Length::from_si(0.0), longest)?;
        if duty.most <= duty.least {
            return Err(SpringError::Order {
                field: "most".to_owned(),
                found: brief(duty.most),
                wanted: "more",
                other: "least compression".to_owned(),
                than: brief(duty.least),
            }
            .into());
        }
        if let Some(solid) = self.solid_compression().filter(|solid| duty.most > *solid) {
            return Err(SpringError::Order {
                field: "most".to_owned(),
                found: brief(duty.most),
                wanted: "no more",
                other: "compression until the coils touch".to_owned(),
                than: brief(solid),
            }
            .into());
        }
        if wire.is_steel() != (self.material().density().si() > HEAVY) {
            return Err(SpringError::Description {
                part: "wire kind".to_owned(),
                found: format!("`{}` with the material `{}`", wire.name(), self.material().name()),
                wanted: "both of steel, or both of titanium".to_owned(),
            }
            .into());
        }
        Ok(())
    }

    fn cautions(&self, wire: SpringWire, duty: &SpringDuty) -> Vec<String> {
        let mut cautions = vec![
            "A spring that breaks can pierce a fork tube or let the wheel go. Look at it for rust, nicks and rubbed coils: they \
             weigh more than any number here."
                .to_owned(),
            "No number has a ± of its own: 1 % of the wire's diameter is 3 % of stress, the strength of the wire is a lower limit \
             or usual value known to about 10 %, and tests of endless life scatter by as much. A factor within 1.2 of one says neither."
                .to_owned(),
            "Endless life means the most compression every time, ten million times: a spring that sees it seldom lasts longer than the \
             factor says."
                .to_owned(),
        ];
        if wire.is_steel() && self.wire().si() > TESTED {
            cautions.push(
                "Endless life was tested with wire up to 10 mm: with thicker wire the factor compares springs, and promises nothing."
                    .to_owned(),
            );
        }
        if !wire.is_steel() {
            cautions.push("How often titanium springs can be pressed is not known here: ask the maker.".to_owned());
        }
        if duty.is_peened {
            cautions.push("Peening helps as long as it is whole: rust and grinding take it away.".to_owned());
        }
        cautions
    }
}

/// `1/(τ_a/S_se + τ_m/S_su)`.
fn goodman(tensile: Stress, [least, most]: [Stress; 2], is_peened: bool) -> f64 {
    let [alternating, about] = if is_peened { PEENED } else { UNPEENED }.map(|mpa| mpa * 1e6);
    let torsional = TORSIONAL * tensile.si();
    let endless = alternating / (1.0 - about / torsional);
    let (swing, mean) = (0.5 * (most.si() - least.si()), 0.5 * (most.si() + least.si()));
    1.0 / (swing / endless + mean / torsional)
}

fn verdict(set_share: f64, fatigue_factor: Option<f64>) -> SpringVerdict {
    let factor = fatigue_factor.unwrap_or(f64::INFINITY);
    if factor < 1.0 / TOO_CLOSE {
        SpringVerdict::MayBreak
    } else if set_share > TOO_CLOSE {
        SpringVerdict::MaySet
    } else if factor < TOO_CLOSE || set_share > 1.0 / TOO_CLOSE {
        SpringVerdict::TooClose
    } else if fatigue_factor.is_none() {
        SpringVerdict::LifeUnknown
    } else {
        SpringVerdict::Lasts
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spring::{CoilEnds, CoilParts, Material};
    use crate::units::parse;

    fn mm(length: f64) -> Length {
        Length::from_si(length * 1e-3)
    }

    fn coil_parts(material: &str) -> CoilParts {
        CoilParts {
            wire: mm(9.0),
            mean_diameter: mm(60.0),
            active_coils: 8.0,
            ends: CoilEnds::ClosedGround,
            material: Material::named(material).unwrap(),
        }
    }

    fn coil(material: &str) -> CoilGeometry {
        CoilGeometry::new(coil_parts(material)).unwrap().with_free_length(mm(230.0)).unwrap()
    }

    fn duty(from: f64, to: f64) -> SpringDuty {
        SpringDuty { least: mm(from), most: mm(to), is_peened: false, is_pressed: false }
    }

    #[test]
    fn a_longer_stroke_lasts_less_and_peening_helps() {
        let (spring, wire) = (coil("EN 10270-2"), SpringWire::named("chrome-silicon A401").unwrap());
        let factor = |duty: SpringDuty| spring.life(wire, &duty).unwrap().fatigue_factor.unwrap();
        let factors = [40.0, 60.0, 80.0, 100.0].map(|to| factor(duty(20.0, to)));
        assert!(factors.windows(2).all(|pair| pair[1] < pair[0]), "{factors:?}");
        assert!(factor(SpringDuty { is_peened: true, ..duty(20.0, 80.0) }) > factor(duty(20.0, 80.0)));
        assert!(factor(duty(50.0, 80.0)) > factor(duty(20.0, 80.0)));
        let verdicts = [30.0, 130.0].map(|to| spring.life(wire, &duty(20.0, to)).unwrap().verdict);
        assert_eq!(verdicts, [SpringVerdict::Lasts, SpringVerdict::MayBreak]);
    }

    #[test]
    fn pressed_springs_may_be_stressed_further_before_they_set() {
        let (spring, wire) = (coil("EN 10270-2"), SpringWire::named("oil-tempered A229").unwrap());
        let share = |is_pressed| {
            let duty = SpringDuty { is_pressed, ..duty(20.0, 100.0) };
            spring.life(wire, &duty).unwrap().set_share.si()
        };
        assert!(share(true) < share(false));
        let life = spring.life(wire, &duty(20.0, 100.0)).unwrap();
        let solid = spring.solid_stress(StressFactor::Torsion).unwrap().si();
        assert!((life.solid_share.unwrap().si() - solid / (0.56 * life.tensile_strength.si())).abs() < 1e-12);
    }

    #[test]
    fn titanium_has_a_set_and_no_life() {
        let life = coil("Ti-3Al-8V-6Cr-4Mo-4Zr")
            .life(SpringWire::named("Ti-3Al-8V-6Cr-4Mo-4Zr").unwrap(), &duty(10.0, 60.0))
            .unwrap();
        assert_eq!((life.fatigue_factor, life.verdict), (None, SpringVerdict::LifeUnknown));
        assert!(life.cautions.iter().any(|caution| caution.contains("ask the maker")));
    }

    #[test]
    fn impossible_duties_are_refused_with_their_field() {
        let (spring, wire) = (coil("EN 10270-2"), SpringWire::named("oil-tempered A229").unwrap());
        let said = |duty: SpringDuty| spring.life(wire, &duty).unwrap_err().to_string();
        assert!(said(duty(-1.0, 50.0)).starts_with("least: found -1 mm"));
        assert!(said(duty(50.0, 50.0)).contains("least compression"));
        assert!(said(duty(20.0, 180.0)).contains("coils touch"));
        let mixed = coil("Ti-3Al-8V-6Cr-4Mo-4Zr").life(wire, &duty(20.0, 50.0)).unwrap_err().to_string();
        assert!(mixed.contains("both of titanium"), "{mixed}");
        let thick = CoilParts {
            wire: parse("14 mm").unwrap(),
            mean_diameter: mm(80.0),
            active_coils: 8.0,
            ends: CoilEnds::ClosedGround,
            material: Material::named("EN 10270-2").unwrap(),
        };
        let thick = CoilGeometry::new(thick).unwrap().life(wire, &duty(20.0, 50.0)).unwrap_err().to_string();
        assert!(thick.starts_with("wire: found 14 mm"), "{thick}");
    }

    /// Zimmerli's own point lies on the line of endless life, whatever the wire; a stress that never changes breaks it at its
    /// torsional strength.
    #[test]
    fn the_line_of_endless_life_goes_through_what_it_is_drawn_from() {
        let mpa = |stress: f64| Stress::from_si(stress * 1e6);
        for strength in [1400.0, 1800.0] {
            for (is_peened, swing, mean) in [(false, 241.0, 379.0), (true, 398.0, 534.0)] {
                let ends = [mean - swing, mean + swing].map(mpa);
                assert!((goodman(mpa(strength), ends, is_peened) - 1.0).abs() < 1e-12, "{strength} {is_peened}");
            }
            let steady = goodman(mpa(strength), [mpa(500.0); 2], false);
            assert!((steady - 0.67 * strength / 500.0).abs() < 1e-12);
        }
    }

    #[test]
    fn verdicts_turn_exactly_at_their_bounds() {
        use SpringVerdict::{Lasts, LifeUnknown, MayBreak, MaySet, TooClose};
        let (low, high) = (1.0 / TOO_CLOSE, TOO_CLOSE);
        for (set, factor, wanted) in [
            (low, Some(high), Lasts),
            (low, Some(high - 1e-9), TooClose),
            (low + 1e-9, Some(2.0), TooClose),
            (0.9, Some(2.0), TooClose),
            (0.5, Some(1.1), TooClose),
            (high, Some(low), TooClose),
            (high + 1e-9, Some(2.0), MaySet),
            (high + 1e-9, Some(low - 1e-9), MayBreak),
            (0.1, Some(low - 1e-9), MayBreak),
            (low, None, LifeUnknown),
            (0.9, None, TooClose),
            (1.3, None, MaySet),
        ] {
            assert_eq!(verdict(set, factor), wanted, "{set} {factor:?}");
        }
    }

    #[test]
    fn wire_thicker_than_tested_is_said_and_no_other() {
        let wire = SpringWire::named("EN 10270-1 SM").unwrap();
        let warned = |diameter: f64| {
            let parts = CoilParts { wire: Length::from_si(diameter), ..coil_parts("EN 10270-2") };
            let spring = CoilGeometry::new(parts).unwrap();
            let life = spring.life(wire, &duty(5.0, 20.0)).unwrap();
            // The stress goes with the compression, and what the wire sets at is a share of its strength.
            assert!((life.least_stress.si() / life.most_stress.si() - 0.25).abs() < 1e-12);
            let share = life.most_stress.si() / (wire.set_shares().as_wound * life.tensile_strength.si());
            assert!((life.set_share.si() / share - 1.0).abs() < 1e-12);
            assert!(life.solid_share.is_none(), "no free length");
            life.cautions.iter().any(|caution| caution.contains("thicker wire"))
        };
        assert_eq!([0.009, 0.01, 0.0105].map(warned), [false, false, true]);
    }

    #[test]
    fn a_spring_may_be_pressed_solid_and_no_further() {
        let (spring, wire) = (coil("EN 10270-2"), SpringWire::named("oil-tempered A229").unwrap());
        let solid = spring.solid_compression().unwrap();
        let to = |most: Length| spring.life(wire, &SpringDuty { most, ..duty(10.0, 20.0) });
        assert!(to(solid).is_ok() && to(solid + mm(1e-6)).is_err());
        let peened = spring.life(wire, &SpringDuty { is_peened: true, ..duty(10.0, 20.0) }).unwrap();
        assert!(peened.cautions.iter().any(|caution| caution.starts_with("Peening helps")));
    }
}
