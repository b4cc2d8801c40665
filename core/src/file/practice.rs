//! A table of common practice: in a file of its own, or as rows of the bike file.

use super::{from_json, from_toml, json_text, toml_text, tree};
use crate::error::Result;
use crate::record::CommonPractice;

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
        Ok(from_toml(text)?.0)
    }

    /// Reads a table written as JSON.
    ///
    /// # Errors
    /// [`FileError`](crate::error::FileError) with every fault of the text.
    pub fn from_json(text: &str) -> Result<Self> {
        Ok(from_json(text)?.0)
    }

    /// The table as a TOML file, which reads back as an equal table.
    #[must_use]
    pub fn to_toml(&self) -> String {
        toml_text::write(&tree(self))
    }

    /// The table as a JSON file, which reads back as an equal table.
    #[must_use]
    pub fn to_json(&self) -> String {
        json_text::write(&tree(self))
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
        let bike = Bike::from_toml(PATROL).unwrap().with(|parts| parts.practice = Some(own.clone())).unwrap();
        assert_eq!(*bike.parts().common_practice(), own);
        assert_eq!(Bike::from_toml(&bike.to_toml()).unwrap(), bike);
        assert_eq!(Bike::from_json(&bike.to_json()).unwrap(), bike);
    }

    #[test]
    fn every_fault_of_a_table_is_reported_with_its_place() {
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
        assert!(
            error.contains("line 6, column 34: sag[0].length.to: found 95 mm, wanted more than the from of 110 mm"),
            "{error}"
        );
        let line = |error: crate::Error| match error {
            crate::Error::File(error) => error.faults[0].line,
            other => panic!("{other}"),
        };
        assert_eq!(line(CommonPractice::from_toml("format = ").unwrap_err()), Some(1));
        assert_eq!(line(CommonPractice::from_json("\n{").unwrap_err()), Some(2));
        let list = CommonPractice::from_json("[]").unwrap_err().to_string();
        assert!(list.contains("a table"), "{list}");
    }
}
