use super::*;
use crate::units::{Angle, Length, SpringRate, Temperature};
use proptest::prelude::*;

#[test]
fn reads_what_a_person_writes() {
    for (text, si) in [("105 mm", 0.105), ("105mm", 0.105), (" 4.134 in ", 4.134 * 25.4 / 1000.0), ("1e2 mm", 0.1)] {
        assert_eq!(parse::<Length>(text).map(Quantity::si), Ok(si), "{text}");
    }
    assert_eq!(parse::<SpringRate>("0.47 kg/mm"), parse::<SpringRate>("0.47 kgf/mm"));
    assert!((parse::<Angle>("26.5 deg").map(Quantity::si).unwrap_or(f64::NAN) - 26.5_f64.to_radians()).abs() < 1e-16);
    assert!((parse::<Temperature>("68 degF").map(Quantity::si).unwrap_or(f64::NAN) - 293.15).abs() < 1e-12);
}

#[test]
fn few_digits_and_no_zero_below_zero() {
    use crate::units::{Share, Uncertain};
    // 100·0.28 is 28.000000000000004.
    assert_eq!(to_text(parse::<Share>("28 %").unwrap()), "28 %");
    let hardly = Uncertain { value: Length::from_si(-2e-5), standard_uncertainty: Length::from_si(1.8e-3) };
    assert_eq!((show(hardly.value, "mm", 1).as_str(), hardly.show("mm").as_str()), ("0.0 mm", "0.0 ± 1.8 mm"));
}

#[test]
fn a_label_keeps_the_unit_it_was_written_in() {
    // 300 lbf/in is 52.538… N/mm, which takes 16 digits; 0.47 kgf/mm is 4.6091255 N/mm, which takes 8.
    for text in ["300 lbf/in", "26 lbf/in", "0.47 kgf/mm", "5.6 kgf/mm", "52 N/mm", "4.25 N/mm"] {
        let rate: SpringRate = parse(text).unwrap();
        assert_eq!(to_text(rate), text);
        assert_eq!(rate.to_string(), text);
    }
    // One inch is 25.4 mm, which is short too: the kind's output unit comes first.
    assert_eq!(to_text(parse::<Length>("1 in").unwrap()), "25.4 mm");
}

#[test]
fn a_computed_value_is_shown_to_five_digits_and_written_to_the_bit() {
    let rate = SpringRate::from_si(8_370.182_633_705_355);
    assert_eq!(rate.to_string(), "8.3702 N/mm");
    assert_eq!(format!("{rate:.2}"), "8.37 N/mm");
    assert_eq!(format!("{rate:>12.1}|{rate:<12.1}|{rate:*^12.1}"), "    8.4 N/mm|8.4 N/mm    |**8.4 N/mm**");
    assert_eq!(parse::<SpringRate>(&to_text(rate)), Ok(rate));
    let third = Length::from_si(1.0 / 3.0);
    assert_eq!(third.display().to_string(), "333.33 mm");
    assert_eq!(Length::from_si(-1e-9 / 3.0).display().to_string(), "-0.00000033333 mm");
    assert_eq!(format!("{:.1}", Length::from_si(-1e-9 / 3.0).display()), "0.0 mm");
}

#[test]
fn every_kind_of_quantity_is_made_and_asked_alike() {
    let (length, rate) = (Length::of(102.0, "mm").unwrap(), SpringRate::of(52.0, "N/mm").unwrap());
    assert_eq!((length, rate), (parse("102 mm").unwrap(), parse("52 N/mm").unwrap()));
    assert_eq!((length.in_unit("cm"), rate.in_unit("N/m")), (Ok(10.2), Ok(52e3)));
    let unknown =
        UnitError::WrongKind { kind: "length", found: "N".to_owned(), is: "force", units: Length::KIND.unit_list() };
    assert_eq!(Length::of(1.0, "N"), Err(unknown));
    let sign = |error: UnitError| match error {
        UnitError::Sign { field, found, wanted, .. } => (field, found, wanted),
        other => panic!("{other}"),
    };
    let below = ("spring rate".to_owned(), "-52 N/mm".to_owned(), "zero or more");
    assert_eq!(sign(SpringRate::of(-52.0, "N/mm").unwrap_err()), below);
    assert_eq!(sign(parse::<SpringRate>("-52 N/mm").unwrap_err()), below);
    let nan = Length::of(f64::NAN, "mm").unwrap_err();
    assert_eq!(nan, UnitError::NotFinite { kind: "length", found: "NaN mm".to_owned() });
}

#[test]
fn says_what_is_wrong() {
    let message = |text| parse::<Length>(text).map_or_else(|e| e.to_string(), |q| format!("read as {q:?}"));
    assert!(message("105").contains("no unit") && message("105").contains("105 mm"), "{}", message("105"));
    assert!(message("1,5 mm").contains("1.5 mm"), "{}", message("1,5 mm"));
    assert!(message("105 N").contains("force"), "{}", message("105 N"));
    assert!(message("105 MM").contains("did you mean `105 mm`"), "{}", message("105 MM"));
    assert!(message("NaN mm").contains("finite"), "{}", message("NaN mm"));
    assert!(message("inf mm").contains("finite"), "{}", message("inf mm"));
    assert!(message("1e999 mm").contains("finite"), "{}", message("1e999 mm"));
    assert!(message("about 5 mm").contains("number"), "{}", message("about 5 mm"));
    assert!(message("").contains("number"), "{}", message(""));
}

proptest! {
    #[test]
    fn text_round_trips_to_the_bit(mantissa in -10.0..10.0_f64, exponent in -12..12) {
        let value = mantissa * 10f64.powi(exponent);
        for kind in ALL {
            prop_assert_eq!(parse_si(kind, &exact_text(kind, value)).map(f64::to_bits), Ok(value.to_bits()), "{}", kind.name);
        }
    }

    #[test]
    fn any_text_is_read_or_refused_without_panic(text in "\\PC{0,24}") {
        for kind in ALL {
            let _ = parse_si(kind, &text);
        }
    }
}

/// Sign, digits, point, exponent, as far as they make a number.
#[test]
fn a_number_ends_where_it_no_longer_is_one() {
    for (text, end) in [
        ("", 0),
        ("mm", 0),
        ("+", 0),
        ("-", 0),
        ("- mm", 0),
        (".", 0),
        ("-.", 0),
        ("+.mm", 0),
        (".e5", 0),
        ("e5", 0),
        ("5", 1),
        ("-5", 2),
        ("+12 mm", 3),
        ("5.", 2),
        (".5", 2),
        ("-.25", 4),
        ("1.25.5", 4),
        ("1e3", 3),
        ("1e+3 m", 4),
        ("1.5E-12m", 7),
        // An exponent without digits belongs to what follows.
        ("1e", 1),
        ("1e m", 1),
        ("2e-", 1),
        ("2e+mm", 1),
        ("3.eV", 2),
        ("0x5", 1),
    ] {
        assert_eq!(number_end(text), end, "{text}");
    }
}
