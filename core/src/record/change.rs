//! A log of what was done to the bike. The file describes the bike as it is now; a change says what stood there before, so
//! that the bike of an earlier day can be put together again.

use super::End;

#[cfg(feature = "serde")]
/// Keys of a spring that say how it is set, not which spring it is.
const SETTING: [&str; 4] = ["preload", "thread_pitch", "min_preload", "max_preload"];
/// Parts of the file that no reading depends on.
const ASIDE: [&str; 5] = ["bike", "targets", "scenario", "on_sale", "frame_points"];

/// Something done to the bike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// When: a day, `2026-05-31`, or a day with a time, `2026-05-31 19:30`.
    pub date: String,
    /// A note.
    pub note: Option<String>,
    /// What stood there before: key path and value, in the words of the bike file (`rear.shock.spring.rate`, `52 N/mm`).
    pub was: Vec<(String, String)>,
    /// Key paths of what was not there before.
    pub added: Vec<String>,
}

impl Change {
    /// Key paths that it touches.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.was.iter().map(|(path, _)| path.as_str()).chain(self.added.iter().map(String::as_str))
    }

    /// Does it touch what the readings of an end depend on? Masses and wheels touch both ends; targets, prices and names
    /// none.
    #[must_use]
    pub fn touches(&self, end: End) -> bool {
        self.paths().any(|path| {
            let keys = keys(path);
            let of_end = |key: Option<&&str>| key.is_none_or(|key| *key == end.name());
            match keys.first() {
                Some(&"front" | &"rear") => of_end(keys.first()),
                Some(&"prior" | &"measuring") => of_end(keys.get(1)),
                Some(key) => !ASIDE.contains(key),
                None => true,
            }
        })
    }

    /// Does it touch a key that the other touches too?
    pub(crate) fn overlaps(&self, other: &Self) -> bool {
        let meet = |one: &str, other: &str| keys(one).iter().zip(keys(other)).all(|(one, other)| *one == other);
        self.paths().any(|path| other.paths().any(|other| meet(path, other)))
    }
}

/// What it does to the unknowns of a fit.
#[cfg(feature = "serde")]
impl Change {
    /// Does it put another main spring in?
    pub(crate) fn replaces_spring(&self, end: End) -> bool {
        self.paths().any(|path| in_spring(path, end).is_some_and(|key| key.is_none_or(|key| !SETTING.contains(&key))))
    }

    /// Does it set the preload anew?
    pub(crate) fn sets_preload(&self, end: End) -> bool {
        self.paths().any(|path| in_spring(path, end).is_some_and(|key| key.is_none_or(|key| key == SETTING[0])))
            || self.replaces_spring(end)
    }

    /// Does it put another fork or shock in, with other seals?
    pub(crate) fn replaces_seals(&self, end: End) -> bool {
        let part = match end {
            End::Front => "fork",
            End::Rear => "shock",
        };
        self.paths().any(|path| {
            matches!(keys(path).as_slice(), [one] if *one == end.name()) || keys(path) == [end.name(), part]
        })
    }

    /// Does it move what lies between wheel and spring: pivots, shock length, rake?
    pub(crate) fn moves_the_way(&self, end: End) -> bool {
        self.paths().any(|path| {
            let keys = keys(path);
            let inner = || {
                keys.get(2).is_none_or(|key| ["length", "stroke", "travel"].contains(key) || key.starts_with("rake"))
            };
            keys.first() == Some(&end.name())
                && match keys.get(1) {
                    Some(&"fork" | &"shock") => inner(),
                    Some(key) => ["linkage", "measured"].contains(key),
                    None => true,
                }
        })
    }

    /// Does it put other masses on the scales?
    pub(crate) fn reweighs(&self) -> bool {
        self.paths().any(|path| keys(path).first() == Some(&"masses"))
    }
}

/// The keys and rows of a path; what stands in quotes is one key.
fn keys(path: &str) -> Vec<&str> {
    let mut quoted = false;
    let between = |sign| {
        quoted ^= sign == '"';
        !quoted && ['.', '[', ']'].contains(&sign)
    };
    path.split(between).map(|key| key.trim_matches('"')).filter(|key| !key.is_empty()).collect()
}

#[cfg(feature = "serde")]
/// Whether a path holds the main spring of an end (`Some(None)`), or which of its keys it leads to.
fn in_spring(path: &str, end: End) -> Option<Option<&str>> {
    /// Any row.
    const ROW: &str = "";
    let place: &[&str] = match end {
        End::Front => &["front", "fork", "leg", ROW, "spring"],
        End::Rear => &["rear", "shock", "spring"],
    };
    let keys = keys(path);
    let on_the_way = keys.iter().zip(place).all(|(key, step)| key == step || *step == ROW);
    (on_the_way && !keys.is_empty()).then(|| keys.get(place.len()).copied())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn change(path: &str) -> Change {
        Change { date: "2026-06-01".to_owned(), note: None, was: vec![(path.to_owned(), String::new())], added: vec![] }
    }

    #[test]
    fn what_touches_an_end() {
        let ends = |path: &str| End::BOTH.map(|end| change(path).touches(end));
        for path in ["front.fork.leg[0].spring.rate", "prior.front", "measuring.front.direction"] {
            assert_eq!(ends(path), [true, false], "{path}");
        }
        for path in ["masses.rider", "wheels.rear.radius", "prior"] {
            assert_eq!(ends(path), [true, true], "{path}");
        }
        for path in ["targets.rear.rider_sag", "on_sale.rear", "bike.name"] {
            assert_eq!(ends(path), [false, false], "{path}");
        }
    }

    #[test]
    fn a_key_in_quotes_is_one_key() {
        let meet = |one, other| change(one).overlaps(&change(other));
        assert!(!meet("masses.pack", "masses.\"pack.old\"") && !meet("masses.pack.old", "masses.\"pack.old\""));
        assert!(meet("masses.\"pack.old\".rear", "masses.\"pack.old\"") && meet("masses", "masses.\"pack.old\""));
    }

    #[cfg(feature = "serde")]
    #[test]
    fn another_spring_or_the_same_set_anew() {
        let of = |path: &str, end| (change(path).replaces_spring(end), change(path).sets_preload(end));
        assert_eq!(of("rear.shock.spring.rate", End::Rear), (true, true));
        assert_eq!(of("rear.shock.spring", End::Rear), (true, true));
        assert_eq!(of("rear", End::Rear), (true, true));
        assert_eq!(of("rear.shock.spring.preload", End::Rear), (false, true));
        assert_eq!(of("rear.shock.spring.max_preload", End::Rear), (false, false));
        assert_eq!(of("rear.shock.reservoir.pressure", End::Rear), (false, false));
        assert_eq!(of("front.fork.leg[1].spring.stack", End::Front), (true, true));
        assert_eq!(of("front.fork.leg[1].air.oil_level", End::Front), (false, false));
        assert_eq!(of("front.fork.leg", End::Rear), (false, false));
        assert!(
            change("rear.shock").replaces_seals(End::Rear) && !change("rear.shock.spring").replaces_seals(End::Rear)
        );
        assert!(change("masses.\"medical pack\".rear").reweighs());
        for path in ["rear.linkage.points.axle", "rear.shock.length", "rear.shock", "rear"] {
            assert!(change(path).moves_the_way(End::Rear) && !change(path).moves_the_way(End::Front), "{path}");
        }
        assert!(change("front.fork.rake").moves_the_way(End::Front));
        assert!(!change("rear.shock.spring.rate").moves_the_way(End::Rear));
    }
}
