//! The program: arguments, then the command line.

fn main() {}
