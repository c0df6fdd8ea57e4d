//! Studies after they are run: the table read back, what is made of it, and the report.

mod error;
mod opened;
mod page;
mod picture;
mod selection;
pub mod summary;
mod table;
pub mod wording;

pub use error::SummaryError;
pub use opened::StudyTable;
pub use page::write as write_page;
pub use picture::{Picture, pictures};
pub use selection::Selection;
