//! `eminentia sheet`: one page with everything on it, and nothing that may not be.

use crate::helpers::{Folder, Parts, case_path, case_text, json, number, run};

const CAUTION: &str = "Settings are verified on the patient; local rules and licensed practice decide.";

/// The sheet of a case as a web page, with the exit status.
fn html(case: &str, more: &[&str]) -> (i32, String) {
    let folder = Folder::new();
    let out = folder.shell("sheet.html");
    let left = run(&[&["sheet", case, "--out", &out], more].concat());
    assert!(left.out.is_empty(), "{}", left.out);
    (left.status, std::fs::read_to_string(&out).unwrap_or_else(|_| panic!("{}", left.err)))
}

/// The words of a page: tags left out, pictures too, spaces made one.
fn words(page: &str) -> String {
    let mut text = String::new();
    let mut rest = page;
    while let Some((before, after)) = rest.split_once("<svg") {
        text += before;
        rest = after.split_once("</svg>").unwrap().1;
    }
    text += rest;
    let mut plain = String::new();
    for part in text.split('<') {
        plain += part.split_once('>').map_or(part, |(_, words)| words);
        plain.push(' ');
    }
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Every setting with the mark to set, the value and the ± of the case redrawn by all its errors.
#[test]
fn settings_with_their_errors_verdict_records_disclusion_caution_and_version_stand_on_it() {
    let case = case_path("dentate.ron");
    let (status, page) = html(&case, &[]);
    assert_eq!(status, 0);
    let text = words(&page);
    let done = json(&["program", &case, "--format", "json"]);
    let doubt = json(&["doubt", &case, "--draws", "500", "--seed", "1", "--format", "json"]);
    for (index, (side, setting)) in [
        ("right", "horizontal_inclination_deg"),
        ("right", "lateral_angle_deg"),
        ("left", "horizontal_inclination_deg"),
        ("left", "lateral_angle_deg"),
    ]
    .into_iter()
    .enumerate()
    {
        let angle = &done["settings"][side][setting];
        let (value, all) = (number(angle, "value"), &doubt["settings"][index]);
        assert_eq!((&all["side"], &all["name"]), (&side.into(), &setting.into()));
        let sd = number(all, "sd");
        assert!(sd > 2.0 * number(angle, "standard_error"), "more than the landmarks' noise");
        let told = format!("{:.0}° {value:.2}° ± {sd:.2}°", value.round());
        assert!(text.contains(&told), "{told}: {text}");
    }
    for told in [
        "Dentate case (invented)",
        " CONFIRMED ",
        "tolerance 0.10 mm",
        "mean of 2 protrusive records",
        "36 mesiobuccal",
        "right lateral",
        CAUTION,
        concat!("eminentia ", env!("CARGO_PKG_VERSION")),
        "case dentate.ron",
        "incisal table incisal guide inclination 35° 35.00° as the case gives it",
        "the axis and the anterior reference point of the face-bow: ___",
        "500 redrawings",
        "landmarks 0.03 mm",
        "axis points 2 mm, reference point 1 mm",
        "edentulous ridge",
        "Vertical dimension at the chair ___",
        "Checked by ___",
        "At try-in",
    ] {
        assert!(text.contains(told), "{told}: {text}");
    }
    assert_eq!(text.matches(CAUTION).count(), 1);
    assert_eq!(page.matches("<svg").count(), 1, "the plots");
}

#[test]
fn what_is_set_is_a_mark_of_the_scale() {
    let case = case_path("dentate.ron");
    let text = words(&html(&case, &["--graduation", "5"]).1);
    assert!(text.contains("35° 32.67° ±") && text.contains("graduated in 5°"), "{text}");
    let half = words(&html(&case, &["--graduation", "0.5"]).1);
    assert!(half.contains("32.5° 32.67° ±"), "{half}");
    for no in ["0", "-1", "20", "NaN"] {
        let left = run(&["sheet", &case, "--out", "x.html", "--graduation", no]);
        assert_eq!(left.status, 2, "{no}");
        assert!(left.err.contains("--graduation") && left.err.contains("0.1° to 10°"), "{}", left.err);
    }
}

#[test]
fn a_value_by_rule_has_no_error() {
    let folder = Folder::new();
    let text = case_text("dentate.ron");
    let start = text.find("        RightLateral(").unwrap();
    let end = start + text[start..].find("    ],\n    incisal_point_mm").unwrap();
    let case = folder.file("case.ron", text[..start].to_owned() + &text[end..]);
    let text = words(&html(&case, &[]).1);
    assert!(text.contains("lateral condylar (Bennett) angle L 16° 16.08° by rule H/8 + 12 rule"), "{text}");
    assert!(text.contains("By rule: what this patient has is not known."), "{text}");
    assert!(!text.contains("16.08° ±"), "{text}");
}

/// Overlap 3 by 3 mm is 45° to the occlusal plane; a canine up 1 over 2 mm is atan ½ = 26.57°, and the right one's
/// is the left wing.
#[test]
fn a_computed_anterior_guide_stands_on_the_sheet_and_in_what_program_says() {
    let folder = Folder::new();
    let text = case_text("dentate.ron");
    let start = text.find("    anterior_guide: Table(").unwrap();
    let end = start + text[start..].find('\n').unwrap();
    let guidance = "    incisal_guidance: (vertical_overlap_mm: 3.0, horizontal_overlap_mm: 3.0, \
                    right_canine: (rise_mm: 1.0, outward_mm: 2.0)),";
    let case = folder.file("case.ron", text[..start].to_owned() + guidance + &text[end..]);
    let done = json(&["program", &case, "--format", "json"]);
    let plate = 45.0 + number(&done["scene"], "occlusal_plane_inclination_deg");
    let guide = &done["anterior_guide"];
    assert_eq!(guide["guide"], "incisal table");
    assert!(
        (number(&guide["settings"]["sagittal_inclination_deg"], "value") - plate).abs() < 1e-9,
        "{guide}"
    );
    let wing = &guide["settings"]["left_wing_deg"];
    assert!((number(wing, "value") - 0.5_f64.atan().to_degrees()).abs() < 1e-9, "{guide}");
    assert_eq!(wing["from"], "right canine, 1.00 mm up over 2.00 mm outward");
    assert_eq!(number(&guide["settings"]["right_wing_deg"], "value"), 0.0);
    let plate =
        format!("incisal guide inclination {:.0}° {plate:.2}° overlap 3.00 mm vertical", plate.round());
    let sheet = words(&html(&case, &[]).1);
    for told in [plate.as_str(), "left wing 27° 26.57° right canine, 1.00 mm up over 2.00 mm outward"] {
        assert!(sheet.contains(told), "{told}: {sheet}");
    }
    let table = run(&["program", &case]).out;
    assert!(table.contains("26.57°  right canine, 1.00 mm up"), "{table}");
}

/// A level table stands in for a guide that nobody gave: no clearance is told from it.
#[test]
fn without_an_anterior_guide_no_disclusion_is_told_and_what_is_missing_is() {
    let case = case_path("edentulous.ron");
    let text = words(&html(&case, &[]).1);
    let missing = "Disclusion is not told, since nothing says what guides in front; give incisal_guidance";
    for told in
        ["Disclusion Disclusion is not told", missing, "Anterior guide: not given in the case; set to ___"]
    {
        assert!(text.contains(told), "{told}: {text}");
    }
    assert!(!text.contains("34 rim") && !text.contains("sep.:"), "{text}");
    let program = run(&["program", &case]).out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(program.contains(missing), "{program}");
    assert!(program.contains("the scene takes a level table for want of one"), "{program}");
    let doubt = run(&["doubt", &case, "--draws", "50"]).out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(doubt.contains(missing) && !doubt.contains("34 rim"), "{doubt}");
}

#[test]
fn a_mounting_by_averages_says_that_h_is_to_the_occlusal_plane() {
    let (page, program) = (
        words(&html(&case_path("edentulous.ron"), &[]).1),
        run(&["program", &case_path("edentulous.ron")]).out,
    );
    assert!(page.contains("H is to the occlusal plane"), "{page}");
    assert!(program.contains("H is to the occlusal plane"), "{program}");
}

#[test]
fn a_scene_has_a_sheet_of_its_own_settings_without_errors_and_records() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts {
        left_guide: "(horizontal_inclination_deg: 32.4, lateral_angle_deg: 15.0, immediate_translation_mm: 0.4)",
        ..Parts::default()
    });
    let (status, page) = html(&scene, &[]);
    assert_eq!(status, 0);
    let text = words(&page);
    for told in [
        "Written by a test",
        "32° 32.40° as the scene has it",
        "immediate lateral translation 0.40 mm",
        "incisal guide inclination 0° 0.00°",
        "36 mesiobuccal",
        "the occlusal plane is at 9° to it",
        "scene scene.ron",
        CAUTION,
    ] {
        assert!(text.contains(told), "{told}: {text}");
    }
    for hidden in [" ± ", "Centric record", "Records: condyles"] {
        assert!(!text.contains(hidden), "{hidden}: {text}");
    }
    // The numbers of its cusps are those of `excursion`.
    let done = json(&["excursion", &scene, "--format", "json"]);
    let cusp = &done["excursions"][0]["samples"].as_array().unwrap().last().unwrap()["cusps"][0];
    let (separation, clearance) = (number(cusp, "separation_from_start_mm"), number(cusp, "clearance_mm"));
    let told = format!("36 mesiobuccal {separation:.2} {clearance:.2}").replace('-', "−");
    assert!(text.contains(&told), "{told}: {text}");
    assert_eq!(run(&["sheet", &scene, "--out", &folder.shell("s.pdf"), "--paper", "letter"]).status, 0);
    let left = run(&["sheet", &scene, "--out", &scene]);
    assert_eq!(left.status, 2);
}

#[test]
fn what_is_neither_case_nor_scene_is_refused_as_what_it_nearly_is() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts { samples: "many", ..Parts::default() });
    let case = folder.file("case.ron", case_text("dentate.ron").replacen("Protrusive(", "Protusive(", 1));
    for (file, words) in [(&scene, "scene.ron:14:"), (&case, "Protusive")] {
        let left = run(&["sheet", file, "--out", &folder.shell("x.html")]);
        assert_eq!(left.status, 2);
        assert!(left.err.contains(words), "{words}: {}", left.err);
    }
}

#[test]
fn it_is_one_file_that_fetches_nothing_and_runs_nothing() {
    for case in ["dentate.ron", "edentulous.ron"] {
        let tracing = case_path("edentulous_tracing.csv");
        let (_, page) = html(&case_path(case), &["--tracing", &tracing, "--paper", "letter"]);
        let page = page.replace("http://www.w3.org/2000/svg", "");
        for outside in ["http", "src=", "href", "@import", "<script", "<link", " onload", "javascript:"] {
            assert!(!page.contains(outside), "{outside}");
        }
        let url = page.match_indices("url(").all(|(at, _)| page[at..].starts_with("url(#"));
        assert!(url, "only places in the page itself");
        assert!(page.contains("size: letter"));
    }
}

#[cfg(unix)]
#[test]
fn the_hash_is_the_one_that_another_program_finds_for_the_file() {
    let folder = Folder::new();
    // A mark at the start of a file is part of it.
    for text in [case_text("dentate.ron"), format!("\u{feff}{}", case_text("edentulous.ron"))] {
        let case = folder.file("case.ron", text);
        let found = assert_cmd::Command::new("sha256sum").arg(&case).output().unwrap();
        let hash = String::from_utf8(found.stdout).unwrap().split(' ').next().unwrap().to_owned();
        assert_eq!(hash.len(), 64);
        let (status, page) = html(&case, &[]);
        assert_eq!(status, 0);
        assert!(words(&page).contains(&format!("SHA-256 of the case: {hash}")), "{hash}");
    }
}

#[test]
fn an_unconfirmed_case_says_so_and_shows_no_settings() {
    let (status, page) = html(&case_path("faulty_centric.ron"), &[]);
    assert_eq!(status, 1);
    let text = words(&page);
    for told in ["NOT CONFIRMED", "too far forward", "taken again", "Withheld", CAUTION] {
        assert!(text.contains(told), "{told}: {text}");
    }
    for hidden in ["right guide", "inclination H", "lateral condylar angle", "±", "Disclusion"] {
        assert!(!text.contains(hidden), "{hidden}: {text}");
    }
    assert!(!page.contains("<svg"));
}

#[test]
fn the_tracing_stands_on_it_when_it_is_given() {
    let case = case_path("edentulous.ron");
    let (status, page) = html(&case, &["--tracing", &case_path("edentulous_tracing.csv")]);
    assert_eq!(status, 0);
    let text = words(&page);
    for told in ["Tracing", "edentulous_tracing.csv", "One sharp apex", "right lateral leg"] {
        assert!(text.contains(told), "{told}: {text}");
    }
    // The plate alone: no disclusion is told of a case without an anterior guide.
    assert_eq!(page.matches("<svg").count(), 1);
    assert!(!words(&html(&case, &[]).1).contains("Tracing"));
    let left = run(&["sheet", &case, "--out", "x.html", "--tracing", "no/such.csv"]);
    assert_eq!(left.status, 2);
    assert!(left.err.contains("no/such.csv"), "{}", left.err);
}

#[test]
fn a_pdf_is_made_for_either_paper() {
    let folder = Folder::new();
    for (paper, size) in [("a4", "595.28 841.89"), ("letter", "612 792")] {
        for (case, status) in [("dentate.ron", 0), ("edentulous.ron", 0), ("faulty_centric.ron", 1)] {
            let out = folder.shell("sheet.pdf");
            let left = run(&["sheet", &case_path(case), "--out", &out, "--paper", paper]);
            assert_eq!(left.status, status, "{}", left.err);
            let bytes = std::fs::read(&out).unwrap();
            assert!(bytes.starts_with(b"%PDF-") && bytes.trim_ascii_end().ends_with(b"%%EOF"));
            let text = String::from_utf8_lossy(&bytes);
            assert_eq!(text.matches("/Count 1").count(), 1, "one page");
            assert!(text.contains(&format!("/MediaBox[0 0 {size}]")), "{size}");
            // The typeface goes with it.
            assert!(text.contains("DejaVuSansCondensed") && text.contains("/FontFile2"));
        }
    }
}

#[test]
fn markup_in_a_case_stays_words() {
    let folder = Folder::new();
    let text = case_text("dentate.ron").replace("Dentate case", "<script>alert(1)</script>&").replacen(
        "mesiobuccal",
        "<b>cusp",
        1,
    );
    let case = folder.file("case.ron", text);
    let page = html(&case, &[]).1;
    assert!(page.contains("&lt;script&gt;") && !page.contains("<script") && !page.contains("<b>cusp"));
    let out = folder.shell("sheet.pdf");
    assert_eq!(run(&["sheet", &case, "--out", &out]).status, 0);
}

#[test]
fn very_much_of_everything_still_makes_a_sheet_and_says_what_is_left_out() {
    let folder = Folder::new();
    let text = case_text("dentate.ron");
    let start = text.find("        (tooth: 36").unwrap();
    let end = start + text[start..].find(")),\n").unwrap() + 4;
    let many: String =
        (0..30).map(|n| text[start..end].replace("mesiobuccal", &format!("a very long name, {n}"))).collect();
    let text = text[..start].to_owned() + &many + &text[end..];
    let start = text.find("        Protrusive(").unwrap();
    let end = start + text[start..].find("]),\n").unwrap() + 4;
    let text = text[..start].to_owned() + &text[start..end].repeat(20) + &text[end..];
    let case = folder.file("case.ron", text);
    let page = words(&html(&case, &[]).1);
    assert!(page.contains("and 16 more") && page.contains("Of 33 cusps, the 8 of least clearance"), "{page}");
    assert_eq!(run(&["sheet", &case, "--out", &folder.shell("sheet.pdf")]).status, 0);
}

#[test]
fn a_file_of_unknown_kind_or_the_case_itself_is_not_written() {
    let folder = Folder::new();
    let case = folder.file("case.ron", case_text("dentate.ron"));
    for out in ["sheet.txt", "sheet", "-"] {
        let left = run(&["sheet", &case, "--out", out]);
        assert_eq!(left.status, 2);
        assert!(left.err.contains(".html or .pdf"), "{}", left.err);
    }
    let html = folder.file("case.html", case_text("dentate.ron"));
    let left = run(&["sheet", &html, "--out", &html]);
    assert_eq!(left.status, 2);
    assert!(left.err.contains("is the case that is read"), "{}", left.err);
    assert_eq!(run(&["sheet", &case]).status, 2);
    assert_eq!(run(&["sheet", &case, "--out", &folder.shell("s.pdf"), "--paper", "a5"]).status, 2);
    assert_eq!(folder.names(), ["case.html", "case.ron"]);
}
