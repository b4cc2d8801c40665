//! A bike on a road.

use pyo3::prelude::*;
use wheelrate::bike::ride::QuarterBike as Quarter;
use wheelrate::record::Ends;
use wheelrate::road::{self, LIMITS, RoadClass, RoadProfile, RoadRider};
use wheelrate::units::{
    Acceleration, DampingRate, Force, Frequency, Length, Quantity, Share, Time, Velocity, Volume, WheelRate,
};

use crate::bike::landing::{EndMotion, MovingEnd};
use crate::bike::ride::QuarterBike;
use crate::bike::whole::WholeBike;
use crate::damper::Damper;
use crate::errors::{raise, run};
use crate::plain::{Text, integer, whole};
use crate::units::shaped::{GivenAny, Shaped};
use crate::units::{Given, GivenArray, Out, OutArray, read_optional};
use crate::value::{Named, getters, result_class, rows, value_class};

/// What is simulated unless said otherwise.
const DURATION_SI: f64 = 10.0;

value_class! {
    /// A road by its roughness: one spectrum, ``G_d(n) = G_d(n₀)·(n/n₀)⁻²``.
    ///
    /// Parameters
    /// ----------
    /// grade : {"A", "B", "C", "D", "E", "F", "G", "H"}, optional
    ///     Class of ISO 8608, from very good to very bad, its middle: tarred roads are A to C, gravel and forest roads C to E, trails E
    ///     and beyond (common practice, no source).
    /// roughness : volume, optional
    ///     In place of a class: ``G_d(n₀)`` at 0.1 cycle/m, in m²/(cycle/m), which is m³.
    /// shortest, longest : length, optional
    ///     Wavelengths that are ridden over; 0.1 m to 100 m unless given.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> print(wr.Road("D").roughness.to("m**3").round(6))
    /// 0.001024 meter ** 3
    Road(road::Road)
}

getters! {
    Road {
        /// ``G_d(n₀)``.
        roughness: Out<Volume> = |road| Out(road.0.roughness());
        /// Shortest and longest wavelength.
        wavelengths: OutArray<Length> = |road| OutArray(road.0.wavelengths().to_vec());
    }
}

#[pymethods]
impl Road {
    #[new]
    #[pyo3(signature = (grade=None, *, roughness=None, shortest=None, longest=None))]
    fn new(
        py: Python<'_>,
        grade: Option<Text>,
        roughness: Option<Given<'_, Volume>>,
        shortest: Option<Given<'_, Length>>,
        longest: Option<Given<'_, Length>>,
    ) -> PyResult<Self> {
        let roughness = read_optional(roughness, "roughness")?;
        let (shortest, longest) = (read_optional(shortest, "shortest")?, read_optional(longest, "longest")?);
        let made = match (grade.as_deref(), roughness) {
            (Some(grade), None) => run(py, || RoadClass::from_letter(grade).map(road::Road::of_class))?,
            (None, Some(roughness)) => run(py, || road::Road::of_roughness(roughness))?,
            _ => {
                let message = "grade: found both or neither of `grade` and `roughness`, wanted one of them";
                return Err(raise(py, "BikeError", (message,)));
            }
        };
        let [least, most] = made.wavelengths();
        run(py, || made.with_wavelengths(shortest.unwrap_or(least), longest.unwrap_or(most))).map(Self)
    }
    /// Heights at places along the profile that a seed makes of this road; zero at the start.
    ///
    /// Parameters
    /// ----------
    /// places : array of length
    ///     Along the road.
    /// seed : int
    ///     The same profile for the same seed.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> heights = wr.Road("D").heights(([0, 1, 2], "m"), seed=1)
    /// >>> bool(heights[0] == wr.quantity("0 mm", "length"))
    /// True
    #[pyo3(signature = (places, seed: "SupportsIndex"))]
    fn heights(
        &self,
        py: Python<'_>,
        places: GivenArray<'_, Length>,
        #[pyo3(from_py_with = integer)] seed: i128,
    ) -> PyResult<OutArray<Length>> {
        let places = places.read("places")?;
        let seed = whole(py, "seed", seed)?;
        run(py, || RoadProfile::new(self.0, seed).heights(&places)).map(OutArray)
    }
}

result_class! {
    /// One end of a bike on a road. Root mean squares are about the mean.
    RoadEnd(road::RoadEnd) {
        /// Travel at rest.
        rest_travel: Out<Length> = |end| Out(end.rest_travel);
        /// Full travel.
        full_travel: Out<Length> = |end| Out(end.full_travel);
        /// By how much the mean travel is more than at rest, because the damper is harder one way than the other.
        travel_shift: Out<Length> = |end| Out(end.travel_shift);
        /// Of the travel.
        travel_rms: Out<Length> = |end| Out(end.travel_rms);
        /// Of its speed.
        travel_speed_rms: Out<Velocity> = |end| Out(end.travel_speed_rms);
        /// Of the speed along the fork or shock.
        shaft_speed_rms: Out<Velocity> = |end| Out(end.shaft_speed_rms);
        /// Of the tyre's force.
        tyre_force_rms: Out<Force> = |end| Out(end.tyre_force_rms);
        /// Force of the tyre at rest.
        tyre_load: Out<Force> = |end| Out(end.tyre_load);
        /// Does the wheel leave the ground now and then? The linear answer is then off.
        leaves_ground: bool = |end| end.leaves_ground();
        /// Linear damping rate at the wheel that takes as much energy as damper and friction do.
        damping: Out<DampingRate> = |end| Out(end.damping);
        /// The same as a share of critical.
        damping_ratio: Out<Share> = |end| Out(end.damping_ratio);
        /// How often in a kilometre the travel reaches full travel.
        bottomings_per_km: f64 = |end| end.bottomings_per_km;
        /// Chance of that in a kilometre.
        bottoming_chance: Out<Share> = |end| Out(end.bottoming_chance);
        /// How often in a kilometre the travel reaches full extension.
        top_outs_per_km: f64 = |end| end.top_outs_per_km;
    }
}

result_class! {
    /// A bike on a road, linear about its rest.
    RoadRide(road::RoadRide) {
        /// Both ends, by name.
        ends: Named<RoadEnd> = |ride| Named(vec![
            ("front".to_owned(), RoadEnd(ride.ends.front)),
            ("rear".to_owned(), RoadEnd(ride.ends.rear)),
        ]);
        /// Root mean square of the vertical acceleration of the sprung centre of gravity.
        acceleration_rms: Out<Acceleration> = |ride| Out(ride.acceleration_rms);
        /// The same weighted by frequency, as a person who stands or sits still feels it.
        weighted_acceleration_rms: Out<Acceleration> = |ride| Out(ride.weighted_acceleration_rms);
        /// What riding over a road on paper cannot show, in sentences.
        limits: Vec<&'static str> = |_| LIMITS.to_vec();
    }
}

result_class! {
    /// Root mean squares of a quarter of a bike on a road.
    QuarterRide(road::QuarterRide) {
        /// Of the travel about its mean.
        travel_rms: Out<Length> = |ride| Out(ride.travel_rms);
        /// Of its speed.
        travel_speed_rms: Out<Velocity> = |ride| Out(ride.travel_speed_rms);
        /// Of the tyre's force about its mean.
        tyre_force_rms: Out<Force> = |ride| Out(ride.tyre_force_rms);
        /// Of the acceleration of the sprung mass.
        acceleration_rms: Out<Acceleration> = |ride| Out(ride.acceleration_rms);
        /// The same weighted by frequency, as a person who stands or sits still feels it.
        weighted_acceleration_rms: Out<Acceleration> = |ride| Out(ride.weighted_acceleration_rms);
    }
}

result_class! {
    /// Amplitudes of a quarter of a bike over that of the ground, as arrays over frequency.
    QuarterResponse(road::QuarterResponses) {
        /// Of the ground.
        frequency: OutArray<Frequency> = |response| OutArray(response.frequency.clone());
        /// Of the sprung mass.
        body: OutArray<Share> = |response| OutArray(response.body.clone());
        /// Of the wheel.
        wheel: OutArray<Share> = |response| OutArray(response.wheel.clone());
        /// Of the travel.
        travel: OutArray<Share> = |response| OutArray(response.travel.clone());
        /// Amplitude of the tyre's force per that of the ground.
        tyre_force: OutArray<WheelRate> = |response| OutArray(response.tyre_force.clone());
    }
}

rows! { QuarterResponse: frequency, body, wheel, travel, tyre_force }

#[pymethods]
impl QuarterBike {
    /// How it answers ground that goes up and down, by frequency.
    ///
    /// Parameters
    /// ----------
    /// damping : damping rate
    ///     At the wheel.
    /// frequencies : array of frequency
    ///     Of the ground.
    ///
    /// Returns
    /// -------
    /// QuarterResponse
    fn response(
        &self,
        py: Python<'_>,
        damping: Given<'_, DampingRate>,
        frequencies: GivenArray<'_, Frequency>,
    ) -> PyResult<QuarterResponse> {
        let (damping, frequencies) = (damping.read("damping")?, frequencies.read("frequencies")?);
        run(py, || road::quarter_responses(&self.0, damping, &frequencies)).map(QuarterResponse)
    }
    /// On a road, with a linear damper at the wheel.
    ///
    /// Parameters
    /// ----------
    /// damping : damping rate
    ///     At the wheel.
    /// road : Road
    ///     What it is ridden over.
    /// speed : velocity
    ///     Of riding.
    ///
    /// Returns
    /// -------
    /// QuarterRide
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> quarter = wr.QuarterBike(sprung="95 kg", unsprung="17.5 kg", rate="8.3 N/mm", tyre="180 N/mm")
    /// >>> print(quarter.on_road("600 N s/m", wr.Road("D"), "60 km/h").travel_rms.round(1))
    /// 17.8 millimeter
    fn on_road(
        &self,
        py: Python<'_>,
        damping: Given<'_, DampingRate>,
        road: PyRef<'_, Road>,
        speed: Given<'_, Velocity>,
    ) -> PyResult<QuarterRide> {
        let (damping, speed, road) = (damping.read("damping")?, speed.read("speed")?, road.0);
        let quarter: Quarter = self.0;
        run(py, || road::quarter_ride(&quarter, damping, &road, speed)).map(QuarterRide)
    }
}

#[pymethods]
impl WholeBike {
    /// The settled bike on a road at a speed: travel, tyre force and comfort, linear about its rest, its dampers by the energy they
    /// take.
    ///
    /// Parameters
    /// ----------
    /// road : Road
    ///     What it is ridden over.
    /// speed : velocity
    ///     Of riding.
    /// load : str, optional
    ///     Names of masses; what rider sag is meant under unless given.
    /// front_damper, rear_damper : Damper, optional
    ///     Along the shaft, a fork's legs together; those of the bike unless given.
    /// friction : force, optional
    ///     Sliding friction at each wheel; what the file states along fork and shock unless given.
    ///
    /// Returns
    /// -------
    /// RoadRide
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo()
    /// >>> for spring in ("52 N/mm", "60 N/mm"):
    /// ...     ride = bike.what_if({"rear.shock.spring.rate": spring}).whole.on_road(wr.Road("D"), "50 km/h")
    /// ...     print(spring, ride.ends["rear"].travel_rms.round(1), ride.weighted_acceleration_rms.round(2))
    /// 52 N/mm 21.9 millimeter 2.03 meter / second ** 2
    /// 60 N/mm 22.2 millimeter 2.03 meter / second ** 2
    #[pyo3(signature = (road, speed, load=None, *, front_damper=None, rear_damper=None, friction=None))]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments on the Python side")]
    fn on_road(
        &self,
        py: Python<'_>,
        road: PyRef<'_, Road>,
        speed: Given<'_, Velocity>,
        load: Option<Text>,
        front_damper: Option<Damper>,
        rear_damper: Option<Damper>,
        friction: Option<Given<'_, Force>>,
    ) -> PyResult<RoadRide> {
        let (load, speed, road) = (self.load_or_rider(py, load.as_deref())?, speed.read("speed")?, road.0);
        let friction = read_optional(friction, "friction")?;
        let dampers = Ends { front: front_damper.map(|damper| damper.0), rear: rear_damper.map(|damper| damper.0) };
        run(py, || {
            let rider = RoadRider::with(&self.0.whole(), &load, dampers)?;
            match friction {
                Some(friction) => rider.with_friction(Ends { front: friction, rear: friction })?,
                None => rider,
            }
            .ride(&road, speed)
        })
        .map(RoadRide)
    }
}

#[pymethods]
impl MovingEnd {
    /// Rides from rest over the profile that a seed makes of a road, springs, stops and damper as they are.
    ///
    /// Parameters
    /// ----------
    /// road : Road
    ///     What it is ridden over.
    /// speed : velocity
    ///     Of riding.
    /// seed : int
    ///     The same profile for the same seed.
    /// duration : time, optional
    ///     Simulated; 10 s unless given.
    ///
    /// Returns
    /// -------
    /// EndMotion
    #[pyo3(signature = (road, speed, seed: "SupportsIndex", duration=None))]
    fn over_road(
        &self,
        py: Python<'_>,
        road: PyRef<'_, Road>,
        speed: Given<'_, Velocity>,
        #[pyo3(from_py_with = integer)] seed: i128,
        duration: Option<Given<'_, Time>>,
    ) -> PyResult<EndMotion> {
        let (road, speed) = (road.0, speed.read("speed")?);
        let duration = read_optional(duration, "duration")?.unwrap_or(Time::from_si(DURATION_SI));
        let seed = whole(py, "seed", seed)?;
        run(py, || RoadProfile::new(road, seed).ride(&self.moving()?, speed, duration)).map(EndMotion)
    }
}

/// Amplitude of a mass on spring and damper over that of the ground, at a frequency so many times its natural one.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> print(round(wr.transmissibility(2**0.5, "30 %"), 12))
/// 1.0
#[pyfunction]
pub(crate) fn transmissibility(py: Python<'_>, frequency_ratio: f64, damping_ratio: Given<'_, Share>) -> PyResult<f64> {
    let damping_ratio = damping_ratio.read("damping_ratio")?;
    run(py, || road::transmissibility(frequency_ratio, damping_ratio))
}

/// How much a standing or sitting person feels of a vertical acceleration of these frequencies: ``W_k`` of ISO 2631-1.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> print(wr.vertical_weighting(([1, 5, 20], "Hz")).round(1))
/// [48.2 103.9 63.6] percent
#[pyfunction]
pub(crate) fn vertical_weighting(py: Python<'_>, frequency: GivenAny<'_, Frequency>) -> PyResult<Shaped<Share>> {
    frequency.read("frequency")?.map(|frequency| run(py, || road::vertical_weighting(frequency).map(Share::from_si)))
}
