//! The rival: an independent general-purpose implicit solver (the crate `diffsol`) over the plain model, with sparse
//! matrices and their sparse factorization, its own step and order control, its own initial step, and rows from its
//! dense output. It starts anew where the load is switched.

use crate::network::{Error, Network, Phase, Rows};
use crate::plain::Plain;
use anyhow::{Result, anyhow};
use diffsol::{
    DenseMatrix, FaerSparseLU, FaerSparseMat, Matrix, OdeBuilder, OdeEquationsImplicit,
    OdeSolverMethod, OdeSolverProblem, Vector, VectorView,
};
use std::cell::RefCell;
use std::rc::Rc;
use std::time::Instant;

/// A method of the rival.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Method {
    Bdf,
    TrBdf2,
    Esdirk34,
}

impl Method {
    pub(crate) const ALL: [Self; 3] = [Self::Bdf, Self::TrBdf2, Self::Esdirk34];

    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Bdf => "BDF",
            Self::TrBdf2 => "TR-BDF2",
            Self::Esdirk34 => "ESDIRK34",
        }
    }
}

/// Work of one hour.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Effort {
    pub steps: usize,
    pub refused: usize,
    pub passes: usize,
    pub factorizations: usize,
    pub calls: u64,
    pub jacobians: u64,
    pub circuit_passes: u64,
}

/// A run made ready at one tolerance.
pub(crate) struct Run {
    pub method: Method,
    /// Relative tolerance, and the absolute one in K.
    pub tolerance: (f64, f64),
    hour: Box<dyn Fn() -> Result<(Rows, Effort)>>,
}

impl Run {
    /// Solves the hour.
    pub(crate) fn hour(&self) -> Result<(Rows, Effort)> {
        (self.hour)()
    }

    pub(crate) fn new(
        method: Method,
        network: &Network,
        plain: &Plain,
        tolerance: (f64, f64),
    ) -> Result<Self> {
        let shared = Shared {
            plain: Rc::new(RefCell::new(plain.clone())),
            start: Rc::new(RefCell::new(plain.start.clone())),
        };
        let problems = network
            .phases()
            .into_iter()
            .map(|phase| {
                let minutes: Vec<f64> = (phase.from / 60 + 1..=phase.to / 60)
                    .map(|minute| f64::from(60 * minute))
                    .collect();
                let problem =
                    problem::<FaerSparseMat<f64>>(&shared, phase, tolerance).map_err(rival)?;
                Ok((problem, minutes))
            })
            .collect::<Result<Vec<_>>>()?;
        let hour = move || {
            let first = shared.plain.borrow().start.clone();
            *shared.start.borrow_mut() = first.clone();
            let mut rows = vec![first];
            let mut effort = Effort::default();
            {
                let mut plain = shared.plain.borrow_mut();
                (plain.calls, plain.jacobians, plain.circuit_passes) = (0, 0, 0);
            }
            for (problem, minutes) in &problems {
                macro_rules! solve {
                    ($solver:ident) => {{
                        let mut solver = problem.$solver::<FaerSparseLU<f64>>().map_err(rival)?;
                        let (found, _) = solver.solve_dense(minutes).map_err(rival)?;
                        let done = solver.get_statistics();
                        effort.steps += done.number_of_steps;
                        effort.refused += done.number_of_error_test_failures
                            + done.number_of_nonlinear_solver_fails;
                        effort.passes += done.number_of_nonlinear_solver_iterations;
                        effort.factorizations += done.number_of_linear_solver_setups;
                        for column in 0..minutes.len() {
                            rows.push(found.column(column).into_owned().clone_as_vec());
                        }
                    }};
                }
                match method {
                    Method::Bdf => solve!(bdf),
                    Method::TrBdf2 => solve!(tr_bdf2),
                    Method::Esdirk34 => solve!(esdirk34),
                }
                if let Some(last) = rows.last() {
                    shared.start.borrow_mut().copy_from_slice(last);
                }
            }
            let plain = shared.plain.borrow();
            effort.calls = plain.calls;
            effort.jacobians = plain.jacobians;
            effort.circuit_passes = plain.circuit_passes;
            Ok((rows, effort))
        };
        Ok(Self {
            method,
            tolerance,
            hour: Box::new(hour),
        })
    }
}

/// The model and where the next phase starts, shared by the closures of all phases.
struct Shared {
    plain: Rc<RefCell<Plain>>,
    start: Rc<RefCell<Vec<f64>>>,
}

fn rival(error: diffsol::error::DiffsolError) -> anyhow::Error {
    anyhow!("the general solver: {error}")
}

type Problem<E> = Result<OdeSolverProblem<E>, diffsol::error::DiffsolError>;

fn problem<M: Matrix<T = f64> + 'static>(
    shared: &Shared,
    phase: Phase,
    (relative, absolute): (f64, f64),
) -> Problem<impl OdeEquationsImplicit<M = M, V = M::V, T = f64, C = M::C> + use<M>> {
    let count = shared.start.borrow().len();
    let (slopes, product) = (Rc::clone(&shared.plain), Rc::clone(&shared.plain));
    let start = Rc::clone(&shared.start);
    OdeBuilder::<M>::new()
        .t0(f64::from(phase.from))
        .rtol(relative)
        .atol([absolute])
        .rhs_implicit(
            move |x: &[f64], _: &[f64], _, y: &mut [f64]| {
                let mut plain = slopes.borrow_mut();
                plain.on = phase.on;
                plain.slopes(x, y);
            },
            move |x: &[f64], _: &[f64], _, v: &[f64], y: &mut [f64]| {
                let mut plain = product.borrow_mut();
                plain.on = phase.on;
                plain.jacobian_times(x, v, y);
            },
        )
        .init(
            move |_: &[f64], _, y: &mut [f64]| y.copy_from_slice(&start.borrow()),
            count,
        )
        .build()
}

/// The fastest run of a method whose errors are at most `goal`, out of tolerances tightened by the root of two and
/// three ratios of absolute to relative tolerance; none where the tightest does not reach it.
pub(crate) fn fastest(
    method: Method,
    network: &Network,
    plain: &Plain,
    reference: &Rows,
    goal: Error,
) -> Result<Option<Run>> {
    const STEP: f64 = std::f64::consts::FRAC_1_SQRT_2;
    /// Runs looked at beyond the first that reaches the goal: errors do not fall evenly.
    const BEYOND: usize = 3;
    let mut best: Option<(f64, Run)> = None;
    for kelvin_per_share in [1.0, 30.0, 1000.0] {
        // Loosest where tenths of a kelvin are let pass.
        let mut absolute = (goal.largest * 100.0).min(1.0);
        let mut beyond = 0;
        while absolute > goal.largest * 1e-4 && beyond <= BEYOND {
            let run = Run::new(
                method,
                network,
                plain,
                (absolute / kelvin_per_share, absolute),
            )?;
            // A tolerance too loose to get through is only one more that does not reach the goal.
            let begin = Instant::now();
            let solved = run.hour();
            let seconds = begin.elapsed().as_secs_f64();
            if let Ok((rows, _)) = solved
                && Error::of(&rows, reference).within(&goal)
            {
                beyond += 1;
                if best.as_ref().is_none_or(|(least, _)| seconds < *least) {
                    best = Some((seconds, run));
                }
            } else if beyond > 0 {
                beyond += 1;
            }
            absolute *= STEP;
        }
    }
    Ok(best.map(|(_, run)| run))
}
