use super::*;
use crate::record::{Reading, Settled};
use crate::wheel::{Tunable, Wheel};

#[test]
fn explore() {
    let bike = Bike::from_toml(include_str!("../../../demo/patrol.toml")).unwrap();
    for (end, a, b, f) in [(End::Front, 1.02, 1.0e-3, 38.0), (End::Rear, 0.985, -1.2e-3, 46.0)] {
        let wheel: Box<dyn Wheel> = match end {
            End::Front => Box::new(bike.front().unwrap().with_spring_change(a, Length::from_si(b)).unwrap()),
            End::Rear => Box::new(bike.rear().unwrap().with_spring_change(a, Length::from_si(b)).unwrap()),
        };
        let conv = bike.sag_conversion(end, bike.measuring(end).unwrap().direction).unwrap();
        let mut parts = bike.parts().clone();
        let zero = bike.readings_of(end).next().unwrap().distance;
        for load in ["bike", "bike + rider"] {
            let w = bike.load(end, &Load::from_text(load)).unwrap().value;
            for (side, settled) in [(1.0, Settled::Low), (-1.0, Settled::High)] {
                let s = wheel.travel_under(w + Force::from_si(side * f)).unwrap();
                let z = s.state().map_or(Length::from_si(0.0), |s| s.travel);
                let sag = conv.sag(z).unwrap();
                println!("{end} {load} {side}: sag {:.1} k {:?}", sag.si() * 1e3, s.state().map(|s| s.rate.si()));
                parts.readings.push(Reading::new(end, Load::from_text(load), Some(settled), zero - sag).unwrap());
            }
        }
        let bike = Bike::new(parts).unwrap();
        let advice = bike.advise_end(end).unwrap();
        println!("{:#?}", advice.today);
        println!("{:?}", advice.fit.rate.show("N/mm"));
        println!("{:?} {:?} {:?}", advice.fit.preload.show("mm"), advice.fit.friction.show("N"), advice.fit.chi_square);
        println!("{:?}", advice.wanted.map(|w| (w.rate.show("N/mm"), w.from, w.to)));
        for c in &advice.choices {
            let o = c.outcome.unwrap();
            println!(
                "{} fitted {} p {:.2} {:?} preload {} turns {:?} free {} freq {} drop {} E {} Ffull {} damp {:.3} k {}",
                c.rate,
                c.is_fitted,
                c.probability.si(),
                c.reach,
                o.preload.show("mm"),
                o.turns.map(|t| t.value),
                o.free_sag.show("mm"),
                o.ride_frequency.show("Hz"),
                o.drop_height.show("mm"),
                o.energy_left.show("J"),
                o.full_force.show("N"),
                c.damping_factor,
                o.wheel_rate.show("N/mm")
            );
        }
        let units = crate::units::UnitSystem::Metric;
        println!(
            "{}\n{}\n{}",
            advice.headline(units),
            advice.reasons(units).join("\n"),
            advice.next.iter().map(|n| n.text(units)).collect::<Vec<_>>().join("\n")
        );
    }
}
