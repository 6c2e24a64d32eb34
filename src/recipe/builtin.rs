//! The worked recipes that come with the program.

/// Name and text of each worked recipe, in the order of the names. A test holds this list against the
/// folder.
pub const WORKED_RECIPES: [(&str, &str); 18] = [
    ("cathode-mix-dry-cell", include_str!("../../recipes/cathode-mix-dry-cell.toml")),
    (
        "cathode-mix-manganese-dioxide-graphite-1-1",
        include_str!("../../recipes/cathode-mix-manganese-dioxide-graphite-1-1.toml"),
    ),
    (
        "choline-chloride-chromium-chloride-hexahydrate-1-2",
        include_str!("../../recipes/choline-chloride-chromium-chloride-hexahydrate-1-2.toml"),
    ),
    (
        "choline-chloride-ethylene-glycol-1-2",
        include_str!("../../recipes/choline-chloride-ethylene-glycol-1-2.toml"),
    ),
    (
        "choline-chloride-ethylene-glycol-eutectic",
        include_str!("../../recipes/choline-chloride-ethylene-glycol-eutectic.toml"),
    ),
    (
        "choline-chloride-ethylene-glycol-zinc-chloride",
        include_str!("../../recipes/choline-chloride-ethylene-glycol-zinc-chloride.toml"),
    ),
    ("choline-chloride-glycerol-1-2", include_str!("../../recipes/choline-chloride-glycerol-1-2.toml")),
    ("choline-chloride-glycerol-water", include_str!("../../recipes/choline-chloride-glycerol-water.toml")),
    (
        "choline-chloride-levulinic-acid-1-2",
        include_str!("../../recipes/choline-chloride-levulinic-acid-1-2.toml"),
    ),
    ("choline-chloride-oxalic-acid-1-1", include_str!("../../recipes/choline-chloride-oxalic-acid-1-1.toml")),
    ("choline-chloride-urea-1-2", include_str!("../../recipes/choline-chloride-urea-1-2.toml")),
    (
        "choline-chloride-urea-glycerol-1-1-1",
        include_str!("../../recipes/choline-chloride-urea-glycerol-1-1-1.toml"),
    ),
    (
        "choline-chloride-urea-zinc-sulfate",
        include_str!("../../recipes/choline-chloride-urea-zinc-sulfate.toml"),
    ),
    (
        "chromium-chloride-hexahydrate-urea-1-2",
        include_str!("../../recipes/chromium-chloride-hexahydrate-urea-1-2.toml"),
    ),
    ("menthol-lauric-acid-2-1", include_str!("../../recipes/menthol-lauric-acid-2-1.toml")),
    ("menthol-thymol-1-1", include_str!("../../recipes/menthol-thymol-1-1.toml")),
    (
        "zinc-chloride-ethylene-glycol-1-4",
        include_str!("../../recipes/zinc-chloride-ethylene-glycol-1-4.toml"),
    ),
    ("zinc-chloride-urea", include_str!("../../recipes/zinc-chloride-urea.toml")),
];
