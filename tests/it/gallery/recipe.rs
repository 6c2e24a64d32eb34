//! Faults of recipes: shorthand, names and files.

use super::case::Case;

pub const CASES: &[Case] = &[
    Case::of("no_ratio", &["plan", "ChCl:urea", "--mass", "50 g"]),
    Case::of("unknown_recipe", &["plan", "choline-chloride-glycerol", "--mass", "50 g"]),
    Case::of("unknown_recipe", &["plan", "breakfast", "--mass", "50 g"]),
    Case::of("ratio_mismatch", &["plan", "ChCl:urea:glycerol 1:2", "--mass", "50 g"]),
    Case::of("no_name", &["plan", "ChCl: 1:2", "--mass", "50 g"]),
    Case::of("no_name", &["plan", "ChCl::urea 1:1:2", "--mass", "50 g"]),
    Case::of("bad_ratio", &["plan", "ChCl:urea 1:0", "--mass", "50 g"]),
    Case::of("bad_ratio", &["plan", "ChCl:urea 1:2,5", "--mass", "50 g"]),
    Case::of("unknown_component", &["plan", "ChCl:ureum 1:2", "--mass", "50 g"]),
    Case::of("ambiguous_component", &["plan", "ChCl:C3H8O2 1:2", "--mass", "50 g"]),
    Case::of("bad_addition", &["plan", "ChCl:urea 1:2 + ZnCl2", "--mass", "50 g"]),
    Case::of("bare_percent", &["plan", "ChCl:urea 1:2 + 5 % ZnCl2", "--mass", "50 g"]),
    Case::of("bad_amount", &["plan", "ChCl:urea 1:2 + 5 g ZnCl2", "--mass", "50 g"]),
    Case::of("bad_amount", &["plan", "ChCl:urea 1:2 + 0 wt% ZnCl2", "--mass", "50 g"]),
    Case::of("bad_fraction", &["plan", "ChCl:urea 1:2 to 2 mol/L water", "--mass", "50 g"]),
    Case::of("bad_water", &["plan", "ChCl:urea 1:2 to 2 wt%", "--mass", "50 g"]),
    Case::of(
        "water_not_last",
        &["plan", "ChCl:urea 1:2 to 2 wt% water + 0.5 mol/kg ZnCl2", "--mass", "50 g"],
    ),
    Case::of("bad_fraction", &["plan", "ChCl:urea 1:2 to 100 wt% water", "--mass", "50 g"]),
    Case::of("water_as_addition", &["plan", "ChCl:urea 1:2 + 2 wt% water", "--mass", "50 g"]),
    Case::of("water_twice", &["plan", "ChCl:urea:water 1:2:1 to 2 wt% water", "--mass", "50 g"]),
    Case::of("no_formula", &["plan", "MnO2:PTFE 19:1", "--mass", "50 g"]),
    Case::of("no_formula", &["plan", "ChCl:urea 1:2 + 0.1 mol/kg PVDF", "--mass", "50 g"]),
    Case::of("component_twice", &["plan", "ChCl:urea 1:2 + 1 wt% choline-chloride", "--mass", "50 g"]),
    Case::recipe("bad_toml", &[("mine.toml", "name = \"Choline chloride and urea\nbasis = \"mole\"\n")]),
    Case::recipe(
        "bad_toml",
        &[(
            "mine.toml",
            "name = \"Twice\"\nname = \"Twice\"\nbasis = \"mole\"\n\n[[part]]\ncomponent = \"urea\"\nratio = 1\n",
        )],
    ),
    Case::recipe("no_part", &[("mine.toml", "name = \"Nothing\"\nbasis = \"mole\"\n")]),
    Case::recipe(
        "bad_basis",
        &[("mine.toml", "name = \"Mine\"\nbasis = \"moles\"\n\n[[part]]\ncomponent = \"urea\"\nratio = 1\n")],
    ),
    Case::recipe(
        "missing_key",
        &[("mine.toml", "name = \"Mine\"\nbasis = \"mole\"\n\n[[part]]\ncomponent = \"urea\"\n")],
    ),
    Case::recipe("missing_key", &[("mine.toml", "[[part]]\ncomponent = \"urea\"\nratio = 1\n")]),
    Case::recipe(
        "unknown_key",
        &[(
            "mine.toml",
            "name = \"Mine\"\nbasis = \"mole\"\ntolerance = \"1 %\"\n\n[[part]]\ncomponent = \"urea\"\nratio = 1\n",
        )],
    ),
    Case::recipe(
        "wrong_type",
        &[(
            "mine.toml",
            "name = \"Mine\"\nbasis = \"mole\"\n\n[[part]]\ncomponent = \"urea\"\nratio = \"1\"\n\n[procedure]\nsteps = \"stir\"\n",
        )],
    ),
    Case::recipe(
        "bad_number",
        &[(
            "mine.toml",
            "name = \"Mine\"\nbasis = \"mole\"\n\n[[part]]\ncomponent = \"urea\"\nratio = inf\n",
        )],
    ),
    Case::recipe(
        "bad_ratio",
        &[("mine.toml", "name = \"Mine\"\nbasis = \"mole\"\n\n[[part]]\ncomponent = \"urea\"\nratio = -2\n")],
    ),
    Case::recipe(
        "density_missing",
        &[(
            "mine.toml",
            "name = \"Mine\"\nbasis = \"mole\"\ndensity_at = \"25 °C\"\n\n[[part]]\ncomponent = \"urea\"\nratio = 1\n",
        )],
    ),
    Case::recipe(
        "bare_percent",
        &[(
            "mine.toml",
            "name = \"Mine\"\nbasis = \"mole\"\n\n[[part]]\ncomponent = \"urea\"\nratio = 1\n\n[[addition]]\ncomponent = \"zinc-chloride\"\namount = \"5 %\"\n\n[water]\ntarget = \"2 %\"\n",
        )],
    ),
    Case::recipe(
        "component_twice",
        &[(
            "mine.toml",
            "name = \"Mine\"\nbasis = \"mole\"\n\n[[part]]\ncomponent = \"urea\"\nratio = 1\n\n[[part]]\ncomponent = \"carbamide\"\nratio = 2\n",
        )],
    ),
    Case::recipe(
        "bad_tolerance",
        &[(
            "mine.toml",
            "name = \"Mine\"\nbasis = \"mole\"\nratio_tolerance = \"150 %\"\n\n[[part]]\ncomponent = \"urea\"\nratio = 1\n",
        )],
    ),
];

/// Many slips in one file and one on the command line: they all come at once, in the order of the file.
pub const SEVERAL: Case = Case {
    code: "unknown_component",
    raw: &[],
    files: &[(
        "mine.toml",
        "name = \"Mine\"\nbasis = \"mole\"\n\n[[part]]\ncomponent = \"ureum\"\nratio = 1\n\n[[part]]\ncomponent = \"choline-chloride\"\nratoi = 2\n\n[water]\ntarget = \"2 %\"\n",
    )],
    before: &[],
    arguments: &["plan", "mine.toml", "--mass", "50"],
};
