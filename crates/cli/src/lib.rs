//! The command line over the pure crates and the journal, and the start of the app.

mod args;
mod calendar;
mod commands;
mod demo;
mod ended;
mod failure;
mod health_args;
mod honey_args;
mod journal;
mod out;
mod paper_args;
mod surroundings;

use std::process::ExitCode;

use args::{Cli, Command};
use failure::Failure;
use server::Embedded;

/// Does what the arguments of this process ask for; `app` is what a start hands out to the browser.
pub fn run(app: &'static [Embedded]) -> ExitCode {
    let cli = Cli::read();
    let json = cli.json;
    // phones are served side by side; a command does one thing after the other
    let runtime = match cli.command {
        None => tokio::runtime::Builder::new_multi_thread()
            .enable_all()
            .build(),
        Some(_) => tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build(),
    };
    let outcome = match runtime {
        Ok(runtime) => runtime.block_on(act(cli, app)),
        Err(why) => Err(Failure::input(format!(
            "this system gives no runtime: {why}"
        ))),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            let code = failure.exit_code();
            out::failure(&failure, json);
            ExitCode::from(code)
        }
    }
}

async fn act(cli: Cli, app: &'static [Embedded]) -> Result<(), Failure> {
    let context = commands::Context::new(&cli)?;
    let Some(command) = cli.command else {
        return commands::start::start(&context, cli.start, app).await;
    };
    match command {
        Command::Hear(hear) => commands::hear::hear(&context, hear).await,
        Command::Advise(advise) => commands::advise::advise(&context, advise).await,
        Command::Show(show) => commands::show::show(&context, show).await,
        Command::Season(season) => commands::season::season(&context, season).await,
        Command::Yard(yard) => commands::yard::yard(&context, yard).await,
        Command::Journal(journal) => commands::journal::journal(&context, journal).await,
        Command::Health(health) => commands::health::health(&context, health).await,
        Command::Honey(honey) => commands::honey::honey(&context, honey).await,
        Command::Paper(paper) => commands::paper::paper(&context, paper).await,
        Command::Tour(tour) => commands::tour::tour(&context, tour).await,
        Command::Completions { shell } => commands::manual::completions(shell),
        Command::Man { folder } => commands::manual::man(folder),
    }
}
