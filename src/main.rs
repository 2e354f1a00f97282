//! The `benchleaf` program: hands the command line to [`benchleaf::cli`] and exits with its code.

use std::process::ExitCode;

fn main() -> ExitCode {
    benchleaf::run(std::env::args_os())
}
