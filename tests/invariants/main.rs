//! What must hold whatever the numbers are.

#[path = "../bikes.rs"]
mod bikes;
mod calibration;
mod curves;
mod decisions;
mod demo_truth;
mod first_answer;
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
