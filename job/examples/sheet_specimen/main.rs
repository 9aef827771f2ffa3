//! Writes the document of a plan whose predicted numbers are invented, to look at its pages: `sheet_specimen JOB DIRECTORY`.

mod fixture;

use job::sheet::plan_sheet;
use report::{Moment, Paper};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut arguments = std::env::args().skip(1);
    let (Some(job), Some(directory)) = (arguments.next(), arguments.next()) else {
        return Err("usage: sheet_specimen JOB DIRECTORY".into());
    };
    let directory = std::path::PathBuf::from(directory);
    std::fs::create_dir_all(&directory)?;
    let invented = fixture::Invented::of(&std::fs::read_to_string(&job)?, &job)?;
    for (paper, name) in [(Paper::A4, "a4"), (Paper::Letter, "letter")] {
        let sheet = plan_sheet(&invented.plan(paper));
        for fit in report::one_page_fits(&sheet)? {
            println!("{name}: {:.0} of {:.0} mm", fit.needed_mm, fit.available_mm);
        }
        let created = Moment {
            year: 2026,
            month: 1,
            day: 5,
            hour: 8,
            minute: 0,
            second: 0,
            utc_offset_minutes: 0,
        };
        let bytes = report::pdf(&sheet, &[], created)?;
        std::fs::write(directory.join(format!("plan-{name}.pdf")), bytes)?;
        std::fs::write(
            directory.join(format!("plan-{name}.html")),
            report::html(&sheet),
        )?;
    }
    Ok(())
}
