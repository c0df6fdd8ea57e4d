//! Studies after they are run: the table read back, what is made of it, and the report.

mod asked;
mod error;
mod opened;
mod page;
mod picture;
pub(crate) mod summary;
mod table;
pub(crate) mod told;

pub(crate) use asked::Asked;
pub(crate) use error::SummaryError;
pub(crate) use opened::Opened;
pub(crate) use page::write as write_page;
pub(crate) use picture::{Picture, pictures};
