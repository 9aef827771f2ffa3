//! What a plan is made from: the job file without what only a record reads, and the rows confirmed beside it.

use rules::Confirmation;

/// Tables that are filled in once the weld is heated; a plan reads none of them.
const OF_THE_RECORD: [&str; 6] = [
    "log",
    "zone",
    "person",
    "equipment",
    "accepted",
    "disposition",
];

/// SHA-256 of a job file without the tables that only a record reads, and without its comments, blanks and the order of
/// its keys; of the text as it stands where it is no TOML. Rows that are confirmed with what they say count, not who said so.
pub(crate) fn planned_sha256(text: &str, confirmed: &[Confirmation]) -> String {
    let planned = text.parse::<toml::Table>().map(|mut file| {
        file.retain(|table, _| !OF_THE_RECORD.contains(&table));
        file.to_string()
    });
    let rows = confirmed
        .iter()
        .map(|one| format!("\n{} {:?} {:?}", one.row, one.value, one.units));
    let from: String = std::iter::once(planned.unwrap_or_else(|_| text.to_owned()))
        .chain(rows)
        .collect();
    readings::sha256(from.as_bytes())
}

#[cfg(test)]
mod tests {
    use quantity::Units;
    use rules::Confirmation;

    use super::planned_sha256;

    #[test]
    fn what_is_added_for_the_record_changes_no_plan_and_a_wall_does() {
        let job = "[side]\nwall = \"20 mm\"\nname = \"pipe\"\n";
        let decided = format!("# as built\n{job}\n[[disposition]]\nthermocouple = \"TC5\"\n");
        assert_eq!(planned_sha256(&decided, &[]), planned_sha256(job, &[]));
        let thicker = job.replace("20 mm", "21 mm");
        assert_ne!(planned_sha256(&thicker, &[]), planned_sha256(job, &[]));
        let no_toml = |text: &str| planned_sha256(text, &[]);
        assert_ne!(no_toml("no = = toml"), no_toml("no = toml ="));
    }

    #[test]
    fn a_row_that_is_confirmed_changes_the_plan_and_who_did_so_does_not() {
        let job = "[side]\nwall = \"20 mm\"\n";
        let by = |name: &str| Confirmation {
            row: "en13480-4/heating".into(),
            value: None,
            units: Units::Si,
            by: name.into(),
            on: "2026-01-31".into(),
            note: None,
        };
        let confirmed = planned_sha256(job, &[by("I. Varga")]);
        assert_ne!(confirmed, planned_sha256(job, &[]));
        assert_eq!(confirmed, planned_sha256(job, &[by("M. Okoro")]));
    }
}
