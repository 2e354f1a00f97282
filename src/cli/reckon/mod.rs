//! `reckon`: bench calculations. Arguments to one [`answer::Answer`] each, with formula, inputs, band and source; one
//! file per form.

mod angle;
mod answer;
mod backlash;
mod bearing;
mod clearance;
mod compression;
mod displacement;
mod fit;
mod heat;
mod injector;
mod joint;
mod judged;
mod lift;
mod line;
mod pattern;
mod piston;
mod press;
mod pull;
mod release;
mod ring_gap;
mod runout;
mod shim;
mod sling;
mod spring;
mod stretch;
mod table;
mod tapping;
mod thread;
mod timing;
mod torque;
mod torque_link;
mod typed;
mod units;
mod wrench;

use std::process::ExitCode;

use clap::{Args, Subcommand};

use super::order::ListFormat;
use super::output::{self, Format};
use crate::sheet::DEFERRAL;
use crate::source::Sources;
use answer::Answer;
use typed::Asked;

/// Reckon at the bench: threads, torques, joints, fits, shims, springs, timing
#[derive(Debug, Args)]
pub(super) struct Reckon {
    #[command(subcommand)]
    form: Form,
    /// Form of the answer
    #[arg(long, global = true, value_enum, default_value_t = ListFormat::Text)]
    format: ListFormat,
}

/// What is reckoned.
#[derive(Debug, Subcommand)]
enum Form {
    Thread(thread::ThreadForm),
    Torque(torque::TorqueForm),
    Wrench(wrench::WrenchForm),
    Angle(angle::AngleForm),
    Pattern(pattern::PatternForm),
    Release(release::ReleaseForm),
    Lift(lift::LiftForm),
    Fit(fit::FitForm),
    Clearance(clearance::ClearanceForm),
    Heat(heat::HeatForm),
    Displacement(displacement::DisplacementForm),
    Bearing(bearing::BearingForm),
    RingGap(ring_gap::RingGapForm),
    Shim(shim::ShimForm),
    Compression(compression::CompressionForm),
    Spring(spring::SpringForm),
    Stretch(stretch::StretchForm),
    Timing(timing::TimingForm),
    Piston(piston::PistonForm),
    Runout(runout::RunoutForm),
    Backlash(backlash::BacklashForm),
    Pull(pull::PullForm),
    Press(press::PressForm),
    Sling(sling::SlingForm),
    Injector(injector::InjectorForm),
    Tapping(tapping::TappingForm),
    Table(table::TableForm),
    Units(units::UnitsForm),
}

impl Form {
    /// Whether it does sums that nobody's instructions could differ from.
    fn is_plain_geometry(&self) -> bool {
        matches!(
            self,
            Form::Displacement(_)
                | Form::Units(_)
                | Form::Compression(_)
                | Form::Piston(_)
                | Form::Timing(_)
                | Form::Pull(_)
        )
    }
}

/// A form that needs a procedure may end with complaints about it, told already, and their exit code.
enum Stop {
    Complaint(Box<crate::diagnostics::Diagnostic>),
    Told(ExitCode),
}

impl From<Box<crate::diagnostics::Diagnostic>> for Stop {
    fn from(complaint: Box<crate::diagnostics::Diagnostic>) -> Stop {
        Stop::Complaint(complaint)
    }
}

impl Reckon {
    pub(super) fn run(&self) -> ExitCode {
        match self.answer() {
            Ok(mut answer) => {
                if !self.form.is_plain_geometry() {
                    answer.note(format!("{DEFERRAL} Where this differs from them, follow them."));
                }
                match self.format {
                    ListFormat::Json => output::print_json(&answer),
                    ListFormat::Text => output::print(&answer.text()),
                }
                ExitCode::SUCCESS
            }
            Err(Stop::Told(code)) => code,
            Err(Stop::Complaint(complaint)) => {
                let format = match self.format {
                    ListFormat::Json => Format::Json,
                    ListFormat::Text => Format::Text,
                };
                let complaints = [*complaint];
                output::report(&Sources::new(), &complaints, format);
                output::exit_code(&complaints)
            }
        }
    }

    fn answer(&self) -> Result<Answer, Stop> {
        let simple = |asked: Asked<Answer>| asked.map_err(Stop::from);
        match &self.form {
            Form::Thread(form) => simple(form.answer()),
            Form::Torque(form) => simple(form.answer()),
            Form::Wrench(form) => simple(form.answer()),
            Form::Angle(form) => simple(form.answer()),
            Form::Pattern(form) => form.answer(),
            Form::Release(form) => form.answer(),
            Form::Lift(form) => simple(form.answer()),
            Form::Fit(form) => simple(form.answer()),
            Form::Clearance(form) => simple(form.answer()),
            Form::Heat(form) => simple(form.answer()),
            Form::Displacement(form) => simple(form.answer()),
            Form::Bearing(form) => simple(form.answer()),
            Form::RingGap(form) => simple(form.answer()),
            Form::Shim(form) => simple(form.answer()),
            Form::Compression(form) => simple(form.answer()),
            Form::Spring(form) => simple(form.answer()),
            Form::Stretch(form) => simple(form.answer()),
            Form::Timing(form) => simple(form.answer()),
            Form::Piston(form) => simple(form.answer()),
            Form::Runout(form) => simple(form.answer()),
            Form::Backlash(form) => simple(form.answer()),
            Form::Pull(form) => simple(form.answer()),
            Form::Press(form) => simple(form.answer()),
            Form::Sling(form) => simple(form.answer()),
            Form::Injector(form) => simple(form.answer()),
            Form::Tapping(form) => simple(form.answer()),
            Form::Table(form) => simple(form.answer()),
            Form::Units(form) => simple(form.answer()),
        }
    }
}
