//! Published values, one file per source. Each check names its source and why its tolerance is what it is.

mod jcgm;
mod nist_strd;
mod steering;
mod units;
mod vibration;
mod weighing;
