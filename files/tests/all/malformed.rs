//! What is no cast is refused, with the place and what would be accepted.

use files::cast::{Fault, Location, MOST_CORNERS};
use proptest::prelude::*;

use super::shapes::{ascii_ply, ascii_stl, ball, binary_ply, binary_stl, block, obj, read};

/// The message for bytes that must be refused.
fn refused(name: &str, bytes: impl AsRef<[u8]>) -> String {
    read(name, bytes).expect_err("refused").to_string()
}

#[test]
fn what_is_no_mesh_is_refused_by_what_it_begins_with() {
    assert_eq!(refused("a.stl", b""), "a.stl: is empty; a cast is read from an STL, PLY or OBJ file");
    for (name, bytes) in [
        ("photo.jpg", b"\xff\xd8\xff\xe0\0\x10JFIF\0\x01".as_slice()),
        ("cast.zip", b"PK\x03\x04\x14\0\0\0\x08\0"),
        ("page", b"<!DOCTYPE html><html></html>"),
        ("notes.txt", b"Upper cast of 3 March, stone type 4."),
        ("scene.ron", b"(title: \"a scene\")"),
        ("utf16.obj", b"\xff\xfev\0 \x001\0"),
        ("blank.obj.txt", b"   \n\n"),
    ] {
        let message = refused(name, bytes);
        assert!(message.contains("neither STL nor PLY nor OBJ; these three are read"), "{message}");
    }
    assert_eq!(
        refused("cast", b"\x00\x01PK"),
        "cast: begins with “\\x00\\x01PK”, which is neither STL nor PLY nor OBJ; these three are read"
    );
}

#[test]
fn a_header_that_promises_more_than_there_is_is_refused_before_memory_is_taken() {
    let many = "4294967295";
    let mut stl = binary_stl(&block(60.0, 50.0, 20.0), "");
    stl[80..84].copy_from_slice(&[0xff; 4]);
    assert_eq!(
        refused("a.stl", &stl),
        "a.stl (binary STL): the header promises 4294967295 triangles, at least 214748364750 bytes; there are \
         600 bytes"
    );
    for form in ["ascii", "binary_little_endian", "binary_big_endian"] {
        for (vertices, faces, others) in
            [(many, "1", "0"), ("3", many, "0"), ("3", "1", many), ("18446744073709551615", "1", "1")]
        {
            let ply = format!(
                "ply\nformat {form} 1.0\nelement other {others}\nproperty char c\nelement vertex {vertices}\n\
                 property float x\nproperty float y\nproperty float z\nelement face {faces}\n\
                 property list uint int vertex_indices\nend_header\n"
            ) + &"0 0 0\n".repeat(100);
            let mut error = None;
            let taken = allocation_counter::measure(|| error = read("a.ply", &ply).err()).bytes_max;
            let error = error.expect("refused");
            assert!(taken < 100_000, "{taken} bytes were taken before “{error}”");
            assert!(matches!(error.fault, Fault::Promised { there: 600, .. }), "{error}");
        }
        // An element without properties would take no bytes at all.
        let ply = format!("ply\nformat {form} 1.0\nelement nothing {many}\nend_header\n");
        assert!(refused("a.ply", &ply).contains("accepted is an element with at least one property"));
    }
    // A list that promises four billion corners.
    let header = "ply\nformat binary_little_endian 1.0\nelement vertex 1\nproperty float x\nproperty float y\n\
        property float z\nelement face 1\nproperty list uint uchar vertex_indices\nend_header\n";
    let bytes = [header.as_bytes(), &[0; 12], &[0xff; 4], &[0; 100]].concat();
    assert_eq!(
        refused("a.ply", bytes),
        "a.ply (binary little-endian PLY), face 1: the file ends here; accepted is a face as the header has it: \
         vertex_indices (a count and as many numbers)"
    );
}

#[test]
fn more_triangles_than_a_cast_may_have_are_refused() {
    // Nine million empty faces, a byte each.
    let header = "ply\nformat binary_little_endian 1.0\nelement vertex 1\nproperty float x\nproperty float y\n\
        property float z\nelement face 9000000\nproperty list uchar uchar vertex_indices\nend_header\n";
    let bytes = [header.as_bytes(), &vec![0; 9_000_012]].concat();
    assert!(refused("a.ply", bytes).ends_with("there are 9000000 triangles; a cast may have up to 8000000"));
}

#[test]
fn cut_short_anywhere_every_format_is_refused_or_says_what_it_left_out() {
    let body = block(60.0, 50.0, 20.0);
    for bytes in [
        binary_stl(&body, "invented"),
        ascii_stl(&body, "invented").into_bytes(),
        ascii_ply(&body).trim_end().as_bytes().to_vec(),
        binary_ply(&body, true),
        binary_ply(&body, false),
    ] {
        for length in 0..bytes.len() {
            let cut = &bytes[..length];
            // The name of the last solid is no part of it.
            if cut.ends_with(b"endsolid")
                || cut[..length.saturating_sub(1)].windows(8).any(|word| word == b"endsolid")
            {
                continue;
            }
            // The last number of a text may lose digits unnoticed.
            if length + 1 == bytes.len() && bytes[length].is_ascii_digit() && cut.ends_with(b"1") {
                continue;
            }
            assert!(read("a.stl", cut).is_err(), "{length} of {} bytes were taken for a cast", bytes.len());
        }
    }
}

#[test]
fn numbers_that_are_none_are_refused_with_their_place() {
    let body = block(60.0, 50.0, 20.0);
    for number in [f32::NAN, f32::INFINITY, f32::NEG_INFINITY] {
        let mut stl = binary_stl(&body, "");
        stl[84 + 50 + 12..84 + 50 + 16].copy_from_slice(&number.to_le_bytes());
        let error = read("a.stl", &stl).expect_err("refused");
        assert_eq!(error.location, Some(Location::Triangle(2)), "{error}");
        assert!(matches!(error.fault, Fault::NotFinite { .. }), "{error}");
        let mut ply = binary_ply(&body, false);
        let first = ply.windows(10).position(|word| word == b"end_header").expect("a header") + 11;
        ply[first + 12 + 8..first + 24].copy_from_slice(&number.to_le_bytes());
        let message = refused("a.ply", &ply);
        assert!(message.starts_with("a.ply (binary little-endian PLY), vertex 2: there is "), "{message}");
    }
    for word in ["nan", "inf", "-inf", "1e999"] {
        let message = refused("a.obj", format!("v 0 0 0\nv 60 {word} 0\nv 0 60 0\nf 1 2 3\n"));
        assert!(message.starts_with("a.obj (OBJ), line 2: there is "), "{message}");
        assert!(message.ends_with("every coordinate and colour must be a finite number"), "{message}");
        let stl = ascii_stl(&body, "").replacen("vertex 0e0", &format!("vertex {word}"), 1);
        assert!(refused("a.stl", stl).starts_with("a.stl (ASCII STL), line 4: there is "));
        let message = refused("a.ply", ascii_ply(&body).replacen("\n0 0 0\n", &format!("\n0 0 {word}\n"), 1));
        assert!(message.starts_with("a.ply (ASCII PLY), line 11: there is "), "{message}");
    }
    assert_eq!(
        refused("a.obj", "v 0 0 0\nv 1,5 2 3\n"),
        "a.obj (OBJ), line 2: there is “1,5”; accepted is a number such as -12.5 or 3e-2"
    );
}

#[test]
fn corners_of_vertices_that_are_not_there_are_refused_with_their_place() {
    let square = "v 0 0 0\nv 60 0 0\nv 60 60 0\nv 0 60 0\n";
    for (face, index) in [("1 2 5", 5_i64), ("0 1 2", 0), ("1 2 -5", -5), ("1 2 4294967297", 4_294_967_297)] {
        assert_eq!(
            refused("a.obj", format!("{square}f {face}\n")),
            format!(
                "a.obj (OBJ), line 5: a corner is vertex {index}; there are 4 vertices so far, counted from 1"
            )
        );
    }
    assert!(
        refused("a.obj", format!("{square}f 1 2 99999999999999999999\n"))
            .contains("accepted is a corner such as")
    );
    let body = block(60.0, 50.0, 20.0);
    let message = refused("a.ply", ascii_ply(&body).replacen("3 0 2 3\n", "3 0 2 8\n", 1));
    assert_eq!(
        message,
        "a.ply (ASCII PLY), line 19: a corner is vertex 8; there are 8 vertices, counted from 0".to_owned()
    );
    let mut bytes = binary_ply(&body, true);
    let last = bytes.len() - 4;
    bytes[last..].copy_from_slice(&[0xff; 4]);
    assert_eq!(
        refused("a.ply", bytes),
        "a.ply (binary big-endian PLY), face 12: a corner is vertex -1; there are 8 vertices, counted from 0"
    );
}

#[test]
fn faces_of_too_few_or_too_many_corners_are_refused() {
    for (face, corners) in [("", 0), ("1", 1), ("1 2", 2)] {
        let message = refused("a.obj", format!("v 0 0 0\nv 60 0 0\nf {face}\n"));
        assert_eq!(
            message,
            format!("a.obj (OBJ), line 3: a face has {corners} corners; accepted are 3 to {MOST_CORNERS}")
        );
    }
    let ply = ascii_ply(&block(60.0, 50.0, 20.0)).replacen("\n3 0 2 3\n", "\n2 0 2\n", 1);
    assert!(refused("a.ply", ply).contains("line 19: a face has 2 corners"));
    let round = format!("v 0 0 0\nv 60 0 0\nv 0 60 0\nf {}\n", "1 2 3 ".repeat(2000));
    assert!(refused("a.obj", round).contains("a face has 6000 corners"));
}

#[test]
fn points_without_faces_are_refused() {
    let points = "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nproperty float z\nend_header\n0 0 0\n";
    for (name, file) in [
        ("a.ply", points.to_owned()),
        ("a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\n".to_owned()),
        ("a.obj", "# nothing\n".to_owned()),
        ("a.stl", "solid a\nendsolid a\n".to_owned()),
    ] {
        let message = refused(name, file);
        assert!(
            message.ends_with(
                "there are no faces in it; a cast is a surface of triangles or polygons, not only points"
            ),
            "{message}"
        );
    }
    let message = refused(
        "a.stl",
        "solid a\n".to_owned() + &ascii_stl(&(block(1.0, 1.0, 1.0).0, vec![[0, 0, 1]]), "")[7..],
    );
    assert!(
        message.ends_with("none of the 1 triangles has an area; a cast is a surface of triangles"),
        "{message}"
    );
}

#[test]
fn odd_statements_and_headers_are_refused_with_what_is_accepted() {
    let ply = |header: &str| refused("a.ply", format!("ply\n{header}end_header\n0 0 0\n0 0 0\n"));
    let xyz = "property float x\nproperty float y\nproperty float z\n";
    for (header, wanted) in [
        ("", "a header of comment"),
        (
            "format ascii 1.0\nelement vertex -1\n",
            "line 3: there is “element vertex -1”; accepted is a header of comment",
        ),
        ("format ascii 1.0\nelement vertex 1\nproperty quad x\n", "line 4: there is “property quad x”"),
        ("format ascii 1.0\nproperty float x\n", "line 3: "),
        (
            "format ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\n",
            "the properties x, y and z",
        ),
        ("format ascii 1.0\nelement vertex 1\nproperty float x\nproperty float x\n", "have different names"),
        (
            &format!("format ascii 1.0\nelement vertex 1\n{xyz}element vertex 1\n{xyz}"),
            "have different names",
        ),
        (
            &format!(
                "format ascii 1.0\nelement face 1\nproperty list uchar int vertex_index\nelement vertex 1\n{xyz}"
            ),
            "after the element vertex",
        ),
        (
            &format!(
                "format ascii 1.0\nelement vertex 1\n{xyz}element face 1\nproperty list uchar float vertex_index\n"
            ),
            "a list of whole numbers",
        ),
        (
            &format!("format ascii 1.0\nelement vertex 1\n{xyz}element face 1\nproperty int vertex_index\n"),
            "a list of whole numbers",
        ),
    ] {
        let message = ply(header);
        assert!(message.contains(wanted), "{message}");
    }
    assert!(
        refused("a.ply", format!("ply\n{}", "comment long\n".repeat(10_000)))
            .contains("of up to 65536 bytes")
    );
    assert!(
        refused("a.obj", "v 0 0 0\nvertex 1 2 3\n")
            .contains("line 2: there is “vertex”; accepted is a statement of an OBJ file")
    );
    assert!(refused("a.obj", "v 0 0\n").contains("line 1: there is “v with 2 numbers”"));
    assert!(refused("a.obj", "v 0 0 0 1 1\n").contains("“v with 5 numbers”"));
    assert!(refused("a.obj", "v 0 0 0 1 1 1 1 1\n").contains("up to seven numbers"));
    assert!(
        refused("a.stl", "solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nendloop")
            .contains("line 5: there is “endloop”; accepted is “vertex”")
    );
    assert!(
        refused("a.stl", "solid a\nendsolid a\nfacet")
            .contains("line 3: there is “facet”; accepted is “solid” or the end")
    );
}

#[test]
fn a_message_shows_no_more_of_a_file_than_helps() {
    let message = refused("a.obj", "v 0 0 0\n\x1b[31m".to_owned() + &"x".repeat(100_000));
    assert!(message.len() < 300 && !message.contains('\x1b'), "{message}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn junk_in_the_middle_of_text_is_found_where_it_is(place in 0.0..1.0_f64) {
        let body = ball(30.0, 1);
        for (name, text) in [("a.stl", ascii_stl(&body, "a")), ("a.obj", obj(&body)), ("a.ply", ascii_ply(&body))] {
            let first = if name == "a.ply" { 10 } else { 1 };
            let mut lines: Vec<&str> = text.lines().collect();
            let at = first + (place * (lines.len() - first - 1) as f64) as usize;
            lines[at] = "\u{1}\u{fffd} junk";
            let error = read(name, lines.join("\n")).expect_err("refused");
            prop_assert_eq!(error.location, Some(Location::Line(at + 1)));
        }
    }
}
