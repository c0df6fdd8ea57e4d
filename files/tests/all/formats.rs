//! Every format is read, whatever its writer's habits.

use files::cast::{CastFormat, PlyForm, read as read_file};
use sim_core::cusp::Arch;

use super::shapes::{area, ascii_ply, ascii_stl, ball, binary_ply, binary_stl, block, obj, read, volume};

/// Coordinates in 32 bits are off by up to 2e-6 mm at 40 mm, which moves an area of 10,000 mm² by less.
const AREA_MM2: f64 = 1e-2;
const VOLUME_MM3: f64 = 1e-1;

#[test]
fn one_block_is_the_same_in_every_format() {
    let body = block(60.0, 50.0, 20.0);
    let files: [(&str, Vec<u8>, CastFormat); 7] = [
        ("a.stl", binary_stl(&body, "invented"), CastFormat::StlBinary),
        ("a.stl", binary_stl(&body, "solid invented"), CastFormat::StlBinary),
        ("a.stl", ascii_stl(&body, "invented").into(), CastFormat::StlAscii),
        ("a.ply", ascii_ply(&body).into(), CastFormat::Ply(PlyForm::Ascii)),
        ("a.ply", binary_ply(&body, false), CastFormat::Ply(PlyForm::BinaryLittleEndian)),
        ("a.ply", binary_ply(&body, true), CastFormat::Ply(PlyForm::BinaryBigEndian)),
        ("a.obj", obj(&body).into(), CastFormat::Obj),
    ];
    for (name, bytes, format) in files {
        // The content decides, under any name.
        for name in [name, "cast", "cast.dat", "wrong.obj", "wrong.stl", "wrong.ply"] {
            let cast = read(name, &bytes).unwrap_or_else(|error| panic!("{format}: {error}"));
            assert_eq!(cast.format, format);
            assert_eq!(cast.surface.vertices().len(), 8, "{format}");
            assert_eq!(cast.surface.triangles().len(), 12, "{format}");
            // Closed forms of the box: 2(xy + yz + zx) and xyz.
            assert_eq!(area(&cast.surface), 10_400.0, "{format}");
            assert_eq!(volume(&cast.surface), 60_000.0, "{format}");
            assert_eq!((cast.report.shells, cast.report.closed_shells, cast.report.borders), (1, 1, 0));
            assert_eq!(cast.warnings(), Vec::<String>::new(), "{format}");
        }
    }
}

#[test]
fn a_ball_in_32_bits_keeps_its_area_and_volume() {
    let body = ball(30.0, 5);
    let exact = read("a.obj", obj(&body)).expect("a ball");
    for bytes in [binary_stl(&body, "invented"), binary_ply(&body, false), binary_ply(&body, true)] {
        let cast = read("a", &bytes).expect("a ball");
        assert!((area(&cast.surface) - area(&exact.surface)).abs() < AREA_MM2);
        assert!((volume(&cast.surface) - volume(&exact.surface)).abs() < VOLUME_MM3);
        assert_eq!(cast.surface.vertices().len(), body.0.len());
    }
    // A polyhedron with its corners on the ball is within it, by less than 1 % at this fineness.
    let of_ball = 4.0 / 3.0 * std::f64::consts::PI * 30.0_f64.powi(3);
    assert!((0.99..1.0).contains(&(volume(&exact.surface) / of_ball)));
}

#[test]
fn a_file_on_disk_is_read_and_named_in_errors() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("lower.stl");
    std::fs::write(&path, binary_stl(&block(60.0, 50.0, 20.0), "")).expect("written");
    let cast = read_file(&path, Arch::Lower, None).expect("a cast");
    assert_eq!(volume(&cast.surface), 60_000.0);

    let missing = folder.path().join("upper.stl");
    let error = read_file(&missing, Arch::Upper, None).expect_err("no such file").to_string();
    assert!(error.starts_with(&missing.display().to_string()) && error.contains("cannot be read"), "{error}");
    let error = read_file(folder.path(), Arch::Upper, None).expect_err("a folder").to_string();
    assert!(error.contains("is no file") || error.contains("cannot be read"), "{error}");
}

#[test]
fn ascii_stl_is_read_as_programs_write_it() {
    // Capitals, tabs, no name, carriage returns, normals that are no numbers, several solids.
    let facet = |z: f64| {
        format!(
            "FACET NORMAL nan -nan(ind) inf OUTER LOOP\r\n\tVERTEX 0 0 {z} VERTEX 60 0 {z}\r\nVERTEX 0 60 {z} \
             ENDLOOP ENDFACET\r\n"
        )
    };
    let text = format!(
        "\u{feff}\r\n SOLID\r\n{}ENDSOLID\r\nsolid second one\n{}endsolid second one",
        facet(0.0),
        facet(9.0)
    );
    let cast = read("a.stl", &text).expect("two solids");
    assert_eq!(cast.format, CastFormat::StlAscii);
    assert_eq!(cast.report.shells, 2);
    assert_eq!(area(&cast.surface), 3600.0);
}

#[test]
fn solids_and_groups_named_for_teeth_label_their_triangles() {
    let body = block(60.0, 50.0, 20.0);
    let number = |cast: &files::cast::ReadCast| -> Vec<Option<u8>> {
        let teeth = cast.surface.teeth().expect("labels");
        teeth.iter().map(|tooth| tooth.map(|tooth| tooth.number())).collect()
    };
    let parts = (body.0.clone(), body.1[..4].to_vec());
    let rest = (body.0.clone(), body.1[4..].to_vec());
    let stl = ascii_stl(&parts, "tooth_36") + &ascii_stl(&rest, "gingiva");
    let cast = read("a.stl", stl).expect("a block");
    assert_eq!(number(&cast), [[Some(36); 4].as_slice(), &[None; 8]].concat());
    assert_eq!(cast.report.closed_shells, 1, "solids are welded to each other");

    let mut obj = obj(&(body.0.clone(), Vec::new()));
    obj +=
        "g 36\nf 1 3 4 2\ng tooth_37\nf 5 6 8 7\no base\nf 1 2 6 5\nf 3 7 8 4\ng 11\nf 1 5 7 3\nf 2 4 8 6\n";
    let cast = read("a.obj", &obj).expect("a block");
    assert_eq!(
        number(&cast),
        [[Some(36); 2].as_slice(), &[Some(37); 2], &[None; 8]].concat(),
        "11 is no tooth of a lower cast"
    );
    assert_eq!(cast.report.labels_of_other_arch, 4);
    assert_eq!(cast.warnings().len(), 1);
    assert_eq!(volume(&cast.surface), 60_000.0);
}

#[test]
fn binary_stl_is_read_whatever_its_header_counts() {
    let body = block(60.0, 50.0, 20.0);
    let mut none = binary_stl(&body, "");
    none[80..84].copy_from_slice(&[0; 4]);
    let cast = read("a.stl", &none).expect("a block");
    assert_eq!(volume(&cast.surface), 60_000.0);
    assert_eq!(cast.warnings(), ["The header counts no triangles; the 12 that follow it were read."]);

    let mut named = binary_stl(&body, "solid invented");
    named[80..84].copy_from_slice(&[0; 4]);
    assert_eq!(read("a.stl", &named).expect("a block").surface, cast.surface);

    let mut longer = binary_stl(&body, "solid");
    longer.extend(b"appended by a program");
    let cast = read("a.stl", &longer).expect("a block");
    assert_eq!(volume(&cast.surface), 60_000.0);
    assert_eq!(cast.warnings(), ["21 bytes follow the last triangle and were not read."]);
}

#[test]
fn ply_is_read_with_what_other_programs_add() {
    let text = "ply\r\nformat ascii 1.0\r\ncomment a comment\r\nobj_info something\r\n\
         element camera 1\r\nproperty float32 f\r\nproperty list uint8 float64 k\r\n\
         element vertex 4\r\nproperty double quality\r\nproperty float32 x\r\nproperty float32 y\r\n\
         property float32 z\r\nproperty uint8 red\r\nproperty uint8 green\r\nproperty uint8 blue\r\n\
         property uchar alpha\r\n\
         element face 2\r\nproperty uchar flags\r\nproperty list ushort uint vertex_index\r\n\
         property list uchar float texcoord\r\nelement edge 1\r\nproperty int vertex1\r\nend_header\r\n\
         1.5 2 0.1 0.2\r\n\
         0.5 0 0 0 255 0 0 255\r\n0.5 60 0 0 0 255 0 255\r\n\r\n0.5 60 60 0 0 0 255 255\r\n0.5 0 60 0 7 8 9 255\r\n\
         0 3 0 1 2 6 0 0 1 0 1 1\r\n0 3 0 2 3 0\r\n5";
    let cast = read("a.ply", text).expect("a square");
    assert_eq!(area(&cast.surface), 3600.0);
    assert_eq!(cast.surface.colours(), Some(&[[255, 0, 0], [0, 255, 0], [0, 0, 255], [7, 8, 9]][..]));
    assert_eq!(cast.report.border_length.mm(), 240.0);
}

#[test]
fn ply_is_read_with_lists_of_every_type_and_comments_in_any_alphabet() {
    let types = [("char", 1), ("uint8", 1), ("short", 2), ("uint16", 2), ("int32", 4), ("uint", 4)];
    for big in [false, true] {
        let order = if big { "big" } else { "little" };
        let number = |number: u8, size: usize| {
            let mut bytes = vec![0; size];
            bytes[if big { size - 1 } else { 0 }] = number;
            bytes
        };
        for (count_type, count_size) in types {
            for (index_type, index_size) in types {
                let header = format!(
                    "ply\nformat binary_{order}_endian 1.0\ncomment C:/Gipsabdr\u{fc}cke\nelement vertex 4\n\
                     property uchar x\nproperty uchar y\nproperty uchar z\nelement face 1\n\
                     property list {count_type} {index_type} vertex_indices\nend_header\n"
                );
                // One byte a letter, as older programs write it.
                let mut bytes: Vec<u8> = header.chars().map(|letter| letter as u8).collect();
                bytes.extend([0, 0, 0, 60, 0, 0, 60, 60, 0, 0, 60, 0]);
                bytes.extend(number(4, count_size));
                (0..4).for_each(|index| bytes.extend(number(index, index_size)));
                let cast = read("a.ply", bytes).unwrap_or_else(|error| panic!("{error}"));
                assert_eq!(area(&cast.surface), 3600.0);
                assert_eq!(cast.warnings(), Vec::<String>::new());
            }
        }
    }
}

#[test]
fn colours_of_every_kind_become_bytes() {
    let of = |kind: &str, colours: [&str; 3]| {
        let [a, b, c] = colours;
        let text = format!(
            "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\n\
             property {kind} red\nproperty {kind} green\nproperty {kind} blue\nelement face 1\n\
             property list uchar int vertex_indices\nend_header\n0 0 0 {a}\n60 0 0 {b}\n0 60 0 {c}\n3 0 1 2\n"
        );
        let cast = read("a.ply", text).expect("a triangle");
        cast.surface.colours().expect("colours").to_vec()
    };
    let wanted = [[255, 0, 128], [1, 2, 3], [0, 0, 0]];
    assert_eq!(of("uchar", ["255 0 128", "1 2 3", "0 0 0"]), wanted);
    assert_eq!(of("int", ["300 -5 128", "1 2 3", "0 0 0"]), wanted);
    assert_eq!(of("ushort", ["65535 0 32896", "257 514 771", "0 0 0"]), wanted);
    assert_eq!(of("float", ["1 0 0.502", "0.0039 0.0078 0.0118", "0 0 0"]), wanted);
    assert_eq!(of("double", ["255 0 128", "1 2 3", "0 0 0"]), wanted);

    let obj = |colour: &str| {
        let text = format!("v 0 0 0{colour}\nv 60 0 0{colour}\nv 0 60 0 0 0 0\nf 1 2 3\n");
        read("a.obj", text).expect("a triangle")
    };
    let first = |colour: &str| obj(colour).surface.colours().expect("colours")[0];
    assert_eq!(first(" 1 0 0.502"), [255, 0, 128]);
    assert_eq!(first(" 255 0 128"), [255, 0, 128]);
    assert_eq!(first(" 1 0 0.502 0.5"), [255, 0, 128]);
    let some = obj("");
    assert_eq!(some.surface.colours(), None);
    assert_eq!(some.warnings(), ["Only 1 of 3 vertices have a colour; the colours were not used."]);
}

#[test]
fn obj_is_read_with_what_other_programs_write() {
    let text = "\u{feff}# in c:\\casts\\\r\nmtllib a.mtl\r\no arch\r\nv 0 0 0 1.0\r\nv 60 0 0 # corner\r\n\
        v \\\r\n 60 60 0\r\nv 0 60 0\r\nvt 0 0\r\nvn 0 0 1\r\nusemtl stone\r\ns off\r\nl 1 2 3\r\np 1\r\n\
        f 1/1 2/1/1 3//1\r\nf -4 -2 \\\r\n -1\r\n";
    let cast = read("a.obj", text).expect("a square");
    assert_eq!(cast.surface.triangles(), [[0, 1, 2], [0, 2, 3]]);
    assert_eq!(area(&cast.surface), 3600.0);
}
