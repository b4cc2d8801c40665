/* The six-point linkage (rocker on the swingarm) written out by hand in C, the peer of linkage.py: one loop without a branch,
   which the compiler turns into vector instructions. Columns: axle x and z, stroke, motion ratio and its slope. */

#include <math.h>
#include <stddef.h>

typedef struct {
    double pivot[2], axle[2], rocker[2], frame[2], link[2], eye[2], top[2];
    double length, datum;
} drawing;

void curve(const drawing *given, size_t count, const double *restrict travel, double *restrict axle_x,
           double *restrict axle_z, double *restrict stroke, double *restrict ratio, double *restrict slope)
{
    const drawing d = *given;
    const double ax = d.axle[0] - d.pivot[0], az = d.axle[1] - d.pivot[1];
    const double radius2 = ax * ax + az * az, behind = copysign(1.0, ax);
    const double rx = d.rocker[0] - d.pivot[0], rz = d.rocker[1] - d.pivot[1];
    const double l0 = (rx * ax + rz * az) / radius2, l1 = (rz * ax - rx * az) / radius2;
    const double cx = d.link[0] - d.frame[0], cz = d.link[1] - d.frame[1], link2 = cx * cx + cz * cz;
    const double ex = d.link[0] - d.rocker[0], ez = d.link[1] - d.rocker[1], rod2 = ex * ex + ez * ez;
    const double side = copysign(1.0, (d.rocker[0] - d.frame[0]) * cz - (d.rocker[1] - d.frame[1]) * cx);
    const double mx = d.eye[0] - d.rocker[0], mz = d.eye[1] - d.rocker[1];
    const double m0 = (mx * ex + mz * ez) / rod2, m1 = (mz * ex - mx * ez) / rod2;

    for (size_t at = 0; at < count; at++) {
        const double z = d.datum + travel[at], rise = z - d.pivot[1];
        const double reach = behind * sqrt(radius2 - rise * rise), inverse_reach = 1.0 / reach;
        const double x1 = -rise * inverse_reach, x2 = -(1.0 + x1 * x1) * inverse_reach;
        const double bx = d.pivot[0] + l0 * reach - l1 * rise, bz = d.pivot[1] + l0 * rise + l1 * reach;
        const double bx1 = l0 * x1 - l1, bz1 = l0 + l1 * x1, bx2 = l0 * x2, bz2 = l1 * x2;

        const double dx = bx - d.frame[0], dz = bz - d.frame[1], inverse = 1.0 / (dx * dx + dz * dz);
        const double along = 0.5 + 0.5 * (link2 - rod2) * inverse;
        const double across = side * sqrt(link2 * inverse - along * along);
        const double ux = along * dx - across * dz, uz = along * dz + across * dx, wx = ux - dx, wz = uz - dz;
        const double determinant = inverse / across, rate = (wx * bx1 + wz * bz1) * determinant;
        const double cx1 = -rate * uz, cz1 = rate * ux, ex1 = cx1 - bx1, ez1 = cz1 - bz1;
        const double f = -(cx1 * cx1 + cz1 * cz1) * determinant;
        const double g = (wx * bx2 + wz * bz2 - ex1 * ex1 - ez1 * ez1) * determinant;
        const double ex2 = f * wz - g * uz - bx2, ez2 = g * ux - f * wx - bz2;

        const double sx = bx + m0 * wx - m1 * wz - d.top[0], sz = bz + m0 * wz + m1 * wx - d.top[1];
        const double sx1 = bx1 + m0 * ex1 - m1 * ez1, sz1 = bz1 + m0 * ez1 + m1 * ex1;
        const double sx2 = bx2 + m0 * ex2 - m1 * ez2, sz2 = bz2 + m0 * ez2 + m1 * ex2;
        const double length = sqrt(sx * sx + sz * sz), inverse_length = 1.0 / length;
        const double first = (sx * sx1 + sz * sz1) * inverse_length;
        axle_x[at] = d.pivot[0] + reach;
        axle_z[at] = z;
        stroke[at] = d.length - length;
        ratio[at] = -first;
        slope[at] = -(sx1 * sx1 + sz1 * sz1 + sx * sx2 + sz * sz2 - first * first) * inverse_length;
    }
}
