//! A rocker on the swingarm with a link from the frame, written out by hand: nothing here is general, every point is a
//! local variable, and the loop has no branch, so that the compiler vectorises it. This is what a mechanism costs at
//! least; the same in C with `-O3 -fno-math-errno` compiles to the same instructions.

/// Drawn coordinates in metres.
#[derive(Debug, Clone, Copy)]
pub struct SixPoint {
    /// Swingarm pivot on the frame.
    pub pivot: [f64; 2],
    /// Axle on the swingarm.
    pub axle: [f64; 2],
    /// Rocker pivot on the swingarm.
    pub rocker: [f64; 2],
    /// Link on the frame.
    pub link_frame: [f64; 2],
    /// Link on the rocker.
    pub link_rocker: [f64; 2],
    /// Shock on the rocker.
    pub shock_rocker: [f64; 2],
    /// Shock on the frame.
    pub shock_frame: [f64; 2],
    /// Shock length, extended.
    pub shock_length: f64,
    /// Axle height at full extension.
    pub datum: f64,
}

/// Constants of the closed form.
#[derive(Debug, Clone, Copy)]
pub struct Compiled {
    given: SixPoint,
    radius_squared: f64,
    side: f64,
    lambda: [f64; 2],
    link_squared: f64,
    arm_squared: f64,
    dyad_side: f64,
    mu: [f64; 2],
}

fn sub(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] - b[0], a[1] - b[1]]
}

fn squared(a: [f64; 2]) -> f64 {
    a[0] * a[0] + a[1] * a[1]
}

fn ratio(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    let inverse = 1.0 / squared(b);
    [(a[0] * b[0] + a[1] * b[1]) * inverse, (a[1] * b[0] - a[0] * b[1]) * inverse]
}

impl SixPoint {
    /// Lengths and ratios that do not change.
    #[must_use]
    pub fn compile(&self) -> Compiled {
        let arm = sub(self.axle, self.pivot);
        let line = sub(self.rocker, self.link_frame);
        let link = sub(self.link_rocker, self.link_frame);
        Compiled {
            given: *self,
            radius_squared: squared(arm),
            side: 1f64.copysign(arm[0]),
            lambda: ratio(sub(self.rocker, self.pivot), arm),
            link_squared: squared(link),
            arm_squared: squared(sub(self.link_rocker, self.rocker)),
            dyad_side: 1f64.copysign(line[0] * link[1] - line[1] * link[0]),
            mu: ratio(sub(self.shock_rocker, self.rocker), sub(self.link_rocker, self.rocker)),
        }
    }
}

impl Compiled {
    /// Axle x and z, shock length, motion ratio and its slope at one travel.
    #[inline(always)]
    #[must_use]
    pub fn at(&self, travel: f64) -> [f64; 5] {
        let g = &self.given;
        let z = g.datum + travel;
        let rise = z - g.pivot[1];
        let reach = self.side * (self.radius_squared - rise * rise).sqrt();
        let inverse_reach = 1.0 / reach;
        let x1 = -rise * inverse_reach;
        let x2 = -(1.0 + x1 * x1) * inverse_reach;

        let [l0, l1] = self.lambda;
        let (bx, bz) = (g.pivot[0] + l0 * reach - l1 * rise, g.pivot[1] + l0 * rise + l1 * reach);
        let (bx1, bz1) = (l0 * x1 - l1, l0 + l1 * x1);
        let (bx2, bz2) = (l0 * x2, l1 * x2);

        let (dx, dz) = (bx - g.link_frame[0], bz - g.link_frame[1]);
        let inverse = 1.0 / (dx * dx + dz * dz);
        let along = 0.5 + 0.5 * (self.link_squared - self.arm_squared) * inverse;
        let across = self.dyad_side * (self.link_squared * inverse - along * along).sqrt();
        let (ux, uz) = (along * dx - across * dz, along * dz + across * dx);
        let (wx, wz) = (ux - dx, uz - dz);
        let determinant = inverse / across;
        let rate = (wx * bx1 + wz * bz1) * determinant;
        let (cx1, cz1) = (-rate * uz, rate * ux);
        let (rx, rz) = (cx1 - bx1, cz1 - bz1);
        let f = -(cx1 * cx1 + cz1 * cz1) * determinant;
        let h = (wx * bx2 + wz * bz2 - rx * rx - rz * rz) * determinant;
        let (cx2, cz2) = (f * wz - h * uz, h * ux - f * wx);

        let [m0, m1] = self.mu;
        let (ex, ez) = (wx, wz);
        let (sx, sz) = (bx + m0 * ex - m1 * ez - g.shock_frame[0], bz + m0 * ez + m1 * ex - g.shock_frame[1]);
        let (sx1, sz1) = (bx1 + m0 * rx - m1 * rz, bz1 + m0 * rz + m1 * rx);
        let (qx, qz) = (cx2 - bx2, cz2 - bz2);
        let (sx2, sz2) = (bx2 + m0 * qx - m1 * qz, bz2 + m0 * qz + m1 * qx);
        let length = (sx * sx + sz * sz).sqrt();
        let inverse_length = 1.0 / length;
        let first = (sx * sx1 + sz * sz1) * inverse_length;
        let second = (sx1 * sx1 + sz1 * sz1 + sx * sx2 + sz * sz2 - first * first) * inverse_length;
        [g.pivot[0] + reach, z, length, -first, -second]
    }

    /// Over many travels into five columns, vectorised.
    #[inline(never)]
    pub fn over(&self, travels: &[f64], columns: &mut [Vec<f64>; 5]) {
        let count = travels.len();
        let [a, b, c, d, e] = columns.each_mut().map(|column| &mut column[..count]);
        for at in 0..count {
            [a[at], b[at], c[at], d[at], e[at]] = self.at(travels[at]);
        }
    }

    /// Over many travels one by one, not vectorised.
    #[inline(never)]
    pub fn one_by_one(&self, travels: &[f64], columns: &mut [Vec<f64>; 5]) {
        for (at, travel) in travels.iter().enumerate() {
            let found = self.at(core::hint::black_box(*travel));
            for (column, value) in columns.iter_mut().zip(found) {
                column[at] = value;
            }
        }
    }
}
