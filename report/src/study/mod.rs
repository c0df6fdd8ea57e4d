//! Studies after they are run: the table read back, what is made of it, and the report.

mod captions;
mod error;
mod origin;
pub mod package;
mod page;
mod picture;
mod selection;
mod study_table;
pub mod summary;
mod table;
pub mod wording;

pub use captions::write as write_captions;
pub use error::SummaryError;
pub use origin::TableOrigin;
pub use page::write as write_page;
pub use picture::{Picture, pictures};
pub use selection::Selection;
pub use study_table::StudyTable;
pub use table::TableError;
