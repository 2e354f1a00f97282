//! The record of a job: what is read, and what is complained of where.

mod agreement;
mod beginnings;
mod complaints;
mod crib;
mod editing;
mod extra;
mod kept;
mod keys;
mod limits;
mod marks;
mod old;
mod outside;
mod present;
mod prices;
mod selecting;
mod settled;
mod sold;
mod standing;
mod verdicts;
