//! Stories: a record before, keys, a record after. The desk sits on two disks with one power switch; keys go through the
//! filter and the keymap as they would from a keyboard.

pub mod amend;
mod backup;
mod battery;
mod crash;
mod crush;
mod damaged;
mod every_key;
mod ghosts;
mod herd;
mod left;
mod plain;
mod plain_program;
mod plain_same;
mod program;
mod random_keys;
pub mod rig;
mod ring;
mod slow;
mod today;
mod two_tablets;
mod withdrawal;
mod wrong_number;
