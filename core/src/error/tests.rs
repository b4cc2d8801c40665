use super::*;

#[test]
fn faults_of_a_linkage_stand_one_on_a_line_and_what_is_too_much_is_counted() {
    let fault = |at: usize| LinkageError::PointTwice { point: format!("p{at}\nq") };
    let said = |count: usize| Error::from(LinkageError::Several((0..count).map(fault).collect())).to_string();
    assert_eq!(
        said(2),
        "point `p0\\nq` is given twice: give every point one position\n\
         point `p1\\nq` is given twice: give every point one position"
    );
    assert_eq!(said(MOST_FAULTS).lines().count(), MOST_FAULTS);
    for (more, last) in [(1, "and 1 more fault"), (30, "and 30 more faults")] {
        let text = said(MOST_FAULTS + more);
        assert_eq!(text.lines().count(), MOST_FAULTS + 1);
        assert_eq!(text.lines().last(), Some(last));
    }
}

#[test]
fn a_fault_of_one_field_can_be_said_of_another_and_one_of_none_stays() {
    let (found, kind, field) = (|| "-3 mm".to_owned(), "length", || "length".to_owned());
    for error in [
        UnitError::NotFiniteField { field: field(), kind, found: found() },
        UnitError::Sign { field: field(), kind, found: found(), wanted: "zero or more" },
        UnitError::NumberRange { field: field(), found: found(), low: 0.0, high: 1.0 },
        UnitError::Order { field: field(), found: found(), wanted: "more", other: "stroke", than: found() },
    ] {
        let (before, after) = (error.to_string(), error.of_field("rear.shock.length".to_owned()));
        assert_eq!(after.to_string(), before.replacen("length", "rear.shock.length", 1));
        assert_eq!(after.details().field.unwrap(), "rear.shock.length");
    }
    let of_none = UnitError::NotFinite { kind, found: found() };
    assert_eq!(of_none.clone().of_field("rear.shock.length".to_owned()), of_none);
}
