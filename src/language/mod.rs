//! Text to tree. It must not know what names mean.

pub mod tree;
