//! The questions, and what is answered: in full, every number of it.

use std::fmt::Debug;

use crate::layout;
use wheelrate::Bike;
use wheelrate::axial::AxialElement as _;
use wheelrate::bike::landing::Braking;
use wheelrate::bike::{Adjustment, GeometryWish};
use wheelrate::damping::{EndDamping, damped_modes};
use wheelrate::gas::Warming;
use wheelrate::record::{End, Load};
use wheelrate::road::{Road, RoadClass, RoadRider};
use wheelrate::sweep::{Output, Scheme, Sweep, SweepAxis};
use wheelrate::units::{Acceleration, Angle, Force, Length, Quantity, Share, Temperature, Time, UnitSystem, Velocity};

/// A question and its answer.
type Answered = (String, String);

/// An answer in full. What is refused is an answer too.
fn full<T: Debug, E: std::fmt::Display>(answer: &Result<T, E>) -> String {
    match answer {
        Ok(answer) => shown(answer),
        Err(refused) => format!("refused: {refused}"),
    }
}

/// A result as Rust shows it, in lines.
fn shown(result: &impl Debug) -> String {
    layout::lines(&format!("{result:?}"))
}

/// All questions to a bike.
pub fn asked(bike: &Bike) -> Vec<Answered> {
    let mut answered = of_the_bike(bike);
    for end in [End::Front, End::Rear] {
        let of_this = of_an_end(bike, end).into_iter().chain(of_a_wheel(bike, end)).chain(of_readings(bike, end));
        answered.extend(of_this.map(|(question, answer)| (format!("{end}: {question}"), answer)));
    }
    answered.extend(of_the_linkage(bike));
    answered.extend(of_the_whole(bike));
    answered.extend(of_the_chassis(bike));
    answered.push(("sweep".into(), sweep(bike)));
    answered
}

fn put(answered: &mut Vec<Answered>, question: &str, answer: String) {
    answered.push((question.to_owned(), answer));
}

fn rider() -> Load {
    Load::parse("bike + rider").unwrap()
}

fn of_the_bike(bike: &Bike) -> Vec<Answered> {
    let mut to = Vec::new();
    put(&mut to, "file", bike.to_toml());
    let sheet = bike.sheet(UnitSystem::Metric);
    put(&mut to, "sheet", sheet.as_ref().map_or_else(ToString::to_string, |sheet| sheet.to_text(110)));
    put(&mut to, "history", full(&bike.history().map(|history| history.pages(UnitSystem::Metric))));
    put(&mut to, "assumed figures", full(&bike.assumed().ranked()));
    put(&mut to, "fork in words", full(&bike.front().and_then(|front| Ok(front.fork()?.describe()))));
    put(&mut to, "shock in words", full(&bike.rear().map(|rear| rear.shock().describe())));
    to
}

fn of_readings(bike: &Bike, end: End) -> Vec<Answered> {
    let mut to = Vec::new();
    put(&mut to, "fit", full(&bike.fit_end(end)));
    put(&mut to, "advice", full(&bike.advise_end(end)));
    put(&mut to, "plan", full(&bike.plan_end(end)));
    // Their decision is the advice.
    let scenarios = bike.advise_scenarios_end(end).map(|found| (found.loads, found.springs));
    put(&mut to, "scenarios", full(&scenarios));
    put(&mut to, "history", full(&bike.history_end(end)));
    put(&mut to, "common practice", full(&bike.practice(end)));
    let study = match bike.study(end) {
        Ok(study) => study,
        Err(refused) => {
            put(&mut to, "study", format!("refused: {refused}"));
            return to;
        }
    };
    put(&mut to, "assumptions", full(&study.assumptions()));
    put(&mut to, "doubts", full(&study.doubts()));
    put(&mut to, "riders", full(&study.advise_riders()));
    put(&mut to, "as stated", full(&study.as_stated().map(|study| study.fit())));
    put(&mut to, "draws", full(&study.monte_carlo(200, 7)));
    put(&mut to, "rehearsal", full(&study.rehearse(100, 7)));
    to
}

fn of_an_end(bike: &Bike, end: End) -> Vec<Answered> {
    let mut to = Vec::new();
    let kernel = match bike.end(end) {
        Ok(kernel) => kernel,
        Err(refused) => return vec![("end".into(), format!("refused: {refused}"))],
    };
    let travels = kernel.travels(7);
    put(&mut to, "curve", full(&kernel.curve(&travels)));
    put(&mut to, "fast curve", full(&kernel.fast_curve(travels[2], &travels)));
    put(&mut to, "kinks", shown(&kernel.kinks()));
    put(&mut to, "axle", full(&travels.iter().map(|&travel| kernel.axle(travel)).collect::<Result<Vec<_>, _>>()));
    put(&mut to, "main spring", shown(&kernel.main_spring()));
    put(&mut to, "friction", shown(&kernel.friction()));
    put(&mut to, "adjuster", shown(&kernel.adjuster()));
    put(&mut to, "clearance of the coils", shown(&kernel.bind_clearance()));
    for force in [40.0, 700.0, 1500.0, 9000.0] {
        put(&mut to, &format!("travel under {force} N"), full(&kernel.travel_under(Force::from_si(force))));
    }
    let load = rider();
    put(&mut to, "masses", full(&bike.masses().and_then(|masses| Ok(masses.wheel_mass(end, &load)?))));
    put(&mut to, "sprung load", full(&bike.masses().and_then(|masses| Ok(masses.sprung_load(end, &load)?))));
    to
}

fn of_a_wheel(bike: &Bike, end: End) -> Vec<Answered> {
    let (mut to, load) = (Vec::new(), rider());
    let damping = EndDamping::of(bike, end, &load);
    let travels = [0.03, 0.11].map(Length::from_si);
    let curve = damping.and_then(|damping| damping.curve(&travels, Velocity::from_si(0.2)));
    put(&mut to, "damping", full(&curve));
    let whole = bike.whole();
    let moving = || whole.moving_end(end, &load, Force::from_si(30.0), bike.end(end)?.damper());
    let landing = moving().and_then(|moving| moving.land(Length::from_si(0.4), Time::from_si(0.02)));
    put(&mut to, "landing", full(&landing));
    let bump = moving().and_then(|moving| moving.step(Length::from_si(0.05), Time::from_si(0.01), Time::from_si(0.02)));
    put(&mut to, "bump", full(&bump));
    let warming = Warming::new(Temperature::from_si(288.15), Temperature::from_si(338.15), Time::from_si(600.0));
    let times = [0.0, 300.0, 1800.0].map(Time::from_si);
    let descent = warming.and_then(|warming| {
        whole.descent(end, &load, &warming.with_time_constant_uncertainty(Time::from_si(90.0))?, &times)
    });
    put(&mut to, "descent", full(&descent));
    to
}

fn of_the_linkage(bike: &Bike) -> Vec<Answered> {
    let mut to = Vec::new();
    let step = Length::from_si(1e-3);
    let rear = match bike.rear() {
        Ok(rear) => rear,
        Err(_) => return to,
    };
    let travel = Length::from_si(0.09);
    put(&mut to, "rear, 1 mm longer", full(&rear.effects_at(travel, step)));
    put(&mut to, "rear under a load, 1 mm longer", full(&rear.effects_under(Force::from_si(1300.0), step)));
    put(&mut to, "rear band", full(&rear.uncertain(travel)));
    put(&mut to, "chain", full(&rear.chain(&[0.0, 0.1, 0.2].map(Length::from_si), Length::from_si(0.02))));
    let fronts = bike.front().and_then(|front| front.linkage());
    for (name, linkage) in [("rear", rear.linkage()), ("front", fronts)] {
        let Ok(linkage) = linkage else { continue };
        let travels = linkage.travels(5);
        put(&mut to, &format!("{name} linkage"), full(&linkage.curve(&travels)));
        put(&mut to, &format!("{name} pose"), full(&linkage.pose(travels[2])));
        put(&mut to, &format!("{name} progression"), shown(&linkage.progression()));
        put(&mut to, &format!("{name} ranking"), full(&linkage.ranking(step)));
        put(&mut to, &format!("{name} effects"), full(&linkage.effects(travels[2], step)));
        let known = linkage.with_pivot_uncertainty(&travels[..2], step, step);
        put(&mut to, &format!("{name} pivots known to 1 mm"), full(&known));
        put(&mut to, &format!("{name} drawing"), shown(&(linkage.drawn_travel(), linkage.notes())));
    }
    to
}

fn of_the_whole(bike: &Bike) -> Vec<Answered> {
    let (mut to, whole, load) = (Vec::new(), bike.whole(), rider());
    let travels = [0.02, 0.08, 0.16].map(Length::from_si);
    put(&mut to, "anti-squat", full(&whole.squat(&load, &travels)));
    put(&mut to, "anti-squat at rest", full(&whole.squat_at_rest(&load)));
    put(&mut to, "anti-rise", full(&whole.anti_rise(&load, &travels)));
    put(&mut to, "anti-rise at rest", full(&whole.anti_rise_at_rest(&load)));
    put(&mut to, "anti-dive", full(&whole.anti_dive(&load, &travels)));
    put(&mut to, "anti-dive at rest", full(&whole.anti_dive_at_rest(&load)));
    put(&mut to, "fork friction", full(&whole.fork_friction(Share::from_si(0.6), &travels)));
    put(&mut to, "fork friction at rest", full(&whole.fork_friction_at_rest(&load, Share::from_si(0.6))));
    put(&mut to, "pitch inertia", full(&whole.pitch_inertia(&load)));
    put(&mut to, "modes", full(&whole.modes(&load)));
    put(&mut to, "damped modes", full(&damped_modes(&whole, &load, Velocity::from_si(0.2))));
    let ballast =
        bike.masses().and_then(|masses| Ok(masses.ballast(&Load::parse("rider").unwrap(), masses.wheelbase())?));
    put(&mut to, "ballast", full(&ballast));
    let shifted = whole.with_shift("rider", Length::from_si(0.05), Length::from_si(0.02));
    put(&mut to, "rider 5 cm forward", full(&shifted.and_then(|bike| bike.whole().modes(&load))));
    let road = Road::of_class(RoadClass::D);
    let ride = RoadRider::of(&whole, &load).and_then(|rider| rider.ride(&road, Velocity::from_si(15.0)));
    put(&mut to, "on a road", full(&ride));
    to
}

fn of_the_chassis(bike: &Bike) -> Vec<Answered> {
    let (mut to, whole, load) = (Vec::new(), bike.whole(), rider());
    put(&mut to, "stances", full(&whole.stances()));
    put(&mut to, "doubt of the geometry", {
        full(&whole.stances().and_then(|stances| whole.geometry_doubt(&load, &stances.rider.stance)))
    });
    put(&mut to, "room", full(&whole.room()));
    let wish = GeometryWish { trail: Some(Length::from_si(0.1)), rake: None };
    put(&mut to, "corrections", full(&whole.room().and_then(|room| whole.corrections(&wish, &room, &load))));
    let change = Adjustment { fork_raised: Some(Length::from_si(0.005)), ..Adjustment::default() };
    put(&mut to, "fork 5 mm up in its clamps", full(&whole.effect_of(&change, &load)));
    let moving = || whole.moving_bike(&load);
    let fall = moving().and_then(|moving| moving.land(Length::from_si(0.3), Angle::from_si(0.05), Time::from_si(0.02)));
    put(&mut to, "landing of the bike", full(&fall));
    let braking = Braking {
        deceleration: Acceleration::from_si(5.0),
        front_share: Share::from_si(0.7),
        build_up: Time::from_si(0.01),
        grip: 1.1,
    };
    put(&mut to, "braking", full(&moving().and_then(|moving| moving.brake(braking, Time::from_si(0.02)))));
    to
}

fn sweep(bike: &Bike) -> String {
    let axes = || -> Result<Vec<SweepAxis>, wheelrate::Error> {
        let preload = SweepAxis::steps("rear.shock.spring.preload", "6 mm", "9 mm", 2)?;
        Ok(vec![preload])
    };
    let outputs: Vec<String> = Output::all().map(Output::name).collect();
    let swept = axes().and_then(|axes| Sweep::with_points(bike, axes, Scheme::Grid, &outputs, 3));
    full(&swept.map(|sweep| sweep.chunk(0..2)))
}
