//! `dewledger completions` and `dewledger man`: what shells and readers of manual pages need, made from the arguments themselves.

use std::fs;

use clap::CommandFactory;
use clap_mangen::Man as Page;

use crate::arguments::{Arguments, Completions, Man};
use crate::failure::Failure;
use crate::show;

pub(crate) fn completions(options: &Completions) -> Result<(), Failure> {
    let mut text = Vec::new();
    clap_complete::generate(options.shell, &mut Arguments::command(), "dewledger", &mut text);
    show::result(&String::from_utf8(text).map_err(Failure::work)?)
}

pub(crate) fn pages(options: &Man) -> Result<(), Failure> {
    let mut program = Arguments::command();
    let Some(folder) = &options.folder else { return show::result(&page(program)?) };
    // Names, `dewledger-weather-make` among them, and usage lines are made when it is built.
    program.build();
    let mut pages = Vec::new();
    gather(program, &mut pages)?;
    let taken = pages.iter().map(|(name, _)| folder.join(name)).find(|path| path.exists());
    if let (Some(path), false) = (taken, options.force) {
        return Err(Failure::input(format!("{}: already exists", path.display()))
            .hint("choose another folder, or add --force to replace it"));
    }
    fs::create_dir_all(folder).map_err(|cause| Failure::unwritable(folder, &cause))?;
    for (name, text) in &pages {
        let path = folder.join(name);
        fs::write(&path, text).map_err(|cause| Failure::unwritable(&path, &cause))?;
    }
    show::result_line(format!("Wrote {} manual pages into {}.", pages.len(), folder.display()))
}

/// The page of a command and those of the commands within it.
fn gather(command: clap::Command, pages: &mut Vec<(String, String)>) -> Result<(), Failure> {
    let name = command.get_display_name().unwrap_or_else(|| command.get_name()).to_owned();
    for inner in command.get_subcommands().filter(|inner| inner.get_name() != "help") {
        gather(inner.clone(), pages)?;
    }
    pages.push((format!("{name}.1"), page(command)?));
    Ok(())
}

fn page(command: clap::Command) -> Result<String, Failure> {
    let mut text = Vec::new();
    Page::new(command).render(&mut text).map_err(Failure::work)?;
    String::from_utf8(text).map_err(Failure::work)
}
