//! Knowing more never makes the answer worse: over simulated garages, what a person adds to the least bike narrows the rate
//! called for, or leaves it.
//!
//! Of a single garage it may widen: a reading that disagrees with what was believed moves the answer to where it is less sharp.
//! On average over garages it must not.

use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;
use wheelrate::Bike;
use wheelrate::bike::BikeParts;
use wheelrate::fork::Fork;
use wheelrate::linkage::{MeasuredLinkage, MeasuredParts};
use wheelrate::record::{End, Ends, Load, Measuring, Reading, Settled, SpringPrior};
use wheelrate::shock::{Shock, ShockParts};
use wheelrate::spring::Preloaded;
use wheelrate::units::{Length, Quantity};
use wheelrate::wheel::{FrontEnd, PivotUncertainty, RearEnd, Wheel};

use crate::calibration::Dice;
use crate::garage::{Garage, mm};

/// Garages of a run in `make test`.
const GARAGES: usize = 24;
/// Standard errors that the mean logarithm of the ratio of two widths may lie above none: what so many garages leave open, one
/// step in a thousand by chance. Wider by a tenth is too much however few they are.
const STANDARD_ERRORS: f64 = 3.0;
const WIDER: f64 = 1.1;
/// Rows of a table of shock lengths, and standard uncertainties of its travels and lengths (m).
const ROWS: usize = 9;
const TRAVEL: f64 = 1e-3;
const LENGTH: f64 = 0.5e-3;
/// Standard uncertainty of a coordinate of a pivot (m), measured with care.
const PIVOT: f64 = 1e-3;

/// What somebody adds to a file.
type Added = fn(&Garage, &mut BikeParts, &mut Dice) -> Option<()>;

fn spring(rear: &RearEnd) -> Option<Preloaded> {
    rear.shock().parts().spring.clone()
}

/// The shock as it was stated, with its length and this spring.
fn shock(garage: &Garage, spring: Option<Preloaded>) -> Option<Shock> {
    let real = garage.rear.shock();
    let parts = spring.into_iter().fold(ShockParts::new(), ShockParts::with_spring);
    Shock::new(real.length()?, real.full_stroke(), parts, 1).ok()
}

fn table(garage: &Garage, dice: &mut Dice) -> Option<MeasuredLinkage> {
    let (real, length) = (&garage.rear, garage.rear.shock().length()?);
    let rows: Vec<(Length, Length)> = (0..ROWS)
        .map(|row| {
            let travel = real.full_travel() * (row as f64 / (ROWS - 1) as f64);
            let read = length - real.stroke_at(travel).stroke + Length::from_si(dice.normal(LENGTH));
            (travel + Length::from_si(dice.normal(TRAVEL)), read)
        })
        .collect();
    let [travel_uncertainty, length_uncertainty] = [TRAVEL, LENGTH].map(Length::from_si);
    let stroke = real.shock().full_stroke();
    MeasuredLinkage::new(&rows, MeasuredParts { travel_uncertainty, length_uncertainty, shock_length: length, stroke })
        .ok()
}

fn with_table(garage: &Garage, parts: &mut BikeParts, dice: &mut Dice) -> Option<()> {
    let stated = spring(parts.rear.as_ref()?);
    parts.rear = Some(RearEnd::from_table(table(garage, dice)?, shock(garage, stated)?).ok()?);
    Some(())
}

fn with_pivots(garage: &Garage, parts: &mut BikeParts, _: &mut Dice) -> Option<()> {
    let stated = spring(parts.rear.as_ref()?);
    let drawn = RearEnd::from_parts(garage.rear.linkage().ok()?.clone(), shock(garage, stated)?).ok()?;
    let known = PivotUncertainty { coordinate: Length::from_si(PIVOT), shock_length: Length::from_si(0.0) };
    parts.rear = Some(drawn.with_pivots_known_to(known).ok()?);
    Some(())
}

fn with_pivots_and_table(garage: &Garage, parts: &mut BikeParts, dice: &mut Dice) -> Option<()> {
    with_pivots(garage, parts, dice)?;
    parts.rear = Some(parts.rear.take()?.with_table(table(garage, dice)?).ok()?);
    Some(())
}

fn with_scales(garage: &Garage, parts: &mut BikeParts, _: &mut Dice) -> Option<()> {
    parts.masses = Some(garage.masses.clone());
    Some(())
}

fn with_preload(garage: &Garage, parts: &mut BikeParts, dice: &mut Dice) -> Option<()> {
    let stated = |stated: &Preloaded, real: &dyn Wheel, dice: &mut Dice| {
        let preload = real.main_spring()?.preload + Length::from_si(dice.normal(1e-3));
        Preloaded::new(stated.spring().clone(), preload).ok()
    };
    let rear = parts.rear.as_ref()?;
    let spring = stated(&spring(rear)?, &garage.rear, dice)?;
    // Of gas that goes with an unknown preload the usual push is taken; beside a stated one the real one is stated too.
    let gas = garage.rear.shock().parts().reservoir;
    let shock_parts = gas.into_iter().fold(ShockParts::new().with_spring(spring), ShockParts::with_reservoir);
    let shock = Shock::of_unknown_length(rear.shock().full_stroke(), shock_parts, 1).ok()?;
    let usual = wheelrate::record::Usual::any();
    parts.rear = Some(RearEnd::from_outline(*rear.outline(), shock, usual).ok()?);
    let fork = parts.front.as_ref()?.fork().ok()?;
    let legs = fork.legs().clone().map(|leg| {
        let spring = stated(leg.spring()?, &garage.front, dice)?;
        Some(leg.with_spring(spring).with_air(*garage.front.fork().unwrap().legs()[0].air()?))
    });
    let [Some(first), Some(second)] = legs else { return None };
    parts.front = Some(FrontEnd::new(Fork::of_unknown_rake(fork.full_stroke(), usual.rake, [first, second]).ok()?));
    parts.prior =
        Ends { front: (), rear: () }.map(|()| SpringPrior { preload_uncertainty: mm(1.0), ..SpringPrior::default() });
    Some(())
}

fn with_rake_and_direction(garage: &Garage, parts: &mut BikeParts, _: &mut Dice) -> Option<()> {
    let real = garage.front.fork().unwrap();
    let legs = parts.front.as_ref()?.fork().ok()?.legs().clone();
    parts.front = Some(FrontEnd::new(Fork::new(real.full_stroke(), real.rake(), legs).ok()?));
    let along = if garage.per_travel > 1.0 {
        wheelrate::record::Direction::AlongFork
    } else {
        wheelrate::record::Direction::Vertical
    };
    parts.measuring.front = Some(Measuring::new(along, mm(1.5)).ok()?);
    Some(())
}

fn with_both_sides(garage: &Garage, parts: &mut BikeParts, dice: &mut Dice) -> Option<()> {
    for end in End::BOTH {
        for (settled, side) in [(Settled::Low, 1.0), (Settled::High, -1.0)] {
            let load = "bike + rider";
            let sag = garage.sag(end, garage.wheel(end), load, side * garage.friction.at(end)) + dice.normal(1.5e-3);
            parts
                .readings
                .push(Reading::of_sag(end, Load::parse(load).ok()?, Length::from_si(sag), Some(settled)).ok()?);
        }
    }
    Some(())
}

/// The standard uncertainty of the rate called for (of today's where none is), as a share of it; in the same rank the sheet
/// decides by.
fn width(bike: &Bike, end: End) -> Option<f64> {
    let decision = bike.advise_end(end).ok()?;
    let rate = decision.wanted.as_ref().map_or(decision.fit.rate, |wanted| wanted.rate);
    Some(rate.standard_uncertainty.si() / rate.value.si())
}

/// The mean logarithm of the ratio of widths, and its standard error.
fn mean_logarithm(pairs: &[(f64, f64)]) -> (f64, f64) {
    let count = pairs.len() as f64;
    let logarithms = || pairs.iter().map(|(before, after)| (after / before).ln());
    let mean = logarithms().sum::<f64>() / count;
    let square = logarithms().map(|one| (one - mean).powi(2)).sum::<f64>() / (count - 1.0);
    (mean, (square / count).sqrt())
}

#[test]
fn more_information_never_widens_the_answer_on_average() {
    let steps: [(&str, End, Option<Added>, Added); 10] = [
        ("a table of shock lengths", End::Rear, None, with_table),
        ("pivots", End::Rear, None, with_pivots),
        ("pivots beside a table", End::Rear, Some(with_table), with_pivots_and_table),
        ("two scales", End::Rear, None, with_scales),
        ("two scales", End::Front, None, with_scales),
        ("preload and gas", End::Rear, None, with_preload),
        ("preload and oil level", End::Front, None, with_preload),
        ("rake and direction", End::Front, None, with_rake_and_direction),
        ("both sides read", End::Rear, None, with_both_sides),
        ("both sides read", End::Front, None, with_both_sides),
    ];
    let garages = std::env::var("WHEELRATE_GARAGES").ok().and_then(|text| text.parse().ok()).unwrap_or(GARAGES);
    let mut dice = Dice(Xoshiro256PlusPlus::seed_from_u64(29));
    let mut found = vec![Vec::new(); steps.len()];
    let mut made = 0;
    while made < garages {
        let Some(garage) = Garage::new(&mut dice) else { continue };
        made += 1;
        for ((_, end, before, after), found) in steps.iter().zip(&mut found) {
            let mut with = |added: Option<Added>| {
                let mut parts = garage.stated.parts().clone();
                added.map_or(Some(()), |added| added(&garage, &mut parts, &mut dice))?;
                width(&Bike::new(parts).ok()?, *end)
            };
            if let (Some(before), Some(after)) = (with(*before), with(Some(*after))) {
                found.push((before, after));
            }
        }
    }
    for ((name, end, ..), pairs) in steps.iter().zip(&found) {
        let (mean, error) = mean_logarithm(pairs);
        let ratio = mean.exp();
        println!("{end:5} with {name:26} {:>4} garages, width times {ratio:.3} ± {:.3}", pairs.len(), ratio * error);
        assert!(pairs.len() * 3 > garages, "{name}: {} garages could say it", pairs.len());
        let by_chance = mean <= STANDARD_ERRORS * error;
        assert!(by_chance && ratio <= WIDER, "{end}: with {name} the answer is {ratio:.3} times as wide");
    }
}
