//! A bad value is reported at its own key, however deep it stands, with what would do apart from what was probably meant.

use wheelrate::error::Fault;
use wheelrate::file::{MOST_FAULTS, check};

use crate::sound::{SOUND, changed, one_fault};

/// The sound bike with something else in its shock.
fn shock(inside: &str) -> String {
    changed("spring = { rate = \"90 N/mm\", preload = \"14 mm\" }\n", inside)
}

const AIR: &str = "air_spring = { piston_diameter = \"34 mm\", volume = \"320 cm3\", pressure = \"9 bar\", \
                   negative = { rod_diameter = \"12 mm\", volume = \"15 cm3\", port_at = \"12 mm\" } }\n";

#[test]
fn in_gas() {
    assert_eq!(check(&shock(AIR)), Vec::new());
    let at = |from: &str, to: &str, path: &str| {
        let text = shock(&AIR.replace(from, to));
        one_fault(&text, &to[to.find('"').unwrap()..], path, &[]);
    };
    at("volume = \"15 cm3\"", "volume = \"0 cm3\"", "rear.shock.air_spring.negative.volume");
    at("rod_diameter = \"12 mm\"", "rod_diameter = \"40 mm\"", "rear.shock.air_spring.negative.rod_diameter");
    at("port_at = \"12 mm\"", "port_at = \"120 mm\"", "rear.shock.air_spring.negative.port_at");
    at("volume = \"320 cm3\"", "volume = \"32 cm3\"", "rear.shock.air_spring.volume");
    let reservoir = changed("volume = \"180 cm3\"", "volume = \"10 cm3\"");
    one_fault(&reservoir, "\"10 cm3\"", "rear.shock.reservoir.volume", &["more than"]);
    let hot = changed("oil_level = \"105 mm\"", "oil_level = \"105 mm\", sealed = { temperature = \"2000 K\" }");
    one_fault(&hot, "\"2000 K\"", "front.fork.leg[0].air.sealed.temperature", &["no plausible temperature"]);
    let high = changed("oil_level = \"105 mm\"", "oil_level = \"105 mm\", running = { altitude = \"20000 m\" }");
    one_fault(&high, "\"20000 m\"", "front.fork.leg[0].air.running.altitude", &["9000 m"]);
}

#[test]
fn in_springs() {
    let stack = shock("spring = { stack = [{ rate = \"90 N/mm\" }, { rate = \"-9 N/mm\" }], preload = \"4 mm\" }\n");
    one_fault(&stack, "\"-9 N/mm\"", "rear.shock.spring.stack[1].rate", &["-9 N/mm"]);
    let nest = shock(
        "spring = { nest = [{ rate = \"90 N/mm\" }, { rate = \"9 N/mm\", gap = \"-1 mm\" }], preload = \"4 mm\" }\n",
    );
    one_fault(&nest, "\"-1 mm\"", "rear.shock.spring.nest[1].gap", &["zero or more"]);
    let table = shock("spring = { table = [[\"10 mm\", \"50 N\"], [\"20 mm\", \"40 N\"]], preload = \"4 mm\" }\n");
    one_fault(&table, "[\"20 mm\", \"40 N\"]", "rear.shock.spring.table[1]", &["must both rise"]);
    for stop in ["bump_stop", "top_out"] {
        let text = shock(&format!("{stop} = {{ rate = \"90 N/mm\", acts_over = \"100 mm\" }}\n"));
        one_fault(
            &text,
            "\"100 mm\"",
            &format!("rear.shock.{stop}.acts_over"),
            &["not more than the full stroke of 90 mm"],
        );
    }
}

#[test]
fn in_masses_targets_and_points() {
    let light = changed("bike = { front = \"61 kg\"", "bike = { front = \"6.1 kg\"");
    one_fault(&light, "\"6.1 kg\"", "masses.bike.front", &["sprung mass would be negative"]);
    let none = changed("tolerance = \"4 mm\"", "tolerance = \"0 mm\"");
    one_fault(&none, "\"0 mm\"", "targets.rear.rider_sag.tolerance", &["more than zero"]);
    let free = changed("\"50 N/mm\", \"52 N/mm\"", "\"50 N/mm\", \"-52 N/mm\"");
    one_fault(&free, "\"-52 N/mm\"", "on_sale.rear[1]", &["zero or more"]);
    let points = format!("{SOUND}[frame_points]\nunit = \"mm\"\nseat = [-80, 460]\nskid_plate = [90, -15000]\n");
    one_fault(&points, "-15000", "frame_points.skid_plate[1]", &["-15000 mm"]);
    let named = format!("{SOUND}[frame_points]\nunit = \"mm\"\n\"\" = [90, -150]\n");
    one_fault(&named, "[90, -150]", "frame_points.\"\"", &["not empty"]);
    let pole = changed("axle = [-575, -165]", "axle = [-575, -16500]");
    one_fault(&pole, "-16500", "rear.linkage.points.axle[1]", &["-16500 mm"]);
}

#[test]
fn what_was_meant_stands_apart_from_what_would_do() {
    let of = |from: &str, to: &str| -> Fault {
        let faults = check(&changed(from, to));
        assert_eq!(faults.len(), 1, "{faults:?}");
        faults[0].clone()
    };
    for (from, to, found, wanted, meant) in [
        ("travel = \"290 mm\"", "travel = \"290 m\"", "290000 mm", "20 mm to 600 mm", Some("290 mm")),
        (
            "travel = \"290 mm\"",
            "travel = \"290 MM\"",
            "290 MM",
            "a length with its unit: mm, cm, m, in or ft",
            Some("290 mm"),
        ),
        ("travel = \"290 mm\"", "travel = 290", "290", "a length with its unit: mm, cm, m, in or ft", Some("290 mm")),
        ("settled = \"low\"", "settled = \"lows\"", "lows", "`low`, `high` or `middle`", Some("low")),
        ("wheel = \"axle\"", "wheel = \"axel\"", "axel", "`pivot`, `axle`, `top` and `eye`", Some("axle")),
        ("load = \"bike + rider\"", "load = \"bike + ridr\"", "ridr", "bike or rider", Some("rider")),
        ("stroke = \"90 mm\"", "stroke = \"-90 mm\"", "-90 mm", "5 mm to 400 mm", None),
    ] {
        let fault = of(from, to);
        assert_eq!((fault.found.as_str(), fault.wanted.as_str(), fault.suggestion.as_deref()), (found, wanted, meant));
    }
}

#[test]
fn the_cost_of_a_check_grows_with_the_text_and_no_faster() {
    /// Text, keys, rows and faults are four times as many: a pass over all of them for each takes sixteen times as long.
    const GROWTH: usize = 4;
    let text = |count: usize| {
        let row = "[[reading]]\nend = \"raer\"\nload = \"bike\"\ndistance = 551\nnoet = \"x\"\n";
        let names: String = (0..count).map(|name| format!("p{name} = [0, {name}]\n")).collect();
        format!("{SOUND}{}[frame_points]\nunit = \"mm\"\n{names}", row.repeat(count))
    };
    let seconds = |text: &str| {
        let run = || {
            let start = std::time::Instant::now();
            assert!(!check(text).is_empty());
            start.elapsed().as_secs_f64()
        };
        (0..3).map(|_| run()).fold(f64::INFINITY, f64::min)
    };
    let (small, large) = (text(500), text(500 * GROWTH));
    let said = check(&small);
    assert_eq!(said.len(), MOST_FAULTS + 1);
    assert_eq!(said[MOST_FAULTS].message, format!("and {} more faults", 1500 - MOST_FAULTS));
    // Three of each row, in the order of the text.
    assert_eq!(said[MOST_FAULTS - 1].key_path, *format!("reading[{}].distance", MOST_FAULTS / 3 + 1));
    let growth = seconds(&large) / seconds(&small);
    assert!(growth < (GROWTH * GROWTH) as f64 / 2.0, "{growth:.1} times as long");
}

#[test]
fn in_prices() {
    let text = |spring: &str| format!("{SOUND}\n[prices]\nspring = {spring}\n");
    assert_eq!(check(&text("\"25 %\"")), Vec::new());
    one_fault(&text("\"1000 %\""), "\"1000 %\"", "prices.spring", &["1000 %"]);
    one_fault(&text("10"), "10\n", "prices.spring", &["has no unit"]);
}
