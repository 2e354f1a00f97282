//! The `benchleaf` program: hands the command line to [`benchleaf::cli`] and exits with its code.

use std::process::ExitCode;

use mimalloc::MiMalloc;

/// Room is taken and given back in small pieces and on several threads, which this one is quicker at than most systems' own.
#[global_allocator]
static ROOM: MiMalloc = MiMalloc;

fn main() -> ExitCode {
    benchleaf::run(std::env::args_os())
}
