//! The program: parse, run, print the error chain, exit.

fn main() {}
