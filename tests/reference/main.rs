//! Published values, one file per source. Each check names its source and why its tolerance is what it is.

mod bhandari;
mod coolprop;
mod en_13906;
mod four_bar;
mod front_links;
mod instant_centres;
mod jcgm;
mod landing;
mod linkages;
mod nist_strd_linear;
mod nist_strd_nonlinear;
mod normal_boxes;
mod openstax;
mod outside;
mod road;
mod settling;
mod shigley;
mod standard_atmosphere;
mod steering;
mod strength_of_materials;
mod thermodynamics;
mod units;
mod vibration;
mod weighing;
