//! When something was read or done: a day, `2026-05-31`, or a day with a time, `2026-05-31 19:30`.
//!
//! A day alone does not say when on that day: against another moment of the same day it has no order.

use core::cmp::Ordering;

/// A day of the Gregorian calendar, with or without a time.
/// Sorted in time, a day without a time before the times of that day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Moment {
    day: [u16; 3],
    time: Option<[u16; 3]>,
}

impl Moment {
    /// Reads `2026-05-31`, `2026-05-31 19:30` or `2026-05-31T19:30:00`.
    pub(crate) fn parse(text: &str) -> Option<Self> {
        let day @ [year, month, of_month] = numbers(text.get(..10)?, '-', [4, 2, 2])?;
        let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
        let days = match month {
            2 => 28 + u16::from(leap),
            4 | 6 | 9 | 11 => 30,
            1..=12 => 31,
            _ => 0,
        };
        if !(1..=days).contains(&of_month) {
            return None;
        }
        let rest = text.get(10..)?;
        if rest.is_empty() {
            return Some(Self { day, time: None });
        }
        let clock = rest.strip_prefix([' ', 'T'])?;
        let [hour, minute, second] = match clock.len() {
            5 => {
                let [hour, minute] = numbers(clock, ':', [2, 2])?;
                [hour, minute, 0]
            }
            _ => numbers(clock, ':', [2, 2, 2])?,
        };
        let real = hour < 24 && minute < 60 && second < 60;
        real.then_some(Self { day, time: Some([hour, minute, second]) })
    }

    /// Which came first; `None` where that is not said: the same day, and one of them without a time.
    pub(crate) fn order(self, other: Self) -> Option<Ordering> {
        match self.day.cmp(&other.day) {
            Ordering::Equal => Some(self.time?.cmp(&other.time?)),
            days => Some(days),
        }
    }

    /// Its day alone.
    pub(crate) fn day(self) -> Self {
        Self { time: None, ..self }
    }

    /// Are both of one day?
    pub(crate) fn same_day(self, other: Self) -> bool {
        self.day == other.day
    }

    /// Does it say no more than the day?
    pub(crate) fn is_whole_day(self) -> bool {
        self.time.is_none()
    }

    #[cfg(feature = "serde")]
    /// Days since the turn of the year 0 to this moment, for an axis of time (Gregorian calendar carried back).
    pub(crate) fn days(self) -> f64 {
        let [year, month, day] = self.day.map(i64::from);
        // Years that begin in March put the leap day at the end.
        let (year, month) = if month < 3 { (year - 1, month + 9) } else { (year, month - 3) };
        let whole = 365 * year + year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
        let [hour, minute, second] = self.time.unwrap_or([12, 0, 0]).map(f64::from);
        (whole + (153 * month + 2) / 5 + day) as f64 + (hour + (minute + second / 60.0) / 60.0) / 24.0
    }
}

/// Numbers of so many digits each, with a mark between them and nothing else.
fn numbers<const N: usize>(text: &str, mark: char, digits: [usize; N]) -> Option<[u16; N]> {
    let mut parts = text.split(mark);
    let mut found = [0; N];
    for (to, digits) in found.iter_mut().zip(digits) {
        let part =
            parts.next().filter(|part| part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit()))?;
        *to = part.parse().ok()?;
    }
    parts.next().is_none().then_some(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_of_the_calendar() {
        for day in ["2026-05-31", "2024-02-29", "2000-02-29", "2026-05-31 19:30", "2026-05-31T07:00:59"] {
            assert!(Moment::parse(day).is_some(), "{day}");
        }
        for other in [
            "2026-02-29",
            "1900-02-29",
            "2026-13-01",
            "2026-04-31",
            "2026-4-1",
            "26",
            "+026-05-31",
            "2026-05-31 24:00",
            "2026-05-31 19:60",
            "2026-05-31 9:30",
            "2026-05-31 19:30:00Z",
            "2026-05-31  19:30",
            "2026-05-3ö",
        ] {
            assert_eq!(Moment::parse(other), None, "{other}");
        }
    }

    #[test]
    fn a_day_alone_has_no_order_within_it() {
        let at = |text| Moment::parse(text).unwrap();
        assert_eq!(at("2026-05-31").order(at("2026-06-01 00:00")), Some(Ordering::Less));
        assert_eq!(at("2026-05-31 19:30").order(at("2026-05-31T19:30:00")), Some(Ordering::Equal));
        assert_eq!(at("2026-05-31").order(at("2026-05-31 19:30")), None);
        assert_eq!(at("2026-05-31").order(at("2026-05-31")), None);
    }

    #[cfg(feature = "serde")]
    #[test]
    fn days_count_over_leap_years() {
        let days = |text| Moment::parse(text).unwrap().days();
        // From the calendar: 2000 is a leap year, 1900 is none.
        assert_eq!(days("2000-03-01") - days("2000-02-28"), 2.0);
        assert_eq!(days("1900-03-01") - days("1900-02-28"), 1.0);
        assert_eq!(days("2027-01-01") - days("2026-01-01"), 365.0);
        assert_eq!(days("2026-05-31 18:00") - days("2026-05-31"), 0.25);
    }
}
