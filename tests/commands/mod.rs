//! The program without a screen: the real binary in a sealed home, with what goes in and what comes out.

mod animal;
mod check;
mod demo;
mod enter;
mod exchange;
pub mod home;
mod join;
mod practice;
mod rules;
mod totals;
mod usage;
