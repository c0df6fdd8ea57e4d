//! Every file that is read: scenes, cases, studies with all that they name and their tables, tracings,
//! scanned casts.
//!
//! A [`Source`] is a file, standard input, or a text of the program's own. [`Source::read`] reads what
//! people write (RON) from it: a scene, a case, a study, an answer or a key. What such a text names in
//! turn comes out of a [`Folder`]: [`of_scene`] has the casts of a scene, [`load`] a study with its scene,
//! its casts and its columns, [`lesson()`] a lesson with the scene that it starts from. [`built_in`] lists
//! the scenes and lessons that come with the program. [`tracing`] holds the points of a tracing, [`cast`] reads and writes scans.
//!
//! A [`link`] is a set-up as a text that stands in the [`address`] of a page.
//!
//! What is wrong is said with the file, the place in it, and what would be accepted.
//!
//! One text is written here too, since what it was made from is known here: [`scene_with_head`].
//!
//! A path is a folder. Where there is no disk, something else is one, as are the files that were [`Given`] to a page
//! of a browser; everything below the opening itself takes bytes.
//!
//! ```
//! use sim_core::scene::Scene;
//!
//! // Some editors put a byte-order mark before a text.
//! let text = format!("\u{feff}{}", Scene::thirty_degree().to_ron());
//! let scene: Scene = files::from_text(&text, "mine.ron")?;
//! assert_eq!(scene, Scene::thirty_degree());
//!
//! let error = files::from_text::<Scene>("(title: 7)", "mine.ron").unwrap_err();
//! assert!(error.to_string().starts_with("mine.ron:1:8: field title"), "{error}");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod address;
pub mod built_in;
mod case_or_scene;
pub mod cast;
mod column;
pub mod day;
mod fingerprint;
mod folder;
mod given;
mod head;
mod lesson;
pub mod link;
mod open;
mod scene;
mod source;
mod study;
mod text;
pub mod tracing;

pub use case_or_scene::{CaseOrScene, case_or_scene, case_or_scene_from_text};
pub use fingerprint::{sha256, sha256_of_table};
pub use folder::{Folder, FolderOf};
pub use given::Given;
pub use head::{MadeFrom, scene_with_head};
pub use lesson::{LessonError, is_lesson, lesson, lesson_from_text};
pub use open::{OpenError, Stamp, open_table};
pub use scene::{SceneCasts, SceneCastsError, of_scene};
pub use source::Source;
pub use study::{InputFile, LoadError, Loaded, load, study_from_text};
pub use text::{MOST_TEXT_BYTES, TextError, TextKind, Written, from_text, read_in, text_in};
