//! What a shell offers for a value: the words of a set, files, folders, or nothing at all.

use clap::builder::PossibleValuesParser;
use clap::{Arg, Command, ValueHint};

use crate::caution::Scheme;
use crate::component::Role;
use crate::compose::mixture::Order;
use crate::quantity::Property;
use crate::record::reading::ReadingKind;
use crate::record::study::StudyMethod;
use crate::report::Format;
use crate::statistics::curve_fit::Form;

/// The program's commands with what may be offered for each value. Only for completions: what is typed is read elsewhere,
/// with a fault that says more.
pub(super) fn with_values(command: Command) -> Command {
    let name = command.get_name().to_owned();
    let command =
        command.mut_args(|arg| if arg.get_action().takes_values() { offered(&name, arg) } else { arg });
    let below: Vec<String> = command.get_subcommands().map(|below| below.get_name().to_owned()).collect();
    below.into_iter().fold(command, |command, below| command.mut_subcommand(below, with_values))
}

fn offered(command: &str, arg: Arg) -> Arg {
    if !arg.get_possible_values().is_empty() {
        return arg;
    }
    let value =
        arg.get_value_names().and_then(|names| names.first()).map_or(String::new(), |name| name.to_string());
    let words = words(command, arg.get_id().as_str(), &value);
    if !words.is_empty() {
        return arg.value_parser(PossibleValuesParser::new(words));
    }
    arg.value_hint(match value.as_str() {
        "FILE" => ValueHint::FilePath,
        "DIR" | "ARCHIVE" => ValueHint::DirPath,
        // A path or a name.
        value if value.starts_with("RECIPE") || value.starts_with("DESIGN") => ValueHint::AnyPath,
        _ => ValueHint::Other,
    })
}

/// The words that a value may be, or mostly is; none where it may be anything.
fn words(command: &str, id: &str, value: &str) -> Vec<&'static str> {
    match (command, id, value) {
        (_, _, "FORMAT") => Format::ALL.map(Format::name).to_vec(),
        (_, _, "SCHEME") => Scheme::ALL.map(Scheme::word).to_vec(),
        (_, _, "ROLE") => Role::ALL.map(Role::word).to_vec(),
        (_, _, "QUANTITY") => ReadingKind::ALL.map(ReadingKind::word).to_vec(),
        ("curve", _, "PROPERTY") => vec!["density", "viscosity", "conductivity", "walden"],
        (_, _, "PROPERTY") => Property::ALL.map(Property::id).to_vec(),
        ("curve", _, "FORM") => [Form::Line, Form::Vft, Form::Arrhenius].map(Form::name).to_vec(),
        (_, _, "FORM") => Form::ALL.map(Form::name).to_vec(),
        ("liquidus", _, "MODEL") => vec!["ideal", "margules", "redlich-kister", "nrtl"],
        (_, _, "MODEL") => Order::ALL.map(Order::name).to_vec(),
        (_, _, "HOW") => vec!["every", "linear", "common"],
        (_, _, "GOAL") => vec!["max", "min"],
        (_, _, "CAUSE") => vec!["leak", "short", "dry", "wrong-dose", "end-of-test"],
        (_, _, "COLUMN or WHAT") => vec!["electrolyte", "batch", "design"],
        (_, "method", "METHOD") => {
            [StudyMethod::Welch, StudyMethod::Classical, StudyMethod::Ranks].map(StudyMethod::word).to_vec()
        }
        (_, "clarity", _) => vec!["clear", "hazy", "turbid"],
        (_, "decimal", "SIGN") => vec!["comma", "point"],
        (_, "separator", "SIGN") => vec!["comma", "semicolon", "tab"],
        _ => Vec::new(),
    }
}
