//! The text form of springs: one table of keys, of which each place takes its own.

use serde::{Deserialize, Serialize};

use super::{Adjuster, Coil, Nest, Nested, OwnSpring, Preloaded, Spring, Stack, Stage, Stop, Table};
use crate::error::{Error, Result, SpringError};
use crate::units::{Force, Length, SpringRate, text_serde};

/// Every key a spring's table may hold.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SpringText {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    rate: Option<SpringRate>,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    free_length: Option<Length>,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    solid_length: Option<Length>,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    preload: Option<Length>,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    thread_pitch: Option<Length>,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    min_preload: Option<Length>,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    max_preload: Option<Length>,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    acts_over: Option<Length>,
    /// Springs end to end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stack: Option<Vec<SpringText>>,
    /// In a stack: compression at which a spacer stops the spring.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    limit: Option<Length>,
    /// Springs one inside the other.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    nest: Option<Vec<SpringText>>,
    /// In a nest: how much shorter than the longest.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    gap: Option<Length>,
    /// Rows of compression and force.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    table: Option<Vec<Row>>,
    /// A law of somebody's own, which refuses to be written.
    #[serde(skip_deserializing, skip_serializing_if = "Option::is_none")]
    own: Option<OwnSpring>,
}

/// The text form of an adjuster by itself.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AdjusterText {
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    thread_pitch: Option<Length>,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    min_preload: Option<Length>,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "text_serde::option")]
    max_preload: Option<Length>,
}

impl TryFrom<AdjusterText> for Adjuster {
    type Error = Error;
    fn try_from(text: AdjusterText) -> Result<Self> {
        Self::new(text.thread_pitch, text.min_preload, text.max_preload)
    }
}

impl From<Adjuster> for AdjusterText {
    fn from(adjuster: Adjuster) -> Self {
        Self {
            thread_pitch: adjuster.thread_pitch(),
            min_preload: adjuster.least_preload(),
            max_preload: adjuster.most_preload(),
        }
    }
}

/// One row of a table: compression and force.
#[derive(Debug, Clone, Serialize, Deserialize)]
struct Row(#[serde(with = "text_serde")] Length, #[serde(with = "text_serde")] Force);

impl SpringText {
    fn description(found: impl Into<String>, wanted: &str) -> Error {
        SpringError::Description { part: "spring".to_owned(), found: found.into(), wanted: wanted.to_owned() }.into()
    }

    /// Refuses the keys of other places than this one.
    fn only(&self, place: &str, own: &[&str]) -> Result<()> {
        let placed = [
            ("preload", self.preload.is_some()),
            ("thread_pitch", self.thread_pitch.is_some()),
            ("min_preload", self.min_preload.is_some()),
            ("max_preload", self.max_preload.is_some()),
            ("acts_over", self.acts_over.is_some()),
            ("limit", self.limit.is_some()),
            ("gap", self.gap.is_some()),
        ];
        match placed.into_iter().find(|(key, present)| *present && !own.contains(key)) {
            Some((key, _)) => Err(Self::description(format!("`{key}`"), &format!("no such key for {place}"))),
            None => Ok(()),
        }
    }

    fn adjuster(&self) -> Result<Option<Adjuster>> {
        let adjuster = Adjuster::new(self.thread_pitch, self.min_preload, self.max_preload)?;
        Ok((adjuster != Adjuster::default()).then_some(adjuster))
    }

    fn spring(&self) -> Result<Spring> {
        const KINDS: &str = "one of `rate`, `stack`, `nest`, `table`";
        let given = [
            ("rate", self.rate.is_some()),
            ("stack", self.stack.is_some()),
            ("nest", self.nest.is_some()),
            ("table", self.table.is_some()),
        ];
        let given: Vec<String> = given.iter().filter(|(_, is)| *is).map(|(key, _)| format!("`{key}`")).collect();
        if given.len() > 1 {
            return Err(Self::description(given.join(" and "), KINDS));
        }
        if self.rate.is_none() && (self.free_length.is_some() || self.solid_length.is_some()) {
            return Err(Self::description("`free_length` or `solid_length`", "`rate` with it: they belong to a coil"));
        }
        match (self.rate, &self.stack, &self.nest, &self.table) {
            (Some(rate), ..) => self.coil(rate).map(Spring::Coil),
            (_, Some(stages), ..) => {
                Stack::new(stages.iter().map(Self::stage).collect::<Result<_>>()?).map(Spring::Stack)
            }
            (_, _, Some(springs), _) => {
                Nest::new(springs.iter().map(Self::nested).collect::<Result<_>>()?).map(Spring::Nest)
            }
            (.., Some(rows)) => Table::new(rows.iter().map(|row| (row.0, row.1)).collect()).map(Spring::Table),
            _ => Err(Self::description("none of them", KINDS)),
        }
    }

    fn stage(&self) -> Result<Stage> {
        self.only("a spring of a stack", &["limit"])?;
        let stage = Stage::new(self.spring()?);
        self.limit.map_or(Ok(stage.clone()), |limit| stage.with_limit(limit))
    }

    fn nested(&self) -> Result<Nested> {
        self.only("a spring of a nest", &["gap"])?;
        Nested::new(self.spring()?, self.gap.unwrap_or_default())
    }

    fn coil(&self, rate: SpringRate) -> Result<Coil> {
        let coil = Coil::new(rate)?;
        match (self.free_length, self.solid_length) {
            (Some(free), Some(solid)) => coil.with_lengths(free, solid),
            (None, None) => Ok(coil),
            (Some(_), None) => Err(Self::description("`free_length` alone", "`solid_length` with it")),
            (None, Some(_)) => Err(Self::description("`solid_length` alone", "`free_length` with it")),
        }
    }
}

impl TryFrom<SpringText> for Spring {
    type Error = Error;
    fn try_from(text: SpringText) -> Result<Self> {
        text.only("a spring by itself", &[])?;
        text.spring()
    }
}

macro_rules! one_kind {
    ($($kind:ident, $key:literal);+ $(;)?) => {
        $(impl TryFrom<SpringText> for $kind {
            type Error = Error;
            fn try_from(text: SpringText) -> Result<Self> {
                match Spring::try_from(text)? {
                    Spring::$kind(spring) => Ok(spring),
                    other => Err(SpringText::description(other.words(), concat!("`", $key, "`"))),
                }
            }
        }

        impl From<$kind> for SpringText {
            fn from(spring: $kind) -> Self {
                Spring::$kind(spring).into()
            }
        })+
    };
}

one_kind! {
    Coil, "rate";
    Stack, "stack";
    Nest, "nest";
    Table, "table";
}

impl TryFrom<SpringText> for Stage {
    type Error = Error;
    fn try_from(text: SpringText) -> Result<Self> {
        text.stage()
    }
}

impl From<Stage> for SpringText {
    fn from(stage: Stage) -> Self {
        Self { limit: stage.limit(), ..stage.spring().clone().into() }
    }
}

impl TryFrom<SpringText> for Nested {
    type Error = Error;
    fn try_from(text: SpringText) -> Result<Self> {
        text.nested()
    }
}

impl From<Nested> for SpringText {
    fn from(nested: Nested) -> Self {
        let gap = (nested.gap() > Length::default()).then(|| nested.gap());
        Self { gap, ..nested.spring().clone().into() }
    }
}

impl TryFrom<SpringText> for Preloaded {
    type Error = Error;
    fn try_from(text: SpringText) -> Result<Self> {
        text.only("a main spring", &["preload", "thread_pitch", "min_preload", "max_preload"])?;
        let preload =
            text.preload.ok_or_else(|| SpringText::description("no `preload`", "the preload, 0 mm included"))?;
        let place = Self::new(text.spring()?, preload)?;
        Ok(match text.adjuster()? {
            Some(adjuster) => place.with_adjuster(adjuster),
            None => place,
        })
    }
}

impl TryFrom<SpringText> for Stop {
    type Error = Error;
    fn try_from(text: SpringText) -> Result<Self> {
        text.only("a stop", &["acts_over"])?;
        let wanted = "the part of the stroke over which the stop acts";
        let acts_over = text.acts_over.ok_or_else(|| SpringText::description("no `acts_over`", wanted))?;
        Self::new(text.spring()?, acts_over)
    }
}

impl From<Spring> for SpringText {
    fn from(spring: Spring) -> Self {
        match spring {
            Spring::Coil(coil) => Self {
                rate: Some(coil.rate()),
                free_length: coil.free_length(),
                solid_length: coil.solid_length(),
                ..Self::default()
            },
            Spring::Stack(stack) => {
                Self { stack: Some(stack.stages().iter().cloned().map(Self::from).collect()), ..Self::default() }
            }
            Spring::Nest(nest) => {
                Self { nest: Some(nest.springs().iter().cloned().map(Self::from).collect()), ..Self::default() }
            }
            Spring::Table(table) => {
                let rows = table.rows().iter().map(|&(x, force)| Row(x, force)).collect();
                Self { table: Some(rows), ..Self::default() }
            }
            Spring::Own(own) => Self { own: Some(own), ..Self::default() },
        }
    }
}

impl From<Preloaded> for SpringText {
    fn from(place: Preloaded) -> Self {
        let adjuster = place.adjuster().copied().unwrap_or_default();
        Self {
            preload: Some(place.preload()),
            thread_pitch: adjuster.thread_pitch(),
            min_preload: adjuster.least_preload(),
            max_preload: adjuster.most_preload(),
            ..place.spring().clone().into()
        }
    }
}

impl From<Stop> for SpringText {
    fn from(stop: Stop) -> Self {
        Self { acts_over: Some(stop.acts_over()), ..stop.spring().clone().into() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn round_trip<T: Serialize + serde::de::DeserializeOwned + PartialEq + core::fmt::Debug>(text: &str) {
        let read: T = serde_json::from_str(text).unwrap();
        assert_eq!(serde_json::from_str::<T>(&serde_json::to_string(&read).unwrap()).unwrap(), read);
    }

    #[test]
    fn every_part_round_trips_by_itself() {
        round_trip::<Coil>(r#"{"rate": "5 N/mm", "free_length": "300 mm", "solid_length": "120 mm"}"#);
        round_trip::<Stage>(r#"{"rate": "5 N/mm", "limit": "30 mm"}"#);
        round_trip::<Stack>(r#"{"stack": [{"rate": "5 N/mm", "limit": "30 mm"}, {"rate": "8 N/mm"}]}"#);
        round_trip::<Nested>(r#"{"rate": "5 N/mm", "gap": "3 mm"}"#);
        round_trip::<Nest>(r#"{"nest": [{"rate": "5 N/mm"}, {"rate": "2 N/mm", "gap": "3 mm"}]}"#);
        round_trip::<Table>(r#"{"table": [["10 mm", "50 N"], ["20 mm", "110 N"]]}"#);
        round_trip::<Adjuster>(r#"{"thread_pitch": "1.5 mm", "min_preload": "2 mm"}"#);
        round_trip::<Preloaded>(r#"{"rate": "5 N/mm", "preload": "-3 mm", "thread_pitch": "1 mm"}"#);
        round_trip::<Stop>(r#"{"rate": "50 N/mm", "acts_over": "12 mm"}"#);
        let fault = serde_json::from_str::<Coil>(r#"{"table": [["10 mm", "50 N"], ["20 mm", "110 N"]]}"#).unwrap_err();
        assert!(fault.to_string().contains("`rate`"), "{fault}");
    }

    #[test]
    fn refuses_keys_that_have_no_place_and_says_what_is_missing() {
        let fault = |text: &str| serde_json::from_str::<Preloaded>(text).unwrap_err().to_string();
        assert!(fault(r#"{"rate": "5 N/mm"}"#).contains("no `preload`"));
        assert!(fault(r#"{"preload": "5 mm"}"#).contains("one of `rate`"));
        assert!(fault(r#"{"rate": "5 N/mm", "preload": "5 mm", "acts_over": "9 mm"}"#).contains("`acts_over`"));
        assert!(fault(r#"{"rate": "5 N/mm", "preload": "5 mm", "colour": "x"}"#).contains("unknown field"));
        assert!(fault(r#"{"rate": "5 N/m", "preload": "5 mm"}"#).contains("was `5 N/mm` meant?"));
        assert!(fault(r#"{"rate": "5 N/mm", "preload": "5 mm", "free_length": "300 mm"}"#).contains("solid_length"));
        assert!(serde_json::from_str::<Spring>(r#"{"rate": "5 N/mm", "preload": "5 mm"}"#).is_err());
        assert!(serde_json::from_str::<Stop>(r#"{"rate": "5 N/mm"}"#).is_err());
    }
}
