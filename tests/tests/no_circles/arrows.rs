//! What leads from one module to another: every path followed to the module that defines its end.

use crate::sources::Sources;

/// One module names what another defines.
#[derive(Clone, Debug)]
pub(crate) struct Arrow {
    pub(crate) from: usize,
    pub(crate) to: usize,
    /// Modules that the path was followed through, the last one included.
    pub(crate) through: Vec<usize>,
    pub(crate) line: usize,
    /// The path as it is written.
    pub(crate) path: String,
}

/// What stands at the end of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
enum End {
    Module(usize),
    /// Something defined in that module.
    Item(usize),
}

/// More imports of imports than this are a circle of their own, which the compiler refuses.
const DEEPEST: usize = 32;

/// All arrows of a crate.
pub(crate) fn arrows(sources: &Sources) -> Vec<Arrow> {
    let mut arrows = Vec::new();
    for (from, module) in sources.modules.iter().enumerate() {
        for mention in &module.mentions {
            let mut through = Vec::new();
            let to = match sources.followed(from, &mention.path, false, &mut through, 0) {
                Some(End::Item(to)) => to,
                Some(End::Module(to)) if mention.is_module_used => to,
                Some(End::Module(_)) | None => continue,
            };
            // A module that passes on what its children define does not stand on them for that.
            if to != from && !(mention.is_passed_on && sources.is_within(to, from)) {
                through.push(to);
                arrows.push(Arrow { from, to, through, line: mention.line, path: mention.path.join("::") });
            }
        }
        for (name, line) in &module.macro_calls {
            if let Some(&to) = sources.macros.get(name)
                && to != from
            {
                arrows.push(Arrow { from, to, through: vec![to], line: *line, path: format!("{name}!") });
            }
        }
    }
    arrows
}

impl Sources {
    /// Whether a module is another one or stands somewhere in it.
    pub(crate) fn is_within(&self, module: usize, other: usize) -> bool {
        self.modules[module].path.starts_with(&self.modules[other].path)
    }

    /// Follows a path as it is written in a module; `None` where it leads out of the crate.
    fn followed(
        &self,
        from: usize,
        path: &[String],
        is_module_wanted: bool,
        through: &mut Vec<usize>,
        depth: usize,
    ) -> Option<End> {
        if depth > DEEPEST {
            return None;
        }
        let mut at = from;
        let mut names = path;
        while let [first, rest @ ..] = names {
            at = match first.as_str() {
                "crate" => 0,
                "self" => at,
                "super" => self.modules[at].parent?,
                _ => break,
            };
            names = rest;
        }
        while let [name, rest @ ..] = names {
            let module = &self.modules[at];
            let is_module_wanted = is_module_wanted || !rest.is_empty();
            let child = module.children.get(name);
            let end = match child {
                Some(&child) if is_module_wanted => End::Module(child),
                _ if module.defined.contains(name) => End::Item(at),
                _ => {
                    // An alias of its own name leads to a crate outside: `use libm;`
                    let alias = module.aliases.get(name).filter(|path| path.as_slice() != [name.clone()]);
                    let imported = alias
                        .and_then(|path| self.followed(at, path, is_module_wanted, through, depth + 1))
                        .or_else(|| self.among_globs(at, name, is_module_wanted, through, depth));
                    match (imported, child) {
                        (Some(end), _) => end,
                        (None, Some(&child)) => End::Module(child),
                        (None, None) => return None,
                    }
                }
            };
            match end {
                // What follows is a variant or an associated item.
                End::Item(_) => return Some(end),
                End::Module(module) => at = module,
            }
            through.push(at);
            names = rest;
        }
        Some(End::Module(at))
    }

    fn among_globs(
        &self,
        at: usize,
        name: &String,
        is_module_wanted: bool,
        through: &mut Vec<usize>,
        depth: usize,
    ) -> Option<End> {
        self.modules[at].globs.iter().find_map(|glob| {
            match self.followed(at, glob, true, &mut Vec::new(), depth + 1)? {
                End::Module(module) if module != at => {
                    let name = std::slice::from_ref(name);
                    self.followed(module, name, is_module_wanted, through, depth + 1)
                }
                _ => None,
            }
        })
    }
}
