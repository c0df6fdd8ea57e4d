//! How wide tables are set.

/// Set where nobody tells how wide the paper is.
pub(crate) const USUAL_WIDTH: usize = 100;
/// Narrower than this, lines run over instead.
const LEAST_WIDTH: usize = 60;

/// Columns to set tables in: `COLUMNS` if it is set, else the terminal's, else 100.
pub(crate) fn width() -> usize {
    let given = std::env::var("COLUMNS").ok().and_then(|columns| columns.trim().parse().ok());
    let terminal = || terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
    given.or_else(terminal).unwrap_or(USUAL_WIDTH).max(LEAST_WIDTH)
}
