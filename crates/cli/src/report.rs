//! How a command that can't be done says so: for people on standard error, for programs as JSON on standard output.

use std::process::ExitCode;

use scantling_pricing::measure::LengthUnit;
use scantling_pricing::problem::Problem;
use serde::Serialize;

/// Why a command was not done.
pub(crate) enum Failure {
    /// The command or a file can't be read.
    Unreadable(String),
    /// The file named first has these faults.
    Faults(String, Vec<Fault>),
}

/// One fault, and where it is.
#[derive(Serialize)]
pub(crate) struct Fault {
    /// The path in the document; empty for the whole.
    pub(crate) path: String,
    /// What is wrong and how to mend it.
    pub(crate) what: String,
}

/// What is wrong with a brief, field by field.
pub(crate) fn in_brief(problems: &[Problem]) -> Vec<Fault> {
    let fault = |problem: &Problem| Fault { path: problem.field(), what: problem.explain(LengthUnit::Inch) };
    problems.iter().map(fault).collect()
}

impl Failure {
    /// Prints it and gives the exit code.
    pub(crate) fn report(&self, json: bool) -> ExitCode {
        match self {
            Self::Unreadable(why) => {
                eprintln!("scantling: {why}");
                ExitCode::from(2)
            }
            Self::Faults(file, faults) => {
                if json {
                    println!("{}", serde_json::json!({ "file": file, "faults": faults }));
                }
                for Fault { path, what } in faults {
                    let place = if path.is_empty() { file.clone() } else { format!("{file}: {path}") };
                    eprintln!("{place}: {what}");
                }
                ExitCode::from(1)
            }
        }
    }
}
