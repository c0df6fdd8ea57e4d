//! What hands do at the bench.

use sim_core::bench::Turn;
use sim_core::frame::{PerSide, Side};
use sim_core::instrument::Baseline;
use sim_core::practice::{Check, Direction, MarkError, Verdict};
use sim_core::record::program::lateral_angle_by_rule;
use sim_core::record::{RecordFields, RecordKind};
use sim_core::units::Angle;
use words::number::as_given;

use super::dial::Dial;
use super::on_bench::{LateralFrom, Magnified, OnBench, Reading};

/// What hands do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BenchAct {
    /// Zeroes the guides, and loosens their screws.
    Zero,
    /// Lays a record between the casts, or takes out what lies there.
    Lay(Option<usize>),
    /// Lays the next record between the casts.
    LayNext,
    /// Turns a dial to so many degrees.
    Turn(Dial, f64),
    /// Turns a dial by so many degrees.
    TurnBy(Dial, f64),
    /// Turns the guides until the split closes on the record between the casts.
    TurnToClose,
    /// Turns both guides together, or each by itself.
    Tie(bool),
    /// Tightens a screw, or loosens it.
    Lock(Dial, bool),
    /// Reads the scales of the guides that the record sets.
    ReadScales,
    /// Says whether the centric record is confirmed.
    JudgeCentric(bool),
    /// Sets a lateral angle by the rule.
    LateralByRule(Side),
    /// Sets a lateral angle by the record that shows it.
    LateralByRecord(Side),
    /// Sets the anterior guide.
    SetAnterior,
    /// Tells how far a guide is to be turned, or not.
    Hints(bool),
    /// Looks at the split in another size.
    Look(Magnified),
    /// Says what is found of a thing that can be at fault.
    Judge(Check, Verdict),
    /// Says where the tentative centric record holds the jaw.
    CentricOff(Option<Direction>),
    /// Leaves a setting open, or gives it.
    LeaveOpen(Dial, bool),
    /// Hands in the answer to a dealt patient.
    HandIn,
}

/// Why something is not done.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// A tight screw.
    #[error("The {} of the {} guide is locked. Loosen its screw before you turn it.", dial.facts().label, dial.side())]
    Locked {
        /// What is locked.
        dial: Dial,
    },
    /// A scale read with its screw loose.
    #[error(
        "The {} of the {} guide is not locked: the hand at the scale would turn it. Tighten its screw before you read.",
        dial.facts().label, dial.side()
    )]
    Loose {
        /// What is loose.
        dial: Dial,
    },
    /// An angle that no guide has.
    #[error(
        "{} is {}°; the scale of this guide goes from {}° to {}°.",
        dial.facts().label, as_given(*given_deg), as_given(dial.facts().min), as_given(dial.facts().max)
    )]
    OffTheScale {
        /// What was to be turned.
        dial: Dial,
        /// Where to.
        given_deg: f64,
    },
    /// Something that is done with a record between the casts.
    #[error("There is no {wanted} between the casts. Lay one there first.")]
    NotBetween {
        /// What is wanted.
        wanted: &'static str,
    },
    /// A record that the case does not have.
    #[error(
        "The case has no record that shows the lateral angle of the {side} guide. Set it by the rule, and say so."
    )]
    NoRecord {
        /// The guide.
        side: Side,
    },
    /// Something that would tell a student what is to be found.
    #[error("It would tell what you are asked to find. Hand in your answer first.")]
    Asked,
    /// Something that is asked of a dealt patient only.
    #[error("No patient was dealt: there is nothing to answer.")]
    NotDealt,
    /// An answer that has been handed in.
    #[error("The answer is handed in and marked.")]
    HandedIn,
    /// Marks that cannot be had.
    #[error("The answer cannot be marked: {0}.")]
    Unmarked(MarkError),
}

impl OnBench {
    /// Does it.
    ///
    /// # Errors
    /// [`Refusal`] says why not; then nothing has changed.
    pub fn act(&mut self, act: BenchAct) -> Result<(), Refusal> {
        match act {
            BenchAct::Zero => self.zero(),
            BenchAct::Lay(record) => self.lay(record),
            BenchAct::LayNext => {
                let records = self.records();
                let place = self.between.and_then(|now| records.iter().position(|one| *one == now));
                let next = place.map_or(0, |place| place + 1);
                self.lay(records.get(next).copied());
            }
            BenchAct::Turn(dial, to_deg) => self.turn(dial, to_deg, false)?,
            BenchAct::TurnBy(dial, by_deg) => self.turn(dial, by_deg, true)?,
            BenchAct::TurnToClose => self.turn_to_close()?,
            BenchAct::Tie(tied) => self.tied = tied,
            BenchAct::Lock(dial, tight) => {
                let locks = &mut self.locked[dial.side()];
                match dial {
                    Dial::Inclination(_) => locks.inclination = tight,
                    Dial::Lateral(_) => locks.lateral = tight,
                }
            }
            BenchAct::ReadScales => self.read_scales()?,
            BenchAct::JudgeCentric(confirmed) => {
                if self.between.and_then(|record| self.kind(record)) != Some(RecordKind::Centric) {
                    return Err(Refusal::NotBetween { wanted: "centric record" });
                }
                self.done.centric = Some(confirmed);
            }
            BenchAct::LateralByRule(side) => {
                self.set_lateral(
                    side,
                    lateral_angle_by_rule(self.trial.inclination[side]),
                    LateralFrom::Rule,
                )?;
            }
            BenchAct::LateralByRecord(side) => {
                if self.is_asked() {
                    return Err(Refusal::Asked);
                }
                let angle = self.lateral_by_record(side).ok_or(Refusal::NoRecord { side })?;
                self.set_lateral(side, angle, LateralFrom::Record)?;
            }
            BenchAct::SetAnterior => self.done.anterior = true,
            BenchAct::Hints(hints) => {
                if hints && self.is_asked() {
                    return Err(Refusal::Asked);
                }
                self.hints = hints;
            }
            BenchAct::Look(magnified) => self.magnified = magnified,
            BenchAct::Judge(..) | BenchAct::CentricOff(_) | BenchAct::LeaveOpen(..) | BenchAct::HandIn => {
                self.answer(act)?;
            }
        }
        self.settle();
        Ok(())
    }

    fn zero(&mut self) {
        let example = Baseline::example();
        self.locked = PerSide::default();
        self.trial.inclination = PerSide::of(|_| example.guide().horizontal_inclination);
        self.trial.lateral = PerSide::of(|_| example.guide().lateral_angle);
        // What was set before is gone.
        self.done.lateral = PerSide::default();
        self.done.zeroed = true;
    }

    fn lay(&mut self, record: Option<usize>) {
        self.between = record.filter(|record| *record < self.worked.case.records.len());
        self.done.split |= self.between.is_none();
    }

    fn turn(&mut self, dial: Dial, degrees: f64, is_by: bool) -> Result<(), Refusal> {
        let dials: &[Dial] = if self.tied { &[dial, dial.across()] } else { &[dial] };
        let to = |dial: Dial| if is_by { self.set_to(dial).degrees() + degrees } else { degrees };
        let wanted: Vec<(Dial, f64)> = dials.iter().map(|dial| (*dial, to(*dial))).collect();
        for &(dial, given_deg) in &wanted {
            if self.is_locked(dial) {
                return Err(Refusal::Locked { dial });
            }
            if dial.facts().check(given_deg).is_err() {
                return Err(Refusal::OffTheScale { dial, given_deg });
            }
        }
        for (dial, degrees) in wanted {
            self.set(dial, Angle::from_degrees(degrees));
        }
        Ok(())
    }

    fn set(&mut self, dial: Dial, angle: Angle) {
        match dial {
            Dial::Inclination(side) => self.trial.inclination[side] = angle,
            Dial::Lateral(side) => {
                self.trial.lateral[side] = angle;
                // Turned by hand it is no longer what the rule gave, or a record.
                self.done.lateral[side] = None;
            }
        }
    }

    fn turn_to_close(&mut self) -> Result<(), Refusal> {
        if self.is_asked() {
            return Err(Refusal::Asked);
        }
        let step = self.between.and_then(|record| self.bench.on_record(record, &self.trial));
        let Some(step) = step.filter(|step| !step.turns.is_empty() && step.kind != RecordKind::Centric)
        else {
            return Err(Refusal::NotBetween { wanted: "record with a known place" });
        };
        let inclinations =
            step.turns.iter().map(|turn: &Turn| (Dial::Inclination(turn.side), turn.closes_at));
        let lateral = step.lateral.iter().map(|turn| (Dial::Lateral(turn.side), turn.touches_at));
        let wanted: Vec<(Dial, Angle)> = inclinations.chain(lateral).collect();
        // A screw that was tightened on an earlier record stays so: that guide is set.
        for (dial, angle) in wanted {
            if !self.is_locked(dial) && dial.facts().check(angle.degrees()).is_ok() {
                self.set(dial, angle);
            }
        }
        Ok(())
    }

    fn set_lateral(&mut self, side: Side, angle: Angle, from: LateralFrom) -> Result<(), Refusal> {
        let dial = Dial::Lateral(side);
        if self.is_locked(dial) {
            return Err(Refusal::Locked { dial });
        }
        self.trial.lateral[side] = angle;
        self.done.lateral[side] = Some(from);
        Ok(())
    }

    /// What a record sets: the inclination of both guides in protrusion, the lateral angle of the side that orbits in
    /// a lateral record.
    #[must_use]
    pub fn sets(&self, record: usize) -> Vec<Dial> {
        match self.kind(record) {
            Some(RecordKind::Protrusive) => Side::BOTH.map(Dial::Inclination).to_vec(),
            Some(kind) => kind.orbiting().into_iter().map(Dial::Lateral).collect(),
            None => Vec::new(),
        }
    }

    fn read_scales(&mut self) -> Result<(), Refusal> {
        let not_between = Refusal::NotBetween { wanted: "record that sets a guide" };
        let Some(record) = self.between else { return Err(not_between) };
        let dials = self.sets(record);
        if dials.is_empty() {
            return Err(not_between);
        }
        if let Some(RecordFields::ScaleReadings(_)) = self.worked.case.records.get(record) {
            return self.take_over(record, &dials);
        }
        if let Some(dial) = dials.iter().copied().find(|dial| !self.is_locked(*dial)) {
            return Err(Refusal::Loose { dial });
        }
        let greatest = self.split.widest().map(|(_, gap)| gap);
        for dial in dials {
            self.note_reading(Reading { record, dial, angle: self.set_to(dial), greatest });
        }
        self.done.read.insert(record, greatest);
        Ok(())
    }

    /// Sets guides to the mean of what their scales read when the split closed at another bench.
    fn take_over(&mut self, record: usize, dials: &[Dial]) -> Result<(), Refusal> {
        let read: Vec<(Dial, Vec<f64>)> = dials
            .iter()
            .map(|dial| (*dial, self.read_before(*dial)))
            .filter(|(_, all)| !all.is_empty())
            .collect();
        if let Some((dial, _)) = read.iter().find(|(dial, _)| self.is_locked(*dial)) {
            return Err(Refusal::Locked { dial: *dial });
        }
        for (dial, all) in read {
            let mean = all.iter().sum::<f64>() / all.len() as f64;
            self.set(dial, Angle::from_degrees(mean));
            self.note_reading(Reading { record, dial, angle: Angle::from_degrees(mean), greatest: None });
        }
        self.done.read.insert(record, None);
        Ok(())
    }

    fn note_reading(&mut self, reading: Reading) {
        self.readings.retain(|one| (one.record, one.dial) != (reading.record, reading.dial));
        self.readings.push(reading);
        if let Dial::Lateral(side) = reading.dial {
            self.done.lateral[side] = Some(LateralFrom::Record);
        }
    }

    fn answer(&mut self, act: BenchAct) -> Result<(), Refusal> {
        let set_deg = |dial: Dial| self.set_to(dial).degrees();
        let handed_in = self.patient.as_ref().ok_or(Refusal::NotDealt)?.answer(set_deg);
        let patient = self.patient.as_mut().ok_or(Refusal::NotDealt)?;
        if !patient.is_asked() {
            return Err(Refusal::HandedIn);
        }
        match act {
            BenchAct::Judge(check, verdict) => {
                patient.verdicts = patient.verdicts.with(check, verdict);
                if check == Check::CentricRecord && verdict != Verdict::Rejected {
                    patient.verdicts.centric_off = None;
                }
            }
            BenchAct::CentricOff(direction) => patient.verdicts.centric_off = direction,
            BenchAct::LeaveOpen(Dial::Inclination(side), open) => patient.inclination_open[side] = open,
            BenchAct::LeaveOpen(Dial::Lateral(side), open) => patient.lateral_open[side] = open,
            BenchAct::HandIn => {
                let mark = patient.deal.mark(&handed_in).map_err(Refusal::Unmarked)?;
                patient.mark = Some(std::sync::Arc::new(mark));
            }
            _ => {}
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use sim_core::practice::{Fault, Form, VerdictOutcome};
    use whole_checks::student::works_through;

    use super::*;
    use crate::bench::testing::{BENCH, DENTATE, FAULTY, dealt, laid_out};

    const H: [Dial; 2] = [Dial::Inclination(Side::Right), Dial::Inclination(Side::Left)];

    fn sum_mm(on: &OnBench) -> f64 {
        on.split.gaps.iter().map(|gap| gap.mm()).sum()
    }

    /// A hand that turns one guide where the gaps grow less, then the other, in ever smaller steps.
    fn close_by_hand(on: &mut OnBench, dials: &[Dial]) {
        let mut step = 8.0;
        while step > 1e-4 {
            let mut is_better = false;
            for (dial, way) in dials.iter().flat_map(|dial| [(*dial, step), (*dial, -step)]) {
                let before = sum_mm(on);
                if on.act(BenchAct::TurnBy(dial, way)).is_ok() {
                    if sum_mm(on) < before - 1e-12 {
                        is_better = true;
                    } else {
                        on.act(BenchAct::TurnBy(dial, -way)).unwrap();
                    }
                }
            }
            if !is_better {
                step /= 2.0;
            }
        }
    }

    /// A hand that turns the medial wall until it neither stands off its sphere nor carries it aside.
    fn touch_by_hand(on: &mut OnBench, record: usize, side: Side) {
        let (mut low, mut high) = (Dial::Lateral(side).facts().min, Dial::Lateral(side).facts().max);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            on.act(BenchAct::Turn(Dial::Lateral(side), middle)).unwrap();
            let beyond = on.bench.on_record(record, &on.trial).unwrap().lateral.unwrap().beyond.mm();
            if beyond > 0.0 { high = middle } else { low = middle }
        }
    }

    /// Works the records through by turning, locking and reading.
    fn work_through(on: &mut OnBench) {
        on.act(BenchAct::Zero).unwrap();
        on.act(BenchAct::Lay(None)).unwrap();
        on.act(BenchAct::Lay(Some(on.records()[0]))).unwrap();
        on.act(BenchAct::JudgeCentric(on.split.closed)).unwrap();
        for record in on.bench.order() {
            on.act(BenchAct::Lay(Some(record))).unwrap();
            let dials = on.sets(record);
            if on.split.unknown.is_none() {
                match dials[0] {
                    Dial::Inclination(_) => close_by_hand(on, &dials),
                    Dial::Lateral(side) => {
                        if on.bench.on_record(record, &on.trial).unwrap().lateral.is_some() {
                            touch_by_hand(on, record, side);
                        }
                    }
                }
                for dial in &dials {
                    on.act(BenchAct::Lock(*dial, true)).unwrap();
                }
                on.act(BenchAct::ReadScales).unwrap();
                for dial in &dials {
                    on.act(BenchAct::Lock(*dial, false)).unwrap();
                }
            } else {
                on.act(BenchAct::ReadScales).unwrap();
            }
        }
        on.act(BenchAct::SetAnterior).unwrap();
    }

    /// What the made-up student of the checks finds, given by the controls of the page.
    fn answer_as(on: &mut OnBench, wrong: Option<Check>) {
        let deal = on.patient.as_ref().unwrap().deal.clone();
        let found = works_through(&deal);
        let answer = found.answer(&deal, |_| sim_core::practice::SideAnswer {
            horizontal_inclination_deg: Some(0.0),
            lateral_angle_deg: Some(0.0),
        });
        for check in Check::ALL {
            let right = answer.verdicts.on(check);
            let turned = if right == Verdict::Rejected { Verdict::Accepted } else { Verdict::Rejected };
            on.act(BenchAct::Judge(check, if wrong == Some(check) { turned } else { right })).unwrap();
        }
        on.act(BenchAct::CentricOff(answer.verdicts.centric_off)).unwrap();
        for (side, own) in [(Side::Right, answer.right), (Side::Left, answer.left)] {
            on.act(BenchAct::LeaveOpen(Dial::Inclination(side), own.horizontal_inclination_deg.is_none()))
                .unwrap();
            on.act(BenchAct::LeaveOpen(Dial::Lateral(side), own.lateral_angle_deg.is_none())).unwrap();
        }
        on.act(BenchAct::HandIn).unwrap();
    }

    #[test]
    fn a_student_who_works_by_hand_has_full_marks_in_both_forms_and_with_faults() {
        for (form, faults) in [
            (Form::Coordinates, vec![]),
            (Form::Bench, vec![]),
            (Form::Coordinates, vec![Fault::WrongCentric, Fault::WingNotZeroed]),
            (Form::Coordinates, vec![Fault::UnperforatedLateral, Fault::UnzeroedGuide]),
            (Form::Bench, vec![Fault::ShortProtrusion, Fault::DoubleTracing]),
            (Form::Bench, vec![Fault::UnlockedGuide, Fault::PinNotFlush]),
        ] {
            let mut on = dealt(form, 3, &faults);
            work_through(&mut on);
            answer_as(&mut on, None);
            let mark = on.patient.unwrap().mark.unwrap();
            assert!((mark.points - 100.0).abs() < 1e-9, "{form:?} {faults:?}: {mark:?}");
        }
    }

    #[test]
    fn a_wrong_verdict_is_named_and_costs_its_points() {
        let mut on = dealt(Form::Coordinates, 3, &[Fault::PinNotFlush]);
        work_through(&mut on);
        answer_as(&mut on, Some(Check::Pin));
        let mark = on.patient.clone().unwrap().mark.unwrap();
        assert!((mark.points - 95.0).abs() < 1e-9, "{mark:?}");
        let pin = mark.verdicts.iter().find(|one| one.check == Check::Pin).unwrap();
        assert_eq!((pin.outcome, &pin.faults[..]), (VerdictOutcome::Missed, &[Fault::PinNotFlush][..]));
        // What has been handed in stays.
        assert_eq!(on.act(BenchAct::HandIn), Err(Refusal::HandedIn));
        assert_eq!(on.act(BenchAct::Judge(Check::Pin, Verdict::Rejected)), Err(Refusal::HandedIn));
    }

    #[test]
    fn nothing_is_told_that_a_student_is_to_find() {
        let mut on = dealt(Form::Coordinates, 3, &[]);
        on.act(BenchAct::Lay(Some(on.bench.order()[0]))).unwrap();
        for act in [BenchAct::TurnToClose, BenchAct::Hints(true), BenchAct::LateralByRecord(Side::Left)] {
            let before = on.trial;
            assert_eq!(on.act(act), Err(Refusal::Asked));
            assert_eq!((on.trial, on.tells_turns()), (before, false));
        }
        assert!(on.programmed_scene().is_none());
        on.act(BenchAct::HandIn).unwrap();
        on.act(BenchAct::Hints(true)).unwrap();
        assert!(on.tells_turns() && on.programmed_scene().is_some());
    }

    #[test]
    fn a_dealt_instrument_stands_as_it_was_found_until_it_is_zeroed() {
        let mut on = dealt(Form::Coordinates, 3, &[Fault::UnzeroedGuide]);
        let found = on.patient.as_ref().unwrap().deal.instrument.instrument.clone();
        for side in Side::BOTH {
            assert_eq!(on.trial.inclination[side], found.guide(side).horizontal_inclination);
            assert_eq!(on.trial.lateral[side], found.guide(side).lateral_angle);
        }
        on.act(BenchAct::Zero).unwrap();
        for dial in Dial::ALL {
            assert!((on.set_to(dial).degrees() - 30.0).abs() < 1e-12);
        }
    }

    #[test]
    fn turning_to_close_closes_every_record_of_its_own() {
        for text in [DENTATE, BENCH] {
            let mut on = laid_out(text);
            for record in on.bench.order() {
                on.act(BenchAct::Lay(Some(record))).unwrap();
                if on.split.unknown.is_none() {
                    on.act(BenchAct::TurnToClose).unwrap();
                    assert!(on.split.widest().unwrap().1.mm() < 1e-9, "{:?}", on.split.gaps);
                }
            }
        }
    }

    #[test]
    fn a_locked_guide_is_not_turned_and_a_loose_one_is_not_read() {
        let mut on = laid_out(DENTATE);
        on.act(BenchAct::Lay(Some(on.bench.order()[0]))).unwrap();
        on.act(BenchAct::Lock(H[0], true)).unwrap();
        let before = on.trial;
        assert_eq!(on.act(BenchAct::Turn(H[0], 20.0)), Err(Refusal::Locked { dial: H[0] }));
        // Nor is the other one when both go together.
        on.act(BenchAct::Tie(true)).unwrap();
        assert_eq!(on.act(BenchAct::TurnBy(H[1], 1.0)), Err(Refusal::Locked { dial: H[0] }));
        assert_eq!(on.trial, before);
        assert_eq!(on.act(BenchAct::ReadScales), Err(Refusal::Loose { dial: H[1] }));
        on.act(BenchAct::Lock(H[1], true)).unwrap();
        on.act(BenchAct::ReadScales).unwrap();
        assert_eq!(on.readings.len(), 2);
        // Read again, it is the same two readings.
        on.act(BenchAct::ReadScales).unwrap();
        assert_eq!(on.readings.len(), 2);
    }

    #[test]
    fn an_angle_off_the_scale_is_refused_with_the_scale_named_and_exact_ones_are_kept() {
        let mut on = laid_out(DENTATE);
        for given in [86.0, -31.0, f64::NAN, f64::INFINITY] {
            let said = on.act(BenchAct::Turn(H[0], given)).unwrap_err().to_string();
            assert!(said.contains("−30° to 85°"), "{said}");
        }
        on.act(BenchAct::Turn(H[0], 32.67)).unwrap();
        assert!((on.set_to(H[0]).degrees() - 32.67).abs() < 1e-12);
        on.act(BenchAct::Tie(true)).unwrap();
        on.act(BenchAct::TurnBy(H[0], 0.5)).unwrap();
        assert!((on.set_to(H[1]).degrees() - 30.5).abs() < 1e-12);
    }

    #[test]
    fn the_lateral_angle_is_set_by_rule_or_by_record_and_a_turn_by_hand_is_neither() {
        let mut on = laid_out(DENTATE);
        on.act(BenchAct::Turn(H[1], 40.0)).unwrap();
        on.act(BenchAct::LateralByRule(Side::Left)).unwrap();
        assert!((on.set_to(Dial::Lateral(Side::Left)).degrees() - 17.0).abs() < 1e-12);
        assert_eq!(on.lateral_from(Side::Left), Some(LateralFrom::Rule));
        on.act(BenchAct::LateralByRecord(Side::Left)).unwrap();
        let programmed = on.worked.programmed.side(Side::Left).unwrap().lateral_angle.angle.value;
        assert_eq!(on.set_to(Dial::Lateral(Side::Left)), programmed);
        on.act(BenchAct::TurnBy(Dial::Lateral(Side::Left), 1.0)).unwrap();
        assert_eq!(on.lateral_from(Side::Left), None);
        // Without a lateral record there is nothing to set it by but the rule.
        let records = DENTATE.find("        RightLateral(").unwrap();
        let end = DENTATE[records..].find("    ],\n    incisal_point_mm").unwrap() + records;
        let mut on = laid_out(&format!("{}{}", &DENTATE[..records], &DENTATE[end..]));
        let refused = on.act(BenchAct::LateralByRecord(Side::Right));
        assert_eq!(refused, Err(Refusal::NoRecord { side: Side::Right }));
    }

    #[test]
    fn readings_made_at_another_bench_are_taken_over_as_their_mean() {
        let mut on = laid_out(BENCH);
        on.act(BenchAct::Lay(Some(3))).unwrap();
        on.act(BenchAct::ReadScales).unwrap();
        // 16, 15, 16 and 17 degrees.
        assert!((on.set_to(Dial::Lateral(Side::Left)).degrees() - 16.0).abs() < 1e-12);
        assert_eq!(on.lateral_from(Side::Left), Some(LateralFrom::Record));
    }

    #[test]
    fn what_needs_a_record_between_the_casts_says_so() {
        let mut on = laid_out(DENTATE);
        for act in [BenchAct::ReadScales, BenchAct::JudgeCentric(true), BenchAct::TurnToClose] {
            assert!(matches!(on.act(act), Err(Refusal::NotBetween { .. })));
        }
        assert_eq!(on.act(BenchAct::HandIn), Err(Refusal::NotDealt));
        // The centric record sets no guide.
        on.act(BenchAct::Lay(Some(0))).unwrap();
        assert!(matches!(on.act(BenchAct::ReadScales), Err(Refusal::NotBetween { .. })));
        // No such record: nothing lies between.
        on.act(BenchAct::Lay(Some(99))).unwrap();
        assert_eq!(on.between, None);
    }

    #[test]
    fn the_next_record_goes_through_all_of_them_and_out_again() {
        for text in [DENTATE, BENCH, FAULTY] {
            let mut on = laid_out(text);
            let mut seen = Vec::new();
            for _ in 0..=on.records().len() {
                on.act(BenchAct::LayNext).unwrap();
                seen.push(on.between);
            }
            let wanted: Vec<Option<usize>> = on.records().into_iter().map(Some).chain([None]).collect();
            assert_eq!(seen, wanted);
        }
    }
}
