//! Prints every comparison with the outside as a table, and ends non-zero where one fails.
//!
//! `cargo run --example verification`

use check::Status;
use std::process::ExitCode;

#[path = "../tests/published/air.rs"]
mod air;
#[path = "../tests/published/carry.rs"]
mod carry;
#[path = "../tests/published/check.rs"]
mod check;
#[path = "../tests/published/chrono.rs"]
mod chrono;
#[path = "../tests/published/common_practice.rs"]
mod common_practice;
#[path = "../tests/published/drawings.rs"]
mod drawings;
#[path = "../tests/published/energy.rs"]
mod energy;
#[path = "../tests/published/flight.rs"]
mod flight;
#[path = "../tests/published/outlines.rs"]
mod outlines;
#[path = "../tests/published/pendulum.rs"]
mod pendulum;
#[path = "../tests/published/plate.rs"]
mod plate;
#[path = "../tests/published/radar.rs"]
mod radar;
#[path = "../tests/published/rules.rs"]
mod rules;
#[path = "../tests/published/vibration.rs"]
mod vibration;

fn main() -> ExitCode {
    let parts = [
        ("air", air::checks()),
        ("flight", flight::checks()),
        ("radar flight", radar::checks()),
        ("carry", carry::checks()),
        ("energy", energy::checks()),
        ("tolerance", chrono::checks()),
        ("plate", plate::checks()),
        ("drawing", drawings::checks()),
        ("narrowest width", outlines::checks()),
        ("vibration", vibration::checks()),
        ("pendulum", pendulum::checks()),
        ("rules in print", rules::checks()),
        ("common practice", common_practice::checks()),
    ];
    println!("| what | source | status | expected | got | difference | allowed | |");
    println!("|---|---|---|---|---|---|---|---|");
    let (mut passed, mut failed) = (0, 0);
    for (part, checks) in &parts {
        for check in checks {
            let (word, counter) = if check.passes() { ("ok", &mut passed) } else { ("FAILS", &mut failed) };
            *counter += 1;
            println!(
                "| {part}: {} | {} | {} | {} | {:.6} | {:+.2e} | {:.2e} | {word} |",
                check.what,
                check.source,
                check.status,
                check.expected,
                check.got,
                check.got - check.expected,
                check.allowed
            );
        }
    }
    let all = || parts.iter().flat_map(|(_, checks)| checks);
    let of = |status: Status| all().filter(|check| check.status == status).count();
    println!(
        "\n{} comparisons with the outside: {passed} passed, {failed} failed. Of them {} read in print, {} computed by other libraries or closed forms, {} values from memory, {} of common practice.",
        passed + failed,
        of(Status::Read),
        of(Status::Computed),
        of(Status::Memory),
        of(Status::CommonPractice)
    );
    if failed == 0 && passed > 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
