//! The `benchleaf` program: hands the command line to [`benchleaf::cli`] and exits with its code.

use std::process::ExitCode;

/// Room is taken and given back in small pieces and on several threads, which this one is quicker at than the system's own.
#[cfg(target_os = "linux")]
#[global_allocator]
static ROOM: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    benchleaf::run(std::env::args_os())
}
