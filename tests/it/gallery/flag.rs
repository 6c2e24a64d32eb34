//! Faults of flags with several values, and of the arguments themselves.

use super::case::Case;

pub const CASES: &[Case] = &[
    Case::of(
        "unknown_key",
        &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--bottle", "ChCl asay=98% basis=dried"],
    ),
    Case::of(
        "key_twice",
        &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--bottle", "ChCl assay=98% assay=99%"],
    ),
    Case::of(
        "bottle_twice",
        &[
            "plan",
            "ChCl:urea 1:2",
            "--mass",
            "50 g",
            "--bottle",
            "ChCl assay=98%",
            "--bottle",
            "choline-chloride assay=99%",
        ],
    ),
    Case::of("no_name", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--bottle", "assay=98% basis=dried"]),
    Case::of(
        "bad_form",
        &["plan", "ZnCl2:urea 1:3.5", "--mass", "50 g", "--bottle", "ZnCl2 form=manyhydrate"],
    ),
    Case::of(
        "bad_basis",
        &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--bottle", "ChCl assay=98% basis=wet"],
    ),
    Case::of(
        "bad_quantity",
        &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--bottle", "ChCl assay=98% moisture=0.015"],
    ),
    Case::of("bad_quality", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--bottle", "ChCl assay=102%"]),
    Case::of(
        "bad_quality",
        &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--bottle", "ChCl assay=99% basis=as-is moisture=3%"],
    ),
    Case::of(
        "bad_quality",
        &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--bottle", "ChCl assay=102% basis=as-hydrate"],
    ),
    Case::of(
        "bad_quality",
        &[
            "plan",
            "ChCl:urea 1:2 + 0.3 mol/kg ZnSO4",
            "--mass",
            "50 g",
            "--bottle",
            "ZnSO4 form=heptahydrate assay=190% basis=as-hydrate",
        ],
    ),
    Case::of(
        "bad_quality",
        &[
            "plan",
            "ChCl:urea 1:2",
            "--mass",
            "50 g",
            "--bottle",
            "ChCl assay=0%",
            "--bottle",
            "urea moisture=100%",
        ],
    ),
    Case::of("bad_density", &["plan", "ChCl:EG 1:2", "--mass", "50 g", "--bottle", "EG density=0g/mL"]),
    Case::of("bad_density", &["plan", "ChCl:EG 1:2", "--volume", "50 mL", "--density", "0 g/mL at 25 °C"]),
    Case::of("density_missing", &["plan", "ChCl:EG 1:2", "--mass", "50 g", "--bottle", "EG density_at=20°C"]),
    Case::of("stock_twice", &["plan", "ChCl:urea 1:2", "--have", "ChCl 12.4g", "--have", "ChCl 3 g"]),
    Case::of("no_mass", &["plan", "ChCl:urea 1:2", "--have", "ChCl"]),
    Case::of("missing_key", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--balance", "repeatability=0.01g"]),
    Case::of("missing_key", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--bottle", "ChCl assay_u=1%"]),
    Case::of("bad_density", &["plan", "ChCl:EG 1:2", "--mass", "50 g", "--bottle", "EG density=1.11g/L"]),
    Case::of("bad_balance", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--balance", "d=0g"]),
    Case::of("unknown_balance", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--balance", "big one"]),
    Case::of("unknown_component", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--weighed", "ChlCl 32.48g"]),
    Case::of("unknown_component", &["component", "show", "unobtainium", "ZnCl"]),
    Case::of("unknown_role", &["component", "list", "--role", "doner"]),
    Case::of("nothing_found", &["component", "list", "--role", "binder", "sugar"]),
    Case::of("no_table", &["recipe", "show", "ChCl:urea 1:2", "--format", "csv"]),
    Case::of("unknown_material", &["cautions", "ChCl", "bleech"]),
    Case::of("ambiguous_component", &["cautions", "C3H8O2", "ChCl"]),
    Case::of("unknown_scheme", &["cautions", "ChCl", "--scheme", "gsh"]),
    Case::of("bad_arguments", &["plan", "ChCl:urea 1:2", "--mas", "50 g", "--format", "json"]),
    Case::of("bad_arguments", &["plan", "--mass", "50 g", "--format", "json"]),
    Case::of("bad_arguments", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--format=jsn", "--format=json"]),
    Case::of("unquoted", &["plan", "ChCl:urea", "1:2", "--mass", "50 g"]),
    Case::of("unquoted", &["plan", "ChCl:urea 1:2", "--mass", "50", "g"]),
    Case::of("recipe_among", &["cautions", "ChCl:EG 1:2", "zinc"]),
    Case::of("bad_quantity", &["plan", "ChCl:urea 1:2", "--mass", "-50 g"]),
    Case::of("unknown_component", &["plan", "ChCl:LiClO4 1:2", "--mass", "50 g"]),
    Case::of(
        "not_in_recipe",
        &[
            "plan",
            "water 1 + 2 mol/kg ZnSO4",
            "--mass",
            "50 g",
            "--bottle",
            "zinc-sulfate-heptahydrate assay=99%",
        ],
    ),
    Case::of(
        "bad_basis",
        &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--bottle", "ChCl basis=wet moisture=120%"],
    ),
    Case::of(
        "no_mass",
        &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--weighed", "ChCl", "--have", "urea 3"],
    ),
];
