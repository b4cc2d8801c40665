use super::*;
use crate::demo::PATROL;

#[test]
fn the_demo_is_sound() {
    assert_eq!(check(PATROL), Vec::new());
}

#[test]
fn the_demo_reads_back_equal() {
    let bike = Bike::from_toml(PATROL).unwrap();
    assert_eq!(Bike::from_toml(&bike.to_toml()).unwrap(), bike);
    assert_eq!(Bike::from_json(&bike.to_json()).unwrap(), bike);
}

#[test]
fn what_is_written_is_laid_out_for_a_reader() {
    let text = Bike::from_toml(PATROL).unwrap().to_toml();
    for passage in [
        "format = 1\n\n[bike]\nname = \"Ridge patrol 300\"\n",
        "\nrider = { front = \"30 kg\", rear = \"66 kg\", height = \"1200 mm\", pitch_inertia = \"12 kg m2\" }\n",
        "\n[frame_points]\nseat = [\"-80 mm\", \"460 mm\"]\n",
        "\n[[front.fork.leg]]\nspring = { rate = \"4.4 N/mm\", preload = \"6 mm\"",
        "\n[rear.linkage.bodies]\nframe = [\"swingarm_pivot\", \"link_frame\", \"shock_frame\"]\n",
        "\nrider_sag = { value = \"102 mm\", tolerance = \"4 mm\", direction = \"vertical\" }\n",
    ] {
        assert!(text.contains(passage), "{passage} in\n{text}");
    }
    assert!(text.lines().all(|line| line.len() <= 120), "{text}");
}

fn faults_with(from: &str, to: &str) -> Vec<String> {
    assert!(PATROL.contains(from));
    crate::file::check(&PATROL.replacen(from, to, 1)).iter().map(ToString::to_string).collect()
}

#[test]
fn targets_that_no_bike_can_meet_are_faults() {
    let free = "free_sag  = { from = \"25 mm\", to = \"40 mm\" }";
    let over = faults_with(free, "free_sag = { from = \"120 mm\", to = \"140 mm\" }");
    assert_eq!(over.len(), 1, "{over:?}");
    assert!(
        over[0]
            .ends_with("targets.rear.free_sag.to: found 130.0 mm, wanted less than the rider sag aimed at, 102.0 mm")
    );
    let rider = "rider_sag = { value = \"102 mm\", tolerance = \"4 mm\" }";
    let beyond = faults_with(rider, "rider_sag = { value = \"400 mm\", tolerance = \"4 mm\" }");
    assert!(beyond[0].contains("targets.rear.rider_sag.value: found 400.0 mm, wanted 0 mm to "), "{beyond:?}");
    let loaded = faults_with("from = \"15 mm\", to = \"35 mm\"", "from = \"150 mm\", to = \"180 mm\"");
    assert_eq!(loaded.len(), 1, "{loaded:?}");
    assert!(loaded[0].contains("scenario 1.rear.free_sag.to: found 165.0 mm, wanted less"), "{loaded:?}");
    let negative = faults_with(rider, "rider_sag = { value = \"102 mm\", tolerance = \"116 mm\" }");
    assert!(negative[0].contains("found 116 mm, wanted no more than `value`, 102 mm"), "{negative:?}");
}

#[test]
fn a_range_is_written_as_it_was_stated() {
    let to = "free_sag  = { from = \"12 mm\", to = \"25 mm\" }";
    let text = PATROL.replacen("free_sag  = { from = \"25 mm\", to = \"40 mm\" }", to, 1);
    let bike = Bike::from_toml(&text).unwrap();
    let written = bike.to_toml();
    // (12 + 25)/2 in metres is 18.500000000000004 mm.
    assert!(written.contains("free_sag = { from = \"12 mm\", to = \"25 mm\","), "{written}");
    assert_eq!(Bike::from_toml(&written).unwrap(), bike);
}

#[test]
fn slips_of_form_are_named() {
    let json = crate::file::check("{\"format\": 1, \"bike\": {\"name\": \"Ridge\"}}");
    assert!(json[0].message.contains("this looks like JSON"), "{json:?}");
    let twice = faults_with("travel = \"290 mm\" ", "travel = \"290 mm\"\ntravel = \"300 mm\" ");
    assert!(twice[0].contains("duplicate key `travel`"), "{twice:?}");
    let single = faults_with("[[scenario]]", "[scenario]");
    assert!(single[0].contains("wanted a list of tables, each in double brackets `[[ ]]`"), "{single:?}");
}

#[test]
fn what_is_usual_is_what_the_file_says() {
    use crate::record::Usual;
    let (file, _): (crate::keys::shipped::UsualFile, _) = from_toml(Usual::SHIPPED).unwrap();
    assert_eq!(file.rows(), Usual::shipped());
    assert_eq!(Usual::kinds(), ["motocross", "trail", "road", "track", "any"]);
}

#[test]
fn the_least_bike_reads_and_says_nothing_that_was_not_stated() {
    for text in [crate::demo::LEAST, include_str!("../../../tests/files/least_imperial.toml")] {
        assert_eq!(check(text), []);
        let bike = Bike::from_toml(text).unwrap();
        let written = bike.to_toml();
        assert_eq!(Bike::from_toml(&written).unwrap(), bike, "{written}");
        for assumed in ["rake", "preload", "unsprung", "air", "reservoir", "length", "name", "front = ", "progression"]
        {
            assert!(!written.contains(assumed), "{assumed}: {written}");
        }
    }
}

#[test]
fn a_json_file_may_name_its_schema() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let named = bike.to_json().replacen('{', "{ \"$schema\": \"bike.schema.json\",", 1);
    assert_eq!(Bike::from_json(&named).unwrap(), bike);
    // Only at the top, only text, and only in JSON.
    for wrong in [
        named.replacen("\"bike.schema.json\"", "3", 1),
        bike.to_json().replacen("\"name\"", "\"$schema\": \"x\", \"name\"", 1),
    ] {
        let faults = check_json(&wrong);
        assert!(faults.len() == 1 && faults[0].message.contains("$schema"), "{faults:?}");
    }
    let faults = check(&format!("\"$schema\" = \"bike.schema.json\"\n{PATROL}"));
    assert!(faults.len() == 1 && faults[0].message.contains("$schema"), "{faults:?}");
}

/// What is said of a whole file, by key.
fn said(text: &str) -> Vec<(String, String)> {
    check(text).iter().map(|fault| (fault.key_path.to_string(), fault.message.clone())).collect()
}

#[test]
fn what_belongs_together_or_apart_is_said_at_its_key() {
    let leg = "spring = { rate = \"4.4 N/mm\", preload = \"6 mm\" }\n";
    for (text, key, says) in [
        (
            "[front]\naxle = [\"905 mm\", \"-150 mm\"]\n",
            "front.fork",
            "`linkage` and `shock`, where the wheel is on links",
        ),
        (
            &*format!("[front.fork]\ntravel = \"290 mm\"\n{leg}[[front.fork.leg]]\n{leg}[[front.fork.leg]]\n{leg}"),
            "front.fork.leg",
            "found legs beside parts of both legs, wanted one of them",
        ),
        (
            "[targets.front]\nrider_sag = { value = \"55 mm\", tolerance = \"5 mm\" }\n",
            "targets.front.rider_sag.direction",
            "along what this sag is meant is not said, wanted `direction = \"along fork\"` or `\"vertical\"`",
        ),
        (
            "[measuring.rear]\ndirection = \"to mark\"\n",
            "measuring.rear.direction",
            "`to mark` needs its mark, wanted `mark = [\"-400 mm\", \"350 mm\"]`",
        ),
        (
            "[[reading]]\nend = \"rear\"\nload = \"none\"\nsag = \"30 mm\"\n",
            "reading 1.load",
            "found `none` beside a sag, wanted the load that it sags under",
        ),
    ] {
        let found = said(&format!("format = 1\n{text}"));
        assert!(found.iter().any(|(at, message)| at == key && message.contains(says)), "{key}: {found:?}");
    }
}

#[test]
fn a_mechanism_whose_wheel_or_shock_cannot_move_is_refused() {
    let shock = "shock = [\"shock_frame\", \"shock_rocker\"]";
    for (from, to, says) in [
        (
            shock,
            "shock = [\"rocker_pivot\", \"axle\"]",
            "shock from `rocker_pivot` to `axle`: its length does not change",
        ),
        ("wheel = \"axle\"", "wheel = \"swingarm_pivot\"", "wheel `swingarm_pivot` does not move"),
    ] {
        let faults = faults_with(from, to);
        assert!(faults.len() == 1 && faults[0].contains(says), "{faults:?}");
    }
}

#[test]
fn an_end_read_to_a_mark_comes_back_from_its_text() {
    let to_mark = "[measuring.rear]\ndirection = \"to mark\"\nmark = [\"-560 mm\", \"420 mm\"]";
    let text = PATROL.replacen("[measuring.rear]\ndirection = \"vertical\"", to_mark, 1);
    let bike = Bike::from_toml(&text).unwrap();
    let measuring = bike.parts().measuring.rear.unwrap();
    let mm = |n: f64| crate::units::parse(&format!("{n} mm")).unwrap();
    assert_eq!(measuring.direction, crate::record::Direction::ToMark { x: mm(-560.0), z: mm(420.0) });
    assert_eq!(Bike::from_toml(&bike.to_toml()).unwrap(), bike);
    assert_eq!(Bike::from_json(&bike.to_json()).unwrap(), bike);
}

#[test]
fn what_json_has_words_for_and_a_bike_does_not_is_shown_as_it_stands() {
    let json = Bike::from_toml(PATROL).unwrap().to_json();
    for (found, shown) in [("true", "true"), ("false", "false"), ("null", "null")] {
        let wrong = json.replacen("\"Ridge patrol 300\"", found, 1);
        let faults = check_json(&wrong);
        assert_eq!(faults.len(), 1, "{faults:?}");
        assert_eq!((faults[0].key_path.to_string().as_str(), faults[0].found.as_str()), ("bike.name", shown));
        // The place is that of the value.
        let line = wrong.lines().position(|line| line.contains(&format!("\"name\": {found}"))).unwrap() + 1;
        assert_eq!(faults[0].line, Some(line));
    }
}
