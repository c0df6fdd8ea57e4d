//! Groups of rows: what is computed, encoded and saved at a time.

use std::ops::Range;

use arrow_array::RecordBatch;
use arrow_schema::SchemaRef;
use rayon::prelude::*;
use sim_core::study::{BaseScene, ColumnRole, Prepared};

use crate::error::RunError;
use crate::form::{Bytes, Encoder};
use crate::table::Batcher;

/// A group's numbers take about so many bytes before they are encoded: what each thread holds.
const GROUP_BYTES: u64 = 16 << 20;
/// Most rows of a group, however few its columns.
const MOST_ROWS: u64 = 1 << 17;
/// Rows of a group that takes casts seconds: a stopped run loses no more.
const MOST_ROWS_WITH_CASTS: u64 = 64;
/// Pieces of a group, in which it is computed; each stays in the processor's caches.
const PIECE_BYTES: u64 = 1 << 18;

/// How a study's rows are grouped. It depends on the study alone, so that the bytes do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Grouping {
    /// Rows of every group but the last.
    pub(crate) rows: u64,
    /// Rows of every piece of a group but the last.
    pub(crate) piece: u64,
    /// Bytes of a row of numbers.
    row_bytes: u64,
}

impl Grouping {
    pub(crate) fn of(prepared: &Prepared) -> Self {
        let row_bytes = 8 * (prepared.columns().len() as u64 + 1);
        let power = |bytes: u64| 1 << (bytes / row_bytes).max(1).ilog2();
        let scene_has_casts = match &prepared.study().scene {
            BaseScene::Here(scene) => scene.casts.is_some() || scene.invented_casts.is_some(),
            BaseScene::File(_) => false,
        };
        if scene_has_casts {
            return Self { rows: MOST_ROWS_WITH_CASTS, piece: 1, row_bytes };
        }
        let rows = power(GROUP_BYTES).min(MOST_ROWS);
        Self { rows, piece: power(PIECE_BYTES).min(rows), row_bytes }
    }

    /// About how many bytes so many rows take: room made at once is not moved again and again.
    fn bytes(self, rows: &Range<u64>) -> usize {
        usize::try_from((rows.end - rows.start) * self.row_bytes).unwrap_or_default()
    }

    /// Number of groups that so many rows make.
    pub(crate) fn count(self, rows: &Range<u64>) -> u64 {
        (rows.end - rows.start).div_ceil(self.rows)
    }

    /// The rows of a group of a stretch of rows.
    pub(crate) fn group(self, rows: &Range<u64>, number: u64) -> Range<u64> {
        let start = rows.start + number * self.rows;
        start..rows.end.min(start + self.rows)
    }

    fn pieces(self, group: &Range<u64>) -> impl Iterator<Item = Range<u64>> + use<> {
        let Range { start, end } = *group;
        let piece = self.piece;
        (0..(end - start).div_ceil(piece)).map(move |number| {
            let from = start + number * piece;
            from..end.min(from + piece)
        })
    }
}

/// A group of rows, encoded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Encoded {
    pub(crate) rows: Range<u64>,
    pub(crate) bytes: Bytes,
    /// Rows with a reason why something could not be measured.
    pub(crate) with_reason: u64,
    /// Rows with a note.
    pub(crate) with_note: u64,
}

/// What makes groups, for any number of threads.
pub(crate) struct Maker<'s> {
    pub(crate) prepared: &'s Prepared,
    pub(crate) schema: &'s SchemaRef,
    pub(crate) encoder: &'s Encoder,
    pub(crate) grouping: Grouping,
    /// Whether the pieces of one group are given to all threads; for studies of few groups.
    pub(crate) spread: bool,
    reason: usize,
    note: Option<usize>,
}

impl<'s> Maker<'s> {
    pub(crate) fn new(
        prepared: &'s Prepared,
        schema: &'s SchemaRef,
        encoder: &'s Encoder,
        spread: bool,
    ) -> Self {
        let grouping = Grouping::of(prepared);
        // After the row's number.
        let place_of =
            |role| prepared.columns().iter().position(|column| column.role == role).map(|at| at + 1);
        let (reason, note) = (place_of(ColumnRole::Reason).unwrap_or_default(), place_of(ColumnRole::Note));
        Self { prepared, schema, encoder, grouping, spread, reason, note }
    }

    /// Computes and encodes a group; nothing once it is to be abandoned.
    pub(crate) fn make(
        &self,
        rows: Range<u64>,
        abandoned: &(dyn Fn() -> bool + Sync),
    ) -> Result<Option<Encoded>, RunError> {
        let mut group = self.encoder.group(self.grouping.bytes(&rows))?;
        let (mut with_reason, mut with_note) = (0, 0);
        let mut take = |piece: &RecordBatch| {
            let filled = |place: usize| (piece.num_rows() - piece.column(place).null_count()) as u64;
            with_reason += filled(self.reason);
            with_note += self.note.map_or(0, filled);
            group.take(piece)
        };
        let batcher = || Batcher::new(self.prepared, self.schema);
        if self.spread {
            let pieces: Vec<Range<u64>> = self.grouping.pieces(&rows).collect();
            let compute = |batcher: &mut Batcher<'_>, piece: Range<u64>| match abandoned() {
                true => Ok(None),
                false => batcher.batch(piece).map(Some),
            };
            let pieces = pieces.into_par_iter().map_init(batcher, compute);
            for piece in pieces.collect::<Result<Vec<Option<RecordBatch>>, _>>()? {
                let Some(piece) = piece else { return Ok(None) };
                take(&piece)?;
            }
        } else {
            let mut batcher = batcher();
            for piece in self.grouping.pieces(&rows) {
                if abandoned() {
                    return Ok(None);
                }
                take(&batcher.batch(piece)?)?;
            }
        }
        Ok(Some(Encoded { rows, bytes: group.finish()?, with_reason, with_note }))
    }
}
