//! What decided for code of our own: each row is measured here, beside the crate that was not taken.
//!
//! `cargo run --release --manifest-path docs/choices/Cargo.toml`; `docs/choices.md` has the rows and what
//! follows from them. Not part of the workspace, so that nothing else builds these crates.

mod measure;
mod meshes;
mod numbers;
mod pictures;
mod surfaces;

fn main() {
    meshes::rows();
    surfaces::rows();
    numbers::rows();
    pictures::rows();
}
