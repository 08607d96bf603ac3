//! Speed, printed and never asserted. Run all of it with `cargo bench`.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a benchmark may stop at a fault")]

mod catalogue;
mod few_lines;
mod peer;
mod program;
mod reading;
mod sizing;
mod window;

fn main() {
    divan::main();
    if std::env::args().any(|word| word == "--bench") {
        reading::print();
        peer::print();
        sizing::print();
        few_lines::print();
        window::print();
        program::print();
    }
}
