//! A floating piston with a second chamber behind it, which yields once the first is at its pressure.
//!
//! `p = p₀·(V₀/V)ⁿ` until `p = P₀`, at the volume `V_l = V₀·(p₀/P₀)^(1/n)`; from there `p = P₀·((V_l + W₀)/(V + W))ⁿ`,
//! `V + W = V₀ + W₀ − A·s`
//!
//! Second chamber: volume `W₀` at pressure `P₀` while the piston is seated. Lifted, both chambers have one pressure and one exponent, so
//! that `V/W` stays and they are one chamber: the force goes on without a step, the rate `n·p·A²/V` falls by `V_l/(V_l + W₀)`.
//!
//! Fast with the exponent `m` from rest at `r`: seated there, it lifts at `V_l = V_r·(p_r/P₀)^(1/m)`; lifted there, it seats again where
//! it settled, `W = W₀`, at a pressure below `P₀`. Assumes a piston without mass, friction and leak, and that both chambers lose heat alike.
//!
//! Textbook: polytropic process, as for the chamber.

use super::{Chamber, growth, second_moment};
use crate::axial::{Axial, Fast};

/// A chamber with a floating piston.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::gas) struct Piston {
    /// While the piston is seated.
    main: Chamber,
    /// Both chambers, lifted.
    joined: Chamber,
    second: f64,
    pressure: f64,
    /// Volume of the main chamber when the piston lifts slowly, and the stroke there.
    lifts: [f64; 2],
    /// What the energy of the joined chambers lacks.
    offset: f64,
}

impl Piston {
    /// Behind it this volume at this absolute pressure, which has to be more than that of the chamber at full extension.
    pub(in crate::gas) fn new(main: Chamber, pressure: f64, volume: f64) -> Self {
        let seated = main.volume * (main.pressure / pressure).powf(1.0 / main.exponent);
        let both = main.volume + volume;
        let at_extension = pressure * ((seated + volume) / both).powf(main.exponent);
        let joined = Chamber { volume: both, pressure: at_extension, ..main };
        let at = (main.volume - seated) / main.area;
        let offset = main.eval(at).energy - joined.eval(at).energy;
        Self { main, joined, second: volume, pressure, lifts: [seated, at], offset }
    }

    /// Stroke at which it lifts while the end settles; perhaps beyond the full one.
    pub(in crate::gas) fn lifts_at(&self) -> f64 {
        self.lifts[1]
    }

    pub(in crate::gas) fn eval(&self, s: f64) -> Axial {
        if s < self.lifts_at() { self.main.eval(s) } else { raised(self.joined.eval(s), self.offset) }
    }

    pub(in crate::gas) fn fast(&self, rest: f64, s: f64, exponent: [f64; 2]) -> Fast {
        let [seated, seat] = self.lifts;
        if rest < seat {
            return self.seated_before(rest, s, exponent);
        }
        let joined = |s: f64| {
            let fast = self.joined.fast(rest, s, exponent);
            Fast { state: raised(fast.state, self.offset), ..fast }
        };
        if s >= seat {
            return joined(s);
        }
        // Seated again: the main chamber from where its share of both volumes was at rest.
        let share = seated / (seated + self.second);
        let own_rest = (self.main.volume - share * (self.joined.volume - self.main.area * rest)) / self.main.area;
        let (down, here, there) =
            (joined(seat), self.main.fast(own_rest, s, exponent), self.main.fast(own_rest, seat, exponent));
        let on = |here: Axial, energy: f64| Axial { energy, ..here };
        let since = |of: fn(&Fast) -> Axial| of(&here).energy - of(&there).energy;
        Fast {
            state: on(here.state, down.state.energy + since(|fast| fast.state)),
            by_exponent: on(here.by_exponent, down.by_exponent.energy + since(|fast| fast.by_exponent)),
            by_rest: on(here.by_rest * share, down.by_rest.energy + share * since(|fast| fast.by_rest)),
        }
    }

    /// From a rest at which the piston is seated. Lifted, with `T = V_l + W₀` and `L = ln(T/(V + W))`:
    /// `p = P₀·e^(m·L)`, `∂p/∂T = m·p/T`, `dT/dm = V_l·ln(P₀/p_r)/m²`, `dT/dr = −(1 − n/m)·V_l·A/V_r`,
    /// `E − E_l = P₀·T·[e^((m−1)·L) − 1]/(m − 1) − p_s·A·(s − s_l)`.
    fn seated_before(&self, rest: f64, s: f64, exponent: [f64; 2]) -> Fast {
        let [m, uncertainty] = exponent;
        let Chamber { area, surroundings, .. } = self.main;
        let (at_rest, volume_at_rest) = (self.main.pressure(rest), self.main.volume - area * rest);
        let lifted = volume_at_rest * (at_rest / self.pressure).powf(1.0 / m);
        let at = (self.main.volume - lifted) / area;
        if s < at {
            return self.main.fast(rest, s, exponent);
        }
        let total = lifted + self.second;
        let volume = self.joined.volume - area * s;
        let log = (total / volume).ln();
        let pressure = self.pressure * (m * log).exp();
        let per_volume = area / volume;
        let steep = (m - 1.0) * log;
        let rate = m * pressure * area * per_volume;
        let stiffens = pressure * area * (1.0 + m * log) * per_volume;
        let before = self.main.fast(rest, at, exponent);
        let state = Axial {
            force: (pressure - surroundings) * area,
            rate,
            slope: (m + 1.0) * rate * per_volume,
            energy: before.state.energy + self.pressure * total * log * growth(steep) - surroundings * area * (s - at),
        };
        let by_total = Axial {
            force: m * pressure * area / total,
            rate: m * rate / total,
            slope: m * state.slope / total,
            energy: m * self.pressure * log * growth(steep),
        };
        let by_m = Axial {
            force: pressure * area * log,
            rate: stiffens,
            slope: ((m + 1.0) * stiffens + rate) * per_volume,
            energy: self.pressure * total * log * log * second_moment(steep),
        };
        let total_by_m = lifted * (self.pressure / at_rest).ln() / (m * m);
        let total_by_rest = -(1.0 - self.main.exponent / m) * lifted * area / volume_at_rest;
        Fast {
            state,
            by_exponent: raised((by_m + by_total * total_by_m) * uncertainty, before.by_exponent.energy),
            by_rest: raised(by_total * total_by_rest, before.by_rest.energy),
        }
    }
}

/// With this much more energy.
fn raised(state: Axial, by: f64) -> Axial {
    Axial { energy: state.energy + by, ..state }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Quantity;
    use proptest::prelude::*;

    const AREA: f64 = 900e-6;
    const STROKE: f64 = 0.2;

    /// Main chamber of 260 cm³ at 8 bar; behind the piston what is asked for.
    fn piston(exponent: f64, times: f64, cm3: f64) -> Piston {
        let parts = crate::gas::ChamberParts {
            pressure: crate::units::AbsolutePressure::from_si(8e5),
            volume: crate::units::Volume::from_si(260e-6),
            area: crate::units::Area::from_si(AREA),
            exponent,
            surroundings: crate::units::AbsolutePressure::from_si(101_325.0),
            stroke: crate::units::Length::from_si(STROKE),
        };
        Piston::new(Chamber::new(parts).unwrap(), 8e5 * times, cm3 * 1e-6)
    }

    #[test]
    fn force_goes_on_and_the_rate_falls_where_it_lifts() {
        let piston = piston(1.0, 1.8, 60.0);
        // 260 cm³ fallen to 260/1.8.
        let at = (260.0 - 260.0 / 1.8) * 1e-6 / AREA;
        assert!((piston.lifts_at() - at).abs() < 1e-12);
        let (below, above) = (piston.eval(at - 1e-12), piston.eval(at + 1e-12));
        assert!((below.force - above.force).abs() < 1e-5 && (below.energy - above.energy).abs() < 1e-8);
        let share = 144.444_444 / (144.444_444 + 60.0);
        assert!((above.rate / below.rate - share).abs() < 1e-6, "{} {}", below.rate, above.rate);
        let there = piston.eval(piston.lifts_at()).rate;
        assert!((there / above.rate - 1.0).abs() < 1e-6, "there it is open: {there}");
    }

    proptest! {
        /// Both chambers in balance, each by its own gas law: the volumes are sought by halving, not from the joined chamber.
        #[test]
        fn pressures_balance(n in 1.0..1.4_f64, times in 1.05..2.5_f64, cm3 in 10.0..150.0_f64, s in 0.0..0.2_f64) {
            let piston = piston(n, times, cm3);
            let (whole, behind) = (260e-6 - AREA * s, cm3 * 1e-6);
            let main = |volume: f64| 8e5 * (260e-6 / volume).powf(n);
            let second = |volume: f64| 8e5 * times * (behind / volume).powf(n);
            let mut moved = [0.0, behind];
            for _ in 0..200 {
                let middle = f64::midpoint(moved[0], moved[1]);
                moved[usize::from(main(whole + middle) < second(behind - middle))] = middle;
            }
            let pressure = if main(whole) <= second(behind) { main(whole) } else { main(whole + moved[0]) };
            let force = (pressure - 101_325.0) * AREA;
            prop_assert!((piston.eval(s).force - force).abs() < 1e-9 * force, "{} {force}", piston.eval(s).force);
        }

        /// Slow and fast, energy is the integral of force, and force, rate and slope follow from each other, away from where it lifts.
        #[test]
        fn energy_is_the_integral_of_force(n in 1.0..1.2_f64, m in 1.2..1.5_f64, times in 1.05..2.5_f64, cm3 in 10.0..150.0_f64, rest in 0.0..0.2_f64) {
            /// Simpson's rule over 4,000 pieces, one of which has a kink: h²·Δrate/8 of a few µJ·1e-3 on joules.
            const QUADRATURE: f64 = 1e-6;
            let piston = piston(n, times, cm3);
            for fast in [false, true] {
                let at = |s: f64| if fast { piston.fast(rest, s, [m, 0.03]).state } else { piston.eval(s) };
                let pieces = 4000_u32;
                let h = 0.18 / f64::from(pieces);
                let work: f64 = (0..pieces).map(|k| {
                    let from = f64::from(k) * h;
                    (at(from).force + 4.0 * at(from + 0.5 * h).force + at(from + h).force) * h / 6.0
                }).sum();
                prop_assert!((at(0.18).energy - at(0.0).energy - work).abs() < QUADRATURE * work.abs(), "{fast}");
            }
            let here = piston.fast(rest, rest, [m, 0.03]).state;
            let settled = piston.eval(rest);
            prop_assert!((here.force - settled.force).abs() < 1e-9 * settled.force);
            prop_assert!((here.energy - settled.energy).abs() < 1e-9 * (1.0 + settled.energy.abs()));
        }

        /// Central differences over exponent and rest, except where a step goes over a lift.
        #[test]
        fn derivatives_of_a_fast_stroke_are_those_of_it(n in 1.0..1.2_f64, m in 1.2..1.5_f64, times in 1.05..2.5_f64,
            cm3 in 10.0..150.0_f64, rest in 0.01..0.19_f64, s in 0.01..0.19_f64) {
            /// Step; truncation and rounding leave a millionth.
            const STEP: f64 = 1e-5;
            const LEFT: f64 = 1e-5;
            let piston = piston(n, times, cm3);
            let of = |rest: f64, m: f64| {
                let Fast { state, .. } = piston.fast(rest, s, [m, 1.0]);
                [state.force, state.rate, state.slope, state.energy]
            };
            let found = piston.fast(rest, s, [m, 1.0]);
            let rates = |rest: f64, m: f64| of(rest, m)[1];
            let is_over_a_lift = (rest - piston.lifts_at()).abs() < 2.0 * STEP
                || [[rest + STEP, m], [rest - STEP, m], [rest, m + STEP], [rest, m - STEP]]
                    .iter().any(|&[rest_near, m_near]| (rates(rest_near, m_near) / rates(rest, m) - 1.0).abs() > 1e-2);
            prop_assume!(!is_over_a_lift);
            for (exact, more, less) in [
                (found.by_exponent, of(rest, m + STEP), of(rest, m - STEP)),
                (found.by_rest, of(rest + STEP, m), of(rest - STEP, m)),
            ] {
                let exact = [exact.force, exact.rate, exact.slope, exact.energy];
                for k in 0..4 {
                    let difference = (more[k] - less[k]) / (2.0 * STEP);
                    let scale = of(rest, m)[k].abs() + exact[k].abs();
                    prop_assert!((exact[k] - difference).abs() <= LEFT * scale.max(1e-3), "{k}: {} {difference}", exact[k]);
                }
            }
        }
    }
}
