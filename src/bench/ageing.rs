//! Times 64 futures of 1, 3 and 10 years of the kiln room, and prints how often each torque brings the lug back.

use anyhow::{Result, anyhow};
use faultwright_sim::ageing::{Futures, Usage, futures};
use faultwright_sim::{Change, Copper, Equipment, Particulars, Site, Termination};
use std::io::Write;
use std::path::Path;
use std::sync::Arc;
use std::time::Instant;

const YEARS: [u32; 3] = [1, 3, 10];
const FUTURES: u32 = 64;
const ROUNDS: usize = 7;
/// Futures for the counts, which are then told of 64.
const MANY: u32 = 1280;

/// Prints the table.
pub(crate) fn print(out: &mut impl Write) -> Result<()> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios/sites/kiln-room.ron");
    let text = std::fs::read_to_string(&file)?;
    let site = Site::parse("kiln-room.ron", &text).map_err(|problems| anyhow!("{problems:?}"))?;
    let port = site.thing("q2.a").ok_or_else(|| anyhow!("no q2.a"))?;
    let site = Arc::new(site);
    let usage = Usage::of(&site);
    let healthy = Equipment::new(site, &Particulars::default());
    let spec = *healthy
        .port_spec(port)
        .ok_or_else(|| anyhow!("q2.a is no port"))?;
    let with = |termination: Termination| {
        let mut equipment = healthy.clone();
        equipment.apply(&Change::Terminate { port, termination });
        equipment
    };
    let mut rows = vec![("as built, years in service".to_owned(), healthy.clone())];
    for percent in [100.0, 80.0, 60.0, 40.0, 25.0, 10.0, 0.0] {
        let termination = Termination {
            torque_nm: 0.01 * percent * spec.torque_nm,
            ..Termination::fresh(&spec)
        };
        rows.push((
            format!("lug made to {percent} % of torque"),
            with(termination),
        ));
    }
    for (name, copper) in [("dark", Copper::Dark), ("sanded", Copper::Sanded)] {
        let termination = Termination {
            copper,
            ..Termination::fresh(&spec)
        };
        rows.push((format!("lug made with {name} copper"), with(termination)));
    }
    writeln!(
        out,
        "\n64 futures of 1, 3 and 10 years of the kiln room, one core; counts of 64 from {MANY}\n\n{:<32}{:>10}{:>10}{:>9}{:>9}{:>9}",
        "", "least ms", "median ms", "1 year", "3 years", "10 years"
    )?;
    for (name, equipment) in &rows {
        let mut times: Vec<f64> = (0..ROUNDS)
            .map(|_| {
                let begin = Instant::now();
                std::hint::black_box(futures(equipment, &usage, 1, &YEARS, FUTURES));
                1e3 * begin.elapsed().as_secs_f64()
            })
            .collect();
        times.sort_by(f64::total_cmp);
        let [one, three, ten] = of_64(&futures(equipment, &usage, 2, &YEARS, MANY));
        writeln!(
            out,
            "{name:<32}{:>10.1}{:>10.1}{one:>9.1}{three:>9.1}{ten:>9.1}",
            times[0],
            times[ROUNDS / 2]
        )?;
    }
    Ok(())
}

fn of_64(futures: &Futures) -> [f64; 3] {
    let mut shares = [0.0; 3];
    for (share, span) in shares.iter_mut().zip(&futures.spans) {
        *share = 64.0 * f64::from(span.back) / f64::from(futures.of);
    }
    shares
}
