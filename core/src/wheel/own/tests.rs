//! Ends of a person's own: what is refused, and what goes on through.

use super::*;
use crate::spring::AdjusterParts;
use crate::units::{Energy, Force, MotionRatio, MotionRatioSlope};

const FULL: f64 = 0.3;
const RATE: f64 = 5e4;

fn mm(length: f64) -> Length {
    Length::from_si(length / 1000.0)
}

/// Half a millimetre of shock per millimetre of wheel, less a dip about one place; coils, the rate of which doubles at a stroke.
#[derive(Debug, Clone)]
struct Own {
    /// Where the motion ratio dips (m), and to what share of it.
    dip: Option<(f64, f64)>,
    /// Where the rate doubles (m), and where that is stated.
    doubles: f64,
    stated: Vec<f64>,
}

impl Default for Own {
    fn default() -> Self {
        Self { dip: None, doubles: 0.04, stated: vec![0.04] }
    }
}

impl Wheel for Own {
    fn full_travel(&self) -> Length {
        Length::from_si(FULL)
    }

    /// `MR = ½ − ½ d sech²((z − z₀)/w)`, the stroke its integral.
    fn stroke_at(&self, travel: Length) -> StrokeAt {
        const WIDTH: f64 = 0.03;
        let z = travel.si();
        let (mut stroke, mut ratio, mut slope) = (0.5 * z, 0.5, 0.0);
        if let Some((place, depth)) = self.dip {
            let [tanh, start] = [(z - place) / WIDTH, -place / WIDTH].map(f64::tanh);
            let sech = 1.0 - tanh * tanh;
            stroke -= 0.5 * depth * WIDTH * (tanh - start);
            ratio -= 0.5 * depth * sech;
            slope += depth * sech * tanh / WIDTH;
        }
        StrokeAt {
            stroke: Length::from_si(stroke),
            motion_ratio: MotionRatio::from_si(ratio),
            motion_ratio_slope: MotionRatioSlope::from_si(slope),
        }
    }

    fn springs(&self, stroke: Length) -> AxialState {
        let (s, beyond) = (stroke.si(), (stroke.si() - self.doubles).max(0.0));
        let second = if beyond > 0.0 { RATE } else { 0.0 };
        AxialState {
            force: Force::from_si(500.0 + RATE * (s + beyond)),
            rate: SpringRate::from_si(RATE + second),
            energy: Energy::from_si(500.0 * s + 0.5 * RATE * (s * s + beyond * beyond)),
        }
    }

    fn rest(&self, _: Length) -> AxialState {
        AxialState { force: Force::from_si(0.0), rate: SpringRate::from_si(0.0), energy: Energy::from_si(0.0) }
    }

    fn main_spring(&self) -> Option<MainSpring> {
        let each = Preloaded::linear(SpringRate::from_si(RATE), mm(10.0)).ok()?;
        MainSpring::of([&each].into_iter(), 1)
    }

    fn stroke_kinks(&self) -> Vec<Length> {
        self.stated.iter().copied().map(Length::from_si).collect()
    }

    fn bind_clearance(&self) -> Option<Length> {
        Some(mm(6.0))
    }

    fn adjuster(&self) -> Option<Adjuster> {
        Adjuster::new(AdjusterParts { thread_pitch: Some(mm(1.5)), least: Some(mm(4.0)), most: Some(mm(22.0)) }).ok()
    }
}

fn refusal(end: Own) -> String {
    OwnEnd::new(end).unwrap_err().to_string()
}

#[test]
fn two_are_equal_that_share_an_end_and_its_springs() {
    let end: Arc<dyn Wheel> = Arc::new(Own::default());
    let [one, other] = [&end, &end].map(|end| OwnEnd::shared(Arc::clone(end)).unwrap());
    assert!(one == other && one == one.clone());
    assert!(one != OwnEnd::new(Own::default()).unwrap(), "another end, though it does the same");
    assert!(one != one.with_spring_change(1.1, mm(0.0)).unwrap());
}

#[test]
fn what_the_end_says_goes_on_through() {
    let own = OwnEnd::new(Own::default()).unwrap();
    assert_eq!(own.adjuster(), Own::default().adjuster());
    assert_eq!((own.stroke_kinks(), own.bind_clearance()), (vec![Length::from_si(0.04)], Some(mm(6.0))));
    let changed = own.with_spring_change(1.2, mm(2.0)).unwrap();
    assert_eq!((changed.adjuster(), changed.bind_clearance()), (own.adjuster(), Some(mm(6.0) - mm(2.0))));
    // The gas and the stops stay where they were, the springs come 2 mm sooner.
    assert_eq!(changed.stroke_kinks(), [Length::from_si(0.04), Length::from_si(0.04) - mm(2.0)]);
    let state = changed.springs(mm(10.0));
    let wanted = Own::default().springs(mm(12.0));
    assert!((state.force.si() - 1.2 * wanted.force.si()).abs() < 1e-9);
    // Another rate alone moves nothing.
    assert_eq!(own.with_spring_change(1.2, mm(0.0)).unwrap().stroke_kinks(), own.stroke_kinks());
}

#[test]
fn a_rate_that_jumps_is_taken_where_the_end_says_so_and_only_there() {
    let with = |doubles: f64, stated: &[f64]| Own { doubles, stated: stated.to_vec(), ..Own::default() };
    // The full stroke is 0.15 m; that a jump stands at either end, or beyond, is nobody's fault.
    for stated in [&[0.04][..], &[0.0, 0.04, 0.15], &[0.2, 0.04, -0.1], &[0.1, 0.04]] {
        assert!(OwnEnd::new(with(0.04, stated)).is_ok(), "{stated:?}");
    }
    for stated in [&[][..], &[0.05], &[0.0, 0.15]] {
        let message = refusal(with(0.04, stated));
        assert!(message.contains("energy, force and rate of the springs"), "{message}");
    }
}

/// The dip is narrow against the travel, and its middle no usual place.
#[test]
fn a_motion_ratio_that_dips_below_zero_on_the_way_is_found() {
    for place in [0.07, 0.15, 0.23] {
        assert!(OwnEnd::new(Own { dip: Some((place, 0.95)), ..Own::default() }).is_ok(), "{place}");
        let dips = Own { dip: Some((place, 1.05)), ..Own::default() };
        let own = OwnEnd { end: Arc::new(dips), springs: Springs::Own { factor: 1.0, more: mm(0.0) } };
        let (at, found) = own.fault().unwrap();
        assert_eq!(found, "the motion ratio is not above zero");
        // Below zero where tanh² < 1 − 1/1.05; looked at every 1.5 mm.
        let half = 0.03 * (1.0_f64 - 1.0 / 1.05).sqrt().atanh();
        assert!((0.0..=FULL / PLACES as f64).contains(&(at - (place - half))), "{at} {place} {half}");
    }
}
