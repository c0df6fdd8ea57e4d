//! The check itself, on invented crates.

use std::collections::BTreeMap;
use std::path::Path;

use crate::circles::circles;
use crate::sources::Sources;

fn circles_of(files: &[(&str, &str)]) -> Vec<String> {
    let files: BTreeMap<&str, &str> = files.iter().copied().collect();
    let text_of = |path: &Path| files.get(path.to_str()?).map(|text| (*text).to_owned());
    circles(&Sources::read(Path::new("lib.rs"), &text_of))
}

/// Fails unless there is one circle or more, and each of these parts stands in what is told of them.
fn has_circle(files: &[(&str, &str)], parts: &[&str]) {
    let circles = circles_of(files).join("\n");
    for part in parts {
        assert!(circles.contains(part), "no {part:?} in {circles:?}");
    }
}

fn has_none(files: &[(&str, &str)]) {
    assert_eq!(circles_of(files), Vec::<String>::new());
}

#[test]
fn two_modules_that_import_each_other_are_a_circle_told_with_its_lines() {
    let files = [
        ("lib.rs", "mod a;\nmod b;"),
        ("a.rs", "use crate::b::B;\npub struct A(B);"),
        ("b.rs", "\npub struct B;\nfn f() -> Option<super::a::A> { None }"),
    ];
    has_circle(
        &files,
        &[
            "a circle among files: a.rs → b.rs → a.rs",
            "a circle among the modules of the crate: a → b → a",
            "a.rs:1 names crate::b::B",
            "b.rs:3 names super::a::A",
        ],
    );
}

#[test]
fn floors_are_no_circle() {
    has_none(&[
        ("lib.rs", "mod a; mod b; mod c; pub use c::C;"),
        ("a.rs", "pub struct A;"),
        ("b.rs", "use crate::a::A; pub struct B(A);"),
        ("c.rs", "use crate::{a::A, b}; pub struct C(A, b::B);"),
    ]);
}

#[test]
fn a_longer_circle_and_a_knot_are_told() {
    let files = [
        ("lib.rs", "mod a; mod b; mod c; mod d;"),
        ("a.rs", "use crate::b::B; pub struct A;"),
        ("b.rs", "use crate::c::C; pub struct B;"),
        ("c.rs", "use crate::a::A; use crate::d::D; pub struct C;"),
        ("d.rs", "use crate::c::C; pub struct D;"),
    ];
    has_circle(&files, &["c.rs → d.rs → c.rs", "in the same knot: a.rs, b.rs"]);
}

#[test]
fn folders_make_a_circle_although_their_files_make_none() {
    let files = [
        ("lib.rs", "mod a; mod b;"),
        ("a/mod.rs", "mod one; mod two; pub use one::One; pub use two::Two;"),
        ("a/one.rs", "pub struct One;"),
        ("a/two.rs", "use crate::b::B; pub struct Two(B);"),
        ("b.rs", "use crate::a::One; pub struct B(One);"),
    ];
    has_circle(&files, &["a circle among the modules of the crate: a → b → a"]);
    assert!(!circles_of(&files).join("").contains("among files"));
}

#[test]
fn a_folder_that_passes_on_its_children_is_no_circle_and_a_name_of_a_sibling_means_the_sibling() {
    has_none(&[
        ("lib.rs", "pub mod a;"),
        ("a/mod.rs", "mod one;\nmod two;\npub use one::One;\npub(crate) use two::Two as Second;"),
        ("a/one.rs", "pub struct One;"),
        ("a/two.rs", "use super::One; pub struct Two(One);"),
    ]);
    has_circle(
        &[
            ("lib.rs", "pub mod a;"),
            ("a/mod.rs", "mod one;\nmod two;\npub use one::One;\npub(crate) use two::Two as Second;"),
            ("a/one.rs", "pub struct One(super::Second);"),
            ("a/two.rs", "use super::One; pub struct Two(One);"),
        ],
        &["a/one.rs → a/two.rs → a/one.rs", "a/one.rs:1 names super::Second"],
    );
}

#[test]
fn a_folder_that_uses_what_it_passes_on_leans_on_its_children() {
    let child = ("a/one.rs", "pub struct One; fn f() -> super::A { todo!() }");
    has_circle(
        &[("lib.rs", "mod a;"), ("a/mod.rs", "mod one;\npub use one::One;\npub struct A(One);"), child],
        &["a/mod.rs → a/one.rs → a/mod.rs", "a/mod.rs:3 names One"],
    );
    has_none(&[("lib.rs", "mod a;"), ("a/mod.rs", "mod one;\npub use one::One;\npub struct A;"), child]);
}

#[test]
fn tests_do_not_count_and_who_may_look_in_does_not_either() {
    has_none(&[
        ("lib.rs", "mod a; mod b;"),
        (
            "a.rs",
            "pub struct A; #[cfg(test)] mod tests { use crate::b::B; } #[test] fn t() { crate::b::f(); }",
        ),
        (
            "b.rs",
            "use crate::a::A; pub struct B(A); #[cfg(all(test, unix))] use crate::c::Missing; pub fn f() {}",
        ),
    ]);
    has_none(&[
        ("lib.rs", "mod a;"),
        ("a/mod.rs", "mod one; pub struct A; fn f() { one::f(); }"),
        ("a/one.rs", "pub(in crate::a) fn f() {} pub(super) struct S;"),
    ]);
}

#[test]
fn what_is_hidden_in_macros_attributes_globs_and_function_bodies_is_found() {
    let a = |text| [("lib.rs", "#[macro_use] mod m; mod a; mod b;"), ("a.rs", text), B, M];
    const B: (&str, &str) = ("b.rs", "use crate::a::A; pub struct B(A); pub mod inner { pub fn g() {} }");
    const M: (&str, &str) = ("m.rs", "macro_rules! made { ($x:ident) => { struct $x($crate::b::B); }; }");
    for (text, named) in [
        ("pub struct A; fn f() { println!(\"{}\", crate::b::inner::g()); }", "crate::b::inner::g"),
        ("#[derive(X)] pub struct A { #[serde(with = \"crate::b::B\")] x: u8 }", "crate::b::B"),
        ("#[derive(X)] pub struct A { #[serde(with = \"crate::b::inner\")] x: u8 }", "crate::b::inner"),
        ("use crate::b::*; pub struct A(Option<B>);", "B"),
        ("pub struct A; fn f() { use crate::b::inner; inner::g(); }", "inner::g"),
        ("pub struct A; made! { Thing }", "made!"),
        ("pub use crate::b::B as C; pub struct A;", "crate::b::B"),
    ] {
        has_circle(&a(text), &["among files", &format!("a.rs:1 names {named}")]);
    }
}

#[test]
fn what_a_macro_defines_is_found_and_a_local_variable_is_no_module() {
    has_circle(
        &[
            ("lib.rs", "mod a; mod b;"),
            ("a.rs", "use crate::b::B; made! { pub struct A { x: B } }"),
            ("b.rs", "use crate::a::A; pub struct B;"),
        ],
        &["a.rs → b.rs → a.rs"],
    );
    has_none(&[
        ("lib.rs", "mod a;"),
        ("a/mod.rs", "mod one; pub use one::one; pub struct A; fn f(one: u8) -> u8 { one }"),
        ("a/one.rs", "pub fn one(_: super::A) {}"),
    ]);
}
