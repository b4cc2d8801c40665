//! One end of the bike, studied: from readings to spring rate, preload and friction, with the uncertainty of every number.
//!
//! | step | where | what comes out |
//! |---|---|---|
//! | readings to sags | [`SagRow`] | sag and friction band per load; contradictions as errors |
//! | sags to springs | [`Fit`] | rate, preload, friction with standard uncertainties and correlation; [`Finding`]s |
//! | the same by draws | [`MonteCarlo`] | a check of the covariance (JCGM 101) |
//! | before any reading | [`Rehearsal`] | what such readings would be worth, and whether their intervals hold |
//! | all of them, solved once | [`Study`] | also carried into a changed bike |
//!
//! What to do about it is the business of [`decide`](crate::decide).
//!
//! # The statistical model
//!
//! Unknown per end: a common factor `a` on the labelled rates, a common change `b` of preload, the friction `f` at the wheel,
//! the distance `d₀` at full extension, and the loads. A reading under load `W`, settled low (`σ = +1`) or high (`σ = −1`), is
//!
//! `d = d₀ − g(z) + e`, `F_w(z; a, b) = W + σ·f`, `F_w = MR·(a·G(s + b) + R(s))`
//!
//! with a normal error `e`. What is known before: `ln a` from the label's tolerance, `b` from the preload's uncertainty, both
//! about zero; loads from the scales, correlated because the bike is in all of them; `f` about 4 mm of half a friction band
//! with a standard deviation of the same size, zero or more (common practice, no source), or about the seal friction stated.
//! It is the two *forces* of a load that average to it, never the two positions. A reading on a stop is an inequality: the
//! model's travel is held at the stop, and pulls on nothing beyond it.
//!
//! Where the bike says how well its pivots or its rake were measured, and wherever a linkage is known from a table, the way
//! from wheel to shock is unknown as well: independent deviations of the stroke over the travel, of known spread before
//! anything is read. Otherwise it is taken as exact, and the sheet says so.
//!
//! The estimates are the posterior mode by weighted nonlinear least squares with exact derivatives, their covariance the
//! inverse Hessian (JCGM 100:2008).
//!
//! # Garages are not as stated
//!
//! That is the plain model, [`Study::plain`]. [`Bike::study`](crate::Bike::study), and
//! everything that asks it, doubts what is stated, by amounts that are common practice without a source:
//!
//! - Friction of a place (a load, settled from one side) is its own, with a standard deviation of a sixth of the end's, so
//!   that low and high differ by a quarter and loads too. All repeats of a place share it.
//! - Half of those who note no settling push down, four times out of five; the others do anything. Repeats show which: who pushes
//!   down reads the same again, who does anything scatters over the band. Before a repeat the place in the band is `0.4 ± 0.66`
//!   of it, not `0 ± 0.58`.
//! - The unsprung mass is known to 5 % of it, all scale readings share a bias of 0.3 kg, and what rides on the bike on the day
//!   differs by 1 % of what it puts on the wheel.
//! - One reading, or one place with all its repeats, is off by centimetres with a chance of half a per cent each, a lone
//!   extended reading of one in ten; a label means little (10 % instead of its tolerance) with a chance of 3 %. The posterior
//!   is the mixture over these single faults, brought together in one mean and one covariance. A distance that is likelier
//!   off than not is widened for good and all is solved again.
//! - Where readings and labels then agree worse than once in twenty by chance, every interval widens by `√(χ²/ν)`.
//!
//! What the answer hangs on besides is a [`Condition`] of the fit: a lone extended reading, readings that are grossly off, a
//! doubtful label, disagreement, and a file that is not of the bike that was read. A reading is called misread only where the
//! others agree without it and give springs that the label explains; else the file is suspected
//! ([`Finding::NotOneBike`]).
//!
//! Parts that were measured by readings of their own, springs, stops, linkages and tyres, are taken as they were read. A reading
//! that does not go with the others of its part is a warning ([`Finding::PartMisread`]).
//!
//! 2,000 ends a case, every arrangement of linkage among them, each with one thing as it is not stated. Flagged is an end with a
//! condition; wrong is a stated chance of 80 % or more with a true one under a half, silent the same without a condition.
//! Chances are the mean stated and the mean that came true; covered is the truth by 95 % intervals of rate, sag alone, sag with the
//! rider.
//!
//! | case | flagged | wrong | silent | chances | covered |
//! |---|---|---|---|---|---|
//! | as stated | 0.1 % | 0.3 % | 0.3 % | 79 / 81 % | 97.8, 97.8, 97.3 % |
//! | lone extended reading off by 10 mm | 100.0 % | 2.3 % | 0.0 % | 77 / 77 % | 92.1, 78.6, 78.2 % |
//! | label off by 15 %, 5 % stated | 72.0 % | 0.5 % | 0.4 % | 77 / 79 % | 84.3, 96.2, 90.6 % |
//! | rider leaning, 3 kg to one end | 2.3 % | 1.1 % | 1.0 % | 79 / 79 % | 82.0, 92.8, 71.7 % |
//! | rider 4 kg heavier on the day | 1.0 % | 0.8 % | 0.8 % | 79 / 80 % | 87.2, 95.8, 80.3 % |
//! | settling not noted, mostly pushed down (600 ends) | 3.0 % | 0.3 % | 0.3 % | 77 / 78 % | 96.5, 93.7, 93.7 % |
//! | friction 0.4 to 1.6 of its mean | 3.5 % | 0.8 % | 0.8 % | 79 / 80 % | 93.9, 94.0, 93.0 % |
//! | unsprung mass guessed 25 % low | 1.9 % | 1.2 % | 1.2 % | 79 / 76 % | 90.5, 83.3, 95.2 % |
//! | scales that all show 1.5 kg too much or too little | 0.3 % | 0.6 % | 0.6 % | 79 / 78 % | 96.4, 95.7, 96.8 % |
//!
//! `WHEELRATE_GARAGES=1000 cargo test --release -p wheelrate-tests --test invariants misspecified -- --nocapture`
//!
//! Where all is as stated the doubts make standard uncertainties a tenth (rate) to a sixth (sags) larger than the errors are: these are 0.90,
//! 0.82 and 0.87 of them, root mean square over 400 ends. They stay: intervals still hold in under 98 %, and with narrower ones
//! the rows of a heavier or a leaning rider, whose sags hold in 71 to 80 %, would hold less.
//!
//! # How well the intervals hold
//!
//! All of this section is of the plain model, in garages as stated.
//!
//! 5,000 simulated garages (random linkage, springs, gas, masses, tape, repeats; labels that err uniformly, friction from 5 to
//! 90 N whatever the prior says): share of 95 % intervals that hold the truth, and mean error in standard uncertainties.
//!
//! | quantity | front | bias | rear | bias |
//! |---|---|---|---|---|
//! | spring rate | 96.4 % | −0.01 | 95.1 % | −0.01 |
//! | preload | 94.7 % | −0.02 | 95.0 % | +0.01 |
//! | friction | 96.3 % | +0.14 | 96.2 % | −0.07 |
//! | load with rider | 95.0 % | 0.00 | 94.7 % | +0.01 |
//! | free sag today | 95.4 % | +0.01 | 95.0 % | −0.01 |
//! | rider sag today | 96.1 % | 0.00 | 94.6 % | −0.02 |
//! | free sag predicted on a new spring | 95.0 % | +0.02 | 96.2 % | +0.01 |
//!
//! With every coordinate of a pivot misread at random by 1.5 mm, the shock's length by 1 mm and the rake by 1°, and the file
//! saying so, the same 5,000 garages are covered from 94.3 % to 96.5 %, friction in front biased by +0.16 and nothing else by
//! more than 0.06.
//!
//! `WHEELRATE_GARAGES=5000 cargo test --release -p wheelrate-tests --test invariants calibration -- --nocapture`, or
//! `make calibration`, which draws `docs/calibration.png` from it.
//!
//! The same for one bike and the way it was read, in a second for 100,000 garages: [`Study::rehearse`],
//! or `wheelrate rehearse FILE` in a shell.
//!
//! # From the least that a person has
//!
//! What nobody stated is taken at what is [usual](crate::record::Usual), as an unknown with its prior: preload, the push of gas,
//! rake, the direction of the tape, the course of the motion ratio, how weights are shared between the wheels, unsprung masses.
//! 2,000 simulated garages of which the file states weights, travels, label rates, shock stroke and three sags
//! ([`Bike::study`](crate::Bike::study)); linkages of every arrangement, and a truth that is not drawn from
//! the priors. Share of 95 % intervals that hold the truth, and mean standard uncertainty:
//!
//! | quantity | front | | rear | |
//! |---|---|---|---|---|
//! | rate of today's springs | 100.0 % | 0.25 N/mm, both | 100.0 % | 1.64 N/mm |
//! | preload today | 99.7 % | 8.0 mm | 98.0 % | 3.3 mm |
//! | friction | 99.9 % | 36 N | 96.5 % | 27 N |
//! | load with rider | 99.4 % | 47 N | 99.0 % | 47 N |
//! | free sag today | 99.6 % | 6.1 mm | 100.0 % | 4.0 mm |
//! | rider sag today | 99.1 % | 5.3 mm | 98.9 % | 4.6 mm |
//! | rate called for | 99.8 % | 0.63 N/mm | 97.0 % | 5.0 N/mm |
//! | free sag on the advised spring | 98.9 % | 5.3 mm | 96.1 % | 4.6 mm |
//! | preload of the advised spring | 100.0 % | 14.9 mm | 100.0 % | 7.8 mm |
//!
//! What is advised lands both sags in front with 96 % where 89 % is stated, at the rear with 84 % where 75 % is. The spring is
//! sharp and its preload in millimetres is not, because the ratio of wheel rates needs no linkage.
//! `WHEELRATE_GARAGES=2000 cargo test --release -p wheelrate-tests --test invariants first_answer -- --nocapture`.
//!
//! # How near to the whole posterior
//!
//! Against an integration of the posterior on a grid (`tests/python/test_posterior.py`: both loads, one reading, an end on
//! its stop, next to no friction) the fit's means are within 0.05 of a standard uncertainty and its standard uncertainties
//! within 3 %; with a label of 40 %, within 0.15 and 4 %. Where the garage is as stated it is too careful in three places:
//!
//! - Readings whose settling nobody noted: their scatter says nothing of friction in the plain model, which stays as wide as it was (half as
//!   wide again as it need be, or more); sags come out a tenth too wide. [`MonteCarlo`] takes them in the same way.
//! - Friction that may be zero: ±1.96 standard uncertainties reach below zero. The interval of [`MonteCarlo`] does not.
//! - A label's tolerance that is a hard limit: rates near it come out up to 1.6 times too wide.
//!
//! # Where it fails
//!
//! The plain model expects errors of the size that was said, normal, independent; of an error far beyond that an interval holds
//! less often than it says. The doubts make verdicts safe from that, not every interval: a table above has how often each holds.
//! Hardest hit are the sags where the one reading at full extension is off (nothing else shows it), and the sag under a rider who
//! weighs or stands otherwise on the day.
//!
//! Friction that differs along the travel, gas other than stated, and a linkage measured worse than stated are not unknowns
//! here: they end up in rate and preload. Two gross errors that hide each other are not found. A rider who is heavier by the
//! same share under every load looks like a softer spring. Gas counts by its slow exponent, as settled. Where a rate is known to no better than a fifth the posterior is not
//! normal; [`MonteCarlo`] then shows it.

mod condition;
pub(crate) mod doubts;
pub(crate) mod end;
pub(crate) mod faults;
pub(crate) mod finding;
pub(crate) mod fit;
mod geometry_doubt;
pub(crate) mod habit;
pub(crate) mod held;
pub(crate) mod kept;
pub mod least_squares;
pub(crate) mod model;
mod monte_carlo;
pub(crate) mod one_bike;
pub(crate) mod path;
pub(crate) mod posterior;
pub mod probability;
pub(crate) mod readings;
mod rehearsal;
pub(crate) mod residual;
pub(crate) mod solved;
pub(crate) mod study;

pub use condition::Condition;
pub use finding::{Finding, Severity, Slip, Suspect};
pub use fit::{ChiSquare, Fit, FittedLoad, FromReadings};
pub use geometry_doubt::GeometryDoubt;
pub use kept::Kept;
pub use monte_carlo::{MonteCarlo, Sampled};
pub use readings::SagRow;
pub use rehearsal::{Rehearsal, Rehearsed};
pub use residual::ReadingCheck;
pub use study::{Fits, Study};
