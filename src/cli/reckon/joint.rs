//! What the forms on a joint of a procedure begin with: the procedure read, the joint found.

use std::borrow::Cow;
use std::path::Path;

use super::Stop;
use super::answer::{Answer, Line};
use super::typed::Asked;
use crate::cli::{errors, output};
use crate::diagnostics::{Diagnostic, Mend, Severity};
use crate::english::list;
use crate::procedure::model::{JointId, Member, Procedure, SetId};
use crate::procedure::{self, each_fitted};
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

/// The procedure with the joint as the engines have it that have the sets of `with`. Tells of sets that some engines haven't
/// got. Refuses a joint of which no engine has all, where it isn't said which it has.
pub(super) fn fitted<'p>(
    procedure: &'p Procedure,
    id: JointId,
    with: &[String],
    answer: &mut Answer,
) -> Asked<Cow<'p, Procedure>> {
    let joint = procedure.joint(id);
    let refused = |problem: &str, mend: String| {
        Err(Box::new(errors::joint_not_reckoned(&joint.naming.id, problem, Mend::doing(mend))))
    };
    let name = |member: &Member| procedure.set(member.set.id).naming.id.as_str();
    let some = || joint.members.iter().filter(|member| !procedure.set(member.set.id).present.is_empty());
    if with.is_empty() {
        for (index, one) in some().enumerate() {
            if let Some(other) =
                some().skip(index + 1).find(|other| procedure.never_both(one.set.id, other.set.id))
            {
                let problem = format!("no engine has both `{}` and `{}`", name(one), name(other));
                return refused(&problem, format!("add `--with {}` or `--with {}`", name(one), name(other)));
            }
            answer.note(format!("reckoned with `{}`, which some engines haven't got", name(one)));
        }
        return Ok(Cow::Borrowed(procedure));
    }
    for wanted in with {
        if !some().any(|member| name(member) == wanted) {
            let known: Vec<String> = some().map(|member| format!("`{}`", name(member))).collect();
            let mend = if known.is_empty() {
                "leave `--with` out: every engine has all its sets".to_owned()
            } else {
                format!("sets that only some engines have are {}", list(&known))
            };
            return refused(&format!("it has no set `{wanted}` that only some engines have"), mend);
        }
    }
    let sets = |procedure: &Procedure| -> Vec<SetId> {
        procedure.joint(id).members.iter().map(|member| member.set.id).collect()
    };
    let wanted: Vec<SetId> = some()
        .filter(|member| with.iter().any(|wanted| wanted == name(member)))
        .map(|member| member.set.id)
        .collect();
    let mut choices: Vec<Cow<'p, Procedure>> = each_fitted(procedure, id);
    choices.retain(|choice| wanted.iter().all(|set| sets(choice).contains(set)));
    // Of what those engines may have besides, all that can be there together.
    choices.sort_by_key(|choice| sets(choice).len());
    let Some(most) = choices.pop() else {
        let problem = format!("no engine has {} together", list(&quoted(with)));
        return refused(&problem, "leave one `--with` out".to_owned());
    };
    let has = sets(&most);
    if let Some(other) =
        choices.iter().find_map(|choice| sets(choice).into_iter().find(|set| !has.contains(set)))
    {
        let other = &procedure.set(other).naming.id;
        return refused(
            &format!("engines with {} have it with `{other}` or without", list(&quoted(with))),
            format!("add `--with` for another of its sets, such as `--with {other}`"),
        );
    }
    let there: Vec<String> = has.iter().map(|set| format!("`{}`", procedure.set(*set).naming.id)).collect();
    answer.given(Line::words("engines with", list(&quoted(with))));
    answer.note(format!("reckoned with {}, as those engines have it", list(&there)));
    Ok(most)
}

fn quoted(names: &[String]) -> Vec<String> {
    names.iter().map(|name| format!("`{name}`")).collect()
}
