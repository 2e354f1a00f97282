//! Every integration test, in one binary. A test file that isn't listed here fails `layering::every_test_file_runs`.

mod cli;
mod expected;
mod layering;
mod network;
mod sequence;
mod quantity;
mod metrology;
mod record;
mod mechanics;
mod packet;
mod page;
mod syntax;
mod procedure;
