//! What must be refused, and in which words.

mod bike_file;
mod ends;
mod links;
mod log;
mod measured;
mod places;
mod sound;
mod springs;
