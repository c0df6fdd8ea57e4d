//! Film whose marks were not worked out: an empty picture that must not be taken for teeth apart.

use sim_core::cast::TooIntricate;

/// What stands where marks would, in few words.
pub const SHORT: &str = "not worked out";

/// Why there are no marks, and what that does not mean.
#[must_use]
pub fn sentence(why: TooIntricate) -> String {
    format!("No marks were worked out, which does not mean that the teeth do not touch: {why}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nobody_takes_it_for_teeth_apart() {
        let why = TooIntricate { most: 3_000_000 };
        let said = sentence(why);
        // In the words of the command line.
        assert!(said.ends_with(&why.to_string()) && said.contains("does not mean"), "{said}");
        assert!(!said.contains("no marks on"), "{said}");
    }
}
