//! What a link begins with, and how large it may be.

/// What a link begins with. It is another digit where a link of another form is written.
pub const VERSION: char = '1';

/// Letters that a link has at most, [`VERSION`] among them. Browsers take far longer addresses, but mail and
/// course pages cut them; the scenes that come with the program need fewer than a tenth of it.
pub const MOST_LINK_LETTERS: usize = 16_000;

/// Bytes that a link unpacks to at most: four times what such a length of ordinary scenes holds. A stream made
/// to burst would unpack to a thousand times its length.
pub const MOST_UNPACKED_BYTES: usize = 200_000;
