//! What a supervisor should look at before the heat goes on.

use quantity::{Celsius, Hours, Millimeters};

use crate::controller::Controller;
use crate::prepare::Prepared;
use crate::record::Record;
use crate::setup::Setup;
use crate::words::{length, temperature};

/// The cautions of a plan.
pub fn cautions(
    setup: &Setup,
    prepared: &Prepared,
    record: &Record,
    controller: &Controller,
) -> Vec<String> {
    let mut list = Vec::new();
    let degrees = |c: f64| temperature(Celsius::from_c(c), setup.units);
    add_materials(&mut list, setup);
    add_source(&mut list, setup, record, controller);
    add_soak(&mut list, setup, record, controller);
    for neighbor in &record.neighbors {
        if let Some(limit_c) = neighbor
            .limit_c
            .filter(|limit_c| neighbor.highest_c > *limit_c)
        {
            list.push(format!(
                "{} reaches {} and bears {}: move or cool it, or shorten the blanket on its side",
                neighbor.name,
                degrees(neighbor.highest_c),
                degrees(limit_c)
            ));
        }
    }
    let cable = &setup.cable;
    let bend_mm = prepared
        .coil
        .rings
        .iter()
        .map(|ring| ring.radius_m * 1e3)
        .fold(f64::INFINITY, f64::min);
    if bend_mm < cable.min_bend_radius_mm.value {
        list.push(format!(
            "turns of {} radius are sharper than {} is said to bear ({}): take a thinner one",
            length(Millimeters::from_mm(bend_mm), setup.units),
            cable.name,
            length(
                Millimeters::from_mm(cable.min_bend_radius_mm.value),
                setup.units
            )
        ));
    }
    let beyond = setup.blanket.reach.iter().zip(prepared.joint.lengths_m);
    if beyond
        .clone()
        .any(|(reach, length_m)| reach.m() > length_m + 1e-6)
    {
        list.push(
            "the blanket is longer than the pipe on one side: what lies beyond is not modeled"
                .into(),
        );
    }
    list
}

fn add_materials(list: &mut Vec<String>, setup: &Setup) {
    let set_point_c = setup.programme.set_point.c();
    let degrees = |c: f64| temperature(Celsius::from_c(c), setup.units);
    let set_point = degrees(set_point_c);
    for side in &setup.joint.sides {
        if set_point_c > side.metal.covers_to_c {
            list.push(format!(
                "the data of {} are meant up to {}, the set point is {set_point}",
                side.metal.name,
                degrees(side.metal.covers_to_c)
            ));
        }
    }
    let blanket = &setup.blanket.material;
    if set_point_c > blanket.limit_c.value {
        list.push(format!(
            "{} bears {} in continuous use, the set point is {set_point}",
            blanket.name,
            degrees(blanket.limit_c.value)
        ));
    }
    let cable = &setup.cable;
    if set_point_c > cable.max_work_temperature_c.value {
        list.push(format!(
            "{} is used for work up to {}, the set point is {set_point}: take a cable that is cooled",
            cable.name,
            degrees(cable.max_work_temperature_c.value)
        ));
    }
    list.dedup();
}

fn add_source(list: &mut Vec<String>, setup: &Setup, record: &Record, controller: &Controller) {
    if let Some(short) = record.source().first_shortfall {
        list.push(format!(
            "the source falls behind in {} at {}: {} is reached",
            short.stage.words(),
            temperature(Celsius::from_c(short.control_c), setup.units),
            short.limit.words()
        ));
    }
    if controller.given_up {
        list.push("heating was given up: the set point or the hold range is not reached with this source and coil".into());
    }
}

fn add_soak(list: &mut Vec<String>, setup: &Setup, record: &Record, controller: &Controller) {
    if controller.began_without_monitors {
        list.push(
            "a monitor of the soak band does not come into the hold range in time: the hold is counted by the control \
             thermocouples"
                .into(),
        );
    }
    let soak = record.soak();
    if soak.hold_from_s.is_some() && !soak.inside_whole_hold {
        let lag = match soak.lag_s {
            Some(lag_s) if lag_s > 0.0 => format!(
                "its last place comes into the range {:.0} min after the clock starts",
                lag_s / 60.0
            ),
            Some(_) => "it leaves the range during the hold".into(),
            None => "its last place never comes into the range".into(),
        };
        // What counts is the time that all of it is inside: that may be enough although some place comes in late.
        let asked_for = setup.programme.hold_time;
        let asked = asked_for.words();
        let enough = if soak.time_inside_h >= asked_for.h() {
            format!("still long enough, {asked} asked for")
        } else {
            format!("too short, {asked} asked for")
        };
        let [coldest, hottest] = [&soak.coldest, &soak.hottest]
            .map(|spot| temperature(Celsius::from_c(spot.temperature_c), setup.units));
        list.push(format!(
            "all of the soak band, bore included, is inside the hold range for {}, {enough}: {lag} ({coldest} to \
             {hottest} during the hold)",
            Hours::from_h(soak.time_inside_h).words()
        ));
    }
}
