//! A reason that was told of one number is not told again of the next.

/// The reasons that were told, each with the number of which it was.
#[derive(Debug, Default)]
pub(crate) struct ToldOnce(Vec<(String, String)>);

impl ToldOnce {
    /// The reason as it is told of a number with this name.
    pub(crate) fn once(&mut self, reason: &str, of: &str) -> String {
        match self.0.iter().find(|(told, _)| told == reason) {
            Some((_, first)) => format!("for the same reason as the {first}"),
            None => {
                self.0.push((reason.to_owned(), of.to_owned()));
                reason.to_owned()
            }
        }
    }
}
