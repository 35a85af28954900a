//! Completions and the manual: from the one definition, every command in them, and nothing that is hidden.

use super::home::Home;
use clap::CommandFactory;
use crushbook::command::cli::Cli;
use std::process::Command;

/// Commands that people are told of.
fn commands() -> Vec<String> {
    let all = Cli::command();
    let told = all.get_subcommands().filter(|command| !command.is_hide_set());
    told.map(|command| command.get_name().to_owned()).collect()
}

#[test]
fn completions_of_every_shell_name_every_command_and_option() {
    let home = Home::new();
    assert!(commands().len() >= 20, "{:?}", commands());
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let text = home.run(&["completions", shell]).well();
        for name in commands() {
            assert!(text.contains(&name), "{shell}: {name}");
        }
        for option in ["book", "today", "region", "plain", "new-farm", "set-newer-aside"] {
            assert!(text.contains(option), "{shell}: {option}");
        }
        assert!(!text.contains("check-here"), "{shell}");
    }
    assert!(home.run(&["completions", "abacus"]).complained(2).contains("bash"));
}

#[test]
fn a_shell_takes_its_completions() {
    let home = Home::new();
    home.write("completions.bash", &home.run(&["completions", "bash"]).well());
    // The shell itself completes: COMP_WORDS, COMP_CWORD and COMPREPLY are its own (bash manual, Programmable Completion).
    let script = "set -u; . ./completions.bash; COMP_WORDS=(crushbook take); COMP_CWORD=1; \
        _crushbook crushbook take crushbook; echo \"${COMPREPLY[@]}\"";
    let output = Command::new("bash").args(["-c", script]).current_dir(home.0.path()).output().expect("bash runs");
    assert_eq!(String::from_utf8_lossy(&output.stdout), "take-off-list\n", "{output:?}");
}

#[test]
fn the_manual_names_every_command_and_each_has_a_page() {
    let home = Home::new();
    let page = home.run(&["manual"]).well();
    assert!(page.contains(".TH crushbook 1") && page.contains(".SH OPTIONS"), "{page}");
    for name in commands() {
        // A hyphen is written so that no reader breaks it (man-pages(7)).
        let called = format!("crushbook-{name}").replace('-', "\\-");
        assert!(page.contains(&format!("{called}(1)")), "{called}: {page}");
        let own = home.run(&["manual", &name]).well();
        assert!(own.contains(&format!(".TH crushbook-{name} 1")), "{own}");
        assert!(own.contains(env!("CARGO_PKG_VERSION")), "{own}");
    }
    assert!(!page.contains("check\\-here"), "{page}");
    let said = home.run(&["manual", "dew"]).complained(2);
    assert!(said.contains("there is no command dew") && said.contains("demo, due, "), "{said}");
    assert!(!said.contains("check-here"), "{said}");
}
