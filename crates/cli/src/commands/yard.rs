//! `combwright yard`: hives and what each needs next; beginning and settling things.

use std::ops::RangeInclusive;
use std::path::Path;

use advice::needs::{Needs, needs};
use advice::taking::Combs;
use comb::{Body, BodyMeasures, Entrance, Length, Mass, Section, Share};
use hive::entry::{Climate, End, Place, Reserve};
use hive::founding::Founding;
use hive::numbers::ranges;
use hive::{ApiaryId, BarId, Hive, HiveId, Known, Yard};
use jiff::ZonedDateTime;
use live::answer::tenths;

use super::Context;
use super::advise::{Choices, advice_on};
use crate::args::{BodySection, Followers, NewHive, Side, Winter, YardArgs, YardCommand};
use crate::ended::living_named;
use crate::failure::Failure;
use crate::journal::{Open, Saying, hive_named};
use crate::out;
use crate::surroundings::fresh_id;

/// Runs one of the yard's commands.
pub(crate) async fn yard(context: &Context, args: YardArgs) -> Result<(), Failure> {
    let now = context.now().timestamp();
    match args.command {
        None => overview(context).await,
        Some(YardCommand::Demo { on }) => demo(context, on.as_deref()).await,
        Some(YardCommand::New(new)) => begin(context, new).await,
        Some(YardCommand::Apiary {
            name,
            winter,
            latitude,
            longitude,
            altitude,
            weather,
        }) => {
            let at = latitude.zip(longitude);
            apiary(context, name, winter, at, altitude, weather.as_deref()).await
        }

        Some(YardCommand::Reserve {
            hive,
            combs,
            kg,
            default,
        }) => {
            let reserve = reserve(combs, kg, default)?;
            let what = Known::ReserveSet { reserve };
            say(context, &hive, what, |yard, hive| {
                let due = advice_on(yard, hive, context.now(), &Choices::usual(context))?
                    .stores
                    .reserve;
                let bars = hive.row.bar_count();
                let beyond = if due.combs > bars as f64 {
                    format!(" Mind: that is more than the hive can hold, it has {bars} bars.")
                } else {
                    String::new()
                };
                Ok(format!(
                    "{}: {} ({}) must stay, {}.{beyond}",
                    hive.name,
                    Combs(due.combs),
                    context.told_in.mass_words(due.mass),
                    due.source
                ))
            })
            .await
        }
        Some(YardCommand::Ripe { hive, percent }) => {
            let mean_capped = Share::percent(percent).map_err(|why| {
                Failure::input(format!("{percent} % is no capped share: {why}"))
                    .help("Give 67 to 75 per cent.")
            })?;
            say(
                context,
                &hive,
                Known::RipenessSet { mean_capped },
                |_, hive| {
                    Ok(format!(
                        "{}: combs count as ripe from {mean_capped} capped.",
                        hive.name
                    ))
                },
            )
            .await
        }
        Some(YardCommand::Rename { hive, name }) => {
            say(context, &hive, Known::HiveRenamed { name }, |_, hive| {
                Ok(format!("It is called {} now.", hive.name))
            })
            .await
        }
        Some(YardCommand::End { hive, why }) => {
            let open = Open::to_write(&context.folder).await?;
            let yard = open.yard().await?;
            let hive = living_named(&yard, &hive, now, context.now().time_zone())?;
            let why = why.trim().to_owned();
            if why.is_empty() {
                return Err(Failure::input("say why it ends").help(format!(
                    "combwright yard end {} \"died in winter\"",
                    hive.name
                )));
            }
            let saying = Saying::of_hive(hive.id, now, Known::HiveEnded { why });
            open.record(vec![saying], &context.writer).await?;
            tell(
                context,
                &format!("{} has ended; its record is kept.", hive.name),
            )
        }
    }
}

async fn overview(context: &Context) -> Result<(), Failure> {
    let yard = context.yard().await?;
    if context.json {
        return out::json(&all_needs(&yard, context.now(), &Choices::usual(context))?);
    }
    overview_of(&yard, context.now(), &Choices::usual(context))?;
    if !context.folder.exists() {
        let folder = context.folder.display();
        let words = format!("{folder} is not there; it will be made when something is recorded.");
        out::folded("Folder: ", &words);
    }
    Ok(())
}

fn days_words(days: i32) -> String {
    match days {
        0 => "visited today".to_owned(),
        1 => "visited yesterday".to_owned(),
        days => format!("visited {days} days ago"),
    }
}

fn all_needs(yard: &Yard, on: &ZonedDateTime, choices: &Choices) -> Result<Vec<Needs>, Failure> {
    let hives = yard.living_hives().into_iter();
    let mut all = hives
        .map(|hive| {
            let advice = advice_on(yard, hive, on, choices)?;
            Ok(needs(yard, hive, &advice, on))
        })
        .collect::<Result<Vec<_>, Failure>>()?;
    all.sort_by(|a, b| a.apiary.cmp(&b.apiary));
    Ok(all)
}

/// Prints the hives and what each needs next.
pub(crate) fn overview_of(
    yard: &Yard,
    on: &ZonedDateTime,
    choices: &Choices,
) -> Result<(), Failure> {
    let needs = all_needs(yard, on, choices)?;
    if needs.is_empty() {
        out::line("No hives yet.");
        out::line("  combwright yard new NAME    begins one");
        out::line("  combwright yard demo        brings the invented yard Wattle Bend");
        out::line("  combwright tour             walks through it without keeping anything");
        return Ok(());
    }
    let mut heading = None;
    for hive in &needs {
        if heading != Some(&hive.apiary) {
            out::line(match &hive.apiary {
                Some(apiary) => format!("At {apiary}"),
                None => "In no apiary".to_owned(),
            });
            heading = Some(&hive.apiary);
        }
        let visited = hive
            .days_since_visit
            .map_or_else(|| "not visited yet".to_owned(), days_words);
        let name = out::strong(&hive.name);
        out::line(format!("{name}: {}, {visited}", combs_and_stores(hive)));
        for next in &hive.next {
            out::folded("  - ", next);
        }
    }
    let faults = yard.faults().count();
    if faults > 0 {
        out::folded(
            "Mind: ",
            &format!("{faults} entries could not be applied; see `combwright journal list`."),
        );
    }
    Ok(())
}

/// Combs, and stores against the reserve; what nobody looked at is not told as nothing.
fn combs_and_stores(hive: &Needs) -> String {
    let (combs, needed) = (hive.combs, tenths(hive.reserve_combs));
    match hive.not_looked_at {
        0 => format!(
            "{combs} combs, stores {} of {needed} needed",
            tenths(hive.stores_combs)
        ),
        all if all == combs => format!("{combs} combs, stores not known, {needed} needed"),
        unseen => format!(
            "{combs} combs ({unseen} unseen), stores {} of {needed} needed",
            tenths(hive.stores_combs)
        ),
    }
}

async fn demo(context: &Context, on: Option<&str>) -> Result<(), Failure> {
    let today = context.instant(on)?;
    if today.timestamp() > context.now().timestamp() {
        return Err(Failure::input("the demo's season cannot end in the future")
            .help("Leave --on away, or name a day that has been."));
    }
    let open = Open::to_write(&context.folder).await?;
    if open.yard().await?.hives().next().is_some() {
        return Err(Failure::input("this journal holds hives already").help(
            "Try Wattle Bend in a folder of its own: combwright --data wattle-bend yard demo",
        ));
    }
    let yard = crate::demo::bring(&open, &today).await?;
    tell(
        context,
        &format!(
            "Wattle Bend is here: {} hives, all invented. `combwright yard` lists them.",
            yard.living_hives().len()
        ),
    )
}

async fn begin(context: &Context, new: NewHive) -> Result<(), Failure> {
    let open = Open::to_write(&context.folder).await?;
    let yard = open.yard().await?;
    let body = body(&new)?;
    let apiary = match &new.apiary {
        Some(name) => Some(yard.apiary_named(name)?.id),
        None => None,
    };
    let followers = match new.followers {
        Followers::Both => vec![End::Left, End::Right],
        Followers::Left => vec![End::Left],
        Followers::Right => vec![End::Right],
        Followers::None => Vec::new(),
    };
    let mut founding = Founding {
        apiary,
        numbered: !new.unmarked,
        bars: new.bars,
        first_number: new.first_number,
        count_from: match new.count_from {
            Side::Left => End::Left,
            Side::Right => End::Right,
        },
        followers,
        follower_width: Length::mm(new.follower_width),
        ..Founding::usual(&new.name, body)
    };
    let bars = founding.bar_count().map_err(|why| {
        Failure::from(why).help(format!(
            "At most {} bars fit; say --bars, --bar-width or --length.",
            founding.bars_that_fit()
        ))
    })?;
    founding.combs = Some(combs_range(new.combs.as_deref(), new.first_number, bars)?);
    let id = HiveId(fresh_id().0);
    let now = context.now().timestamp();
    let sayings = founding
        .entries(|| BarId(fresh_id().0))?
        .into_iter()
        .map(|known| Saying::of_hive(id, now, known))
        .collect();
    let yard = open.record(sayings, &context.writer).await?;
    let hive = hive_named(&yard, &new.name)?;
    if context.json {
        return out::json(hive);
    }
    out::folded(
        "",
        &format!(
            "{}: {}, {bars} bars of {}, {} of lid left free; {}.",
            hive.name,
            context.told_in.body_words(&hive.body),
            context.told_in.length_words(hive.body.bar_width()),
            context.told_in.length_words(hive.free_length()),
            combs_words(hive)
        ),
    );
    for oddity in hive.body.oddities() {
        out::folded("Mind: ", oddity.words());
    }
    out::folded(
        "Ask your local authority: ",
        "some places ask by law for movable frames, foundation, registration of hives or a mark on \
         them. This program does not know your law.",
    );
    Ok(())
}

/// Which bars bear comb in a hive that begins.
fn combs_words(hive: &Hive) -> String {
    let bars = hive.bars_in_row().filter(|bar| bar.has_comb());
    let numbers: Vec<u32> = bars.map(|bar| bar.number).collect();
    match numbers.as_slice() {
        [] => "no comb hangs in it yet".to_owned(),
        [one] => format!("a comb hangs on bar {one}"),
        several => format!("combs hang on bars {}", ranges(several)),
    }
}

fn body(new: &NewHive) -> Result<Body, Failure> {
    let usual = Body::default().measures();
    let or = |told: Option<f64>, usual: Length| told.map_or(usual, Length::mm);
    let top = or(new.top, usual.top_width_mm);
    Ok(Body::new(BodyMeasures {
        cavity_length_mm: or(new.length, usual.cavity_length_mm),
        top_width_mm: top,
        bottom_width_mm: match (new.bottom, new.section) {
            (Some(mm), _) => Length::mm(mm),
            (None, BodySection::Rectangular) => top,
            (None, _) => usual.bottom_width_mm,
        },
        depth_mm: or(new.depth, usual.depth_mm),
        section: match new.section {
            BodySection::Sloped => Section::Sloped,
            BodySection::Rectangular => Section::Rectangular,
            BodySection::Rounded => Section::Rounded,
        },
        entrance: Entrance::LeftEnd,
        bar_width_mm: Length::mm(new.bar_width),
    })?)
}

/// Holds no number.
const NO_COMB: RangeInclusive<u32> = RangeInclusive::new(1, 0);

fn combs_range(told: Option<&str>, first: u32, bars: u32) -> Result<RangeInclusive<u32>, Failure> {
    let last = first.saturating_add(bars - 1);
    let Some(text) = told else {
        return Ok(NO_COMB);
    };
    let range = match text.split_once('-') {
        Some((from, to)) => from.trim().parse().ok().zip(to.trim().parse::<u32>().ok()),
        None => text
            .trim()
            .parse()
            .ok()
            .map(|count: u32| (first, (first + count.min(bars + 1)).saturating_sub(1))),
    };
    match range {
        Some((from, to)) if from >= first && to <= last && from <= to + 1 => Ok(from..=to),
        _ => Err(Failure::input(format!(
            "\"{text}\" is no range of the bars {first} to {last}"
        ))
        .help("Say --combs 12 for the first twelve, or --combs 5-18.")),
    }
}

async fn apiary(
    context: &Context,
    name: String,
    winter: Option<Winter>,
    at: Option<(f64, f64)>,
    altitude: Option<f64>,
    weather: Option<&Path>,
) -> Result<(), Failure> {
    // looked at before anything is recorded
    let series = weather.map(super::season::checked_weather).transpose()?;
    let open = Open::to_write(&context.folder).await?;
    let yard = open.yard().await?;
    let known = yard.apiary_named(&name).ok();
    let apiary = known.map_or_else(|| ApiaryId(fresh_id().0), |apiary| apiary.id);
    let climate = winter
        .map(|winter| match winter {
            Winter::MildCoast => Climate::MildCoast,
            Winter::Real => Climate::RealWinter,
            Winter::Hard => Climate::HardWinter,
        })
        .or(known.and_then(|apiary| apiary.climate));
    let place = at
        .map(|(latitude, longitude)| Place {
            latitude,
            longitude,
            altitude_m: altitude,
        })
        .or(known.and_then(|apiary| apiary.place).map(|place| Place {
            altitude_m: altitude.or(place.altitude_m),
            ..place
        }));
    let now = context.now().timestamp();
    let what = Known::Apiary {
        apiary,
        name: name.clone(),
        place,
        climate,
    };
    open.record(vec![Saying::of_yard(now, what)], &context.writer)
        .await?;
    let Some((series, doubts)) = series else {
        return tell(context, &format!("Apiary {name} is recorded."));
    };
    super::season::keep_weather(&context.folder, apiary, &series)?;
    let doubts = if doubts.is_empty() {
        String::new()
    } else {
        format!(" Mind: {}.", doubts.join("; "))
    };
    tell(
        context,
        &format!(
            "Apiary {name} is recorded; its weather is kept, and advice asks the season model from \
             now on.{doubts}"
        ),
    )
}

fn reserve(combs: Option<f64>, kg: Option<f64>, default: bool) -> Result<Option<Reserve>, Failure> {
    match (combs, kg, default) {
        (Some(combs), None, false) => Ok(Some(Reserve::Combs(combs))),
        (None, Some(kg), false) => Ok(Some(Reserve::Kg(Mass::kg(kg)))),
        (None, None, true) => Ok(None),
        _ => Err(Failure::input("say how much must stay")
            .help("--combs 5, --kg 12.5, or --default for the place's rule of thumb")),
    }
}

/// Records one thing of a hive and tells what it means.
async fn say(
    context: &Context,
    hive: &str,
    what: Known,
    words: impl FnOnce(&Yard, &Hive) -> Result<String, Failure>,
) -> Result<(), Failure> {
    let open = Open::to_write(&context.folder).await?;
    let yard = open.yard().await?;
    let id = hive_named(&yard, hive)?.id;
    let saying = Saying::of_hive(id, context.now().timestamp(), what);
    let yard = open.record(vec![saying], &context.writer).await?;
    let hive = yard
        .hive(id)
        .ok_or_else(|| Failure::input("the hive is gone"))?;
    tell(context, &words(&yard, hive)?)
}

fn tell(context: &Context, words: &str) -> Result<(), Failure> {
    if context.json {
        return out::json(&serde_json::json!({ "done": words }));
    }
    out::folded("", words);
    Ok(())
}
