//! stub
/// r
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Region {
    /// u
    Uk,
}
