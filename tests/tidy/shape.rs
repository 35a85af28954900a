//! What needs the syntax tree: how deep a module lies, which function begins to write, which `match` has a catch-all.

use super::tokens::Noted;
use proc_macro2::TokenTree;
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

/// Names of the enums that a file defines and shows, written out or by the macro of vocabularies.
pub fn enums(file: &syn::File) -> BTreeSet<String> {
    let names = file.items.iter().filter_map(|item| match item {
        syn::Item::Enum(item) if matches!(item.vis, syn::Visibility::Public(_)) => Some(item.ident.to_string()),
        syn::Item::Macro(item) if item.mac.path.segments.last()?.ident == "vocabulary" => first_word(&item.mac),
        _ => None,
    });
    names.collect()
}

fn first_word(mac: &syn::Macro) -> Option<String> {
    mac.tokens.clone().into_iter().find_map(|token| match token {
        TokenTree::Ident(name) => Some(name.to_string()),
        TokenTree::Group(_) | TokenTree::Punct(_) | TokenTree::Literal(_) => None,
    })
}

/// Every enum out of `of` that a `match` takes apart and then ends with a bare `_ =>`.
pub fn catch_alls(file: &syn::File, of: &BTreeSet<String>) -> Vec<Noted<String>> {
    let mut finder = CatchAlls { of, found: Vec::new() };
    finder.visit_file(file);
    finder.found
}

struct CatchAlls<'a> {
    of: &'a BTreeSet<String>,
    found: Vec<Noted<String>>,
}

impl<'ast> Visit<'ast> for CatchAlls<'_> {
    fn visit_expr_match(&mut self, expr: &'ast syn::ExprMatch) {
        let bare = |arm: &syn::Arm| matches!(arm.pat, syn::Pat::Wild(_)) && arm.guard.is_none();
        if expr.arms.iter().any(bare) {
            let named = expr.arms.iter().flat_map(|arm| heads(&arm.pat)).find(|name| self.of.contains(name));
            let line = expr.match_token.span.start().line;
            self.found.extend(named.map(|what| Noted { line, what }));
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
