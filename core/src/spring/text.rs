//! The text form of springs: one table of keys, of which each place takes its own.

use serde::{Deserialize, Serialize};

use super::{Adjuster, Coil, Preloaded, Spring, Stop};
use crate::error::{Error, Result, SpringError};
use crate::units::{Length, SpringRate, text_serde};

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
}

impl SpringText {
    fn description(found: impl Into<String>, wanted: &str) -> Error {
        SpringError::Description { part: "spring".to_owned(), found: found.into(), wanted: wanted.to_owned() }.into()
    }

    /// Refuses a key that has no place here.
    fn without(present: bool, key: &str, place: &str) -> Result<()> {
        if present { Err(Self::description(format!("`{key}`"), &format!("no such key for {place}"))) } else { Ok(()) }
    }

    fn without_preload(&self, place: &str) -> Result<()> {
        Self::without(self.preload.is_some(), "preload", place)?;
        Self::without(self.thread_pitch.is_some(), "thread_pitch", place)?;
        Self::without(self.min_preload.is_some(), "min_preload", place)?;
        Self::without(self.max_preload.is_some(), "max_preload", place)
    }

    fn adjuster(&self) -> Result<Option<Adjuster>> {
        let adjuster = Adjuster::new(self.thread_pitch, self.min_preload, self.max_preload)?;
        Ok((adjuster != Adjuster::default()).then_some(adjuster))
    }

    fn spring(&self) -> Result<Spring> {
        let rate = self.rate.ok_or_else(|| Self::description("no `rate`", "the rate of the spring"))?;
        let coil = Coil::new(rate)?;
        let coil = match (self.free_length, self.solid_length) {
            (Some(free), Some(solid)) => coil.with_lengths(free, solid)?,
            (None, None) => coil,
            (Some(_), None) => return Err(Self::description("`free_length` alone", "`solid_length` with it")),
            (None, Some(_)) => return Err(Self::description("`solid_length` alone", "`free_length` with it")),
        };
        Ok(Spring::Coil(coil))
    }
}

impl TryFrom<SpringText> for Spring {
    type Error = Error;
    fn try_from(text: SpringText) -> Result<Self> {
        text.without_preload("a spring by itself")?;
        SpringText::without(text.acts_over.is_some(), "acts_over", "a spring by itself")?;
        text.spring()
    }
}

impl TryFrom<SpringText> for Preloaded {
    type Error = Error;
    fn try_from(text: SpringText) -> Result<Self> {
        SpringText::without(text.acts_over.is_some(), "acts_over", "a main spring")?;
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
        text.without_preload("a stop")?;
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

    #[test]
    fn refuses_keys_that_have_no_place_and_says_what_is_missing() {
        let fault = |text: &str| serde_json::from_str::<Preloaded>(text).unwrap_err().to_string();
        assert!(fault(r#"{"rate": "5 N/mm"}"#).contains("no `preload`"));
        assert!(fault(r#"{"preload": "5 mm"}"#).contains("no `rate`"));
        assert!(fault(r#"{"rate": "5 N/mm", "preload": "5 mm", "acts_over": "9 mm"}"#).contains("`acts_over`"));
        assert!(fault(r#"{"rate": "5 N/mm", "preload": "5 mm", "colour": "x"}"#).contains("unknown field"));
        assert!(fault(r#"{"rate": "5 N/m", "preload": "5 mm"}"#).contains("was `5 N/mm` meant?"));
        assert!(fault(r#"{"rate": "5 N/mm", "preload": "5 mm", "free_length": "300 mm"}"#).contains("solid_length"));
        assert!(serde_json::from_str::<Spring>(r#"{"rate": "5 N/mm", "preload": "5 mm"}"#).is_err());
        assert!(serde_json::from_str::<Stop>(r#"{"rate": "5 N/mm"}"#).is_err());
    }
}
