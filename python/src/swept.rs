//! The arrays of a sweep, filled by all cores.

use std::ops::Range;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, PoisonError};

use rayon::ThreadPoolBuilder;
use rayon::prelude::*;
use sim_core::excursion::{Drive, Movement};
use sim_core::frame::Side;
use sim_core::study::{BennettPart, ColumnKind, Content, Direction, NotOneEach, Prepared, Reach, RowLanes};

/// Rows that one thread computes at a time: some milliseconds.
const PIECE: usize = 1024;
/// Fewer rows than this are computed where they are asked for.
const FEW: usize = 256;
/// Stands where there is no word.
const NO_WORD: u16 = u16::MAX;

/// The values of a setting.
pub(crate) enum Given {
    /// The same in every row.
    One(f64),
    /// One for each row.
    Each(Vec<f64>),
}

impl Given {
    pub(crate) fn of(values: Vec<f64>) -> Self {
        match values[..] {
            [one] => Self::One(one),
            _ => Self::Each(values),
        }
    }

    pub(crate) fn values(&self) -> &[f64] {
        match self {
            Self::One(value) => std::slice::from_ref(value),
            Self::Each(values) => values,
        }
    }

    fn at(&self, row: usize) -> f64 {
        match self {
            Self::One(value) => *value,
            Self::Each(values) => values.get(row).copied().unwrap_or(f64::NAN),
        }
    }
}

/// An array that is filled.
pub(crate) struct Output {
    pub(crate) name: &'static str,
    /// Its shape behind that of the settings.
    pub(crate) tail: Vec<usize>,
    /// Numbers of one row.
    width: usize,
}

/// A stretch of a row's cells that stands together in an array too.
struct Stretch {
    from: usize,
    output: usize,
    to: usize,
    length: usize,
}

/// Where a row's cells go.
pub(crate) struct Layout {
    pub(crate) outputs: Vec<Output>,
    pub(crate) texts: Vec<Output>,
    stretches: Vec<Stretch>,
    /// For each text cell but the reason: which array, and where in it.
    words: Vec<(usize, usize)>,
    reason: usize,
}

impl Layout {
    pub(crate) fn of(
        prepared: &Prepared,
        (excursions, advances): (&[Movement], &[f64]),
        cusps: &[String],
    ) -> Self {
        let mut layout = Self {
            outputs: Vec::new(),
            texts: Vec::new(),
            stretches: Vec::new(),
            words: Vec::new(),
            reason: 0,
        };
        let (mut number, mut text) = (0, 0);
        let counts = [excursions.len(), advances.len()];
        for column in prepared.columns() {
            let movement = column.place.map(|place| place.movement);
            let excursion = excursions.iter().position(|one| Some(*one) == movement).unwrap_or_default();
            let advance = match column.place.map(|place| place.reach) {
                Some(Reach::At(Drive::Advance(end))) => {
                    advances.iter().position(|one| *one == end.mm()).unwrap_or_default()
                }
                _ => 0,
            };
            let pose = excursion * advances.len() + advance;
            let cusp = |label: &String| cusps.iter().position(|own| own == label).unwrap_or_default();
            let axis = |way: Direction| match way {
                Direction::Ahead => 0,
                Direction::Left => 1,
                Direction::Up => 2,
            };
            let at_pose = |name, parts: &[usize], at: usize| {
                Some((name, [&counts[..], parts].concat(), pose * parts.iter().product::<usize>() + at))
            };
            let place = match &column.content {
                Content::Separation { cusp: label } => at_pose("separation_mm", &[cusps.len()], cusp(label)),
                Content::Clearance { cusp: label } => at_pose("clearance_mm", &[cusps.len()], cusp(label)),
                Content::BennettMovement(part) => {
                    let part = match part {
                        BennettPart::Outward => 0,
                        BennettPart::Backward => 1,
                        BennettPart::Upward => 2,
                    };
                    at_pose("bennett_mm", &[3], part)
                }
                Content::CondylarAdvance(side) => {
                    at_pose("condyle_advance_mm", &[2], usize::from(*side == Side::Left))
                }
                Content::Opening => at_pose("opening_deg", &[], 0),
                Content::IncisalPoint(way) => at_pose("incisal_point_mm", &[3], axis(*way)),
                Content::Rotation { row, column } => at_pose("rotation", &[3, 3], 3 * row + column),
                Content::Translation(way) => at_pose("translation_mm", &[3], axis(*way)),
                Content::Guidance => at_pose("guided_by", &[], 0),
                Content::GuidePlane => at_pose("guide_plane", &[], 0),
                Content::FirstCusp => Some(("first_interference_cusp", vec![excursions.len()], excursion)),
                Content::FirstAdvance => Some(("first_interference_mm", vec![excursions.len()], excursion)),
                Content::Reason => {
                    layout.reason = text;
                    None
                }
                Content::Setting(_) | Content::Interference { .. } | Content::Note => None,
            };
            match column.kind {
                ColumnKind::Number => {
                    if let Some((name, tail, to)) = place {
                        layout.take(number, (name, tail), to);
                    }
                    number += 1;
                }
                ColumnKind::Text => {
                    if let Some((name, tail, to)) = place {
                        let output = among(&mut layout.texts, name, tail);
                        layout.words.push((output, to));
                    }
                    text += 1;
                }
                ColumnKind::Flag => {}
            }
        }
        layout
    }

    /// Sends a cell to its place, together with the one before it where both stand side by side.
    fn take(&mut self, from: usize, (name, tail): (&'static str, Vec<usize>), to: usize) {
        let output = among(&mut self.outputs, name, tail);
        match self.stretches.last_mut() {
            Some(last)
                if (last.output, last.from + last.length, last.to + last.length) == (output, from, to) =>
            {
                last.length += 1;
            }
            _ => self.stretches.push(Stretch { from, output, to, length: 1 }),
        }
    }

    /// Numbers that so many rows take; nothing if they cannot be counted.
    pub(crate) fn numbers(&self, rows: usize) -> Option<usize> {
        self.outputs.iter().map(|output| output.width).sum::<usize>().checked_mul(rows)
    }
}

/// The array of that name, which is added where it is not there yet.
fn among(outputs: &mut Vec<Output>, name: &'static str, tail: Vec<usize>) -> usize {
    outputs.iter().position(|output| output.name == name).unwrap_or_else(|| {
        let width = tail.iter().product();
        outputs.push(Output { name, tail, width });
        outputs.len() - 1
    })
}

/// What was computed.
pub(crate) struct Swept {
    pub(crate) layout: Layout,
    pub(crate) numbers: Vec<Vec<f64>>,
    pub(crate) codes: Vec<Vec<u16>>,
    pub(crate) words: Vec<String>,
    /// Rows where something could not be measured, and why.
    pub(crate) reasons: Vec<(u64, String)>,
}

/// The share of every array that belongs to some rows.
struct Piece<'a> {
    rows: Range<usize>,
    numbers: Vec<&'a mut [f64]>,
    codes: Vec<&'a mut [u16]>,
}

/// Computes every row; nothing once it is told to stop.
pub(crate) fn fill(
    prepared: &Prepared,
    layout: Layout,
    given: &[Given],
    (rows, has_casts): (usize, bool),
    threads: usize,
    stop: &AtomicBool,
) -> Result<Option<Swept>, String> {
    // What an excursion does not have, as a Bennett movement in protrusion, no row writes.
    let empty = |output: &Output| if output.name == "bennett_mm" { f64::NAN } else { 0.0 };
    let mut numbers: Vec<Vec<f64>> =
        layout.outputs.iter().map(|output| vec![empty(output); rows * output.width]).collect();
    let mut codes: Vec<Vec<u16>> =
        layout.texts.iter().map(|output| vec![NO_WORD; rows * output.width]).collect();
    let words = Mutex::new(Vec::new());
    let piece_rows = if has_casts { 1 } else { PIECE };
    let pieces = pieces(&layout, (&mut numbers, &mut codes), rows, piece_rows);
    let few = rows <= FEW && !has_casts;
    let compute = |state: &mut State<'_>, piece: Piece<'_>| match stop.load(Ordering::Relaxed) {
        true => Ok(Vec::new()),
        false => state.compute(given, &layout, piece),
    };
    let state = || State { prepared, rows: prepared.row_lanes(), words: &words };
    let reasons = if few || threads == 1 {
        let mut state = state();
        pieces.into_iter().map(|piece| compute(&mut state, piece)).collect::<Result<Vec<_>, _>>()
    } else {
        let built = ThreadPoolBuilder::new().num_threads(threads).thread_name(|_| "sweep".to_owned()).build();
        let pool = built.map_err(|error| format!("threads cannot be started: {error}; fewer may do"))?;
        pool.install(|| pieces.into_par_iter().map_init(state, compute).collect::<Result<Vec<_>, _>>())
    };
    let reasons = reasons.map_err(|error| error.to_string())?.into_iter().flatten().collect();
    if stop.load(Ordering::Relaxed) {
        return Ok(None);
    }
    let words = words.into_inner().unwrap_or_else(PoisonError::into_inner);
    Ok(Some(Swept { layout, numbers, codes, words, reasons }))
}

fn pieces<'a>(
    layout: &Layout,
    (numbers, codes): (&'a mut [Vec<f64>], &'a mut [Vec<u16>]),
    rows: usize,
    piece_rows: usize,
) -> Vec<Piece<'a>> {
    let mut numbers: Vec<_> = (numbers.iter_mut().zip(&layout.outputs))
        .map(|(array, output)| array.chunks_mut((piece_rows * output.width).max(1)))
        .collect();
    let mut codes: Vec<_> = (codes.iter_mut().zip(&layout.texts))
        .map(|(array, output)| array.chunks_mut((piece_rows * output.width).max(1)))
        .collect();
    let starts = (0..rows).step_by(piece_rows);
    starts
        .map(|start| Piece {
            rows: start..rows.min(start + piece_rows),
            numbers: numbers.iter_mut().filter_map(Iterator::next).collect(),
            codes: codes.iter_mut().filter_map(Iterator::next).collect(),
        })
        .collect()
}

/// What one thread computes with.
struct State<'s> {
    prepared: &'s Prepared,
    rows: RowLanes,
    words: &'s Mutex<Vec<String>>,
}

impl State<'_> {
    fn compute(
        &mut self,
        given: &[Given],
        layout: &Layout,
        mut piece: Piece<'_>,
    ) -> Result<Vec<(u64, String)>, NotOneEach> {
        let mut reasons = Vec::new();
        let start = piece.rows.start;
        let together = self.prepared.rows_together();
        for first in piece.rows.clone().step_by(together) {
            let count = together.min(piece.rows.end - first);
            let value = |row: usize, factor: usize| given[factor].at(first + row);
            self.prepared.compute_given_lanes((count, given.len()), value, &mut self.rows)?;
            for lane in 0..count {
                let (row, at) = (first + lane, first + lane - start);
                for Stretch { from, output, to, length } in &layout.stretches {
                    let width = layout.outputs[*output].width;
                    let own = &mut piece.numbers[*output][at * width..][*to..][..*length];
                    for (place, numbers) in own.iter_mut().zip(&self.rows.numbers()[*from..]) {
                        // As a study's table has it: no −0.
                        *place = numbers[lane] + 0.0;
                    }
                }
                for (slot, (output, to)) in layout.words.iter().enumerate() {
                    let width = layout.texts[*output].width;
                    let word = self.rows.text(slot, lane);
                    piece.codes[*output][at * width + to] =
                        word.map_or(NO_WORD, |word| code(self.words, word));
                }
                if let Some(reason) = self.rows.text(layout.reason, lane) {
                    reasons.push((row as u64, reason.to_owned()));
                }
            }
        }
        Ok(reasons)
    }
}

/// A word's number among those met so far.
fn code(words: &Mutex<Vec<String>>, word: &str) -> u16 {
    let mut words = words.lock().unwrap_or_else(PoisonError::into_inner);
    let place = words.iter().position(|known| known == word).unwrap_or_else(|| {
        words.push(word.to_owned());
        words.len() - 1
    });
    // Guides, planes and a scene's cusps are a few dozen.
    u16::try_from(place).unwrap_or(NO_WORD)
}
