//! What is only ever added to, with a digest that grows along.
//!
//! A digest of the whole ledger is taken after every action. Over the debug text of all readings and captions it would
//! cost more with each of them; here each is digested once, when it is added.

use std::fmt::{Debug, Formatter};
use std::ops::Deref;

use crate::record_text::{NOTHING, digest_on};

/// A list that is only ever added to. It reads as a slice; its debug text is its length and digest.
#[derive(Clone, PartialEq)]
pub(crate) struct Kept<T> {
    items: Vec<T>,
    digest: u64,
}

impl<T: Debug> Kept<T> {
    pub(crate) fn push(&mut self, item: T) {
        self.digest = digest_on(self.digest, &item);
        self.items.push(item);
    }
}

impl<T> Default for Kept<T> {
    fn default() -> Self {
        Self {
            items: Vec::new(),
            digest: NOTHING,
        }
    }
}

impl<T> Debug for Kept<T> {
    fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} kept, {:016x}", self.items.len(), self.digest)
    }
}

impl<T> Deref for Kept<T> {
    type Target = [T];

    fn deref(&self) -> &[T] {
        &self.items
    }
}

impl<'a, T> IntoIterator for &'a Kept<T> {
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.items.iter()
    }
}
