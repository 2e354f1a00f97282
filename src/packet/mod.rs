//! Plan to sheets: what is printed, in words, tables and figures. It must not know millimetres of paper or fonts.

pub mod sheet;
