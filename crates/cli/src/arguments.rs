//! The command line.

mod choices;

pub(crate) use choices::*;
use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;

/// Finds the laws of a pool's circulation from a step test: what to trust, where water is cheapest, which limit binds.
#[derive(Debug, Parser)]
#[command(name = "headwright", version, max_term_width = 100)]
pub(crate) struct Line {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Make a site file and an empty test, ready to fill in.
    New(NewArguments),
    /// Plan a step test: which speeds, in which order, how far up, and what each meter should read.
    Plan(PlanArguments),
    /// Say what is wrong in a site and its tests; exit 1 when an error stands.
    Check(PadArguments),
    /// Analyse the step tests of a site.
    Analyze(AnalyzeArguments),
    /// Find the cheapest day: which speeds at which hours.
    Schedule(ScheduleArguments),
    /// Say what changed since the first visit: the filter, the suction, the returns, the pump, a valve.
    Track(TrackArguments),
    /// Find the cheapest program of every day of a year, at its own prices.
    Year(YearArguments),
    /// Say what changes of the pad would save, and whether they are worth their cost.
    Compare(CompareArguments),
    /// Write the report that is handed over: a page for the owner, the rest for the next technician.
    Report(ReportArguments),
    /// Compute the head lost in one run of pipe.
    Loss(LossArguments),
    /// Solve the whole pad at one speed: what flows where, what each part takes, which limit binds.
    Solve(SolveArguments),
    /// Analyse a made-up pad, to see what comes out.
    Demo(DemoArguments),
    /// Put a site and its tests into one zip file, to be carried to another phone or computer.
    Export(ExportArguments),
    /// Take a site and its tests out of the zip file that `export` made of them.
    Import(ImportArguments),
    /// Serve the page to the browsers of this machine.
    Serve(ServeArguments),
    /// Print completions for a shell.
    Completions {
        /// The shell.
        shell: clap_complete::Shell,
    },
    /// Print a manual page.
    Man {
        /// The command that it is about; absent, the whole.
        about: Option<String>,
    },
}

impl Command {
    /// The language that was asked for, in which is told too why there is no answer.
    pub(crate) fn language(&self) -> records::Language {
        let print = match self {
            Self::Plan(of) => Some(of.answer.print),
            Self::Check(of) => Some(of.answer.print),
            Self::Analyze(of) => Some(of.answer.print),
            Self::Schedule(of) => Some(of.answer.print),
            Self::Track(of) => Some(of.answer.print),
            Self::Year(of) => Some(of.answer.print),
            Self::Compare(of) => Some(of.answer.print),
            Self::Report(of) => Some(of.print),
            Self::Loss(of) => Some(of.answer.print),
            Self::Solve(of) => Some(of.answer.print),
            Self::Demo(of) => Some(of.answer.print),
            Self::New(_)
            | Self::Export(_)
            | Self::Import(_)
            | Self::Serve(_)
            | Self::Completions { .. }
            | Self::Man { .. } => None,
        };
        let language = print.and_then(|print| print.language);
        language.map(Into::into).unwrap_or_default()
    }
}

/// How the words and numbers of an answer are printed.
#[derive(Args, Clone, Copy, Debug)]
pub(crate) struct PrintArguments {
    /// Print in these units rather than the site's own.
    #[arg(long, value_enum)]
    pub(crate) units: Option<Units>,
    /// Answer in this language; absent, in English.
    #[arg(long, value_enum)]
    pub(crate) language: Option<Language>,
}

/// How an answer is given.
#[derive(Args, Clone, Copy, Debug)]
pub(crate) struct AnswerArguments {
    /// Give the answer as JSON, in SI units.
    #[arg(long)]
    pub(crate) json: bool,
    #[command(flatten)]
    pub(crate) print: PrintArguments,
}

#[derive(Args, Debug)]
#[command(after_help = "Example: headwright new \"Larkspur Lane\" --units us")]
pub(crate) struct NewArguments {
    /// What you call the site; a folder of that name is made.
    pub(crate) name: String,
    /// The folder to make instead.
    #[arg(long)]
    pub(crate) folder: Option<PathBuf>,
    /// The units of the site.
    #[arg(long, value_enum, default_value = "us")]
    pub(crate) units: Units,
}

#[derive(Args, Debug)]
#[command(after_help = "\
With earlier tests the ranges are narrower. Files are never overwritten.

Examples:
  headwright plan site.toml --time \"60 min\" --sheet sheet.html --readings 2026-05-16.csv
  headwright plan site.toml 2026-05-16.toml --time \"90 min\"")]
pub(crate) struct PlanArguments {
    /// The site file.
    pub(crate) site: PathBuf,
    /// Earlier test files, in the order of time.
    pub(crate) tests: Vec<PathBuf>,
    /// The time at the pad.
    #[arg(long, default_value = "60 min")]
    pub(crate) time: String,
    /// A line that is shut. Name as many as there are.
    #[arg(long, value_name = "LINE")]
    pub(crate) closed: Vec<String>,
    /// A line that is part-open. Name as many as there are.
    #[arg(long, value_name = "LINE")]
    pub(crate) throttled: Vec<String>,
    /// Write the empty readings, with the planned speeds, to this file.
    #[arg(long, value_name = "FILE")]
    pub(crate) readings: Option<PathBuf>,
    /// Write a sheet to print and to fill in with a pencil, as an HTML file.
    #[arg(long, value_name = "FILE")]
    pub(crate) sheet: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) answer: AnswerArguments,
}

#[derive(Args, Debug)]
#[command(after_help = "Example: headwright check site.toml 2026-05-16.toml")]
pub(crate) struct PadArguments {
    /// The site file.
    pub(crate) site: PathBuf,
    /// The test files, in the order of time.
    pub(crate) tests: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) answer: AnswerArguments,
}

#[derive(Args, Debug)]
#[command(after_help = "Example: headwright analyze site.toml 2026-05-16.toml --units si")]
pub(crate) struct AnalyzeArguments {
    /// The site file.
    pub(crate) site: PathBuf,
    /// The test files, in the order of time.
    #[arg(required = true)]
    pub(crate) tests: Vec<PathBuf>,
    /// Say what the uncertainty of one answer of the last test is made of: `flow@1000rpm`, `power@...`,
    /// `energy@...`, `fixed-draw` or `exponent`.
    #[arg(long, value_name = "ANSWER")]
    pub(crate) why: Option<String>,
    /// Draw the errors behind the last test by the hundred thousand, and set the answers beside those of the analysis.
    #[arg(long, conflicts_with = "why")]
    pub(crate) monte_carlo: bool,
    /// Say where the head is lost at this speed rather than at the fastest step: the stated plumbing is calibrated by all
    /// readings.
    #[arg(long, value_name = "SPEED", conflicts_with_all = ["why", "monte_carlo"])]
    pub(crate) at: Option<String>,
    /// Say which reading that was not taken would narrow one answer most: `total head`, `suction share`, `return share`,
    /// `fixed draw`, `cheapest speed`, the name of a line, or `LINE, part 3`.
    #[arg(long, value_name = "ANSWER", conflicts_with_all = ["why", "monte_carlo"])]
    pub(crate) to_learn: Option<String>,
    #[command(flatten)]
    pub(crate) figures: FigureArguments,
    #[command(flatten)]
    pub(crate) answer: AnswerArguments,
}

#[derive(Args, Debug)]
#[command(after_help = "\
The laws are those of the last test; demands and tariff stand in the site file below [operation].

Examples:
  headwright schedule site.toml 2026-05-16.toml
  headwright schedule site.toml 2026-05-16.toml --date 2026-07-04 --json")]
pub(crate) struct ScheduleArguments {
    /// The site file.
    pub(crate) site: PathBuf,
    /// The test files, in the order of time.
    #[arg(required = true)]
    pub(crate) tests: Vec<PathBuf>,
    /// The day to plan for, such as 2026-07-04, where the tariff has seasons or kinds of day; absent, that of the last
    /// test.
    #[arg(long)]
    pub(crate) date: Option<String>,
    /// What is made least; absent, cost where there is a tariff, else energy.
    #[arg(long, value_enum)]
    pub(crate) least: Option<Least>,
    /// The grid of times at which the program may change, in minutes.
    #[arg(long, value_name = "MINUTES", default_value_t = 30, value_parser = clap::value_parser!(u32).range(5..=240))]
    pub(crate) grid: u32,
    #[command(flatten)]
    pub(crate) figures: FigureArguments,
    #[command(flatten)]
    pub(crate) answer: AnswerArguments,
}

#[derive(Args, Debug)]
#[command(after_help = "\
Each later test is held against the baseline by the plumbing that the site file states.

Examples:
  headwright track site.toml 2026-05-16.toml 2026-07-20.toml
  headwright track site.toml 2026-05-16.toml 2026-06-02.toml --baseline 2026-06-02 --figures figures")]
pub(crate) struct TrackArguments {
    /// The site file.
    pub(crate) site: PathBuf,
    /// The test files: the baseline, and the later ones.
    #[arg(required = true)]
    pub(crate) tests: Vec<PathBuf>,
    /// The test that the others are held against; absent, the first that is named.
    #[arg(long, value_name = "TEST")]
    pub(crate) baseline: Option<String>,
    #[command(flatten)]
    pub(crate) figures: FigureArguments,
    #[command(flatten)]
    pub(crate) answer: AnswerArguments,
}

/// How a year is planned.
#[derive(Args, Clone, Debug)]
pub(crate) struct OfYear {
    /// The year; absent, that of the last test.
    #[arg(long, value_parser = clap::value_parser!(u16).range(1970..=2200))]
    pub(crate) year: Option<u16>,
    /// What is made least; absent, cost where there is a tariff, else energy.
    #[arg(long, value_enum)]
    pub(crate) least: Option<Least>,
    /// The grid of times at which a program may change, in minutes.
    #[arg(long, value_name = "MINUTES", default_value_t = 30, value_parser = clap::value_parser!(u32).range(5..=240))]
    pub(crate) grid: u32,
    /// The day and the time by the clock at which it is put forward by an hour, such as "2026-03-08 02:00".
    #[arg(long, value_name = "DAY TIME")]
    pub(crate) clock_forward: Option<String>,
    /// The day and the time by the clock at which it is put back by an hour, such as "2026-11-01 02:00".
    #[arg(long, value_name = "DAY TIME")]
    pub(crate) clock_back: Option<String>,
}

#[derive(Args, Debug)]
#[command(after_help = "\
Each distinct day of the tariff is planned once: its season, kind of day, and hours by the clock.

Examples:
  headwright year site.toml 2026-05-16.toml --csv hours.csv
  headwright year site.toml 2026-05-16.toml --clock-forward \"2026-03-08 02:00\" --clock-back \"2026-11-01 02:00\"")]
pub(crate) struct YearArguments {
    /// The site file.
    pub(crate) site: PathBuf,
    /// The test files, in the order of time.
    #[arg(required = true)]
    pub(crate) tests: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) of: OfYear,
    /// Write the year hour by hour to this file, which must not stand there yet.
    #[arg(long, value_name = "FILE")]
    pub(crate) csv: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) answer: AnswerArguments,
}

#[derive(Args, Debug)]
#[command(after_help = "\
A change is a small file: a name, what it costs, and what it changes. Parts are counted from 1.

  format = 1
  name = \"Larger returns\"
  capital = \"640 USD\"
  life = \"25 years\"
  [[part]]
  line = \"return 1\"
  part = 1
  is = { pipe = \"2 in\", spec = \"PVC Sch 40\", length = \"52 ft\" }

It may have [[line]] (added, or put in the place of the one of its name), [pump], filter = \"clean\",
program = [ ... ] (run as stated) and maintenance = \"20 USD/year\". Below [operation], [limits] and [water] stand keys
of the site file that change; those not stated stay, and a list is emptied by [ ].

Example: headwright compare site.toml 2026-05-16.toml --change larger-returns.toml clean-filter.toml")]
pub(crate) struct CompareArguments {
    /// The site file.
    pub(crate) site: PathBuf,
    /// The test files, in the order of time.
    #[arg(required = true)]
    pub(crate) tests: Vec<PathBuf>,
    /// The files of the changes.
    #[arg(long, value_name = "FILE", required = true, num_args = 1..)]
    pub(crate) change: Vec<PathBuf>,
    /// The name of the change that savings are against, rather than the program as found: one that states a program.
    #[arg(long, value_name = "NAME")]
    pub(crate) against: Option<String>,
    #[command(flatten)]
    pub(crate) of: OfYear,
    #[command(flatten)]
    pub(crate) figures: FigureArguments,
    #[command(flatten)]
    pub(crate) answer: AnswerArguments,
}

#[derive(Args, Debug)]
#[command(after_help = "\
The first page is for the owner, in plain words; what follows is for the next technician. The program is that of
`schedule`, the head budget that of `analyze --at` at the highest speed tested. Nothing is overwritten.

A profile file says whose report it is; all of it may be left out:
  format = 1
  business = \"...\"
  licence = \"...\"
  technician = \"...\"
  contact = [\"...\", \"...\"]
  language = \"es\"
  logo = \"logo.png\"

Examples:
  headwright report site.toml 2026-05-16.toml -o report.html
  headwright report site.toml 2026-05-16.toml -o report.pdf --paper a4 --profile profile.toml
  headwright report site.toml 2026-05-16.toml -o informe.pdf --language es-US
  headwright report site.toml 2026-05-16.toml -o report.html --change larger-returns.toml clean-filter.toml
  headwright report --all pads -o reports --as pdf")]
pub(crate) struct ReportArguments {
    /// The site file.
    #[arg(required_unless_present = "all", conflicts_with = "all")]
    pub(crate) site: Option<PathBuf>,
    /// The test files, in the order of time; the report is about the last, and says what changed since the first.
    #[arg(required_unless_present = "all")]
    pub(crate) tests: Vec<PathBuf>,
    /// The file to make: `.html`, `.pdf` or `.txt`; absent, the report is printed as text. With --all, the folder.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// The files of changes that the report weighs, as `compare` does.
    #[arg(long, value_name = "FILE", num_args = 1.., conflicts_with = "all")]
    pub(crate) change: Vec<PathBuf>,
    /// Write a report of every site below this folder: of each site.toml with the test files beside it.
    #[arg(long, value_name = "FOLDER", requires = "output")]
    pub(crate) all: Option<PathBuf>,
    /// With --all, what each report is written as; absent, HTML.
    #[arg(long = "as", value_name = "KIND", value_enum, requires = "all")]
    pub(crate) written_as: Option<Written>,
    /// Whose report it is: business, licence, contact and logo.
    #[arg(long, value_name = "FILE")]
    pub(crate) profile: Option<PathBuf>,
    /// The paper that it is printed on; absent, letter with US units and A4 with SI ones or in
    /// Spanish.
    #[arg(long, value_enum)]
    pub(crate) paper: Option<Paper>,
    /// The date of the report, such as 2026-07-04; absent, today.
    #[arg(long)]
    pub(crate) date: Option<String>,
    #[command(flatten)]
    pub(crate) print: PrintArguments,
}

/// Which figures are written.
#[derive(Args, Clone, Debug)]
pub(crate) struct FigureArguments {
    /// Write the figures as SVG files to this folder; figures of an earlier call are replaced.
    #[arg(long = "figures", value_name = "FOLDER")]
    pub(crate) folder: Option<PathBuf>,
    /// The ground of the figures: for paper, for the dark, for full sun.
    #[arg(
        long = "figure-theme",
        value_enum,
        default_value = "light",
        requires = "folder"
    )]
    pub(crate) theme: Theme,
    /// The size of the figures: for a page, or for a phone held upright.
    #[arg(
        long = "figure-size",
        value_enum,
        default_value = "wide",
        requires = "folder"
    )]
    pub(crate) size: Size,
}

#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  headwright loss --pipe \"2 in\" --spec \"PVC Sch 40\" --length \"100 ft\" --flow \"60 gpm\"
  headwright loss --pipe \"1-1/2 in\" --length \"52 ft\" --flow \"30 gpm\" --part \"6 x 90 elbow\" --part \"ball valve\"
  headwright loss --bore \"53 mm\" --length \"30 m\" --flow \"14 m3/h\" --temperature \"28 degC\" --k 4.2")]
pub(crate) struct LossArguments {
    /// Nominal size of the pipe, such as "1-1/2 in".
    #[arg(long, required_unless_present = "bore", conflicts_with = "bore")]
    pub(crate) pipe: Option<String>,
    /// Specification of the pipe.
    #[arg(long, default_value = "PVC Sch 40", conflicts_with = "bore")]
    pub(crate) spec: String,
    /// Inside diameter, where no size is named.
    #[arg(long)]
    pub(crate) bore: Option<String>,
    /// Length of the pipe.
    #[arg(long)]
    pub(crate) length: String,
    /// Volume flow.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) flow: String,
    /// Temperature of the water.
    #[arg(long, default_value = "20 degC", allow_hyphen_values = true)]
    pub(crate) temperature: String,
    /// Salt in the water.
    #[arg(long, default_value = "0 g/L")]
    pub(crate) salinity: String,
    /// Height of the wall's roughness, where it is not that of the specification.
    #[arg(long)]
    pub(crate) roughness: Option<String>,
    /// A part in the run, such as "90 elbow", "7 x 90 elbow", "ball valve", or as in a site file: 'outlet = "eyeball", bore =
    /// "0.75 in"'. Name as many as there are.
    #[arg(long, value_name = "PART")]
    pub(crate) part: Vec<String>,
    /// Minor losses: the sum of their coefficients on the velocity in this pipe.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) k: Option<f64>,
    /// The coefficient C of the Hazen-Williams formula that is printed beside.
    #[arg(long, value_name = "C", default_value_t = hydraulics::friction::PLASTIC_PIPE_C)]
    pub(crate) c: f64,
    /// The rule set whose velocities the answer is held against.
    #[arg(long, default_value = "residential")]
    pub(crate) rules: String,
    #[command(flatten)]
    pub(crate) answer: AnswerArguments,
}

#[derive(Args, Debug)]
#[command(after_help = "\
Needs the lines and the maker's curve in the site file. What comes out is computed, not measured.

Examples:
  headwright solve site.toml --speed \"2400 rpm\"
  headwright solve site.toml --speed \"2400 rpm\" --closed \"return 2\"
  headwright solve site.toml --speed \"2400 rpm\" --figures figures")]
pub(crate) struct SolveArguments {
    /// The site file.
    pub(crate) site: PathBuf,
    /// The speed of the pump.
    #[arg(long)]
    pub(crate) speed: String,
    /// A line that is shut. Name as many as there are.
    #[arg(long, value_name = "LINE")]
    pub(crate) closed: Vec<String>,
    /// Temperature of the water, where it is not that of the site file.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) temperature: Option<String>,
    #[command(flatten)]
    pub(crate) figures: FigureArguments,
    #[command(flatten)]
    pub(crate) answer: AnswerArguments,
}

#[derive(Args, Debug)]
pub(crate) struct DemoArguments {
    /// Make up another pad from this number, with one reading typed wrong.
    #[arg(long, value_name = "SEED")]
    pub(crate) random: Option<u64>,
    /// Write the demo's files to this folder, to play with; nothing is overwritten.
    #[arg(long, value_name = "FOLDER")]
    pub(crate) write: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) answer: AnswerArguments,
}

#[derive(Args, Debug)]
#[command(after_help = "\
Files go in exactly as typed, the site as site.toml, each test with the readings that it names.
Nothing is overwritten.

Examples:
  headwright export site.toml 2026-05-16.toml -o larkspur-lane.zip
  headwright export site.toml 2026-05-16.toml 2026-06-02.toml -o larkspur-lane.zip
  headwright export site.toml 2026-05-16.toml --change larger-returns.toml -o larkspur-lane.zip")]
pub(crate) struct ExportArguments {
    /// The site file.
    pub(crate) site: PathBuf,
    /// The test files.
    pub(crate) tests: Vec<PathBuf>,
    /// The files of changes that go with them.
    #[arg(long, value_name = "FILE", num_args = 1..)]
    pub(crate) change: Vec<PathBuf>,
    /// The zip file to make.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
}

#[derive(Args, Debug)]
#[command(after_help = "\
Files come out exactly as they went in. Nothing is overwritten: where one of them stands already, nothing is written.

Example: headwright import larkspur-lane.zip --into larkspur-lane")]
pub(crate) struct ImportArguments {
    /// The zip file.
    #[arg(value_name = "FILE")]
    pub(crate) bundle: PathBuf,
    /// The folder to put the files into; it is made where there is none.
    #[arg(long, value_name = "FOLDER")]
    pub(crate) into: PathBuf,
}

#[derive(Args, Debug)]
#[command(after_help = "Example: headwright serve")]
pub(crate) struct ServeArguments {
    /// The port. What is entered in a browser is kept by the address, and the port is part of it.
    #[arg(long, default_value_t = server::listen::PORT)]
    pub(crate) port: u16,
    /// Serve the page of this folder rather than the one built in.
    #[arg(long, value_name = "FOLDER")]
    pub(crate) page: Option<PathBuf>,
}
