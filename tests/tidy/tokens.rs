//! Reads a source file as tokens, and notes every path in it: in code, in `use` trees, and inside macros, which a syntax
//! tree would hide. Comments and texts are no tokens, so they may name what they like.

use proc_macro2::{Delimiter, TokenStream, TokenTree};

/// Something noted, and its line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Noted<T> {
    pub line: usize,
    pub what: T,
}

/// What the tokens of one file say.
#[derive(Debug, Default)]
pub struct Notes {
    /// Every path, `use` trees opened: `use a::{b, c::d}` is `a::b` and `a::c::d`.
    pub paths: Vec<Noted<Vec<String>>>,
    /// Every `a::*`.
    pub globs: Vec<Noted<String>>,
    /// What every `pub use` begins with.
    pub re_exports: Vec<Noted<String>>,
    /// Names of the macros defined here.
    pub macros: Vec<String>,
    /// Names of methods called.
    pub methods: Vec<Noted<String>>,
    /// The words of every attribute, its own name first.
    pub attributes: Vec<Noted<Vec<String>>>,
}

/// Reads a file. Errors: it is no Rust.
pub fn read(text: &str) -> Result<Notes, String> {
    let stream: TokenStream = text.parse().map_err(|why| format!("cannot be read as Rust: {why}"))?;
    let mut notes = Notes::default();
    notes.walk(&trees(stream), &[]);
    Ok(notes)
}

fn trees(stream: TokenStream) -> Vec<TokenTree> {
    stream.into_iter().collect()
}

impl Notes {
    /// `prefix` is the path in front of the braces of a `use` tree.
    fn walk(&mut self, tokens: &[TokenTree], prefix: &[String]) {
        let mut at = 0;
        while at < tokens.len() {
            at += match &tokens[at] {
                TokenTree::Ident(_) => self.path(tokens, at, prefix),
                TokenTree::Group(group) => {
                    self.walk(&trees(group.stream()), &[]);
                    1
                }
                TokenTree::Punct(punct) if punct.as_char() == '#' => self.attribute(tokens, at),
                TokenTree::Punct(punct) if punct.as_char() == '.' => self.method(tokens, at),
                TokenTree::Punct(punct) if punct.as_char() == '*' && !prefix.is_empty() => {
                    self.globs.push(Noted { line: line(&tokens[at]), what: prefix.join("::") });
                    1
                }
                TokenTree::Punct(_) | TokenTree::Literal(_) => 1,
            };
        }
    }

    /// Notes the path that begins here; gives its length in tokens.
    fn path(&mut self, tokens: &[TokenTree], at: usize, prefix: &[String]) -> usize {
        let mut path = prefix.to_vec();
        path.extend(word(tokens.get(at)));
        let mut end = at + 1;
        // `use ::serde` is the word `use`, and then a path.
        while path != ["use"] && is_colons(tokens, end) {
            match tokens.get(end + 2) {
                Some(TokenTree::Ident(name)) => path.push(name.to_string()),
                Some(TokenTree::Group(group)) if group.delimiter() == Delimiter::Brace => {
                    self.walk(&trees(group.stream()), &path);
                    return end + 3 - at;
                }
                Some(TokenTree::Punct(star)) if star.as_char() == '*' => {
                    self.globs.push(Noted { line: line(&tokens[at]), what: path.join("::") });
                    return end + 3 - at;
                }
                _ => break,
            }
            end += 3;
        }
        match path.last().map(String::as_str) {
            Some("use") => self.re_export(tokens, at),
            Some("macro_rules") => self.macros.extend(word(tokens.get(at + 2))),
            _ => {}
        }
        self.paths.push(Noted { line: line(&tokens[at]), what: path });
        end - at
    }

    /// Notes a `use` with `pub`, or `pub(crate)` and the like, in front of it.
    fn re_export(&mut self, tokens: &[TokenTree], at: usize) {
        let before = |steps: usize| at.checked_sub(steps).and_then(|at| tokens.get(at));
        let scoped = matches!(before(1), Some(TokenTree::Group(group)) if group.delimiter() == Delimiter::Parenthesis);
        if word(before(if scoped { 2 } else { 1 })).as_deref() == Some("pub") {
            let what: Vec<String> =
                tokens[at + 1..].iter().map(TokenTree::to_string).take_while(|token| token != ";").collect();
            self.re_exports.push(Noted { line: line(&tokens[at]), what: what.concat() });
        }
    }

    fn attribute(&mut self, tokens: &[TokenTree], at: usize) -> usize {
        let bang = matches!(tokens.get(at + 1), Some(TokenTree::Punct(punct)) if punct.as_char() == '!');
        let group_at = at + 1 + usize::from(bang);
        let Some(TokenTree::Group(group)) = tokens.get(group_at) else { return 1 };
        let mut what = Vec::new();
        words(group.stream(), &mut what);
        self.attributes.push(Noted { line: line(&tokens[at]), what });
        // The group itself is walked next: paths in a derive are paths.
        group_at - at
    }

    fn method(&mut self, tokens: &[TokenTree], at: usize) -> usize {
        let called =
            matches!(tokens.get(at + 2), Some(TokenTree::Group(group)) if group.delimiter() == Delimiter::Parenthesis);
        // The second dot of a range has no method behind it, but perhaps a path.
        let range = at > 0 && matches!(&tokens[at - 1], TokenTree::Punct(punct) if punct.as_char() == '.');
        match tokens.get(at + 1) {
            Some(TokenTree::Ident(name)) if !range => {
                if called {
                    self.methods.push(Noted { line: line(&tokens[at]), what: name.to_string() });
                }
                2
            }
            _ => 1,
        }
    }
}

fn words(stream: TokenStream, into: &mut Vec<String>) {
    for token in stream {
        match token {
            TokenTree::Ident(name) => into.push(name.to_string()),
            TokenTree::Group(group) => words(group.stream(), into),
            TokenTree::Punct(_) | TokenTree::Literal(_) => {}
        }
    }
}

fn word(token: Option<&TokenTree>) -> Option<String> {
    match token {
        Some(TokenTree::Ident(name)) => Some(name.to_string()),
        _ => None,
    }
}

fn is_colons(tokens: &[TokenTree], at: usize) -> bool {
    let colon = |at: usize| matches!(tokens.get(at), Some(TokenTree::Punct(punct)) if punct.as_char() == ':');
    colon(at) && colon(at + 1)
}

fn line(token: &TokenTree) -> usize {
    token.span().start().line
}
