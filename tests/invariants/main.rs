//! What must hold whatever the numbers are.

mod agreement;
#[path = "../bikes.rs"]
mod bikes;
mod calibration;
mod curves;
mod decisions;
mod demo_truth;
mod first_answer;
mod floor;
mod garage;
mod geometry;
mod history;
#[path = "../linkages.rs"]
mod linkages;
mod little_known;
mod misspecified;
mod more_information;
mod pivots;
mod probability;
mod survey;
mod verdicts;
mod wheel;
