//! Scanned casts from files and back.
