//! What must be refused, and in which words.

mod bike_file;
mod ends;
mod log;
mod sound;
mod springs;
