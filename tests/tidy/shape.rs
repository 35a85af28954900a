//! What needs the syntax tree: how deep a module lies, which function begins to write, which `match` has a catch-all.

use std::collections::BTreeSet;
use syn::visit::{self, Visit};

/// A method call that begins to write, with the function round it.
#[derive(Debug, PartialEq, Eq)]
pub struct Writing {
    pub function: String,
    /// Whether it is called on a book, whose own function sees to quick repair.
    pub on_book: bool,
}

/// Every `.begin_write()` in a file.
pub fn writings(file: &syn::File) -> Vec<Writing> {
    let mut finder = Finder::default();
    finder.visit_file(file);
    finder.found
}

#[derive(Default)]
struct Finder {
    function: String,
    found: Vec<Writing>,
}

impl<'ast> Visit<'ast> for Finder {
    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        self.function = item.sig.ident.to_string();
        visit::visit_item_fn(self, item);
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        self.function = item.sig.ident.to_string();
        visit::visit_impl_item_fn(self, item);
    }

    fn visit_expr_method_call(&mut self, call: &'ast syn::ExprMethodCall) {
        if call.method == "begin_write" {
            let on_book = matches!(&*call.receiver, syn::Expr::Path(path)
                if path.path.is_ident("book") || path.path.is_ident("self"));
            self.found.push(Writing { function: self.function.clone(), on_book });
        }
        visit::visit_expr_method_call(self, call);
    }
}

/// Every enum out of `of` that a `match` takes apart and then ends with a bare `_ =>`.
pub fn catch_alls(file: &syn::File, of: &BTreeSet<String>) -> Vec<String> {
    let mut finder = CatchAlls { of, found: Vec::new() };
    finder.visit_file(file);
    finder.found
}

struct CatchAlls<'a> {
    of: &'a BTreeSet<String>,
    found: Vec<String>,
}

impl<'ast> Visit<'ast> for CatchAlls<'_> {
    fn visit_expr_match(&mut self, expr: &'ast syn::ExprMatch) {
        let bare = |arm: &syn::Arm| matches!(arm.pat, syn::Pat::Wild(_)) && arm.guard.is_none();
        if expr.arms.iter().any(bare) {
            let named = expr.arms.iter().flat_map(|arm| heads(&arm.pat)).find(|name| self.of.contains(name));
            self.found.extend(named);
        }
        visit::visit_expr_match(self, expr);
    }
}

/// The enum that a pattern begins with: `Event` of `Event::Found(..) | Event::Staged(..)`.
fn heads(pat: &syn::Pat) -> Vec<String> {
    let path = match pat {
        syn::Pat::Or(or) => return or.cases.iter().flat_map(heads).collect(),
        syn::Pat::TupleStruct(pat) => &pat.path,
        syn::Pat::Struct(pat) => &pat.path,
        syn::Pat::Path(pat) => &pat.path,
        _ => return Vec::new(),
    };
    path.segments.iter().rev().nth(1).map(|segment| segment.ident.to_string()).into_iter().collect()
}
