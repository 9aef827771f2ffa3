//! Reading a TOML file with its line numbers, so that every fault can be told at once and at its place.
//!
//! A reader asks a [`Table`] for keys and gets `None` where something is wrong: what was wrong is already noted in
//! [`Faults`]. Read every field first and only then combine them with `?`, so that one fault does not hide the next.
//! [`Table::finish`] then names every key that nobody asked for.
//!
//! ```
//! use job::toml_reader::{Faults, Table};
//!
//! let text = "title = \"a pipe\"\nfrequency_khz = 8\n";
//! let faults = Faults::new("pipe.toml", text);
//! let parsed = faults.parse(text);
//! let root = Table::root(&parsed, &faults);
//! let title = root.need("title", "a text").and_then(|value| value.text());
//! let frequency_hz = root.get("frequency_hz").and_then(|value| value.number_above(0.0));
//! root.finish();
//! assert_eq!((title, frequency_hz), (Some("a pipe"), None));
//! let found = faults.into_list();
//! assert_eq!((found.len(), found[0].line), (1, 2));
//! ```

mod fault;
mod nearest;
mod table;
mod value;

pub use fault::{Fault, Faults};
pub use nearest::nearest;
pub use table::Table;
pub use value::Value;
