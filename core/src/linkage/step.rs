//! The closed-form steps: how the motion of a point follows from the motion of two others.
//!
//! Every point carries its position `p` and its first two derivatives `v = dp/du`, `a = d²p/du²` with respect to the
//! driver coordinate `u`. Orientations never appear as angles: a body is known from two of its points, and a third is
//! `C = A + λ·(B − A)` with a complex constant `λ`. The inner loop needs no more than square roots.
//!
//! Kinematics of the dyad: differentiate `|P − A|² = r_A²` and `|P − B|² = r_B²` (e.g. Norton, *Design of Machinery*,
//! ch. 4, 6 and 7, in vector form).

use super::real::{Real, Vec2, add, cross, dot, scale, sub, turn, zero};

/// Motion of a point: position and its first and second derivative with respect to the driver coordinate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct State<T> {
    pub(crate) p: Vec2<T>,
    pub(crate) v: Vec2<T>,
    pub(crate) a: Vec2<T>,
}

impl<T: Real> State<T> {
    pub(crate) fn fixed(p: Vec2<T>) -> Self {
        Self { p, v: zero(), a: zero() }
    }
}

/// A third point of a body that two of its points carry.
#[inline(always)]
pub(crate) fn carry<T: Real, const A_FIXED: bool>(a: &State<T>, b: &State<T>, lambda: Vec2<T>) -> State<T> {
    let from_a = |a, b| add(a, turn(lambda, sub(b, a)));
    if A_FIXED {
        State { p: from_a(a.p, b.p), v: turn(lambda, b.v), a: turn(lambda, b.a) }
    } else {
        State { p: from_a(a.p, b.p), v: from_a(a.v, b.v), a: from_a(a.a, b.a) }
    }
}

/// Constants of a dyad: squared distances to A and B, and the side of the line AB (+1 left, −1 right).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct DyadConstants<T> {
    pub(crate) from_a: T,
    pub(crate) from_b: T,
    pub(crate) side: T,
}

/// The pivot of two bodies, one carried by A and one by B: intersection of two circles.
#[inline(always)]
pub(crate) fn dyad<T: Real, const A_FIXED: bool>(a: &State<T>, b: &State<T>, k: &DyadConstants<T>) -> State<T> {
    let d = sub(b.p, a.p);
    let inverse = T::of(1.0) / dot(d, d);
    let along = T::of(0.5) + T::of(0.5) * (k.from_a - k.from_b) * inverse;
    let across = k.side * (k.from_a * inverse - along * along).sqrt();
    let from_a = turn([along, across], d);
    let from_b = sub(from_a, d);
    // The two circles give from_a·p' = f and from_b·p' = g, and the same left side for p''.
    let determinant = inverse / across;
    let solve = |f: T, g: T| {
        let (f, g) = (f * determinant, g * determinant);
        [f * from_b[1] - g * from_a[1], g * from_a[0] - f * from_b[0]]
    };
    if A_FIXED {
        let v = {
            let g = dot(from_b, b.v) * determinant;
            [-(g * from_a[1]), g * from_a[0]]
        };
        let relative = sub(v, b.v);
        let a_p = solve(-dot(v, v), dot(from_b, b.a) - dot(relative, relative));
        State { p: add(a.p, from_a), v, a: a_p }
    } else {
        let v = solve(dot(from_a, a.v), dot(from_b, b.v));
        let (to_a, to_b) = (sub(v, a.v), sub(v, b.v));
        let a_p = solve(dot(from_a, a.a) - dot(to_a, to_a), dot(from_b, b.a) - dot(to_b, to_b));
        State { p: add(a.p, from_a), v, a: a_p }
    }
}

/// The wheel on an arm about a fixed pivot, driven by the wheel's own height `u = z`.
#[inline(always)]
pub(crate) fn arm<T: Real>(pivot: Vec2<T>, radius: T, side: T, height: T) -> State<T> {
    let one = T::of(1.0);
    let rise = height - pivot[1];
    let reach = side * ((radius - rise) * (radius + rise)).sqrt();
    let inverse = one / reach;
    let slope = -(rise * inverse);
    State { p: [pivot[0] + reach, height], v: [slope, one], a: [-((one + slope * slope) * inverse), T::of(0.0)] }
}

/// The tip of a crank about a fixed pivot, driven by the tangent of half its turn from the drawn position, `u = tan(θ/2)`:
/// every turn short of half a revolution, without trigonometry.
#[inline(always)]
pub(crate) fn crank<T: Real>(pivot: Vec2<T>, drawn: Vec2<T>, half_tangent: T) -> State<T> {
    let (one, two) = (T::of(1.0), T::of(2.0));
    let inverse = one / (one + half_tangent * half_tangent);
    let turned = turn([(one - half_tangent * half_tangent) * inverse, two * half_tangent * inverse], drawn);
    let rate = two * inverse;
    let rate_slope = -(two * half_tangent * inverse * rate);
    let normal = [-turned[1], turned[0]];
    State {
        p: add(pivot, turned),
        v: scale(rate, normal),
        a: sub(scale(rate_slope, normal), scale(rate * rate, turned)),
    }
}

/// Distance of two points and its first two derivatives.
#[inline(always)]
pub(crate) fn distance<T: Real>(a: &State<T>, b: &State<T>) -> [T; 3] {
    let (d, v, w) = (sub(b.p, a.p), sub(b.v, a.v), sub(b.a, a.a));
    let length = dot(d, d).sqrt();
    let inverse = T::of(1.0) / length;
    let first = dot(d, v) * inverse;
    [length, first, (dot(v, v) + dot(d, w) - first * first) * inverse]
}

/// How far a dyad is from lying flat: the sine of the angle between its two bodies, and its derivative.
pub(crate) fn openness(a: &State<f64>, b: &State<f64>, p: &State<f64>) -> [f64; 2] {
    let (from_a, from_b) = (sub(p.p, a.p), sub(p.p, b.p));
    let inverse = 1.0 / (dot(from_a, from_a) * dot(from_b, from_b)).sqrt();
    let turning = cross(sub(p.v, a.v), from_b) + cross(from_a, sub(p.v, b.v));
    [cross(from_a, from_b) * inverse, turning * inverse]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Central differences of numbers near one.
    const STEP: f64 = 1e-5;

    #[test]
    fn a_crank_moves_as_its_derivatives_say() {
        let (pivot, drawn) = ([0.2, -0.1], [0.3, 0.4]);
        for half_tangent in [-1.7, -0.3, 0.0, 0.8] {
            let [before, here, after] = [-STEP, 0.0, STEP].map(|by| crank(pivot, drawn, half_tangent + by));
            for axis in 0..2 {
                let first = (after.p[axis] - before.p[axis]) / (2.0 * STEP);
                let second = (after.v[axis] - before.v[axis]) / (2.0 * STEP);
                assert!((here.v[axis] - first).abs() < 1e-8 && (here.a[axis] - second).abs() < 1e-8, "{half_tangent}");
            }
            // On its circle, turned by twice the angle of the half tangent.
            let arm = [here.p[0] - pivot[0], here.p[1] - pivot[1]];
            let (sine, cosine) = (2.0 * half_tangent.atan()).sin_cos();
            assert!(
                (arm[0] - (0.3 * cosine - 0.4 * sine)).abs() < 1e-12
                    && (arm[1] - (0.3 * sine + 0.4 * cosine)).abs() < 1e-12
            );
        }
    }

    #[test]
    fn openness_is_the_sine_between_two_bodies() {
        // Both pivots move on lines; so does the point between them, kept at its lengths by a circle each.
        let state = |t: f64| {
            let of = |p: [f64; 2], v: [f64; 2]| State { p: [p[0] + t * v[0], p[1] + t * v[1]], v, a: [0.0; 2] };
            let (a, b) = (of([0.0, 0.0], [0.1, -0.2]), of([1.0, 0.2], [0.3, 0.1]));
            let apart = [b.p[0] - a.p[0], b.p[1] - a.p[1]];
            let far = apart[0].hypot(apart[1]);
            let (long, short) = (0.8_f64, 0.7_f64);
            let along = (far * far + long * long - short * short) / (2.0 * far);
            let high = (long * long - along * along).sqrt();
            let unit = [apart[0] / far, apart[1] / far];
            (a, b, [a.p[0] + along * unit[0] - high * unit[1], a.p[1] + along * unit[1] + high * unit[0]])
        };
        let at = |t: f64| {
            let ((a, b, p), (_, _, before), (_, _, after)) = (state(t), state(t - STEP), state(t + STEP));
            let v = [0, 1].map(|axis: usize| (after[axis] - before[axis]) / (2.0 * STEP));
            openness(&a, &b, &State { p, v, a: [0.0; 2] })
        };
        let ([before, _], [sine, rate], [after, _]) = (at(-STEP), at(0.0), at(STEP));
        assert!((rate - (after - before) / (2.0 * STEP)).abs() < 1e-8, "{rate}");
        let (a, b, p) = state(0.0);
        let angle = |from: [f64; 2]| (p[1] - from[1]).atan2(p[0] - from[0]);
        assert!((sine - (angle(b.p) - angle(a.p)).sin()).abs() < 1e-12, "{sine}");
    }
}
