//! The program without a screen: the real binary in a sealed home, with what goes in and what comes out.

mod animal;
mod backup;
mod bad_files;
mod check;
mod day_list;
mod demo;
mod enter;
mod exchange;
mod farm;
mod herd;
pub mod home;
mod join;
mod log;
mod manual;
mod practice;
mod recorder;
mod rescue;
mod rules;
mod sheets;
mod totals;
mod twice;
mod usage;
mod visit;
mod visits;
mod walk;
