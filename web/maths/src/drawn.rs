//! Set-ups drawn at random, and the table of them.

use std::fmt::Write as _;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use whole_checks::table::{Outcome, Table};

use crate::set_up::{SetUp, columns};

const SEED: u64 = 20_261;
/// How often each combination of design, anterior guide, movement and path is drawn. Tables of heights
/// take more room and are drawn less often.
const DRAWS: [(&str, usize); 3] = [("Table", 5), ("Incisors", 5), ("CustomTable", 3)];
/// Openings about the hinge, on which no guide has a say.
const OPENINGS: usize = 10;
const DESIGNS: [&str; 2] = ["Arcon", "NonArcon"];
const MOVEMENTS: [&str; 5] =
    ["protrusive", "right_lateral", "left_lateral", "right_lateroprotrusive", "left_lateroprotrusive"];
const PATHS: [&str; 3] = ["Straight", "Arc", "Profile"];
/// What drives, and from where to where the whole excursion is drawn.
const DRIVES: [(&str, f64, f64); 3] =
    [("advance_mm", 2.0, 8.0), ("incisal_displacement_mm", 1.0, 5.0), ("tracing_mm", 1.0, 5.0)];
/// Place and fineness of a table of heights: the pin stays on it.
const GRID_MM: [(f64, usize); 2] = [(-14.0, 6), (-14.0, 8)];
const GRID_STEP_MM: f64 = 4.0;

const HEAD: &str = "\
# 400 set-ups drawn at random and the poses that sim-core gives them natively. Invented data: nobody's instrument, jaw or teeth.
# Made by web/maths/src/drawn.rs: cargo test -p browser-maths -- --ignored
# Numbers are the shortest that give the same binary number again. Places are those of three points of the upper
# member in the lower frame (x anterior, y left, z up), at a third, two thirds and the whole of each excursion.
";

/// What one set-up is made of.
#[derive(Clone, Copy)]
struct Kind<'k> {
    design: &'k str,
    anterior_guide: &'k str,
    movement: &'k str,
    path: &'k str,
    drive: (&'k str, f64, f64),
}

/// Numbers at random from a seed.
struct Dice(ChaCha8Rng);

impl Dice {
    /// Between two bounds, with two decimals: exact in the table, and the same on every machine.
    fn draw(&mut self, low: f64, high: f64) -> f64 {
        let part = f64::from(self.0.next_u32()) / f64::from(u32::MAX);
        ((low + (high - low) * part) * 100.0).round() / 100.0
    }

    fn sometimes(&mut self, chance: f64, low: f64, high: f64) -> f64 {
        let drawn = self.draw(low, high);
        if self.draw(0.0, 1.0) < chance { drawn } else { 0.0 }
    }

    fn one_of<'o>(&mut self, options: &[&'o str]) -> &'o str {
        options[self.0.next_u32() as usize % options.len()]
    }
}

/// The cells of one row, by name.
#[derive(Default)]
struct Cells(Vec<(String, String)>);

impl Cells {
    fn text(&mut self, name: &str, text: impl Into<String>) {
        self.0.push((name.to_owned(), text.into()));
    }

    fn number(&mut self, name: &str, number: f64) {
        self.text(name, format!("{number:?}"));
    }

    fn line(&self, part: impl Fn(&(String, String)) -> &str) -> String {
        self.0.iter().map(part).collect::<Vec<_>>().join(",")
    }
}

/// The table: head, names of columns, a line for each set-up.
///
/// # Errors
/// A set-up that cannot be read back, which would be an error of this module.
pub fn table() -> Outcome<String> {
    let mut dice = Dice(ChaCha8Rng::seed_from_u64(SEED));
    let mut text = HEAD.to_owned();
    for (nth, kind) in kinds().into_iter().enumerate() {
        let (cells, numbers) = solvable(&mut dice, kind)?;
        if nth == 0 {
            writeln!(text, "{},{}", cells.line(|(name, _)| name), columns().join(","))?;
        }
        text.push_str(&cells.line(|(_, cell)| cell));
        for number in numbers {
            write!(text, ",{number:?}")?;
        }
        text.push('\n');
    }
    Ok(text)
}

fn kinds() -> Vec<Kind<'static>> {
    let mut kinds = Vec::new();
    for design in DESIGNS {
        for (anterior_guide, draws) in DRAWS {
            for movement in MOVEMENTS {
                for path in PATHS {
                    let nth = |draw| DRIVES[draw % DRIVES.len()];
                    kinds.extend((0..draws).map(|draw| Kind {
                        design,
                        anterior_guide,
                        movement,
                        path,
                        drive: nth(draw),
                    }));
                }
            }
        }
    }
    kinds.extend((0..OPENINGS).map(|nth| Kind {
        design: DESIGNS[nth % DESIGNS.len()],
        anterior_guide: DRAWS[nth % DRAWS.len()].0,
        movement: "opening",
        path: PATHS[nth % PATHS.len()],
        drive: ("opening_deg", 2.0, 12.0),
    }));
    kinds
}

/// Draws until there is a pose all the way: some excursions would run past the end of a path.
fn solvable(dice: &mut Dice, kind: Kind<'_>) -> Outcome<(Cells, Vec<f64>)> {
    loop {
        let cells = draw(dice, kind);
        let text = format!("{}\n{}\n", cells.line(|(name, _)| name), cells.line(|(_, cell)| cell));
        let table = Table::parse(&text)?;
        let row = table.rows().next().ok_or("a table without its row")?;
        if let Ok(numbers) = SetUp::read(&row)?.numbers() {
            return Ok((cells, numbers));
        }
    }
}

fn draw(dice: &mut Dice, kind: Kind<'_>) -> Cells {
    let mut cells = Cells::default();
    cells.text("design", kind.design);
    cells.text("anterior_guide", kind.anterior_guide);
    cells.text("movement", kind.movement);
    let oblique = kind.movement.ends_with("lateroprotrusive");
    cells.number("lateroprotrusive_ratio", if oblique { dice.draw(0.1, 0.9) } else { 0.0 });
    let (driven_by, least, most) = kind.drive;
    cells.text("driven_by", driven_by);
    cells.number("whole", dice.draw(least, most));
    cells.number("intercondylar_distance_mm", dice.draw(95.0, 125.0));
    cells.number("incisal_point_at_rest_x_mm", dice.draw(80.0, 110.0));
    cells.number("incisal_point_at_rest_y_mm", dice.draw(-2.0, 2.0));
    cells.number("incisal_point_at_rest_z_mm", dice.draw(-60.0, -25.0));
    let has_pin = kind.anterior_guide != "Incisors";
    cells.number("pin_extension_mm", if has_pin { dice.sometimes(0.5, -2.0, 4.0) } else { 0.0 });
    draw_front(dice, kind, &mut cells);
    // The path in question goes to the side it matters most for: the one whose condyle advances.
    let advancing = if kind.movement.starts_with("right") { "left" } else { "right" };
    for side in ["right", "left"] {
        let path = if side == advancing { kind.path } else { dice.one_of(&PATHS) };
        draw_guide(dice, side, path, &mut cells);
    }
    cells.number("occlusal_plane_inclination_deg", dice.draw(-5.0, 20.0));
    draw_cusp(dice, &mut cells);
    cells
}

fn draw_front(dice: &mut Dice, kind: Kind<'_>, cells: &mut Cells) {
    let custom = kind.anterior_guide == "CustomTable";
    let angle = |drawn: f64| if custom { 0.0 } else { drawn };
    cells.number("sagittal_inclination_deg", angle(dice.draw(0.0, 50.0)));
    cells.number("right_wing_deg", angle(dice.sometimes(0.8, 0.0, 30.0)));
    cells.number("left_wing_deg", angle(dice.sometimes(0.8, 0.0, 30.0)));
    cells.number("flat_half_width_mm", angle(dice.sometimes(0.7, 0.0, 2.0)));
    cells.number("table_corner_x_mm", GRID_MM[0].0);
    cells.number("table_corner_y_mm", GRID_MM[1].0);
    cells.number("table_step_mm", GRID_STEP_MM);
    cells.number("table_tip_radius_mm", if custom { dice.sometimes(0.5, 0.3, 2.0) } else { 0.0 });
    cells.text("table_heights_mm", if custom { heights(dice) } else { String::new() });
}

/// A table that rises backward and to both sides, uneven as one formed by hand.
#[allow(clippy::cast_precision_loss)] // a handful of rows
fn heights(dice: &mut Dice) -> String {
    let (backward, outward) = (dice.draw(0.0, 0.9), dice.draw(0.0, 0.5));
    let [(back, rows), (right, columns)] = GRID_MM;
    let mut row = |nth: usize| {
        let x = back + GRID_STEP_MM * nth as f64;
        let mut height = |nth: usize| {
            let y = right + GRID_STEP_MM * nth as f64;
            let height = outward * y.abs() - backward * x + dice.draw(-0.15, 0.15);
            format!("{:?}", (height * 10.0).round() / 10.0)
        };
        (0..columns).map(&mut height).collect::<Vec<_>>().join(":")
    };
    (0..rows).map(&mut row).collect::<Vec<_>>().join(";")
}

fn draw_guide(dice: &mut Dice, side: &str, path: &str, cells: &mut Cells) {
    let mut number = |name: &str, value: f64| cells.number(&format!("{side}_{name}"), value);
    number("horizontal_inclination_deg", dice.draw(5.0, 60.0));
    number("lateral_angle_deg", dice.draw(0.0, 30.0));
    number("immediate_translation_mm", dice.sometimes(0.6, 0.05, 1.0));
    number("early_amount_mm", dice.sometimes(0.6, 0.05, 1.5));
    number("early_over_mm", dice.draw(2.0, 5.0));
    number("wall_tilt_deg", dice.sometimes(0.6, -10.0, 10.0));
    number("lateroretrusion_deg", dice.sometimes(0.6, -20.0, 20.0));
    number("laterosurtrusion_deg", dice.sometimes(0.6, -20.0, 20.0));
    cells.text(&format!("{side}_path"), path);
    let radius = if path == "Arc" { format!("{:?}", dice.draw(12.0, 60.0)) } else { String::new() };
    cells.text(&format!("{side}_arc_radius_mm"), radius);
    let listed = if path == "Profile" { profile(dice) } else { String::new() };
    cells.text(&format!("{side}_profile_advance_mm_to_drop_mm"), listed);
}

/// Points of a recorded path, at least 9.5 mm of it.
fn profile(dice: &mut Dice) -> String {
    let steps = if dice.draw(0.0, 1.0) < 0.5 { 4 } else { 5 };
    let (mut forward, mut down) = (0.0, 0.0);
    let mut points = vec!["0.0:0.0".to_owned()];
    for _ in 0..steps {
        forward += dice.draw(2.4, 3.2);
        down += dice.draw(0.1, 2.4);
        points.push(format!("{forward:.2}:{down:.2}"));
    }
    points.join(";")
}

fn draw_cusp(dice: &mut Dice, cells: &mut Cells) {
    let quadrant = dice.one_of(&["1", "2", "3", "4"]);
    let outward = if matches!(quadrant, "2" | "3") { 1.0 } else { -1.0 };
    cells.text("cusp_tooth", format!("{quadrant}{}", dice.one_of(&["4", "5", "6", "7", "8"])));
    cells.number("cusp_at_rest_x_mm", dice.draw(40.0, 80.0));
    cells.number("cusp_at_rest_y_mm", outward * dice.draw(18.0, 32.0));
    cells.number("cusp_at_rest_z_mm", dice.draw(-45.0, -25.0));
    for direction in ["protrusive", "retrusive", "working", "nonworking"] {
        cells.number(&format!("cusp_opposing_{direction}_deg"), dice.draw(0.0, 45.0));
    }
}
