//! The `grainrow` command.

mod cli;

fn main() -> std::process::ExitCode {
    cli::run()
}
