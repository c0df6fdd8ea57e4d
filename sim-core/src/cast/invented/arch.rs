//! The arch line, by length along it.

use super::{ArchForm, InventedCasts};

/// A place on the arch line, in the occlusal plane: anterior of the incisal midpoint, left.
#[derive(Clone, Copy, Debug)]
pub(super) struct ArchPlace {
    /// Anterior and left coordinate.
    pub(super) at: [f64; 2],
    /// Unit normal away from the tongue.
    pub(super) outward: [f64; 2],
    /// One over the radius at which the line turns.
    pub(super) curvature: f64,
}

impl ArchPlace {
    /// The place so far outward of the line.
    pub(super) fn off(&self, outward_mm: f64) -> [f64; 2] {
        [self.at[0] + outward_mm * self.outward[0], self.at[1] + outward_mm * self.outward[1]]
    }
}

/// The left half of the arch line, from the incisal midpoint back.
#[derive(Clone, Debug)]
pub(super) struct ArchLine {
    form: ArchForm,
    half_width: f64,
    length: f64,
    /// Parameter of the catenary, mm.
    sag: f64,
    /// Length along the line at equal steps of the curve's own parameter.
    lengths: Vec<f64>,
    step: f64,
}

/// Steps of the table of lengths: Simpson's rule is then good to far below a nanometre.
const STEPS: u32 = 4096;
/// How far the line goes on past its end, as part of the curve's own parameter: the last molars may
/// stand a little behind the widest place, and the gingiva behind them needs ground.
const BEYOND: f64 = 1.35;

impl ArchLine {
    pub(super) fn new(casts: &InventedCasts) -> Self {
        let (half_width, length) = (casts.arch_width.mm() / 2.0, casts.arch_length.mm());
        let sag = catenary(half_width, length);
        let end = match casts.arch_form {
            ArchForm::Ellipse => std::f64::consts::FRAC_PI_2,
            ArchForm::Catenary | ArchForm::Parabola => 1.0,
        };
        let step = end * BEYOND / f64::from(STEPS);
        let mut line = Self { form: casts.arch_form, half_width, length, sag, lengths: vec![0.0], step };
        let speed = |parameter: f64| {
            let [x, y] = line.derivatives(parameter)[1];
            x.hypot(y)
        };
        let mut lengths = vec![0.0];
        let mut along = 0.0;
        for index in 0..STEPS {
            let from = f64::from(index) * step;
            along += step / 6.0 * (speed(from) + 4.0 * speed(from + step / 2.0) + speed(from + step));
            lengths.push(along);
        }
        line.lengths = lengths;
        line
    }

    /// Length of the line to where it reaches its width.
    pub(super) fn room_mm(&self) -> f64 {
        let end = f64::from(STEPS) / BEYOND;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // within the table
        let index = end as usize;
        let part = end - end.floor();
        self.lengths[index] * (1.0 - part) + self.lengths[index + 1] * part
    }

    /// The place so far along the line from the midline.
    pub(super) fn at(&self, along_mm: f64) -> ArchPlace {
        let last = self.lengths.len() - 2;
        let index = self.lengths.partition_point(|&length| length <= along_mm).saturating_sub(1).min(last);
        #[allow(clippy::cast_precision_loss)] // at most 4096
        let from = index as f64 * self.step;
        // Two steps of Newton's method from the table leave nothing of its step.
        let speed = |parameter: f64| {
            let [x, y] = self.derivatives(parameter)[1];
            x.hypot(y)
        };
        let rest = along_mm - self.lengths[index];
        let rough = from + rest / speed(from);
        let parameter = from + rest / speed((from + rough) / 2.0);
        let [at, first, second] = self.derivatives(parameter);
        let speed = first[0].hypot(first[1]);
        ArchPlace {
            at,
            outward: [first[1] / speed, -first[0] / speed],
            curvature: (first[0] * second[1] - first[1] * second[0]).abs() / speed.powi(3),
        }
    }

    /// Place, first and second derivative by the curve's own parameter, each (anterior, left).
    fn derivatives(&self, parameter: f64) -> [[f64; 2]; 3] {
        let (a, b) = (self.length, self.half_width);
        match self.form {
            ArchForm::Ellipse => {
                let (sin, cos) = parameter.sin_cos();
                [[a * (cos - 1.0), b * sin], [-a * sin, b * cos], [-a * cos, -b * sin]]
            }
            ArchForm::Parabola => {
                [[-a * parameter * parameter, b * parameter], [-2.0 * a * parameter, b], [-2.0 * a, 0.0]]
            }
            ArchForm::Catenary => {
                let left = b * parameter;
                let (sinh, cosh) = ((left / self.sag).sinh(), (left / self.sag).cosh());
                [[-self.sag * (cosh - 1.0), left], [-b * sinh, b], [-b * b / self.sag * cosh, 0.0]]
            }
        }
    }
}

/// The parameter c of the catenary c·(cosh(y/c) − 1) that reaches `length` at `half_width`, by
/// halving: the height falls as c grows.
fn catenary(half_width: f64, length: f64) -> f64 {
    // 60 halvings of a span of thousands leave less than rounding does.
    let (mut least, mut greatest) = (half_width / 20.0, half_width * 20.0);
    for _ in 0..60 {
        let middle = f64::midpoint(least, greatest);
        if middle * ((half_width / middle).cosh() - 1.0) > length {
            least = middle;
        } else {
            greatest = middle;
        }
    }
    f64::midpoint(least, greatest)
}
