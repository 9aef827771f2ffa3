//! Prints what `docs/` says of `plan.json`, made from its types:
//! `cargo run -p job --example plan_json_keys -- page | schema`.

fn main() {
    match std::env::args().nth(1).as_deref() {
        Some("schema") => println!("{:#}", job::plan_json::schema()),
        _ => print!("{}", job::plan_json::page()),
    }
}
