//! What Enter does to a row of the form: its text becomes details, what is odd is asked about once, and what is taken is kept.
//!
//! Not here: how a text is read (`text`), and what stands in a row that is empty (`starting`).

use super::leverage::{self, TypedLeverage};
use super::row::IntakeRow;
use super::{Form, FormQuestion, notice, rows, spring_list, starting};
use crate::screen::effect::Effect;
use crate::screen::model::{Desk, Notice, Reply};
use crate::session::{Detail, Fact, Intake, Stamp, limits};

/// Takes the text of the focused row into the record; an empty one leaves in it what stands there.
pub(super) fn accept(form: &mut Form, desk: &mut Desk, entered: &Intake, at: Stamp) -> Reply {
    let text = &*starting::text(form.focus, form.field.text(), desk);
    if let (IntakeRow::Of(Fact::Leverage), Ok(TypedLeverage::Table { path, .. })) =
        (form.focus, leverage::read(text, desk.units))
    {
        return Reply::asking(vec![Effect::ReadTable(path)]);
    }
    let untouched = *text == form.came_as && (form.focus.is_optional() || !text.is_empty());
    if untouched || (text.trim().is_empty() && starting::is_filled(form.focus, desk)) {
        form.leave_for(form.neighbour(&rows(form, desk), 1), entered, desk.units);
        return Reply::stay();
    }
    // Only the spring on the bike is looked for among springs nobody told yet: a list that is typed gets numbers of its own, but
    // for the springs that it names by their marks.
    let beside = match form.focus {
        IntakeRow::Of(Fact::SpringOnArrival) => starting::with_springs(entered, desk),
        IntakeRow::Of(Fact::Springs) => starting::with_marks(entered, desk),
        _ => entered.clone(),
    };
    let details = match form.focus.read(text, &beside, desk.units) {
        Ok(details) if details.is_empty() => return Reply::stay(),
        Ok(details) => with_the_list(details, entered, desk),
        Err(unread) => {
            desk.say(notice(unread, desk.units));
            return Reply::stay();
        }
    };
    if let Some(question) = question(form.focus, text, &details, entered, desk)
        && !matches!(&form.asked, FormQuestion::Meant(asked) if *asked == details)
    {
        form.asked = FormQuestion::Meant(details);
        desk.say(question);
        return Reply::stay();
    }
    enter(form, desk, details, at)
}

/// The details with the springs to start with before them, where the spring on the bike is one of those and nobody told
/// them.
fn with_the_list(details: Vec<Detail>, entered: &Intake, desk: &Desk) -> Vec<Detail> {
    let names_one = matches!(details[..], [Detail::SpringOnArrival(Some(_))]);
    let list = (names_one && entered.springs.is_empty()).then(|| Detail::Springs(starting::springs(desk)));
    list.into_iter().chain(details).collect()
}

/// What is asked once before details are taken: whether an unusual figure is meant, or a line that reads in two ways.
fn question(row: IntakeRow, text: &str, details: &[Detail], entered: &Intake, desk: &Desk) -> Option<Notice> {
    let two_ways =
        (row == IntakeRow::Of(Fact::Springs)).then(|| spring_list::question(text, desk.units)).flatten();
    let mut unusual = details
        .iter()
        .filter(|detail| row != IntakeRow::Of(Fact::SpringOnArrival) || is_new(detail, entered));
    two_ways.map(Notice::Said).or_else(|| {
        let (field, figure) = unusual.find_map(|detail| limits::unusual(detail, entered))?;
        Some(Notice::Unusual(field, figure))
    })
}

/// Whether a list of springs that the spring on the bike joins was changed by it; the others were asked about before.
fn is_new(detail: &Detail, entered: &Intake) -> bool {
    !matches!(detail, Detail::Springs(list) if list.len() > entered.springs.len() + 1)
}

/// Takes details into the record, one after another, and goes on to the next row.
fn enter(form: &mut Form, desk: &mut Desk, details: Vec<Detail>, at: Stamp) -> Reply {
    let mut effects = Vec::new();
    for detail in details {
        let entered = desk.enter(at, detail);
        if entered.is_empty() {
            return Reply::asking(effects);
        }
        effects = entered;
    }
    if let Some(session) = &desk.session {
        let entered = &session.state.entered;
        form.came_as = form.field.text().to_owned();
        form.leave_for(form.neighbour(&rows(form, desk), 1), entered, desk.units);
    }
    Reply::asking(effects)
}
