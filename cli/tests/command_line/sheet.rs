//! `eminentia sheet`: one page with everything on it, and nothing that may not be.

use crate::helpers::{Folder, case_path, case_text, json, number, run};

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

#[test]
fn settings_with_their_errors_verdict_records_disclusion_caution_and_version_stand_on_it() {
    let case = case_path("dentate.ron");
    let (status, page) = html(&case, &[]);
    assert_eq!(status, 0);
    let text = words(&page);
    let done = json(&["program", &case, "--format", "json"]);
    for side in ["right", "left"] {
        for setting in ["horizontal_inclination_deg", "lateral_angle_deg"] {
            let angle = &done["settings"][side][setting];
            let told = format!("{:.2}° ± {:.2}°", number(angle, "value"), number(angle, "standard_error"));
            assert!(text.contains(&told), "{told}: {text}");
        }
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
    ] {
        assert!(text.contains(told), "{told}: {text}");
    }
    assert_eq!(text.matches(CAUTION).count(), 1);
    assert_eq!(page.matches("<svg").count(), 1, "the plots");
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
    for hidden in ["right guide", "inclination", "lateral angle", "±", "Disclusion"] {
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
    assert_eq!(page.matches("<svg").count(), 2);
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
