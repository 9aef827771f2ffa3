//! Words between the readings of a log as events that checks understand.

use checks::{Event, Happening};
use readings::Log;

/// Words for the power in loggers' files (common practice, no source).
const POWER: [&str; 4] = ["power", "pwr", "mains", "supply"];
/// Words for its going.
const OFF: [&str; 6] = ["fail", "off", "loss", "lost", "trip", "down"];
/// Words for its coming.
const ON: [&str; 4] = ["on", "restored", "back", "return"];
/// Words for the begin of a hold.
const BEGIN: [&str; 3] = ["start", "begin", "on"];
/// Words for its end.
const END: [&str; 4] = ["stop", "end", "off", "complete"];
/// Words for a hold.
const HOLD: [&str; 2] = ["hold", "soak"];

/// The events of a log.
pub(super) fn events(log: &Log) -> Vec<Event> {
    log.events
        .iter()
        .map(|event| Event {
            elapsed: event.elapsed,
            what: happening(&event.text),
        })
        .collect()
}

fn happening(text: &str) -> Happening {
    let lower = text.to_lowercase();
    let says = |words: &[&str]| {
        lower.split(|c: char| !c.is_alphanumeric()).any(|token| {
            words.contains(&token) || words.iter().any(|w| w.len() > 3 && token.starts_with(w))
        })
    };
    match (says(&POWER), says(&HOLD)) {
        (true, _) if says(&["check", "test"]) => Happening::PowerOffCheck,
        (true, _) if says(&OFF) => Happening::PowerOff,
        (true, _) if says(&ON) => Happening::PowerOn,
        (_, true) if says(&END) => Happening::HoldStop,
        (_, true) if says(&BEGIN) => Happening::HoldStart,
        _ => Happening::Remark(text.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use checks::Happening;

    use super::happening;

    #[test]
    fn words_of_loggers() {
        assert_eq!(happening("PWR FAIL"), Happening::PowerOff);
        assert_eq!(happening("Power restored"), Happening::PowerOn);
        assert_eq!(happening("power off check"), Happening::PowerOffCheck);
        assert_eq!(happening("HOLD START"), Happening::HoldStart);
        assert_eq!(happening("Soak end"), Happening::HoldStop);
        assert_eq!(happening("rain"), Happening::Remark("rain".into()));
    }
}
