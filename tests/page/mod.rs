//! From sheets to pages and to PDF.

mod demo;
mod document;
