//! Nothing lies about forgotten: a file that no `mod` line names is never compiled, a recipe that no list
//! names is never offered.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use meltbook::recipe::WORKED_RECIPES;

use super::source::{Token, project, rust_files, shown, text, tokens};

#[test]
fn every_file_is_compiled() {
    for (folder, roots) in [("src", &["src/lib.rs", "src/main.rs"][..]), ("tests/it", &["tests/it/main.rs"])]
    {
        let mut reached = BTreeSet::new();
        roots.iter().for_each(|root| follow(Path::new(root), &mut reached));
        let forgotten: Vec<String> = rust_files(folder)
            .iter()
            .filter(|file| !reached.contains(*file))
            .map(|file| shown(file))
            .collect();
        assert!(forgotten.is_empty(), "no mod line leads to {}", forgotten.join(", "));
    }
}

/// There is one test binary, so that it links once: a file beside it would be a second.
#[test]
fn there_is_one_test_binary() {
    let entries = fs::read_dir(project().join("tests")).expect("the folder can be read");
    let files = entries.filter_map(|entry| entry.ok()).filter(|entry| entry.path().is_file());
    assert_eq!(files.count(), 0);
}

#[test]
fn every_worked_recipe_comes_with_the_program() {
    let mut there: Vec<(String, String)> = Vec::new();
    for entry in fs::read_dir(project().join("recipes")).expect("the folder can be read") {
        let path = entry.expect("the entry can be read").path();
        assert!(
            path.extension().is_some_and(|extension| extension == "toml"),
            "{} is no recipe",
            path.display()
        );
        let name = path.file_stem().expect("a file has a name").to_string_lossy().into_owned();
        there.push((name, fs::read_to_string(&path).expect("a recipe is UTF-8")));
    }
    there.sort();
    let listed: Vec<(String, String)> =
        WORKED_RECIPES.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
    let names =
        |recipes: &[(String, String)]| recipes.iter().map(|(name, _)| name.clone()).collect::<Vec<_>>();
    assert_eq!(names(&listed), names(&there));
    assert_eq!(listed, there);
}

/// Adds the file and all that its `mod` lines lead to.
fn follow(file: &Path, reached: &mut BTreeSet<PathBuf>) {
    reached.insert(file.to_owned());
    let is_folder = ["mod.rs", "lib.rs", "main.rs"].iter().any(|name| file.ends_with(name));
    let folder = if is_folder {
        file.parent().expect("a file lies in a folder").to_owned()
    } else {
        file.with_extension("")
    };
    for name in declared(&tokens(&text(file))) {
        let candidates = [folder.join(format!("{name}.rs")), folder.join(&name).join("mod.rs")];
        let module = candidates.iter().find(|path| project().join(path).is_file());
        follow(module.expect("the compiler found it"), reached);
    }
}

/// The names in `mod name;`.
fn declared(tokens: &[Token]) -> Vec<String> {
    let name = |window: &[Token]| match window {
        [Token::Word(word), Token::Word(name), Token::Sign(';')] if word == "mod" => Some(name.clone()),
        _ => None,
    };
    tokens.windows(3).filter_map(name).collect()
}
