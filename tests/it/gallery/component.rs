//! Faults of a table of one's own.

use super::case::Case;

pub const CASES: &[Case] = &[
    Case::table(
        "bad_id",
        &[(
            "own.toml",
            "[[component]]\nid = \"Own Salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nidentity = \"bottle\"\n",
        )],
    ),
    Case::table("bad_toml", &[("own.toml", "name,gram\nurea,2\nglycerol,4\n")]),
    Case::table(
        "bad_alias",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\naliases = [\"own:salt\"]\nroles = [\"salt\"]\nidentity = \"bottle\"\n",
        )],
    ),
    Case::table(
        "missing_role",
        &[("own.toml", "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nidentity = \"bottle\"\n")],
    ),
    Case::table(
        "unknown_word",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"slat\"]\nstate = \"molten\"\nidentity = \"bottle\"\n",
        )],
    ),
    Case::table(
        "bad_cas",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\ncas = \"67-48-2\"\nidentity = \"bottle\"\n",
        )],
    ),
    Case::table(
        "bad_cas",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\ncas = \"67481\"\nidentity = \"bottle\"\n",
        )],
    ),
    Case::table(
        "bad_formula",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nformula = \"ZnCL2\"\nidentity = \"bottle\"\n",
        )],
    ),
    Case::table(
        "charged_formula",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nformula = \"SO4^2-\"\nidentity = \"bottle\"\n",
        )],
    ),
    Case::table(
        "empty_source",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nidentity = \"\"\n",
        )],
    ),
    Case::table(
        "missing_key",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nidentity = \"bottle\"\nhazard = { basis = \"supplier\", source = \"supplier's safety data sheet\" }\n",
        )],
    ),
    Case::table(
        "bad_code",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nidentity = \"bottle\"\nhazard = { basis = \"supplier\", codes = [\"H302, H314\"], source = \"supplier's safety data sheet\" }\n",
        )],
    ),
    Case::table(
        "basis_contradicts",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nidentity = \"bottle\"\nhazard = { basis = \"none-found\", codes = [\"H302\"], source = \"supplier's safety data sheet\" }\n",
        )],
    ),
    Case::table(
        "id_twice",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nidentity = \"bottle\"\n\n[[component]]\nid = \"own-salt\"\nname = \"own salt again\"\nroles = [\"salt\"]\nidentity = \"bottle\"\n",
        )],
    ),
    Case::table(
        "name_twice",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\naliases = [\"ChCl\"]\nroles = [\"salt\"]\nidentity = \"bottle\"\n",
        )],
    ),
    Case::table("wrong_type", &[("own.toml", "component = \"own-salt\"\n")]),
    Case::table(
        "empty_name",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \" \"\nroles = [\"salt\"]\nidentity = \"bottle\"\n",
        )],
    ),
    Case::table(
        "id_twice",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nidentity = \"bottle\"\n\n[[component]]\nid = \"own-salt\"\nname = \"other salt\"\nroles = [\"salt\"]\nidentity = \"bottle\"\n",
        )],
    ),
    Case::table(
        "unknown_hazard_code",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nidentity = \"bottle\"\nhazard = { basis = \"supplier\", codes = [\"H320\", \"H392\"], source = \"sheet\" }\n",
        )],
    ),
    Case::table(
        "class_without_code",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nidentity = \"bottle\"\nhazard = { basis = \"supplier\", codes = [\"H302\"], classes = [\"Acute Tox. 4\", \"Skin Corr. 1B\"], source = \"sheet\" }\n",
        )],
    ),
    Case::table(
        "hazard_contradiction",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nidentity = \"bottle\"\nhazard = { basis = \"supplier\", codes = [\"H301\", \"H302\"], source = \"sheet\" }\n",
        )],
    ),
    Case::table(
        "hazard_contradiction",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nidentity = \"bottle\"\nhazard = { basis = \"supplier\", codes = [\"H302\"], ate_oral_mg_per_kg = 100, source = \"sheet\" }\n",
        )],
    ),
    Case::table(
        "missing_index",
        &[(
            "own.toml",
            "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nroles = [\"salt\"]\nidentity = \"bottle\"\nhazard = { basis = \"harmonised\", codes = [\"H302\"], source = \"sheet\" }\n",
        )],
    ),
];
