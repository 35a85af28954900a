//! The map without colour: drawings, pictures, layouts, labels, sketches.

pub mod animals;
mod grey;
mod labels;
mod layouts;
mod masks;
mod pictures;
mod sketches;
mod text;
