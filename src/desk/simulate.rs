//! The truth of a job as rows: what every termination and conductor does when nobody touches anything.

use std::sync::Arc;

use faultwright_sim::{
    Change, Equipment, Happening, Mode, Site, Spot, TICKS_PER_SECOND, Thing, ThingKind, Tick,
};

use crate::check::render;
use crate::cli::{GOOD, PROBLEMS, SimulateArgs, WRONG_USE};
use crate::library::{Files, Library, Missing};
use crate::output::Output;
use crate::words::Words;

/// The command `simulate`.
pub fn command(args: &SimulateArgs, output: &mut Output<'_>) -> u8 {
    let words = Words::english();
    let files = match Library::standard().find(&args.scenario) {
        Ok(files) => files,
        Err(missing) => {
            output.remark(&words.say(&missing.say()));
            return if matches!(missing, Missing::Scenario { .. }) {
                WRONG_USE
            } else {
                PROBLEMS
            };
        }
    };
    match rows(&files, args, output) {
        Ok(()) => GOOD,
        Err(text) => {
            output.remark(&text);
            PROBLEMS
        }
    }
}

fn rows(files: &Files, args: &SimulateArgs, output: &mut Output<'_>) -> Result<(), String> {
    let job = files.job(args.seed).map_err(|problems| {
        let texts = [
            (&files.scenario_file, &files.scenario_text),
            (&files.site_file, &files.site_text),
        ];
        let shown = problems.iter().map(|problem| {
            let text = texts
                .iter()
                .find(|(file, _)| **file == problem.file)
                .map_or("", |(_, text)| text);
            render(problem, text)
        });
        shown.collect::<Vec<_>>().join("\n")
    })?;
    let site = Arc::clone(&job.site);
    let mut equipment = job.equipment();
    if args.full_power {
        for kind in [
            ThingKind::Main,
            ThingKind::Breaker,
            ThingKind::Isolator,
            ThingKind::Receptacle,
        ] {
            for part in site.of_kind(kind) {
                // A tripped handle goes over off first, as the mechanism asks.
                equipment.apply(&Change::Switch { part, on: false });
                equipment.apply(&Change::Switch { part, on: true });
            }
        }
        equipment.apply(&Change::Controller(Mode::FullPower));
    }
    let columns = Columns::of(&site);
    let mut writer = csv::Writer::from_writer(output.rows());
    let mut happened = Vec::new();
    let write = |writer: &mut csv::Writer<_>, record: Vec<String>| {
        writer.write_record(record).map_err(|e| e.to_string())
    };
    write(&mut writer, columns.header(&site))?;
    let mut tick = 0;
    loop {
        while let Some(happening) = equipment.advance(tick) {
            happened.push(happening);
        }
        write(&mut writer, columns.row(&equipment))?;
        if tick >= args.until {
            break;
        }
        tick = (tick + args.every).min(args.until);
    }
    writer.flush().map_err(|error| error.to_string())?;
    drop(writer);
    for happening in happened {
        if let Some(line) = remark(&site, happening) {
            output.line(&line);
        }
    }
    Ok(())
}

/// What stands in the columns.
struct Columns {
    cores: Vec<Thing>,
    ports: Vec<Thing>,
    boxes: Vec<Thing>,
}

impl Columns {
    fn of(site: &Site) -> Self {
        Self {
            cores: site.of_kind(ThingKind::Core).collect(),
            ports: site.of_kind(ThingKind::Port).collect(),
            boxes: site
                .of_kind(ThingKind::Board)
                .chain(site.of_kind(ThingKind::Enclosure))
                .collect(),
        }
    }

    fn header(&self, site: &Site) -> Vec<String> {
        let amps = self
            .cores
            .iter()
            .map(|core| format!("{}_A", site.name(*core)));
        let metal = self
            .ports
            .iter()
            .map(|port| format!("{}_C", site.name(*port)));
        let air = self
            .boxes
            .iter()
            .map(|boxed| format!("{}_air_C", site.name(*boxed)));
        std::iter::once("t_s".to_owned())
            .chain(amps)
            .chain(metal)
            .chain(air)
            .chain(["chamber_C".to_owned()])
            .collect()
    }

    fn row(&self, equipment: &Equipment) -> Vec<String> {
        let amps = self.cores.iter().map(|core| equipment.amps(*core));
        let metal = self
            .ports
            .iter()
            .map(|port| equipment.celsius(Spot::Metal(*port)));
        let air = self
            .boxes
            .iter()
            .map(|boxed| equipment.celsius(Spot::Air(*boxed)));
        let values = amps
            .chain(metal)
            .chain(air)
            .chain([equipment.controller().chamber_c]);
        std::iter::once(seconds_text(equipment.now()))
            .chain(values.map(|value| format!("{value:.4}")))
            .collect()
    }
}

fn remark(site: &Site, happening: Happening) -> Option<String> {
    match happening {
        Happening::Tripped { tick, part, .. } => {
            Some(format!("# trip {} {}", site.name(part), seconds_text(tick)))
        }
        _ => None,
    }
}

/// Ticks as seconds, without decimals where there are none.
pub fn seconds_text(tick: Tick) -> String {
    if tick.is_multiple_of(TICKS_PER_SECOND) {
        (tick / TICKS_PER_SECOND).to_string()
    } else {
        // Sixty-fourths have six decimals at most.
        format!("{:.6}", tick as f64 / TICKS_PER_SECOND as f64)
            .trim_end_matches('0')
            .to_owned()
    }
}
