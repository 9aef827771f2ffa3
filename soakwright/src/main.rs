//! The command line of Soakwright: arguments in, tables and files out.

mod accept;
mod board;
mod bring;
mod columns;
mod desk;
mod folder;
mod need;
mod new;
mod out;
mod plan;
mod record;
mod remove;
mod rename;
mod rest;
mod rules;
mod section;
mod set;
mod set_aside;
mod verify;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// Plans induction heat at welds, and proves it.
#[derive(Debug, Parser)]
#[command(
    name = "soakwright",
    version,
    about,
    arg_required_else_help = true,
    after_help = "Exit codes: 0 done and every limit met, 1 done and some limit not met, not judged or waiting for an answer, 2 refused \
                  or failed."
)]
struct Arguments {
    #[command(subcommand)]
    deed: Deed,
}

#[derive(Debug, Subcommand)]
enum Deed {
    /// Put a name under the last revision of a record.
    Accept(accept::Arguments),
    /// List the welds of a project with their state, and calibrations that run out.
    Board(board::Arguments),
    /// Say what a weld needs, who says so and what disagrees.
    Need(need::Arguments),
    /// Make a weld after a pattern, or many from a weld list.
    New(new::Arguments),
    /// Give a weld another number, as long as there is no record under the one that it has.
    Rename(rename::Arguments),
    /// Take a weld out of its project; nothing of it is lost.
    Remove(remove::Arguments),
    /// Copy files of a logger into the folder of a weld.
    Bring(bring::Arguments),
    /// Move a log aside that is not of the heat of a weld.
    SetAside(set_aside::Arguments),
    /// Set single values of a job file, and leave everything else in it as it was.
    Set(set::Arguments),
    /// Answer quickly what a coil does: everything at rest at the set point.
    Rest(rest::Arguments),
    /// Plan the heat of a weld from its job file.
    Plan(plan::Arguments),
    /// Open the desk: plan and prove in a browser, on this machine or on the site network.
    Desk(desk::Arguments),
    /// List the rows of the rule book, or explain one.
    Rules(rules::Arguments),
    /// Judge the files of a logger against a job or a cycle card, and write the record.
    Record(record::Arguments),
    /// Solve sections of field and heat that files state, and hold them against what the files expect.
    Section(section::Arguments),
    /// Make a record again from what it carries, and say whether everything agrees.
    Verify(verify::Arguments),
}

fn main() -> ExitCode {
    match Arguments::parse().deed {
        Deed::Accept(arguments) => accept::run(&arguments),
        Deed::Board(arguments) => board::run(&arguments),
        Deed::New(arguments) => new::run(&arguments),
        Deed::Rename(arguments) => rename::run(&arguments),
        Deed::Remove(arguments) => remove::run(&arguments),
        Deed::Bring(arguments) => bring::run(&arguments),
        Deed::SetAside(arguments) => set_aside::run(&arguments),
        Deed::Set(arguments) => set::run(&arguments),
        Deed::Rest(arguments) => rest::run(&arguments),
        Deed::Need(arguments) => need::run(&arguments),
        Deed::Plan(arguments) => plan::run(&arguments),
        Deed::Desk(arguments) => desk::run(&arguments),
        Deed::Rules(arguments) => rules::run(&arguments),
        Deed::Record(arguments) => record::run(&arguments),
        Deed::Verify(arguments) => verify::run(&arguments),
        Deed::Section(arguments) => section::run(&arguments),
    }
}
