//! meltbook.toml: the settings of one book, explained by their own comments.

use crate::caution::Scheme;
use crate::input::{Faults, FlagValue, TableReader, TomlFile, did_you_mean};
use crate::plan::Balance;
use crate::quantity::{Mass, Relative, Typed};

/// The settings of a book.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::cli) struct Settings {
    /// Name of the laboratory.
    pub(in crate::cli) laboratory: String,
    /// Initials under which entries are written, if everybody here has the same.
    pub(in crate::cli) author: Option<String>,
    /// Whose hazard statements are shown.
    pub(in crate::cli) scheme: Option<Scheme>,
    /// Ratio tolerance where a recipe states none.
    pub(in crate::cli) tolerance: Option<Typed<Relative>>,
    /// The balances, by name.
    pub(in crate::cli) balances: Vec<(String, Balance)>,
}

/// The text of a new book's settings.
pub(in crate::cli) fn template(laboratory: &str, author: Option<&str>) -> String {
    let laboratory = toml::Value::from(laboratory).to_string();
    let author = match author {
        Some(author) => format!("author = {}", toml::Value::from(author)),
        None => "# author = \"AB\"".to_owned(),
    };
    format!(
        "# The settings of this book. A line that starts with # is not read; remove the # to set a value.\n\
         \n\
         # The name that stands on sheets and reports.\n\
         laboratory = {laboratory}\n\
         \n\
         # Initials under which entries are written. --by and MELTBOOK_AUTHOR come first. Leave it out where\n\
         # several people share a computer, so that each has to say who it is.\n\
         {author}\n\
         \n\
         # Whose hazard statements are shown: \"ghs\" (UN), \"clp\" (EU) or \"hcs\" (US).\n\
         # scheme = \"ghs\"\n\
         \n\
         # How far a ratio may be off where the recipe does not say.\n\
         # ratio_tolerance = \"1 %\"\n\
         \n\
         # The balances, to be named as in --balance fine: readability, repeatability as a standard deviation,\n\
         # linearity as a half-width, all from the certificate.\n\
         # [[balance]]\n\
         # name = \"fine\"\n\
         # d = \"0.0001 g\"\n\
         # repeatability = \"0.0001 g\"\n\
         # linearity = \"0.0002 g\"\n"
    )
}

/// Reads the settings; all faults come together.
pub(super) fn read_settings(origin: &str, text: &str) -> Result<Settings, Faults> {
    TomlFile::new(origin, text).read(|root| {
        let laboratory = root.required_string("laboratory").map(|field| field.value.to_owned());
        let author = root.string("author").map(|field| field.value.to_owned());
        let scheme = root.string("scheme").and_then(|field| {
            let scheme = Scheme::from_word(field.value);
            if scheme.is_none() {
                let words = Scheme::ALL.map(Scheme::word);
                let hint =
                    did_you_mean(field.value, words, &format!("The schemes are {}.", words.join(", ")));
                root.fault("unknown_scheme", format!("unknown scheme {:?}", field.value), field.span, hint);
            }
            scheme
        });
        let tolerance = root.quantity("ratio_tolerance").map(|field| field.value);
        let balances = root.tables("balance").iter().filter_map(balance).collect();
        Some(Settings { laboratory: laboratory?, author, scheme, tolerance, balances })
    })
}

fn balance(reader: &TableReader<'_>) -> Option<(String, Balance)> {
    let name = reader.required_string("name").map(|field| field.value.to_owned());
    let readability = reader.required_quantity::<Mass>("d");
    let repeatability = reader.quantity::<Mass>("repeatability").map(|field| field.value);
    let linearity = reader.quantity::<Mass>("linearity").map(|field| field.value);
    reader.finish();
    let (name, readability) = (name?, readability?);
    if readability.value.value <= Mass::ZERO {
        reader.fault(
            "bad_balance",
            "the readability d must be above 0",
            readability.span,
            "Write d = \"0.001 g\".",
        );
        return None;
    }
    let said = [
        ("d", Some(&readability.value)),
        ("repeatability", repeatability.as_ref()),
        ("linearity", linearity.as_ref()),
    ];
    let said = said.into_iter().filter_map(|(key, typed)| Some(format!("{key}={}", typed?.text)));
    let text = format!("{name} ({})", said.collect::<Vec<_>>().join(" "));
    let balance = Balance {
        readability: readability.value.value,
        repeatability: repeatability.map(|typed| typed.value),
        linearity: linearity.map(|typed| typed.value),
        text,
    };
    Some((name, balance))
}

impl Settings {
    /// The balance of a name.
    pub(super) fn balance(&self, flag: &FlagValue) -> Option<Balance> {
        self.balances.iter().find(|(name, _)| *name == flag.name).map(|(_, balance)| balance.clone())
    }
}
