//! How the whole bike stands: rake, trail, wheelbase, both travels.

use pyo3::prelude::*;
use wheelrate::bike::{self, settling};
use wheelrate::record::Ends;
use wheelrate::units::{Acceleration, Angle, Force, Length, Mass, Share};

use crate::errors::{raise, run};
use crate::linkage::pair;
use crate::units::{Given, GivenArray, Out, OutArray, read_optional};
use crate::value::{Named, getters, result_class};
use crate::wheel::Settling;

/// Something of each end, by its name.
pub(super) fn named<T, U>(ends: Ends<T>, make: impl Fn(T) -> U) -> Named<U> {
    Named(vec![("front".to_owned(), make(ends.front)), ("rear".to_owned(), make(ends.rear))])
}

result_class! {
    /// A bike on both wheels at some travels.
    Stance(settling::Stance) {
        /// Vertical travel of each end in the frame axes.
        travel: Named<Out<Length>> = |stance| named(stance.travel, Out);
        /// Stroke along the fork.
        fork_stroke: Out<Length> = |stance| Out(stance.fork_stroke);
        /// Stroke of the shock.
        shock_stroke: Out<Length> = |stance| Out(stance.shock_stroke);
        /// Pitch of the frame against its axes, nose down.
        pitch: Out<Angle> = |stance| Out(stance.pitch);
        /// Angle of the steering axis from the vertical.
        rake: Out<Angle> = |stance| Out(stance.rake);
        /// Trail along the ground.
        trail: Out<Length> = |stance| Out(stance.trail);
        /// Trail square to the steering axis.
        normal_trail: Out<Length> = |stance| Out(stance.normal_trail);
        /// Distance of the contacts.
        wheelbase: Out<Length> = |stance| Out(stance.wheelbase);
        /// Of the line from swingarm pivot to axle below the horizontal; None where there is no such pivot.
        swingarm_angle: Option<Out<Angle>> = |stance| stance.swingarm_angle.map(Out);
        /// Height of each axle above the ground.
        axle_height: Named<Out<Length>> = |stance| named(stance.axle_height, Out);
    }
}

#[pymethods]
impl Stance {
    /// Where a point of the frame is: its distance ahead of the rear contact, and its height.
    ///
    /// Parameters
    /// ----------
    /// point : pair of lengths
    ///     In the frame axes, x forward and z up.
    fn place(&self, py: Python<'_>, point: GivenArray<'_, Length>) -> PyResult<OutArray<Length>> {
        let point = pair(py, point.read("point")?, "point")?;
        Ok(OutArray(self.0.place(point).to_vec()))
    }
    /// The point of the frame, in its axes, at this distance ahead of the rear contact and this height.
    fn point_at(&self, py: Python<'_>, place: GivenArray<'_, Length>) -> PyResult<OutArray<Length>> {
        let place = pair(py, place.read("place")?, "place")?;
        Ok(OutArray(self.0.point_at(place).to_vec()))
    }
}

result_class! {
    /// A bike come to rest, both ends and the pitch together.
    SettledBike(settling::SettledBike) {
        /// How it stands.
        stance: Stance = |settled| Stance(settled.stance.clone());
        /// How each end came to rest.
        ends: Named<Settling> = |settled| named(settled.ends.clone(), Settling);
        /// Force of the ground on each wheel, square to the ground.
        load: Named<Out<Force>> = |settled| named(settled.load, Out);
        /// Force of the ground on each wheel along the ground, forward.
        along: Named<Out<Force>> = |settled| named(settled.along, Out);
    }
}

result_class! {
    /// How a bike stands in its three states.
    Stances(bike::Stances) {
        /// Both ends fully extended, the wheels just touching.
        extended: Stance = |stances| Stance(stances.extended.clone());
        /// The bike alone.
        free: SettledBike = |stances| SettledBike(stances.free.clone());
        /// With the rider.
        rider: SettledBike = |stances| SettledBike(stances.rider.clone());
    }
}

/// The tight upper run of a chain, which carries the torque of the rear wheel.
///
/// Parameters
/// ----------
/// sprocket : pair of lengths
///     Centre of the front sprocket in the frame axes.
/// front_radius, rear_radius : length
///     Pitch radii of the sprockets.
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct Chain {
    sprocket: [Length; 2],
    front_radius: Length,
    rear_radius: Length,
}

getters! {
    Chain {
        /// Centre of the front sprocket in the frame axes.
        sprocket: OutArray<Length> = |chain| OutArray(chain.sprocket.to_vec());
        /// Pitch radius of the front sprocket.
        front_radius: Out<Length> = |chain| Out(chain.front_radius);
        /// Pitch radius of the rear sprocket.
        rear_radius: Out<Length> = |chain| Out(chain.rear_radius);
    }
}

#[pymethods]
impl Chain {
    #[new]
    #[pyo3(signature = (sprocket, *, front_radius, rear_radius))]
    fn new(
        py: Python<'_>,
        sprocket: GivenArray<'_, Length>,
        front_radius: Given<'_, Length>,
        rear_radius: Given<'_, Length>,
    ) -> PyResult<Self> {
        Ok(Self {
            sprocket: pair(py, sprocket.read("sprocket")?, "sprocket")?,
            front_radius: front_radius.read("front_radius")?,
            rear_radius: rear_radius.read("rear_radius")?,
        })
    }
    #[pyo3(signature = () -> "tuple[tuple[object, ...], dict[str, object]]")]
    fn __getnewargs_ex__(&self) -> (([String; 2],), crate::value::Named<String>) {
        let text = wheelrate::units::to_text::<Length>;
        let named = [("front_radius", self.front_radius), ("rear_radius", self.rear_radius)];
        let named = named.map(|(name, length)| (name.to_owned(), text(length)));
        ((self.sprocket.map(text),), crate::value::Named(named.into()))
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&(self.sprocket, self.front_radius, self.rear_radius))
    }
    fn __repr__(&self) -> String {
        let (([x, z],), named) = self.__getnewargs_ex__();
        let named: Vec<String> = named.0.into_iter().map(|(name, text)| format!("{name}='{text}'")).collect();
        format!("Chain(['{x}', '{z}'], {})", named.join(", "))
    }
}

/// What carries the torque of the rear wheel: by name, or a chain.
#[derive(FromPyObject)]
pub(super) enum Reaction {
    Chain(Chain),
    Name(String),
}

impl Reaction {
    fn read(self, py: Python<'_>) -> PyResult<settling::RearReaction> {
        match self {
            Self::Chain(Chain { sprocket, front_radius, rear_radius }) => {
                Ok(settling::RearReaction::Chain { sprocket, front_radius, rear_radius })
            }
            Self::Name(name) if name == "frame" => Ok(settling::RearReaction::Frame),
            Self::Name(name) if name == "swingarm" => Ok(settling::RearReaction::Swingarm),
            Self::Name(other) => {
                let message = format!("rear_reaction: found `{other}`, wanted `frame`, `swingarm` or a Chain");
                Err(raise(py, "BikeError", (message,)))
            }
        }
    }
}

/// How the bike is running; nothing where it stands on level ground.
pub(super) fn running(
    py: Python<'_>,
    slope: Option<Given<'_, Angle>>,
    acceleration: Option<Given<'_, Acceleration>>,
    front_share: Option<Given<'_, Share>>,
    rear_reaction: Option<Reaction>,
) -> PyResult<Option<settling::Running>> {
    if slope.is_none() && acceleration.is_none() && front_share.is_none() && rear_reaction.is_none() {
        return Ok(None);
    }
    let level = settling::Running::default();
    Ok(Some(settling::Running {
        slope: read_optional(slope, "slope")?.unwrap_or(level.slope),
        acceleration: read_optional(acceleration, "acceleration")?.unwrap_or(level.acceleration),
        front_share: read_optional(front_share, "front_share")?.unwrap_or(level.front_share),
        rear_reaction: rear_reaction.map_or(Ok(level.rear_reaction), |reaction| reaction.read(py))?,
    }))
}

/// The load that an acceleration moves from the front wheel to the rear one: ``m·a·h/L``; negative while braking.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> print(wr.longitudinal_transfer("221 kg", "-5 m/s2", "0.84 m", "1.48 m").round(0))
/// -627.0 newton
#[pyfunction]
pub(crate) fn longitudinal_transfer(
    py: Python<'_>,
    mass: Given<'_, Mass>,
    acceleration: Given<'_, Acceleration>,
    height: Given<'_, Length>,
    wheelbase: Given<'_, Length>,
) -> PyResult<Out<Force>> {
    let (mass, acceleration) = (mass.read("mass")?, acceleration.read("acceleration")?);
    let (height, wheelbase) = (height.read("height")?, wheelbase.read("wheelbase")?);
    run(py, || settling::longitudinal_transfer(mass, acceleration, height, wheelbase)).map(Out)
}
