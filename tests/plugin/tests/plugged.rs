//! Parts of another crate reach fit, advice and sheet, and those that say the same as the library's own give the same
//! numbers.
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::panic))]

use wheelrate::axial::{AxialElement, AxialState, OwnElement};
use wheelrate::bike::{Bike, BikeParts};
use wheelrate::demo::PATROL;
use wheelrate::error::{BikeError, Error, SpringError, WheelError};
use wheelrate::fork::Fork;
use wheelrate::record::{Direction, End, Load, Measuring, Range, Reading, SagTarget, Settled, Targets};
use wheelrate::shock::{Shock, ShockParts};
use wheelrate::spring::{OwnSpring, Preloaded, Spring};
use wheelrate::units::{Force, Length, Quantity, SpringRate, UnitSystem, parse};
use wheelrate::wheel::{AxleAt, OwnEnd, StrokeAt, Tunable, Wheel};
use wheelrate_plugin_example::{Cone, LeadingLink, Rubber};

/// Two ways of adding the same few numbers up: some roundings, carried through a fit.
const SAME: f64 = 1e-9;

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

fn mm(length: f64) -> Length {
    Length::from_si(length * 1e-3)
}

fn with_shock(parts: ShockParts) -> Bike {
    let bike = demo();
    let rear = bike.rear().unwrap();
    let shock = Shock::new(rear.shock().length().unwrap(), rear.shock().full_stroke(), parts, 1).unwrap();
    let mut parts = bike.parts().clone();
    parts.rear = Some(rear.with_shock(shock).unwrap());
    Bike::new(parts).unwrap()
}

/// Rate, preload, friction and chances of every spring of an end: what a person reads off the sheet.
fn answers(bike: &Bike, end: End) -> Vec<f64> {
    let fit = bike.fit_end(end).unwrap();
    let advice = bike.advise_end(end).unwrap();
    let chances = advice.choices.iter().map(|choice| choice.probability.si());
    let stated =
        [fit.rate.value.si(), fit.preload.value.si(), fit.friction.value.si(), fit.rate.standard_uncertainty.si()];
    stated.into_iter().chain(chances).collect()
}

fn assert_same(one: &[f64], other: &[f64]) {
    assert_eq!(one.len(), other.len());
    for (one, other) in one.iter().zip(other) {
        assert!((one - other).abs() <= SAME * one.abs().max(1e-3), "{one} or {other}");
    }
}

/// A linear law from `touches` on, which the library has as coil and as stop.
#[derive(Debug)]
struct Linear {
    rate: f64,
    touches: f64,
    full: Option<f64>,
}

impl AxialElement for Linear {
    fn at(&self, stroke: Length) -> wheelrate::Result<AxialState> {
        let x = (stroke.si() - self.touches).max(0.0);
        let rate = if x > 0.0 || self.touches == 0.0 { self.rate } else { 0.0 };
        let energy = Force::from_si(rate * x) * Length::from_si(0.5 * x);
        Ok(AxialState { force: Force::from_si(rate * x), rate: SpringRate::from_si(rate), energy })
    }

    fn full_stroke(&self) -> Option<Length> {
        self.full.map(Length::from_si)
    }

    fn kinks(&self) -> Vec<Length> {
        vec![Length::from_si(self.touches)]
    }

    fn describe(&self) -> String {
        "linear".to_owned()
    }
}

#[test]
fn a_spring_and_a_stop_of_ones_own_answer_as_the_librarys() {
    let bike = demo();
    let known = bike.rear().unwrap().shock().parts().clone();
    // Solid where the coil is, to the bit: the sheet shows what is left, which stands on a tie of rounding.
    let solid = known.spring.as_ref().unwrap().spring().most_compression().unwrap();
    let spring = OwnSpring::new(Linear { rate: 52e3, touches: 0.0, full: Some(solid.si()) }).unwrap();
    let main = known.spring.as_ref().unwrap().replaced(spring, mm(14.0)).unwrap();
    let stop = OwnElement::new(Linear { rate: 120e3, touches: 0.104, full: Some(0.118) }).unwrap();
    let mut parts = known.clone().with_spring(main).with_element(stop);
    parts.bump_stop = None;
    let own = with_shock(parts);
    assert_same(&answers(&bike, End::Rear), &answers(&own, End::Rear));
    let kinks = own.rear().unwrap().kinks();
    assert_eq!(kinks.len(), bike.rear().unwrap().kinks().len());
    let (sheet, known) = (own.sheet(UnitSystem::Metric).unwrap(), bike.sheet(UnitSystem::Metric).unwrap());
    assert_eq!(sheet.to_text(100), known.to_text(100));
}

#[test]
fn rubber_and_a_cone_are_fitted_and_advised() {
    let known = demo().rear().unwrap().shock().parts().clone();
    let cone = OwnSpring::new(Cone::new(SpringRate::from_si(48e3), mm(240.0))).unwrap();
    let mut parts = known.clone().with_spring(Preloaded::new(cone, mm(14.0)).unwrap());
    parts.bump_stop = None;
    let soft = with_shock(parts.clone());
    let stopped = OwnElement::new(Rubber::new(mm(118.0), mm(20.0), Force::from_si(6e3))).unwrap();
    let bike = with_shock(parts.with_element(stopped));
    let rear = bike.rear().unwrap();
    // The rubber adds its 6 kN at full stroke and nothing before it touches.
    let ratio = rear.at(rear.full_travel()).unwrap().motion_ratio.si();
    let added = |travel| {
        let force = |bike: &Bike| bike.rear().unwrap().at(travel).unwrap().wheel_force.si();
        force(&bike) - force(&soft)
    };
    assert!((added(rear.full_travel()) - 6e3 * ratio).abs() < 1e-6);
    assert_eq!(added(mm(100.0)), 0.0);
    let fit = bike.fit_end(End::Rear).unwrap();
    // The label is 5 % wide; the readings are of a 52 N/mm coil, which the cone's mean rate is near.
    assert!((fit.rate_factor.value.si() - 1.0).abs() < 0.1, "{:?}", fit.rate_factor);
    let advice = bike.advise_end(End::Rear).unwrap();
    assert!(bike.parts().on_sale.rear.iter().all(|rate| advice.choice(*rate).is_some()), "{:?}", advice.choices);
    let sheet = bike.sheet(UnitSystem::Metric).unwrap();
    assert_eq!(sheet.ends.iter().map(|part| part.end).collect::<Vec<_>>(), End::BOTH);
}

/// The library's fork, seen as somebody else's end.
#[derive(Debug)]
struct AsFork(Fork);

impl Wheel for AsFork {
    fn full_travel(&self) -> Length {
        self.0.full_stroke() * self.0.rake().si().cos()
    }

    fn stroke_at(&self, travel: Length) -> StrokeAt {
        let motion_ratio = self.0.motion_ratio();
        StrokeAt { stroke: travel * motion_ratio.si(), motion_ratio, motion_ratio_slope: parse("0 1/m").unwrap() }
    }

    fn springs(&self, stroke: Length) -> AxialState {
        let springs = self.0.legs().iter().filter_map(|leg| leg.spring());
        springs.fold(AxialState::none(), |sum, spring| {
            let one = spring.spring().at((stroke + spring.preload()).max(mm(0.0))).unwrap();
            AxialState { force: sum.force + one.force, rate: sum.rate + one.rate, energy: sum.energy + one.energy }
        })
    }

    fn rest(&self, stroke: Length) -> AxialState {
        self.0.gas_at(stroke.max(mm(0.0)).min(self.0.full_stroke())).unwrap()
    }

    fn main_spring(&self) -> Option<wheelrate::spring::MainSpring> {
        self.0.main_spring()
    }

    fn adjuster(&self) -> Option<wheelrate::spring::Adjuster> {
        self.0.legs().iter().find_map(|leg| leg.spring())?.adjuster().copied()
    }
}

/// The demo bike with another front end, read vertically.
fn with_front(end: OwnEnd, readings: Vec<Reading>) -> Bike {
    let mut parts: BikeParts = demo().parts().clone();
    parts.front = None;
    parts.own.front = Some(end);
    parts.measuring.front = Some(Measuring::new(Direction::Vertical, mm(1.5)).unwrap());
    let range = Range { from: mm(60.0), to: mm(75.0) };
    let rider_sag = SagTarget::new(mm(67.0), range, Direction::Vertical).unwrap();
    parts.targets.front = Targets { rider_sag: Some(rider_sag), free_sag: None, ..Targets::default() };
    parts.on_sale.front = [8.0, 8.4, 8.8].map(|rate| SpringRate::from_si(rate * 1e3)).to_vec();
    parts.scenarios = Vec::new();
    parts.changes = Vec::new();
    parts.readings = readings;
    Bike::new(parts).unwrap()
}

#[test]
fn a_fork_as_somebody_elses_end_answers_as_the_fork() {
    let bike = demo();
    let own = OwnEnd::new(AsFork(bike.front().unwrap().fork().unwrap().clone())).unwrap();
    let there = with_front(own, bike.parts().readings.to_vec());
    let mut parts = there.parts().clone();
    parts.own.front = None;
    parts.front = bike.parts().front.clone();
    let known = Bike::new(parts).unwrap();
    let fits = [&known, &there].map(|bike| bike.fit_end(End::Front).unwrap());
    let stated = |at: usize| [fits[at].rate.value.si(), fits[at].preload.value.si(), fits[at].friction.value.si()];
    assert_same(&stated(0), &stated(1));
    let load = Force::from_si(650.0);
    let [one, other] =
        [known.end(End::Front), there.end(End::Front)].map(|end| end.unwrap().travel_under(load).unwrap());
    assert_same(&[one.state().unwrap().travel.si()], &[other.state().unwrap().travel.si()]);
}

/// What is true of the leading link, and nobody has stated.
const FACTOR: f64 = 1.03;
const MORE_PRELOAD_MM: f64 = 1.5;

fn leading_link() -> OwnEnd {
    let spring = Preloaded::linear(parse("8.4 N/mm").unwrap(), mm(12.0)).unwrap();
    OwnEnd::new(LeadingLink::patrol(spring).unwrap()).unwrap()
}

#[test]
fn the_springs_of_a_leading_link_are_found_from_its_readings() {
    let stated = leading_link();
    let truth = stated.with_spring_change(FACTOR, mm(MORE_PRELOAD_MM)).unwrap();
    let empty = with_front(stated.clone(), Vec::new());
    let mut readings = vec![Reading::new(End::Front, Load::None, mm(600.0), None).unwrap()];
    for load in [Load::bike_alone(), empty.parts().rider_load.clone()] {
        let force = empty.masses().unwrap().sprung_load(End::Front, &load).unwrap().value;
        for (side, sign) in [(Settled::Low, 1.0), (Settled::High, -1.0)] {
            let settled = truth.travel_under(force + Force::from_si(sign * 40.0)).unwrap();
            let travel = settled.state().expect("both loads rest on the springs").travel;
            readings.push(Reading::new(End::Front, load.clone(), mm(600.0) - travel, Some(side)).unwrap());
        }
    }
    let bike = with_front(stated, readings);
    let fit = bike.fit_end(End::Front).unwrap();
    let within = |found: f64, uncertainty: f64, truth: f64| (found - truth).abs() < 2.0 * uncertainty;
    let (rate, preload) = (fit.rate_factor, fit.preload);
    assert!(within(rate.value.si(), rate.standard_uncertainty.si(), FACTOR), "{rate:?}");
    assert!(
        within(preload.value.si(), preload.standard_uncertainty.si(), mm(12.0 + MORE_PRELOAD_MM).si()),
        "{preload:?}"
    );
    assert!(
        (fit.friction.value.si() - 40.0).abs() < 2.0 * fit.friction.standard_uncertainty.si(),
        "{:?}",
        fit.friction
    );
    assert!(fit.from_readings.rate.si() > 0.0);
    let advice = bike.advise_end(End::Front).unwrap();
    assert_eq!(advice.choices.len(), 3);
    let load = bike.masses().unwrap().sprung_load(End::Front, &bike.parts().rider_load).unwrap().value;
    for choice in &advice.choices {
        // Set as advised, the true end sinks as far as is wanted, up to what the fit does not know.
        let outcome = choice.outcome.expect("every one of the three can be set");
        let turned = outcome.preload_change.value;
        let set = if choice.is_fitted {
            truth.with_spring_change(1.0, turned).unwrap()
        } else {
            truth.with_spring_rate(choice.rate, mm(12.0) + turned).unwrap()
        };
        let sag = set.travel_under(load).unwrap().state().unwrap().travel;
        assert!((sag - mm(67.0)).si().abs() < 4e-3, "{}: {sag:?}", choice.rate);
    }
    let sheet = bike.sheet(UnitSystem::Metric).unwrap();
    assert!(sheet.to_text(100).contains("an end of its own, taken as exact"));
    // Other springs go in without a word from the end: the same coil again changes nothing.
    let own = bike.parts().own.front.as_ref().unwrap();
    let again = own.with_spring_rate(parse("8.4 N/mm").unwrap(), mm(12.0)).unwrap();
    for travel in own.travels(7) {
        let [one, other] = [own, &again].map(|end| end.at(travel).unwrap());
        assert_same(
            &[one.wheel_force.si(), one.wheel_rate.si(), one.energy.si()],
            &[other.wheel_force.si(), other.wheel_rate.si(), other.energy.si()],
        );
    }
}

#[test]
fn what_stays_closed_says_so() {
    let bike = with_front(leading_link(), Vec::new());
    let purpose = |error: Error| match error {
        Error::Bike(BikeError::Missing { part, purpose }) => (part, purpose),
        other => panic!("{other}"),
    };
    let (part, why) = purpose(bike.whole().stances().unwrap_err());
    assert_eq!(part, "front.fork");
    assert_eq!(why, "the front end is one of your own, and what is asked needs a fork or a linkage");
    let mut both = bike.parts().clone();
    both.front = demo().parts().front.clone();
    let error = Bike::new(both).unwrap_err();
    assert_eq!(error, Error::Bike(BikeError::TwoEnds { end: End::Front, part: "a fork or a linkage" }));
}

#[test]
fn a_part_of_ones_own_is_not_written_into_a_file() {
    let own = || OwnElement::new(Rubber::new(mm(118.0), mm(20.0), Force::from_si(6e3))).unwrap();
    let shock = with_shock(demo().rear().unwrap().shock().parts().clone().with_element(own()));
    assert_eq!(wheelrate::file::ends_without_text(&shock), [End::Rear]);
    assert_eq!(wheelrate::file::ends_without_text(&with_front(leading_link(), Vec::new())), [End::Front]);
    assert_eq!(wheelrate::file::ends_without_text(&demo()), []);
    let refused = serde_json::to_string(&shock).unwrap_err().to_string();
    assert_eq!(
        refused,
        "the rear end, or something in it, is of your own and has no text form: leave it out of the file, and put it in from code"
    );
    let refused = serde_json::to_string(shock.rear().unwrap().shock()).unwrap_err().to_string();
    assert!(refused.starts_with("rubber bump stop is of your own"), "{refused}");
    let cone = OwnSpring::new(Cone::new(SpringRate::from_si(48e3), mm(240.0))).unwrap();
    let refused = serde_json::to_string(&Spring::from(cone)).unwrap_err().to_string();
    assert!(refused.starts_with("cone, 48 N/mm at first touch is of your own"), "{refused}");
    // The file that is written says it in the part's place, so that nobody reads another bike from it.
    let written = shock.to_toml();
    assert!(written.contains("rubber bump stop is of your own"), "{written}");
    let again = Bike::from_toml(&written).unwrap_err();
    let Error::File(faults) = &again else { panic!("{again}") };
    assert_eq!(faults.faults[0].key_path, "rear.shock.elements");
    assert!(again.to_string().contains("unknown key `elements`"), "{again}");
}

/// A front end that says its motion ratio is the other way round.
#[derive(Debug)]
struct Swapped(LeadingLink);

impl Wheel for Swapped {
    fn full_travel(&self) -> Length {
        self.0.full_travel()
    }

    fn stroke_at(&self, travel: Length) -> StrokeAt {
        let right = self.0.stroke_at(travel);
        let leverage = right.motion_ratio.leverage_ratio().si();
        StrokeAt { motion_ratio: Quantity::from_si(leverage), ..right }
    }

    fn springs(&self, stroke: Length) -> AxialState {
        self.0.springs(stroke)
    }

    fn rest(&self, stroke: Length) -> AxialState {
        self.0.rest(stroke)
    }

    fn main_spring(&self) -> Option<wheelrate::spring::MainSpring> {
        self.0.main_spring()
    }

    fn axle_at(&self, travel: Length) -> Option<AxleAt> {
        self.0.axle_at(travel)
    }
}

#[test]
fn an_end_or_an_element_that_does_not_hold_together_is_refused() {
    let spring = Preloaded::linear(parse("8.4 N/mm").unwrap(), mm(12.0)).unwrap();
    let error = OwnEnd::new(Swapped(LeadingLink::patrol(spring).unwrap())).unwrap_err();
    let Error::Wheel(WheelError::OwnEnd { found, .. }) = error else { panic!("{error}") };
    assert!(found.starts_with("stroke changes by") && found.contains("the integral of motion ratio"), "{found}");
    // Shorter than the stroke it is put on.
    let short = OwnElement::new(Rubber::new(mm(90.0), mm(20.0), Force::from_si(6e3))).unwrap();
    let parts = ShockParts::new().with_element(short);
    let error = Shock::new(mm(468.7), mm(118.0), parts, 1).unwrap_err();
    let Error::Spring(SpringError::Order { field, wanted, .. }) = error else { panic!("{error}") };
    assert_eq!((field.as_str(), wanted), ("elements: full_stroke of rubber bump stop", "not less"));
    // A spring's force starts at zero: a stop that touches late is no spring.
    let late = OwnSpring::new(Rubber::new(mm(118.0), mm(20.0), Force::from_si(6e3))).unwrap_err();
    assert!(late.to_string().contains("the rate is not above zero"), "{late}");
}

#[test]
fn the_leading_link_moves_on_its_circle() {
    // A pure check of the example's own geometry: the axle stays 268 mm from its pivot.
    let end = leading_link();
    for travel in end.travels(9) {
        let [x, z] = end.axle(travel).unwrap().map(Quantity::si);
        assert!(((x - 0.65).hypot(z + 0.06) - 0.24f64.hypot(0.12)).abs() < 1e-12);
    }
}
