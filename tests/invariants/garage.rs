//! Simulated garages of which the file states no more than weights, travels, label rates, the stroke of the shock and sag at
//! both ends.
//!
//! The truth is not drawn from what is assumed. Linkages are drawings of every arrangement with their points moved about, as far
//! as they are a motorcycle's (travel, mean ratio, no more than half a course below or above itself). Preload, gas, oil level,
//! rake, how bike and rider are shared between the wheels, unsprung masses, friction and the error of labels are uniform over
//! what is met in garages; total weights are off by data-sheet errors; who notes no settling mostly pushed down; one front in
//! five was read plumb.

use wheelrate::Bike;
use wheelrate::bike::BikeParts;
use wheelrate::fork::{Fork, ForkLeg};
use wheelrate::gas::{ForkAir, ForkAirParts, Reservoir};
use wheelrate::linkage::Linkage;
use wheelrate::mass::{Masses, Weighing};
use wheelrate::record::{End, Ends, Load, Reading, Settled};
use wheelrate::shock::{Shock, ShockParts};
use wheelrate::spring::Preloaded;
use wheelrate::units::{Angle, Force, Length, Mass, Quantity, SpringRate};
use wheelrate::wheel::{FrontEnd, Outline, RearEnd, Tunable, Wheel};

use crate::calibration::{Dice, travel};
use crate::linkages;

/// Standard deviation of one reading (m).
const TAPE: f64 = 1.5e-3;
/// How far a point of a drawing is moved (m).
const MOVED: f64 = 8e-3;

pub(crate) fn mm(value: f64) -> Length {
    Length::from_si(value / 1000.0)
}

pub(crate) fn kg(value: f64) -> Mass {
    Mass::from_si(value)
}

/// A motorcycle's linkage of any arrangement, its points moved about.
pub(crate) fn linkage(dice: &mut Dice) -> Linkage {
    loop {
        let mut all = linkages::all();
        let mut drawing = all.swap_remove(dice.one_of(all.len()));
        for (_, at) in &mut drawing.points {
            at.iter_mut().for_each(|part| *part += 1000.0 * dice.normal(MOVED));
        }
        // A part of all that the mechanism could do, as the shock is shorter.
        let Some(whole) = drawing.with_all_its_stroke(mm(0.0)) else { continue };
        let length = whole.shock_length() - whole.full_stroke() * dice.between(0.0, 0.5);
        let Some(Ok(linkage)) = drawing.linkage(length, whole.full_stroke() * dice.between(0.2, 0.6)) else { continue };
        let (full, stroke) = (linkage.full_travel().si(), linkage.full_stroke().si());
        let ratio = |share: f64| linkage.at(Length::from_si(share * full)).map(|point| point.motion_ratio.si());
        let (Ok(start), Ok(middle), Ok(end)) = (ratio(0.0), ratio(0.5), ratio(1.0)) else { continue };
        let straight = f64::midpoint(start, end);
        let usual = (0.2..0.34).contains(&full)
            && (0.28..0.6).contains(&(stroke / full))
            && (0.9..1.65).contains(&(end / start))
            && (0.92..1.08).contains(&(middle / straight));
        if usual {
            return linkage;
        }
    }
}

/// A bike as it is, and what its owner wrote down.
pub(crate) struct Garage {
    pub(crate) stated: Bike,
    pub(crate) front: FrontEnd,
    pub(crate) rear: RearEnd,
    pub(crate) masses: Masses,
    pub(crate) friction: Ends<f64>,
    /// Sag at the front per vertical travel, as this owner reads it.
    pub(crate) per_travel: f64,
}

impl Garage {
    pub(crate) fn new(dice: &mut Dice) -> Option<Self> {
        let (masses, stated_masses) = masses(dice);
        let load = |end, load: &str| masses.sprung_load(end, &Load::parse(load).unwrap()).unwrap().value;
        let rider = Ends { front: load(End::Front, "bike + rider"), rear: load(End::Rear, "bike + rider") };
        let front = front(dice, rider.front)?;
        let rear = rear(dice, rider.rear)?;
        let along = dice.chance(0.8);
        let per_travel = if along { front.fork().unwrap().motion_ratio().si() } else { 1.0 };
        let friction = Ends { front: dice.between(15.0, 90.0), rear: dice.between(15.0, 90.0) };
        let mut garage =
            Self { stated: Bike::new(BikeParts::default()).unwrap(), front, rear, masses, friction, per_travel };
        let readings = garage.readings(dice);
        garage.stated = garage.stated(stated_masses, readings, dice)?;
        Some(garage)
    }

    /// The least that is stated.
    pub(crate) fn stated(&self, masses: Masses, readings: Vec<Reading>, dice: &mut Dice) -> Option<Bike> {
        let usual = wheelrate::record::Usual::any();
        let label = |rate: SpringRate, dice: &mut Dice| rate * (1.0 / (1.0 + 0.05 * dice.between(-1.0, 1.0)));
        let unknown = |rate: SpringRate| {
            Preloaded::of_unknown_preload(wheelrate::spring::Spring::linear(rate).unwrap(), usual.preload_rear, None)
                .unwrap()
        };
        let main = |end: &dyn Wheel| end.main_spring().unwrap().each[0].0;
        let leg = ForkLeg::new().with_spring(unknown(label(main(&self.front), dice)));
        let fork =
            Fork::of_unknown_rake(self.front.fork().unwrap().full_stroke(), usual.rake, [leg.clone(), leg]).unwrap();
        let parts = ShockParts::new().with_spring(unknown(label(main(&self.rear), dice)));
        let shock = Shock::of_unknown_length(self.rear.shock().full_stroke(), parts, 1).unwrap();
        // A data sheet rounds to 5 mm.
        let travel = mm((self.rear.full_travel().si() * 200.0).round() * 5.0);
        let outline = Outline { travel: Some(travel), ..Outline::default() };
        Bike::new(BikeParts {
            masses: Some(masses),
            front: Some(FrontEnd::new(fork)),
            rear: Some(RearEnd::from_outline(outline, shock, usual).unwrap()),
            readings,
            ..BikeParts::default()
        })
        .ok()
    }

    pub(crate) fn wheel(&self, end: End) -> &dyn Wheel {
        match end {
            End::Front => &self.front,
            End::Rear => &self.rear,
        }
    }

    pub(crate) fn load(&self, end: End, load: &str) -> Force {
        self.masses.sprung_load(end, &Load::parse(load).unwrap()).unwrap().value
    }

    /// As its owner reads it, of a vertical travel.
    pub(crate) fn as_read(&self, end: End, travel: f64) -> f64 {
        travel * if end == End::Front { self.per_travel } else { 1.0 }
    }

    pub(crate) fn sag(&self, end: End, wheel: &dyn Wheel, load: &str, force: f64) -> f64 {
        self.as_read(end, travel(wheel, self.load(end, load) + Force::from_si(force)).si())
    }

    pub(crate) fn readings(&self, dice: &mut Dice) -> Vec<Reading> {
        let side = if dice.chance(0.6) { 1.0 } else { dice.between(-1.0, 1.0) };
        let zero = Ends { front: dice.normal(TAPE), rear: dice.normal(TAPE) };
        let mut read = |end: End, load: &str, settled, side: f64| {
            let sag = self.sag(end, self.wheel(end), load, side * self.friction.at(end));
            let sag = Length::from_si(sag + zero.at(end) + dice.normal(TAPE));
            Reading::of_sag(end, Load::parse(load).unwrap(), sag, settled).unwrap()
        };
        vec![
            read(End::Front, "bike + rider", None, side),
            read(End::Rear, "bike + rider", Some(Settled::Low), 1.0),
            read(End::Rear, "bike", Some(Settled::Middle), 0.0),
        ]
    }

    /// The real end with other springs.
    pub(crate) fn with(&self, end: End, rate: SpringRate, preload: f64) -> Box<dyn Wheel> {
        let preload = Length::from_si(preload);
        match end {
            End::Front => Box::new(self.front.with_spring_rate(rate, preload).unwrap()),
            End::Rear => Box::new(self.rear.with_spring_rate(rate, preload).unwrap()),
        }
    }

    /// Preload and free sag of the real end with real springs of this rate whose rider sag is this:
    /// `F_w = MR·(k·(s + p) + R(s)) = W`.
    pub(crate) fn set(&self, end: End, rate: SpringRate, rider_sag: f64) -> (f64, f64) {
        let wheel = self.wheel(end);
        let springs = wheel.main_spring().map_or(1.0, |main| main.each.len() as f64);
        let travel = (rider_sag / self.as_read(end, 1.0)).min(wheel.full_travel().si());
        let at = wheel.stroke_at(Length::from_si(travel));
        let axial = self.load(end, "bike + rider").si() / at.motion_ratio.si() - wheel.rest(at.stroke).force.si();
        let preload = axial / (springs * rate.si()) - at.stroke.si();
        (preload, self.sag(end, self.with(end, rate, preload).as_ref(), "bike", 0.0))
    }

    /// The rate whose free sag is this at this rider sag; `None` where no usual spring gives it.
    pub(crate) fn called_for(&self, end: End, rider_sag: f64, free_sag: f64) -> Option<f64> {
        let today = self.wheel(end).main_spring()?.each[0].0.si();
        let free = |rate: f64| self.set(end, SpringRate::from_si(rate), rider_sag).1;
        let (mut low, mut high) = (0.4 * today, 2.5 * today);
        if free(low) > free_sag || free(high) < free_sag {
            return None;
        }
        for _ in 0..20 {
            let middle = f64::midpoint(low, high);
            if free(middle) < free_sag {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(f64::midpoint(low, high))
    }
}

/// Masses as they are, and as their owner knows them: totals.
fn masses(dice: &mut Dice) -> (Masses, Masses) {
    let bike = dice.between(100.0, 150.0);
    let rider = dice.between(65.0, 105.0);
    let shares = [dice.between(0.465, 0.50), dice.between(0.24, 0.40)];
    let unsprung = [dice.between(0.095, 0.132), dice.between(0.117, 0.165)];
    let scales =
        |total: f64, share: f64| Weighing::Scales(Ends { front: kg(total * share), rear: kg(total * (1.0 - share)) });
    let named = [("bike", scales(bike, shares[0])), ("rider", scales(rider, shares[1]))];
    let own = |named: [(&str, Weighing); 2]| named.map(|(name, weighing)| (name.to_owned(), weighing)).to_vec();
    let unsprung = Ends { front: kg(bike * unsprung[0]), rear: kg(bike * unsprung[1]) };
    let real = Masses::new(own(named), unsprung, None).unwrap();
    let stated = [
        ("bike", Weighing::total(kg(bike * (1.0 + dice.normal(0.015))))),
        ("rider", Weighing::total(kg(rider + dice.normal(0.5)))),
    ];
    let stated = Masses::of_unknown_unsprung(own(stated), None, wheelrate::record::Usual::any()).unwrap();
    (real, stated)
}

/// A rate that gives an end a sag under a load; `None` where no spring does.
fn rate_for(sag: f64, load: Force, with: impl Fn(f64) -> Box<dyn Wheel>) -> Option<f64> {
    let (mut low, mut high) = (1e3, 4e5);
    for _ in 0..24 {
        let middle = f64::midpoint(low, high);
        if travel(with(middle).as_ref(), load).si() > sag {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low > 1.1e3 && high < 3.9e5).then_some(low)
}

fn front(dice: &mut Dice, load: Force) -> Option<FrontEnd> {
    let full = mm(dice.between(270.0, 312.0));
    let rake = Angle::from_si(dice.between(25.0, 28.5).to_radians());
    let preload = mm(dice.between(2.0, 22.0));
    let sealing = dice.between(43.0, 49.0);
    let (bore, oil_level) = (mm(sealing - dice.between(3.0, 5.0)), mm(dice.between(95.0, 145.0)));
    let air = ForkAir::new(ForkAirParts { sealing_diameter: mm(sealing), bore, oil_level }).ok()?;
    let with = |rate: f64| {
        let leg =
            ForkLeg::new().with_spring(Preloaded::linear(SpringRate::from_si(rate), preload).unwrap()).with_air(air);
        FrontEnd::new(Fork::new(full, rake, [leg.clone(), leg]).unwrap())
    };
    let sag = dice.between(0.16, 0.28) * full.si() * rake.si().cos();
    Some(with(rate_for(sag, load, |rate| Box::new(with(rate)))?))
}

fn rear(dice: &mut Dice, load: Force) -> Option<RearEnd> {
    let linkage = linkage(dice);
    let preload = mm(dice.between(3.0, 24.0));
    let pressure = dice.between(60.0, 260.0) / (core::f64::consts::FRAC_PI_4 * 0.014 * 0.014);
    let gas = Reservoir::new(Quantity::from_si(pressure), Quantity::from_si(1.8e-4), mm(14.0)).ok()?;
    let (length, stroke) = (linkage.shock_length(), linkage.full_stroke());
    let with = |rate: f64| {
        let spring = Preloaded::linear(SpringRate::from_si(rate), preload).unwrap();
        let parts = ShockParts::new().with_spring(spring).with_reservoir(gas);
        RearEnd::from_parts(linkage.clone(), Shock::new(length, stroke, parts, 1).unwrap()).unwrap()
    };
    let sag = dice.between(0.27, 0.40) * linkage.full_travel().si();
    let rate = rate_for(sag, load, |rate| Box::new(with(rate)))?;
    Some(with(rate))
}
