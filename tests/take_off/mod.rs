//! The take-off list of a farm: what stands on it, and its forms, each against what reads it.

mod calendar;
mod command;
mod content;
mod entries;
mod page;
mod paper;
mod world;
