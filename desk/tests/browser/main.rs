//! The pages in a real browser: Debian's Chromium, driven by its own driver.
//!
//! Without one, the tests say so and do nothing; with `DESK_BROWSER=required` they fail instead. With
//! `DESK_SCREENSHOTS=FOLDER` every page that they pass is kept as a picture.

mod answers;
mod audit;
mod beside;
mod clear;
mod coil;
mod decide;
mod driver;
mod first_visit;
mod form;
mod looks;
mod paths;
mod phone;
mod record;
