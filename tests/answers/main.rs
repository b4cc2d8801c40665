//! Every question that a bike answers, asked of bikes that have between them what a file may hold, beside the answers kept
//! in `tests/files/answers`. What is right is for the other suites to say. This one sees that nothing moves unmeant:
//! `make answers` writes the answers anew, and what then differs is to be explained.

mod alike;
mod layout;
mod questions;

use std::fmt::Write as _;
use std::path::Path;

use wheelrate::Bike;
use wheelrate::demo::{LEAST, PATROL};
use wheelrate::record::OnSale;
use wheelrate::units::{Length, Quantity};

/// All answers of a bike, each under its question.
fn answers(bike: &Bike) -> String {
    let mut text = String::new();
    for (question, answer) in questions::asked(bike) {
        writeln!(text, "## {question}\n{answer}").unwrap();
    }
    text
}

fn hold(name: &str, bike: &Bike) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("files/answers").join(format!("{name}.txt"));
    let found = alike::shortened(&answers(bike));
    if std::env::var_os("WHEELRATE_ANSWERS").is_some() {
        std::fs::write(path, found).unwrap();
        return;
    }
    let kept = std::fs::read_to_string(path).unwrap();
    alike::assert_alike(&found, &kept);
}

fn read(text: &str) -> Bike {
    Bike::from_toml(text).unwrap()
}

fn corrected(text: &str, values: &[(&str, &str)]) -> Bike {
    read(text).correct(values).unwrap()
}

const MUCH: &str = include_str!("../files/much.toml");
const LINKS: &str = include_str!("../files/links.toml");

#[test]
fn patrol() {
    hold("patrol", &read(PATROL));
}

#[test]
fn least() {
    hold("least", &read(LEAST));
}

#[test]
fn least_imperial() {
    hold("least_imperial", &read(include_str!("../files/least_imperial.toml")));
}

#[test]
fn much() {
    hold("much", &read(MUCH));
}

#[test]
fn links() {
    hold("links", &read(LINKS));
}

#[test]
fn workshop() {
    hold("workshop", &read(include_str!("../files/workshop.toml")));
}

#[test]
fn patrol_with_nothing_on_sale() {
    hold("patrol_with_nothing_on_sale", &read(PATROL).with(|parts| parts.on_sale = OnSale::default()).unwrap());
}

#[test]
fn patrol_with_nothing_read() {
    hold("patrol_with_nothing_read", &read(PATROL).with(|parts| parts.readings.clear()).unwrap());
}

#[test]
fn patrol_with_a_spring_too_soft() {
    let soft = [("rear.shock.spring.rate", "42 N/mm"), ("masses.rider", "104 kg")];
    hold("patrol_with_a_spring_too_soft", &corrected(PATROL, &soft));
}

#[test]
fn patrol_with_a_reading_that_cannot_be() {
    let bike = read(PATROL)
        .with(|parts| {
            let reading = &mut parts.readings[0];
            reading.distance += Length::from_si(0.03);
        })
        .unwrap();
    hold("patrol_with_a_reading_that_cannot_be", &bike);
}
