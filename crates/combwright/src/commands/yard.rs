//! `combwright yard`: hives and what each needs next; beginning and settling things.

use std::path::Path;

use advice::advise::Advice;
use advice::stores::Standing;
use advice::taking::Combs;
use comb::{Body, BodyMeasures, Entrance, Length, Mass, Section, Share};
use hive::entry::{Climate, Hanging, Piece, Place, Reserve};
use hive::{ApiaryId, BarId, Hive, HiveId, Known, Yard};
use jiff::{Timestamp, ZonedDateTime};
use live::answer::tenths;
use serde::Serialize;

use super::Context;
use super::advise::{Choices, advice_on};
use crate::args::{BodySection, Followers, NewHive, Side, Winter, YardArgs, YardCommand};
use crate::failure::Failure;
use crate::journal::{Open, Saying, hive_named};
use crate::out;
use crate::out::ranges;
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
                Ok(format!(
                    "{}: {} ({:.1} kg) must stay, {}.",
                    hive.name,
                    Combs(due.combs),
                    due.mass.to_kg(),
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
            let hive = hive_named(&yard, &hive)?;
            let saying = Saying::of_hive(hive.id, now, Known::HiveEnded { why });
            open.record(vec![saying], &context.writer).await?;
            tell(
                context,
                &format!("{} has ended; its record is kept.", hive.name),
            )
        }
    }
}

/// One hive in the overview.
#[derive(Debug, Serialize)]
struct Needs {
    hive: HiveId,
    name: String,
    apiary: Option<String>,
    last_visit: Option<jiff::civil::Date>,
    days_since_visit: Option<i32>,
    bars: usize,
    combs: usize,
    may_take: Vec<u32>,
    stores_combs: f64,
    reserve_combs: f64,
    return_on: Option<jiff::civil::Date>,
    next: Vec<String>,
}

async fn overview(context: &Context) -> Result<(), Failure> {
    let yard = context.yard().await?;
    if context.json {
        return out::json(&all_needs(&yard, context.now(), &Choices::usual(context))?);
    }
    overview_of(&yard, context.now(), &Choices::usual(context))
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
        .map(|hive| needs(yard, hive, on, choices))
        .collect::<Result<Vec<_>, _>>()?;
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
        out::line(format!(
            "{name}: {} combs, stores {} of {} needed, {visited}",
            hive.combs,
            tenths(hive.stores_combs),
            tenths(hive.reserve_combs)
        ));
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

/// What a hive needs next, and why.
fn needs(
    yard: &Yard,
    hive: &Hive,
    on: &ZonedDateTime,
    choices: &Choices,
) -> Result<Needs, Failure> {
    let advice = advice_on(yard, hive, on, choices)?;
    let zone = on.time_zone();
    let last_visit = hive
        .last_visit()
        .map(|v| v.opened.to_zoned_datetime(zone.clone()).date());
    Ok(Needs {
        hive: hive.id,
        name: hive.name.clone(),
        apiary: hive
            .apiary
            .and_then(|a| yard.apiary(a))
            .map(|a| a.name.clone()),
        days_since_visit: last_visit.map(|day| (on.date() - day).get_days()),
        last_visit,
        bars: hive.row.bar_count(),
        combs: hive.bars_in_row().filter(|bar| bar.has_comb()).count(),
        stores_combs: advice.stores.combs,
        reserve_combs: advice.stores.reserve.combs,
        return_on: advice.return_visit.day,
        next: next_words(hive, &advice, on),
        may_take: advice.may_take,
    })
}

/// Days for which queen cells and a mite wash say something of the colony as it is: a new queen lays
/// within five weeks, and mites are washed again after a month or two. Common practice, no source.
const STALE_DAYS: i32 = 42;

/// What a hive needs next, the most pressing first, each in a sentence.
pub(crate) fn next_words(hive: &Hive, advice: &Advice, on: &ZonedDateTime) -> Vec<String> {
    let day_of = |at: Timestamp| at.to_zoned_datetime(on.time_zone().clone()).date();
    let days_ago = |at: Timestamp| (on.date() - day_of(at)).get_days();
    let mut next = Vec::new();
    if let Some(visit) = hive.open_visit() {
        next.push(format!(
            "the visit of {} was not closed: finish it or say that it ended",
            day_of(visit.opened)
        ));
    }
    if hive.last_visit().is_none() {
        next.push("a first visit: nothing was said of its combs yet".to_owned());
    } else if advice.stores.standing == Standing::Short {
        next.push(format!(
            "{} under the reserve: take nothing, and feed before winter if no flow comes",
            Combs(-advice.stores.beyond_combs)
        ));
    }
    let cells = hive.queen_cells.last().filter(|cells| cells.count > 0);
    if let Some(cells) = cells.filter(|cells| days_ago(cells.when.at) <= STALE_DAYS) {
        next.push(format!(
            "{} queen cells on {}: look whether it swarmed or has a new queen; leave it alone on \
             warm middays while a virgin may fly",
            cells.count,
            day_of(cells.when.at)
        ));
    }
    if !advice.may_take.is_empty() {
        next.push(format!("may be taken: bar {}", ranges(&advice.may_take)));
    }
    if let Some(day) = advice.return_visit.day {
        let (wanted, combs) = (advice.return_visit.wanted, advice.return_visit.combs.len());
        let of = if combs == 1 {
            "the comb ripening is".to_owned()
        } else if wanted == combs {
            format!("the {combs} combs ripening are")
        } else {
            format!("{wanted} of the {combs} combs ripening are")
        };
        next.push(if day <= on.date() {
            format!("come back on the next good day: {of} likely ripe")
        } else {
            format!("come back about {day}: {of} likely ripe then")
        });
    }
    if let Some(wash) = hive.washes.last() {
        let rate = f64::from(wash.mites) * 100.0 / f64::from(wash.bees.max(1));
        let days = days_ago(wash.when.at);
        let act = if days > STALE_DAYS {
            "time to wash again".to_owned()
        } else {
            "act by your local threshold and the product label".to_owned()
        };
        next.push(format!(
            "mite wash {days} days ago: {} in {} bees, {rate:.1} in a hundred; {act}",
            wash.mites, wash.bees
        ));
    }
    next
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
    let bar_width = Length::mm(new.bar_width);
    let boards = match new.followers {
        Followers::Both => 2.0,
        Followers::Left | Followers::Right => 1.0,
        Followers::None => 0.0,
    };
    let free = body.cavity_length() - Length::mm(new.follower_width) * boards;
    let fit = (free / bar_width).floor().max(0.0) as u32;
    let bars = new.bars.unwrap_or(fit);
    if bars == 0 || bars > fit {
        return Err(Failure::input(format!(
            "{bars} bars of {:.0} mm and the follower boards need {:.0} mm, the body has {:.0}",
            new.bar_width,
            (bar_width * f64::from(bars)).to_mm() + new.follower_width * boards,
            body.cavity_length().to_mm()
        ))
        .help(format!(
            "At most {fit} bars fit; say --bars, --bar-width or --length."
        )));
    }
    let combs = combs_range(new.combs.as_deref(), new.first_number, bars)?;
    let hive = HiveId(fresh_id().0);
    let now = context.now().timestamp();
    let say = |what| Saying::of_hive(hive, now, what);
    let name = new.name.clone();
    let numbered = !new.unmarked;
    let mut sayings = vec![say(Known::HiveStarted {
        name,
        apiary,
        body,
        numbered,
    })];
    let follower = Piece::Follower {
        width_mm: Length::mm(new.follower_width),
    };
    let mut row = Vec::new();
    if matches!(new.followers, Followers::Both | Followers::Left) {
        row.push(follower.clone());
    }
    for place in 1..=bars {
        let bar = BarId(fresh_id().0);
        let count = match new.count_from {
            Side::Left => place,
            Side::Right => bars + 1 - place,
        };
        let number = new.first_number.saturating_add(count - 1);
        let hanging = if combs.contains(&number) {
            Hanging::Comb
        } else {
            Hanging::Nothing
        };
        let width_mm = bar_width;
        sayings.push(say(Known::BarAdded {
            bar,
            number,
            width_mm,
            hanging,
            drawn: None,
        }));
        row.push(Piece::Bar { bar });
    }
    if matches!(new.followers, Followers::Both | Followers::Right) {
        row.push(follower);
    }
    sayings.push(say(Known::Arranged { row }));
    let yard = open.record(sayings, &context.writer).await?;
    let hive = hive_named(&yard, &new.name)?;
    if context.json {
        return out::json(hive);
    }
    out::folded(
        "",
        &format!(
            "{}: {}, {bars} bars of {:.0} mm, {:.0} mm of lid left free.",
            hive.name,
            hive.body.name(),
            new.bar_width,
            hive.free_length().to_mm()
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

fn combs_range(told: Option<&str>, first: u32, bars: u32) -> Result<std::ops::Range<u32>, Failure> {
    let last = first.saturating_add(bars - 1);
    let Some(text) = told else {
        return Ok(first..last.saturating_add(1));
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
        Some((from, to)) if from >= first && to <= last && from <= to + 1 => Ok(from..to + 1),
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
