//! Published values, one file per source. Each check names its source and why its tolerance is what it is.

mod four_bar;
mod jcgm;
mod landing;
mod linkages;
mod nist_strd;
mod settling;
mod steering;
mod units;
mod vibration;
mod weighing;
