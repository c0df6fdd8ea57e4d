//! The forms of a report, by the names that are typed.

use clap::ValueEnum;
use clap::builder::{PossibleValuesParser, TypedValueParser};

/// The forms by name.
#[derive(ValueEnum, Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(crate) enum Format {
    /// For people: rounded, explained
    #[default]
    Table,
    /// For spreadsheets and notebooks: full precision
    Csv,
    /// For programs: full precision, everything
    Json,
}

impl Format {
    /// Takes the forms of a report that has no rows to put into a CSV.
    pub(crate) fn without_csv() -> impl TypedValueParser<Value = Self> {
        let values = [Self::Table, Self::Json].iter().filter_map(Self::to_possible_value);
        PossibleValuesParser::new(values).try_map(|name| Self::from_str(&name, false))
    }
}
