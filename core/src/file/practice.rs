//! A table of common practice: in a file of its own, or as rows of the bike file.

use core::cell::RefCell;

use serde::de::Error as _;

use super::check::{self, Around};
use super::faults::Faults;
use super::part::{Part, Stop};
use super::shape::Shape;
use super::toml_text::Syntax;
use super::tree::Node;
use super::{format, grammar, json_text, told, toml_text, write};
use crate::error::{Fault, Result};
use crate::record::{CommonPractice, Direction, End, Figure, Practice, Range, SagKind};

static ROOT: Shape = Shape::Table(&format::PRACTICE_FILE);

impl CommonPractice {
    /// Reads a table.
    ///
    /// ```
    /// use wheelrate::record::{CommonPractice, End, SagKind};
    /// let table = CommonPractice::from_toml(CommonPractice::SHIPPED)?;
    /// assert_eq!(table.on("motocross", End::Rear, SagKind::Rider).count(), 2);
    /// let error = CommonPractice::from_toml("format = 1\n[[sag]]\ndiscipline = \"trial\"\nend = \"raer\"").unwrap_err();
    /// assert!(error.to_string().contains("line 4, column 7: sag[0].end: found `raer`, wanted `front` or `rear`"));
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`FileError`](crate::error::FileError) with every fault of the text.
    pub fn from_toml(text: &str) -> Result<Self> {
        let (node, syntax) = toml_text::read(text);
        Ok(read(&node, syntax, Some(text)).map_err(told)?)
    }

    /// Reads a table written as JSON.
    ///
    /// # Errors
    /// [`FileError`](crate::error::FileError) with every fault of the text.
    pub fn from_json(text: &str) -> Result<Self> {
        match json_text::read(text) {
            Ok(node) => Ok(read(&node, Vec::new(), Some(text)).map_err(told)?),
            Err(syntax) => Err(told(grammar(vec![syntax], text).finish()).into()),
        }
    }

    /// The table as a TOML file, which reads back as an equal table.
    #[must_use]
    pub fn to_toml(&self) -> String {
        toml_text::write(&write::practice_file(self))
    }

    /// The table as a JSON file, which reads back as an equal table.
    #[must_use]
    pub fn to_json(&self) -> String {
        json_text::write(&write::practice_file(self))
    }
}

fn read(node: &Node, syntax: Vec<Syntax>, text: Option<&str>) -> core::result::Result<CommonPractice, Vec<Fault>> {
    let sound = syntax.is_empty();
    let mut faults = text.map_or_else(|| Faults::new(None), |text| grammar(syntax, text));
    check::check(&ROOT, node, "", Around::new(sound), &mut faults);
    let faults = RefCell::new(faults);
    let table = if sound { rows(&Part::root(node, &format::PRACTICE_FILE, &faults), "sag") } else { Err(Stop::Told) };
    let mut faults = faults.into_inner();
    match table {
        Ok(table) if faults.is_empty() => Ok(table),
        _ => {
            if faults.is_empty() {
                faults.wrong(node, "", ROOT.wanted());
            }
            Err(faults.finish())
        }
    }
}

/// The rows under a key.
pub(super) fn rows(part: &Part<'_, '_>, key: &str) -> core::result::Result<CommonPractice, Stop> {
    let rows: Vec<_> = part.rows(key).iter().map(|row| row.told(practice(row))).collect();
    Ok(CommonPractice { rows: rows.into_iter().collect::<core::result::Result<_, _>>()? })
}

fn practice(part: &Part<'_, '_>) -> core::result::Result<Practice, Stop> {
    let figure = match (part.part("length"), part.part("share")) {
        (Some(length), None) => Figure::Length(Range { from: length.need("from")?, to: length.need("to")? }),
        (None, Some(share)) => Figure::Share { from: share.need("from")?, to: share.need("to")? },
        _ => return Err(Stop::Told),
    };
    let end = if part.need_text("end")? == "front" { End::Front } else { End::Rear };
    let sag = if part.need_text("sag")? == "rider" { SagKind::Rider } else { SagKind::Free };
    let along_fork = part.need_text("direction")? == "along fork";
    let direction = if along_fork { Direction::AlongFork } else { Direction::Vertical };
    let practice = Practice::new(part.need_text("discipline")?, end, sag, figure, direction)?;
    let note = part.text("note")?.map(str::to_owned);
    Ok(Practice { basis: part.need_text("basis")?.to_owned(), note, ..practice })
}

impl serde::Serialize for CommonPractice {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> core::result::Result<S::Ok, S::Error> {
        json_text::to_json(&write::practice_file(self)).serialize(serializer)
    }
}

impl<'de> serde::Deserialize<'de> for CommonPractice {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> core::result::Result<Self, D::Error> {
        let json = serde_json::Value::deserialize(deserializer)?;
        let node = json_text::from_json(&json);
        read(&node, Vec::new(), None).map_err(|faults| D::Error::custom(told(faults)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bike::Bike;
    use crate::demo::PATROL;

    #[test]
    fn the_shipped_table_is_sound_and_reads_back_equal() {
        let table = CommonPractice::from_toml(CommonPractice::SHIPPED).unwrap();
        assert_eq!(table, *CommonPractice::shipped());
        assert_eq!(table.disciplines(), ["motocross", "trail", "road", "track", "any"]);
        assert!(table.rows.iter().all(|row| row.basis == crate::record::COMMON_PRACTICE));
        assert_eq!(CommonPractice::from_toml(&table.to_toml()).unwrap(), table);
        assert_eq!(CommonPractice::from_json(&table.to_json()).unwrap(), table);
        let through_serde: CommonPractice = serde_json::from_str(&serde_json::to_string(&table).unwrap()).unwrap();
        assert_eq!(through_serde, table);
    }

    #[test]
    fn a_bike_carries_a_table_of_its_own() {
        let own = CommonPractice::from_toml(&CommonPractice::SHIPPED.replace("\"95 mm\"", "\"90 mm\"")).unwrap();
        let bike = Bike::from_toml(PATROL).unwrap().with_practice(own.clone()).unwrap();
        assert_eq!(*bike.common_practice(), own);
        assert_eq!(Bike::from_toml(&bike.to_toml()).unwrap(), bike);
        assert_eq!(Bike::from_json(&bike.to_json()).unwrap(), bike);
    }

    #[test]
    fn every_fault_of_a_table_is_told_with_its_place() {
        let text = "format = 1\n[[sag]]\ndiscipline = \"trial\"\nend = \"rear\"\nsag = \"rider\"\n\
                    length = { from = \"110 mm\", to = \"95 mm\" }\ndirection = \"along fork\"\nbasis = \"ours\"\n\
                    [[sag]]\ndiscipline = \"trial\"\nend = \"rear\"\nsag = \"rider\"\nshare = { from = \"30\", to = \"35 %\" }\n\
                    length = { from = \"95 mm\", to = \"110 mm\" }\ndirection = \"vertical\"\nbasis = \"ours\"\n";
        let error = CommonPractice::from_toml(text).unwrap_err().to_string();
        for part in [
            "line 7, column 13: sag[0].direction: found `along fork`, wanted `vertical` at the rear",
            "line 13, column 18: sag[1].share.from: `30` has no unit",
            "sag[1]",
        ] {
            assert!(error.contains(part), "{part} in\n{error}");
        }
        let upside_down = text.replace("along fork", "vertical");
        let error = CommonPractice::from_toml(&upside_down).unwrap_err().to_string();
        assert!(error.contains("sag[0]") && error.contains("to − from"), "{error}");
        assert!(CommonPractice::from_toml("format = ").is_err());
        assert!(CommonPractice::from_json("{").is_err());
        assert!(CommonPractice::from_json("[]").is_err());
    }
}
