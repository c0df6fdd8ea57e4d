//! What `eminentia plan` takes.

use std::path::PathBuf;

use clap::Args;
use sim_core::cusp::Tooth;
use sim_core::facts::Entry;
use sim_core::plan::{
    AngleRange, Balance, Clearances, CurveRange, Free, Goal, Meeting, Moulds, Plan as Goals, Role, Wanted,
    Weight,
};
use sim_core::units::{Angle, Length};

use crate::args::{Changes, OneScene, PrintArgs, ReportArgs};

#[derive(Args)]
pub(crate) struct Plan {
    #[command(flatten)]
    pub(crate) scene: OneScene,
    #[command(flatten)]
    pub(crate) changes: Changes,
    /// Ask for balanced articulation of teeth with this cusp inclination, in degrees, in place of the
    /// scene's goal
    #[arg(long, value_name = "DEG", value_parser = cusp_inclination, conflicts_with = "clear", allow_negative_numbers = true)]
    balance: Option<Angle>,
    /// Ask for a clearance in place of the scene's goal, as in `36,protrusive,3,1.1`: tooth, excursion
    /// as seen from it (protrusive, working, orbiting), advance and clearance in mm. May be repeated
    #[arg(long, value_name = "TOOTH,EXCURSION,MM,MM", value_parser = wanted, allow_hyphen_values = true)]
    clear: Vec<Wanted>,
    /// Come as close as possible to the clearances, instead of giving at least as much
    #[arg(long, requires = "clear")]
    least_squares: bool,
    /// What may be changed, and within which bounds, as in `incisal-guidance=0..40`. Angles in degrees:
    /// condylar-guidance, incisal-guidance, lateral-incisal-guidance (or right-, left-),
    /// occlusal-plane, cusp-inclination; `cusp-mould=0,10,20,30`; `compensating-curve=100`, its least
    /// radius in mm. May be repeated; in place of the scene's
    #[arg(long, value_name = "FACTOR=BOUNDS", value_parser = free, allow_hyphen_values = true)]
    free: Vec<Free>,
    /// Distance over which chords are taken, in mm of condylar advance
    #[arg(long, value_name = "MM", value_parser = chord, allow_negative_numbers = true)]
    chord_mm: Option<Length>,
    /// Draw the required inclines from front to back into this file (.svg, .png or .pdf)
    #[arg(long, value_name = "FILE")]
    pub(crate) plot: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) print: PrintArgs,
    /// Write the scene as planned (RON), to open with `eminentia excursion` or the viewer; where the
    /// goal cannot be reached, the nearest
    #[arg(long, value_name = "FILE")]
    pub(crate) scene_out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) report: ReportArgs,
}

impl Plan {
    /// The scene's plan with what the command line puts in its place; none where `--free` has no goal
    /// that it could serve.
    pub(crate) fn plan(&self, of_scene: Option<&Goals>) -> Option<Goals> {
        let mut plan = of_scene.cloned().unwrap_or_default();
        if let Some(cusp_inclination) = self.balance {
            // Teeth and excursions of the scene's own goal stay.
            let mut goal = match plan.goal.take() {
                Some(Goal::BalancedArticulation(goal)) => goal,
                _ => Balance::usual(),
            };
            goal.cusp_inclination = cusp_inclination;
            plan.goal = Some(Goal::BalancedArticulation(goal));
        }
        if !self.clear.is_empty() {
            let by = if self.least_squares { Meeting::LeastSquares } else { Meeting::AtLeast };
            plan.goal =
                Some(Goal::Disclusion(Clearances { clearances: self.clear.clone(), by, free: Vec::new() }));
        }
        if !self.free.is_empty() {
            match &mut plan.goal {
                Some(Goal::BalancedArticulation(goal)) => goal.free.clone_from(&self.free),
                Some(Goal::Disclusion(goal)) => goal.free.clone_from(&self.free),
                None => return None,
            }
        }
        plan.chord = self.chord_mm.unwrap_or(plan.chord);
        Some(plan)
    }
}

/// A number that a setting of a plan takes. A key that no setting has takes none.
fn checked<T>(given: &str, setting: &'static Entry<T>) -> Result<f64, String> {
    let number: f64 = given.trim().parse().map_err(|_| format!("`{given}` is no number"))?;
    setting.facts.check(number).map_err(|error| error.to_string())
}

fn cusp_inclination(given: &str) -> Result<Angle, String> {
    checked(given, &Balance::CUSP_INCLINATION).map(Angle::from_degrees)
}

fn chord(given: &str) -> Result<Length, String> {
    checked(given, &Goals::CHORD).map(Length::from_mm)
}

fn wanted(given: &str) -> Result<Wanted, String> {
    let parts: Vec<&str> = given.split(',').map(str::trim).collect();
    let [tooth, excursion, advance, clearance] = parts[..] else {
        return Err("four things are needed, as in 36,protrusive,3,1.1".to_owned());
    };
    let number: i64 = tooth.parse().map_err(|_| format!("`{tooth}` is no tooth number"))?;
    let role = Role::ALL.into_iter().find(|role| role.name() == excursion);
    Ok(Wanted {
        tooth: Tooth::new(number).map_err(|error| error.to_string())?,
        name: None,
        excursion: role.ok_or_else(|| {
            format!("`{excursion}` is no excursion; allowed are protrusive, working, orbiting")
        })?,
        advance: Length::from_mm(checked(advance, &Wanted::ADVANCE)?),
        clearance: Length::from_mm(checked(clearance, &Wanted::CLEARANCE)?),
    })
}

fn free(given: &str) -> Result<Free, String> {
    let (name, bounds) =
        given.split_once('=').ok_or("a factor and its bounds, as in incisal-guidance=0..40")?;
    let range = || {
        let (least, most) = bounds.split_once("..").ok_or("two bounds, as in 0..40")?;
        Ok::<_, String>(AngleRange {
            least: Angle::from_degrees(checked(least, &AngleRange::LEAST)?),
            most: Angle::from_degrees(checked(most, &AngleRange::MOST)?),
            weight: Weight::ONE,
        })
    };
    Ok(match name.trim() {
        "condylar-guidance" => Free::CondylarGuidance(range()?),
        "incisal-guidance" => Free::IncisalGuidance(range()?),
        "lateral-incisal-guidance" => Free::LateralIncisalGuidance(range()?),
        "right-lateral-incisal-guidance" => Free::RightLateralIncisalGuidance(range()?),
        "left-lateral-incisal-guidance" => Free::LeftLateralIncisalGuidance(range()?),
        "occlusal-plane" => Free::OcclusalPlane(range()?),
        "cusp-inclination" => Free::CuspInclination(range()?),
        "cusp-mould" => {
            let angle = |given: &str| given.trim().parse().map_err(|_| format!("`{given}` is no number"));
            let inclinations_deg = bounds.split(',').map(angle).collect::<Result<_, String>>()?;
            Free::CuspMould(Moulds { inclinations_deg, weight: Weight::ONE })
        }
        "compensating-curve" => Free::CompensatingCurve(CurveRange {
            least_radius: Length::from_mm(checked(bounds, &CurveRange::LEAST_RADIUS)?),
            weight: Weight::ONE,
        }),
        unknown => {
            return Err(format!(
                "`{unknown}` is no factor; allowed are condylar-guidance, incisal-guidance, \
                 lateral-incisal-guidance, right-lateral-incisal-guidance, left-lateral-incisal-guidance, \
                 occlusal-plane, cusp-inclination, cusp-mould, compensating-curve"
            ));
        }
    })
}
