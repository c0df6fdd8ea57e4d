//! Studies from their files to tables.
//!
//! `sim_core::study` computes a row from its number, and `files` reads a study with all that it names
//! ([`files::load`]); here its rows become Arrow columns ([`batch`]), and all of them are written to a file by all
//! cores ([`run`]).
//!
//! # How a run works
//!
//! Rows are grouped: so many to a group that its numbers take about 16 MB, or 64 where the scene has casts.
//! The number depends on the study alone. Any thread computes any group, in pieces that stay in the
//! processor's caches, and encodes it; one thread writes the groups in their order. Few groups are under way
//! at a time, so that memory does not grow with the number of rows, and nothing in a group depends on who
//! made it, so that the bytes do not depend on the threads.
//!
//! A table is made in a file of its own (`table.unfinished.parquet`) with a journal beside it. About once a
//! second both are made to last (`fsync`), and only then are their rows reported as saved. The journal says
//! whose the table is (hash of the study and its casts, version, part, form) and, of each group, its rows,
//! its place, its checksum, and what the end of the file needs to know of it. A run that goes on reads the
//! journal as far as it is whole, reads the groups and compares their checksums, cuts off what is not whole,
//! and computes what is missing: a run killed at any moment ends with the bytes of one that never was. Lost is
//! what was written since the last save, some second's work, and the groups under way; a run that is killed within its
//! first second has nothing to go on with. A run that cannot write on, as on a full disk, first saves what is whole.
//!
//! Before a table is begun it is asked whether it fits on its disk ([`FreeSpace`]). A run that is told to stop finishes
//! the groups under way, or drops them ([`UnderWay`]), and closes the file, which can then be read as it is.
//! Only a whole table gets its name, by renaming.
//!
//! The end of a Parquet file tells where each column of each group lies. It is made in memory: some 90 bytes
//! a column and group, 4 MB for 10⁸ rows of 30 columns. That is the one thing that grows.
//!
//! ```
//! use std::path::Path;
//!
//! let scene = sim_core::scene::Scene::thirty_degree().to_ron();
//! let text = format!(r#"(
//!     title: "Steeper guides (invented)",
//!     scene: {scene},
//!     factors: [
//!         (setting: "horizontal_inclination_deg", values: Range(from: 20.0, to: 40.0, steps: 2)),
//!     ],
//!     plan: FullGrid,
//!     record: (measures: [Clearance], advances_mm: [3.0], cusps: ["36.mesiobuccal"]),
//! )"#);
//! let study = files::study_from_text(&text, "steeper.ron", Path::new(""))?;
//! let table = study_run::batch(&study, 0..study.prepared.row_count())?;
//! assert_eq!(table.num_rows(), 3);
//! assert_eq!(table.schema().field(0).name(), "row");
//! assert_eq!(table.schema().field(2).metadata()["unit"], "mm");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod error;
mod estimate;
mod finished;
mod form;
mod groups;
mod journal;
mod origin;
mod part;
mod pieces;
mod run;
mod space;
mod table;
mod work_file;

pub use built::VERSION;
pub use error::RunError;
pub use estimate::{Estimate, estimate};
/// What a run takes.
pub use files::Loaded;
pub use form::Form;
pub use origin::Origin;
pub use part::{NoPart, Part};
pub use pieces::{Piece, Pieces};
pub use run::{Destination, Existing, Finished, Observer, Options, UnderWay, run};
pub use space::{FreeSpace, free_bytes};
pub use table::{BatchError, Batcher, ROW, batch, key, role_name, schema};
