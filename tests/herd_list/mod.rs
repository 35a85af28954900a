//! A herd list against a herd: whom a line means, what changes, who is missing, and what is only doubtful.

mod any;
mod cells;
mod compared;
mod doubtful;
mod labels;
mod text;
mod two_tablets;
mod written;
mod year;
