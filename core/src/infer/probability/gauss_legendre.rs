//! Gauss–Legendre rules of 6, 12 and 20 nodes (Abramowitz & Stegun, table 25.4).

/// The nodes above zero of a rule over −1 to 1, with their weights; each stands for its mirror image too.
pub(super) type Rule = &'static [(f64, f64)];

/// Most nodes of a rule, mirror images counted.
pub(super) const MOST_NODES: usize = 20;

pub(super) const SIX: Rule = &[
    (0.932_469_514_203_152, 0.171_324_492_379_170_36),
    (0.661_209_386_466_264_5, 0.360_761_573_048_138_6),
    (0.238_619_186_083_196_9, 0.467_913_934_572_691_04),
];

pub(super) const TWELVE: Rule = &[
    (0.981_560_634_246_719_2, 0.047_175_336_386_511_83),
    (0.904_117_256_370_474_9, 0.106_939_325_995_318_43),
    (0.769_902_674_194_304_7, 0.160_078_328_543_346_22),
    (0.587_317_954_286_617_5, 0.203_167_426_723_065_92),
    (0.367_831_498_998_180_2, 0.233_492_536_538_354_8),
    (0.125_233_408_511_468_9, 0.249_147_045_813_402_77),
];

pub(super) const TWENTY: Rule = &[
    (0.993_128_599_185_094_9, 0.017_614_007_139_152_118),
    (0.963_971_927_277_913_8, 0.040_601_429_800_386_94),
    (0.912_234_428_251_326, 0.062_672_048_334_109_07),
    (0.839_116_971_822_218_8, 0.083_276_741_576_704_75),
    (0.746_331_906_460_150_8, 0.101_930_119_817_240_44),
    (0.636_053_680_726_515, 0.118_194_531_961_518_41),
    (0.510_867_001_950_827_1, 0.131_688_638_449_176_64),
    (0.373_706_088_715_419_55, 0.142_096_109_318_382_04),
    (0.227_785_851_141_645_07, 0.149_172_986_472_603_74),
    (0.076_526_521_133_497_34, 0.152_753_387_130_725_84),
];

/// Nodes and weights of a rule moved to an interval.
pub(super) fn nodes(rule: Rule, from: f64, to: f64) -> impl Iterator<Item = (f64, f64)> {
    let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
    rule.iter().flat_map(move |(node, weight)| [-1.0, 1.0].map(|side| (middle + side * half * node, half * weight)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rule_of_n_nodes_is_exact_to_degree_2n_minus_1() {
        for (rule, count) in [(SIX, 6), (TWELVE, 12), (TWENTY, MOST_NODES)] {
            for degree in 0..2 * count {
                let found: f64 = nodes(rule, 0.0, 1.0).map(|(x, weight)| weight * x.powi(degree as i32)).sum();
                // Rounding of 20 terms below 1.
                assert!((found - 1.0 / (degree as f64 + 1.0)).abs() < 1e-15, "{count} nodes, degree {degree}");
            }
        }
    }
}
