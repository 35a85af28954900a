//! The house keeps itself tidy: what `DEVELOPERS.md` says about rooms, crates, clocks, files and documents, read out of the
//! source and enforced. Every rule is first shown a bad example that it must refuse.

mod dependencies;
mod documents;
mod files;
mod house;
mod refused;
mod rules;
mod shape;
mod tokens;
