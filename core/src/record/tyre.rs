//! The vertical rate of a tyre, from loads and heights of the axle, or from its footprint.
//!
//! `h = R₀ − W/k`: a straight line with errors in both readings (Deming),
//! `b = (s_hh − λ·s_WW ± √((s_hh − λ·s_WW)² + 4·λ·s_hW²))/(2·s_hW)`, `λ = u_h²/u_W²`, `k = −1/b`
//!
//! with the uncertainty of the slope `u_b² = (u_h² + b²·u_W²)/S_WW`, `S_WW` over the loads as the line puts them. From a footprint of the
//! length `l`: `δ = R − √(R² − l²/4)`, `k = W/δ`, the chord that a rigid ring would sink by.
//!
//! Assumes one pressure and temperature, and a tyre that is linear over the loads read: a first millimetre on a round profile is softer,
//! so that loads should lie about the ride's. The axle must not be held by the suspension: read it at the axle,
//! not at the frame. A standing tyre is stiffer than a rolling one by some per cent. The chord leaves out that a real
//! footprint is shorter than it: that is in [`FOOTPRINT`]. Fails where the load does not lower the axle.
//!
//! References: Fuller, *Measurement Error Models* (1987), 1.3 (the line and its variance); JCGM 100:2008, 5.1; Cossalter, *Motorcycle
//! Dynamics*, 2nd ed., ch. 2 (vertical stiffness).

mod known;

pub use known::{Tyre, TyreReadings};

use super::Distance;
use crate::error::{Error, Result, UnitError, WheelError};
use crate::units::{Force, Length, Quantity, Uncertain, WheelRate, check};

/// Standard uncertainty of a rate from the chord of a footprint, as a share of it (common practice, no source).
pub const FOOTPRINT: f64 = 0.2;
/// From so many readings on, one that does not go with the others is found: three say how well they lie on a line.
const LEAST_WITHOUT_ONE: usize = 4;
/// Of more readings none is sought: each costs a line of its own.
const MOST_WITHOUT_ONE: usize = 100;
/// A footprint is at most this share of the diameter.
const LONGEST: f64 = 0.9;

/// The rate of a tyre, as it was found.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct TyreRate {
    /// Vertical rate.
    pub rate: Uncertain<WheelRate>,
    /// Height of the axle with no load on the tyre: the radius that a bike file asks for.
    pub radius: Uncertain<Length>,
    /// Root mean square of the readings' distances from the line over what was said of them; much above one, the tyre is not linear or a
    /// reading is wrong. `None` where no reading is left over.
    pub misfit: Option<f64>,
}

impl TyreRate {
    /// From the load on the ground and the height of the axle above it, two readings or more; each load and height with its
    /// standard uncertainty.
    ///
    /// ```
    /// use wheelrate::units::{Force, Length, Quantity, parse};
    /// use wheelrate::wheel::TyreRate;
    /// let readings = [(400.0, 0.3412), (900.0, 0.3373), (1400.0, 0.3328)];
    /// let readings = readings.map(|(load, height)| (Force::from_si(load), Length::from_si(height)));
    /// let found = TyreRate::from_heights(&readings, parse("10 N")?, parse("0.5 mm")?)?;
    /// assert!((found.rate.value.in_unit("N/mm")? - 119.0).abs() < 1.0);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`WheelError::Tyre`] with fewer than two loads, or where more load does not lower the axle; [`UnitError`] for readings
    /// out of range and a rate that no tyre has.
    pub fn from_heights(
        readings: &[(Force, Length)],
        load_uncertainty: Force,
        height_uncertainty: Length,
    ) -> Result<Self> {
        for (row, &(load, height)) in readings.iter().enumerate() {
            check::plausible(&format!("readings[{row}][0]"), load, Force::from_si(0.0), Force::from_si(2e4))?;
            check::plausible(&format!("readings[{row}][1]"), height, Length::from_si(0.05), Length::from_si(0.9))?;
        }
        check::not_negative("load_uncertainty", load_uncertainty)?;
        check::positive("height_uncertainty", height_uncertainty)?;
        Self::of_sound(readings, load_uncertainty, height_uncertainty)
            .map_err(|error| odd_one(readings, load_uncertainty, height_uncertainty).unwrap_or(error))
    }

    /// From readings each of which may be.
    fn of_sound(readings: &[(Force, Length)], load_uncertainty: Force, height_uncertainty: Length) -> Result<Self> {
        let Line { load, height, slope, variance, u_slope } =
            Line::through(readings, load_uncertainty, height_uncertainty)?;
        let rate = WheelRate::from_si(-1.0 / slope);
        check_rate(rate)?;
        let count = readings.len() as f64;
        let off: f64 =
            readings.iter().map(|(w, h)| (h.si() - height - slope * (w.si() - load)).powi(2) / variance).sum();
        Ok(Self {
            rate: Uncertain { value: rate, standard_uncertainty: WheelRate::from_si(u_slope / (slope * slope)) },
            radius: Uncertain {
                value: Length::from_si(height - slope * load),
                standard_uncertainty: Length::from_si((variance / count + (load * u_slope).powi(2)).sqrt()),
            },
            misfit: (readings.len() > 2).then(|| (off / (count - 2.0)).sqrt()),
        })
    }

    /// From the length of the footprint under one load, and the radius of the unloaded tyre: a rough figure, uncertain by
    /// [`FOOTPRINT`] and the length's own error.
    ///
    /// # Errors
    /// [`UnitError`] for a length of more than nine tenths of the diameter, and what is out of range.
    pub fn from_footprint(load: Force, length: Uncertain<Length>, radius: Length) -> Result<Self> {
        check::plausible("load", load, Force::from_si(10.0), Force::from_si(2e4))?;
        check::plausible("radius", radius, Length::from_si(0.05), Length::from_si(0.9))?;
        check::plausible("length", length.value, Length::from_si(5e-3), radius * (2.0 * LONGEST))?;
        check::not_negative("length uncertainty", length.standard_uncertainty)?;
        let (half, radius_si) = (0.5 * length.value.si(), radius.si());
        let drop = (radius_si * radius_si - half * half).sqrt();
        // R − √(R² − a²), written so that a short footprint keeps its digits.
        let deflection = half * half / (radius_si + drop);
        let per_length = 0.5 * half / drop;
        let relative = FOOTPRINT.hypot(per_length * length.standard_uncertainty.si() / deflection);
        let rate = WheelRate::from_si(load.si() / deflection);
        check_rate(rate)?;
        Ok(Self {
            rate: Uncertain { value: rate, standard_uncertainty: rate * relative },
            radius: Uncertain { value: radius, standard_uncertainty: Length::default() },
            misfit: None,
        })
    }
}

/// Height over load, a straight line through the middle of its readings.
struct Line {
    load: f64,
    height: f64,
    slope: f64,
    /// Of one reading's distance from it, in height.
    variance: f64,
    u_slope: f64,
}

impl Line {
    fn through(readings: &[(Force, Length)], load_uncertainty: Force, height_uncertainty: Length) -> Result<Self> {
        let count = readings.len() as f64;
        let mean = |of: fn(&(Force, Length)) -> f64| readings.iter().map(of).sum::<f64>() / count;
        let (load, height) = (mean(|reading| reading.0.si()), mean(|reading| reading.1.si()));
        let sum = |of: &dyn Fn(f64, f64) -> f64| {
            readings.iter().map(|(one, other)| of(one.si() - load, other.si() - height)).sum::<f64>()
        };
        let (loads, heights, both) = (sum(&|w, _| w * w), sum(&|_, h| h * h), sum(&|w, h| w * h));
        if readings.len() < 2 || loads <= 0.0 {
            return Err(not_a_tyre("readings", "fewer than two loads"));
        }
        if both >= 0.0 {
            return Err(not_a_tyre("readings", "an axle that more load does not lower"));
        }
        let [u_load, u_height] = [load_uncertainty.si(), height_uncertainty.si()];
        let slope = if u_load > 0.0 {
            let ratio = (u_height / u_load).powi(2);
            let off = heights - ratio * loads;
            // The root that keeps its digits where the loads are nearly exact, and `off` is below zero.
            let root = (off * off + 4.0 * ratio * both * both).sqrt();
            if off < 0.0 { 2.0 * ratio * both / (root - off) } else { (off + root) / (2.0 * both) }
        } else {
            both / loads
        };
        let variance = u_height * u_height + slope * slope * u_load * u_load;
        // Loads as the line puts them: each moved by its share of its distance from the line.
        let share = slope * u_load * u_load / variance;
        let fitted = sum(&|w, h| (w + share * (h - slope * w)).powi(2));
        Ok(Self { load, height, slope, variance, u_slope: (variance / fitted).sqrt() })
    }

    /// How a reading stands to it, a line through so many.
    fn distance(&self, count: usize, (load, height): (Force, Length)) -> Distance {
        let along = load.si() - self.load;
        Distance {
            off: height.si() - self.height - self.slope * along,
            reading: self.variance.sqrt(),
            curve: (self.variance / count as f64 + (along * self.u_slope).powi(2)).sqrt(),
        }
    }
}

fn not_a_tyre(field: &str, found: &str) -> Error {
    WheelError::Tyre { field: field.to_owned(), found: found.to_owned() }.into()
}

/// The reading without which the others give a tyre, where that is one: of several, the one that leaves the others best in line.
fn odd_one(readings: &[(Force, Length)], load: Force, height: Length) -> Option<Error> {
    if !(LEAST_WITHOUT_ONE..=MOST_WITHOUT_ONE).contains(&readings.len()) {
        return None;
    }
    let without = |row: usize| {
        let others = [&readings[..row], &readings[row + 1..]].concat();
        Some((row, TyreRate::of_sound(&others, load, height).ok()?.misfit?))
    };
    let (row, _) = (0..readings.len()).filter_map(without).min_by(|one, other| one.1.total_cmp(&other.1))?;
    Some(not_a_tyre(&format!("readings[{row}]"), "a reading that does not go with the others"))
}

/// From 5 N/mm to 5000 N/mm: a balloon tyre at low pressure to solid rubber.
pub(super) fn check_rate(rate: WheelRate) -> Result<WheelRate, UnitError> {
    check::plausible("tyre", rate, WheelRate::from_si(5e3), WheelRate::from_si(5e6))
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand_distr::{Distribution, StandardNormal};
    use rand_xoshiro::Xoshiro256PlusPlus;
    use rand_xoshiro::rand_core::SeedableRng;

    fn readings(rows: &[(f64, f64)]) -> Vec<(Force, Length)> {
        rows.iter().map(|&(load, height)| (Force::from_si(load), Length::from_si(height))).collect()
    }

    #[test]
    fn intervals_hold_rate_and_radius_as_often_as_they_say() {
        let (rate, radius) = (140e3, 0.32);
        let mut random = Xoshiro256PlusPlus::seed_from_u64(8);
        let mut normal = || -> f64 { StandardNormal.sample(&mut random) };
        let (mut inside, draws) = ([0.0; 2], 2000);
        for _ in 0..draws {
            let rows: Vec<(f64, f64)> = (0..5)
                .map(|k| {
                    let load = 400.0 + 300.0 * f64::from(k);
                    (load + 30.0 * normal(), radius - load / rate + 0.3e-3 * normal())
                })
                .collect();
            let found =
                TyreRate::from_heights(&readings(&rows), Force::from_si(30.0), Length::from_si(0.3e-3)).unwrap();
            // The slope is what is normal, not the rate.
            let (k, u) = (found.rate.value.si(), found.rate.standard_uncertainty.si());
            let slope = [1.0 / k, u / (k * k)];
            inside[0] += if (slope[0] - 1.0 / rate).abs() < 1.96 * slope[1] { 1.0 } else { 0.0 };
            let off = (found.radius.value.si() - radius).abs();
            inside[1] += if off < 1.96 * found.radius.standard_uncertainty.si() { 1.0 } else { 0.0 };
        }
        for share in inside.map(|count| count / f64::from(draws)) {
            // Three standard deviations of 95 % of 2000, and the second order of an error of 6 %.
            assert!((share - 0.95_f64).abs() < 0.02, "{share}");
        }
    }

    #[test]
    fn exact_loads_are_least_squares_and_the_limit_of_good_ones() {
        let rows = readings(&[(400.0, 0.3412), (900.0, 0.3371), (1400.0, 0.3334), (1900.0, 0.3289)]);
        let with = |load: f64| TyreRate::from_heights(&rows, Force::from_si(load), Length::from_si(5e-4)).unwrap();
        let (exact, nearly) = (with(0.0), with(1e-6));
        assert!((exact.rate.value.si() / nearly.rate.value.si() - 1.0).abs() < 1e-9, "{exact:?} {nearly:?}");
        assert!(with(50.0).rate.standard_uncertainty > exact.rate.standard_uncertainty);
        assert!(exact.misfit.unwrap() < 1.5 && exact.radius.value.si() > 0.344);
    }

    #[test]
    fn a_footprint_is_the_chord_of_its_wheel() {
        let length = Uncertain { value: Length::from_si(0.12), standard_uncertainty: Length::from_si(0.0) };
        let found = TyreRate::from_footprint(Force::from_si(900.0), length, Length::from_si(0.3)).unwrap();
        // 300 mm − √(300² − 60²) mm.
        let sunk = 0.3 - (0.09_f64 - 0.0036).sqrt();
        assert!((found.rate.value.si() * sunk / 900.0 - 1.0).abs() < 1e-12);
        assert!((found.rate.standard_uncertainty.si() / found.rate.value.si() - FOOTPRINT).abs() < 1e-12);
        let unsure = Uncertain { standard_uncertainty: Length::from_si(0.01), ..length };
        let unsure = TyreRate::from_footprint(Force::from_si(900.0), unsure, Length::from_si(0.3)).unwrap();
        assert!(unsure.rate.standard_uncertainty > found.rate.standard_uncertainty);
        let long = Uncertain { value: Length::from_si(0.58), ..length };
        let long = TyreRate::from_footprint(Force::from_si(900.0), long, Length::from_si(0.3)).unwrap_err();
        assert!(long.to_string().contains("length"), "{long}");
    }

    #[test]
    fn refuses_what_is_no_tyre() {
        let say = |rows: &[(f64, f64)]| {
            TyreRate::from_heights(&readings(rows), Force::from_si(10.0), Length::from_si(5e-4))
                .unwrap_err()
                .to_string()
        };
        assert!(say(&[(400.0, 0.34)]).contains("fewer than two loads"));
        let odd = say(&[(300.0, 0.3451), (600.0, 0.3428), (30.0, 0.3409), (1200.0, 0.3388), (1500.0, 0.55)]);
        assert!(odd.starts_with("readings[4]: found a reading that does not go with the others"), "{odd}");
        assert!(say(&[(400.0, 0.34), (900.0, 3.4)]).starts_with("readings[1][1]"));
        assert!(say(&[(400.0, 0.34), (400.0, 0.33)]).contains("fewer than two loads"));
        assert!(say(&[(400.0, 0.33), (900.0, 0.34)]).contains("does not lower"));
        assert!(say(&[(400.0, 3.3), (900.0, 3.2)]).contains("readings[0][1]"));
        assert!(say(&[(400.0, 0.34), (900.0, 0.1)]).contains("tyre"));
    }
    #[test]
    fn a_height_misread_is_named_where_three_others_say_what_it_should_be() {
        let sound = [(300.0, 0.3451), (600.0, 0.3428), (900.0, 0.3409), (1200.0, 0.3388)];
        let found = |rows: &[(f64, f64)]| Tyre::read(TyreReadings::new(readings(rows))).unwrap().suspect_readings();
        assert!(found(&sound).is_empty());
        for row in 0..sound.len() {
            let mut rows = sound;
            // A way in which the axle still comes down.
            let off = if row < 2 { 5e-3 } else { -5e-3 };
            rows[row].1 += off;
            let [one] = found(&rows)[..] else { panic!("{row}: {:?}", found(&rows)) };
            assert!(one.index == row && one.at.si() == rows[row].0 && one.found.si() == rows[row].1);
            // The three others are the line to half a millimetre, and a little more at its ends.
            assert!((one.off().si() - off).abs() < 1e-3 && one.deviations * off.signum() > 4.0, "{one:?}");
            assert!(found(&[rows[0], rows[2], rows[3]]).is_empty(), "of three, any may be the one");
        }
        let stated = Tyre::stated(WheelRate::from_si(150e3)).unwrap();
        assert!(stated.suspect_readings().is_empty());
    }

    /// The line through three, of a fourth reading: `u² = u_h²·(1/n + (W − W̄)²/S_WW)` where loads are exact.
    #[test]
    fn a_line_is_as_uncertain_as_least_squares_make_it() {
        let rows = readings(&[(400.0, 0.3410), (900.0, 0.3370), (1400.0, 0.3330)]);
        let line = Line::through(&rows, Force::from_si(0.0), Length::from_si(5e-4)).unwrap();
        let distance = line.distance(3, (Force::from_si(1900.0), Length::from_si(0.3300)));
        assert!((distance.off - 1e-3).abs() < 1e-12 && (distance.reading - 5e-4).abs() < 1e-15);
        let expected = 5e-4 * (1.0f64 / 3.0 + 1000.0f64.powi(2) / (2.0 * 500.0f64.powi(2))).sqrt();
        assert!((distance.curve / expected - 1.0).abs() < 1e-9, "{} {expected}", distance.curve);
    }
}
