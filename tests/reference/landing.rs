//! A landing against SciPy.
//!
//! Source: the equations at the head of `wheelrate::bike::landing`, written again in Python and integrated by SciPy's
//! `solve_ivp` with LSODA and with Radau (relative tolerance 1e-11), which agree to 1e-9 m. Upright motion, friction,
//! a damper with a knee, the tyre off the ground and back; nothing bottoms.

use wheelrate::bike::landing::{Damper, DamperSide, Knee, MovingEnd, MovingParts};
use wheelrate::fork::{Fork, ForkLeg};
use wheelrate::spring::Preloaded;
use wheelrate::units::{Quantity, Velocity, parse};
use wheelrate::wheel::FrontEnd;

use crate::outside::{Tolerance, agree};

#[test]
fn a_landing_agrees_with_scipy() {
    const CLOSE: Tolerance = Tolerance::absolute(1e-6, "a thousand steps at a billionth of the travel each");
    const SAME_INSTANT: Tolerance = Tolerance::absolute(1e-12, "the same instant but for rounding");
    let spring = Preloaded::linear("4.8 N/mm".parse().unwrap(), parse("6 mm").unwrap()).unwrap();
    let leg = ForkLeg::new().with_spring(spring);
    let front =
        FrontEnd::new(Fork::new(parse("290 mm").unwrap(), parse("26.5 deg").unwrap(), [leg.clone(), leg]).unwrap());
    let knee = Knee { velocity: Velocity::from_si(0.5), rate: "300 N s/m".parse().unwrap() };
    let parts = MovingParts {
        sprung: parse("77 kg").unwrap(),
        unsprung: parse("14 kg").unwrap(),
        tyre: "160 N/mm".parse().unwrap(),
        friction: parse("60 N").unwrap(),
        damper: Damper::new(
            DamperSide::with_knee("900 N s/m".parse().unwrap(), knee).unwrap(),
            DamperSide::of_rate("1500 N s/m".parse().unwrap()).unwrap(),
        ),
    };
    let landing =
        MovingEnd::front(&front, parts).unwrap().land(parse("600 mm").unwrap(), parse("2 s").unwrap()).unwrap();
    let scipy = [
        (25, 0.05, 0.1493439777),
        (50, 0.1, 0.2252320108),
        (100, 0.2, 0.1978736393),
        (200, 0.4, 0.08323773036),
        (400, 0.8, 0.06285628804),
        (800, 1.6, 0.06263347355),
    ];
    for (at, time, travel) in scipy {
        agree!(landing.time[at].si(), time, SAME_INSTANT);
        agree!(landing.travel[at].si(), travel, CLOSE, "travel in m at {time} s");
    }
    agree!(landing.peak_travel.si(), 0.230743282, CLOSE);
    agree!(landing.peak_travel_time.si(), 0.139731134, CLOSE.times(1e3));
    assert!(landing.bottoming.is_none());
}
