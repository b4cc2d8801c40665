//! Pivots from photographs: one homography a picture, all points at once, with the covariance of all of them.
//!
//! `p ~ H·(x, z, 1)`: a plane seen by any camera. The nine numbers of `H`, up to a factor, follow from four points whose positions
//! are known, whatever the tilt, turn and distance of the camera (Hartley & Zisserman, *Multiple View Geometry in Computer
//! Vision*, ch. 4). A lens that bends straight lines moves a pixel by `p − c → (p − c)·(1 + k·r²)`, `r` the distance from the middle
//! of the picture over half its diagonal; `k` is unknown, and 0 within 0.03 unless the picture says otherwise. It needs the
//! picture's size.
//!
//! **Method.** Every pixel and every tape reading of a known point is an observation, every position, `H` and `k` an unknown: weighted
//! least squares by Gauss and Newton from the linear solution of each picture, all pictures together, so that what they share (a
//! known point that was misread) is not averaged away. The covariance is that of JCGM 102:2011 for a fit, times `χ²` per degree of
//! freedom where that is more than one: pixels read worse than was said widen it.
//!
//! **Assumes** points in one plane. A bolt nearer to the camera than the plane by `h` lies off by `h/distance` of its way from the
//! foot of the camera's normal: stand off far, and read bolts at one depth. Three known points in one line hold nothing across it.

mod observed;
mod plane;

use nalgebra::{DMatrix, DVector};

use plane::{back, spread, stepped};

use super::Mechanism;
use crate::error::LinkageError;
use crate::units::{Length, Quantity, check};

/// Known points that a picture needs.
const FEWEST_KNOWN: usize = 4;
/// Distortion at the corner of a picture that nobody stated (standard uncertainty): phones straighten theirs to a per cent, lenses
/// without that bend by a few. Common practice, no source.
const USUAL_DISTORTION: f64 = 0.03;
/// Best that a tape reads a point that is called exact (m): no observation is without an error.
const EXACT: f64 = 1e-6;
/// Steps of Gauss and Newton before it is given up, and a step that ends it (in units of half a picture).
const MOST_STEPS: usize = 50;
const SMALL_STEP: f64 = 1e-11;
/// Smallest over largest singular value of the observations below which the picture does not hold the plane.
const HELD: f64 = 1e-9;
/// Unknowns of a homography.
const H: usize = 8;

/// One picture: pixels (right, down) of points by name, known ones and others.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// Pixels by name of the point.
    pub pixels: Vec<(String, [f64; 2])>,
    /// Width and height in pixels: then the lens may bend. A lens that does not unless given.
    pub size: Option<[f64; 2]>,
}

/// What was read, and how well.
#[derive(Debug, Clone, PartialEq)]
pub struct SurveyParts {
    /// Positions of points that were measured by hand, forward and up.
    pub known: Vec<(String, [Length; 2])>,
    /// Standard uncertainty of each of their coordinates.
    pub known_uncertainty: Length,
    /// Standard uncertainty of each coordinate of a pixel, in pixels.
    pub pixel_uncertainty: f64,
    /// The pictures.
    pub pictures: Vec<Picture>,
}

/// Points surveyed: positions and their covariance.
#[derive(Debug, Clone, PartialEq)]
pub struct Survey {
    names: Vec<String>,
    /// x and z of each point in turn (m).
    places: Vec<f64>,
    /// Of those, row by row (m²).
    covariance: Vec<f64>,
    misfit: Option<f64>,
    distortion: Vec<Option<f64>>,
}

impl Survey {
    /// Works out all points from pictures of them.
    ///
    /// # Errors
    /// [`LinkageError::Survey`] naming the picture and what it lacks, or the point that stands twice;
    /// [`LinkageError::Unit`] for numbers that cannot be.
    pub fn new(parts: &SurveyParts) -> Result<Self, LinkageError> {
        check::not_negative("known_uncertainty", parts.known_uncertainty)?;
        check::plausible("known_uncertainty", parts.known_uncertainty, Length::from_si(0.0), Length::from_si(0.02))?;
        check::number_within("pixel_uncertainty", parts.pixel_uncertainty, 1e-3, 100.0)?;
        Task::new(parts)?.solved()
    }

    /// The points' names: those known by hand first, then the others as they came.
    #[must_use]
    pub fn names(&self) -> &[String] {
        &self.names
    }

    /// Positions by name, as [`Mechanism`] takes its points.
    #[must_use]
    pub fn points(&self) -> Vec<(String, [Length; 2])> {
        let place = |(name, at): (&String, &[f64])| (name.clone(), [at[0], at[1]].map(Length::from_si));
        self.names.iter().zip(self.places.chunks_exact(2)).map(place).collect()
    }

    /// Standard uncertainties of the coordinates of a point; `None` for a point that is not in it.
    #[must_use]
    pub fn uncertainty(&self, name: &str) -> Option<[Length; 2]> {
        let at = 2 * self.names.iter().position(|known| known == name)?;
        Some([at, at + 1].map(|row| Length::from_si(self.covariance[row * (self.places.len() + 1)].max(0.0).sqrt())))
    }

    /// Covariance of all coordinates, x and z of each point in the order of the names, row by row, in m².
    #[must_use]
    pub fn covariance(&self) -> &[f64] {
        &self.covariance
    }

    /// Root mean square of the standard uncertainties of all coordinates: for the one number that a bike file holds.
    #[must_use]
    pub fn coordinate_uncertainty(&self) -> Length {
        let count = self.places.len();
        let trace: f64 = (0..count).map(|row| self.covariance[row * (count + 1)]).sum();
        Length::from_si((trace / count as f64).sqrt())
    }

    /// How far off the readings are, over what was said of them: root of `χ²` per degree of freedom; `None` where nothing is left
    /// over to see it by. Much above one: a point misread, or not in the plane.
    #[must_use]
    pub fn misfit(&self) -> Option<f64> {
        self.misfit
    }

    /// Distortion of each picture at its corner, as a share of the way from the middle; `None` where its size was not given.
    #[must_use]
    pub fn distortion(&self) -> &[Option<f64>] {
        &self.distortion
    }

    /// Covariance of the coordinates of a mechanism's points, in its order; points that are not in the survey are exact.
    pub(crate) fn covariance_of(&self, mechanism: &Mechanism) -> DMatrix<f64> {
        let count = self.places.len();
        let places: Vec<Option<usize>> = mechanism
            .points()
            .flat_map(|(name, _)| {
                let at = self.names.iter().position(|known| known == name);
                [at.map(|at| 2 * at), at.map(|at| 2 * at + 1)]
            })
            .collect();
        DMatrix::from_fn(places.len(), places.len(), |row, column| match (places[row], places[column]) {
            (Some(row), Some(column)) => self.covariance[row * count + column],
            _ => 0.0,
        })
    }
}

/// What is solved, in numbers near one.
struct Task<'a> {
    parts: &'a SurveyParts,
    names: Vec<String>,
    /// Middle and scale of the known points (m).
    frame: ([f64; 2], f64),
    /// Middle and scale of each picture, and what of its readings is of which point.
    views: Vec<View>,
}

struct View {
    middle: [f64; 2],
    scale: f64,
    readings: Vec<(usize, [f64; 2])>,
    bends: bool,
}

impl<'a> Task<'a> {
    fn new(parts: &'a SurveyParts) -> Result<Self, LinkageError> {
        let mut names: Vec<String> = Vec::new();
        for (name, at) in &parts.known {
            check::finite(&format!("x of {name}"), at[0])?;
            check::finite(&format!("z of {name}"), at[1])?;
            if names.contains(name) {
                return Err(twice(None, name));
            }
            names.push(name.clone());
        }
        let known = names.len();
        let mut views = Vec::new();
        for (place, picture) in parts.pictures.iter().enumerate() {
            let mut readings: Vec<(usize, [f64; 2])> = Vec::new();
            for (name, pixel) in &picture.pixels {
                for part in pixel {
                    check::number_within(&format!("picture {}, {name}", place + 1), *part, -1e6, 1e6)?;
                }
                let at = names.iter().position(|known| known == name).unwrap_or_else(|| {
                    names.push(name.clone());
                    names.len() - 1
                });
                if readings.iter().any(|(before, _)| *before == at) {
                    return Err(twice(Some(place + 1), name));
                }
                readings.push((at, *pixel));
            }
            let found = readings.iter().filter(|(at, _)| *at < known).count();
            if found < FEWEST_KNOWN {
                return Err(LinkageError::Survey {
                    picture: Some(place + 1),
                    found: format!("{found} known points"),
                    wanted: format!("at least {FEWEST_KNOWN} points with positions known by hand, no three in a line"),
                });
            }
            let pixels: Vec<[f64; 2]> = readings.iter().map(|(_, pixel)| *pixel).collect();
            let (middle, scale) = match picture.size {
                Some([width, height]) => {
                    check::number_within("width of the picture", width, 10.0, 1e6)?;
                    check::number_within("height of the picture", height, 10.0, 1e6)?;
                    ([0.5 * width, 0.5 * height], 0.5 * width.hypot(height))
                }
                None => spread(&pixels),
            };
            views.push(View { middle, scale, readings, bends: picture.size.is_some() });
        }
        if views.is_empty() {
            return Err(LinkageError::Survey {
                picture: None,
                found: "no picture".to_owned(),
                wanted: "at least one picture".to_owned(),
            });
        }
        let places: Vec<[f64; 2]> = parts.known.iter().map(|(_, at)| at.map(|part| part.si())).collect();
        Ok(Self { parts, names, frame: spread(&places), views })
    }

    fn known(&self) -> usize {
        self.parts.known.len()
    }

    fn scaled(&self, at: [Length; 2]) -> [f64; 2] {
        let ([x, z], scale) = self.frame;
        [(at[0].si() - x) / scale, (at[1].si() - z) / scale]
    }

    fn solved(&self) -> Result<Survey, LinkageError> {
        let points = 2 * self.names.len();
        let unknowns = points + (H + 1) * self.views.len();
        let mut at = self.start(unknowns)?;
        for _ in 0..MOST_STEPS {
            let (jacobian, off) = self.observed(&at);
            let step = stepped(jacobian, &off).ok_or_else(|| self.loose())?;
            at -= &step;
            if step.amax() < SMALL_STEP {
                return self.survey(&at, points);
            }
        }
        Err(self.loose())
    }

    fn survey(&self, at: &DVector<f64>, points: usize) -> Result<Survey, LinkageError> {
        let (jacobian, off) = self.observed(at);
        // A lens that does not bend has a row and a column of its own, and so counts for nothing.
        let freedom = jacobian.nrows().saturating_sub(jacobian.ncols());
        let misfit = (freedom > 0).then(|| (off.norm_squared() / freedom as f64).sqrt());
        let svd = jacobian.svd(false, true);
        let (most, least) = (svd.singular_values.max(), svd.singular_values.min());
        let Some(v) = svd.v_t.filter(|_| least > HELD * most) else { return Err(self.loose()) };
        let (middle, scale) = self.frame;
        let widened = misfit.unwrap_or(1.0).max(1.0) * scale;
        let covariance = (0..points * points).map(|place| {
            let (row, column) = (place / points, place % points);
            let terms = svd.singular_values.iter().enumerate();
            terms.map(|(k, s)| v[(k, row)] * v[(k, column)] / (s * s)).sum::<f64>() * widened * widened
        });
        Ok(Survey {
            names: self.names.clone(),
            places: (0..points).map(|place| at[place] * scale + middle[place % 2]).collect(),
            covariance: covariance.collect(),
            misfit,
            distortion: (0..self.views.len())
                .map(|view| self.views[view].bends.then(|| at[points + (H + 1) * view + H]))
                .collect(),
        })
    }

    fn loose(&self) -> LinkageError {
        LinkageError::Survey {
            picture: (self.views.len() == 1).then_some(1),
            found: "known points that do not hold the plane".to_owned(),
            wanted: "four known points of which no three lie in a line, well apart in the picture".to_owned(),
        }
    }

    /// Known points where the tape put them, homographies by linear least squares, other points where their first picture puts them.
    fn start(&self, unknowns: usize) -> Result<DVector<f64>, LinkageError> {
        let mut at = DVector::zeros(unknowns);
        let mut placed = vec![false; self.names.len()];
        for (place, (_, position)) in self.parts.known.iter().enumerate() {
            let [x, z] = self.scaled(*position);
            (at[2 * place], at[2 * place + 1], placed[place]) = (x, z, true);
        }
        for (number, view) in self.views.iter().enumerate() {
            let rows: Vec<(usize, [f64; 2])> = view
                .readings
                .iter()
                .filter(|(point, _)| *point < self.known())
                .map(|(p, px)| (*p, view.scaled(*px)))
                .collect();
            let mut matrix = DMatrix::<f64>::zeros(2 * rows.len(), H);
            let mut right = DVector::<f64>::zeros(2 * rows.len());
            for (row, (point, [u, v])) in rows.iter().enumerate() {
                let (x, z) = (at[2 * point], at[2 * point + 1]);
                for (axis, pixel) in [u, v].into_iter().enumerate() {
                    let row = 2 * row + axis;
                    for (column, value) in [x, z, 1.0].into_iter().enumerate() {
                        matrix[(row, 3 * axis + column)] = value;
                    }
                    (matrix[(row, 6)], matrix[(row, 7)], right[row]) = (-pixel * x, -pixel * z, *pixel);
                }
            }
            let svd = matrix.svd(true, true);
            if svd.singular_values.min() <= HELD * svd.singular_values.max() {
                return Err(self.loose());
            }
            let found = svd.solve(&right, 0.0).map_err(|_| self.loose())?;
            let from = 2 * self.names.len() + (H + 1) * number;
            at.rows_mut(from, H).copy_from(&found);
            for (point, pixel) in view.readings.iter().filter(|(point, _)| !placed[*point]).copied().collect::<Vec<_>>()
            {
                let [x, z] = back(found.as_slice(), view.scaled(pixel)).ok_or_else(|| self.loose())?;
                (at[2 * point], at[2 * point + 1], placed[point]) = (x, z, true);
            }
        }
        Ok(at)
    }
}

impl View {
    fn scaled(&self, pixel: [f64; 2]) -> [f64; 2] {
        [(pixel[0] - self.middle[0]) / self.scale, (pixel[1] - self.middle[1]) / self.scale]
    }
}

fn twice(picture: Option<usize>, name: &str) -> LinkageError {
    LinkageError::Survey { picture, found: format!("`{name}` twice"), wanted: "each point once".to_owned() }
}

#[cfg(test)]
mod tests;
