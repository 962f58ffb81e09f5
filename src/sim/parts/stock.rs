//! What lies in the van: right parts and wrong ones, as data.

use crate::equipment::Fitted;

/// One article of stock.
#[derive(Debug, Clone, PartialEq)]
pub struct Article {
    /// Stable id, also the wording key.
    pub id: &'static str,
    /// What it becomes when fitted; `None` for material.
    pub fitted: Option<Fitted>,
}

/// All articles.
#[must_use]
pub fn articles() -> Vec<Article> {
    Vec::new()
}
