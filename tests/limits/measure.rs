//! How long any file takes to be answered, and how much memory: runs each kind of nasty file in a process of its own, at 10 MB,
//! at the most bytes that are read, and with the most rows that are, and prints the worst of each as a row of JSON.

use std::process::{Command, ExitCode};
use std::time::Instant;

use wheelrate::file::{LARGEST, MOST_FAULTS, MOST_ROWS, check, check_json};

#[path = "../nasty.rs"]
mod nasty;

use nasty::{Nasty, Written};

/// What is stated: seconds and MB for any file of so many bytes, in release code.
const BYTES: usize = 10_000_000;
const SECONDS: f64 = 2.0;
const MEGABYTES: f64 = 300.0;

/// Most memory that this process has used (MB), as Linux counts it.
fn peak() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kilobytes = line.and_then(|line| line.split_whitespace().next()?.parse::<f64>().ok());
    kilobytes.map_or(f64::NAN, |kilobytes| kilobytes / 1e3)
}

/// What one file took.
#[derive(Clone, Copy)]
struct Took {
    bytes: usize,
    seconds: f64,
    megabytes: f64,
}

/// The sizes that a kind of file is tried in: bytes, most rows beside those that a bike has anyway, and as many as a person writes.
fn sizes(kind: &Nasty) -> [String; 4] {
    [kind.sized(BYTES), kind.sized(LARGEST - 1_000), kind.of(MOST_ROWS - 100), kind.of(29)]
}

/// One file, in this process: what it took, on standard output.
fn one(name: &str, size: usize) {
    let Some(kind) = nasty::all().into_iter().find(|kind| kind.name == name) else { return };
    let Some(text) = sizes(&kind).into_iter().nth(size) else { return };
    let start = Instant::now();
    let faults = match kind.written {
        Written::Toml => check(&text),
        Written::Json => check_json(&text),
    };
    assert!(faults.len() <= MOST_FAULTS + 1, "{name}: {} faults", faults.len());
    println!("{} {:.3} {:.0}", text.len(), start.elapsed().as_secs_f64(), peak());
}

/// One file, in a process of its own.
fn took(name: &str, size: usize) -> Option<Took> {
    let output = Command::new(std::env::current_exe().ok()?).args([name, &size.to_string()]).output().ok()?;
    let said = String::from_utf8(output.stdout).ok()?;
    let [bytes, seconds, megabytes] = said.split_whitespace().collect::<Vec<_>>().try_into().ok()?;
    Some(Took { bytes: bytes.parse().ok()?, seconds: seconds.parse().ok()?, megabytes: megabytes.parse().ok()? })
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if let [name, size] = arguments.as_slice() {
        one(name, size.parse().unwrap_or(0));
        return ExitCode::SUCCESS;
    }
    let (mut within, mut rows) = (true, Vec::new());
    for kind in nasty::all() {
        let of: Option<Vec<Took>> = (0..4).map(|size| took(kind.name, size)).collect();
        let Some(of) = of else {
            eprintln!("{}: died", kind.name);
            within = false;
            continue;
        };
        let most = |part: fn(&Took) -> f64| of.iter().map(part).fold(0.0, f64::max);
        let (seconds, megabytes) = (most(|took| took.seconds), most(|took| took.megabytes));
        let bytes = of.iter().map(|took| took.bytes).max().unwrap_or(0);
        within &= seconds < SECONDS && megabytes < MEGABYTES;
        let parts: Vec<String> =
            of.iter().map(|took| format!("{} B {:.2} s {:.0} MB", took.bytes, took.seconds, took.megabytes)).collect();
        eprintln!("{:32} {}", kind.name, parts.join("   "));
        rows.push(format!(
            "{{\"file\": \"{}\", \"bytes\": {bytes}, \"seconds\": {seconds:.2}, \"megabytes\": {megabytes:.0}}}",
            kind.name
        ));
    }
    println!("[\n{}\n]", rows.join(",\n"));
    if within { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
