//! The command line: parse, run, exit status.

fn main() {}
