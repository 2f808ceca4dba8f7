//! `combwright advise`: verdicts, what may be taken, the account, closing up, the return.

use std::path::{Path, PathBuf};

use advice::advise::{Advice, Surroundings, climate_of};
use advice::closing_plan::{AtHand, ClosingPlan};
use advice::closing_up::{Answer, Outcome, parse_problem, solve};
use advice::returning::Ahead;
use advice::stores::{Standing, StoresAccount};
use advice::taking::Combs;
use comb::{Length, Mass, Share, Tell as _, ToldIn};
use hive::entry::End;
use hive::{Hive, Yard};
use jiff::ZonedDateTime;
use season::ripening;

use super::Context;
use crate::args::{Advise, Flow};
use crate::ended;
use crate::failure::Failure;
use crate::journal::hive_named;
use crate::out;
use hive::numbers::ranges;

/// Runs the command.
pub(crate) async fn advise(context: &Context, args: Advise) -> Result<(), Failure> {
    if let Some(file) = &args.closing {
        return closing_file(context, file);
    }
    let name = args.hive.as_deref().unwrap_or_default();
    let on = context.instant(args.on.as_deref())?;
    let yard = context.yard().await?;
    let yard = if args.on.is_some() {
        yard.as_of(on.timestamp())
    } else {
        yard
    };
    let hive = hive_named(&yard, name)?;
    if let Some(ended) = ended::words(hive, on.time_zone()) {
        return no_advice(context, hive, &ended);
    }
    let advice = advice_on(&yard, hive, &on, &Choices::of(context, &args)?)?;
    if context.json {
        return out::json(&advice);
    }
    print(&advice, standing(hive), context.told_in);
    Ok(())
}

/// Of a hive that has ended: that it has, and nothing to do.
fn no_advice(context: &Context, hive: &Hive, ended: &str) -> Result<(), Failure> {
    if context.json {
        return out::json(&serde_json::json!({
            "hive": hive.id, "name": hive.name, "ended": hive.ended,
        }));
    }
    out::line(out::strong(&format!("{} {ended}", hive.name)));
    out::folded(
        "",
        &format!(
            "No visit is advised. Its record is kept: `combwright show {}` draws how it stood.",
            out::quoted(&hive.name)
        ),
    );
    Ok(())
}

/// What the keeper may choose beside the journal.
#[derive(Debug, Clone)]
pub(crate) struct Choices {
    /// Combs that make a trip worth it.
    pub(crate) worth: usize,
    /// How nectar comes in.
    pub(crate) flow: ripening::Flow,
    /// Shims and board at hand.
    pub(crate) at_hand: AtHand,
    /// Greatest lawful water content.
    pub(crate) legal_moisture: Option<Share>,
    /// Data folder, where the weather of places is kept; `None` asks no season model.
    pub(crate) folder: Option<PathBuf>,
}

impl Default for Choices {
    fn default() -> Self {
        Self {
            worth: advice::returning::WORTH_THE_TRIP,
            flow: ripening::Flow::Good,
            at_hand: AtHand::default(),
            legal_moisture: None,
            folder: None,
        }
    }
}

impl Choices {
    /// The usual choices, with the season model where the weather of the place is kept.
    pub(crate) fn usual(context: &Context) -> Self {
        Self::in_folder(context.folder.clone())
    }

    /// The same with the journal's folder alone.
    pub(crate) fn in_folder(folder: std::path::PathBuf) -> Self {
        Self {
            folder: Some(folder),
            ..Self::default()
        }
    }

    fn of(context: &Context, args: &Advise) -> Result<Self, Failure> {
        for shim in args.shims.iter().chain(args.follower.iter()) {
            if !(1.0..=200.0).contains(shim) {
                return Err(
                    Failure::input(format!("{shim} mm is no width of a shim or board"))
                        .help("Give millimetres from 1 to 200."),
                );
            }
        }
        if args.worth == 0 {
            return Err(Failure::input("a trip for no comb is no trip").help("--worth 1 or more"));
        }
        let legal_moisture =
            args.legal_moisture
                .map(|percent| {
                    Share::percent(percent)
                        .ok()
                        .filter(|s| (0.10..=0.30).contains(&s.get()))
                        .ok_or_else(|| {
                            Failure::input(format!("{percent} % is no limit for water in honey"))
                        .help("Limits lie between 17 and 23 per cent; ask your local authority.")
                        })
                })
                .transpose()?;
        Ok(Self {
            worth: args.worth,
            flow: match args.flow {
                Flow::Good => ripening::Flow::Good,
                Flow::Thin => ripening::Flow::Thin,
                Flow::Dearth => ripening::Flow::Dearth,
            },
            at_hand: AtHand {
                shims: args.shims.iter().copied().map(Length::mm).collect(),
                follower: args.follower.map(Length::mm),
            },
            legal_moisture,
            folder: Some(context.folder.clone()),
        })
    }
}

/// Advice on a hive as it stands in this yard.
pub(crate) fn advice_on(
    yard: &Yard,
    hive: &Hive,
    on: &ZonedDateTime,
    choices: &Choices,
) -> Result<Advice, Failure> {
    let around = Surroundings {
        ahead: Ahead {
            today: on.date(),
            now: on.timestamp(),
            flow: choices.flow,
            wanted: choices.worth,
            suitable_days: Vec::new(),
        },
        climate: climate_of(yard, hive),
        season_model: choices
            .folder
            .as_deref()
            .map(|folder| super::season::model_reserve(folder, yard, hive, on.date()))
            .transpose()?
            .flatten(),
        legal_moisture: choices.legal_moisture,
        at_hand: choices.at_hand.clone(),
        withheld_by_others: health::withheld::from_others(hive, yard.hives()),
    };
    Ok(advice::advise::advise(hive, yard.hives(), &around)?)
}

fn closing_file(context: &Context, file: &Path) -> Result<(), Failure> {
    let text = super::text_of(file)?;
    let problem = parse_problem(&text).map_err(|why| {
        Failure::from(why).help(
            "A problem has cavity_mm, follower_mm, tolerance_mm, edge, standing, loose and shims_mm; \
             lengths are whole millimetres.",
        )
    })?;
    let outcome = solve(&problem)?;
    // the answer is JSON whether asked or not: it is read by programs
    let _ = context;
    out::json(&outcome)
}

/// Whether the hive stands open while advice is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Open {
    /// A visit is going on.
    Now,
    /// It was closed; how it would be closed again is told as such.
    Closed,
}

/// How a hive stands.
pub(crate) fn standing(hive: &Hive) -> Open {
    if hive.open_visit().is_some() {
        Open::Now
    } else {
        Open::Closed
    }
}

/// Prints all advice on a hive.
pub(crate) fn print(advice: &Advice, open: Open, told_in: ToldIn) {
    out::line(out::strong(&advice.name));
    out::folded("  ", &advice.count.to_string());
    if let Some(words) = advice.count.disagreement() {
        out::folded("  Mind: ", &words);
    }
    for caution in &advice.cautions {
        out::folded("  Caution: ", &caution.text_in(told_in));
    }
    out::line("");
    combs(advice);
    out::line("");
    stores(advice, told_in);
    for plan in &advice.closing {
        out::line("");
        closing(plan, open, told_in);
    }
    out::line("");
    out::folded("Return: ", &format!("{}.", advice.return_visit.reason));
}

fn combs(advice: &Advice) {
    match advice.may_take.as_slice() {
        [] => out::line("May be taken: none"),
        bars => out::folded("May be taken, outermost first: bar ", &ranges(bars)),
    }
    // those not looked at stand in one line below the stores
    for comb in advice.combs.iter().filter(|comb| comb.is_known()) {
        out::folded(&format!("  bar {:>2}  ", comb.number), &comb.reason);
    }
}

fn stores(advice: &Advice, told_in: ToldIn) {
    let account = &advice.stores;
    let verdict = verdict(account, told_in);
    out::folded(
        "Stores: ",
        &format!(
            "{} of honey, {} as ordinary combs of this hive ({} each).",
            told_in.range_words(account.total),
            Combs(account.combs),
            told_in.mass_words(account.ordinary_comb)
        ),
    );
    out::folded(
        "  of it ",
        &format!(
            "capped {}; open honey that will likely be ripe in two weeks {}.",
            told_in.range_words(account.capped),
            told_in.mass_words(Mass::kg(advice.ripe_within_two_weeks_kg))
        ),
    );
    out::folded(
        "Reserve: ",
        &format!(
            "{} ({}), {}: {verdict}.",
            Combs(account.reserve.combs),
            told_in.mass_words(account.reserve.mass),
            account.reserve.source
        ),
    );
    if let Some(model) = &account.reserve.season_model {
        out::folded(
            "  beside it ",
            &format!(
                "the season model asks for {} ({}) to live to {} in {:.0} of 100 years of this \
                 place's weather; the rule of thumb is {} (common practice, no source). See \
                 `combwright season`.",
                told_in.mass_words(model.mass),
                Combs(model.mass / account.ordinary_comb),
                model.until,
                model.sure * 100.0,
                Combs(account.reserve.rule_of_thumb_combs)
            ),
        );
    }
    if !account.not_looked_at.is_empty() {
        out::folded(
            "  Not looked at, not counted: bar ",
            &ranges(&account.not_looked_at),
        );
    }
}

/// How the stores stand against the reserve. What nobody looked at is told as not known.
fn verdict(account: &StoresAccount, told_in: ToldIn) -> String {
    let unseen = account.not_looked_at.len();
    let (are, them) = if unseen == 1 {
        ("is", "it")
    } else {
        ("are", "they")
    };
    match account.standing {
        _ if account.is_unknown() => {
            "no comb was looked at yet, so nothing counts toward it".to_owned()
        }
        Standing::Covered => "covered".to_owned(),
        Standing::LikelyCovered => {
            "likely covered, the low end of the judged weights is under it".to_owned()
        }
        Standing::NotKnown => format!(
            "not known whether it is covered, {} {are} not looked at: at least {}, at most {} \
             should {them} be full",
            Combs(unseen as f64),
            told_in.mass_words(account.total.low()),
            told_in.mass_words(account.at_most)
        ),
        Standing::LikelyShort => {
            "likely NOT covered, only the high end of the judged weights reaches it".to_owned()
        }
        Standing::Short if unseen > 0 => format!(
            "NOT covered, not even if the {} that {are} not looked at should be full ({})",
            Combs(unseen as f64),
            told_in.mass_words(account.at_most)
        ),
        Standing::Short => "NOT covered".to_owned(),
    }
}

/// Prints how one end is closed.
fn closing(plan: &ClosingPlan, open: Open, told_in: ToldIn) {
    let end = if plan.end == End::Left {
        "left"
    } else {
        "right"
    };
    let edge = plan.edge;
    let closes = matches!(plan.outcome, Outcome::Closed(_));
    out::line(match open {
        Open::Closed if !closes => {
            format!("The {end} end is closed; by the record, from bar {edge} outward:")
        }
        Open::Now => format!("Closing the {end} end, from bar {edge} outward:"),
        Open::Closed => {
            format!(
                "The {end} end is closed. Opened again, it closes best from bar {edge} outward:"
            )
        }
    });
    match &plan.outcome {
        Outcome::Closed(answer) => steps(answer, told_in),
        Outcome::Impossible { impossible } => {
            let why = impossible.told(told_in);
            out::folded("  It does not close: ", &format!("{why}."));
            if let (Some(way), Some(answer)) = (impossible.ways_out.first(), &plan.then) {
                out::folded("  ", &format!("With {}:", way.told(told_in)));
                steps(answer, told_in);
            }
        }
    }
    if !plan.assumed.is_empty() {
        let assumed = plan.assumed.iter();
        let assumed = assumed.map(|what| what.told(told_in).to_string());
        let assumed: Vec<_> = assumed.collect();
        out::folded("  Assumed: ", &format!("{}.", assumed.join("; ")));
    }
}

fn steps(answer: &Answer, told_in: ToldIn) {
    for (number, step) in answer.steps.iter().enumerate() {
        out::folded(
            &format!("  {}. ", number + 1),
            &step.told(told_in).to_string(),
        );
    }
}
