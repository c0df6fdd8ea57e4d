//! From a jaw pose to what a cusp does, in plain numbers: for one pose, or for each lane of many.

/// Tangents of the inclines that a cusp may meet.
#[derive(Clone, Copy, Debug)]
pub(super) struct Inclines {
    /// Of the inclines met forward and to the left.
    pub(super) ahead: [f64; 2],
    /// Of the inclines met backward and to the right, with their sign turned.
    pub(super) astern: [f64; 2],
}

/// A linear map that takes a tip to its displacement's normal, forward and left part.
#[derive(Clone, Copy)]
pub(super) struct Displacement {
    /// Row by row.
    pub(super) map: [[f64; 3]; 3],
    pub(super) constant: [f64; 3],
}

/// How a cusp moves, and what that makes of the inclines that it may meet.
pub(super) struct Moved {
    pub(super) separation: f64,
    /// Forward, and to the left.
    pub(super) moved: [f64; 2],
    /// How far the incline met in each of both ways rises.
    pub(super) rises: [f64; 2],
    /// How far the higher one does; not below zero.
    pub(super) rise: f64,
}

#[inline(always)]
fn triple(part: impl Fn(usize) -> f64) -> [f64; 3] {
    [part(0), part(1), part(2)]
}

/// Rows of e: normal (sin, 0, cos), anterior (cos, 0, −sin), left (0, 1, 0).
#[inline(always)]
fn directed((sin, cos): (f64, f64), x: f64, y: f64, z: f64) -> [f64; 3] {
    [sin * x + cos * z, cos * x - sin * z, y]
}

impl Displacement {
    /// e·(M B − B) = (e R − e) B + e T, of the occlusal plane's sine and cosine and the pose's columns and
    /// translation.
    #[inline(always)]
    pub(super) fn of_lower(plane: (f64, f64), columns: &[[f64; 3]; 3], translation: &[f64; 3]) -> Self {
        let (sin, cos) = plane;
        let by_column = [
            directed(plane, columns[0][0], columns[0][1], columns[0][2]),
            directed(plane, columns[1][0], columns[1][1], columns[1][2]),
            directed(plane, columns[2][0], columns[2][1], columns[2][2]),
        ];
        let map = [
            [by_column[0][0] - sin, by_column[1][0], by_column[2][0] - cos],
            [by_column[0][1] - cos, by_column[1][1], by_column[2][1] + sin],
            [by_column[0][2], by_column[1][2] - 1.0, by_column[2][2]],
        ];
        Self { map, constant: directed(plane, translation[0], translation[1], translation[2]) }
    }

    /// e·(A − U A) = (e − e Rᵀ) A + e Rᵀ T.
    #[inline(always)]
    pub(super) fn of_upper(plane: (f64, f64), columns: &[[f64; 3]; 3], translation: &[f64; 3]) -> Self {
        let (sin, cos) = plane;
        // The columns of Rᵀ are the rows of R.
        let by_column = [
            directed(plane, columns[0][0], columns[1][0], columns[2][0]),
            directed(plane, columns[0][1], columns[1][1], columns[2][1]),
            directed(plane, columns[0][2], columns[1][2], columns[2][2]),
        ];
        let map = [
            [sin - by_column[0][0], -by_column[1][0], cos - by_column[2][0]],
            [cos - by_column[0][1], -by_column[1][1], -sin - by_column[2][1]],
            [-by_column[0][2], 1.0 - by_column[1][2], -by_column[2][2]],
        ];
        let constant = triple(|row| {
            by_column[0][row] * translation[0]
                + by_column[1][row] * translation[1]
                + by_column[2][row] * translation[2]
        });
        Self { map, constant }
    }

    /// What a cusp does that stands at a place.
    #[inline(always)]
    pub(super) fn read(&self, at: &[f64; 3], inclines: &Inclines) -> Moved {
        let along = |row: usize| {
            let map = &self.map[row];
            self.constant[row] + (map[0] * at[0] + map[1] * at[1] + map[2] * at[2])
        };
        let (separation, moved) = (-along(0), [along(1), along(2)]);
        let greater = |a: f64, b: f64| if a > b { a } else { b };
        // No incline falls, so of each two the one that is met is the one that rises.
        let rise = |way: usize| greater(moved[way] * inclines.ahead[way], moved[way] * inclines.astern[way]);
        let rises = [rise(0), rise(1)];
        Moved { separation, moved, rises, rise: greater(greater(rises[0], rises[1]), 0.0) }
    }
}
