//! Why a study cannot be made.

use crate::facts::OutOfRange;
use crate::scene::Senseless;
use crate::setting::{KnownCusps, Near, NoSuchCusp};

/// Why a study cannot be made; says what was given and what is allowed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum StudyError {
    /// Nothing to vary.
    #[error(
        "factors is empty; give at least one, for example (setting: \"horizontal_inclination_deg\", values: Range(from: 20.0, to: 50.0, steps: 6))"
    )]
    NoFactor,
    /// One number set twice.
    #[error(
        "`{first}` and `{second}` set the same number; a number is set by one factor or constraint alone"
    )]
    SetTwice {
        /// The factor or derived setting that stands first.
        first: String,
        /// The one that stands later.
        second: String,
    },
    /// A constraint on something that does not vary.
    #[error("`{name}` in a constraint is no factor, nor derived before it; {near}")]
    NotAFactor {
        /// The name.
        name: String,
        /// What is called nearly so.
        near: Near,
    },
    /// The rule L = H/8 + 12 for other settings.
    #[error(
        "HOverEightPlusTwelve derives lateral_angle_deg from horizontal_inclination_deg; here it would derive `{setting}` from `{of}`"
    )]
    RuleOfOthers {
        /// The setting derived.
        setting: String,
        /// What it is derived from.
        of: String,
    },
    /// A number of a linear rule that is none.
    #[error("the rule for `{setting}` has {field} = {given}, which is not a finite number")]
    RuleNumber {
        /// The setting derived.
        setting: String,
        /// The field.
        field: &'static str,
        /// The number.
        given: f64,
    },
    /// A side-by-side rule on what has no sides.
    #[error("LeftEqualsRight({name:?}) needs the name of a condylar guide's setting without its side")]
    NoSides {
        /// The name given.
        name: String,
    },
    /// A grid over a distribution.
    #[error(
        "{plan} needs levels, and `{name}` has a distribution; give it a List, a Range or a Column, or choose a random plan"
    )]
    NoLevels {
        /// The factor.
        name: String,
        /// The plan.
        plan: &'static str,
    },
    /// More rows than can be counted.
    #[error("{plan} has more than {most} rows; fewer levels, factors or groups are needed")]
    TooManyRows {
        /// The plan.
        plan: &'static str,
        /// Most rows that a plan may have.
        most: u64,
    },
    /// More factors than Sobol' dimensions.
    #[error(
        "the plan takes at most {most} factors (Sobol' points have so many dimensions), and there are {count}"
    )]
    TooManyFactors {
        /// Number of factors.
        count: usize,
        /// Most that are allowed.
        most: usize,
    },
    /// A base scene without one value to start from.
    #[error(
        "OneAtATime needs one value of `{name}` in the base scene, and there is none or there are several that differ; give each its own factor"
    )]
    NoSingleBase {
        /// The factor.
        name: String,
    },
    /// A matrix of the wrong size.
    #[error(
        "matrix has {rows} rows, one of them of {columns} numbers; {count} factors need {count} rows of {count}"
    )]
    MatrixShape {
        /// Number of factors.
        count: usize,
        /// Rows given.
        rows: usize,
        /// Length of a row that is wrong.
        columns: usize,
    },
    /// A diagonal that is not one.
    #[error("matrix has {given} at row {place}, column {place}; a factor's correlation with itself is 1")]
    MatrixDiagonal {
        /// Row and column, from 1.
        place: usize,
        /// The number.
        given: f64,
    },
    /// A number that is no correlation.
    #[error("matrix has {given} at row {}, column {}; a correlation is from -1 to 1", place.0, place.1)]
    MatrixEntry {
        /// Row and column, from 1.
        place: (usize, usize),
        /// The number.
        given: f64,
    },
    /// Two halves that differ.
    #[error(
        "matrix has {given} at row {}, column {} but {mirrored} at row {}, column {}; the two are one correlation",
        place.0, place.1, place.1, place.0
    )]
    MatrixSymmetry {
        /// Row and column, from 1.
        place: (usize, usize),
        /// The number there.
        given: f64,
        /// The number in the mirrored place.
        mirrored: f64,
    },
    /// Correlations that contradict each other.
    #[error("matrix is not positive definite: no numbers can be correlated so; make its correlations weaker")]
    NotPositiveDefinite,
    /// A plan that would lose its strata, levels or independence.
    #[error(
        "{plan} does not keep correlations: a grid has its levels, Latin hypercube its strata, and indices need independent factors; Sobol and MonteCarlo keep them"
    )]
    CorrelationNotKept {
        /// The plan.
        plan: &'static str,
    },
    /// A column that could not be had.
    #[error("`{name}` takes its values from column \"{column}\" of {file}: {why}")]
    Column {
        /// The factor.
        name: String,
        /// The file.
        file: String,
        /// The column.
        column: String,
        /// What was wrong.
        why: String,
    },
    /// A column not read where numbers are needed.
    #[error("`{name}` has no values")]
    NoValues {
        /// The factor.
        name: String,
    },
    /// A published range of another kind.
    #[error("`{name}` is set in {unit}, and the published range `{published}` is in {given}")]
    Unit {
        /// The factor.
        name: String,
        /// Its unit, in words.
        unit: &'static str,
        /// The range named.
        published: &'static str,
        /// The range's unit, in words.
        given: &'static str,
    },
    /// Casts that would have to be made anew in every row.
    #[error(
        "`{name}` is no factor: casts are made once for a study; write one study for each shape of teeth"
    )]
    CastsStay {
        /// The factor.
        name: String,
    },
    /// A cusp that the scene does not have.
    #[error(transparent)]
    NoSuchCusp(#[from] NoSuchCusp),
    /// A value beyond what the setting takes.
    #[error("factor `{name}`: {why}{}", row.map_or(String::new(), |row| format!("; row {row} would be the first with a value out of range")))]
    OutOfRange {
        /// The factor.
        name: String,
        /// The value and what is allowed.
        why: Box<OutOfRange>,
        /// The first row that would have such a value, if it is among those looked at.
        row: Option<u64>,
    },
    /// A scene that makes no sense with the factors' values in it.
    #[error("with the factors' values, {0}")]
    Senseless(#[from] Senseless),
    /// Nothing to record.
    #[error("measures is empty; give at least one, for example [Clearance]")]
    NoMeasure,
    /// A record in no excursion.
    #[error("excursions is empty; give at least one, or leave it out for the scene's")]
    NoExcursion,
    /// Something listed twice.
    #[error("{what} is listed twice in {list}")]
    ListedTwice {
        /// The list.
        list: &'static str,
        /// What is in it twice.
        what: String,
    },
    /// An advance beyond what a joint makes.
    #[error("advances_mm: {0}")]
    Advance(OutOfRange),
    /// A cusp to be recorded that the scene does not have.
    #[error("cusps has \"{label}\", which the scene has not; {known}")]
    NoCuspRecorded {
        /// The label given.
        label: String,
        /// The cusps that the scene has.
        known: KnownCusps,
    },
    /// Measures that nothing in the study gives.
    #[error("{measure} gives no column: {why}")]
    Idle {
        /// The measure.
        measure: &'static str,
        /// What is missing.
        why: &'static str,
    },
}

impl StudyError {
    /// The word in the study file that the complaint is about, and which of its uses (from 0).
    #[must_use]
    pub(super) fn about(&self) -> (String, usize) {
        let quoted = |name: &String| format!("\"{name}\"");
        match self {
            Self::NoFactor => ("factors:".to_owned(), 0),
            Self::SetTwice { first, second } => (quoted(second), usize::from(first == second)),
            Self::NotAFactor { name, .. }
            | Self::NoSides { name }
            | Self::NoLevels { name, .. }
            | Self::NoSingleBase { name }
            | Self::Column { name, .. }
            | Self::NoValues { name }
            | Self::CastsStay { name }
            | Self::Unit { name, .. }
            | Self::OutOfRange { name, .. } => (quoted(name), 0),
            Self::RuleOfOthers { setting, .. } | Self::RuleNumber { setting, .. } => (quoted(setting), 0),
            Self::NoSuchCusp(absent) => (quoted(&absent.name), 0),
            Self::MatrixShape { .. }
            | Self::MatrixDiagonal { .. }
            | Self::MatrixEntry { .. }
            | Self::MatrixSymmetry { .. }
            | Self::NotPositiveDefinite => ("matrix:".to_owned(), 0),
            Self::CorrelationNotKept { .. } => ("Correlated".to_owned(), 0),
            Self::TooManyRows { .. } | Self::TooManyFactors { .. } => ("plan:".to_owned(), 0),
            Self::Senseless(_) => ("scene:".to_owned(), 0),
            Self::NoExcursion => ("excursions:".to_owned(), 0),
            Self::NoMeasure | Self::Idle { .. } => ("measures:".to_owned(), 0),
            Self::ListedTwice { list, .. } => (format!("{list}:"), 0),
            Self::Advance(_) => ("advances_mm:".to_owned(), 0),
            Self::NoCuspRecorded { label, .. } => (quoted(label), 0),
        }
    }
}
