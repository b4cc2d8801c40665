//! A planar mechanism as a person draws it: points, and the bodies that carry them.
//!
//! A point on two bodies is a pivot; the body named `frame` stands still; a body with two points is a link. Only pivots
//! join bodies (no sliders, gears or belts); the shock is not a body, it is put in by [`super::Linkage`].

mod mobility;

use std::collections::HashMap;
use std::sync::Arc;

use crate::error::{Address, LinkageError};
use crate::units::{Length, Quantity, check};

/// Name of the body that stands still.
pub const FRAME: &str = "frame";
/// Largest coordinate, in metres: no drawing of a bike has its origin further away.
const LARGEST_COORDINATE: f64 = 10.0;
/// Points of one body closer than this, in metres, are one point: no two pivots fit so close.
const COINCIDENT: f64 = 1e-6;

/// Most points, and most bodies: four times what any suspension has. What a mechanism costs grows with the cube of them.
const MOST: [usize; 2] = [60, 40];

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
    shape: Arc<Shape>,
    /// Where each point is drawn.
    at: Vec<[Length; 2]>,
}

/// What stays when points move; mechanisms that differ in their coordinates alone share it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct Shape {
    points: Vec<String>,
    bodies: Vec<Body>,
    frame: usize,
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Body {
    name: String,
    points: Vec<usize>,
}

impl Mechanism {
    /// A mechanism from named points (x forward, z up, any origin on the frame) and named bodies.
    ///
    /// # Errors
    /// [`LinkageError::TooMany`] points or bodies; [`LinkageError`] with every fault found: names given twice or not known, points on no body or in one place,
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
        let (mut shape, mut at) = (Shape::default(), Vec::new());
        let [most_points, most_bodies] = MOST;
        for (count, (name, place)) in points.into_iter().enumerate() {
            not_too_many("points", count, most_points)?;
            let name = name.into();
            faults.extend(misplaced(&name, place));
            if shape.points.contains(&name) {
                faults.push(LinkageError::PointTwice { point: name });
            } else {
                shape.points.push(name);
                at.push(place);
            }
        }
        let index: HashMap<String, usize> =
            shape.points.iter().enumerate().map(|(at, name)| (name.clone(), at)).collect();
        for (count, (name, carried)) in bodies.into_iter().enumerate() {
            not_too_many("bodies", count, most_bodies)?;
            shape.take_body(name.into(), carried, &index, &mut faults)?;
        }
        match shape.bodies.iter().position(|body| body.name == FRAME) {
            Some(frame) => shape.frame = frame,
            None => faults.push(LinkageError::NoFrame { found: shape.bodies.iter().map(|b| b.name.clone()).collect() }),
        }
        shape.check(&mut faults);
        let mechanism = Self { shape: Arc::new(shape), at };
        mechanism.check_apart(&mut faults);
        LinkageError::collect(faults)?;
        mechanism.check_mobility()?;
        Ok(mechanism)
    }

    /// Points of one body that lie in one place.
    fn check_apart(&self, faults: &mut Vec<LinkageError>) {
        for body in &self.shape.bodies {
            for (nth, &first) in body.points.iter().enumerate() {
                for &second in body.points.iter().skip(nth + 1).filter(|&&second| self.coincide(first, second)) {
                    faults.push(LinkageError::Coincident {
                        body: body.name.clone(),
                        first: self.point_name(first).to_owned(),
                        second: self.point_name(second).to_owned(),
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
        self.shape.points.iter().zip(&self.at).map(|(name, at)| (name.as_str(), *at))
    }

    /// Names of the bodies and of the points they carry, in the order given.
    pub fn bodies(&self) -> impl ExactSizeIterator<Item = (&str, Vec<&str>)> {
        self.shape
            .bodies
            .iter()
            .map(|body| (body.name.as_str(), body.points.iter().map(|&point| self.point_name(point)).collect()))
    }

    /// Drawn position of a point.
    ///
    /// # Errors
    /// [`LinkageError::UnknownPoint`].
    pub fn point(&self, name: &str) -> Result<[Length; 2], LinkageError> {
        let index = self.index_of("mechanism", name)?;
        Ok(self.at[index])
    }

    /// The same mechanism with one point moved.
    ///
    /// # Errors
    /// As [`Mechanism::new`], and [`LinkageError::UnknownPoint`].
    pub fn with_point(&self, name: &str, at: [Length; 2]) -> Result<Self, LinkageError> {
        let moved = self.index_of("mechanism", name)?;
        let mut drawn = self.at.clone();
        drawn[moved] = at;
        self.drawn_at(drawn)
    }

    /// The same mechanism with coordinates set: which point, which axis, where.
    ///
    /// # Errors
    /// As [`Mechanism::new`].
    pub(crate) fn moved(&self, coordinates: &[(usize, usize, f64)]) -> Result<Self, LinkageError> {
        let mut drawn = self.at.clone();
        for &(point, axis, to) in coordinates {
            drawn[point][axis] = Length::from_si(to);
        }
        self.drawn_at(drawn)
    }

    /// The same points and bodies, drawn elsewhere. Names have been checked; what hangs on places is checked again.
    pub(crate) fn drawn_at(&self, at: Vec<[Length; 2]>) -> Result<Self, LinkageError> {
        let mechanism = Self { shape: Arc::clone(&self.shape), at };
        let mut faults: Vec<LinkageError> = mechanism.points().flat_map(|(name, at)| misplaced(name, at)).collect();
        mechanism.check_apart(&mut faults);
        LinkageError::collect(faults)?;
        mechanism.check_mobility()?;
        Ok(mechanism)
    }

    pub(crate) fn index_of(&self, by: &str, name: &str) -> Result<usize, LinkageError> {
        self.shape.points.iter().position(|point| point == name).ok_or_else(|| LinkageError::UnknownPoint {
            by: by.to_owned(),
            point: name.to_owned(),
            known: self.shape.points.clone(),
        })
    }

    pub(crate) fn point_name(&self, point: usize) -> &str {
        &self.shape.points[point]
    }

    pub(crate) fn body_name(&self, body: usize) -> &str {
        &self.shape.bodies[body].name
    }

    pub(crate) fn frame(&self) -> usize {
        self.shape.frame
    }

    pub(crate) fn body_count(&self) -> usize {
        self.shape.bodies.len()
    }

    pub(crate) fn point_count(&self) -> usize {
        self.shape.points.len()
    }

    /// Points on a body.
    pub(crate) fn on_body(&self, body: usize) -> &[usize] {
        &self.shape.bodies[body].points
    }

    /// Bodies that carry a point.
    pub(crate) fn carriers(&self, point: usize) -> Vec<usize> {
        self.carried_by(point).collect()
    }

    fn carried_by(&self, point: usize) -> impl Iterator<Item = usize> + '_ {
        (0..self.body_count()).filter(move |&body| self.on_body(body).contains(&point))
    }

    /// Drawn coordinates in metres.
    pub(crate) fn coordinates(&self, point: usize) -> [f64; 2] {
        let [x, z] = self.at[point];
        [x.si(), z.si()]
    }
}

impl Shape {
    fn take_body<N: AsRef<str>>(
        &mut self,
        name: String,
        carried: impl IntoIterator<Item = N>,
        index: &HashMap<String, usize>,
        faults: &mut Vec<LinkageError>,
    ) -> Result<(), LinkageError> {
        let mut points: Vec<usize> = Vec::new();
        for (count, point) in carried.into_iter().enumerate() {
            not_too_many("bodies", count, MOST[0])?;
            let point = point.as_ref();
            match index.get(point) {
                None => faults.push(LinkageError::UnknownPoint {
                    by: Address::default().key("bodies").key(&name).to_string(),
                    point: point.to_owned(),
                    known: self.points.clone(),
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
        Ok(())
    }

    fn check(&self, faults: &mut Vec<LinkageError>) {
        for (index, point) in self.points.iter().enumerate() {
            if !self.bodies.iter().any(|body| body.points.contains(&index)) {
                faults.push(LinkageError::PointOnNoBody { point: point.clone() });
            }
        }
        for (index, body) in self.bodies.iter().enumerate() {
            match (body.points.len(), body.name == FRAME) {
                (0, _) => faults.push(LinkageError::TooFewPoints { body: body.name.clone(), found: "no points" }),
                (1, false) => faults.push(LinkageError::TooFewPoints { body: body.name.clone(), found: "one point" }),
                _ => {}
            }
            for other in self.bodies.iter().skip(index + 1) {
                let shared: Vec<String> = body
                    .points
                    .iter()
                    .filter(|point| other.points.contains(point))
                    .map(|&point| self.points[point].clone())
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
}

/// Refuses one more where there are as many as may be.
fn not_too_many(place: &str, count: usize, most: usize) -> Result<(), LinkageError> {
    if count < most { Ok(()) } else { Err(LinkageError::TooMany { place: place.to_owned(), found: count + 1, most }) }
}

/// Coordinates that no drawing has.
fn misplaced(name: &str, at: [Length; 2]) -> impl Iterator<Item = LinkageError> {
    let limit = Length::from_si(LARGEST_COORDINATE);
    let faults = at.into_iter().enumerate().filter_map(move |(axis, coordinate)| {
        Some((axis, check::plausible("coordinate", coordinate, -limit, limit).err()?))
    });
    faults.map(move |(axis, fault)| {
        fault.of_field(Address::default().key("points").key(name).row(axis).to_string()).into()
    })
}
