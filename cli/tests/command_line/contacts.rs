//! `contacts`: marks, guidance, what is in the way.

use std::sync::Arc;

use serde_json::Value;
use sim_core::cast::LastPairs;
use sim_core::cusp::Arch;
use sim_core::excursion::{Mechanism, Movement};
use sim_core::frame::Side;
use sim_core::occlusion::{Interference, InterferenceSearch, Mounted, Stretch};
use sim_core::units::Length;

use crate::casts::{changed_of_file, csv_rows, guided, of_file};
use crate::helpers::{Folder, assert_near, eminentia, json, left, number, refused, run, three};

const PROTRUSIVE: Movement = Movement::Protrusive;
const RIGHT: Movement = Movement::Lateral { working: Side::Right };

/// A scene that ships with the program.
fn shipped(name: &str) -> String {
    format!("{}/../scenes/{name}", env!("CARGO_MANIFEST_DIR"))
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap_or_else(|| panic!("{value}"))
}

/// The mounted casts of a scene file.
fn mounted(path: &str) -> Mounted {
    let (scene, casts) = of_file(path);
    Mounted::new(scene.instrument.clone(), casts, scene.occlusal_plane)
}

#[test]
fn gaps_are_those_of_the_maths_in_centric_and_at_the_end_of_each_excursion() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let told = json(&[&["contacts", &path, "--format", "json"], &NEAR[..]].concat());
    let (scene, casts) = of_file(&path);
    let mechanism = Mechanism::new(&scene.instrument).with_casts(Arc::clone(&casts));
    let mut placements = vec![mechanism.rest().unwrap()];
    placements.extend(
        scene.excursions.iter().map(|one| *mechanism.motion(one, scene.samples).placements().last().unwrap()),
    );
    let poses = list(&told["poses"]);
    let names: Vec<&str> = poses.iter().map(|pose| pose["name"].as_str().unwrap()).collect();
    assert_eq!(names, ["centric", "protrusive", "right_lateral"]);
    for (pose, placement) in poses.iter().zip(placements) {
        assert_near(number(pose, "advance_mm"), placement.advance().mm(), 0.0);
        let reading = casts.measure(&placement.jaw, scene.occlusal_plane, &mut LastPairs::default());
        assert_near(number(&pose["least_distance"], "gap_mm"), reading.distance.gap.mm(), 1e-9);
        let teeth = list(&pose["teeth"]);
        assert_eq!(teeth.len(), reading.teeth.len());
        for (tooth, reading) in teeth.iter().zip(&reading.teeth) {
            assert_eq!(tooth["tooth"], reading.tooth.number());
            assert_near(number(tooth, "least_distance_mm"), reading.distance.gap.mm(), 1e-9);
            let vertical = reading.vertical.map(|nearest| nearest.gap.mm());
            assert_eq!(tooth["least_vertical_gap_mm"].is_null(), vertical.is_none());
            if let Some(vertical) = vertical {
                assert_near(number(tooth, "least_vertical_gap_mm"), vertical, 1e-9);
            }
        }
    }
}

#[test]
fn a_thicker_film_marks_more_of_a_tooth_and_only_teeth_that_come_so_near() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let told = json(&["contacts", &path, "--format", "json", "--to", "1"]);
    assert_eq!(told["films_um"], serde_json::json!([8.0, 20.0, 40.0, 100.0, 200.0]));
    let mut marked = 0;
    for tooth in list(&told["poses"]).iter().flat_map(|pose| list(&pose["teeth"])) {
        let mut before = 0.0;
        for mark in list(&tooth["marks"]) {
            let (film, area) = (number(mark, "film_um"), number(mark, "area_mm2"));
            assert!(area >= before, "{tooth}");
            before = area;
            assert_eq!(mark["centroid_mm"].is_null(), area == 0.0, "{tooth}");
            let apart_um = 1000.0 * number(tooth, "least_distance_mm");
            if area > 0.0 {
                marked += 1;
                assert!(apart_um <= film + 1e-6, "{tooth}");
            }
        }
    }
    assert!(marked > 10, "{marked}");
    let films = ["--film", "150", "--film", "12.5", "--film", "150"];
    let own = json(&[&["contacts", &path, "--format", "json", "--to", "1"], &films[..]].concat());
    assert_eq!(own["films_um"], serde_json::json!([12.5, 150.0]));
}

#[test]
fn guidance_is_told_as_the_maths_tells_it() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let told = json(&["contacts", &path, "--format", "json"]);
    let mounted = mounted(&path);
    let guidance = list(&told["guidance"]);
    assert_eq!(guidance.len(), 2);
    for (told, movement) in guidance.iter().zip([PROTRUSIVE, RIGHT]) {
        let verdict = mounted.scheme(movement, &Stretch::default()).unwrap();
        assert_eq!(told["excursion"], movement.name());
        assert_eq!(told["scheme"], verdict.scheme.name());
        assert_eq!(told["rule"], words::verdict::scheme::rule(verdict.scheme, verdict.movement));
        assert_near(number(told, "share"), verdict.share, 0.0);
        assert_eq!(list(&told["contacts"]).len(), verdict.evidence.len());
        assert!(!verdict.evidence.is_empty());
        for (told, held) in list(&told["contacts"]).iter().zip(&verdict.evidence) {
            assert_eq!(told["contact"], held.kind.name());
            assert_near(number(told, "share"), held.share, 0.0);
            assert_eq!(three(&told["at_mm"]), <[f64; 3]>::from(*held.nearest.upper.coords()));
        }
    }
}

/// Cusps as steep as this interfere with the canine’s guidance.
const IN_THE_WAY: [&str; 2] = ["--with", "invented_casts.cusp_angle_deg=40"];
/// Far enough for that, and not as long to look at as what is usual.
const NEAR: [&str; 4] = ["--to", "1.5", "--film", "40"];

#[test]
fn what_is_in_the_way_is_ranked_by_what_must_come_off() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let told = json(&[&["contacts", &path, "--format", "json"], &NEAR[..], &IN_THE_WAY[..]].concat());
    let (scene, casts) = changed_of_file(&path, &IN_THE_WAY[1..]);
    let mounted = Mounted::new(scene.instrument.clone(), casts, scene.occlusal_plane);
    let search = InterferenceSearch { to: Length::from_mm(1.5), ..InterferenceSearch::default() };
    let mut expected: Vec<Interference> = [PROTRUSIVE, RIGHT]
        .into_iter()
        .flat_map(|movement| mounted.interferences(movement, &search).unwrap().found)
        .collect();
    expected.sort_by(|one, other| other.upper_reduction.mm().total_cmp(&one.upper_reduction.mm()));
    let found = list(&told["interferences"]["found"]);
    assert!(!found.is_empty() && found.len() == expected.len(), "{}", told["interferences"]);
    for (told, expected) in found.iter().zip(&expected) {
        assert_eq!(told["excursion"], expected.movement.name());
        assert_eq!(told["contact"], expected.kind.name());
        let (upper, lower) = expected.teeth();
        assert_eq!(told["upper_tooth"].as_u64(), upper.map(|tooth| u64::from(tooth.number())));
        assert_eq!(told["lower_tooth"].as_u64(), lower.map(|tooth| u64::from(tooth.number())));
        assert_near(number(told, "upper_reduction_mm"), expected.upper_reduction.mm(), 0.0);
        assert_near(number(told, "lower_reduction_mm"), expected.lower_reduction.mm(), 0.0);
        assert_near(number(told, "square_mm"), expected.square.mm(), 0.0);
        assert_near(number(told, "advance_mm"), expected.advance.mm(), 0.0);
    }
    let balanced =
        [&["contacts", &path, "--format", "json", "--intended", "balanced"], &NEAR[..], &IN_THE_WAY[..]]
            .concat();
    assert!(list(&json(&balanced)["interferences"]["found"]).is_empty());
}

#[test]
fn another_setting_hides_and_invents_what_the_lists_of_both_settings_say() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let found = |with: &[&str]| {
        let told = json(&[&["contacts", &path, "--format", "json"], &NEAR[..], with].concat());
        list(&told["interferences"]["found"]).clone()
    };
    // The casts as they are, and steeper ones; each held against the other.
    let flat = ["--with", "invented_casts.cusp_angle_deg=25"];
    let (none, some) = (found(&flat), found(&IN_THE_WAY));
    assert!(!some.is_empty() && none != some);
    for (with, other, here, there) in [(&flat, &IN_THE_WAY, &none, &some), (&IN_THE_WAY, &flat, &some, &none)]
    {
        let asked = ["contacts", &path, "--format", "json", "--against", other[1]];
        let told = json(&[&asked[..], &NEAR, &with[..]].concat());
        parted(&told["against"], other[1], here, there);
    }
    let asked = ["contacts", &path, "--against", IN_THE_WAY[1]];
    let table = run(&[&asked[..], &NEAR].concat()).out;
    assert!(table.contains("On an instrument with") && table.contains("there"), "{table}");
}

/// Hidden and changed are together what is in the way here, invented and changed what is there.
fn parted(against: &Value, other: &str, here: &[Value], there: &[Value]) {
    assert_eq!(against["with"], serde_json::json!([other]));
    let both = |lists: [&[Value]; 2]| {
        let mut all: Vec<String> = lists.into_iter().flatten().map(ToString::to_string).collect();
        all.sort();
        all
    };
    let changed = |half: &str| -> Vec<Value> {
        list(&against["changed"]).iter().map(|one| one[half].clone()).collect()
    };
    assert_eq!(both([list(&against["hidden"]), &changed("before")]), both([here, &[]]));
    assert_eq!(both([list(&against["invented"]), &changed("after")]), both([there, &[]]));
}

#[test]
fn csv_has_the_rows_of_the_json() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let args = |format| {
        let against = ["--against", IN_THE_WAY[1]];
        [&["contacts", &path, "--format", format], &NEAR[..], &against[..]].concat()
    };
    let told = json(&args("json"));
    let rows = csv_rows(&run(&args("csv")).out);
    let heads = rows[0].clone();
    let column = |name: &str| heads.iter().position(|head| head == name).unwrap();
    let of = |kind: &str| -> Vec<&Vec<String>> { rows.iter().filter(|row| row[0] == kind).collect() };
    let poses = list(&told["poses"]);
    assert_eq!(of("casts").len(), poses.len());
    let teeth: Vec<&Value> = poses.iter().flat_map(|pose| list(&pose["teeth"])).collect();
    assert_eq!(of("tooth").len(), teeth.len());
    for ((row, mark), tooth) in of("tooth").into_iter().zip(of("mark")).zip(teeth) {
        assert_eq!(row[column("tooth")], tooth["tooth"].to_string());
        let gap: f64 = row[column("least_distance_mm")].parse().unwrap();
        assert_near(gap, number(tooth, "least_distance_mm"), 0.0);
        let area: f64 = mark[column("area_mm2")].parse().unwrap();
        assert_near(area, number(&tooth["marks"][0], "area_mm2"), 0.0);
    }
    let differences = of("difference");
    let against = &told["against"];
    let count =
        ["hidden", "invented", "changed"].map(|kind| list(&against[kind]).len()).iter().sum::<usize>();
    assert!(count > 0 && differences.len() == count);
    for row in &rows {
        assert_eq!(row.len(), heads.len(), "{row:?}");
    }
}

#[test]
fn one_place_of_one_excursion_can_be_asked_for() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let at = |args: &[&str]| json(&[&["contacts", &path, "--format", "json", "--to", "1"], args].concat());
    let told = at(&["--excursion", "left_lateral", "--at", "1.5"]);
    assert_eq!(list(&told["poses"]).len(), 1);
    assert_eq!(told["poses"][0]["name"], "left_lateral");
    assert_near(number(&told["poses"][0], "advance_mm"), 1.5, 1e-12);
    assert_eq!(told["guidance"][0]["excursion"], "left_lateral");
    let end = at(&["--excursion", "protrusive"]);
    assert_near(number(&end["poses"][0], "advance_mm"), 3.0, 1e-12);
    assert_eq!(at(&["--excursion", "protrusive", "--at", "0"])["poses"][0]["name"], "centric");
    let opened = at(&["--excursion", "opening", "--at", "5"]);
    assert_near(number(&opened["poses"][0], "opening_deg"), 5.0, 1e-9);
    assert!(list(&opened["guidance"]).is_empty());
}

#[test]
fn marked_casts_are_the_casts_in_the_colours_of_the_films() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let files = [folder.shell("upper.ply"), folder.shell("lower.obj")];
    let args = ["contacts", &path, "--to", "1", "--marked-upper", &files[0], "--marked-lower", &files[1]];
    assert_eq!(run(&args).status, 0);
    let (_, casts) = of_file(&path);
    for (file, arch) in files.iter().zip([Arch::Upper, Arch::Lower]) {
        let unit = Some(sim_core::cast::CastUnit::Millimetre);
        let read = files::cast::read(file.as_ref(), arch, unit).unwrap().surface;
        let own = casts.surface(arch);
        assert_eq!(read.triangles().len(), own.triangles().len());
        let colours = read.colours().unwrap();
        let stone = colours[0];
        let marked = colours.iter().filter(|colour| **colour != stone).count();
        assert!(marked > 10 && marked < colours.len() / 2, "{marked} of {}", colours.len());
    }
}

#[test]
fn the_table_tells_it_all_and_fits_its_columns() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    for columns in ["80", "100"] {
        let args = ["contacts", &path, "--to", "1.5", "--against", IN_THE_WAY[1]];
        let table = left(eminentia().args(args).env("COLUMNS", columns)).out;
        let widest = table.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= columns.parse().unwrap(), "{widest} in {columns}:\n{table}");
        assert!(table.lines().all(|line| line == line.trim_end()), "{table}");
        for words in ["centric", "8 µm", "200 µm", "What guides", "of the way", "Interferences if", "No mark"]
        {
            assert!(table.contains(words), "{words}:\n{table}");
        }
    }
}

#[test]
fn what_cannot_be_asked_is_refused() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let ask = |more: &[&str]| run(&[&["contacts", &path], more].concat());
    refused(&ask(&["--excursion", "sideways"]), &["sideways", "protrusive, right_lateral, left_lateral"]);
    refused(&ask(&["--excursion", "left_lateral"]), &["left_lateral", "--at"]);
    refused(&ask(&["--excursion", "protrusive", "--at", "-1"]), &["--at", "advance_mm is -1"]);
    refused(&ask(&["--excursion", "protrusive", "--at", "nan"]), &["--at"]);
    refused(&ask(&["--at", "1"]), &["--excursion"]);
    for film in ["0", "-8", "nan", "1e9"] {
        refused(&ask(&["--film", film]), &["--film"]);
    }
    for to in ["0", "-1", "nan", "100"] {
        refused(&ask(&["--to", to]), &["--to", "1 to 15 mm"]);
    }
    refused(&ask(&["--intended", "tripod"]), &["tripod", "canine-guided, group-function, balanced"]);
    refused(&ask(&["--against", "cusp=3"]), &["cusp"]);
    let [ply, stl] = [folder.shell("m.ply"), folder.shell("m.stl")];
    refused(&ask(&["--marked-upper", &stl]), &["--marked-upper", ".ply or .obj"]);
    refused(&ask(&["--marked-upper", &ply, "--marked-lower", &ply]), &["are the same file"]);
    refused(
        &ask(&["--marked-upper", &ply, "--out", &folder.shell("no/such")]),
        &["--out", "cannot be written"],
    );
    assert_eq!(folder.names(), ["scene.ron"]);
}

/// Every guidance of a report: what is said of it, and the teeth of its evidence.
fn said_and_touching(told: &Value) -> Vec<(String, Vec<u64>)> {
    let teeth = |contact: &Value| {
        ["upper_tooth", "lower_tooth"].into_iter().filter_map(|key| contact[key].as_u64()).collect::<Vec<_>>()
    };
    let of = |guidance: &Value| {
        let touching = list(&guidance["contacts"]).iter().flat_map(teeth).collect();
        (guidance["rule"].as_str().unwrap().to_owned(), touching)
    };
    list(&told["guidance"]).iter().map(of).collect()
}

#[test]
fn the_first_demo_never_says_no_back_tooth_over_a_back_tooth() {
    let told = json(&["contacts", &shipped("dentate_casts.ron"), "--format", "json", "--film", "40"]);
    for (rule, touching) in said_and_touching(&told) {
        let is_back = touching.iter().any(|tooth| tooth % 10 > 3);
        assert!(!(is_back && rule.contains("no back tooth")), "{rule}: {touching:?}");
    }
    assert_eq!(told["interferences"]["intended"], "canine-guided");
    assert!(told["missing"].is_null());
    // The same with a premolar on the canine: said, and said to be in the way.
    let less = ["--with", "invented_casts.overjet_mm=2.5", "--film", "40", "--format", "json"];
    let told = json(&[&["contacts", &shipped("dentate_casts.ron")], &less[..]].concat());
    let protrusive = &told["guidance"][0];
    let schemes: Vec<&str> =
        list(&protrusive["schemes"]).iter().map(|one| one["scheme"].as_str().unwrap()).collect();
    assert!(schemes.contains(&"protrusive interference"), "{schemes:?}");
    let found = list(&told["interferences"]["found"]);
    assert!(found.iter().any(|one| one["upper_tooth"] == 13 && one["lower_tooth"] == 44), "{found:?}");
}

#[test]
fn dentures_are_judged_by_balance_and_told_what_it_lacks() {
    let path = shipped("denture_casts.ron");
    // A lateral excursion whose orbiting side parts.
    let asked = ["contacts", &path, "--film", "40", "--excursion", "right_lateral", "--with"];
    let asked = [&asked[..], &["invented_casts.transverse_curve_radius_mm=0"]].concat();
    let told = json(&[&asked[..], &["--format", "json"]].concat());
    assert_eq!(told["interferences"]["intended"], "balanced");
    assert!(told["interferences"]["judged"].as_str().unwrap().contains("complete dentures"));
    assert!(list(&told["interferences"]["found"]).is_empty(), "nothing is to be ground off");
    let lacks = list(&told["missing"][0]["lacks"]);
    assert!(lacks.iter().any(|lack| lack["region"] == "orbiting"), "{lacks:?}");
    let missing = list(&told["missing"][0]["teeth"]);
    let orbiting: Vec<&Value> = missing.iter().filter(|one| one["contact"] == "orbiting").collect();
    assert!(!orbiting.is_empty() && orbiting.iter().all(|one| number(one, "apart_mm") > 0.04), "{missing:?}");
    let table = run(&asked).out;
    for words in ["Judged by balance", "that are missing", "No tooth of the orbiting side touches"] {
        assert!(table.contains(words), "{words}:\n{table}");
    }
    assert!(!table.contains("must come off"), "{table}");
    let rows = csv_rows(&run(&[&asked[..], &["--format", "csv"]].concat()).out);
    let of = |kind: &str| rows.iter().filter(|row| row[0] == kind).count();
    assert_eq!((of("lack"), of("missing")), (lacks.len(), missing.len()));
    // Told otherwise, the same teeth are judged otherwise.
    let canine = json(&[&asked[..], &["--intended", "canine-guided", "--format", "json"]].concat());
    assert_eq!(canine["interferences"]["intended"], "canine-guided");
    assert!(canine["missing"].is_null());
}

#[test]
fn what_must_come_off_says_for_which_scheme_and_that_it_cannot_be_undone() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let table = run(&[&["contacts", &path], &NEAR[..], &IN_THE_WAY[..]].concat()).out.replace('\n', " ");
    for words in ["least amounts for canine guidance", "cannot be put back", "mounted casts", "in the mouth"]
    {
        assert!(table.contains(words), "{words}:\n{table}");
    }
}
