//! Faults of the batch size, the stock and what else a plan stands on.

use super::case::Case;

pub const CASES: &[Case] = &[
    Case::of("no_size", &["plan", "ChCl:urea 1:2"]),
    Case::of("two_sizes", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--amount", "0.2 mol"]),
    Case::of("bad_quantity", &["plan", "ChCl:urea 1:2", "--mass", "50"]),
    Case::of("bad_quantity", &["plan", "ChCl:urea 1:2", "--mass", "50 mL"]),
    Case::of("bad_quantity", &["plan", "ChCl:urea 1:2", "--mass", "1.250,00 g"]),
    Case::of("bad_quantity", &["plan", "ChCl:urea 1:2", "--mass", "fifty grams"]),
    Case::of("bad_quantity", &["plan", "ChCl:urea 1:2", "--mass=-5 g"]),
    Case::of("bad_quantity", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--at", "-300 °C"]),
    Case::of("bad_quantity", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--tolerance", "1"]),
    Case::of("bad_cells", &["plan", "ChCl:urea 1:2", "--cells", "a dozen", "--dose", "1.2 g"]),
    Case::of("bad_cells", &["plan", "ChCl:urea 1:2", "--cells", "2.5", "--dose", "1.2 g"]),
    Case::of("no_dose", &["plan", "ChCl:urea 1:2", "--cells", "12"]),
    Case::of("nothing_dry", &["plan", "water 1 + 2 mol/kg ZnSO4", "--dry-parts", "50 g"]),
    Case::of("empty_batch", &["plan", "ChCl:urea 1:2", "--mass", "0 g"]),
    Case::of("density_needed", &["plan", "ChCl:urea 1:2", "--volume", "25 mL"]),
    Case::of("density_needed", &["plan", "ChCl:urea 1:2 + 0.3 mol/L ZnCl2", "--mass", "50 g"]),
    Case::of("amount_of_mass_ratio", &["plan", "MnO2:graphite 1:1 by mass", "--amount", "0.2 mol"]),
    Case::of(
        "no_stock",
        &["plan", "ChCl:urea 1:2 to 2 wt% water", "--have", "water 100 g", "--bottle", "urea moisture=5%"],
    ),
    Case::of("empty_stock", &["plan", "ChCl:urea 1:2", "--have", "ChCl 0 g"]),
    Case::of("no_room", &["plan", "ChCl:urea 1:2 + 60 wt% ZnCl2 to 45 wt% water", "--mass", "50 g"]),
    Case::of(
        "no_room",
        &[
            "plan",
            "ChCl:urea 1:2 + 60 wt% ZnCl2",
            "--mass",
            "50 g",
            "--bottle",
            "ZnCl2 assay=50% basis=as-is",
        ],
    ),
    Case::of("not_in_recipe", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--bottle", "glycerol assay=99%"]),
    Case::of("not_in_recipe", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--weighed", "glycerol 20 g"]),
    Case::of("bad_air_density", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--air-density", "1.2 g/mL"]),
    Case::of("bad_tolerance", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--tolerance", "0 %"]),
];
