//! The paths that an item names: in code, in imports, in the tokens of macros and in attributes.

use std::collections::BTreeSet;

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::{self, Visit};
use syn::{Attribute, Item};

use crate::sources::{Import, imports};

/// A path named somewhere.
#[derive(Clone, Debug)]
pub(crate) struct Mention {
    pub(crate) path: Vec<String>,
    pub(crate) line: usize,
    /// Named only to be passed on under another module's name.
    pub(crate) is_passed_on: bool,
    /// Calls what stands in it although it names a module only.
    pub(crate) is_module_used: bool,
}

/// All that one item names.
#[derive(Debug, Default)]
pub(crate) struct Mentions {
    pub(crate) paths: Vec<Mention>,
    pub(crate) imports: Vec<Import>,
    pub(crate) macro_calls: Vec<(String, usize)>,
    /// The name, if the item is a `macro_rules!`.
    pub(crate) defines_macro: Option<String>,
    /// Names of items written inside the call of a macro.
    pub(crate) defined_by_macro: Vec<String>,
    /// Local variables of the functions gone into: a name of theirs is no name of a module.
    locals: Vec<BTreeSet<String>>,
}

impl Mentions {
    pub(crate) fn of(item: &Item) -> Self {
        let mut mentions = Self::default();
        mentions.visit_item(item);
        mentions
    }

    fn add(&mut self, path: Vec<String>, line: usize) {
        let is_local = match path.as_slice() {
            [name] => self.locals.iter().any(|locals| locals.contains(name)),
            _ => false,
        };
        if !is_local {
            self.paths.push(Mention { path, line, is_passed_on: false, is_module_used: false });
        }
    }

    /// Paths among tokens; with `only_of_crate` those that begin with `crate`, as they are written in
    /// a macro that is called from elsewhere.
    fn add_tokens(&mut self, tokens: TokenStream, only_of_crate: bool) {
        let tokens: Vec<TokenTree> = tokens.into_iter().collect();
        let is = |index: usize, sign: char| matches!(tokens.get(index), Some(TokenTree::Punct(p)) if p.as_char() == sign);
        let mut index = 0;
        while index < tokens.len() {
            match &tokens[index] {
                TokenTree::Group(group) => self.add_tokens(group.stream(), only_of_crate),
                TokenTree::Ident(first) => {
                    // After a point a field or a method, after a tick a lifetime, after `$` a fragment.
                    let follows = |sign| index > 0 && is(index - 1, sign);
                    let line = first.span().start().line;
                    let skipped = follows('\'')
                        || follows('.') && !(index > 1 && is(index - 2, '.'))
                        || follows('$') && first != "crate";
                    let mut path = vec![first.to_string()];
                    while is(index + 1, ':') && is(index + 2, ':') {
                        let Some(TokenTree::Ident(next)) = tokens.get(index + 3) else { break };
                        path.push(next.to_string());
                        index += 3;
                    }
                    if !skipped && (!only_of_crate || path[0] == "crate") {
                        self.add(path, line);
                    }
                }
                TokenTree::Punct(_) | TokenTree::Literal(_) => {}
            }
            index += 1;
        }
    }

    fn in_function(&mut self, locals: BTreeSet<String>, go_in: impl FnOnce(&mut Self)) {
        self.locals.push(locals);
        go_in(self);
        self.locals.pop();
    }
}

impl<'ast> Visit<'ast> for Mentions {
    fn visit_item(&mut self, item: &'ast Item) {
        if !is_for_tests(attributes(item)) {
            visit::visit_item(self, item);
        }
    }

    fn visit_impl_item(&mut self, item: &'ast syn::ImplItem) {
        let attributes = match item {
            syn::ImplItem::Const(item) => &item.attrs,
            syn::ImplItem::Fn(item) => &item.attrs,
            syn::ImplItem::Type(item) => &item.attrs,
            _ => return visit::visit_impl_item(self, item),
        };
        if !is_for_tests(attributes) {
            visit::visit_impl_item(self, item);
        }
    }

    fn visit_local(&mut self, local: &'ast syn::Local) {
        if !is_for_tests(&local.attrs) {
            visit::visit_local(self, local);
        }
    }

    fn visit_field(&mut self, field: &'ast syn::Field) {
        if !is_for_tests(&field.attrs) {
            visit::visit_field(self, field);
        }
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        self.in_function(Locals::of(|locals| locals.visit_item_fn(item)), |mentions| {
            visit::visit_item_fn(mentions, item);
        });
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        self.in_function(Locals::of(|locals| locals.visit_impl_item_fn(item)), |mentions| {
            visit::visit_impl_item_fn(mentions, item);
        });
    }

    fn visit_trait_item_fn(&mut self, item: &'ast syn::TraitItemFn) {
        self.in_function(Locals::of(|locals| locals.visit_trait_item_fn(item)), |mentions| {
            visit::visit_trait_item_fn(mentions, item);
        });
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        if path.leading_colon.is_none() {
            let names: Vec<String> = path.segments.iter().map(|segment| segment.ident.to_string()).collect();
            let line = path.segments.first().map_or(0, |segment| segment.ident.span().start().line);
            self.add(names, line);
        }
        visit::visit_path(self, path);
    }

    fn visit_pat_ident(&mut self, pattern: &'ast syn::PatIdent) {
        // A constant in a pattern looks like a variable but for its letters.
        let name = pattern.ident.to_string();
        if name.starts_with(char::is_uppercase) {
            self.add(vec![name], pattern.ident.span().start().line);
        }
        visit::visit_pat_ident(self, pattern);
    }

    fn visit_vis_restricted(&mut self, _: &'ast syn::VisRestricted) {
        // `pub(in crate::scene)` says who may look in, not what is looked at.
    }

    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        if item.leading_colon.is_some() {
            return;
        }
        let is_passed_on = !matches!(item.vis, syn::Visibility::Inherited);
        for (import, line) in imports(&item.tree, &[]) {
            if let Import::Name { path, .. } = &import {
                self.paths.push(Mention { path: path.clone(), line, is_passed_on, is_module_used: false });
            }
            self.imports.push(import);
        }
    }

    fn visit_item_macro(&mut self, item: &'ast syn::ItemMacro) {
        if let Some(name) = &item.ident {
            self.defines_macro = Some(name.to_string());
            self.add_tokens(item.mac.tokens.clone(), true);
            return;
        }
        let tokens: Vec<TokenTree> = item.mac.tokens.clone().into_iter().collect();
        for pair in tokens.windows(2) {
            if let [TokenTree::Ident(kind), TokenTree::Ident(name)] = pair
                && ["struct", "enum", "trait", "type", "fn", "const", "static"]
                    .iter()
                    .any(|word| kind == word)
            {
                self.defined_by_macro.push(name.to_string());
            }
        }
        visit::visit_item_macro(self, item);
    }

    fn visit_macro(&mut self, call: &'ast syn::Macro) {
        if let Some(name) = call.path.get_ident() {
            self.macro_calls.push((name.to_string(), name.span().start().line));
        }
        self.add_tokens(call.tokens.clone(), false);
        visit::visit_macro(self, call);
    }

    fn visit_attribute(&mut self, attribute: &'ast Attribute) {
        let syn::Meta::List(list) = &attribute.meta else { return };
        self.add_tokens(list.tokens.clone(), false);
        if attribute.path().is_ident("serde") {
            // `with = "read::occlusal_plane"` is a path although it is written as a text.
            for token in list.tokens.clone() {
                if let TokenTree::Literal(text) = token
                    && let Ok(text) = syn::parse_str::<syn::LitStr>(&text.to_string())
                    && let Ok(path) = text.parse::<syn::Path>()
                    && path.segments.len() > 1
                {
                    let names = path.segments.iter().map(|segment| segment.ident.to_string()).collect();
                    let line = attribute.pound_token.spans[0].start().line;
                    self.paths.push(Mention { path: names, line, is_passed_on: false, is_module_used: true });
                }
            }
        }
    }
}

/// The local variables of a function.
#[derive(Default)]
struct Locals(BTreeSet<String>);

impl Locals {
    fn of(look_through: impl FnOnce(&mut Self)) -> BTreeSet<String> {
        let mut locals = Self::default();
        look_through(&mut locals);
        locals.0
    }
}

impl Visit<'_> for Locals {
    fn visit_pat_ident(&mut self, pattern: &syn::PatIdent) {
        let name = pattern.ident.to_string();
        if !name.starts_with(char::is_uppercase) {
            self.0.insert(name);
        }
        visit::visit_pat_ident(self, pattern);
    }
}

/// Whether something is built for tests only: `#[test]`, `#[cfg(test)]`, `#[cfg(all(test, …))]`.
pub(crate) fn is_for_tests(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        if attribute.path().is_ident("test") {
            return true;
        }
        let syn::Meta::List(list) = &attribute.meta else { return false };
        attribute.path().is_ident("cfg") && asks_for_tests(list.tokens.clone())
    })
}

fn asks_for_tests(condition: TokenStream) -> bool {
    let tokens: Vec<TokenTree> = condition.into_iter().collect();
    match tokens.as_slice() {
        [TokenTree::Ident(name)] => name == "test",
        [TokenTree::Ident(name), TokenTree::Group(parts), ..] if name == "all" => {
            let parts: Vec<TokenTree> = parts.stream().into_iter().collect();
            parts
                .split(|token| matches!(token, TokenTree::Punct(sign) if sign.as_char() == ','))
                .any(|part| asks_for_tests(part.iter().cloned().collect()))
        }
        _ => false,
    }
}

pub(crate) fn attributes(item: &Item) -> &[Attribute] {
    match item {
        Item::Const(item) => &item.attrs,
        Item::Enum(item) => &item.attrs,
        Item::ExternCrate(item) => &item.attrs,
        Item::Fn(item) => &item.attrs,
        Item::ForeignMod(item) => &item.attrs,
        Item::Impl(item) => &item.attrs,
        Item::Macro(item) => &item.attrs,
        Item::Mod(item) => &item.attrs,
        Item::Static(item) => &item.attrs,
        Item::Struct(item) => &item.attrs,
        Item::Trait(item) => &item.attrs,
        Item::TraitAlias(item) => &item.attrs,
        Item::Type(item) => &item.attrs,
        Item::Union(item) => &item.attrs,
        Item::Use(item) => &item.attrs,
        _ => &[],
    }
}
