//! Speed, printed and never asserted. Run all of it with `cargo bench`.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a benchmark may stop at a fault")]

mod catalogue;
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
        window::print();
        program::print();
    }
}
