//! Faults of liquids and of what they are to become.

use super::case::Case;

pub const CASES: &[Case] = &[
    Case::of("no_mass", &["blend", "--liquid", "ChCl:urea 1:2"]),
    Case::of("no_name", &["blend", "--liquid", "mass=60g"]),
    Case::of("empty_liquid", &["blend", "--liquid", "ChCl:urea 1:2 mass=0g"]),
    Case::of("unknown_recipe", &["blend", "--liquid", "reline mass=60g"]),
    Case::of("density_needed", &["blend", "--liquid", "ChCl:urea 1:2 + 0.3 mol/L ZnCl2 mass=60g"]),
    Case::of(
        "nothing_of_ratio",
        &["blend", "--liquid", "ChCl:urea 1:2 mass=60g", "--ratio", "menthol:thymol 1:1"],
    ),
    Case::of(
        "not_a_ratio",
        &["blend", "--liquid", "ChCl:urea 1:2 mass=60g", "--ratio", "ChCl:urea 1:2 to 5 wt% water"],
    ),
    Case::of("bare_percent", &["blend", "--liquid", "ChCl:urea 1:2 mass=60g", "--water", "5 %"]),
    Case::of("bad_fraction", &["blend", "--liquid", "ChCl:urea 1:2 mass=60g", "--water", "100 wt%"]),
    Case::of(
        "water_twice",
        &[
            "blend",
            "--liquid",
            "ChCl:EG:water 1:2:1 mass=60g",
            "--ratio",
            "ChCl:EG:water 1:2:2",
            "--water",
            "5 wt%",
        ],
    ),
    Case::of(
        "not_in_recipe",
        &["blend", "--liquid", "ChCl:urea 1:2 mass=60g", "--water", "5 wt%", "--bottle", "urea moisture=1%"],
    ),
    Case::of(
        "not_in_recipe",
        &[
            "blend",
            "--liquid",
            "ChCl:urea 1:2 mass=60g",
            "--ratio",
            "ChCl:urea 1:3",
            "--bottle",
            "glycerol moisture=1%",
        ],
    ),
];
