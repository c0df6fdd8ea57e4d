//! What guides the jaw, in words.

pub use words::name::{guidance as guidance_words, pair as pair_words};
