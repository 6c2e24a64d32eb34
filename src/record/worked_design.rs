//! The worked cell designs that come with the program, to start from.

/// Name and text of each, in the order of the names. A test holds this list against the folder.
pub const WORKED_DESIGNS: [(&str, &str); 2] = [
    (
        "open-vial-zinc-manganese-dioxide",
        include_str!("../../data/designs/open-vial-zinc-manganese-dioxide.toml"),
    ),
    ("sealed-vial-zinc-carbon", include_str!("../../data/designs/sealed-vial-zinc-carbon.toml")),
];
