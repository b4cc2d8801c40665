use super::*;
use crate::linkage::Linkage;
use crate::linkage::tests::arrangements::{mm, rocker_on_swingarm};

/// A seeded generator of normal numbers (xorshift and the sum of twelve), so that every run is the same.
struct Noise(u64);

impl Noise {
    fn uniform(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

/// The known linkage, its wheel lifted in steps of 10 mm past both ends, the shock read with an error.
fn readings(linkage: &Linkage, error_mm: f64, seed: u64) -> Vec<(Length, Length)> {
    let mut noise = Noise(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    (0..10).for_each(|_| assert!(noise.uniform() < 1.0));
    (0..=30)
        .map(|step| mm(10.0 * f64::from(step)).min(linkage.full_travel()))
        .map(|travel| {
            (travel, linkage.shock_length() - linkage.at(travel).unwrap().stroke + mm(error_mm * noise.normal()))
        })
        .collect()
}

fn parts(linkage: &Linkage, travel_mm: f64, length_mm: f64) -> MeasuredParts {
    MeasuredParts {
        travel_uncertainty: mm(travel_mm),
        length_uncertainty: mm(length_mm),
        shock_length: linkage.shock_length(),
        stroke: linkage.full_stroke(),
    }
}

fn table(linkage: &Linkage, error_mm: f64, seed: u64) -> Result<MeasuredLinkage, LinkageError> {
    let readings = readings(linkage, error_mm, seed);
    MeasuredLinkage::new(&readings, parts(linkage, 0.0, error_mm))
}

const SEEDS: u64 = 40;

#[test]
fn a_millimetre_of_noise_leaves_the_motion_ratio_known() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let (mut smooth, mut raw, mut count) = (0.0, 0.0, 0.0);
    for seed in 1..=SEEDS {
        let readings = readings(&linkage, 1.0, seed);
        let table = table(&linkage, 1.0, seed).unwrap();
        for pair in readings.windows(2) {
            let middle = 0.5 * (pair[0].0 + pair[1].0);
            let truth = linkage.at(middle).unwrap().motion_ratio.si();
            let difference = (pair[0].1 - pair[1].1).si() / (pair[1].0 - pair[0].0).si();
            raw += (difference - truth).powi(2);
            let found = table.at(middle.min(table.full_travel())).unwrap();
            smooth += (found.motion_ratio.value.si() - truth).powi(2);
            count += 1.0;
        }
    }
    let [smooth, raw] = [smooth, raw].map(|sum: f64| (sum / count).sqrt());
    // Stated in the module: raw differences are out by √2·1 mm/10 mm.
    assert!((0.12..0.17).contains(&raw), "raw differences: {raw}");
    assert!(smooth < raw / 12.0, "smooth {smooth}, raw {raw}");
}

#[test]
fn the_truth_lies_in_the_stated_bands() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    [0.01, 0.1, 1.0].into_iter().for_each(|error| bands_hold(&linkage, error));
}

fn bands_hold(linkage: &Linkage, error: f64) {
    let mut inside = [0.0; 3];
    let mut count = 0.0;
    for seed in 1..=SEEDS {
        let table = table(linkage, error, seed).unwrap();
        for share in [0.05, 0.2, 0.4, 0.6, 0.8, 0.95] {
            let travel = share * linkage.full_travel();
            let truth = linkage.at(travel).unwrap();
            let found = table.at(travel).unwrap();
            let within = |value: f64, truth: f64, u: f64| f64::from(u8::from((value - truth).abs() <= 2.0 * u));
            let (s, r, k) = (found.stroke, found.motion_ratio, found.motion_ratio_slope);
            inside[0] += within(s.value.si(), truth.stroke.si(), s.standard_uncertainty.si());
            inside[1] += within(r.value.si(), truth.motion_ratio.si(), r.standard_uncertainty.si());
            inside[2] += within(k.value.si(), truth.motion_ratio_slope.si(), k.standard_uncertainty.si());
            count += 1.0;
        }
    }
    // Two standard deviations hold 95 %; 240 dependent trials scatter by a few percent about that.
    for (what, inside) in ["stroke", "motion ratio", "slope"].iter().zip(inside) {
        assert!((0.85..=1.0).contains(&(inside / count)), "{what} at {error} mm: {}", inside / count);
    }
}

#[test]
fn good_readings_give_a_good_curve() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let table = table(&linkage, 0.001, 5).unwrap();
    assert!((table.full_travel() - linkage.full_travel()).si().abs() < 2e-5);
    for share in [0.02, 0.3, 0.5, 0.98] {
        let travel = share * linkage.full_travel();
        let (found, truth) = (table.at(travel).unwrap(), linkage.at(travel).unwrap());
        assert!((found.motion_ratio.value.si() - truth.motion_ratio.si()).abs() < 5e-4);
        assert!((found.motion_ratio_slope.value.si() - truth.motion_ratio_slope.si()).abs() < 0.03);
    }
    let start = table.at(mm(0.0)).unwrap().stroke;
    assert!(start.value.si().abs() < 1e-12 && start.standard_uncertainty.si() < 1e-12, "{start:?}");
}

#[test]
fn more_noise_gives_wider_bands() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let band =
        |error: f64| table(&linkage, error, 3).unwrap().at(mm(150.0)).unwrap().motion_ratio.standard_uncertainty.si();
    assert!(band(0.1) < band(0.5) && band(0.5) < band(2.0));
}

#[test]
fn an_error_of_the_travel_readings_counts_by_the_motion_ratio() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let readings = readings(&linkage, 0.5, 9);
    let made = |travel: f64, length: f64| MeasuredLinkage::new(&readings, parts(&linkage, travel, length)).unwrap();
    let point = |table: &MeasuredLinkage| table.at(mm(120.0)).unwrap().motion_ratio;
    let (by_travel, by_length) = (point(&made(1.0, 0.0)), point(&made(0.0, 0.385)));
    let ratio = by_travel.standard_uncertainty.si() / by_length.standard_uncertainty.si();
    // The motion ratio, and so the weight, differs by a sixth over the travel.
    assert!((0.83..1.17).contains(&ratio), "{ratio}");
}

#[test]
fn a_misread_length_is_pointed_out() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let mut readings = readings(&linkage, 0.5, 4);
    readings[14].1 += mm(9.0);
    let table = MeasuredLinkage::new(&readings, parts(&linkage, 0.0, 0.5)).unwrap();
    let found = table.suspect_readings();
    // One of these readings is off by four of its standard deviations as it was drawn, and is suspect with and without the other.
    let drawn = self::table(&linkage, 0.5, 4).unwrap().suspect_readings();
    let places = |of: &[SuspectReading<Length, Length>]| of.iter().map(|suspect| suspect.index).collect::<Vec<_>>();
    assert_eq!((places(&drawn), places(&found)), (vec![1], vec![1, 14]), "{found:?}");
    let [.., misread] = found[..] else { panic!() };
    assert!((misread.off() - mm(9.0)).si().abs() < 1e-3 && misread.deviations > 9.0, "{misread:?}");
    let by_chance: usize =
        (1..=SEEDS).map(|seed| self::table(&linkage, 0.5, seed).unwrap().suspect_readings().len()).sum();
    assert!(by_chance <= 4, "{by_chance} of {} readings", 31 * SEEDS);
}

#[test]
fn bad_tables_are_refused() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let good = readings(&linkage, 0.5, 1);
    let make = |readings: &[(Length, Length)], error: f64, length: f64, stroke: f64| {
        let parts = MeasuredParts { shock_length: mm(length), stroke: mm(stroke), ..parts(&linkage, 0.0, error) };
        MeasuredLinkage::new(readings, parts).unwrap_err()
    };
    assert!(matches!(make(&good[..5], 0.5, 468.7, 50.0), LinkageError::TooFewReadings { found: 5, .. }));
    assert!(matches!(make(&good, 0.5, 468.7, 160.0), LinkageError::TableShort { end: "compressed", .. }));
    assert!(matches!(make(&good, 0.5, 500.0, 100.0), LinkageError::TableShort { end: "extended", .. }));
    assert!(make(&good, 0.0, 468.7, 118.0).to_string().contains("uncertainty of a reading"));
    assert!(make(&good, f64::NAN, 468.7, 118.0).to_string().contains("uncertainty"));
    let rising: Vec<_> = good.iter().map(|&(travel, length)| (-travel, length)).collect();
    assert!(matches!(
        make(&rising, 0.5, 468.7, 100.0),
        LinkageError::TableShort { .. } | LinkageError::TableNotFalling { .. }
    ));
    let mut odd = good.clone();
    odd[3] = (mm(f64::INFINITY), mm(4.0));
    let message = make(&odd, 0.5, 468.7, 118.0).to_string();
    assert!(message.contains("readings[3][0]") && message.contains("readings[3][1]"), "{message}");
}

#[cfg(feature = "serde")]
#[test]
fn text_round_trips() {
    let table = table(&rocker_on_swingarm().linkage().unwrap(), 1.0, 2).unwrap();
    let text = serde_json::to_string(&table).unwrap();
    assert_eq!(serde_json::from_str::<MeasuredLinkage>(&text).unwrap(), table);
}

/// Precise readings of a motion ratio that falls below zero on the way and is above it at both ends.
#[test]
fn a_curve_that_dips_on_the_way_is_refused_where_it_first_dips() {
    let (rise, wave, period) = (0.4, 0.012, 0.15);
    let turns = core::f64::consts::TAU / period;
    let stroke = |z: f64| rise * z + wave * (turns * z).sin();
    let length = 0.45;
    let readings: Vec<(Length, Length)> = (0..=60)
        .map(|step| 0.005 * f64::from(step))
        .map(|z| (Length::from_si(z), Length::from_si(length - stroke(z))))
        .collect();
    let sigma = 1e-5;
    let table = Table::new(&readings, [0.0, sigma], length).unwrap();
    let family = Family::new(table.basis, &table.at, &table.strokes, &vec![sigma; readings.len()]);
    let smooth = family.average(0).unwrap();
    // The slope is zero first where cos = −rise/(wave·turns).
    let first = (-rise / (wave * turns)).acos() / turns;
    let Err(LinkageError::TableNotFalling { at }) = table.ends(&smooth, 0.118) else { panic!("taken") };
    assert!(smooth.value(at.si(), 1) <= 0.0);
    // Places are 1.65 mm apart; the smoothing moves the dip by less than another.
    assert!((-1.7e-3..3.3e-3).contains(&(at.si() - first)), "{at:?} {first}");
    // A stroke that ends before the dip is taken, with its ends where they are.
    let ends = table.ends(&smooth, stroke(0.03)).unwrap();
    assert!(ends[0].abs() < 1e-4 && (ends[1] - 0.03).abs() < 1e-4, "{ends:?}");
}

/// What a suspect reading is off by is what it is off the curve through the others, also at an end, where the curve through all
/// goes halfway along with it.
#[test]
fn a_suspect_reading_is_held_against_the_others() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let mut readings = readings(&linkage, 0.5, 4);
    let last = readings.len() - 1;
    readings[last].1 += mm(-9.0);
    let suspects = MeasuredLinkage::new(&readings, parts(&linkage, 0.0, 0.5)).unwrap().suspect_readings();
    let suspect = suspects.iter().find(|suspect| suspect.index == last).unwrap();
    let (travel, length) = readings.remove(last);
    let others = MeasuredLinkage::new(&readings, parts(&linkage, 0.0, 0.5)).unwrap();
    let off = length.si() - (linkage.shock_length().si() - others.smooth.value(travel.si(), 0));
    // How rough the curves may be follows from the readings, and so differs between the two.
    assert!((suspect.off().si() / off - 1.0).abs() < 0.25, "{suspect:?} {off}");
}

/// A refusal says how near the readings come.
#[test]
fn a_table_that_is_too_short_says_what_it_reaches() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let good = readings(&linkage, 0.0, 1);
    let shortest = good.iter().map(|(_, length)| length.si()).fold(1.0, f64::min);
    let longest = good.iter().map(|(_, length)| length.si()).fold(0.0, f64::max);
    let nearest = |length: f64, stroke: f64| {
        let parts = MeasuredParts { shock_length: mm(length), stroke: mm(stroke), ..parts(&linkage, 0.0, 0.5) };
        match MeasuredLinkage::new(&good, parts) {
            Err(LinkageError::TableShort { wanted, nearest, .. }) => (wanted.si(), nearest.si()),
            other => panic!("{other:?}"),
        }
    };
    // The range goes a little beyond the readings, by less than a centimetre of shock.
    let (wanted, reached) = nearest(468.7, 160.0);
    assert!((wanted - 0.3087).abs() < 1e-12 && (-0.01..1e-4).contains(&(reached - shortest)), "{wanted} {reached}");
    let (wanted, reached) = nearest(500.0, 100.0);
    assert!((wanted - 0.5).abs() < 1e-12 && (-1e-4..0.01).contains(&(reached - longest)), "{wanted} {reached}");
}

/// With another shock the same readings say where that begins and ends; with the same one nothing changes.
#[test]
fn another_shock_goes_through_the_same_readings() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let table = table(&linkage, 0.5, 3).unwrap();
    assert_eq!(table.with_shock(table.shock_length(), table.full_stroke()).unwrap(), table);
    let shorter = table.with_shock(table.shock_length(), mm(90.0)).unwrap();
    assert_eq!((shorter.full_stroke(), shorter.shock_length()), (mm(90.0), table.shock_length()));
    assert!(shorter.full_travel() < table.full_travel());
    let [stroke, ..] = table.kernel(shorter.full_travel().si());
    // A root to the last bits.
    assert!((stroke - 0.09).abs() < 1e-9, "{stroke}");
    let lower = table.with_shock(table.shock_length() - mm(4.0), mm(90.0)).unwrap();
    assert_eq!(lower.shock_length(), table.shock_length() - mm(4.0));
    assert!(lower.full_travel() != shorter.full_travel());
}

#[test]
fn a_table_over_many_travels_is_that_of_each() {
    let table = table(&rocker_on_swingarm().linkage().unwrap(), 0.5, 3).unwrap();
    let travels = [0.0, 50.0, 120.0, 260.0].map(mm);
    let each: Vec<_> = travels.iter().map(|&travel| table.at(travel).unwrap()).collect();
    assert_eq!(table.curve(&travels).unwrap(), each);
    assert_eq!(table.curve(&[mm(50.0), mm(900.0)]), Err(table.at(mm(900.0)).unwrap_err()));
}
