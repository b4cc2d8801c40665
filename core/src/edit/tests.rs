use super::*;
use crate::demo::PATROL;
use crate::error::Error;

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

fn set(address: &str, value: &str) -> Edit {
    Edit::set(address, value).unwrap()
}

/// The demo read from its text with one passage replaced.
fn read(from: &str, to: &str) -> Bike {
    assert_eq!(PATROL.matches(from).count(), 1, "{from}");
    Bike::from_toml(&PATROL.replace(from, to)).unwrap()
}

#[test]
fn an_edited_bike_is_the_bike_of_the_edited_text() {
    let edits = |edits: &[Edit]| with_edits(&demo(), edits).unwrap();
    assert_eq!(edits(&[set("rear.shock.spring.rate", "56 N/mm")]), read("rate = \"52 N/mm\"", "rate = \"56 N/mm\""));
    assert_eq!(edits(&[set("rear.shock.stroke", "110 mm")]), read("stroke = \"118 mm\"", "stroke = \"110 mm\""));
    assert_eq!(edits(&[set("rear.linkage.points.axle[1]", "-160 mm")]), read("[-575, -165]", "[-575, -160]"));
    assert_eq!(edits(&[set("masses.stretcher.rear", "9 kg")]), read("rear = \"8 kg\"", "rear = \"9 kg\""));
    assert_eq!(
        edits(&[set("targets.rear.rider_sag.value", "104 mm")]),
        read("value = \"102 mm\"", "value = \"104 mm\"")
    );
    assert_eq!(edits(&[set("on_sale.rear[5]", "62 N/mm")]), read("\"60 N/mm\"]", "\"62 N/mm\"]"));
    assert_eq!(
        edits(&[Edit::remove("rear.shock.bump_stop").unwrap()]),
        read("bump_stop = { rate = \"120 N/mm\", acts_over = \"14 mm\" }", "")
    );
    assert_eq!(edits(&[Edit::remove("masses.stretcher.height").unwrap()]), read(", height = \"1000 mm\"", ""));
}

#[test]
fn a_coordinate_is_called_by_its_axis_or_its_row() {
    let bike = demo();
    for (by_axis, by_row) in [("axle.x", "axle[0]"), ("axle.z", "axle[1]")] {
        let [one, other] = [by_axis, by_row].map(|at| set(&format!("rear.linkage.points.{at}"), "-170 mm"));
        assert_eq!(value_at(&bike, &one.address), value_at(&bike, &other.address));
        if by_axis.ends_with('z') {
            assert_eq!(with_edits(&bike, &[one]), with_edits(&bike, &[other]));
        }
    }
    let twice = [("rear.linkage.points.axle.z", "-166 mm"), ("rear.linkage.points.axle[1]", "-167 mm")];
    assert!(matches!(bike.what_if(&twice), Err(Error::Bike(crate::error::BikeError::Repeated { .. }))));
    let changed = bike.what_if(&twice[..1]).unwrap();
    assert_eq!(changed.parts().changes[0].was[0].0, "rear.linkage.points.axle[1]");
    // A mass may be called by that letter.
    let named = with_edits(&bike, &[set("masses.x.front", "2 kg"), set("masses.x.rear", "1 kg")]).unwrap();
    assert_eq!(value_at(&named, &"masses.x.rear".parse().unwrap()), set("masses.x.rear", "1 kg").value);
}

#[test]
fn a_linkage_that_did_not_change_is_shared() {
    let bike = demo();
    let changed = with_edits(&bike, &[set("rear.shock.spring.rate", "56 N/mm")]).unwrap();
    let linkage = |bike: &Bike| core::ptr::from_ref(bike.rear().unwrap().linkage().unwrap());
    assert_eq!(linkage(&bike), linkage(&changed));
    let longer = with_edits(&bike, &[set("rear.shock.length", "469 mm")]).unwrap();
    assert_ne!(linkage(&bike), linkage(&longer));
}

#[test]
fn edits_are_one_change() {
    let bike = demo();
    let spring = "rear.shock.spring";
    // The preload limits swap their order on the way.
    let both = [set(&format!("{spring}.min_preload"), "24 mm"), set(&format!("{spring}.max_preload"), "30 mm")];
    let one = with_edits(&bike, &both[..1]).unwrap_err();
    assert!(one.to_string().starts_with("rear.shock.spring.max_preload: found 22 mm, wanted more than"), "{one}");
    let made = with_edits(&bike, &both).unwrap();
    both.iter().for_each(|edit| assert_eq!(value_at(&made, &edit.address), edit.value));
    // A part that was not there is made of all that is set in it.
    let made =
        [set("front.fork.leg[1].bump_stop.rate", "40 N/mm"), set("front.fork.leg[1].bump_stop.acts_over", "30 mm")];
    let leg = with_edits(&bike, &made).unwrap().front().unwrap().fork().unwrap().legs()[1].clone();
    assert_eq!(leg.bump_stop().unwrap().acts_over(), crate::units::parse("30 mm").unwrap());
    // What is said later of the whole comes before what was said of a part of it.
    let kind = value_at(&bike, &"front.fork.leg[0].spring".parse().unwrap());
    let whole = [set(&format!("{spring}.rate"), "1 N/mm"), Edit { address: spring.parse().unwrap(), value: kind }];
    let changed = with_edits(&bike, &whole).unwrap();
    assert_eq!(
        changed.rear().unwrap().shock().parts().spring,
        bike.front().unwrap().fork().unwrap().legs()[0].spring().cloned()
    );
}

#[test]
fn what_is_wrong_is_said_at_its_address() {
    let bike = demo();
    for (edit, at, says) in [
        (set("rear.shock.spring.rate", "5 mm"), "rear.shock.spring.rate", "length, not a spring rate"),
        (set("rear.shock.spring.rate", "-5 N/mm"), "rear.shock.spring.rate", "zero or more"),
        (set("rear.shock.spring.preload", "40 mm"), "rear.shock.spring", "before the full stroke"),
        (set("rear.shock.spring.rat", "5 N/mm"), "rear.shock.spring.rat", "did you mean `rate`?"),
        (set("rear.shock.spring.rate.of", "5 N/mm"), "rear.shock.spring.rate.of", "nowhere at `of`"),
        (set("front.fork.travel", "5 m"), "front.fork.travel", "20 mm to 600 mm"),
        (set("rear.shock.stroke", "5 m"), "rear.shock.stroke", "5 mm to 400 mm"),
        (set("front.fork.leg[2].friction", "5 N"), "front.fork.leg[2].friction", "nowhere at `[2]`"),
        (Edit::remove("rear.shock").unwrap(), "rear.shock", "`shock` is missing"),
        (Edit::remove("rear.shock.top_out").unwrap(), "rear.shock.top_out", "nowhere at `top_out`"),
        (set("masses.scale_uncertanty", "1 kg"), "masses.scale_uncertanty", "did you mean `scale_uncertainty`?"),
        (Edit::remove("targets.rear.free_sag.tolerance").unwrap(), "targets.rear.free_sag", "found value, wanted"),
        (set("rear.linkage.points.axle[0]", "20 m"), "rear.linkage.points.axle[0]", "20000 mm"),
        (Edit::remove("rear.linkage.points.axle").unwrap(), "rear.linkage.bodies.swingarm", "there is no point `axle`"),
        (set("reading[2].load", "bike + ridr"), "reading[2].load", "did you mean `rider`?"),
    ] {
        let Err(Error::File(error)) = with_edits(&bike, core::slice::from_ref(&edit)) else { panic!("{edit:?}") };
        let fault = &error.faults[0];
        assert!(fault.key_path == at && fault.message.contains(says), "{edit:?}: {error}");
        assert!(!fault.message.contains("full_stroke"), "a name of the code: {error}");
        assert_eq!(fault.line, None);
    }
}
