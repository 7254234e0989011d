//! The modules of a crate as its sources declare them: what each names, and which file a path leads to.
//!
//! Read from the sources alone, so a method called on a value and code that a derive makes are not seen; what only tests see is left out.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use syn::buffer::{Cursor, TokenBuffer};
use syn::visit::{self, Visit};
use syn::{Attribute, Item, ItemUse, Macro, UseTree};

/// A path as it is written: `crate::layout::Figures`.
pub(crate) type Segments = Vec<String>;

/// A module: a file, or a block of one.
#[derive(Debug, Default)]
pub(crate) struct Module {
    /// The file that holds it, from the package's folder.
    pub(crate) file: String,
    /// The module that declares it.
    pub(crate) parent: Option<usize>,
    /// The root of its crate.
    root: usize,
    names: BTreeMap<String, Vec<Named>>,
    globs: Vec<Segments>,
    /// Every path that its code names.
    pub(crate) paths: BTreeSet<Segments>,
}

/// What a name stands for in a module.
#[derive(Debug, Clone)]
enum Named {
    Child(usize),
    Item,
    Use(Segments),
}

/// Where a path leads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Place {
    Module(usize),
    /// Something that this module defines, or something within that.
    Item(usize),
}

/// A `use` line being followed: its module, the name looked for, and which of those that make the name; none for a glob.
type Line = (usize, String, Option<usize>);
type Open = Vec<Line>;

/// The modules of a package: a library, and programs that know it by its name.
#[derive(Debug)]
pub(crate) struct Tree {
    library: String,
    pub(crate) modules: Vec<Module>,
}

impl Tree {
    /// Reads a package's crates from their root files; `read` gives the text of a file, if there is such a file.
    pub(crate) fn read(library: &str, roots: &[&str], read: &dyn Fn(&str) -> Option<String>) -> Self {
        let mut tree = Self { library: library.to_owned(), modules: Vec::new() };
        for root in roots {
            let folder = Path::new(root).parent().expect("a root file is in a folder").to_string_lossy().into_owned();
            let text = read(root).unwrap_or_else(|| panic!("{root} can't be read"));
            let at = tree.add(root, None);
            tree.read_file(at, &text, &folder, read);
        }
        tree
    }

    fn add(&mut self, file: &str, parent: Option<usize>) -> usize {
        let at = self.modules.len();
        let root = parent.map_or(at, |parent| self.modules[parent].root);
        self.modules.push(Module { file: file.to_owned(), parent, root, ..Module::default() });
        at
    }

    fn read_file(&mut self, at: usize, text: &str, folder: &str, read: &dyn Fn(&str) -> Option<String>) {
        let parsed = syn::parse_file(text).unwrap_or_else(|error| panic!("{}: {error}", self.modules[at].file));
        self.read_items(at, &parsed.items, folder, read);
    }

    /// Takes up what a module declares; the files of its children are in `folder`.
    fn read_items(&mut self, at: usize, items: &[Item], folder: &str, read: &dyn Fn(&str) -> Option<String>) {
        for item in items {
            if let Item::Mod(module) = item {
                if is_for_tests(&module.attrs) {
                    continue;
                }
                let name = module.ident.to_string();
                let inner = format!("{folder}/{name}");
                let child = if let Some((_, items)) = &module.content {
                    let file = self.modules[at].file.clone();
                    let child = self.add(&file, Some(at));
                    self.read_items(child, items, &inner, read);
                    child
                } else {
                    let files = [format!("{inner}.rs"), format!("{inner}/mod.rs")];
                    let (file, text) =
                        files.iter().find_map(|file| Some((file, read(file)?))).unwrap_or_else(|| panic!("no {files:?}"));
                    let child = self.add(file, Some(at));
                    self.read_file(child, &text, &inner, read);
                    child
                };
                self.name(at, name, Named::Child(child));
            } else {
                if let Some(name) = name_of(item) {
                    self.name(at, name, Named::Item);
                }
                self.visit(at, item);
            }
        }
    }

    fn name(&mut self, at: usize, name: String, named: Named) {
        self.modules[at].names.entry(name).or_default().push(named);
    }

    /// Takes up the paths that an item names, and the names that its `use` lines make.
    fn visit(&mut self, at: usize, item: &Item) {
        let mut seen = Seen::default();
        seen.visit_item(item);
        for (name, path) in seen.uses {
            self.modules[at].paths.insert(path.clone());
            self.name(at, name, Named::Use(path));
        }
        self.modules[at].globs.append(&mut seen.globs);
        self.modules[at].paths.extend(seen.paths);
    }

    /// The modules whose files define what a path written in a module names: several where a name is, say, a type and a function.
    pub(crate) fn defining(&self, from: usize, path: &[String]) -> Vec<usize> {
        let places = self.resolve(from, path, &mut Vec::new());
        places.into_iter().filter_map(|place| if let Place::Item(module) = place { Some(module) } else { None }).collect()
    }

    fn resolve(&self, from: usize, path: &[String], open: &mut Open) -> Vec<Place> {
        let Some((first, rest)) = path.split_first() else { return vec![] };
        let mut places = match first.as_str() {
            "crate" => vec![Place::Module(self.modules[from].root)],
            "self" => vec![Place::Module(from)],
            "super" => self.modules[from].parent.map(Place::Module).into_iter().collect(),
            name if name == self.library && from != 0 && self.modules[from].root != 0 => vec![Place::Module(0)],
            name => self.look_up(from, name, open),
        };
        for name in rest {
            let within: Vec<Place> = places
                .iter()
                .filter_map(|place| if let Place::Module(module) = place { Some(*module) } else { None })
                .flat_map(|module| match name.as_str() {
                    "self" => vec![Place::Module(module)],
                    "super" => self.modules[module].parent.map(Place::Module).into_iter().collect(),
                    name => self.look_up(module, name, open),
                })
                .collect();
            // A variant or a function of a type stands where the type does.
            places.retain(|place| within.is_empty() && matches!(place, Place::Item(_)));
            places.extend(within);
        }
        places
    }

    /// What a name stands for in a module, through `use` lines as far as they lead.
    fn look_up(&self, module: usize, name: &str, open: &mut Open) -> Vec<Place> {
        let mut places = Vec::new();
        for (index, named) in self.modules[module].names.get(name).into_iter().flatten().enumerate() {
            match named {
                Named::Child(child) => places.push(Place::Module(*child)),
                Named::Item => places.push(Place::Item(module)),
                Named::Use(path) => places.extend(self.follow(module, path, (module, name.to_owned(), Some(index)), open)),
            }
        }
        if places.is_empty() {
            for glob in &self.modules[module].globs {
                let path: Segments = glob.iter().cloned().chain([name.to_owned()]).collect();
                places.extend(self.follow(module, &path, (module, name.to_owned(), None), open));
            }
        }
        places
    }

    /// Follows a `use` line, unless that is what is being done.
    fn follow(&self, module: usize, path: &[String], line: Line, open: &mut Open) -> Vec<Place> {
        if open.contains(&line) {
            return vec![];
        }
        open.push(line);
        let places = self.resolve(module, path, open);
        open.pop();
        places
    }
}

/// What an item's code names.
#[derive(Default)]
struct Seen {
    uses: Vec<(String, Segments)>,
    globs: Vec<Segments>,
    paths: Vec<Segments>,
}

impl Seen {
    fn take(&mut self, tree: &UseTree, path: &[String]) {
        let with = |name: &syn::Ident| path.iter().cloned().chain([name.to_string()]).collect::<Segments>();
        match tree {
            UseTree::Path(step) => self.take(&step.tree, &with(&step.ident)),
            UseTree::Name(name) if name.ident == "self" => {
                self.uses.push((path.last().cloned().unwrap_or_default(), path.to_vec()));
            }
            UseTree::Name(name) => self.uses.push((name.ident.to_string(), with(&name.ident))),
            UseTree::Rename(name) => self.uses.push((name.rename.to_string(), with(&name.ident))),
            UseTree::Glob(_) => self.globs.push(path.to_vec()),
            UseTree::Group(group) => group.items.iter().for_each(|item| self.take(item, path)),
        }
    }

    /// The paths among a macro's tokens, which nothing parses.
    fn take_tokens(&mut self, mut at: Cursor<'_>) {
        let mut path = Segments::new();
        while !at.eof() {
            if let Some((name, rest)) = at.ident() {
                path.push(name.to_string());
                if let Some(rest) = double_colon(rest) {
                    at = rest;
                    continue;
                }
                self.paths.push(std::mem::take(&mut path));
                at = rest;
            } else if let Some((inner, _, _, rest)) = at.any_group() {
                self.take_tokens(inner);
                at = rest;
            } else if let Some((_, rest)) = at.token_tree() {
                at = rest;
            }
            path.clear();
        }
    }
}

fn double_colon(at: Cursor<'_>) -> Option<Cursor<'_>> {
    let (first, at) = at.punct()?;
    let (second, at) = at.punct()?;
    (first.as_char() == ':' && second.as_char() == ':' && at.ident().is_some()).then_some(at)
}

impl Visit<'_> for Seen {
    fn visit_item(&mut self, item: &Item) {
        if !is_for_tests(attributes(item)) {
            visit::visit_item(self, item);
        }
    }

    fn visit_item_use(&mut self, item: &ItemUse) {
        if item.leading_colon.is_none() {
            self.take(&item.tree, &[]);
        }
    }

    fn visit_path(&mut self, path: &syn::Path) {
        self.paths.push(path.segments.iter().map(|segment| segment.ident.to_string()).collect());
        visit::visit_path(self, path);
    }

    fn visit_impl_item_fn(&mut self, item: &syn::ImplItemFn) {
        if !is_for_tests(&item.attrs) {
            visit::visit_impl_item_fn(self, item);
        }
    }

    fn visit_macro(&mut self, called: &Macro) {
        visit::visit_macro(self, called);
        let tokens = TokenBuffer::new2(called.tokens.clone());
        self.take_tokens(tokens.begin());
    }
}

/// Whether only tests see something.
fn is_for_tests(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| attribute.path().is_ident("cfg") && needs_test(attribute))
}

fn attributes(item: &Item) -> &[Attribute] {
    match item {
        Item::Const(item) => &item.attrs,
        Item::Enum(item) => &item.attrs,
        Item::Fn(item) => &item.attrs,
        Item::Impl(item) => &item.attrs,
        Item::Macro(item) => &item.attrs,
        Item::Mod(item) => &item.attrs,
        Item::Static(item) => &item.attrs,
        Item::Struct(item) => &item.attrs,
        Item::Trait(item) => &item.attrs,
        Item::Type(item) => &item.attrs,
        Item::Use(item) => &item.attrs,
        _ => &[],
    }
}

fn name_of(item: &Item) -> Option<String> {
    let name = match item {
        Item::Const(item) => &item.ident,
        Item::Enum(item) => &item.ident,
        Item::Fn(item) => &item.sig.ident,
        Item::Macro(item) => item.ident.as_ref()?,
        Item::Static(item) => &item.ident,
        Item::Struct(item) => &item.ident,
        Item::Trait(item) => &item.ident,
        Item::Type(item) => &item.ident,
        _ => return None,
    };
    Some(name.to_string())
}

/// Whether an attribute leaves something out unless tests are built: `cfg(test)`, alone or among others that all must hold.
fn needs_test(attribute: &Attribute) -> bool {
    let mut needs = false;
    let _other_form = attribute.parse_nested_meta(|meta| {
        needs |= meta.path.is_ident("test");
        if meta.path.is_ident("all") {
            meta.parse_nested_meta(|within| {
                needs |= within.path.is_ident("test");
                Ok(())
            })?;
        }
        Ok(())
    });
    needs
}
