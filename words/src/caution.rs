//! What is to be kept in mind, each written once: what a page, a file or a picture says of all that stands on it, and
//! what is said beside a number that it matters to.

/// What is to be kept in mind wherever the settings of an instrument are shown.
pub const CAUTION: &str = "For teaching and research. Settings are verified on the patient; \
                           local rules and licensed practice decide.";

/// Beside a standard error: what no number of landmarks tells.
pub const TISSUE: &str = "± knows nothing of tissue that gives: records on rims or bases over an edentulous ridge are \
                          less sure than it says.";

/// Beside everything that carries a case's title, scans or photos.
pub const PRIVACY: &str = "A title, a file's name, a scan or a photo can tell who the patient is. Give a case a number \
                           in place of a name, and keep its files as patients' records are kept.";

/// In the head of a scene written from a case.
pub const MORE_DIGITS_THAN_A_SCALE: &str = "Its angles stand as computed, in more digits than a scale shows: the file \
                                            is to be computed with, the sheet to set an instrument from.";

/// The caution as the first line of a CSV file, which readers of comments pass over.
#[must_use]
pub fn csv_line() -> String {
    format!("# {CAUTION}\n")
}

#[cfg(test)]
mod tests {
    use super::{CAUTION, MORE_DIGITS_THAN_A_SCALE, PRIVACY, TISSUE, csv_line};

    #[test]
    fn a_caution_is_one_line_of_sentences() {
        for caution in [CAUTION, TISSUE, PRIVACY, MORE_DIGITS_THAN_A_SCALE] {
            assert!(!caution.contains(['\n', '"']) && !caution.contains("  "), "{caution}");
            assert!(caution.ends_with('.'), "{caution}");
        }
        assert_eq!(csv_line().lines().count(), 1);
    }
}
