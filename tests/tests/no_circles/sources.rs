//! The modules of a crate as its sources give them: what each defines, imports and names.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use syn::{Attribute, Item, UseTree};

use crate::mentions::{Mention, Mentions, attributes, is_for_tests};

/// One module.
#[derive(Debug, Default)]
pub(crate) struct Module {
    /// Names from the crate's root down; none for the root itself.
    pub(crate) path: Vec<String>,
    pub(crate) file: PathBuf,
    pub(crate) parent: Option<usize>,
    pub(crate) children: BTreeMap<String, usize>,
    pub(crate) defined: BTreeSet<String>,
    /// What a name that is imported stands for.
    pub(crate) aliases: BTreeMap<String, Vec<String>>,
    /// Paths of which everything is imported.
    pub(crate) globs: Vec<Vec<String>>,
    pub(crate) mentions: Vec<Mention>,
    /// Macros called, with the line.
    pub(crate) macro_calls: Vec<(String, usize)>,
}

/// All modules of a crate, the root first; what is built for tests only is left out.
#[derive(Debug, Default)]
pub(crate) struct Sources {
    pub(crate) modules: Vec<Module>,
    /// In which module each `macro_rules!` stands.
    pub(crate) macros: BTreeMap<String, usize>,
}

impl Sources {
    /// Reads a crate from its root file, and every file that a `mod` line leads to.
    pub(crate) fn read(root: &Path, text_of: &dyn Fn(&Path) -> Option<String>) -> Self {
        let mut sources = Self::default();
        sources.modules.push(Module { file: root.to_owned(), ..Module::default() });
        let folder = root.parent().unwrap_or(Path::new("")).to_owned();
        sources.read_file(0, &folder, text_of);
        sources
    }

    /// `folder` is where the files of its children stand.
    fn read_file(&mut self, module: usize, folder: &Path, text_of: &dyn Fn(&Path) -> Option<String>) {
        let file = self.modules[module].file.clone();
        let text = text_of(&file).unwrap_or_else(|| panic!("{} is not to be read", file.display()));
        let parsed = syn::parse_file(&text).unwrap_or_else(|why| panic!("{}: {why}", file.display()));
        if !is_for_tests(&parsed.attrs) {
            self.read_items(module, &parsed.items, folder, text_of);
        }
    }

    fn read_items(
        &mut self,
        module: usize,
        items: &[Item],
        folder: &Path,
        text_of: &dyn Fn(&Path) -> Option<String>,
    ) {
        for item in items.iter().filter(|item| !is_for_tests(attributes(item))) {
            match item {
                Item::Mod(child) => {
                    let name = child.ident.to_string();
                    let inner = folder.join(&name);
                    let file = match (&child.content, path_attribute(&child.attrs)) {
                        (Some(_), _) => self.modules[module].file.clone(),
                        (None, Some(given)) => folder.join(given),
                        (None, None) => {
                            let beside = folder.join(format!("{name}.rs"));
                            if text_of(&beside).is_some() { beside } else { inner.join("mod.rs") }
                        }
                    };
                    let mut path = self.modules[module].path.clone();
                    path.push(name.clone());
                    let index = self.modules.len();
                    self.modules.push(Module { path, file, parent: Some(module), ..Module::default() });
                    self.modules[module].children.insert(name, index);
                    match &child.content {
                        Some((_, items)) => self.read_items(index, items, &inner, text_of),
                        None => self.read_file(index, &inner, text_of),
                    }
                }
                item => self.read_item(module, item),
            }
        }
    }

    fn read_item(&mut self, module: usize, item: &Item) {
        let mentions = Mentions::of(item);
        if let Some(name) = &mentions.defines_macro {
            self.macros.insert(name.clone(), module);
        }
        let module = &mut self.modules[module];
        module.defined.extend(name_of(item));
        module.defined.extend(mentions.defined_by_macro);
        module.mentions.extend(mentions.paths);
        module.macro_calls.extend(mentions.macro_calls);
        for import in mentions.imports {
            match import {
                Import::Name { name, path } => {
                    module.aliases.entry(name).or_insert(path);
                }
                Import::All { path } => module.globs.push(path),
            }
        }
    }
}

/// One name, or all names, that a `use` brings in.
#[derive(Debug)]
pub(crate) enum Import {
    Name { name: String, path: Vec<String> },
    All { path: Vec<String> },
}

/// Every name of a `use`, written out, with its line.
pub(crate) fn imports(tree: &UseTree, before: &[String]) -> Vec<(Import, usize)> {
    let with = |name: &syn::Ident| {
        let mut path = before.to_vec();
        // `use a::{self}` is a itself.
        if name != "self" || before.is_empty() {
            path.push(name.to_string());
        }
        path
    };
    let line = |name: &syn::Ident| name.span().start().line;
    match tree {
        UseTree::Path(part) => imports(&part.tree, &with(&part.ident)),
        UseTree::Name(part) => {
            let path = with(&part.ident);
            let name = path.last().cloned().unwrap_or_default();
            vec![(Import::Name { name, path }, line(&part.ident))]
        }
        UseTree::Rename(part) => {
            let import = Import::Name { name: part.rename.to_string(), path: with(&part.ident) };
            vec![(import, line(&part.ident))]
        }
        UseTree::Glob(glob) => {
            vec![(Import::All { path: before.to_vec() }, glob.star_token.spans[0].start().line)]
        }
        UseTree::Group(group) => group.items.iter().flat_map(|tree| imports(tree, before)).collect(),
    }
}

fn path_attribute(attributes: &[Attribute]) -> Option<String> {
    attributes.iter().find(|attribute| attribute.path().is_ident("path")).and_then(|attribute| {
        let value = &attribute.meta.require_name_value().ok()?.value;
        match value {
            syn::Expr::Lit(syn::ExprLit { lit: syn::Lit::Str(text), .. }) => Some(text.value()),
            _ => None,
        }
    })
}

fn name_of(item: &Item) -> Option<String> {
    let name = match item {
        Item::Const(item) => &item.ident,
        Item::Enum(item) => &item.ident,
        Item::Fn(item) => &item.sig.ident,
        Item::Static(item) => &item.ident,
        Item::Struct(item) => &item.ident,
        Item::Trait(item) => &item.ident,
        Item::TraitAlias(item) => &item.ident,
        Item::Type(item) => &item.ident,
        Item::Union(item) => &item.ident,
        _ => return None,
    };
    Some(name.to_string())
}
