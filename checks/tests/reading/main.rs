//! What a person may rely on when a chart is read.

mod attempts;
mod cycles;
mod failing;
mod filtered;
mod honest;
mod known_answers;
mod laws;
mod page;
mod silence;
mod table;
mod zones;
