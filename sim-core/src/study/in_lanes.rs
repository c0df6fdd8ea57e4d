//! Rows of a study computed together, each in a lane of its own.

use super::arc::ArcWatch;
use super::prepared::{NoSuchRow, NotOneEach, Prepared};
use super::record::Measure;
use super::row::Word;
use super::row_lanes::RowLanes;
use crate::anterior::AnteriorGuide;
use crate::cusp::CONTACT_MM;
use crate::excursion::{Drive, Placement, Station};
use crate::lanes::LANES;

impl Prepared {
    /// Memory for [`LANES`] rows, to be used for any number of them.
    #[must_use]
    pub fn row_lanes(&self) -> RowLanes {
        let row = self.row_buffer();
        let mechanism = row.scene.mechanism();
        RowLanes::new(row, mechanism)
    }

    /// Computes some rows, `count` of them and [`LANES`] at most, from the row `first` on: the same rows as
    /// [`Self::compute`], to the last bit, sooner.
    ///
    /// # Errors
    /// [`NoSuchRow`] past the last row.
    pub fn compute_lanes(&self, first: u64, count: usize, lanes: &mut RowLanes) -> Result<(), NoSuchRow> {
        lanes.used = count.min(LANES);
        let (rows, last) = (self.row_count(), first.saturating_add((lanes.used as u64).saturating_sub(1)));
        if last >= rows {
            return Err(NoSuchRow { row: last, rows });
        }
        let factors = self.factors();
        self.design().rows_at_once(first, lanes.used, &mut lanes.numbers[..factors]);
        self.fill_lanes(lanes);
        Ok(())
    }

    /// Computes rows of the factors' values that are given instead of the plan's, `count` of them and [`LANES`] at
    /// most; `value` gives them by row and factor. The same rows as [`Self::compute_given`], to the last bit.
    ///
    /// # Errors
    /// [`NotOneEach`] where `given`, the number of values of a row, is not that of the factors.
    pub fn compute_given_lanes(
        &self,
        (count, given): (usize, usize),
        value: impl Fn(usize, usize) -> f64,
        lanes: &mut RowLanes,
    ) -> Result<(), NotOneEach> {
        let factors = self.factors();
        if given != factors {
            return Err(NotOneEach { given, factors });
        }
        lanes.used = count.min(LANES);
        for (factor, column) in lanes.numbers[..factors].iter_mut().enumerate() {
            for (row, own) in column[..lanes.used].iter_mut().enumerate() {
                *own = value(row, factor);
            }
        }
        self.fill_lanes(lanes);
        Ok(())
    }

    /// How many rows are best computed together: [`LANES`], or one by one where a row takes so long that whoever
    /// waits wants to be asked in between.
    #[must_use]
    pub fn rows_together(&self) -> usize {
        if self.goes_in_lanes() { LANES } else { 1 }
    }

    /// Whether lanes do what its rows need: planes guide, and each pose has its advance.
    fn goes_in_lanes(&self) -> bool {
        let guide = &self.scene().instrument.anterior_guide;
        matches!(guide, AnteriorGuide::Table(_) | AnteriorGuide::Incisors(_))
            && self.searches_of_record().next().is_none()
            && self.checkpoints().iter().all(|pose| matches!(pose.drive, Drive::Advance(_)))
    }

    /// Fills the lanes from the factors' values in them. A row that is not whole is computed by itself, which says
    /// why.
    fn fill_lanes(&self, lanes: &mut RowLanes) {
        lanes.alone = [!self.goes_in_lanes(); LANES];
        if !lanes.alone[0] {
            self.set_lanes(lanes);
            self.measure_lanes(lanes);
        }
        for lane in 0..lanes.used {
            if lanes.alone[lane] {
                lanes.give_values(lane, self.factors());
                self.fill(&mut lanes.row);
                lanes.take_row(lane);
            }
        }
    }

    /// Puts every row's settings into its lane.
    fn set_lanes(&self, lanes: &mut RowLanes) {
        lanes.mechanisms.clear();
        let factors = self.factors();
        for lane in 0..lanes.used {
            lanes.give_values(lane, factors);
            lanes.alone[lane] = self.set(&mut lanes.row).is_err();
            for (column, number) in lanes.numbers.iter_mut().zip(&lanes.row.numbers).skip(factors) {
                column[lane] = *number;
            }
            self.renew_gauges(&mut lanes.row);
            if self.cusps_vary() {
                lanes.gauges.put(lane, &lanes.row.gauges);
            } else if self.plane_varies() {
                lanes.gauges.put_plane(lane, &lanes.row.gauges);
            }
            let instrument = &lanes.row.scene.instrument;
            lanes.mechanism.renew(instrument);
            lanes.mechanisms.put(&lanes.mechanism);
            lanes.watches[lane] = self.has_arc().then(|| ArcWatch::new(instrument));
            lanes.reasons[lane].clear();
        }
    }

    /// Solves every pose in all lanes, and writes what is measured.
    fn measure_lanes(&self, lanes: &mut RowLanes) {
        let RowLanes { mechanisms, poses, gauges, numbers, texts, flags, watches, alone, used, .. } = lanes;
        let used = *used;
        let reads_cusps = self.measures().iter().any(|measure| measure.is_at_cusps());
        let reads_poses = self.has_arc() || self.measures().iter().any(|measure| !measure.is_at_cusps());
        let mut numbers = numbers.iter_mut().skip(self.given_numbers());
        let (mut texts, mut flags) = (texts.iter_mut(), flags.iter_mut());
        for pose in self.checkpoints() {
            let Drive::Advance(advance) = pose.drive else { continue };
            mechanisms.solve(pose.movement, Station::advanced(advance), poses);
            for (lane, alone) in alone[..used].iter_mut().enumerate() {
                *alone |= !poses.has_pose(lane);
            }
            if reads_cusps {
                gauges.read(poses.jaws());
            }
            let mut placed: [Option<Placement>; LANES] = [None; LANES];
            if reads_poses {
                for lane in 0..used {
                    placed[lane] = mechanisms.placement(poses, lane);
                    if let (Some(watch), Some(placed)) = (&mut watches[lane], &placed[lane]) {
                        watch.look_at(placed);
                    }
                }
            }
            for measure in self.measures() {
                match measure {
                    Measure::Separation => {
                        gauges
                            .separations_mm()
                            .iter()
                            .zip(numbers.by_ref())
                            .for_each(|(read, to)| *to = *read);
                    }
                    Measure::Clearance => {
                        gauges
                            .clearances_mm()
                            .iter()
                            .zip(numbers.by_ref())
                            .for_each(|(read, to)| *to = *read);
                    }
                    Measure::Interference => {
                        for (read, to) in gauges.clearances_mm().iter().zip(flags.by_ref()) {
                            *to = read.map(|clearance| Some(clearance < -CONTACT_MM));
                        }
                    }
                    Measure::Guidance => {
                        let of = |word: &dyn Fn(&Placement) -> Option<&'static str>| {
                            placed.each_ref().map(|placed| {
                                placed.as_ref().and_then(word).map_or(Word::Nothing, Word::Fixed)
                            })
                        };
                        let guided = of(&|placed| Some(placed.guidance.name()));
                        let plane = of(&|placed| placed.guidance.plane().map(|plane| plane.name()));
                        [guided, plane].into_iter().zip(texts.by_ref()).for_each(|(words, to)| *to = words);
                    }
                    _ => {
                        let width = measure.numbers_of_pose(pose.movement);
                        let mut columns: Vec<_> = numbers.by_ref().take(width).collect();
                        for (lane, placed) in placed.iter().enumerate() {
                            let Some(placed) = placed else { continue };
                            let mut columns = columns.iter_mut();
                            measure.of_pose(pose.movement, placed, |number| {
                                if let Some(column) = columns.next() {
                                    column[lane] = number;
                                }
                            });
                        }
                    }
                }
            }
        }
        if self.has_arc()
            && let Some(to) = texts.next()
        {
            *to = watches.each_ref().map(|watch| {
                let passed = watch.as_ref().and_then(ArcWatch::passed);
                passed.map_or(Word::Nothing, |passed| Word::Fixed(passed.name()))
            });
        }
        texts.for_each(|reason| *reason = [Word::Reason; LANES]);
    }
}
