//! What common practice says of the sags of a bike, held against each other and against the targets stated.
//!
//! A share of travel is turned into a length along its own direction, `sag = share·sag(z_full)`; figures in different
//! directions are compared after conversion into that of the first. Where all figures on a sag overlap, the overlap is
//! what is wanted; where they do not, nothing is chosen. A target of the user's own comes before all of them, and is never
//! changed.

use std::borrow::Cow;

use super::{Bike, BikeParts, SagConversion};
use crate::error::{BikeError, Error, Result, nearest};
use crate::record::{
    CommonPractice, Direction, End, Ends, Figure, Practice, Range, SagKind, SagTarget, Targets, Usual,
};
use crate::units::{Length, Quantity};
use crate::wheel::EndKernel;

/// A figure of common practice on this bike.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct FigureOnBike {
    /// As given; on a front end on links, a figure along a fork as what it means vertically.
    pub practice: Practice,
    /// The sags that it means here, along its own direction.
    pub range: Range,
    /// Does the target of the user's own aim inside it? `None` without one.
    pub holds_own: Option<bool>,
}

/// What several figures on one sag come to.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Agreement {
    /// They overlap: this would do for all.
    Overlap(SagTarget),
    /// Two of them have nothing in common.
    Disagree,
    /// They ask for more than the sag at full travel, which is this.
    BeyondTravel(#[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))] Length),
}

/// What common practice says of one sag.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct SagPractice {
    /// Which end.
    pub end: End,
    /// Which sag.
    pub sag: SagKind,
    /// Every figure on it; at least one.
    pub figures: Vec<FigureOnBike>,
    /// What they come to.
    pub agreement: Agreement,
    /// The target of the user's own, which comes first.
    pub own: Option<SagTarget>,
    /// Sag at full travel along the direction of the first figure.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub full_sag: Length,
}

impl SagPractice {
    /// The direction of the first figure, which the overlap is along.
    #[must_use]
    pub fn direction(&self) -> Direction {
        self.figures.first().map_or(Direction::Vertical, |figure| figure.practice.direction)
    }

    /// What is wanted: the user's own, else the overlap.
    #[must_use]
    pub fn wanted(&self) -> Option<SagTarget> {
        match (self.own, self.agreement) {
            (None, Agreement::Overlap(target)) => Some(target),
            (own, _) => own,
        }
    }
}

impl BikeParts {
    /// The table of common practice that the bike goes by.
    #[must_use]
    pub fn common_practice(&self) -> &CommonPractice {
        self.practice.as_ref().unwrap_or(CommonPractice::shipped())
    }
}

impl Bike {
    /// What common practice says of the sags of one end: for the discipline stated, else for the kind of bike stated, else for
    /// what is assumed where nothing is wanted. Nothing without any of them.
    ///
    /// # Errors
    /// [`BikeError::Missing`] without the end.
    pub fn practice(&self, end: End) -> Result<Vec<SagPractice>> {
        let stated = self.parts.discipline.as_deref().or(self.parts.kind.as_deref());
        match stated.or_else(|| self.assumed_discipline(end)) {
            Some(discipline) => self.practice_of(end, discipline),
            None => Ok(Vec::new()),
        }
    }

    fn practice_of(&self, end: End, discipline: &str) -> Result<Vec<SagPractice>> {
        let table = self.parts.common_practice();
        let rows = |sag| table.on(discipline, end, sag).filter_map(|row| self.meant(row)).collect::<Vec<_>>();
        let said = SagKind::BOTH.into_iter().map(|sag| self.sag_practice(end, sag, &rows(sag)));
        said.filter_map(Result::transpose).collect()
    }

    /// A figure as it is meant here. What is read along a fork says nothing of an end of one's own; on links it is the vertical way
    /// that a fork of the same rake would go, or the same share of the vertical travel.
    fn meant<'a>(&self, row: &'a Practice) -> Option<Cow<'a, Practice>> {
        if row.direction != Direction::AlongFork {
            return Some(Cow::Borrowed(row));
        }
        let Ok(front) = self.front() else { return self.own_end(row.end).is_none().then_some(Cow::Borrowed(row)) };
        if !front.is_linked() {
            return Some(Cow::Borrowed(row));
        }
        let upright = front.rake().si().cos();
        let figure = match row.figure {
            Figure::Length(Range { from, to }) => Figure::Length(Range { from: from * upright, to: to * upright }),
            share @ Figure::Share { .. } => share,
        };
        Some(Cow::Owned(Practice { figure, direction: Direction::Vertical, ..row.clone() }))
    }

    fn sag_practice(&self, end: End, sag: SagKind, rows: &[Cow<'_, Practice>]) -> Result<Option<SagPractice>> {
        let Some(first) = rows.first() else { return Ok(None) };
        let own = self.parts.targets.at(end).of(sag);
        let mut figures = Vec::with_capacity(rows.len());
        let mut overlap: Option<Range> = None;
        for row in rows {
            let range = row.range(self.full_sag(end, row.direction)?);
            let along_first = self.along(end, range, row.direction, first.direction)?;
            overlap = Some(overlap.map_or(along_first, |so_far| common(so_far, along_first)));
            let holds_own = own.map(|own| -> Result<bool> {
                let aim = Range { from: own.value, to: own.value };
                Ok(range.contains(self.along(end, aim, own.direction, row.direction)?.from))
            });
            figures.push(FigureOnBike { practice: row.as_ref().clone(), range, holds_own: holds_own.transpose()? });
        }
        let full_sag = self.full_sag(end, first.direction)?;
        let agreement = match overlap {
            Some(Range { from, to }) if from < to && to > full_sag => Agreement::BeyondTravel(full_sag),
            Some(range) if range.from < range.to => {
                Agreement::Overlap(SagTarget { value: range.middle(), range, direction: first.direction })
            }
            _ => Agreement::Disagree,
        };
        Ok(Some(SagPractice { end, sag, figures, agreement, own, full_sag }))
    }

    /// Sag at full travel along a direction.
    fn full_sag(&self, end: End, direction: Direction) -> Result<Length> {
        let conversion = SagConversion::of(self, end, direction)?;
        Ok(Length::from_si(conversion.sag_and_slope(self.end(end)?.full()).0))
    }

    /// A range of sags along another direction. Beyond the travel it goes on at the slope of the end of travel.
    fn along(&self, end: End, range: Range, from: Direction, to: Direction) -> Result<Range> {
        if from == to {
            return Ok(range);
        }
        let (stated, wanted) = (SagConversion::of(self, end, from)?, SagConversion::of(self, end, to)?);
        let full = self.end(end)?.full();
        let ((most, slope), (there, slope_there)) = (stated.sag_and_slope(full), wanted.sag_and_slope(full));
        let convert = |sag: Length| match stated.travel(sag) {
            Ok(travel) => Length::from_si(wanted.sag_and_slope(travel.si()).0),
            Err(_) => Length::from_si(there + slope_there * (sag.si() - most) / slope),
        };
        Ok(Range { from: convert(range.from), to: convert(range.to) })
    }

    /// The targets stated, and those of common practice where none is stated and the figures agree.
    pub(super) fn all_wanted(&self) -> Ends<Targets> {
        End::BOTH.into_iter().fold(self.parts.targets, |wanted, end| {
            let mut targets = *wanted.at(end);
            for said in self.practice(end).unwrap_or_default() {
                match said.sag {
                    SagKind::Rider => targets.rider_sag = said.wanted(),
                    SagKind::Free => targets.free_sag = said.wanted(),
                }
            }
            wanted.with(end, targets)
        })
    }

    /// The discipline that an end goes by where nobody said what sag is wanted of it: that of the kind of bike, or of any where
    /// the figures of the kind do not agree on this end.
    pub(crate) fn assumed_discipline(&self, end: End) -> Option<&'static str> {
        let Targets { rider_sag, free_sag, .. } = self.parts.targets.at(end);
        let unsaid =
            self.parts.discipline.is_none() && rider_sag.is_none() && free_sag.is_none() && self.end(end).is_ok();
        let agrees = |kind: &&str| {
            let said = self.practice_of(end, kind).unwrap_or_default();
            said.iter().any(|said| said.sag == SagKind::Rider && matches!(said.agreement, Agreement::Overlap(_)))
        };
        let kinds = unsaid.then(|| [self.assumed().kind(), Usual::any().kind.as_str()]);
        kinds.into_iter().flatten().find(agrees)
    }

    pub(super) fn check_discipline(&self) -> Result<()> {
        let Some(found) = self.parts.discipline.as_deref() else { return Ok(()) };
        let known = self.parts.common_practice().disciplines();
        if known.contains(&found) {
            return Ok(());
        }
        let suggestion = nearest::nearest(found, known.iter().copied()).map(str::to_owned);
        let wanted = nearest::list(known);
        Err(Error::Bike(BikeError::Discipline { found: found.to_owned(), wanted, suggestion }))
    }
}

/// What two ranges have in common; upside down where that is nothing.
fn common(one: Range, other: Range) -> Range {
    Range {
        from: if one.from > other.from { one.from } else { other.from },
        to: if one.to < other.to { one.to } else { other.to },
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::demo::PATROL;
    use crate::wheel::Wheel;

    /// Of lengths up to a metre, some roundings.
    const SAME: f64 = 1e-12;

    fn demo() -> Bike {
        Bike::from_toml(PATROL).unwrap()
    }

    fn range(from: f64, to: f64) -> Range {
        Range { from: Length::from_si(from), to: Length::from_si(to) }
    }

    fn are_same(one: Range, other: Range) -> bool {
        (one.from - other.from).si().abs() < SAME && (one.to - other.to).si().abs() < SAME
    }

    #[test]
    fn a_range_along_another_direction_goes_on_beyond_the_travel() {
        let bike = demo();
        let upright = 26.5_f64.to_radians().cos();
        let ways = [
            (Direction::AlongFork, Direction::Vertical, upright),
            (Direction::Vertical, Direction::AlongFork, 1.0 / upright),
            (Direction::Vertical, Direction::Vertical, 1.0),
        ];
        // Within the travel of 290 mm along the fork, across its end and beyond it.
        for (from, to) in [(0.02, 0.05), (0.2, 0.9), (0.5, 0.7)] {
            for (stated, wanted, times) in ways {
                let found = bike.along(End::Front, range(from, to), stated, wanted).unwrap();
                assert!(are_same(found, range(from * times, to * times)), "{stated:?} {wanted:?}: {found:?}");
            }
        }
    }

    #[test]
    fn a_range_to_a_mark_goes_on_at_the_slope_of_the_end_of_travel() {
        let bike = demo();
        let mark = Direction::ToMark { x: Length::from_si(-0.5), z: Length::from_si(0.4) };
        let conversion = SagConversion::of(&bike, End::Rear, mark).unwrap();
        let full = bike.rear().unwrap().full_travel().si();
        let (most, slope) = conversion.sag_and_slope(full);
        let found = bike.along(End::Rear, range(full + 0.01, full + 0.03), Direction::Vertical, mark).unwrap();
        assert!(are_same(found, range(most + 0.01 * slope, most + 0.03 * slope)), "{found:?} of {most} at {slope}");
        let back = bike.along(End::Rear, found, mark, Direction::Vertical).unwrap();
        assert!(are_same(back, range(full + 0.01, full + 0.03)), "{back:?}");
    }

    #[test]
    fn a_figure_along_a_fork_is_on_links_what_a_fork_of_that_rake_would_go() {
        let linked = Bike::from_toml(include_str!("../../../tests/files/links.toml")).unwrap();
        let of = |figure: Figure, direction: Direction| {
            Practice::new("trail", End::Front, SagKind::Rider, figure, direction).unwrap()
        };
        let asked = range(0.06, 0.07);
        let along = of(Figure::Length(asked), Direction::AlongFork);
        let meant = linked.meant(&along).unwrap().into_owned();
        // The demo has a fork of the same rake.
        let demo = demo();
        let vertical = demo.along(End::Front, asked, Direction::AlongFork, Direction::Vertical).unwrap();
        assert_eq!(meant.direction, Direction::Vertical);
        let Figure::Length(found) = meant.figure else { panic!("{meant:?}") };
        assert!(are_same(found, vertical), "{found:?} {vertical:?}");
        let share = Figure::Share { from: crate::units::Share::from_si(0.2), to: crate::units::Share::from_si(0.3) };
        let meant = linked.meant(&of(share, Direction::AlongFork)).unwrap().into_owned();
        assert_eq!((meant.figure, meant.direction), (share, Direction::Vertical));
        // What runs vertically, or is on a fork, is meant as it is given.
        let upright = of(Figure::Length(asked), Direction::Vertical);
        assert_eq!(linked.meant(&upright).unwrap().as_ref(), &upright);
        assert_eq!(demo.meant(&along).unwrap().as_ref(), &along);
    }

    #[test]
    fn what_two_ranges_have_in_common_is_upside_down_where_it_is_nothing() {
        assert!(are_same(common(range(0.1, 0.3), range(0.2, 0.4)), range(0.2, 0.3)));
        assert!(are_same(common(range(0.1, 0.4), range(0.2, 0.3)), range(0.2, 0.3)));
        let none = common(range(0.1, 0.2), range(0.3, 0.4));
        assert!(none.from > none.to);
    }
}
