//! What records add up to: single stories, and that neither order of arrival nor splitting can matter.

mod about_records;
mod amended;
mod any_order;
mod cases;
mod clock;
mod contacts;
mod disagreement;
mod instructions;
mod lame;
mod left_on;
mod never_lost;
mod partition;
mod walked;
mod withheld;
