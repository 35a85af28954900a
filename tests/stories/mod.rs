//! Stories: a record before, keys, a record after. The desk sits on two disks with one power switch; keys go through the
//! filter and the keymap as they would from a keyboard.

pub mod amend;
mod backup;
mod battery;
mod crash;
mod crush;
mod damaged;
mod economy;
mod every_hand;
mod every_key;
mod ghosts;
mod herd;
mod left;
mod of_farm;
mod plain;
mod plain_program;
mod plain_same;
pub mod player;
pub mod program;
mod random_keys;
mod reader;
pub mod rig;
mod ring;
mod slow;
mod today;
mod touch;
mod try_keys;
mod two_tablets;
mod unhurt;
mod visit;
pub mod walk;
mod withdrawal;
mod wrong_number;
