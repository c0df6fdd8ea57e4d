//! One-at-a-time tornado: how far each factor alone moves an output.

/// How far each factor alone moves an output, the farthest first.
#[derive(Clone, Debug, PartialEq)]
pub struct Tornado {
    /// The output of the base scene.
    pub base: f64,
    /// One for each factor that has an output at some level.
    pub bars: Vec<Bar>,
}

/// How far one factor alone moves an output.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    /// The factor's place, from 0.
    pub factor: usize,
    /// The least output, base included, and its row.
    pub least: (f64, u64),
    /// The greatest output, base included, and its row.
    pub greatest: (f64, u64),
    /// Levels left out since they have no output.
    pub left_out: usize,
}

impl Bar {
    /// From the least output to the greatest.
    #[must_use]
    pub(crate) fn swing(&self) -> f64 {
        self.greatest.0 - self.least.0
    }
}

/// Why there is no tornado.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TornadoError {
    /// Outputs of another plan.
    #[error(
        "{rows} rows are given where one and the factors' levels make {needed}: a tornado needs the plan OneAtATime"
    )]
    Layout {
        /// Number of rows.
        rows: usize,
        /// Rows of the plan.
        needed: usize,
    },
    /// No output of the base scene.
    #[error("the base scene has no output")]
    NoBase,
}

/// The tornado of an output whose rows are those of the plan `OneAtATime`; `levels` is the number of
/// levels of each factor ([`super::super::SamplingDesign::one_at_a_time_levels`]).
///
/// # Errors
/// [`TornadoError`].
pub fn tornado(outputs: &[f64], levels: &[usize]) -> Result<Tornado, TornadoError> {
    let needed = 1 + levels.iter().sum::<usize>();
    if outputs.len() != needed {
        return Err(TornadoError::Layout { rows: outputs.len(), needed });
    }
    let base = outputs[0];
    if base.is_nan() {
        return Err(TornadoError::NoBase);
    }
    let mut first = 1;
    let mut bars = Vec::with_capacity(levels.len());
    for (factor, count) in levels.iter().enumerate() {
        let mut bar = Bar { factor, least: (base, 0), greatest: (base, 0), left_out: 0 };
        for (row, output) in outputs.iter().enumerate().skip(first).take(*count) {
            let reached = (*output, row as u64);
            if reached.0.is_nan() {
                bar.left_out += 1;
            } else if reached.0 < bar.least.0 {
                bar.least = reached;
            } else if reached.0 > bar.greatest.0 {
                bar.greatest = reached;
            }
        }
        if bar.left_out < *count {
            bars.push(bar);
        }
        first += count;
    }
    bars.sort_by(|one, other| other.swing().total_cmp(&one.swing()));
    Ok(Tornado { base, bars })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_farthest_swing_stands_first_and_tells_its_rows() {
        let outputs = [1.0, 0.5, 1.5, 3.0, f64::NAN, -1.0, f64::NAN];
        let tornado = tornado(&outputs, &[2, 3, 1]).expect("a tornado");
        assert_eq!(tornado.base, 1.0);
        let [second, first] = tornado.bars[..] else { panic!("{tornado:?}") };
        assert_eq!((second.factor, second.least, second.greatest), (1, (-1.0, 5), (3.0, 3)));
        assert_eq!((second.swing(), second.left_out), (4.0, 1));
        assert_eq!((first.factor, first.least, first.greatest), (0, (0.5, 1), (1.5, 2)));
    }

    #[test]
    fn outputs_of_another_plan_and_a_base_without_output_are_refused() {
        assert_eq!(tornado(&[1.0; 4], &[2]), Err(TornadoError::Layout { rows: 4, needed: 3 }));
        assert_eq!(tornado(&[f64::NAN, 1.0], &[1]), Err(TornadoError::NoBase));
    }
}
