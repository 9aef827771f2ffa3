//! Prints what `docs/` says of the job file, made from the table of keys:
//! `cargo run -p job --example job_file_keys -- page | schema`.

fn main() {
    match std::env::args().nth(1).as_deref() {
        Some("schema") => println!("{:#}", job::shape::schema()),
        _ => print!("{}", job::shape::page()),
    }
}
