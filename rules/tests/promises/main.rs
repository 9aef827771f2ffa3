//! What the room promises its users.

mod bake_out;
mod bands;
mod cautions;
mod confirmed;
mod exposure;
mod families;
mod laws;
mod layout;
mod levels;
mod preheat_method_b;
mod preheat_others;
mod preheat_tables;
mod requirement;
mod rows;
mod standing;
mod thresholds;
mod time_temperature;
mod two_sides;
mod us_column;
mod us_jobs;
mod welds;
mod worked;
