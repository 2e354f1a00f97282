//! What the forms on a joint of a procedure begin with: the procedure read, the joint found.

use std::path::Path;

use super::Stop;
use super::answer::Answer;
use super::typed::Asked;
use crate::cli::{errors, output};
use crate::diagnostics::{Diagnostic, Mend, Severity};
use crate::procedure;
use crate::procedure::model::{Joint, JointId, Member, Procedure};
use crate::source::Sources;

/// A procedure and one of its joints. A procedure with errors is complained of, and nothing reckoned.
pub(super) fn find(path: &Path, name: &str) -> Result<(Procedure, JointId), Stop> {
    let mut sources = Sources::new();
    let loaded = procedure::load(&mut sources, path);
    let errors: Vec<Diagnostic> = loaded
        .diagnostics
        .into_iter()
        .filter(|diagnostic| diagnostic.severity() == Severity::Error)
        .collect();
    let procedure = match loaded.value {
        Some(procedure) if errors.is_empty() => procedure,
        _ => {
            output::report(&sources, &errors, output::Format::Text);
            return Err(Stop::Told(output::exit_code(&errors)));
        }
    };
    let place = procedure.joints.iter().position(|joint| joint.naming.id == name);
    match place.and_then(|place| u32::try_from(place).ok()) {
        Some(place) => Ok((procedure, JointId(place))),
        None => {
            let known: Vec<&str> = procedure.joints.iter().map(|joint| joint.naming.id.as_str()).collect();
            Err(Stop::Complaint(Box::new(errors::unknown_joint(name, &known))))
        }
    }
}

/// Tells of sets that some engines haven't got. Refuses a joint of which no engine has all.
pub(super) fn some_engines(procedure: &Procedure, joint: &Joint, answer: &mut Answer) -> Asked<()> {
    let some: Vec<&Member> =
        joint.members.iter().filter(|member| !procedure.set(member.set.id).present.is_empty()).collect();
    let name = |member: &Member| procedure.set(member.set.id).naming.id.clone();
    for (index, one) in some.iter().enumerate() {
        if let Some(other) =
            some[index + 1..].iter().find(|other| procedure.never_both(one.set.id, other.set.id))
        {
            let problem = format!("no engine has both `{}` and `{}`", name(one), name(other));
            let mend = Mend::doing("print the packet of a job, whose answers say which it has");
            return Err(Box::new(errors::joint_not_reckoned(&joint.naming.id, &problem, mend)));
        }
        answer.note(format!("reckoned with `{}`, which some engines haven't got", name(one)));
    }
    Ok(())
}
