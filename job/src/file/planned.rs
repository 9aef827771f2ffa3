//! What of a job file a plan is made from.

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
/// its keys; of the text as it stands where it is no TOML.
pub(crate) fn planned_sha256(text: &str) -> String {
    let planned = text.parse::<toml::Table>().map(|mut file| {
        file.retain(|table, _| !OF_THE_RECORD.contains(&table));
        file.to_string()
    });
    readings::sha256(planned.as_deref().unwrap_or(text).as_bytes())
}

#[cfg(test)]
mod tests {
    use super::planned_sha256;

    #[test]
    fn what_is_added_for_the_record_changes_no_plan_and_a_wall_does() {
        let job = "[side]\nwall = \"20 mm\"\nname = \"pipe\"\n";
        let decided = format!("# as built\n{job}\n[[disposition]]\nthermocouple = \"TC5\"\n");
        assert_eq!(planned_sha256(&decided), planned_sha256(job));
        let thicker = job.replace("20 mm", "21 mm");
        assert_ne!(planned_sha256(&thicker), planned_sha256(job));
        assert_ne!(planned_sha256("no = = toml"), planned_sha256("no = toml ="));
    }
}
