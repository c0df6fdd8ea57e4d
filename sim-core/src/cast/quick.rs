//! Maps over the places of a scan, of which there are millions.

use std::collections::HashMap;

/// A map that is looked up several times as fast as the standard one. Like that it is seeded at random, so that
/// no file can be made up whose places all fall together.
pub(super) type QuickMap<K, V> = HashMap<K, V, foldhash::fast::RandomState>;
