//! A list of mistakes, each with what its message must say: where it is (the file and the line or field, or the option),
//! and what would be accepted.

use crate::helpers::{COARSE_CASTS, Folder, Parts, case_text, eminentia, left};

/// A command, as words without blanks, and what must be told.
type Mistake = (&'static str, &'static [&'static str]);

/// Names of files in it are those of [`desk`].
const MISTAKES: &[Mistake] = &[
    // Files that are not there, are something else, or cannot be written.
    ("excursion none.ron", &["none.ron: no such file", "`eminentia scene`"]),
    ("excursion folder", &["folder: is a folder", "a scene is a file"]),
    ("excursion junk.bin", &["junk.bin: is not UTF-8", "line 1"]),
    ("excursion empty", &["empty:1:1: ", "Scene"]),
    ("excursion case.ron", &["case.ron:", "expected one of"]),
    ("compare scene.ron none.ron", &["none.ron: no such file"]),
    ("program scene.ron", &["scene.ron:", "expected one of"]),
    ("bench none.ron", &["none.ron: no such file", "scenes/cases"]),
    ("lesson check none.ron scene.ron", &["none.ron, scene.ron: 2 of 2 lessons"]),
    ("practice mark none.ron --key key.ron", &["none.ron: no such file"]),
    ("link scene.ron --beside none.ron", &["none.ron: no such file"]),
    ("remount remount.ron", &["nowhere.ron: no such file", "(the scene of ", "remount.ron)"]),
    (
        "study run without_scene.ron",
        &["nowhere.ron: no such file", "(the base scene of ", "without_scene.ron)"],
    ),
    ("study summary none.csv", &["none.csv: no such file", "eminentia study run"]),
    ("study summary scene.ron", &["scene.ron: says nothing of its study", "--study"]),
    ("study summary junk.parquet", &["junk.parquet: is a Parquet file that is cut short"]),
    ("study package none.csv --out package", &["none.csv: no such file"]),
    ("tracing none.csv", &["none.csv: no such file", "a CSV file of points, or a photo"]),
    ("tracing scene.ron", &["scene.ron:1: the first row is", "leg,forward_mm,left_mm"]),
    ("tracing junk.png", &["junk.png: is a photo", "--marks"]),
    (
        "tracing junk.png --marks 1,2,3,4 --apart 30",
        &["junk.png: cannot be read as a picture", "a PNG or JPEG"],
    ),
    ("tracing picture.gif", &["picture.gif: is a GIF picture", "PNG or JPEG"]),
    ("contacts without_scans.ron", &["without_scans.ron: ", "nowhere.stl: cannot be read: no such file"]),
    (
        "excursion scene.ron --out no/such/x.csv",
        &["--out no/such/x.csv: ", "there is no folder no/such; make it"],
    ),
    ("excursion scene.ron --plot no/such/x.svg", &["--plot no/such/x.svg: ", "there is no folder no/such"]),
    (
        "custom-table casts.ron --print no/such/x.stl",
        &["--print no/such/x.stl: ", "there is no folder no/such"],
    ),
    (
        "custom-table casts.ron --scene-out no/such/s.ron",
        &["--scene-out no/such/s.ron: ", "no folder no/such"],
    ),
    (
        "contacts casts.ron --marked-upper no/such/x.ply",
        &["--marked-upper no/such/x.ply: ", "no folder no/such"],
    ),
    ("casts --upper no/such/x.stl --lower y.stl", &["--upper no/such/x.stl: ", "no folder no/such"]),
    ("program case.ron --scene-out no/such/s.ron", &["--scene-out no/such/s.ron: ", "no folder no/such"]),
    ("sheet case.ron --out no/such/o.pdf", &["--out no/such/o.pdf: ", "there is no folder no/such"]),
    (
        "study run study.ron --out no/such/t.csv",
        &["no/such/t.csv: ", "there is no folder", "no/such; make it"],
    ),
    ("study from case.ron --out no/such/s.ron", &["--out no/such/s.ron: ", "there is no folder no/such"]),
    ("tracing template tracing.csv --out no/such/x.pdf", &["--out no/such/x.pdf: ", "no folder no/such"]),
    ("practice deal scene.ron --key key.ron", &["scene.ron/patient.ron: cannot be written"]),
    ("excursion scene.ron --out folder", &["--out folder: is a folder; a file is needed"]),
    ("excursion scene.ron --out scene.ron", &["--out scene.ron: is the scene that is read; choose another"]),
    ("excursion scene.ron --out x.svg --plot x.svg", &["--out and --plot are the same file"]),
    ("study summary table.csv --plots scene.ron", &["--plots scene.ron: is a file; a folder is needed"]),
    ("study package table.csv --out folder", &["--out folder: is there already"]),
    // Endings.
    ("excursion scene.ron --plot x.gif", &["--plot x.gif: ", "use .svg, .png or .pdf"]),
    ("sheet case.ron --out o.xyz", &["--out o.xyz: ", "use .html or .pdf"]),
    ("custom-table casts.ron --print x.gif", &["--print x.gif: ", "use .stl, .ply or .obj"]),
    ("contacts casts.ron --marked-upper x.stl", &["--marked-upper x.stl: ", "use .ply or .obj"]),
    ("tracing template tracing.csv --out x.gif", &["--out x.gif: ", "use .pdf or .svg"]),
    ("study run study.ron --out t.xyz", &["t.xyz: ", "use .parquet or .csv"]),
    ("study summary table.csv --report x.pdf", &["--report x.pdf: ", "use .html"]),
    // Changes of settings.
    ("excursion scene.ron --with x=1", &["--with", "no setting is called `x`", "horizontal_inclination_deg"]),
    ("excursion scene.ron --with x", &["--with", "write NAME=VALUE"]),
    ("excursion scene.ron --with pin_extension_mm=999", &["--with", "999", "-30 to 30 mm"]),
    ("excursion scene.ron --with anterior_guide=casts", &["--with", "`casts`", "Table, Incisors, Casts"]),
    ("compare scene.ron --with anterior_guide=Casts", &["--with: with the changes made", "no casts"]),
    ("compare scene.ron casts.ron --with pin_extension_mm=1", &["--with", "one scene and its changes"]),
    ("compare scene.ron", &["nothing to compare", "--with"]),
    ("contacts casts.ron --against x=1", &["--against", "no setting is called `x`"]),
    ("link scene.ron --with x=1", &["--with", "no setting is called `x`"]),
    // Numbers.
    ("excursion scene.ron --samples 1", &["--samples", "allowed are 2 to"]),
    ("excursion scene.ron --plot x.png --plot-dpi 0", &["--plot-dpi", "allowed are 72 to 1200"]),
    ("why scene.ron --at x", &["--at", "'x'", "a number is needed, for example 2.5"]),
    ("why scene.ron --at 99", &["--at: advance_mm is 99", "0.001 to 30 mm"]),
    ("why scene.ron --excursion x", &["--excursion x: ", "protrusive"]),
    ("why scene.ron --cusp 99:x", &["--cusp 99:x: ", "its cusps are"]),
    (
        "why without_cusps.ron",
        &["--number: ", "without_cusps.ron: the scene lists no cusps", "another number"],
    ),
    ("contacts casts.ron --film 0", &["--film: 0 ", "1 to 1000 micrometres"]),
    ("contacts casts.ron --film x", &["--film", "a number is needed"]),
    ("contacts casts.ron --to 99", &["--to", "1 to 15 mm"]),
    ("contacts casts.ron --excursion protrusive --at nan", &["--at: ", "0.001 to 30 mm"]),
    ("contacts scene.ron", &["scene.ron: has no casts", "invented_casts"]),
    ("custom-table casts.ron --to 99", &["--to: the advance is 99; allowed are 0.5 to 15 mm"]),
    ("custom-table casts.ron --step nan", &["--step: the step is NaN; allowed are 0.05 to 5 mm"]),
    ("custom-table casts.ron --margin -1", &["--margin: the margin is -1; allowed are 0 to 20 mm"]),
    ("custom-table casts.ron --tip-radius 99", &["--tip-radius", "0 to 5 mm"]),
    ("doubt case.ron --draws 0", &["--draws", "allowed are 2 to 100000"]),
    ("doubt case.ron --seed -1", &["--seed", "'-1'", "a whole number of 0 or more"]),
    ("doubt case.ron --seed 99999999999999999999", &["--seed", "too large"]),
    ("doubt case.ron --record-sd-mm inf", &["--record-sd-mm: ", "0 to 5 mm"]),
    ("study from case.ron --draws 0", &["--draws: draws is 0; allowed are 2 to 100000"]),
    ("bench case.ron --set right=999", &["--set", "-30 to 85 degrees"]),
    ("bench case.ron --set x=1", &["--set", "right, left, right-lateral, left-lateral"]),
    ("sheet case.ron --out o.pdf --graduation 0", &["--graduation: ", "0.1° to 10°"]),
    ("tracing tracing.csv --radius 0", &["--radius: the radius is 0 mm; allowed are 1 to 20 mm"]),
    ("tracing template tracing.csv --out x.pdf --distance 0", &["--distance", "0"]),
    ("tracing tracing.csv --over scene.ron --stylus 999,0,0", &["--stylus", "−300 to 300 mm"]),
    ("tracing junk.png --marks 1 --apart 3", &["--marks", "4 numbers are needed"]),
    ("tracing tracing.csv --marks 1,2,3,4 --apart 3", &["tracing.csv: is a file of points", "--marks"]),
    ("plan scene.ron --clear x", &["--clear", "36,protrusive,3,1.1"]),
    ("plan scene.ron --free x", &["--free", "incisal-guidance=0..40"]),
    ("viva --seed 1 --count 0", &["--count", "allowed are 1 to 500"]),
    ("study plan study.ron --threads 0", &["--threads", "allowed are 1 to 1024"]),
    ("study run study.ron --part 3/2", &["--part", "3/8, the third of eight"]),
    ("study summary table.csv --resamples 0", &["--resamples", "allowed are 20 to 100000"]),
    // Words.
    ("excursion scene.ron --format xml", &["--format", "table, csv, json"]),
    ("practice deal p --key k --fault resilient-tissue", &["--fault: ", "--form bench"]),
    ("practice deal p --key k --level x", &["--level", "first, second, third"]),
    ("link --read x", &["--read: ", "#set-up="]),
    ("link scene.ron --page ftp://x", &["--page", "https:// or http://"]),
    ("manual x", &["`x`", "the commands are excursion"]),
    ("study example x", &["`x`", "there are inclination"]),
    ("completion x", &["'x'", "bash"]),
    ("x", &["'x'"]),
];

/// A folder with what the list names.
fn desk() -> Folder {
    let folder = Folder::new();
    let of =
        |name: &str| std::fs::read_to_string(format!("{}/../{name}", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let scene = of("scenes/thirty_degree.ron");
    let study = of("scenes/studies/inclination.ron").replace("../thirty_degree.ron", "scene.ron");
    folder.file("scene.ron", &scene);
    folder.file("casts.ron", Parts { casts: COARSE_CASTS, ..Parts::default() }.text());
    folder.file("without_cusps.ron", Parts { cusps: "", ..Parts::default() }.text());
    let scans = "casts: (upper: \"nowhere.stl\", lower: \"l.stl\"),";
    folder.file("without_scans.ron", Parts { casts: scans, ..Parts::default() }.text());
    folder.file("case.ron", case_text("dentate.ron"));
    folder.file("study.ron", &study);
    folder.file("without_scene.ron", study.replace("scene.ron", "nowhere.ron"));
    let remount = of("scenes/remounts/processed_denture.ron");
    folder.file("remount.ron", remount.replace("../denture_casts.ron", "nowhere.ron"));
    folder.file("tracing.csv", of("scenes/tracings/sharp.csv"));
    folder.file("table.csv", "row,a\n0,1\n");
    folder.file("junk.bin", b"\xff\xfe\0\0");
    folder.file("junk.png", b"\x89PNG\r\n\x1a\njunk");
    folder.file("picture.gif", [b"GIF89a".as_slice(), &[0; 40]].concat());
    folder.file("junk.parquet", b"PAR1xxxxPAR1");
    folder.file("empty", "");
    std::fs::create_dir(folder.path("folder")).unwrap();
    folder
}

#[test]
fn every_mistake_is_told_with_its_place_and_with_what_would_be_accepted() {
    let folder = desk();
    let before = folder.names();
    let mut wrong = Vec::new();
    for (command, told) in MISTAKES {
        let left = left(eminentia().current_dir(folder.path("")).args(command.split(' ')));
        // A lesson's faults are the report itself.
        let is_silent = left.out.is_empty() || command.starts_with("lesson check");
        let says = |words: &&&str| left.err.contains(**words);
        let missing: Vec<_> = told.iter().filter(|words| !says(words)).collect();
        let inner = ["panicked", ".eminentia-", "unfinished", "journal", "os error"];
        let odd: Vec<_> = inner.iter().filter(|words| left.err.contains(**words)).collect();
        if left.status != 2 || !is_silent || !missing.is_empty() || !odd.is_empty() {
            wrong.push(format!(
                "{command}: status {}, lacks {missing:?}, has {odd:?}: {}",
                left.status, left.err
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!(folder.names(), before, "nothing is written");
}
