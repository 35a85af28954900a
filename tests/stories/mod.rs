//! Stories: a record before, keys, a record after. The desk sits on two disks with one power switch; keys go through the
//! filter and the keymap as they would from a keyboard.

pub mod amend;
mod backup;
mod battery;
mod crash;
mod crush;
mod damaged;
mod day_list;
mod economy;
mod every_hand;
mod every_key;
mod ghosts;
mod herd;
mod instruct;
mod left;
mod of_farm;
mod plain;
mod plain_program;
mod plain_same;
pub mod player;
pub mod program;
mod random_keys;
mod reader;
mod reader_program;
pub mod rig;
mod ring;
mod scoring_walk;
mod slow;
mod today;
mod touch;
mod try_keys;
mod two_tablets;
mod type_up;
mod unhurt;
pub mod walk;
mod withdrawal;
mod wrong_number;
