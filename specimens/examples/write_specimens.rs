//! Writes a folder of mixed logs for a trial: `cargo run -p specimens --example write_specimens -- FOLDER`.
//!
//! Company, people, job and readings are invented. Beside each log stands what is true of it.

use std::fmt::Write as _;
use std::path::Path;

use specimens::dialects::ALL;
use specimens::situations;

const ABOUT: &str = "Logs of Harrow & Pike Site Services, a company that does not exist, on a job that never was.\n\
                     All names and readings are invented; nothing here says anything about real steel.\n\n\
                     Cycle card: hold 600 to 650 C for 2 h, 150 K/h above 300 C both ways, spread 40 K.\n\n";

fn main() -> std::io::Result<()> {
    let folder = std::env::args()
        .nth(1)
        .unwrap_or("specimens-written".to_owned());
    let mut about = ABOUT.to_owned();
    for (index, situation) in situations::all().iter().enumerate() {
        let dialect = &ALL[index % ALL.len()];
        let place = Path::new(&folder).join(format!("{:02}-{}", index + 1, dialect.id));
        std::fs::create_dir_all(&place)?;
        for sheet in (dialect.write)(&situation.record()).sheets {
            std::fs::write(place.join(&sheet.name), sheet.bytes())?;
        }
        let _ = writeln!(
            about,
            "{:02}-{} ({}): {}.\n    {:?}\n    {:?}\n",
            index + 1,
            dialect.id,
            dialect.what,
            situation.what,
            situation.answer(),
            situation.expected()
        );
    }
    std::fs::write(Path::new(&folder).join("ANSWERS.txt"), about)
}
