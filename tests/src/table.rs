//! The tables that the scripts in `tests/outside` made, and others with the same columns: read, turned into instruments, compared with.

use std::error::Error;
use std::fmt;
use std::fs;
use std::path::Path;

use nalgebra::{Matrix3, Vector3};
use sim_core::anterior::{AnteriorGuide, HeightField, PinTip, Trough};
use sim_core::cusp::{Cusp, OpposingInclines, Tooth};
use sim_core::excursion::{Mechanism, Movement, Placement, Ratio, Station};
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::guide::{ArcPath, CondylarGuide, EarlyTranslation, GuidePath, Profile};
use sim_core::instrument::{Design, IncisalPoint, Instrument};
use sim_core::units::{Angle, Length};

/// What a reader or a check comes back with.
pub type Outcome<T> = Result<T, Box<dyn Error>>;

/// A table with named columns; lines that begin with `#` tell how it was made.
pub struct Table {
    header: csv::StringRecord,
    records: Vec<csv::StringRecord>,
}

/// One line of a table.
#[derive(Clone, Copy)]
pub struct Row<'t> {
    header: &'t csv::StringRecord,
    record: &'t csv::StringRecord,
}

impl Table {
    /// Reads a table of `tests/outside`.
    pub fn read(name: &str) -> Outcome<Self> {
        Self::parse(&fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("outside").join(name))?)
    }

    /// A table from its text, where there are no files to open.
    pub fn parse(text: &str) -> Outcome<Self> {
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
        let header = reader.headers()?.clone();
        let records = reader.records().collect::<Result<_, _>>()?;
        Ok(Self { header, records })
    }

    /// Its lines, in order.
    pub fn rows(&self) -> impl ExactSizeIterator<Item = Row<'_>> {
        self.records.iter().map(|record| Row { header: &self.header, record })
    }
}

impl Row<'_> {
    /// What stands in a column.
    pub fn text(&self, column: &str) -> Outcome<&str> {
        let place = self.header.iter().position(|name| name == column);
        place.and_then(|at| self.record.get(at)).ok_or_else(|| format!("no column {column}").into())
    }

    /// The number in a column.
    pub fn number(&self, column: &str) -> Outcome<f64> {
        let text = self.text(column)?;
        text.parse().map_err(|_| format!("{column} is {text}, not a number").into())
    }

    /// The length in a column of millimetres.
    pub fn length(&self, column: &str) -> Outcome<Length> {
        self.number(column).map(Length::from_mm)
    }

    /// The angle in a column of degrees.
    pub fn angle(&self, column: &str) -> Outcome<Angle> {
        self.number(column).map(Angle::from_degrees)
    }

    /// The three columns `{before}x{after}`, `…y…`, `…z…`.
    pub fn vector(&self, before: &str, after: &str) -> Outcome<Vector3<f64>> {
        let at = |axis: char| self.number(&format!("{before}{axis}{after}"));
        Ok(Vector3::new(at('x')?, at('y')?, at('z')?))
    }

    /// The rotation of the jaw pose.
    pub fn rotation(&self) -> Outcome<Matrix3<f64>> {
        let mut rotation = Matrix3::zeros();
        for row in 0..3 {
            for column in 0..3 {
                rotation[(row, column)] = self.number(&format!("r{row}{column}"))?;
            }
        }
        Ok(rotation)
    }

    fn path(&self, side: Side) -> Outcome<GuidePath> {
        Ok(match self.text(&format!("{side}_path"))? {
            "Straight" => GuidePath::Straight,
            "Arc" => GuidePath::Arc(ArcPath { radius: self.length(&format!("{side}_arc_radius_mm"))? }),
            "Profile" => {
                let listed = self.text(&format!("{side}_profile_advance_mm_to_drop_mm"))?;
                let points = listed.split(';').map(|point| {
                    let (advance, drop) = point.split_once(':').ok_or("a profile point without its drop")?;
                    Ok((advance.parse()?, drop.parse()?))
                });
                GuidePath::Profile(Profile::new(points.collect::<Outcome<_>>()?)?)
            }
            other => return Err(format!("no path is called {other}").into()),
        })
    }

    fn guide(&self, side: Side) -> Outcome<CondylarGuide> {
        let angle = |name: &str| self.angle(&format!("{side}_{name}_deg"));
        let length = |name: &str| self.length(&format!("{side}_{name}_mm"));
        Ok(CondylarGuide {
            horizontal_inclination: angle("horizontal_inclination")?,
            lateral_angle: angle("lateral_angle")?,
            immediate_translation: length("immediate_translation")?,
            early_translation: EarlyTranslation {
                amount: length("early_amount")?,
                over: length("early_over")?,
            },
            path: self.path(side)?,
            wall_tilt: angle("wall_tilt")?,
            lateroretrusion: angle("lateroretrusion")?,
            laterosurtrusion: angle("laterosurtrusion")?,
        })
    }

    /// A table of heights about the pin's place: rows parted by `;`, heights in them by `:`.
    fn heights(&self) -> Outcome<HeightField> {
        let height = |text: &str| text.parse::<f64>().map_err(|_| format!("{text} is no height"));
        let rows = self.text("table_heights_mm")?.split(';');
        let rows =
            rows.map(|row| row.split(':').map(height).collect()).collect::<Result<Vec<Vec<_>>, _>>()?;
        let corner = [self.number("table_corner_x_mm")?, self.number("table_corner_y_mm")?];
        let field = HeightField::new(corner, self.number("table_step_mm")?, &rows)?;
        Ok(field.with_tip(PinTip { radius: self.length("table_tip_radius_mm")? })?)
    }

    /// The instrument with this row's settings.
    pub fn instrument(&self) -> Outcome<Instrument> {
        let trough = Trough {
            sagittal_inclination: self.angle("sagittal_inclination_deg")?,
            right_wing: self.angle("right_wing_deg")?,
            left_wing: self.angle("left_wing_deg")?,
            flat_half_width: self.length("flat_half_width_mm")?,
        };
        let incisal = self.vector("incisal_point_at_rest_", "_mm")?;
        Ok(Instrument {
            design: match self.text("design")? {
                "Arcon" => Design::Arcon,
                "NonArcon" => Design::NonArcon,
                other => return Err(format!("no design is called {other}").into()),
            },
            intercondylar_distance: self.length("intercondylar_distance_mm")?,
            right_guide: self.guide(Side::Right)?,
            left_guide: self.guide(Side::Left)?,
            anterior_guide: match self.text("anterior_guide")? {
                "Table" => AnteriorGuide::Table(trough),
                "Incisors" => AnteriorGuide::Incisors(trough),
                "CustomTable" => AnteriorGuide::CustomTable(self.heights()?),
                other => return Err(format!("no anterior guide is called {other}").into()),
            },
            incisal_point: IncisalPoint::mm(incisal.x, incisal.y, incisal.z),
            pin_extension: self.length("pin_extension_mm")?,
        })
    }

    /// The movement this row is of.
    pub fn movement(&self) -> Outcome<Movement> {
        let ratio = || Ratio::new(self.number("lateroprotrusive_ratio")?).map_err(Box::<dyn Error>::from);
        Ok(match self.text("movement")? {
            "protrusive" => Movement::Protrusive,
            "opening" => Movement::Opening,
            "right_lateral" => Movement::Lateral { working: Side::Right },
            "left_lateral" => Movement::Lateral { working: Side::Left },
            "right_lateroprotrusive" => Movement::Lateroprotrusive { working: Side::Right, ratio: ratio()? },
            "left_lateroprotrusive" => Movement::Lateroprotrusive { working: Side::Left, ratio: ratio()? },
            other => return Err(format!("no movement is called {other}").into()),
        })
    }

    /// The cusp whose columns begin with `name`.
    pub fn cusp(&self, name: &str) -> Outcome<Cusp> {
        let incline = |direction: &str| self.angle(&format!("{name}_opposing_{direction}_deg"));
        let opposing = OpposingInclines {
            protrusive: incline("protrusive")?,
            retrusive: incline("retrusive")?,
            working: incline("working")?,
            nonworking: incline("nonworking")?,
        };
        let tooth = Tooth::new(self.text(&format!("{name}_tooth"))?.parse()?)?;
        let at = self.vector(&format!("{name}_at_rest_"), "_mm")?;
        Ok(Cusp::new(tooth, name, at.into(), opposing)?)
    }

    /// The plane that separation is counted from.
    pub fn occlusal_plane(&self) -> Outcome<OcclusalPlane> {
        Ok(OcclusalPlane { inclination: self.angle("occlusal_plane_inclination_deg")? })
    }

    /// Solves this row's setting. The table's answer plays no part in it.
    pub fn solved(&self) -> Outcome<Placement> {
        let mechanism = Mechanism::new(&self.instrument()?);
        let station = Station::advanced(self.length("advance_mm")?);
        mechanism.at(self.movement()?, station).map_err(|error| format!("{self}: {error}").into())
    }
}

impl fmt::Display for Row<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (name, value) in self.header.iter().zip(self.record.iter()).filter(|(_, value)| !value.is_empty())
        {
            write!(f, "{name}={value} ")?;
        }
        Ok(())
    }
}
