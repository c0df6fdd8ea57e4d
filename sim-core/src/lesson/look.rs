//! Looking into a step: what it shows, and then what it asks.

use std::sync::Arc;

use super::cusp_name::CuspName;
use super::fault::Wrong;
use super::file::{QuestionFields, StepFields, TargetFields};
use super::look_at_text::Faults;
use super::phrase::{At, Phrase};
use super::question::Question;
use super::situation::{Situation, changed};
use super::step::{Step, Target};
use crate::cast::Casts;
use crate::excursion::Drive;
use crate::frame::Side;
use crate::scene::Scene;
use crate::setting::SettingName;
use crate::units::Length;

impl Faults<'_> {
    /// A step on a set-up, in a lesson that starts from another.
    pub(super) fn look_at(
        &mut self,
        fields: &StepFields,
        mut scene: Scene,
        start: &Scene,
        casts: Option<&Arc<Casts>>,
    ) -> Step {
        let changes = self.changes("with", &fields.with);
        match changed(&scene, &changes) {
            Ok(made) => scene = made,
            Err(error) => self.find("with", None, "", Wrong::Changes(error)),
        }
        let at = self.at(fields);
        let situation = Situation { scene: &scene, start, casts, excursion: fields.excursion, at };
        if let (Some(_), Ok(phrase)) = (fields.excursion, "turn".parse::<Phrase>())
            && let Err(error) = situation.measure(&phrase)
        {
            self.find("excursion", None, "", Wrong::NoPose(error));
        }
        let points = fields.point_at.iter().filter_map(|target| self.target(target, &situation)).collect();
        let text = self.said("text", &fields.text, &situation);
        let question = match &fields.question {
            None => None,
            Some(QuestionFields::Choice(choice)) => self.choice(choice, &situation).map(Question::Choice),
            Some(QuestionFields::Number(number)) => self.number(number, &situation).map(Question::Number),
            Some(QuestionFields::Set(set)) => {
                self.set(set, &situation).map(|set| Question::Set(Box::new(set)))
            }
        };
        Step { text, scene, excursion: fields.excursion, at, view: fields.view, points, question }
    }

    fn at(&mut self, fields: &StepFields) -> Option<At> {
        let given = fields.at_mm?;
        let drive = match fields.excursion.map(|excursion| excursion.drive()) {
            None => Err("a step without an excursion stands at rest; give an excursion, or leave at_mm out"
                .to_owned()),
            Some(Drive::Opening(_)) => Err("an opening goes by its angle; leave at_mm out".to_owned()),
            Some(end) if !(given >= 0.0 && given <= end.number()) => {
                Err(format!("allowed are 0 to {} mm, the end of the excursion", end.number()))
            }
            Some(_) if given == 0.0 => return Some(At::Rest),
            Some(Drive::Advance(_)) => Ok(Drive::Advance(Length::from_mm(given))),
            Some(Drive::IncisalDisplacement(_)) => Ok(Drive::IncisalDisplacement(Length::from_mm(given))),
            Some(Drive::Tracing(_)) => Ok(Drive::Tracing(Length::from_mm(given))),
        };
        match drive {
            Ok(drive) => Some(At::Driven(drive)),
            Err(allowed) => {
                self.find("at_mm", None, "", Wrong::At { given, allowed });
                None
            }
        }
    }

    fn target(&mut self, fields: &TargetFields, situation: &Situation<'_>) -> Option<Target> {
        match fields {
            TargetFields::Cusp(name) => match name.parse::<CuspName>() {
                Ok(cusp) => match cusp.find(&situation.scene.cusps) {
                    Ok(place) => return Some(Target::Cusp(place)),
                    Err(error) => {
                        let what = Wrong::Unmeasured { phrase: name.clone(), error };
                        self.find("point_at", Some(name), "", what);
                    }
                },
                Err(error) => self.find("point_at", Some(name), "", Wrong::Phrase(error)),
            },
            TargetFields::Setting(name) => match name.parse::<SettingName>() {
                Ok(setting) => return Some(Target::Setting(setting)),
                Err(error) => self.find("point_at", Some(name), "", Wrong::Name(error)),
            },
            TargetFields::RightCondyle => return Some(Target::Condyle(Side::Right)),
            TargetFields::LeftCondyle => return Some(Target::Condyle(Side::Left)),
            TargetFields::IncisalPoint => return Some(Target::IncisalPoint),
            TargetFields::Plot => return Some(Target::Plot),
        }
        None
    }
}
