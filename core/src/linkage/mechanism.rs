//! A planar mechanism as a person draws it: points, and the bodies that carry them.
//!
//! A point on two bodies is a pivot; the body named `frame` stands still; a body with two points is a link. Only pivots
//! join bodies (no sliders, gears or belts); the shock is not a body, it is put in by [`super::Linkage`].

mod mobility;

use std::collections::HashMap;

use crate::error::{Address, LinkageError};
use crate::units::{Length, Quantity, check};

/// Name of the body that stands still.
pub const FRAME: &str = "frame";
/// Largest coordinate, in metres: no drawing of a bike has its origin further away.
const LARGEST_COORDINATE: f64 = 10.0;
/// Points of one body closer than this, in metres, are one point: no two pivots fit so close.
const COINCIDENT: f64 = 1e-6;

/// Points and the bodies that carry them, with exactly one degree of freedom.
///
/// ```
/// use wheelrate::linkage::Mechanism;
/// use wheelrate::units::{Length, parse};
/// let at = |x: &str, z: &str| -> Result<[Length; 2], wheelrate::error::UnitError> { Ok([parse(x)?, parse(z)?]) };
/// let swingarm_only = Mechanism::new(
///     [("pivot", at("0 mm", "0 mm")?), ("axle", at("-575 mm", "-165 mm")?), ("top", at("-100 mm", "329 mm")?), ("eye", at("-250 mm", "-40 mm")?)],
///     [("frame", vec!["pivot", "top"]), ("swingarm", vec!["pivot", "axle", "eye"])],
/// )?;
/// assert_eq!(swingarm_only.degrees_of_freedom(), 1);
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Mechanism {
    points: Vec<Point>,
    bodies: Vec<Body>,
    frame: usize,
}

#[derive(Debug, Clone, PartialEq)]
struct Point {
    name: String,
    at: [Length; 2],
}

#[derive(Debug, Clone, PartialEq)]
struct Body {
    name: String,
    points: Vec<usize>,
}

impl Mechanism {
    /// A mechanism from named points (x forward, z up, any origin on the frame) and named bodies.
    ///
    /// # Errors
    /// [`LinkageError`] with every fault found: names given twice or not known, points on no body or in one place,
    /// bodies with too few points or welded together, no `frame`, and, when all that is right, a mobility other than 1.
    pub fn new<P, B, N>(
        points: impl IntoIterator<Item = (P, [Length; 2])>,
        bodies: impl IntoIterator<Item = (B, impl IntoIterator<Item = N>)>,
    ) -> Result<Self, LinkageError>
    where
        P: Into<String>,
        B: Into<String>,
        N: AsRef<str>,
    {
        let mut faults = Vec::new();
        let mut mechanism = Self { points: Vec::new(), bodies: Vec::new(), frame: usize::MAX };
        for (name, at) in points {
            mechanism.take_point(name.into(), at, &mut faults);
        }
        let index: HashMap<String, usize> =
            mechanism.points.iter().enumerate().map(|(at, point)| (point.name.clone(), at)).collect();
        for (name, carried) in bodies {
            mechanism.take_body(name.into(), carried, &index, &mut faults);
        }
        mechanism.check_frame(&mut faults);
        mechanism.check_points(&mut faults);
        mechanism.check_bodies(&mut faults);
        LinkageError::collect(faults)?;
        mechanism.check_mobility()?;
        Ok(mechanism)
    }

    fn take_point(&mut self, name: String, at: [Length; 2], faults: &mut Vec<LinkageError>) {
        let limit = Length::from_si(LARGEST_COORDINATE);
        let of = |axis: usize| Address::default().key("points").key(&name).row(axis).to_string();
        for (axis, coordinate) in at.into_iter().enumerate() {
            if let Err(fault) = check::plausible("coordinate", coordinate, -limit, limit) {
                faults.push(fault.of_field(of(axis)).into());
            }
        }
        if self.points.iter().any(|point| point.name == name) {
            faults.push(LinkageError::PointTwice { point: name });
        } else {
            self.points.push(Point { name, at });
        }
    }

    fn take_body<N: AsRef<str>>(
        &mut self,
        name: String,
        carried: impl IntoIterator<Item = N>,
        index: &HashMap<String, usize>,
        faults: &mut Vec<LinkageError>,
    ) {
        let mut points: Vec<usize> = Vec::new();
        for point in carried {
            let point = point.as_ref();
            match index.get(point) {
                None => faults.push(LinkageError::UnknownPoint {
                    by: Address::default().key("bodies").key(&name).to_string(),
                    point: point.to_owned(),
                    known: self.points.iter().map(|point| point.name.clone()).collect(),
                }),
                Some(at) if points.contains(at) => {
                    faults.push(LinkageError::PointTwiceOnBody { body: name.clone(), point: point.to_owned() });
                }
                Some(at) => points.push(*at),
            }
        }
        if self.bodies.iter().any(|body| body.name == name) {
            faults.push(LinkageError::BodyTwice { body: name });
        } else {
            self.bodies.push(Body { name, points });
        }
    }

    fn check_frame(&mut self, faults: &mut Vec<LinkageError>) {
        match self.bodies.iter().position(|body| body.name == FRAME) {
            Some(frame) => self.frame = frame,
            None => faults.push(LinkageError::NoFrame { found: self.bodies.iter().map(|b| b.name.clone()).collect() }),
        }
    }

    fn check_points(&self, faults: &mut Vec<LinkageError>) {
        for (index, point) in self.points.iter().enumerate() {
            if !self.bodies.iter().any(|body| body.points.contains(&index)) {
                faults.push(LinkageError::PointOnNoBody { point: point.name.clone() });
            }
        }
    }

    fn check_bodies(&self, faults: &mut Vec<LinkageError>) {
        for (index, body) in self.bodies.iter().enumerate() {
            match (body.points.len(), index == self.frame) {
                (0, _) => faults.push(LinkageError::TooFewPoints { body: body.name.clone(), found: "no points" }),
                (1, false) => faults.push(LinkageError::TooFewPoints { body: body.name.clone(), found: "one point" }),
                _ => {}
            }
            for (nth, &first) in body.points.iter().enumerate() {
                for &second in body.points.iter().skip(nth + 1).filter(|&&second| self.coincide(first, second)) {
                    faults.push(LinkageError::Coincident {
                        body: body.name.clone(),
                        first: self.point_name(first).to_owned(),
                        second: self.point_name(second).to_owned(),
                    });
                }
            }
            for other in self.bodies.iter().skip(index + 1) {
                let shared: Vec<String> = body
                    .points
                    .iter()
                    .filter(|point| other.points.contains(point))
                    .map(|&point| self.point_name(point).to_owned())
                    .collect();
                if shared.len() > 1 {
                    faults.push(LinkageError::Welded {
                        first: body.name.clone(),
                        second: other.name.clone(),
                        points: shared,
                    });
                }
            }
        }
    }

    fn coincide(&self, first: usize, second: usize) -> bool {
        let [a, b] = [self.coordinates(first), self.coordinates(second)];
        (a[0] - b[0]).hypot(a[1] - b[1]) < COINCIDENT
    }

    /// Degrees of freedom by Grübler–Kutzbach, `3(n − 1) − 2j`: `n` bodies with the frame, `j` pivots, one shared by
    /// `m` bodies counting `m − 1` (e.g. Norton, *Design of Machinery*, ch. 2). 1 for every mechanism that exists.
    #[must_use]
    pub fn degrees_of_freedom(&self) -> i64 {
        self.count()
    }

    /// Names and drawn positions of the points, in the order given.
    pub fn points(&self) -> impl ExactSizeIterator<Item = (&str, [Length; 2])> {
        self.points.iter().map(|point| (point.name.as_str(), point.at))
    }

    /// Names of the bodies and of the points they carry, in the order given.
    pub fn bodies(&self) -> impl ExactSizeIterator<Item = (&str, Vec<&str>)> {
        self.bodies
            .iter()
            .map(|body| (body.name.as_str(), body.points.iter().map(|&point| self.point_name(point)).collect()))
    }

    /// Drawn position of a point.
    ///
    /// # Errors
    /// [`LinkageError::UnknownPoint`].
    pub fn point(&self, name: &str) -> Result<[Length; 2], LinkageError> {
        let index = self.index_of("mechanism", name)?;
        Ok(self.points[index].at)
    }

    /// The same mechanism with one point moved.
    ///
    /// # Errors
    /// As [`Mechanism::new`], and [`LinkageError::UnknownPoint`].
    pub fn with_point(&self, name: &str, at: [Length; 2]) -> Result<Self, LinkageError> {
        let moved = self.index_of("mechanism", name)?;
        let points = self.points.iter().enumerate();
        Self::new(
            points.map(|(index, point)| (point.name.as_str(), if index == moved { at } else { point.at })),
            self.bodies(),
        )
    }

    /// The same mechanism with coordinates set: which point, which axis, where.
    ///
    /// # Errors
    /// As [`Mechanism::new`].
    #[cfg(feature = "serde")]
    pub(crate) fn moved(&self, coordinates: &[(usize, usize, f64)]) -> Result<Self, LinkageError> {
        let points = self.points.iter().enumerate().map(|(index, point)| {
            let mut at = point.at;
            for &(_, axis, to) in coordinates.iter().filter(|(moved, ..)| *moved == index) {
                at[axis] = Length::from_si(to);
            }
            (point.name.as_str(), at)
        });
        Self::new(points, self.bodies())
    }

    pub(crate) fn index_of(&self, by: &str, name: &str) -> Result<usize, LinkageError> {
        self.points.iter().position(|point| point.name == name).ok_or_else(|| LinkageError::UnknownPoint {
            by: by.to_owned(),
            point: name.to_owned(),
            known: self.points.iter().map(|point| point.name.clone()).collect(),
        })
    }

    pub(crate) fn point_name(&self, point: usize) -> &str {
        &self.points[point].name
    }

    pub(crate) fn body_name(&self, body: usize) -> &str {
        &self.bodies[body].name
    }

    pub(crate) fn frame(&self) -> usize {
        self.frame
    }

    pub(crate) fn body_count(&self) -> usize {
        self.bodies.len()
    }

    pub(crate) fn point_count(&self) -> usize {
        self.points.len()
    }

    /// Points on a body.
    pub(crate) fn on_body(&self, body: usize) -> &[usize] {
        &self.bodies[body].points
    }

    /// Bodies that carry a point.
    pub(crate) fn carriers(&self, point: usize) -> Vec<usize> {
        (0..self.bodies.len()).filter(|&body| self.bodies[body].points.contains(&point)).collect()
    }

    /// Drawn coordinates in metres.
    pub(crate) fn coordinates(&self, point: usize) -> [f64; 2] {
        let [x, z] = self.points[point].at;
        [x.si(), z.si()]
    }
}
