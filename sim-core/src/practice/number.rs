//! The number by which an answer finds its key.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// Number of a deal: a digest of what is handed out. It tells nothing that the files beside it do not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct DealNumber(u32);

impl DealNumber {
    /// FNV-1a (from memory) of the texts, folded to 32 bits.
    pub(super) fn of(texts: &[&str]) -> Self {
        let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
        for byte in texts.iter().flat_map(|text| text.bytes()) {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
        #[allow(clippy::cast_possible_truncation)] // folded
        Self((hash ^ (hash >> 32)) as u32)
    }

    fn parse(text: &str) -> Option<Self> {
        let (high, low) = text.split_once('-')?;
        let half = |half: &str| {
            let plain = half.len() == 4 && half.bytes().all(|byte| byte.is_ascii_hexdigit());
            if plain { u32::from_str_radix(half, 16).ok() } else { None }
        };
        Some(Self((half(high)? << 16) | half(low)?))
    }
}

impl fmt::Display for DealNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04x}-{:04x}", self.0 >> 16, self.0 & 0xffff)
    }
}

impl<'de> Deserialize<'de> for DealNumber {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::parse(&text).ok_or_else(|| {
            de::Error::custom(format!("{text:?} is given; a deal's number is like \"4f2a-91c3\""))
        })
    }
}

impl Serialize for DealNumber {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}
