//! stub
pub mod call_out;
pub mod map_text;
pub mod words;
